package report

import (
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

// dryRun adds the step that runs programs above the work, with how that is done: by
// how much the Z of their offsets goes up first. thick is the blank's thickness, 0
// where none lies there.
func (c *checklist) dryRun(phase, what string, offsets []string, thick decimal.Decimal, pass func(p *Program) bool, cautions ...string) {
	s := c.s
	u := s.Unit.String()
	margin := over(s.Unit)
	text := "Dry run " + what + ": raise the Z of " + list(offsets) + " by "
	var parts []string
	if !thick.IsZero() {
		parts = append(parts, "thickness "+thick.String())
	}
	higher := ""
	if !thick.IsZero() {
		higher = "; more where clamps stand higher"
	}
	deep, known := s.deepest(pass)
	if known {
		by := thick.Add(deep).Add(margin)
		parts = append(parts, "deepest cut "+deep.String(), margin.String())
		text += by.String() + " " + u + " (" + strings.Join(parts, " + ") + higher + ")"
		if left := s.travelUp(offsets); left != nil && *left < by.InexactFloat64() {
			text += "; the travel leaves only " + rounded(*left, 3) + " " + u + " upwards, so raise by that and take blank and clamps off"
		}
	} else {
		parts = append(parts, "deepest cut below Z0", margin.String()+" "+u)
		text += strings.Join(parts, " + ") + " at least" + higher
	}
	st := c.add(phase, text+"; spindle off, hand on feed hold. Then set Z back and check it.", append([]string{"dry-run"}, cautions...)...)
	for _, o := range offsets {
		st.Write = append(st.Write, o+" Z to set back")
	}
}

// travelUp is the least travel left upwards at the offsets, nil where it isn't known.
func (s *Setup) travelUp(offsets []string) *float64 {
	if s.Check == nil {
		return nil
	}
	var least *float64
	for i := range s.Check.Travel {
		t := &s.Check.Travel[i]
		for _, o := range offsets {
			if t.Axis == "Z" && t.Station == o && (least == nil || t.High < *least) {
				least = &t.High
			}
		}
	}
	return least
}
