package mirror

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Under cutter compensation the first move after G41 or G42 must be straight and longer
// than the cutter's radius (NISTIR 6556, 3.5.10 and appendix B), and G40 takes the tool
// from beside the contour straight to the programmed point. Run backwards, the lead-out
// is the first move and the lead-in the last. The program doesn't say the radius. So that
// what the control took and what stayed clear of the part does so again, the two must be
// alike: straight, as long, at the same angle to the cut. The words G41, D and G40 then
// stay where they are: on the first and on the last of the cuts.

// What two leads may differ by. Their four ends are written to the last digit, 0.001 mm
// or 0.0001 in, each off by half of it in X and Y: 4 x 0.7 of it at most, so 3 digits.
// The directions of two leads of 0.6 mm and of the cuts beside them differ then by
// 4 x 0.0014/0.6, about 0.01.
var (
	leadsApart = [2]decimal.Decimal{transform.MM: decimal.New(3, -3), transform.Inch: decimal.New(3, -4)}
	leadsTurn  = decimal.New(1, -2)
)

// compensation says what keeps a chain under cutter compensation from being reversed;
// "" also where none is on.
func (r *reverser) compensation() (why string) {
	var cuts []*chainText
	on, switches := 0, 0
	for i := r.begin(); i <= r.last; i++ {
		l := &r.lines[i]
		if l.comp > 400 {
			switches++
		}
		if l.kind == lineCut {
			cuts = append(cuts, l)
			if l.on {
				on++
			}
		}
	}
	n := len(cuts)
	first, last := cuts[0], cuts[n-1]
	switch {
	case slices.ContainsFunc(r.lines[r.last+1:], func(l chainText) bool { return l.comp > 400 }):
		return "cutter compensation starts on its way out"
	case on == 0 && !first.wasOn:
		return ""
	case on == 0 || first.on && switches == 0:
		return "cutter compensation is on before it"
	case last.on:
		return "its last cut runs under cutter compensation, so that it has no lead-out"
	case on < n-1:
		return "cutter compensation switched between its cuts"
	case n < 3:
		return "no cut between lead-in and lead-out"
	case first.after.motion > 10 || last.after.motion > 10:
		return "an arc to lead in or out under cutter compensation"
	case cuts[1].radius != "" || cuts[n-2].radius != "":
		return "an arc by radius next to its lead-in or lead-out"
	case !r.alike(cuts):
		return "its lead-out isn't like its lead-in: as long, at the same angle to the cut"
	}
	return ""
}

// compensation gives the words for cutter compensation of a line of a reversed chain:
// running backwards takes back the mirror's swap.
func (c *chainText) compensation() (words []string) {
	switch c.comp {
	case 0:
		return nil
	case 400:
		return []string{"G40"}
	}
	words = []string{motion.CodeName('G', 410+420-c.comp)}
	if c.offset != "" {
		words = append(words, "D"+c.offset)
	}
	return words
}

// alike reports whether the first and the last cut are as long and meet the cuts between
// them at the same angle, to the same side.
func (r *reverser) alike(cuts []*chainText) bool {
	n := len(cuts)
	in, out := cuts[0].heading(false), cuts[n-1].heading(false)
	a, b := in.dot(in), out.dot(out)
	// |sqrt a - sqrt b| <= t, squared twice
	t := leadsApart[r.m.s.unit]
	if rest := a.Add(b).Sub(t.Mul(t)); rest.IsPositive() && rest.Mul(rest).GreaterThan(a.Mul(b).Mul(decimal.New(4, 0))) {
		return false
	}
	return in.turn(cuts[1].heading(false)).near(cuts[n-2].heading(true).turn(out))
}

// arrow is a direction in X and Y, of any length.
type arrow [2]decimal.Decimal

func (a arrow) dot(b arrow) decimal.Decimal { return a[0].Mul(b[0]).Add(a[1].Mul(b[1])) }

// turn gives the angle from a to b as the direction that X is turned into by it.
func (a arrow) turn(b arrow) arrow { return arrow{a.dot(b), a[0].Mul(b[1]).Sub(a[1].Mul(b[0]))} }

// near reports whether a and b differ by no more than leadsTurn, which is as well the
// sine of it.
func (a arrow) near(b arrow) bool {
	t := a.turn(b)
	limit := leadsTurn.Mul(leadsTurn).Mul(a.dot(a)).Mul(b.dot(b))
	return t[0].IsPositive() && t[1].Mul(t[1]).LessThanOrEqual(limit)
}

// heading gives the direction in which a cut begins or ends.
func (c *chainText) heading(end bool) arrow {
	if c.after.motion == 10 {
		return arrow{c.to[0].v.Sub(c.from[0].v), c.to[1].v.Sub(c.from[1].v)}
	}
	at := &c.from
	if end {
		at = &c.to
	}
	x, y := at[0].v.Sub(c.centre[0]), at[1].v.Sub(c.centre[1])
	if c.after.motion == 20 {
		return arrow{y, x.Neg()}
	}
	return arrow{y.Neg(), x}
}
