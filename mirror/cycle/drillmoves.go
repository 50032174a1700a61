package cycle

import (
	"bytes"
	"regexp"
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
	"flipcalc/mirror/transform"
)

// Drill writes the program, proves the text and gives it. What can't be proved is
// not given.
func Drill(p Drilling) ([]byte, error) {
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		return nil, err
	}
	if err := p.prove(b.Bytes()); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// prove says whether a text drills just what p asks for.
func (p *Drilling) prove(text []byte) error {
	_, err := proof.Matches(text, p.wanted())
	return err
}

var (
	toolNumber   = regexp.MustCompile(`T([0-9]+)`)
	lengthNumber = regexp.MustCompile(`H([0-9]+)`)
	toolChange   = regexp.MustCompile(`M0?6`)
)

// numberIn is the number that a pattern finds in a tool line, or -1.
func numberIn(line string, pattern *regexp.Regexp) int {
	m := pattern.FindStringSubmatch(line)
	if m == nil {
		return -1
	}
	n, _ := strconv.Atoi(m[1]) // digits; CheckToolLine has looked at their number
	return n
}

// drillMoves is what a drilling program shall do, move by move, as the control makes it.
type drillMoves struct {
	p     *Drilling
	state motion.State
	moves []proof.Wanted
	cycle int
}

// wanted is what the program shall do: every hole at its place, with its tool, speed and
// feed, to its bottom exactly and no deeper, no bite deeper than the peck. It goes to the
// clear height, where that is known, before and after each tool change and at the end.
func (p *Drilling) wanted() proof.Program {
	d := drillMoves{p: p, state: motion.State{Unit: p.Unit, Tool: -1, Length: -1, FeedMode: 94, Comp: 40}}
	out := proof.Program{Read: motion.Options{Name: "the drilling program", Unit: p.Unit}}
	for _, pass := range p.Passes {
		d.rise()
		line, length := pass.lines()
		if line != "" {
			d.state.Tool, d.state.Spindle = numberIn(line, toolNumber), 0
			d.rise()
		}
		if toolChange.MatchString(line) {
			out.Changes++
		}
		d.state.Spindle, d.state.Speed, d.state.Feed = 1, motion.FromDecimal(pass.Speed), motion.FromDecimal(pass.Feed)
		d.over(pass.Holes[0])
		d.state.Length = numberIn(length, lengthNumber)
		d.down(motion.Rapid, p.Safe)
		if p.Cycles {
			d.cycle = 830
		}
		for i, h := range pass.Holes {
			if i > 0 {
				d.over(h)
			}
			d.hole(h, pass.Peck)
		}
		d.cycle = 0
	}
	d.rise()
	out.Legs = []proof.Leg{{Offset: transform.OffsetCode(p.Offset), Moves: d.moves}}
	return out
}

// add takes one move.
func (d *drillMoves) add(w proof.Wanted) {
	state := d.state
	w.Unit, w.State, w.Cycle = d.p.Unit, &state, d.cycle
	d.moves = append(d.moves, w)
}

// rise goes to the clear height, where it is known.
func (d *drillMoves) rise() {
	if d.p.Up != nil {
		d.add(proof.Wanted{Machine: true, To: motion.Point{2: motion.FromDecimal(*d.p.Up)}, Named: [3]bool{2: true}})
	}
}

// over goes over a hole.
func (d *drillMoves) over(h Hole) {
	d.add(proof.Wanted{To: motion.Point{motion.FromDecimal(h.X), motion.FromDecimal(h.Y)}, Named: [3]bool{true, true}})
}

// down goes straight up or down.
func (d *drillMoves) down(kind motion.Kind, z decimal.Decimal) {
	d.add(proof.Wanted{Kind: kind, To: motion.Point{2: motion.FromDecimal(z)}, Named: [3]bool{2: true}})
}

// hole drills one hole from the safe height and back to it. Spelled out, its bites count
// from the surface and each rapid stops at the clearance. In a cycle they count from the
// clearance, where R is, and a rapid goes back into the hole to just over the last bite
// (NISTIR 6556, 3.5.16.4).
func (d *drillMoves) hole(h Hole, peck decimal.Decimal) {
	at := d.p.Surface
	if d.p.Cycles {
		at = d.p.Clear
	}
	back, _ := motion.Clearance(d.p.Unit).Decimal()
	d.down(motion.Rapid, d.p.Clear)
	for at.GreaterThan(h.Bottom) {
		at = decimal.Max(at.Sub(peck), h.Bottom)
		d.down(motion.Feed, at)
		if at.Equal(h.Bottom) {
			break
		}
		d.down(motion.Rapid, d.p.Clear)
		if again := at.Add(back); d.p.Cycles && again.LessThan(d.p.Clear) {
			d.down(motion.Rapid, again)
		}
	}
	d.down(motion.Rapid, d.p.Safe)
}
