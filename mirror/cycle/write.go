package cycle

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// section is a stretch of lines of a written program.
type section struct {
	to      int // last line
	body    bool
	piece   *piece
	side    int
	pair    int // from 0
	number  int // of the piece in its side's program, from 0
	station Station
}

// written is a program as it was written, with what stands where.
type written struct {
	text     bytes.Buffer
	line     int
	end      string
	sections []section
	steps    []step
	restarts []Restart
	changes  []int // lines that call a tool by M6
}

// put writes one line.
func (w *written) put(words ...string) {
	var kept []string
	for _, s := range words {
		if s != "" {
			kept = append(kept, s)
		}
	}
	if len(kept) == 0 {
		return
	}
	w.text.WriteString(strings.Join(kept, " "))
	w.text.WriteString(w.end)
	w.line++
}

// close ends a section that began after the last one.
func (w *written) close(s section) {
	s.to = w.line
	w.sections = append(w.sections, s)
}

// write writes one program from its steps.
func (m *merger) write(steps []step, comment string) (*written, error) {
	w := &written{end: "\n", steps: steps}
	if m.o.crlf() {
		w.end = "\r\n"
	}
	tape := m.sides[0].tape || m.sides[1].tape
	if tape {
		w.put("%")
	}
	if comment != "" {
		w.put("(" + comment + ")")
	}
	faces := true // until the first back in a program that cuts all faces first
	var before *section
	stopped := true // spindle and coolant were switched off since the last piece
	for _, s := range steps {
		change := m.change(s.tool)
		for side := range 2 {
			if len(s.pieces[side]) == 0 {
				continue
			}
			if side == 1 && faces && before != nil && before.side == 0 && m.o.Order == ByStations {
				m.pause(w)
				stopped = m.o.Pause != ""
			}
			faces = faces && side == 0
			for pair, p := range m.o.Pairs {
				station := []Station{p.Face, p.Back}[side]
				for _, pc := range s.pieces[side] {
					sec := section{piece: pc, side: side, pair: pair, station: station, number: indexOf(m.sides[side].pieces, pc)}
					if err := m.open(w, &sec, before, change, stopped); err != nil {
						return nil, err
					}
					change, stopped = "", false
					w.close(sec)
					for i, line := range pc.lines {
						if i == pc.lengthLine {
							line = ahead(line, m.length(pc, " "))
						}
						w.put(string(line))
					}
					sec.body = true
					w.close(sec)
					if err := m.retract(w, station); err != nil {
						return nil, err
					}
					sec.body = false
					w.close(sec)
					before = &sec
				}
			}
		}
	}
	m.stop(w)
	m.park(w)
	w.put(m.sides[0].end)
	if tape {
		w.put("%")
	}
	return w, nil
}

// change gives the words that call a tool.
func (m *merger) change(tool int) string {
	switch {
	case tool < 0:
		return ""
	case m.named&changeWord == 0:
		return fmt.Sprintf("T%d", tool)
	}
	return fmt.Sprintf("T%d M6", tool)
}

// pause stops for the maker between faces and backs.
func (m *merger) pause(w *written) {
	if m.o.Pause == "" {
		return
	}
	m.stop(w)
	m.park(w)
	w.put(m.o.Pause)
}

// stop switches spindle and coolant off, whatever was left on.
func (m *merger) stop(w *written) {
	if m.named&spindleWord != 0 {
		w.put("M5")
	}
	if m.named&coolantWord != 0 {
		w.put("M9")
	}
}

// park takes the tool, at the clear height, to where it is out of the way.
func (m *merger) park(w *written) {
	if m.o.Park == nil {
		return
	}
	if w.unit() != m.o.Park.Unit {
		w.put(m.o.Park.Unit.Code())
	}
	w.put("G53", "G0", "X"+point(m.o.Park.X.String()), "Y"+point(m.o.Park.Y.String()))
}

// length gives the word that sets a piece's tool length, with what follows it;
// nothing where no program names one.
func (m *merger) length(pc *piece, after string) string {
	switch {
	case m.named&lengthWord == 0:
		return ""
	case pc.length >= 0:
		return fmt.Sprintf("G43 H%d", pc.length) + after
	}
	return "G49" + after
}

// retract takes the tool to the clear height. The last piece may have left G91, a
// cycle or compensation behind, under which no G53 may run (NISTIR 6556, 3.5.12).
func (m *merger) retract(w *written, s Station) error {
	if w.sections[len(w.sections)-1].piece.offset {
		w.put("G40")
	}
	w.put("G90", "G80")
	if m.o.G53 {
		z, err := m.height(*m.o.Clear, w.unit())
		if err != nil {
			return err
		}
		w.put("G53", "G0", "Z"+z)
		return nil
	}
	z, err := m.height(m.o.Clear.Sub(*s.ZeroZ), w.unit())
	if err != nil {
		return err
	}
	w.put("G0", "Z"+z)
	return nil
}

// unit is that in which the last piece ended.
func (w *written) unit() transform.Unit {
	return w.sections[len(w.sections)-1].piece.last.Unit
}

// height writes a height in a unit, rounded up where it isn't finite there.
func (m *merger) height(v decimal.Decimal, u transform.Unit) (string, error) {
	c, exact := transform.Convert(v, m.o.Unit, u, heightPlaces)
	if !exact && transform.InMM(c, u).LessThan(v) {
		c = c.Add(decimal.New(1, -heightPlaces))
	}
	return point(c.String()), nil
}

// heightPlaces is how many decimals of an inch a converted clear height gets.
const heightPlaces = 4

// open writes everything that a piece relies on. stopped says that spindle and coolant
// are off already.
func (m *merger) open(w *written, sec, before *section, change string, stopped bool) error {
	pc, o := sec.piece, &sec.piece.open
	s := &o.state
	first := before == nil
	restart := first || strings.HasSuffix(change, " M6")
	if restart {
		w.restarts = append(w.restarts, Restart{w.line + 1, pc.tool})
	}
	if m.o.Marks {
		mark := fmt.Sprintf("(PAIR %d %s", sec.pair+1, strings.ToUpper(sideNames[sec.side]))
		if pc.tool >= 0 {
			mark += fmt.Sprintf(", T%d", pc.tool)
		}
		if restart && !first {
			mark += ", RESTART HERE"
		}
		w.put(mark + ")")
	}
	// G40, G80 and G90 come before any move, and before the tool is changed.
	w.put(s.Unit.Code(), s.Plane.String(), "G90", "G94", "G40", "G80")
	if first && !m.o.G53 {
		w.put(sec.station.Offset)
	}
	zero := sec.station
	if !first {
		zero = before.station
	}
	up := func() error {
		if m.o.G53 {
			z, err := m.height(*m.o.Clear, s.Unit)
			if err != nil {
				return err
			}
			w.put("G53", "G0", "Z"+z)
			return nil
		}
		z, err := m.height(m.o.Clear.Sub(*zero.ZeroZ), s.Unit)
		if err != nil {
			return err
		}
		w.put("G0", "Z"+z)
		return nil
	}
	if change != "" && (first || m.o.G53) {
		// Up before the tool change, wherever the tool stands: the program may be
		// run from here.
		if err := up(); err != nil {
			return err
		}
	}
	if change != "" {
		m.stop(w) // a tool is changed with the spindle stopped, M6 or not
		stopped = true
	}
	w.put(change)
	if strings.HasSuffix(change, " M6") {
		w.changes = append(w.changes, w.line)
	}
	if first || change != "" || m.o.G53 {
		if err := up(); err != nil {
			return err
		}
	}
	if !first || m.o.G53 {
		w.put(sec.station.Offset)
	}
	w.put(m.modes(pc)...)
	if err := m.switchOn(w, sec, before, stopped); err != nil {
		return err
	}
	return m.approach(w, sec)
}

// switchOn sets spindle and coolant as the piece expects them. What runs on from the
// piece before it, the same way, isn't touched.
func (m *merger) switchOn(w *written, sec, before *section, stopped bool) error {
	s := &sec.piece.open.state
	on := func(b uint8) bool { return s.Coolant&b != 0 }
	kept := false // what the piece before left on is sure
	turning, flows := 0, uint8(0)
	var speed motion.Num
	if !stopped {
		kept = !m.sides[before.side].deleted
		turning, speed, flows = before.piece.spindle, before.piece.speed, before.piece.coolant
	}
	if m.named&spindleWord != 0 && !(kept && turning == s.Spindle && (turning == 0 || speed.Equal(s.Speed))) {
		word := ""
		if !s.Speed.IsZero() {
			v, err := exact(s.Speed)
			if err != nil {
				return m.unwritable(sec, "S")
			}
			word = "S" + v
		}
		if turning == -s.Spindle && turning != 0 {
			w.put("M5") // it turns the other way from here
		}
		w.put(word, map[int]string{1: "M3", -1: "M4", 0: "M5"}[s.Spindle])
	}
	if m.named&coolantWord != 0 && !(kept && flows == s.Coolant) {
		if !stopped || before == nil {
			w.put("M9")
		}
		// M7 and M8 are of one group: one a block.
		if on(1) {
			w.put("M7")
		}
		if on(2) {
			w.put("M8")
		}
	}
	return nil
}

// modes gives the words of groups that only some programs name.
func (m *merger) modes(pc *piece) (words []string) {
	o := &pc.open
	assumed := func(code string) string {
		for _, n := range m.notes {
			if n.Code == AssumedState && n.Values[0] == code {
				return code
			}
		}
		m.notes = append(m.notes, Note{Code: AssumedState, Line: pc.line, Values: []string{code}})
		return code
	}
	if m.named&centreWord != 0 && pc.arcs {
		words = append(words, map[bool]string{true: "G90.1", false: "G91.1"}[o.centres])
	}
	if pc.cycles {
		switch {
		case o.returns != 0:
			words = append(words, fmt.Sprintf("G%d", o.returns))
		case m.named&returnWord != 0:
			words = append(words, assumed("G98"))
		}
	}
	if m.named&pathWord != 0 {
		if o.path != "" {
			words = append(words, o.path)
		} else {
			words = append(words, assumed("G64"))
		}
	}
	return words
}

// approach goes over the piece's first place in X and Y alone, then down to where
// the piece began, and sets what the first block needs.
func (m *merger) approach(w *written, sec *section) error {
	pc, o := sec.piece, &sec.piece.open
	s := &o.state
	var xy []string
	for a := range 2 {
		if !pc.placed[a] {
			continue
		}
		v, err := exact(o.entry[a])
		if err != nil {
			return m.unwritable(sec, string("XY"[a]))
		}
		xy = append(xy, string("XY"[a])+point(v))
	}
	if len(xy) > 0 {
		w.put(append([]string{"G0"}, xy...)...)
	}
	// A tool length is called in a block with Z only, since some controls move at
	// once: here, or where the piece first moves in Z.
	if o.fromOK[2] {
		v, err := exact(o.from[2])
		if err != nil {
			return m.unwritable(sec, "Z")
		}
		w.put("G0", m.length(pc, ""), "Z"+point(v))
	}
	var last []string
	if s.FeedMode != 94 {
		last = append(last, fmt.Sprintf("G%d", s.FeedMode))
	}
	if !s.Feed.IsZero() && s.FeedMode != 93 {
		v, err := exact(s.Feed)
		if err != nil {
			return m.unwritable(sec, "F")
		}
		last = append(last, "F"+v)
	}
	if !o.absolute {
		last = append(last, "G91")
	}
	w.put(last...)
	return nil
}

func (m *merger) unwritable(sec *section, letter string) error {
	return &fault.Error{File: sec.piece.file, Line: sec.piece.line, Col: 1, Found: letter + " at a value that is no finite decimal in the unit of the piece",
		Expected: "one unit in the whole program", Hint: "it comes from a change between G20 and G21"}
}

// exact writes a number in full.
func exact(n motion.Num) (string, error) {
	d, ok := n.Decimal()
	if !ok {
		return "", fmt.Errorf("%s is no finite decimal", n)
	}
	return d.String(), nil
}

// point gives a length a decimal point: controls read X5 and X5. differently.
func point(s string) string {
	if !strings.Contains(s, ".") {
		return s + "."
	}
	return s
}

func indexOf(pieces []*piece, pc *piece) int {
	for i, p := range pieces {
		if p == pc {
			return i
		}
	}
	return -1
}
