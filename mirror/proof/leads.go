package proof

import (
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Leads may differ in length by three of the last digits that a program is written to,
// 0.001 mm or 0.0001 in: four ends, each half a digit off in X and in Y. The angles at
// which they meet the cuts may differ by 0.01, the same for leads of 0.6 mm.
var (
	leadLength = [2]motion.Num{transform.MM: motion.FromNano(3_000_000), transform.Inch: motion.FromNano(300_000)}
	leadAngle  = motion.FromNano(10_000_000)
)

// compensated looks at a chain's cutter compensation, in the input: off all through, or
// on for all cuts but the last, where the first and the last are straight moves that
// are alike. NISTIR 6556, 3.5.10 and appendix B: the first compensated move is straight
// and longer than the cutter's radius, and G40 leads straight from beside the contour
// to the programmed point. Run backwards each lead is the other, so that what is right
// for the one must be for the other. found says what isn't so.
func (h *half) compensated(unit transform.Unit) (found string) {
	n := len(h.cuts)
	comp := h.cuts[0].State.Comp
	for _, ways := range [2][]motion.Move{h.before, h.after} {
		for i := range ways {
			if ways[i].State.Comp != 40 {
				return "cutter compensation on the way to or from a reversed chain"
			}
		}
	}
	for k := range h.cuts {
		want := comp
		if k == n-1 {
			want = 40
		}
		if h.cuts[k].State.Comp != want {
			return "cutter compensation that isn't on from the first to the last but one of a reversed chain's cuts"
		}
	}
	if comp == 40 {
		return ""
	}
	if n < 3 {
		return "a reversed chain of nothing but a lead-in and a lead-out"
	}
	for _, k := range [4]int{0, 1, n - 2, n - 1} {
		m := &h.cuts[k]
		lead := k == 0 || k == n-1
		if m.State.Plane != transform.XY || m.Kind == motion.Spline || lead && m.Kind != motion.Feed || m.Circular() && m.ByRadius {
			return "a reversed chain under cutter compensation that isn't led in and out on straight lines"
		}
	}
	in, out := along(&h.cuts[0], false), along(&h.cuts[n-1], true)
	if differ(in, out, leadLength[unit]) {
		return "leads of different length at a reversed chain"
	}
	if !sameTurn(in, along(&h.cuts[1], false), along(&h.cuts[n-2], true), out) {
		return "leads at different angles to a reversed chain"
	}
	return ""
}

// vector is a direction in X and Y.
type vector [2]motion.Num

// along gives the direction of a move at its start or end: of an arc the tangent.
func along(m *motion.Move, end bool) vector {
	if !m.Circular() {
		return vector{m.To[0].Sub(m.From[0]), m.To[1].Sub(m.From[1])}
	}
	p := m.From
	if end {
		p = m.To
	}
	radius := vector{p[0].Sub(m.Centre[0]), p[1].Sub(m.Centre[1])}
	if m.Kind == motion.CW {
		return vector{radius[1], radius[0].Neg()}
	}
	return vector{radius[1].Neg(), radius[0]}
}

func inner(a, b vector) motion.Num { return a[0].Mul(b[0]).Add(a[1].Mul(b[1])) }
func outer(a, b vector) motion.Num { return a[0].Mul(b[1]).Sub(a[1].Mul(b[0])) }

// differ reports whether the lengths of a and b differ by more than by:
// (|a| - |b|)^2 > by^2, where 2 |a| |b| is the root of 4 a^2 b^2.
func differ(a, b vector, by motion.Num) bool {
	aa, bb := inner(a, a), inner(b, b)
	rest := aa.Add(bb).Sub(by.Mul(by))
	return rest.Sign() > 0 && rest.Mul(rest).Cmp(aa.Mul(bb).Times(4)) > 0
}

// sameTurn reports whether the turn from a to b is that from c to d, within leadAngle.
// The complex product b a* d* c has the difference as its argument.
func sameTurn(a, b, c, d vector) bool {
	x, y := inner(a, b), outer(a, b)
	u, v := inner(c, d), outer(c, d)
	re, im := x.Mul(u).Add(y.Mul(v)), y.Mul(u).Sub(x.Mul(v))
	return re.Sign() > 0 && im.Mul(im).Cmp(re.Mul(re).Mul(leadAngle.Mul(leadAngle))) <= 0
}
