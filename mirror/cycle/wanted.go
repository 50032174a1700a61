package cycle

import (
	"fmt"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
	"flipcalc/mirror/transform"
)

// prove checks a program that was written from steps: with the block delete switch off
// and, where a program has blocks that may be deleted, with the switch on.
func (m *merger) prove(text []byte, steps []step) (*motion.Summary, error) {
	for side, p := range m.sides {
		count := 0
		for _, s := range steps {
			count += len(s.pieces[side])
		}
		if count != 0 && count != len(p.pieces) {
			return nil, &fault.Error{File: mergedName, Found: fmt.Sprintf("%d pieces of the %s", count, sideNames[side]), Expected: fmt.Sprint(len(p.pieces)), No: true}
		}
	}
	summary, err := proof.Matches(text, m.wanted(steps, m.sides, false))
	if err != nil || m.off[0] == nil && m.off[1] == nil {
		return summary, err
	}
	sides := m.sides
	for s, p := range m.off {
		if p != nil {
			sides[s] = p
		}
	}
	_, err = proof.Matches(text, m.wanted(steps, sides, true))
	return summary, err
}

// mergedName is what messages call a merged program.
const mergedName = "the merged program"

// wanted is what a merged program shall do: at each station the moves of its program's
// pieces, each once and in order; between them up to the clear height, across and down;
// and aside at a pause and at the end.
func (m *merger) wanted(steps []step, sides [2]*program, skip bool) proof.Program {
	p := proof.Program{Running: [2]bool{m.named&spindleWord != 0, m.named&coolantWord != 0},
		Read: motion.Options{Name: mergedName, AbsoluteCentres: m.centresAssumed(), Inert: m.inert(), SkipDeleted: skip, ArcTolerance: m.o.ArcTolerance, Rates: m.o.Rates}}
	faces, first := true, true
	var at Station
	way := func(s Station, moves ...proof.Wanted) {
		p.Legs = append(p.Legs, proof.Leg{Name: "on the way to " + s.Offset, Offset: transform.OffsetCode(s.Offset), Moves: moves})
	}
	for _, s := range steps {
		called := s.tool >= 0
		if called && m.named&changeWord != 0 {
			p.Changes++
		}
		for side := range 2 {
			if len(s.pieces[side]) == 0 {
				continue
			}
			if side == 1 && faces && !first && m.o.Order == ByStations && m.o.Pause != "" && m.o.Park != nil {
				way(at, m.aside())
			}
			faces = faces && side == 0
			for _, pair := range m.o.Pairs {
				station := []Station{pair.Face, pair.Back}[side]
				for _, own := range s.pieces[side] {
					pc := own.at(station)
					if first {
						at = station
					}
					// Before the tool is changed, and after it or before another offset.
					if called && (first || m.o.G53) {
						way(at, m.rise(at, nil))
					}
					if first || called || m.o.G53 {
						way(at, m.rise(at, nil))
					}
					way(station, pc.approach()...)
					read := sides[side].pieces[slices.Index(m.sides[side].pieces, own)].at(station)
					p.Legs = append(p.Legs, proof.Leg{Name: fmt.Sprintf("%s from line %d on", pc.file, pc.line), Offset: transform.OffsetCode(station.Offset),
						Moves: read.moves})
					at, first, called = station, false, false
					way(at, m.rise(at, read.left()))
				}
			}
		}
	}
	if m.o.Park != nil {
		way(at, m.aside())
	}
	return p
}

// rise is the way up to the clear height over a station.
func (m *merger) rise(s Station, state *motion.State) proof.Wanted {
	w := proof.Wanted{Machine: m.o.G53, Named: [3]bool{2: true}, Unit: m.o.Unit, Rounded: true, State: state}
	if m.o.G53 {
		w.To[2] = motion.FromDecimal(*m.o.Clear)
	} else {
		w.To[2] = motion.FromDecimal(m.o.Clear.Sub(*s.ZeroZ))
	}
	return w
}

// aside is the way to the place to park, with nothing running.
func (m *merger) aside() proof.Wanted {
	at := m.o.Park
	return proof.Wanted{Machine: true, To: motion.Point{motion.FromDecimal(at.X), motion.FromDecimal(at.Y)}, Named: [3]bool{true, true}, Unit: at.Unit}
}

// approach is the way over a piece's first place and, where its program began it at a
// known height, down to that.
func (pc *piece) approach() []proof.Wanted {
	o := &pc.open
	state := o.state
	state.Comp, state.FeedMode, state.Length = 40, 94, -1
	if pc.length != notYet {
		state.Length = pc.length
	}
	over := proof.Wanted{To: o.entry, Named: [3]bool{pc.located[0], pc.located[1]}, Unit: state.Unit, State: &state}
	down := proof.Wanted{To: o.from, Named: [3]bool{2: true}, Unit: state.Unit, State: &state}
	var moves []proof.Wanted
	if pc.located[0] || pc.located[1] {
		moves = append(moves, over)
	}
	if o.fromOK[2] {
		moves = append(moves, down)
	}
	return moves
}

// left is what a piece leaves set, with what the merge leaves running of it.
func (pc *piece) left() *motion.State {
	s := pc.last
	s.Comp, s.Spindle, s.Speed, s.Coolant = 40, pc.spindle, pc.speed, pc.coolant
	return &s
}

// centresAssumed is what the control assumes of arc centres, where no program says.
func (m *merger) centresAssumed() bool {
	return m.named&centreWord == 0 && m.o.Face.AbsoluteCentres
}

// inert gives the M codes that move no axis in any of the programs.
func (m *merger) inert() []int { return append(slices.Clone(m.o.Face.Inert), m.o.Back.Inert...) }
