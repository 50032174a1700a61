package report

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// over is how far a dry run stays above what stands there, at least: 10 mm or 0.4 in
// (common practice).
func over(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.New(4, -1)
	}
	return decimal.New(10, 0)
}

// deepest is how far the programs that pass go below their Z0, 0 if they don't; ok
// is false where one isn't known or there are none.
func (s *Setup) deepest(pass func(p *Program) bool) (d decimal.Decimal, ok bool) {
	for i := range s.Programs {
		p := &s.Programs[i]
		switch {
		case !pass(p):
			continue
		case p.Lowest == nil:
			return d, false
		}
		ok = true
		d = decimal.Max(d, p.Lowest.Neg())
	}
	return d, ok
}

// lift is by how much the Z of offsets goes up for a dry run.
type lift struct {
	by, deep decimal.Decimal
	known    bool             // how deep the programs go is known
	room     *decimal.Decimal // that the travel leaves; nil is unknown
}

// none says that the travel leaves no room to rise, short that it leaves too little.
func (l lift) none() bool { return l.room != nil && !l.room.IsPositive() }

func (l lift) short() bool { return l.room != nil && l.known && l.room.LessThan(l.by) }

// lift is reckoned for programs that pass, over a blank of a thickness, 0 where none lies
// there.
func (s *Setup) lift(offsets []string, thick decimal.Decimal, pass func(p *Program) bool) lift {
	l := lift{room: s.travelUp(offsets)}
	l.deep, l.known = s.deepest(pass)
	l.by = thick.Add(l.deep).Add(over(s.Unit))
	return l
}

// dryRun adds the step that runs programs above the work, with how that is done: by
// how much the Z of their offsets goes up first. thick is the blank's thickness, 0
// where none lies there.
func (c *checklist) dryRun(phase, what string, offsets []string, thick decimal.Decimal, pass func(p *Program) bool, cautions ...string) {
	s := c.s
	u := s.Unit.String()
	margin := over(s.Unit)
	text := "Dry run " + what + ". Raise Z of " + list(offsets) + " by "
	var parts []string
	if !thick.IsZero() {
		parts = append(parts, thick.String()+" thick")
	}
	higher := ""
	if !thick.IsZero() {
		higher = "; more over higher clamps"
	}
	l := s.lift(offsets, thick, pass)
	short := ""
	switch {
	case l.none():
		c.add(phase, "Dry run "+what+" over the bare bed: the travel doesn't let Z of "+list(offsets)+
			" rise. Take blank and clamps off. Single block, spindle off, hand on feed hold, eye on the tip.", append([]string{"dry-run"}, cautions...)...)
		return
	case l.short():
		short = ". The travel allows only " + l.room.String() + " " + u + ": take blank and clamps off, raise by that, watch the tip"
	}
	if l.known {
		parts = append(parts, l.deep.String()+" deep", margin.String())
		text += l.by.String() + " " + u + ": " + strings.Join(parts, " + ") + higher
	} else {
		parts = append(parts, "deepest cut below Z0", margin.String()+" "+u)
		text += strings.Join(parts, " + ") + " at least" + higher
	}
	st := c.add(phase, text+short+". Spindle off, hand on feed hold. Then set Z back and check it.", append([]string{"dry-run"}, cautions...)...)
	for _, o := range offsets {
		st.Write = append(st.Write, o+" Z to set back")
	}
}

// travelUp is the least by which the travel lets the offsets be raised, rounded down to
// 0.001; nil where it isn't known. A move by G53 stays where it is and takes no room.
func (s *Setup) travelUp(offsets []string) *decimal.Decimal {
	if s.Check == nil {
		return nil
	}
	least := math.Inf(1)
	for i := range s.Check.Travel {
		t := &s.Check.Travel[i]
		for _, o := range offsets {
			if t.Axis == "Z" && t.Station == o {
				least = min(least, float64(t.Room))
			}
		}
	}
	if math.IsInf(least, 0) {
		return nil
	}
	// To nine places first, so that the last bit of a sum costs no thousandth.
	d := decimal.NewFromFloat(least).Round(9).RoundFloor(3)
	return &d
}
