package cut

import (
	"fmt"
	"math"
	"slices"

	"flipcalc/mirror/fault"
)

// Shown gives the largest cell, mm, on which nothing that the cutter does can be missed.
//
// No place is farther than c/sqrt 2 from the centre of a cell of side c, so a plunge of
// radius R lies over a centre where c/sqrt 2 <= R. A rapid move through stock is looked
// for within R - c/2 (a wall's place is known to half a cell), so that takes
// c/2 + c/sqrt 2 <= R, which is c <= D/(1 + sqrt 2) = 0.414 D.
//
// A vee counts as at least 2 mm wide: the least web under its tip is found from the
// strokes, whatever the cell, and the tip itself has no width.
func (t Tool) Shown() float64 {
	d := t.Diameter
	if t.Shape == Vee {
		d = max(d, 2)
	}
	return d / (1 + math.Sqrt2)
}

// coarse refuses a cell that was asked for and is too large for a cutter in use; one that
// had to be so large is told.
func (s *study) coarse(out *Result) error {
	told := map[int]bool{}
	for _, r := range s.runs {
		for _, u := range r.uses {
			c := u.tool
			if s.g.Cell <= c.Shown()+1e-9 || told[c.Number] {
				continue
			}
			if s.q.Cell != 0 {
				return &fault.Error{
					About:    "cell",
					Found:    fmt.Sprintf("cells of %s mm for tool %d, %s mm wide", fault.Number(s.q.Cell), c.Number, fault.Number(c.Diameter)),
					Expected: "at most " + fault.Number(math.Floor(c.Shown()*1e4)/1e4) + " mm: what it cuts may fall between the cells",
					Hint:     "leave the cell to be picked, or make it smaller",
				}
			}
			told[c.Number] = true
			out.add(&CellsCoarse{Where{Side: Both, Count: 1}, c.Number, c.Diameter, s.g.Cell, c.Shown()})
		}
	}
	return nil
}

// DefaultCell gives the cell that is taken where none is asked for: a twentieth of
// the smallest cutter (a vee counts as at most 2 mm, since it cuts with its tip),
// rounded down to 1, 2 or 5 of a decimal place, from 0.02 to 0.5 mm, and coarse
// enough that the blank has no more than 16 million cells, or 100 million where the
// smallest cutter would be missed otherwise (see Tool.Shown).
func DefaultCell(w, h float64, tools []Tool) float64 {
	least := 6.0
	for _, t := range tools {
		d := t.Diameter
		if t.Shape == Vee {
			d = min(d, 2)
		}
		least = min(least, d)
	}
	steps := []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10}
	cell := steps[0]
	for _, s := range steps[:5] {
		if s <= least/20+1e-12 {
			cell = s
		}
	}
	shown := math.Inf(1)
	for _, t := range tools {
		shown = min(shown, t.Shown())
	}
	for _, s := range steps {
		if s >= cell && w*h/(s*s) <= 16e6 {
			cell = s
			break
		}
	}
	for _, s := range slices.Backward(steps) {
		if s < cell && cell > shown && w*h/(s*s) <= maxCells/2 {
			cell = s
		}
	}
	return cell
}

// ErrorBound gives the greatest difference between the swept surface at any place
// of a cell and the height held for that cell, where no edge of a cut (the rim of
// a stroke's reach) passes between the place and the cell's centre:
//
//	rise(d) + m d + m sqrt(2 R d - d^2) + s (1 + m) + rise(s) + z 2^-24
//
// d = c/sqrt 2, with c the cell, is the farthest that a place lies from the centre.
// rise is Tool.Rise, the most that the cutter's shape rises over that distance. m is
// the steepest slope of the moves and R the cutter's radius; the third term is for
// flat cutters alone (and with the rise for cones steeper than m). s is the sag of
// the chords that helices and upright arcs are cut into, 0 without them. The last
// term is the rounding of a depth z to 24 bits.
//
// Derivation: at one place of the cutter the height is tip plus shape, which
// changes by rise(d) between the two places; the least over all places of the
// cutter changes by no more. Where the deepest place of the cutter reaches one of
// them and not the other, it must move on: along the way by d, and by the change of
// the half chord sqrt(R^2 - q^2), which is greatest at the rim. A ball or a bull
// cuts deepest before its rim, where its side stands upright, and so does a cone
// steeper than the way. At the centre itself only s (1 + m) + rise(s) and the last
// term remain. An edge of a cut is off its true place by at most d + s in plan.
func ErrorBound(t Tool, cell, slope, sag, depth float64) float64 {
	p := t.profile()
	d := cell / math.Sqrt2
	v := t.Rise(d) + slope*d + sag*(1+slope) + t.Rise(sag) + math.Abs(depth)*0x1p-24
	if p.r == 0 && slope >= p.k {
		e := min(d, p.R)
		v += (slope + p.k) * (d + math.Sqrt(2*p.R*e-e*e))
	}
	return v
}
