package cut

import (
	"cmp"
	"math"
	"slices"
)

// Result is what cutting both sides shows. Places are in the coordinates of the
// face program, except in Grid.
type Result struct {
	Web           Web // the least left under any cut that isn't meant to go through
	WorstWeb      Web // with the misalignment and the thickness tolerance taken off
	Wall          Web // the least between a cut of the face and one of the back in any direction, where that is less than the web asked for
	WorstWall     Web // the same with all errors taken off
	BrokenThrough []Island
	Through       []Through
	Outlines      int // that are cut through, each closed cut once
	Openings      int
	Counted       bool // a number of them was declared
	Tabs          Tabs
	Loose         []*PartLoose
	Bored         bool         // the face program cuts the bore that goes over a plug
	Indexed       bool         // and a hole that the plug's index pin fits into
	Travel        []AxisTravel // where the travel and a station's zero are known
	Findings      []Finding    // everything that is wrong

	Grid     *Grid
	FlipX    bool // the blank is turned about a line parallel to X
	FaceZero [2]float64
	Comp     []CompUse
}

// Check cuts both programs of q in memory and says what is wrong. An error is a
// *fault.Error where the question can't be answered (bad sizes, a program that can't
// be followed, a tool that isn't described), or what a reader returned.
func Check(q Request) (*Result, error) { return check(q, maxPairs) }

// check is Check with a bound to the pairs of strokes of one search.
func check(q Request, pairs int) (*Result, error) {
	if err := q.validate(); err != nil {
		return nil, err
	}
	back, err := backFrame(q.Map, q.FaceZero, q.FaceLevel, q.BackLevel, q.T, q.Skimmed)
	if err != nil {
		return nil, err
	}
	cell := q.Cell
	if cell == 0 {
		cell = DefaultCell(q.W, q.H, q.Tools)
	}
	g, err := newGrid(q.W, q.H, q.T, cell)
	if err != nil {
		return nil, err
	}
	s := &study{q: &q, g: g, thinnest: thinnest{most: pairs, unheld: math.Inf(1)}}
	s.runs[faceSide] = newRun(&q, g, faceSide, faceFrame(q.FaceZero, q.FaceLevel, q.T, q.FaceTurn))
	s.runs[backSide] = newRun(&q, g, backSide, back)
	out := &Result{Grid: g, FlipX: q.Map.Y.Sign < 0, FaceZero: q.FaceZero}
	for _, r := range s.runs {
		if err := r.do(); err != nil {
			return nil, err
		}
		out.Comp = append(out.Comp, r.comp.uses...)
		r.travel(out)
	}
	s.stopped()
	s.skim(out)
	if err := s.coarse(out); err != nil {
		return nil, err
	}
	s.bored(out)
	s.through(out)
	s.web(out)
	s.miscounted(out)
	s.unproven(out)
	s.ledges(out)
	s.report(out)
	s.turned(out)
	s.tabs(out)
	s.spirals(out)
	s.short(out)
	s.missed(out)
	s.loose(out)
	s.locators(out)
	for _, r := range s.runs {
		r.beside()
		out.Findings = append(out.Findings, r.hits()...)
	}
	out.settle(s.runs)
	return out, nil
}

// stopped takes back the cuts with the spindle stopped where neither side starts it: it is
// switched by hand.
func (s *study) stopped() {
	if s.runs[faceSide].turns || s.runs[backSide].turns {
		return
	}
	for _, r := range s.runs {
		r.found.drop(func(f Finding) bool { _, ok := f.(*SpindleStopped); return ok })
	}
}

// add takes a finding.
func (r *Result) add(f Finding) { r.Findings = append(r.Findings, f) }

// settle says of every line which program it is in, moves all places from the blank's corner to
// the face zero, and sorts the findings.
func (r *Result) settle(runs [2]*run) {
	settle := func(at *Spot, placed bool) {
		at.FaceFile, at.FaceLine = runs[faceSide].where(at.FaceLine)
		at.BackFile, at.BackLine = runs[backSide].where(at.BackLine)
		if placed {
			at.X -= r.FaceZero[0]
			at.Y -= r.FaceZero[1]
		}
	}
	for _, f := range r.Findings {
		at := f.At()
		settle(&at.Spot, at.Placed)
		if p := at.Elsewhere; p != nil {
			p[0], p[1] = p[0]-r.FaceZero[0], p[1]-r.FaceZero[1]
		}
	}
	for i := range r.BrokenThrough {
		settle(&r.BrokenThrough[i].Spot, true)
	}
	for i := range r.Through {
		settle(&r.Through[i].Spot, true)
	}
	for _, w := range []*Web{&r.Web, &r.WorstWeb, &r.Wall, &r.WorstWall} {
		settle(&w.Spot, w.Any)
	}
	r.Tabs.X -= r.FaceZero[0]
	r.Tabs.Y -= r.FaceZero[1]
	rank := func(f Finding) int { return slices.Index(order, f.Code()) }
	slices.SortStableFunc(r.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.At().Side, b.At().Side))
	})
}
