package cycle

import (
	"flipcalc/mirror/motion"
)

// Program is one of the three programs.
type Program struct {
	Text    []byte
	Tools   []int // in the order in which they are called; -1 where none is named
	Changes int   // how often the tool in the spindle changes, the first one counted
	Summary *motion.Summary
	// Restarts are the places from which the program may be run again in the middle:
	// where a tool is called and nothing before is relied on. The first is its start.
	Restarts []Restart
	// Ends is the offset of the station that was cut last.
	Ends string
	// Seconds is what the machine takes without tool changes: Summary.Seconds and
	// the moves up, across and down between stations. An estimate.
	Seconds float64
}

// Restart is a place from which a program may be run.
type Restart struct {
	Line int // from 1
	Tool int // -1 where none is named
}

// Result is the three programs.
type Result struct {
	// Steady cuts faces and backs, First faces only, Last backs only.
	First, Steady, Last Program
	// FaceSeconds and BackSeconds are what each side's own programs take at one
	// station, without tool changes.
	FaceSeconds, BackSeconds float64
	Ways                     []Way // across the bed, of all three programs
	Notes                    []Note
}

// Merge writes the three programs and proves them. Errors are *fault.Error; No is
// set where what was written could not be proved.
func Merge(o Options) (*Result, error) {
	if err := o.validate(); err != nil {
		return nil, err
	}
	m := &merger{o: o}
	for s, src := range []Source{o.Face, o.Back} {
		var parts, off []*program
		for _, src := range src.all() {
			p, err := cutAllWays(src, o.ArcTolerance, false)
			if err != nil {
				return nil, err
			}
			q := p
			if p.deleted {
				if q, err = cutAllWays(src, o.ArcTolerance, true); err != nil {
					return nil, err
				}
				if err := p.sameBlocks(q); err != nil {
					return nil, err
				}
			}
			parts, off = append(parts, p), append(off, q)
		}
		m.sides[s] = joined(parts)
		if m.sides[s].deleted {
			m.off[s] = joined(off)
		}
	}
	if err := m.agree(); err != nil {
		return nil, err
	}
	return m.merge()
}

// Names of the sides, for marks and messages.
var sideNames = [2]string{"face", "back"}

// merger is one merge under way.
type merger struct {
	o     Options
	sides [2]*program
	off   [2]*program // read with the block delete switch on, where that matters
	named groups      // what either program names
	notes []Note
}

// step is one call of a tool: the pieces of each side that are cut with it.
type step struct {
	tool   int
	pieces [2][]*piece
}

// merge orders the pieces, writes the programs and proves them.
func (m *merger) merge() (*Result, error) {
	runs := [2][]step{m.sides[0].runs(0), m.sides[1].runs(1)}
	steady := append(append([]step{}, runs[0]...), runs[1]...)
	if m.o.Order == ByTools {
		steady = mergeRuns(runs[0], runs[1])
	}
	steady = joinEqual(steady)
	r := &Result{}
	var programs [3]*carriage
	for i, w := range []struct {
		to    *Program
		steps []step
	}{{&r.First, runs[0]}, {&r.Steady, steady}, {&r.Last, runs[1]}} {
		comment := m.o.Comments[i]
		if comment == "" {
			comment = m.o.Comment
		}
		p, err := m.write(w.steps, comment)
		if err != nil {
			return nil, err
		}
		if w.to.Summary, err = m.prove(p.text.Bytes(), w.steps); err != nil {
			return nil, err
		}
		if programs[i], err = m.carry(p, i); err != nil {
			return nil, err
		}
		w.to.Seconds = w.to.Summary.Seconds + programs[i].seconds
		w.to.Text, w.to.Changes, w.to.Restarts = p.text.Bytes(), len(w.steps), p.restarts
		w.to.Ends = p.sections[len(p.sections)-1].station.Offset
		for _, s := range w.steps {
			w.to.Tools = append(w.to.Tools, s.tool)
		}
	}
	if m.o.Ways {
		r.Ways = m.ways(programs)
	}
	for i, src := range []Source{m.o.Face, m.o.Back} {
		s, err := src.seconds(&m.o)
		if err != nil {
			return nil, err
		}
		*[]*float64{&r.FaceSeconds, &r.BackSeconds}[i] = s
	}
	r.Notes = once(m.notes)
	return r, nil
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
