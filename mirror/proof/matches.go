package proof

import (
	"bytes"
	"fmt"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Wanted is one move that a program of our own shall make.
type Wanted struct {
	Kind    motion.Kind
	Machine bool           // To is in machine coordinates
	Home    bool           // it goes home, and To says nothing
	To      motion.Point   // where it ends
	Named   [3]bool        // the axes of To that count: the others stay where they are,
	Loose   [3]bool        // but for these, which go to a place that isn't known, as after G53
	Unit    transform.Unit // of To
	Rounded bool           // To's Z may be passed upwards by a step of 0.0001 in
	Arc     *Arc           // of an arc
	Stored  int            // of a Store: the offset
	Cycle   int            // of a canned cycle's move, as in motion.Move
	// State is what is set while it runs: what moves it, so without the offset, which the
	// leg says. nil asks for compensation to be off and for nothing else.
	State *motion.State
}

// Arc is how an arc runs to its end.
type Arc struct {
	Turns    int
	ByRadius bool
	Radius   motion.Num
	Centre   [2]motion.Num
}

// Leg is a row of moves in one work offset.
type Leg struct {
	Name   string // for messages, such as "face.nc from line 12 on"; "" for none
	Offset int    // as in motion.State; 0 where the program selects none
	Moves  []Wanted
}

// Program is what a program of our own shall do.
type Program struct {
	Read    motion.Options // how the control reads it
	Legs    []Leg
	Changes int // tool changes by M6
	// Running is what may run as the program begins, so that it is to be switched off
	// before the first tool change: the spindle, the coolant.
	Running [2]bool
}

// step is 0.0001 in, in mm: to which a height in inches is written.
var step = motion.FromNano(2_540_000)

// WantedOf is the move that m is.
func WantedOf(m *motion.Move) Wanted {
	w := Wanted{Kind: m.Kind, Machine: m.Machine, Home: m.Home, To: m.To, Named: m.ToOK, Unit: m.State.Unit, Stored: m.Stored, Cycle: m.Cycle}
	for a := range 3 {
		w.Loose[a] = !m.Home && !m.Machine && !m.ToOK[a] && (m.FromOK[a] || !m.From[a].Equal(m.To[a]))
	}
	if m.Circular() {
		w.Arc = &Arc{Turns: m.Turns, ByRadius: m.ByRadius, Radius: m.Radius, Centre: m.Centre}
	}
	return w
}

// Matches interprets a program that we have written and says whether it does what is
// wanted: each move of each leg, once and in order, and no other. A move that moves
// nothing counts on neither side. Tools are changed, and the program ends, with spindle
// and coolant off. What was written, and how, has no part in it. The error is a
// *fault.Error, with No set where the program does something else.
func Matches(text []byte, p Program) (*motion.Summary, error) {
	m := &matcher{p: p}
	if err := m.switches(text); err != nil {
		return nil, err
	}
	summary, err := motion.Walk(bytes.NewReader(text), p.Read, m.move)
	if err != nil {
		return nil, err
	}
	m.skip(&m.last)
	if w := m.next(); w != nil {
		return nil, m.no(0, "the program's end", m.inLeg(w.words()))
	}
	return summary, nil
}

// matcher follows a program beside what is wanted.
type matcher struct {
	p    Program
	at   int         // the leg at hand
	done int         // of its moves
	last motion.Move // of the program, turned round: it begins where the last one ended
}

func (m *matcher) no(line int, found, expected string) error {
	return &fault.Error{File: m.p.Read.Name, Line: line, Found: found, Expected: expected,
		Hint: "this is a defect of flipcalc, nothing was written", No: true}
}

// leg is the leg at hand, the last one where all are done.
func (m *matcher) leg() *Leg { return &m.p.Legs[min(m.at, len(m.p.Legs)-1)] }

// inLeg says of what leg something is.
func (m *matcher) inLeg(expected string) string {
	if name := m.leg().Name; name != "" {
		expected += " (" + name + ")"
	}
	return expected
}

// next is the move that is wanted next, nil after the last.
func (m *matcher) next() *Wanted {
	for m.at < len(m.p.Legs) && m.done == len(m.p.Legs[m.at].Moves) {
		m.at, m.done = m.at+1, 0
	}
	if m.at == len(m.p.Legs) {
		return nil
	}
	return &m.p.Legs[m.at].Moves[m.done]
}

// skip passes over what is wanted and moves nothing from where v begins.
func (m *matcher) skip(v *motion.Move) {
	for w := m.next(); w != nil && w.Kind <= motion.Feed && !w.Machine && !w.Home && w.Loose == [3]bool{}; w = m.next() {
		if v.State.Offset != m.leg().Offset || v.State.Unit != w.Unit {
			return
		}
		for a, named := range w.Named {
			if named && !(v.FromOK[a] && v.From[a].Equal(w.To[a])) {
				return
			}
		}
		m.done++
	}
}

// still says that a move moves nothing.
func still(v *motion.Move) bool {
	return v.Kind <= motion.Feed && !v.Machine && !v.Home && v.FromOK == v.ToOK && v.From.Equal(v.To)
}

// move compares one move.
func (m *matcher) move(v *motion.Move) error {
	if still(v) {
		// One that is wanted is passed over with it: behind it Z may be lost (G49).
		if w := m.next(); w != nil && w.is(v) && v.State.Offset == m.leg().Offset {
			m.done++
		}
		return nil
	}
	m.skip(v)
	w := m.next()
	if w == nil {
		return m.no(v.Line, describeMove(v)+" after the last wanted one", "none")
	}
	if found, expected := w.sets(v); found != expected {
		return m.no(v.Line, found, m.inLeg(expected))
	}
	if !w.is(v) {
		return m.no(v.Line, describeMove(v), m.inLeg(w.words()))
	}
	if !v.Machine && !v.Home && v.State.Offset != m.leg().Offset {
		return m.no(v.Line, "a move in "+offsetName(v.State.Offset), m.inLeg(offsetName(m.leg().Offset)))
	}
	m.done++
	m.last = motion.Move{State: v.State, From: v.To, FromOK: v.ToOK}
	return nil
}

func offsetName(code int) string {
	if code == 0 {
		return "no offset"
	}
	return transform.OffsetName(code)
}

// is compares where a move goes, and how.
func (w *Wanted) is(v *motion.Move) bool {
	if v.Kind != w.Kind || v.Machine != w.Machine || v.Home != w.Home || v.Stored != w.Stored || v.Cycle != w.Cycle {
		return false
	}
	for a, named := range w.Named {
		switch {
		case w.Home:
		case w.Loose[a]:
			if v.ToOK[a] {
				return false
			}
		case named && !(v.ToOK[a] && w.ends(v, a)):
			return false
		case !named && w.Machine && v.ToOK[a]:
			return false
		case !named && !w.Machine && !(v.FromOK[a] == v.ToOK[a] && v.From[a].Equal(v.To[a])):
			return false
		}
	}
	return w.Arc == nil || v.Turns == w.Arc.Turns && v.ByRadius == w.Arc.ByRadius &&
		(w.Arc.ByRadius && v.Radius.Equal(w.Arc.Radius) || !w.Arc.ByRadius && v.Centre[0].Equal(w.Arc.Centre[0]) && v.Centre[1].Equal(w.Arc.Centre[1]))
}

// ends compares where a move ends along one axis.
func (w *Wanted) ends(v *motion.Move, axis int) bool {
	over := v.To[axis].In(v.State.Unit, transform.MM).Sub(w.To[axis].In(w.Unit, transform.MM))
	return over.IsZero() || w.Rounded && axis == 2 && over.Sign() > 0 && over.Cmp(step) <= 0
}

// sets compares what is set while a move runs, where it bears on it: a length where Z is
// counted by it, a speed where the spindle turns, a feed at which it goes.
func (w *Wanted) sets(v *motion.Move) (found, expected string) {
	if w.State == nil {
		return fmt.Sprintf("a move under G%d", v.State.Comp), "a move under G40"
	}
	s, t := *w.State, v.State
	t.Offset = s.Offset
	if v.Machine || !v.ToOK[2] {
		t.Length = s.Length
	}
	if s.Spindle == 0 {
		t.Speed = s.Speed
	}
	if v.Kind == motion.Rapid {
		t.Feed = s.Feed
	}
	if s.Comp == 40 {
		t.D, t.CompBy = s.D, s.CompBy
	}
	if s.Path == 0 {
		t.Path = 0
	}
	if s.Agrees(&t) {
		return "", ""
	}
	return stateDiffers(&s, &t)
}

// words writes what is wanted.
func (w *Wanted) words() string {
	v := motion.Move{Kind: w.Kind, Machine: w.Machine, Home: w.Home, To: w.To, ToOK: w.Named, Turns: 1, Stored: w.Stored}
	if w.State != nil {
		v.State = *w.State
	}
	if w.Arc != nil {
		v.Turns, v.ByRadius, v.Radius, v.Centre = w.Arc.Turns, w.Arc.ByRadius, w.Arc.Radius, w.Arc.Centre
	}
	return describe(&v, w.Named, false)
}

// switches looks at what no move shows: which way a tool length counts; spindle and coolant are off where a tool is
// changed and at the end, by blocks that always run; tools are changed as often as they
// are to be, and the program ends once.
func (m *matcher) switches(text []byte) error {
	on, changes, ends := m.p.Running, 0, 0
	var b motion.Block
	b.File = m.p.Read.Name
	at := 0
	for line := range bytes.Lines(text) {
		at++
		if err := b.Read(line, at); err != nil {
			return err
		}
		for _, word := range b.Words {
			n, whole := word.Value.Int()
			if word.Letter == 'G' && whole && n == 44 {
				return m.no(at, "G44 (a tool length counted the other way)", "G43")
			}
			if word.Letter != 'M' || !whole {
				continue
			}
			switch n {
			case 3, 4:
				on[0] = true
			case 7, 8:
				on[1] = true
			case 5:
				on[0] = on[0] && b.Deleted
			case 9:
				on[1] = on[1] && b.Deleted
			case 6:
				changes++
			case 2, 30:
				ends++
			}
			if (n == 6 || n == 2 || n == 30) && (on[0] || on[1]) {
				return m.no(at, fmt.Sprintf("M%d with spindle or coolant on", n), "M5 and M9 before it")
			}
		}
	}
	if changes != m.p.Changes || ends != 1 {
		return m.no(0, fmt.Sprintf("%d M6 and %d ends", changes, ends), fmt.Sprintf("%d and 1", m.p.Changes))
	}
	return nil
}
