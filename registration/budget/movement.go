package budget

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// setWood says which wood moves, by how much and along what.
func (w *work) setWood() error {
	if w.o.Wood == "" {
		if w.o.Moisture != nil {
			return &registration.Error{About: "moisture", Found: "a change of moisture and no wood", Expected: "‹wood› too"}
		}
		return nil
	}
	s, err := FindWood(w.o.Wood)
	if err != nil {
		return err
	}
	w.wood = &s
	if s.FromMemory {
		w.fact(registration.LevelNote, WoodMemory{s.Name})
	}
	w.moved = decimal.NewFromInt(2)
	if w.o.Moisture != nil {
		w.moved = w.o.Moisture.Abs()
	} else {
		w.fact(registration.LevelAssumed, MoistureTwo{w.moved})
	}
	if w.moved.GreaterThan(decimal.NewFromInt(8)) {
		w.fact(registration.LevelWarning, MoistureRange{w.moved})
	}
	switch w.o.Grain {
	case "x", "y":
		w.grain = w.o.Grain
	case "":
		w.grain = "x"
		if w.size.H.GreaterThan(w.size.W) {
			w.grain = "y"
		}
		w.fact(registration.LevelAssumed, GrainAssumed{w.grain})
	default:
		return &registration.Error{About: "grain", Found: fmt.Sprintf("%q", w.o.Grain), Expected: "x or y"}
	}
	w.pinsMove()
	return nil
}

// pinsMove warns when the wood moves the holes apart by more than their play.
func (w *work) pinsMove() {
	most, play := decimal.Zero, 0.0
	for i, a := range w.q.Pins {
		for j, b := range w.q.Pins[:i] {
			d := a.At.Y.Sub(b.At.Y)
			if w.grain == "y" {
				d = a.At.X.Sub(b.At.X)
			}
			if m := w.wood.Movement(d.Abs(), w.moved, w.o.Quartersawn); w.q.Register == registration.Dowels && m.GreaterThan(most) {
				most, play = m, (w.pegs[i].c+w.pegs[j].c)/2
			}
		}
	}
	if most.InexactFloat64() > play {
		w.fact(registration.LevelWarning, PinsMove{most})
	}
}

// movement: the wood grows or shrinks across its grain between the two sides,
// away from where the back is held.
func (w *work) movement(p vec, add adder) {
	held := w.datum[1]
	if w.q.Register == registration.FenceStop {
		held = w.corner[1]
	}
	d := p.minus(held)
	width, x := math.Abs(d.y), false
	if w.grain == "y" {
		width, x = math.Abs(d.x), true
	}
	c := w.wood.Tangential
	if w.o.Quartersawn {
		c = w.wood.Radial
	}
	v := Value{Amount: w.moved} // percent of moisture
	share := c.InexactFloat64() * v.number()
	if w.lie != nil {
		add(Wood, "both", w.grain, v, w.wood.From, w.unfixed(p, func(at vec) vec {
			if x {
				return vec{share * at.x, 0}
			}
			return vec{0, share * at.y}
		}))
		return
	}
	add(Wood, "both", w.grain, v, w.wood.From, onAxis(x, width*share))
}
