package cycle

import (
	"bytes"
	"math"
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

// spot is a place in machine coordinates, mm; each axis may be unknown.
type spot struct {
	at motion.Point
	ok [3]bool
}

func spotOf(u transform.Unit, place ...*decimal.Decimal) (s spot) {
	for a, v := range place {
		if v != nil {
			s.at[a], s.ok[a] = motion.FromDecimal(*v).In(u, transform.MM), true
		}
	}
	return s
}

func (p *Place) spot() spot { return spotOf(p.Unit, &p.X, &p.Y) }

// over says that two spots lie over each other, as far as X and Y are known.
func (s spot) over(t spot) bool {
	return s.ok[0] == t.ok[0] && s.ok[1] == t.ok[1] && s.at[0].Equal(t.at[0]) && s.at[1].Equal(t.at[1])
}

func (s spot) known() bool { return s.ok[0] && s.ok[1] }

// crossing is a way before it is known where its program begins.
type crossing struct {
	Way
	from, to spot
}

// carriage follows the tool of one program in machine coordinates, which the control
// alone can't tell: the ways across the bed, and the time of the moves between two offsets,
// to the clear height and down from it. With tool lengths from G43 the heights are off by
// the difference of two tools, which a time may be.
type carriage struct {
	m       *merger
	w       *draft
	program int
	zeros   map[int]spot // by offset
	section int

	at      spot       // of the ways, which lead to tool changes too
	changes []int      // lines that call a tool which are still ahead
	away    bool       // a piece has left its station
	ways    []crossing // each from where the one before it ends

	spindle spot // of the moves alone
	rates   motion.Rates
	seconds float64 // of the moves that the control can't measure
}

// carry follows a program.
func (m *merger) carry(w *draft, program int) (*carriage, error) {
	k := &carriage{m: m, w: w, program: program, zeros: map[int]spot{}, changes: w.changes, rates: motion.DefaultRates}
	if m.o.Rates != nil {
		k.rates = *m.o.Rates
	}
	for _, p := range m.o.Pairs {
		for _, s := range []Station{p.Face, p.Back} {
			k.zeros[transform.OffsetCode(s.Offset)] = spotOf(m.o.Unit, s.ZeroX, s.ZeroY, s.ZeroZ)
		}
	}
	_, err := motion.Walk(bytes.NewReader(w.text.Bytes()), motion.Options{AbsoluteCentres: m.centresAssumed(), Inert: m.inert(), ArcTolerance: m.o.ArcTolerance}, k.move)
	return k, err
}

// ways gives every way of the three programs, each from wherever it may begin: where
// the one before it left the tool, or over the station that was touched off last.
func (m *merger) ways(programs [3]*carriage) (out []Way) {
	for i, k := range programs {
		var starts []spot
		add := func(s spot) {
			if !slices.ContainsFunc(starts, s.over) {
				starts = append(starts, s)
			}
		}
		for _, before := range [3][]int{{2}, {0, 1}, {0, 1}}[i] {
			add(programs[before].at)
		}
		if i == 0 {
			for _, p := range m.o.Pairs {
				starts = append(starts, k.zeros[transform.OffsetCode(p.Face.Offset)], k.zeros[transform.OffsetCode(p.Back.Offset)])
			}
		}
		for j, c := range k.ways {
			froms := starts
			if j > 0 {
				froms = []spot{c.from}
			}
			for _, from := range froms {
				if from.known() && from.over(c.to) {
					continue
				}
				way := c.Way
				if way.Known = from.known() && c.to.known(); way.Known {
					for a := range 2 {
						way.From[a], _ = from.at[a].Decimal()
						way.At[a], _ = c.to.at[a].Decimal()
					}
				}
				out = append(out, way)
			}
		}
	}
	return out
}

// reach takes the tool across the bed.
func (k *carriage) reach(to spot, line int, name string, clear bool) {
	k.ways = append(k.ways, crossing{Way: Way{Program: k.program, Line: line, To: name, Clear: clear}, from: k.at, to: to})
	k.at = to
}

// end is where a move ends that begins at a spot. A place that isn't known stays unknown
// until it is given.
func (k *carriage) end(m *motion.Move, from spot) spot {
	to, zero := from, spot{ok: [3]bool{true, true, true}}
	if !m.Machine {
		zero = k.zeros[m.State.Offset]
	}
	for a := range 3 {
		if m.ToOK[a] {
			to.at[a], to.ok[a] = m.To[a].In(m.State.Unit, transform.MM).Add(zero.at[a]), zero.ok[a]
		}
	}
	return to
}

// move follows one move.
func (k *carriage) move(m *motion.Move) error {
	k.time(m)
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
	to := k.end(m, k.at)
	switch {
	case m.Home:
		if !m.Sent[0] && !m.Sent[1] { // named axes go home, all where none is (common practice; NISTIR 6556, 3.5.8, takes all)
			return nil
		}
		to, name = spot{}, ToHome
		if h := k.m.o.Home; h != nil {
			to = h.spot()
		}
	case !m.Machine && body:
		// Its first move over the station is no way, unless it went away.
		if k.away {
			k.away = false
			k.reach(to, m.Line, name, false)
		}
		k.at = to
		return nil
	case !m.ToOK[0] && !m.ToOK[1]:
		return nil
	case m.Machine && body:
		name = ToPlace
	case m.Machine:
		name = ToPark
	}
	k.away = body
	k.reach(to, m.Line, name, !body)
	return nil
}

// time adds what a move takes whose length the control alone can't tell.
func (k *carriage) time(m *motion.Move) {
	from, to := k.spindle, k.end(m, k.spindle)
	if m.Home {
		to.ok = [3]bool{}
	}
	k.spindle = to
	if _, measured := m.Length(); measured || m.Kind != motion.Rapid {
		return
	}
	var d [3]float64
	l := 0.0
	for a := range 3 {
		if to.ok[a] && from.ok[a] {
			d[a] = to.at[a].Sub(from.at[a]).Float()
			l += d[a] * d[a]
		} else if m.Home || m.ToOK[a] {
			return // it goes somewhere
		}
	}
	if l == 0 {
		return
	}
	l = math.Sqrt(l)
	for a := range d {
		d[a] /= l
	}
	v, acc := k.rates.Along(d)
	k.seconds += motion.Ramp(l, v, acc)
}
