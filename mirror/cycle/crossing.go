package cycle

import (
	"bytes"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Way is a move across the bed, in machine X and Y, mm: from one station to another, to
// where the tool is changed, to where it stands aside. Moves of a piece in its station's
// own offset are none.
type Way struct {
	Program  int // 0 for the first, 1 for the steady, 2 for the last program
	Line     int // of that program
	To       string
	From, At [2]decimal.Decimal
	// Known says that both ends are. Without zeros in X and Y, or with G28 and no home
	// given, they aren't.
	Known bool
	// Clear says that the tool is at the clear height. It isn't where a piece itself
	// moves in machine coordinates or goes home.
	Clear bool
}

// Where a way leads, if not to an offset.
const (
	ToChange = "the tool change"
	ToPark   = "the place to park"
	ToHome   = "home"
	ToPlace  = "a place in machine coordinates"
)

// spot is a place in machine X and Y, mm; each axis may be unknown.
type spot struct {
	at [2]motion.Num
	ok [2]bool
}

// walker follows one written program across the bed.
type walker struct {
	m       *merger
	w       *draft
	program int
	zeros   map[int]spot // by offset
	at      spot
	starts  []spot // where the tool may stand as the program begins
	section int
	changes []int // lines that call a tool which are still ahead
	lines   [][]byte
	away    bool // a piece has left its station
	ways    []Way
}

// ways gives every way of the three programs, each from wherever it may begin: where
// the one before it left the tool, or over the station that was touched off last.
func (m *merger) ways(programs [3]*draft) ([]Way, error) {
	zeros := map[int]spot{}
	var touched []spot
	for _, p := range m.o.Pairs {
		for _, s := range []Station{p.Face, p.Back} {
			z := spotOf(s.ZeroX, s.ZeroY, m.o.Unit)
			zeros[transform.OffsetCode(s.Offset)] = z
			touched = append(touched, z)
		}
	}
	var out []Way
	var ends [3]spot
	for i, w := range programs {
		k := &walker{m: m, w: w, program: i, zeros: zeros}
		if err := k.follow(); err != nil {
			return nil, err
		}
		ends[i] = k.at
	}
	for i, w := range programs {
		k := &walker{m: m, w: w, program: i, zeros: zeros}
		before := [3][]int{{2}, {0, 1}, {0, 1}}[i]
		for _, b := range before {
			if s := ends[b]; !slices.ContainsFunc(k.starts, s.equal) {
				k.starts = append(k.starts, s)
			}
		}
		if i == 0 {
			k.starts = append(k.starts, touched...)
		}
		if err := k.follow(); err != nil {
			return nil, err
		}
		out = append(out, k.ways...)
	}
	return out, nil
}

func spotOf(x, y *decimal.Decimal, u transform.Unit) (s spot) {
	for a, v := range []*decimal.Decimal{x, y} {
		if v != nil {
			s.at[a], s.ok[a] = motion.FromDecimal(*v).In(u, transform.MM), true
		}
	}
	return s
}

func (p *Place) spot() spot { return spotOf(&p.X, &p.Y, p.Unit) }

func (s spot) known() bool { return s.ok[0] && s.ok[1] }
func (s spot) equal(t spot) bool {
	return s.ok == t.ok && s.at[0].Equal(t.at[0]) && s.at[1].Equal(t.at[1])
}

// follow walks through the program.
func (k *walker) follow() error {
	k.changes = slices.Clone(k.w.changes)
	k.lines = bytes.Split(k.w.text.Bytes(), []byte("\n"))
	_, err := motion.Walk(bytes.NewReader(k.w.text.Bytes()), motion.Options{AbsoluteCentres: k.m.centresAssumed(), Inert: k.m.inert(), ArcTolerance: k.m.o.ArcTolerance}, k.move)
	return err
}

// reach takes the tool to a place, from wherever it may stand.
func (k *walker) reach(to spot, line int, name string, clear bool) {
	from := []spot{k.at}
	if len(k.starts) > 0 {
		from, k.starts = k.starts, nil
	}
	k.at = to
	for _, f := range from {
		if f.known() && f.equal(to) {
			continue
		}
		w := Way{Program: k.program, Line: line, To: name, Clear: clear, Known: f.known() && to.known()}
		for a := range 2 {
			if w.Known {
				w.From[a], _ = f.at[a].Decimal()
				w.At[a], _ = to.at[a].Decimal()
			}
		}
		k.ways = append(k.ways, w)
	}
}

// move follows one move.
func (k *walker) move(m *motion.Move) error {
	for len(k.changes) > 0 && k.changes[0] < m.Line {
		if c := k.m.o.Change; c != nil {
			k.reach(c.spot(), k.changes[0], ToChange, true)
		}
		k.changes = k.changes[1:]
	}
	for k.section < len(k.w.sections) && m.Line > k.w.sections[k.section].to {
		k.section++
	}
	var body bool
	var name string
	if k.section < len(k.w.sections) {
		s := &k.w.sections[k.section]
		body, name = s.body, s.station.Offset
	}
	to := k.at
	switch {
	case m.Home:
		if !k.homesXY(m.Line) {
			return nil
		}
		to, name = spot{}, ToHome
		if h := k.m.o.Home; h != nil {
			to = h.spot()
		}
	case m.Machine:
		if !m.ToOK[0] && !m.ToOK[1] {
			return nil
		}
		for a := range 2 {
			if m.ToOK[a] {
				to.at[a], to.ok[a] = m.To[a].In(m.State.Unit, transform.MM), true
			}
		}
		if name = ToPlace; !body {
			name = ToPark
		}
	default:
		zero := k.zeros[m.State.Offset]
		for a := range 2 {
			if m.ToOK[a] {
				to.at[a], to.ok[a] = m.To[a].In(m.State.Unit, transform.MM).Add(zero.at[a]), zero.ok[a]
			}
		}
		if body {
			// Its first move over the station is none of these, unless it went away.
			if k.away {
				k.away = false
				k.reach(to, m.Line, name, false)
			}
			k.at = to
			return nil
		}
		if !m.ToOK[0] && !m.ToOK[1] {
			return nil
		}
	}
	k.away = body
	k.reach(to, m.Line, name, !body)
	return nil
}

// homesXY says whether a G28 or G30 takes X or Y home: axes that are named do, and all
// where none is (common practice; NISTIR 6556, 3.5.8, takes all).
func (k *walker) homesXY(line int) bool {
	var b motion.Block
	if line > len(k.lines) || b.Read(bytes.TrimSuffix(k.lines[line-1], []byte("\r")), line) != nil {
		return true
	}
	z := false
	for _, w := range b.Words {
		switch w.Letter {
		case 'X', 'Y':
			return true
		case 'Z':
			z = true
		}
	}
	return !z
}
