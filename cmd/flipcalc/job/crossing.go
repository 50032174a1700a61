package job

import (
	"fmt"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// The ways of a run across the bed, held against the no-go areas.

// crossing gives the no-go areas and the widest cutter; its ways are still to come.
func (j *Job) crossing() *bed.Crossing {
	return &bed.Crossing{Unit: j.Unit(), Areas: j.Standing(j.Machine), Radius: cut.Widest(j.tools(), j.Unit())}
}

// crosses says that a way of a run isn't clear of what no-go areas hold. how is nil where
// the clear height was given; one that was reckoned goes over every area of known height.
func (j *Job) crosses(crossing *bed.Crossing, clear decimal.Decimal, how *bed.Clear, tools int) error {
	over, err := crossing.Over()
	if err != nil {
		return &noClear{err}
	}
	if how != nil || len(over) == 0 {
		return nil
	}
	longest, err := j.longest(tools)
	if err != nil {
		return err
	}
	return j.Placed(j.Machine.Passes(over, clear, j.Unit(), longest))
}

// placeOf carries a place of the machine file into a merge; nil stays nil.
func placeOf(m *ask.Machine, p *registration.Point) *cycle.Place {
	if p == nil {
		return nil
	}
	return &cycle.Place{X: p.X, Y: p.Y, Unit: m.Unit}
}

// sites are the cuts of each station, from one corner to the other; zeros and boxes are
// in one unit. A station without a place is left to the ways that lead there.
func sites(pairs []cycle.Pair, boxes [2]transform.Box) (out []bed.Way) {
	for _, p := range pairs {
		for side, s := range []cycle.Station{p.Face, p.Back} {
			b := boxes[side]
			b = transform.Identity(transform.MM).Turned(registration.Quarter(s.Turn).Degrees()).Box(b)
			if b.Any && s.ZeroX != nil && s.ZeroY != nil {
				out = append(out, bed.Way{Known: true, To: "the cuts at " + s.Offset, Where: s.Offset,
					From: registration.Point{X: s.ZeroX.Add(b.Least[0]), Y: s.ZeroY.Add(b.Least[1])},
					At:   registration.Point{X: s.ZeroX.Add(b.Greatest[0]), Y: s.ZeroY.Add(b.Greatest[1])}})
			}
		}
	}
	return out
}

// ways carries the ways of a merge into a unit.
func ways(list []cycle.Way, unit transform.Unit) (out []bed.Way) {
	in := func(v [2]decimal.Decimal) registration.Point {
		x, _ := transform.Convert(v[0], transform.MM, unit, 9)
		y, _ := transform.Convert(v[1], transform.MM, unit, 9)
		return registration.Point{X: x, Y: y}
	}
	for _, w := range list {
		out = append(out, bed.Way{From: in(w.From), At: in(w.At), Known: w.Known, Clear: w.Clear, To: w.To, Where: fmt.Sprintf("%s:%d", RunFiles[w.Program], w.Line)})
	}
	return out
}
