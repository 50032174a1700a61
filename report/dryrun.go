package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/report/words"
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
func (c *checklist) dryRun(phase, what string, offsets []string, thick decimal.Decimal, pass func(p *Program) bool, cautions ...string) *Step {
	l := c.s.lift(offsets, thick, pass)
	st := c.step(phase, append([]string{"dry-run"}, cautions...)...)
	if l.none() {
		return st.say(words.DryRunBare, what, list(offsets)).brief("blank off, tool up, dry run over the bare bed, blank back on")
	}
	margin, by, higher := over(c.s.Unit).String(), "", ""
	var parts []string
	if !thick.IsZero() {
		parts, higher = append(parts, fmt.Sprintf(words.Thick, thick)), words.HigherClamps
	}
	if l.known {
		by = l.by.String() + c.unit() + ": " + strings.Join(append(parts, fmt.Sprintf(words.Deep, l.deep), margin), " + ")
	} else {
		by = strings.Join(append(parts, words.DeepestCut, margin+c.unit()), " + ") + words.AtLeast
	}
	up := "tool up, raise stored Z "
	switch {
	case l.short():
		up = "blank off, " + up + l.room.String() + c.unit()
	case l.known:
		up += l.by.String() + c.unit()
	default:
		up += "clear of the work"
	}
	st.brief("%s, dry run, Z back to %s", up, blank)
	st.say(words.DryRun, what, list(offsets), by+higher)
	if l.short() {
		st.say(words.ShortTravel, l.room.String()+c.unit())
	}
	st.say(words.SetZBack)
	for _, o := range offsets {
		st.write(fmt.Sprintf(words.ZToSetBack, o, c.s.bedUnit()))
	}
	return st
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
