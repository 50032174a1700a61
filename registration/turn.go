package registration

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration/fit"
)

// Turn is how far a blank on its plug can still shift and turn, in the
// question's unit. Lengths that aren't exact are rounded up to the fourth
// decimal.
type Turn struct {
	Free  bool            `json:"free"` // nothing stops it from turning
	Round bool            `json:"-"`    // the part is round: Rim is its rim's
	Rim   decimal.Decimal `json:"rim"`  // from the bore's centre to the blank's farthest corner, or place of its round rim
	// PerDegree is how far a point at the rim moves for each degree of turn.
	PerDegree decimal.Decimal `json:"per_degree"`
	// Shift is half the plug's clearance: how far the centre can move, any way.
	// It is nil if the plug's diameter isn't given.
	Shift *decimal.Decimal `json:"shift"`
	// AtRim is how far the rim can move with the play of plug and index pin
	// together; nil if Free, or if the clearances aren't known.
	AtRim *decimal.Decimal `json:"at_rim"`
	// Degrees is the turn that goes with AtRim, from the middle either way.
	Degrees *decimal.Decimal `json:"degrees"`
}

// OnPlug gives the play of a blank on a plug. clock is the index pin's place
// in the face's as-laid frame, nil without one, and beside the bore; the plays are diametral
// clearances, nil where unknown.
//
// Bore and pin are two holes over two pins at spacing L, and the centre of each
// hole can leave its pin's by half its clearance: displacements d1 and d2. The
// blank turns by at most (c1 + c2)/(2 L). It is rigid, so a point with the place
// z on the join (complex: 0 at the one pin, 1 at the other) moves by
// (1 - z) d1 + z d2, at most (r2 c1 + r1 c2)/(2 L) with r1, r2 its distances from
// the two.
func OnPlug(b Blank, bore Point, clock *Point, plugPlay, clockPlay *decimal.Decimal) Turn {
	distance := func(p, q Point) float64 { return vectorOf(p.Sub(q)).length() }
	rim := 0.0
	for _, c := range b.Corners() {
		rim = max(rim, distance(c, bore))
	}
	t := Turn{Free: clock == nil, Rim: up(rim), PerDegree: up(rim * math.Pi / 180)}
	if plugPlay != nil {
		s := plugPlay.Mul(half)
		t.Shift = &s
	}
	if clock == nil || clock.Equal(bore) || plugPlay == nil || clockPlay == nil {
		return t
	}
	c1, c2 := max(plugPlay.InexactFloat64(), 0), max(clockPlay.InexactFloat64(), 0)
	spacing := distance(bore, *clock)
	angle := (c1 + c2) / 2 / spacing
	most := 0.0
	for _, c := range b.Corners() {
		most = max(most, (c1*distance(c, *clock)+c2*distance(c, bore))/2/spacing)
	}
	atRim, degrees := up(most), up(angle*180/math.Pi)
	t.AtRim, t.Degrees = &atRim, &degrees
	return t
}

// round takes the disc that fills the blank for the part: it has no corners.
func (t *Turn) round(b Blank, bore Point) {
	d := Point{b.W.Mul(half), b.H.Mul(half)}.Sub(bore)
	rim := vectorOf(d).length() + decimal.Min(b.W, b.H).Mul(half).InexactFloat64()
	t.Round, t.Rim, t.PerDegree = true, up(rim), up(rim*math.Pi/180)
}

// up rounds a length up to the fourth decimal. A float64 that stands for a
// short decimal may lie a hair above it; 1e-9 is above that error for any length
// on a machine and far below what the result is read to.
func up(v float64) decimal.Decimal {
	return decimal.NewFromFloat(max(v-1e-9, 0)).RoundCeil(4)
}

// play fills in what the clearances of plug and index pin allow, from the
// diameters or else from --fit.
func (q *Question) play(a *Answer, b Blank) error {
	plugPlay, err := q.clearance(q.Bore.Dia, "plug")
	if q.Clearance != nil {
		plugPlay, err = q.Clearance, nil
	} else if q.PlugD != nil {
		c := q.Bore.Dia.Sub(*q.PlugD)
		plugPlay = &c
	} else if err != nil {
		return err
	}
	var clock *Point
	var clockPlay *decimal.Decimal
	kind := q.Clock.Kind
	if kind == ClockPin {
		clock = &q.Clock.Pin
		clockPlay, err = q.clearance(q.Clock.Dia, "hole")
		if q.Clock.Hole.IsPositive() && q.Clock.Dia.IsPositive() {
			c := q.Clock.Hole.Sub(q.Clock.Dia)
			clockPlay = &c
		} else if err != nil {
			return err
		}
	}
	t := OnPlug(b, q.Bore.At, clock, plugPlay, clockPlay)
	t.Free = kind == "" || kind == ClockNone
	if q.Round {
		t.round(b, q.Bore.At)
	}
	a.Turn = &t
	if q.PlugD == nil {
		if err := q.pressed(a, *q.Bore); err != nil {
			return err
		}
	}

	limit := fit.GreatestPlay(q.Unit)
	switch {
	case plugPlay == nil:
	case plugPlay.Cmp(limit) > 0:
		a.add(LevelWarning, PlugLoose{*plugPlay})
	case q.PlugD != nil && plugPlay.IsZero():
		a.add(LevelWarning, PlugTight{*q.PlugD})
	}
	switch {
	case t.Free:
	case t.AtRim == nil:
		a.add(LevelNote, TurnUnknown{kind})
	case t.AtRim.Cmp(limit) > 0:
		a.add(LevelWarning, ClockingLoose{*t.AtRim})
	}
	return nil
}
