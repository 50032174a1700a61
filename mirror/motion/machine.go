package motion

import (
	"cmp"
	"fmt"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// Place says what is known of an axis' position.
type Place uint8

// What is known of an axis' position.
const (
	Known Place = iota // its coordinate in the active work offset
	Free               // unknown, but the same wherever the maker puts the tool first: the start
	Lost               // unknown, and tied to the machine: after G28, G30, G53 or another work offset
)

// Options say what a program leaves to the control.
type Options struct {
	Name            string         // the file's name in messages
	Unit            transform.Unit // until G20 or G21
	AbsoluteCentres bool           // until G90.1 or G91.1
	SkipDeleted     bool           // the block delete switch is on
	Extended        bool           // G54.1 P and G54 P may be called; else they are refused
	Stores          bool           // G10 L2 P is followed, as a Store; else it is refused
	Inert           []int          // M codes that move no axis, as the maker says
	ArcTolerance    Num            // largest radius mismatch in mm; 0 means 0.05
	Rates           *Rates         // the machine's; nil means DefaultRates
	Surface         Num            // Z of the top of the work in mm, below which rapids are counted
	Farthest        Num            // from zero in mm, of what Walk follows; 0 means 100 m
	Blocks          int            // the most that Run runs; 0 means 10 million
	Lengths         map[int]Num    // tool lengths by H in the program's unit, where they are known
}

// defaultArcTolerance is in mm.
var defaultArcTolerance = FromNano(50_000_000)

// maxMoves is the most moves that one block may make: repeats times pecks.
const maxMoves = 10_000

// Machine is a control that interprets blocks without a table or a spindle.
type Machine struct {
	o     Options
	state State

	Absolute        bool // G90
	AbsoluteCentres bool // G90.1
	returnToR       bool // G99
	motion          int  // code of the motion mode; -1 before the first

	pos     Point // where Known the coordinate, else a count from an unknown place
	place   [3]Place
	begun   [3]bool // the axis has its first position since the start: given, lost or preset
	shift   Point   // G92: coordinate + shift = coordinate without G92
	shiftAt [3]Place
	stored  Point // what G92.3 brings back, where kept
	kept    bool
	storeAt [3]Place
	local   Point // G52
	turn    Turn  // G68
	scaling Scaling
	polar   Polar
	frame   *Frame // of G52, G68 and G92 together; nil where none is on
	zeros   int    // how often G92 set a zero where the place wasn't known, or G92.3 brought one back
	tangent [2]Num // from the end of a G5 block to the point that goes on straight
	smooth  bool   // tangent is there

	selected int // T
	loaded   int // T at the last M6
	changed  bool
	swapped  [3]bool // M6 was run since the axis was given in G90
	ended    bool    // M2 or M30 was run
	started  bool    // M3 or M4 was run

	r, depth, peck Num // sticky words of the running cycle; Q's stickiness is common practice
	rSet, depthSet bool
	rAbs, depthAbs bool // they were given in G90
	under          int  // the motion mode before the running cycle or G80; -1 before the first
	bare           int  // line of the running cycle's code, where no axis word stood beside it
	moved          bool
	begunProgram   bool   // a block with words was run
	feedHere       bool   // the block has an F word
	offsetHere     int    // the extended offset that the block calls, 0 for none
	said           uint32 // modal groups that the program has set, bit of group
	assumed        []string
	needs          []StartNeed
	block          *Block
	at             [26]int16 // index of each letter's word in the block, -1 if none
	g              [groups]int16
	gAt            [groups]int16
	moves          []Move
	effect         Effect
	arcTol         [2]Num // per unit
	warnTol        [2]Num
	mismatches     int
	firstMismatch  int
	worstMismatch  float64 // mm
	lengthNow      Num     // of the tool, where Options.Lengths has it
}

// Effect is what a block did besides its moves.
type Effect struct {
	Coordinates uint32  // bit letter-'A' for each word that was taken as a coordinate
	Preset      int     // 920, 520, 510 or 680 for a block with G92, G52, G51 or G68
	Unset       int     // 921, 922 or 923 for a block that ends G92 or brings it back
	Named       [3]bool // the axes that it names
	Renamed     [3]bool // those of them whose place G92 didn't know: their zero is a new one
	Values      Point
	Angle       Num   // of G68
	Rotary      byte  // the first of A, B and C, 0 if none
	Call        int64 // the subprogram that M98 names, else 0
	Repeats     int64
	Cycle       bool     // a canned cycle was run
	NoLevel     bool     // without an R word since it began
	Level       Num      // its R word, as written or as kept
	Reached     Num      // of a cycle, in G90: its R
	Depth, Peck Num      // of a cycle, in G90: where it drills to; its Q
	Levelled    bool     // Reached and Depth are known
	Carried     error    // its R or depth was given in the other distance mode, whose meaning controls differ on
	Aside       [2]Num   // of G87: how far it moves from the hole along the plane's axes
	Top         Num      // of G87, in G90: where it ends
	Holes       []int    // the first move of each hole; valid until the next block
	Return      bool     // M99
	ReturnTo    int64    // the block number behind it, else 0
	word        int16    // of the call
	Was         [3]Place // what was known of the axes before the block's motion
	Begun       [3]bool  // which of them had had a place before it, not the start's
}

// StartNeed is one way in which a program relies on where the tool stands when it
// starts.
type StartNeed struct {
	Axis   int // 0 X, 1 Y, 2 Z
	Line   int
	Preset bool // the program calls that place Value by G92
	Value  Num
}

// NewMachine gives a control as it stands at the start of a program: G17, G90, G94,
// and nothing known of the tool's place.
func NewMachine(o Options) *Machine {
	if o.ArcTolerance.IsZero() {
		o.ArcTolerance = defaultArcTolerance
	}
	m := &Machine{o: o, Absolute: true, AbsoluteCentres: o.AbsoluteCentres, motion: -1, under: -1, selected: -1, loaded: -1}
	m.state = State{Unit: o.Unit, Tool: -1, Length: -1, FeedMode: 94, Comp: 40}
	m.place = [3]Place{Free, Free, Free}
	m.arcTol = [2]Num{o.ArcTolerance, o.ArcTolerance.Quo(Inch)}
	// NISTIR 6556, 3.5.3.2: radii that differ by more are an error there.
	m.warnTol = [2]Num{{v: 2_000_000}, {v: 200_000}}
	return m
}

// State gives what is set now.
func (m *Machine) State() State { return m.state }

// Unit gives the unit in force.
func (m *Machine) Unit() transform.Unit { return m.state.Unit }

// Motion gives the motion mode's code times ten, -1 before the first.
func (m *Machine) Motion() int { return m.motion }

// Place gives an axis' position and what is known of it. Where it isn't Known the
// number counts from an unknown place.
func (m *Machine) Place(axis int) (Num, Place) { return m.pos[axis], m.place[axis] }

// Effect gives what the last block did besides its moves.
func (m *Machine) Effect() *Effect { return &m.effect }

// fault makes an error at a word of the block, or at its beginning.
func (m *Machine) fault(word int16, found, expected, hint string) *fault.Error {
	i := 0
	if word >= 0 && int(word) < len(m.block.Words) {
		i = m.block.Words[word].Start
	}
	return m.block.fault(i, found, expected, hint)
}

// word gives the index of a letter's word, -1 if the block has none.
func (m *Machine) word(letter byte) int16 { return m.at[letter-'A'] }

// has reports whether the block has a word of that letter.
func (m *Machine) has(letter byte) bool { return m.at[letter-'A'] >= 0 }

// value gives the number of a letter's word, which must be there.
func (m *Machine) value(letter byte) Num { return m.block.Words[m.at[letter-'A']].Value }

// take marks a letter's word as used up, as a coordinate or not.
func (m *Machine) take(letter byte, coordinate bool) {
	if coordinate && m.has(letter) {
		m.effect.Coordinates |= 1 << (letter - 'A')
	}
	m.at[letter-'A'] = -1
}

// assume notes once that the program left something to the control.
func (m *Machine) assume(g group, code string) {
	if m.said&(1<<g) == 0 {
		m.said |= 1 << g
		m.assumed = append(m.assumed, code)
	}
}

var axisLetters = [3]byte{'X', 'Y', 'Z'}
var centreLetters = [3]byte{'I', 'J', 'K'}

// axisWords reports whether any of X, Y, Z is still to be used.
func (m *Machine) axisWords() bool { return m.has('X') || m.has('Y') || m.has('Z') }

// Do runs one block in the order of NISTIR 6556, table 8. The moves stay valid
// until the next call. An error is a *fault.Error, and the machine is then not to
// be used further.
func (m *Machine) Do(b *Block) ([]Move, error) {
	m.block = b
	m.moves = m.moves[:0]
	m.effect = Effect{Holes: m.effect.Holes[:0]}
	m.feedHere = false
	if b.Tape || b.Deleted && m.o.SkipDeleted {
		return nil, nil
	}
	if !b.worked && len(b.sums)+len(b.settings) > 0 {
		return nil, b.symbol()
	}
	if len(b.Words) == 0 {
		return nil, nil
	}
	if err := m.gather(); err != nil {
		return nil, err
	}
	if err := m.settings(); err != nil {
		return nil, err
	}
	m.begunProgram = true
	if err := m.callWords(); err != nil {
		return nil, err
	}
	m.effect.Was, m.effect.Begun = m.place, m.begun
	if err := m.act(); err != nil {
		return nil, err
	}
	return m.moves, m.finish()
}

// farthest is the largest number that a word may have, so that lengths and times
// stay finite.
var farthest = FromInt(1_000_000_000).Times(1_000_000_000).Times(1_000_000_000_000)

// noLetters and noCodes are what a block without words has of them.
var noLetters, noCodes = func() (letters [26]int16, codes [groups]int16) {
	for i := range letters {
		letters[i] = -1
	}
	for i := range codes {
		codes[i] = -1
	}
	return letters, codes
}()

// gather sorts the block's words.
func (m *Machine) gather() error {
	m.at, m.g, m.gAt = noLetters, noCodes, noCodes
	for i := range m.block.Words {
		w := &m.block.Words[i]
		if w.Value.r != nil && (w.Value.Cmp(farthest) > 0 || w.Value.Neg().Cmp(farthest) > 0) {
			return m.fault(int16(i), fmt.Sprintf("%c with a number beyond 1e30", w.Letter), "a number that a machine can use", "")
		}
		switch w.Letter {
		case 'G':
			if err := m.gatherG(int16(i), w); err != nil {
				return err
			}
		case 'M':
			if err := m.gatherM(int16(i), w); err != nil {
				return err
			}
		case 'O':
			// A program's number stands on a line of its own.
			if len(m.block.Words) > 1 || m.begunProgram {
				return m.fault(int16(i), "an O word inside the program", "subprograms behind the main program", "")
			}
		case 'U', 'E':
			// Beside G4 a time, beside G187 a tolerance.
			if beside := map[byte]int{'U': 40, 'E': 1870}[w.Letter]; m.at[w.Letter-'A'] >= 0 || !m.block.code(beside) {
				return m.fault(int16(i), fmt.Sprintf("the letter %c, which moves no X, Y or Z", w.Letter), "a letter of NISTIR 6556, table 3", "")
			}
			m.at[w.Letter-'A'] = int16(i)
		case 'V', 'W':
			return m.fault(int16(i), fmt.Sprintf("%c (a second axis beside X, Y or Z, or an increment on a lathe)", w.Letter), "X, Y and Z", "")
		default:
			if m.at[w.Letter-'A'] >= 0 {
				return m.fault(int16(i), fmt.Sprintf("a second %c word", w.Letter), "one of each letter in a block", "")
			}
			m.at[w.Letter-'A'] = int16(i)
		}
	}
	return m.settle()
}

// settle finds out what codes mean that depend on the words beside them.
func (m *Machine) settle() error {
	if m.g[aheadGroup] >= 0 {
		if !m.has('P') {
			found, hint := describe(80)
			return m.fault(m.gAt[aheadGroup], found, "", hint)
		}
		m.take('P', false)
	}
	for _, g := range [2]group{scaleGroup, mirrorGroup} {
		if c := m.g[g]; c >= 0 && (m.has('S') || m.has('P') || m.g[motionGroup] < 0 && (m.axisWords() || m.has('I') || m.has('J') || m.has('K'))) {
			found, hint := describe(int(c))
			return m.fault(m.gAt[g], found, "", hint)
		}
	}
	if c := m.g[unitGroup]; c == 700 || c == 710 {
		if err := m.oldUnit(c); err != nil {
			return err
		}
	}
	if err := m.extended(); err != nil {
		return err
	}
	if m.g[smoothGroup] >= 0 {
		m.take('P', false)
		m.take('E', false)
	}
	if c := m.g[motionGroup]; c == 50 || c == 51 {
		// G5 P alone and G5.1 Q alone switch look-ahead and move nothing.
		own, other := byte('P'), byte('Q')
		if c == 51 {
			own, other = other, own
		}
		if m.has(own) && !m.has(other) && !m.axisWords() && !m.has('I') && !m.has('J') && !m.has('K') && !m.has('R') {
			m.g[motionGroup] = -1
			m.take(own, false)
		}
	}
	return nil
}

// oldUnit takes G70 and G71, units of ISO 6983 and cycles on lathes: only where they
// change nothing, beside G and M words.
func (m *Machine) oldUnit(c int16) error {
	modal := true
	for _, w := range m.block.Words {
		modal = modal && (w.Letter == 'G' || w.Letter == 'M')
	}
	if !modal || transform.Unit((710-c)/10) != m.state.Unit {
		found, hint := describe(int(c))
		return m.fault(m.gAt[unitGroup], found, "", hint)
	}
	m.g[unitGroup] = c - 500
	return nil
}

// gatherG files a G word under its group.
func (m *Machine) gatherG(i int16, w *Word) error {
	code, ok := codeOf(w.Value)
	if !ok {
		return m.fault(i, fmt.Sprintf("G%s", w.Value), "a G number with one decimal at most", "")
	}
	g := groupOf(code)
	if code == 100 && m.o.Stores {
		g = actionGroup
	}
	if g == cancelGroup || code == 690 && !m.turn.On {
		return nil // it cancels what isn't in force
	}
	if g == none {
		found, hint := describe(code)
		return m.fault(i, found, "", hint)
	}
	return m.file(g, int16(code), i)
}

// codeOf gives a G number times ten. NISTIR 6556 takes a number within 0.0001 of it.
func codeOf(n Num) (code int, ok bool) {
	v, fits := n.Nano()
	if !fits || v < 0 || v > 1000*scale {
		return 0, false
	}
	const tenth, near = scale / 10, scale / 10_000
	code = int((v + near) / tenth)
	d := v - int64(code)*tenth
	return code, d <= near && d >= -near
}

// gatherM files an M word under its group.
func (m *Machine) gatherM(i int16, w *Word) error {
	code, ok := w.Value.Int()
	if !ok || code < 0 {
		return m.fault(i, fmt.Sprintf("M%s", w.Value), "a whole M number", "")
	}
	g := mGroupOf(code)
	if inert(code) || g == none && slices.Contains(m.o.Inert, int(code)) {
		return nil
	}
	if g == none {
		return m.fault(i, fmt.Sprintf("M%d, which isn't followed here", code), "M0 to M9, M30, M48, M49 or M60",
			"take it out, or mirror the program without it and put it back by hand")
	}
	return m.file(g, int16(code), i)
}

func (m *Machine) file(g group, code, i int16) error {
	if m.g[g] >= 0 {
		return m.fault(i, fmt.Sprintf("%s after a code of the same group", m.block.Text[m.block.Words[i].Start:m.block.Words[i].End]),
			"one code of each group in a block", "")
	}
	m.g[g], m.gAt[g] = code, i
	return nil
}

// settings runs the block's steps 2 to 18: everything but motion and stops.
func (m *Machine) settings() error {
	s := &m.state
	if c := m.g[feedGroup]; c >= 0 {
		s.FeedMode = int(c) / 10
		m.said |= 1 << feedGroup
	}
	if m.has('F') {
		if m.value('F').Sign() < 0 {
			return m.fault(m.word('F'), "a negative feed", "F0 or more", "")
		}
		s.Feed = m.value('F')
		m.take('F', false)
		m.feedHere = true
	}
	if m.has('S') {
		if m.value('S').Sign() < 0 {
			return m.fault(m.word('S'), "a negative speed", "S0 or more", "")
		}
		s.Speed = m.value('S')
		m.take('S', false)
	}
	if m.has('T') {
		n, ok := m.value('T').Int()
		if !ok || n < 0 || n > 1<<31-1 {
			return m.fault(m.word('T'), fmt.Sprintf("T%s", m.value('T')), "a whole tool number", "")
		}
		m.selected = int(n)
		m.take('T', false)
		if !m.changed {
			s.Tool = m.selected
		}
	}
	if m.g[changeGroup] == 6 {
		m.changed, m.loaded = true, m.selected
		m.swapped = [3]bool{true, true, true}
		s.Tool = m.loaded
		s.Spindle = 0 // NISTIR 6556, 3.6.3
	}
	switch c := m.g[spindleGroup]; c {
	case 13, 14: // with coolant (common practice)
		s.Spindle, s.Coolant, m.started = int(27-2*c), s.Coolant|2, true
	case 3:
		s.Spindle, m.started = 1, true
	case 4:
		s.Spindle, m.started = -1, true
	case 5:
		s.Spindle = 0
	}
	switch m.g[coolantGroup] {
	case 8:
		s.Coolant |= 2
	case 9:
		s.Coolant = 0
	}
	if m.g[mistGroup] == 7 {
		s.Coolant |= 1
	}
	if m.g[actionGroup] == 40 {
		if err := m.dwell(); err != nil {
			return err
		}
	}
	if c := m.g[planeGroup]; c >= 0 {
		s.Plane = [...]transform.Plane{transform.XY, transform.ZX, transform.YZ}[(c-170)/10]
		m.said |= 1 << planeGroup
	}
	if c := m.g[unitGroup]; c >= 0 {
		m.setUnit(transform.Unit((210 - c) / 10))
		m.said |= 1 << unitGroup
	}
	if c := m.g[compGroup]; c >= 0 {
		s.Comp = int(c) / 10
	}
	m.compensation()
	if err := m.length(); err != nil {
		return err
	}
	if c := m.g[offsetGroup]; c >= 0 {
		m.setOffset(cmp.Or(m.offsetHere, int(c)))
	}
	if c := m.g[pathGroup]; c >= 0 {
		s.Path = uint16(c)
		m.take('P', false) // a path tolerance
		m.take('Q', false)
	}
	if c := m.g[distanceGroup]; c >= 0 {
		m.Absolute = c == 900
		m.said |= 1 << distanceGroup
	}
	if c := m.g[centreGroup]; c >= 0 {
		m.AbsoluteCentres = c == 901
		m.said |= 1 << centreGroup
	}
	if c := m.g[returnGroup]; c >= 0 {
		m.returnToR = c == 990
		m.said |= 1 << returnGroup
	}
	return nil
}

// compensation takes the D word. It stands until the next one, a tool change or the
// end; a diameter stands for its own G41.1 or G42.1.
func (m *Machine) compensation() {
	s := &m.state
	c := m.g[compGroup]
	direct := c == 411 || c == 421
	switch {
	case direct && m.has('D'):
		s.D, s.CompBy = m.value('D'), CompByDiameter
	case direct:
		s.D, s.CompBy = Num{}, CompByNothing
	case m.has('D'):
		s.D, s.CompBy = m.value('D'), CompByNumber
	case m.g[changeGroup] == 6, (c == 410 || c == 420) && s.CompBy > CompByNumber:
		s.D, s.CompBy = Num{}, CompByTool
	}
	m.take('D', false)
}

// dwell checks G4. Its time stands in P or X, on some controls in U or S.
func (m *Machine) dwell() error {
	if m.has('P') && m.value('P').Sign() < 0 {
		return m.fault(m.word('P'), "a negative dwell", "P0 or more", "")
	}
	if m.has('Y') || m.has('Z') {
		return m.fault(m.gAt[actionGroup], "G4 (a dwell) with a Y or Z word", "P or X with the time", "move and dwell in blocks of their own")
	}
	if m.has('X') && (m.g[motionGroup] >= 0 || m.g[machineGroup] >= 0) {
		return m.fault(m.word('X'), "X beside G4 (a dwell) and a motion word", "one use for X",
			"some controls take X as the time: move and dwell in blocks of their own")
	}
	m.take('P', false)
	m.take('X', false)
	m.take('U', false)
	return nil
}

// length runs G43, G44, G49 and H: the Z coordinate of the same height changes.
func (m *Machine) length() error {
	c := m.g[lengthGroup]
	h := m.state.Length
	if m.has('H') {
		n, ok := m.value('H').Int()
		if !ok || n < 0 || n > 1<<31-1 {
			return m.fault(m.word('H'), fmt.Sprintf("H%s", m.value('H')), "a whole length number", "")
		}
		if c == 430 || c == 440 || h >= 0 {
			h = int(n) // else no length is in force that it could change
		}
		m.take('H', false)
	} else if c == 430 || c == 440 {
		h = max(m.state.Tool, 0)
	}
	if c == 490 {
		h = -1
	}
	if h == m.state.Length && c != 440 {
		return nil
	}
	m.state.Length = h
	l, known := m.o.Lengths[h]
	if known || c == 490 && m.o.Lengths != nil {
		if c == 440 {
			l = l.Neg()
		}
		m.pos[2] = m.pos[2].Add(m.lengthNow).Sub(l)
		m.lengthNow = l
		return nil
	}
	if m.place[2] == Known {
		m.place[2] = Free
	}
	return nil
}

// setUnit carries every length that is held into the other unit, exactly.
func (m *Machine) setUnit(u transform.Unit) {
	if u == m.state.Unit {
		return
	}
	conv := func(n *Num) {
		if !n.IsZero() {
			*n = n.In(1-u, u)
		}
	}
	for i := range 3 {
		for _, p := range []*Point{&m.pos, &m.shift, &m.stored, &m.local} {
			conv(&p[i])
		}
	}
	conv(&m.r)
	conv(&m.depth)
	conv(&m.peck)
	m.state.Unit = u
	m.reframe()
}

// setOffset selects a work offset. Where the stored offsets differ is unknown, so
// after a change no coordinate is known until it is given.
func (m *Machine) setOffset(c int) {
	old := m.state.Offset
	m.state.Offset = c
	m.said |= 1 << offsetGroup
	if old == c || old == 0 && (c == 540 || !m.moved) {
		return
	}
	for i := range 3 {
		m.lose(i)
	}
}

// lose forgets an axis' position.
func (m *Machine) lose(axis int) {
	m.place[axis] = Lost
	m.begun[axis] = true
}

// finish runs what comes after motion: stops and the end.
func (m *Machine) finish() error {
	for i, at := range m.at {
		letter := byte('A' + i)
		if at < 0 {
			continue
		}
		switch letter {
		case 'P', 'Q', 'L', 'D', 'H', 'S':
			continue // a time, a count or a number that this control doesn't use here
		}
		return m.fault(at, fmt.Sprintf("%c without a code that uses it", letter), "", "")
	}
	if c := m.g[stopGroup]; c == 2 || c == 30 {
		m.end()
	}
	return nil
}

// end puts everything back as M2 and M30 do (NISTIR 6556, 3.6.1).
func (m *Machine) end() {
	m.ended = true
	m.cancelPreset(false)
	if m.state.Offset != 0 && m.state.Offset != 540 {
		m.setOffset(540)
	}
	m.state.Plane = transform.XY
	m.Absolute = true
	m.state.FeedMode = 94
	m.state.Comp = 40
	m.state.D, m.state.CompBy = Num{}, CompByTool
	m.state.Spindle = 0
	m.state.Coolant = 0
	m.motion, m.under, m.bare = 10, 10, 0
	m.scaling, m.polar = Scaling{}, Polar{}
}
