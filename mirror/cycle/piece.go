package cycle

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
)

// groups is a set of groups of words that a program names. What neither program
// names isn't written either: nothing can have changed it, and the control may
// not have it.
type groups uint16

const (
	centreWord  groups = 1 << iota // G90.1, G91.1
	returnWord                     // G98, G99
	lengthWord                     // G43, G49
	pathWord                       // G61, G61.1, G64
	spindleWord                    // M3, M4, M5
	coolantWord                    // M7, M8, M9
	changeWord                     // M6
	speedWord                      // S
)

// opening is what a piece relies on when its first move runs.
type opening struct {
	state    motion.State
	absolute bool // G90
	centres  bool // G90.1
	returns  int  // 98, 99, or 0 if the program doesn't say
	path     string
	from     motion.Point // where the first move starts, where known
	fromOK   [3]bool
	entry    motion.Point // where X and Y first get their place
}

// piece is what one tool cuts between two tool changes.
type piece struct {
	tool     int
	file     string
	line     int // of its first block in the source
	lines    [][]byte
	remarks  int // how many lines at the end are comments alone
	open     opening
	begun    bool
	cuts     bool
	cycles   bool         // has canned cycles
	arcs     bool         // has arcs by centre
	noLength int          // line of the first cut without G43
	stopped  int          // line of the first cut with the spindle stopped
	noSpeed  int          // line of the first move with the spindle on and no S
	last     motion.State // at its end
	// spindle, speed and coolant are what the piece leaves on: stops are its last
	// lines that only switch off, which the merge writes where it is to be.
	spindle int
	speed   motion.Num
	coolant uint8
	stops   []int
	offset  bool // ends under G41 or G42, which only the program's end took off
	// length is H in force at the first move in Z, -1 for G49. lengthLine is the
	// line of that move where no block of the piece has named the length by then
	// and its start isn't known either, else -1.
	length, lengthLine int
	lengthNamed        bool
	halts              [][]byte      // its M0, M1 and M60 before it cuts
	halt               *motion.State // at the first of them, where that comes before any move
	located            [3]bool       // the axis has a place in it
	moves              []proof.Wanted

	turned [4]*piece // the same for a turned station, by its quarter turns; nil where there is none
}

// at is what is cut of a piece at a station.
func (pc *piece) at(s Station) *piece {
	if s.Turn != 0 {
		return pc.turned[s.Turn]
	}
	return pc
}

// want takes a move into what the piece shall do. Moves under the same settings share
// them.
func (pc *piece) want(m *motion.Move) {
	w := proof.WantedOf(m)
	if n := len(pc.moves); n > 0 && pc.moves[n-1].State.Agrees(&m.State) {
		w.State = pc.moves[n-1].State
	} else {
		s := m.State
		w.State = &s
	}
	pc.moves = append(pc.moves, w)
}

// program is one side's program in pieces.
type program struct {
	name         string
	parts        []*program // where it is several programs one after the other
	pieces       []*piece
	named        groups
	deleted      bool   // has lines with block delete
	turns        bool   // the spindle is started for one of its moves
	end          string // M2 or M30
	tape, number bool   // has %, has N words
	notes        []Note
	offset       int // the work offset that it names, ten times its G number; 0 for none
	offsetLine   int

	absoluteCentres bool // as assumed until G90.1 or G91.1
}

// joined is a side that is several programs one after the other.
func joined(parts []*program) *program {
	if len(parts) == 1 {
		return parts[0]
	}
	p := &program{parts: parts, end: parts[0].end}
	var names []string
	for _, q := range parts {
		names = append(names, q.name)
		p.pieces = append(p.pieces, q.pieces...)
		p.named |= q.named
		p.deleted, p.tape = p.deleted || q.deleted, p.tape || q.tape
		p.notes = append(p.notes, q.notes...)
	}
	p.name = strings.Join(names, " and ")
	return p
}

// each lists the programs that a side is made of.
func (p *program) each() []*program {
	if p.parts == nil {
		return []*program{p}
	}
	return p.parts
}

// sameBlocks checks that the program read with block delete on makes the same
// pieces: the same blocks with the same openings.
func (p *program) sameBlocks(on *program) error {
	no := func(line int) error {
		return &fault.Error{File: p.name, Line: line, Found: "blocks that may be deleted and change what the rest relies on",
			Expected: "the same state after them with the switch on and off", Hint: "take the slashes away, or the blocks"}
	}
	if len(p.pieces) != len(on.pieces) {
		return no(0)
	}
	for i, a := range p.pieces {
		b := on.pieces[i]
		if a.tool != b.tool || !slices.EqualFunc(a.lines, b.lines, bytes.Equal) || !reflect.DeepEqual(&a.open, &b.open) || a.cycles != b.cycles || a.arcs != b.arcs {
			return no(a.line)
		}
	}
	return nil
}

// cutAllWays cuts a program into pieces, and its turned texts, where there are any, into
// their twins.
func cutAllWays(src Source, tolerance motion.Num, skip bool) (*program, error) {
	p, err := cutProgram(src, tolerance, skip)
	for turn, text := range src.Turned {
		if err == nil && text != nil {
			err = p.twins(src, turn, tolerance, skip)
		}
	}
	return p, err
}

// twins cuts the text of a program that is turned into the twins of its pieces.
func (p *program) twins(src Source, turn int, tolerance motion.Num, skip bool) error {
	turned := src
	turned.Name, turned.Text, turned.Lines = fmt.Sprintf("%s (turned by %d degrees)", src.Name, 90*turn), src.Turned[turn], nil
	q, err := cutProgram(turned, tolerance, skip)
	if err != nil {
		return err
	}
	if len(p.pieces) != len(q.pieces) {
		return &fault.Error{File: turned.Name, Found: fmt.Sprintf("%d pieces", len(q.pieces)), Expected: fmt.Sprintf("%d, as the program has before it is turned", len(p.pieces)), No: true}
	}
	for i, pc := range p.pieces {
		twin := q.pieces[i]
		if pc.tool != twin.tool {
			return &fault.Error{File: turned.Name, Line: twin.line, Found: fmt.Sprintf("tool %d", twin.tool), Expected: fmt.Sprintf("tool %d", pc.tool), No: true}
		}
		pc.turned[turn] = twin
	}
	p.named |= q.named
	return nil
}
