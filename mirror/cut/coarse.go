package cut

import (
	"fmt"
	"math"

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
			out.add(Finding{Code: CodeCoarse, Side: Both, Index: c.Number, Count: 1,
				Amount: s.g.Cell, Limit: c.Shown(), Depth: c.Diameter})
		}
	}
	return nil
}
