package motion

import (
	"fmt"

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
	Skip            uint16         // bit n: of several switches number n is on, for Run
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
	o Options
	modes

	loose         [3]bool // the axis' place was known when G68 or G69 came
	frame         *Frame  // of G52, G68 and G92 together; nil where none is on
	zeros         int     // how often G92 set a zero where the place wasn't known, or G92.3 brought one back
	ended         bool    // M2 or M30 was run
	started       bool    // M3 or M4 was run
	halted        bool    // the last S was 0, at which M3 and M4 turn nothing
	feedHere      bool    // the block has an F word
	offsetHere    int     // the extended offset that the block calls, 0 for none
	assumed       []string
	needs         []StartNeed
	block         *Block
	at            [26]int16 // index of each letter's word in the block, -1 if none
	g             [groups]int16
	gAt           [groups]int16
	moves         []Move
	effect        Effect
	arcTol        [2]Num // per unit
	warnTol       [2]Num
	mismatches    int
	firstMismatch int
	worstMismatch float64 // mm
	lengthNow     Num     // of the tool, where Options.Lengths has it
}

// modes is what further blocks rest on.
type modes struct {
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
	tangent [2]Num // from the end of a G5 block to the point that goes on straight
	smooth  bool   // tangent is there

	selected int // T
	loaded   int // T at the last M6
	changed  bool
	swapped  [3]bool // M6 was run since the axis was given in G90
	added    bool    // the length in force was called by G44

	r, depth, peck Num // sticky words of the running cycle; Q's stickiness is common practice
	rSet, depthSet bool
	rAbs, depthAbs bool // they were given in G90
	series         series
	under          int // the motion mode before the running cycle or G80; -1 before the first
	bare           int // line of the running cycle's code, where no axis word stood beside it
	moved          bool
	begunProgram   bool   // a block with words was run
	said           uint32 // modal groups that the program has set, bit of group
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
	Carried     string   // which of its R and depth were given in the other distance mode, where controls differ on them; "" for none
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
	m := &Machine{o: o, modes: modes{Absolute: true, AbsoluteCentres: o.AbsoluteCentres, motion: -1, under: -1, selected: -1, loaded: -1}}
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

// Loose reports that an axis' place isn't known since G68 or G69.
func (m *Machine) Loose(axis int) bool { return m.loose[axis] && m.place[axis] != Known }

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
		return m.fault(at, fmt.Sprintf("%c without a code that uses it", letter), "", "take it out")
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
