package motion

import "io"

// Stint is what one tool cuts between two tool changes.
type Stint struct {
	Tool     int  // -1 where no T word came before
	Line     int  // of the tool change, or of the first move where there is none
	Length   bool // the tool's own length (G43 with H over 0) is in force at its first cut
	Stop     int  // line of the M0 or M1 at which the tool, once in the spindle, waits before it first moves in Z; 0 if none
	Optional bool // that stop is M1
}

// Stints interprets a program for which tools cut, one after the other, and whether the
// length of each is called once it is in the spindle: a length that was called for the
// tool before it doesn't count. A stop in a deleted block or in a called subprogram
// isn't seen. Errors are those of Walk.
func Stints(r io.Reader, o Options) ([]Stint, error) {
	s := stinter{}
	w := walker{lines: NewLines(r, o.Name), m: NewMachine(o), s: newSummary(o), visit: s.move, block: s.block, name: o.Name}
	w.b.File = o.Name
	if err := w.run(); err != nil {
		return nil, err
	}
	return s.out, nil
}

// stinter finds stints.
type stinter struct {
	out     []Stint
	now     Stint // of the tool in the spindle; in out once it has cut
	begun   bool
	cut     bool
	lowered bool // it has moved in Z
	named   bool // a length was called since the change
	changes bool // the program has M6
	pending Stint
}

// block looks for what moves don't carry: changes, lengths and stops.
func (s *stinter) block(b *Block) {
	for i := range b.Words {
		w := &b.Words[i]
		n, ok := w.Value.Int()
		if w.Letter == 'M' && ok && n == 6 {
			s.changes = true
			s.pending, s.named = Stint{Line: b.Line}, false
		}
		if w.Letter == 'T' && !s.changes {
			s.pending, s.named = Stint{Line: b.Line}, false
		}
	}
	for i := range b.Words {
		w := &b.Words[i]
		n, ok := w.Value.Int()
		switch {
		case !ok || b.Deleted:
		case w.Letter == 'G' && n == 43, w.Letter == 'H':
			s.named = true
		case w.Letter == 'M' && (n == 0 || n == 1 && s.pending.Stop == 0):
			s.pending.Stop, s.pending.Optional = b.Line, n == 1
		}
	}
}

func (s *stinter) move(m *Move) error {
	if !s.begun || m.State.Tool != s.now.Tool {
		first := !s.begun
		s.now = Stint{Tool: m.State.Tool, Line: s.pending.Line}
		if s.now.Line == 0 {
			s.now.Line = m.Line
		}
		s.begun, s.cut, s.lowered = true, false, false
		s.named = s.named || first
	}
	if m.Machine || m.Home {
		return nil
	}
	if !s.lowered && (!m.FromOK[2] || !m.ToOK[2] || !m.From[2].Equal(m.To[2])) {
		s.lowered = true
		s.now.Stop, s.now.Optional = s.pending.Stop, s.pending.Optional
	}
	if m.Kind != Rapid && !s.cut {
		s.cut = true
		s.now.Length = m.State.Length > 0 && s.named
		s.out = append(s.out, s.now)
	}
	return nil
}
