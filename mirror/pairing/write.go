package pairing

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
	for _, s := range steps {
		change := m.change(s.tool)
		for side := range 2 {
			if len(s.pieces[side]) == 0 {
				continue
			}
			if side == 1 && faces && before != nil && before.side == 0 && m.o.Order == ByStations {
				m.pause(w)
			}
			faces = faces && side == 0
			for pair, p := range m.o.Pairs {
				station := []Station{p.Face, p.Back}[side]
				for _, pc := range s.pieces[side] {
					sec := section{piece: pc, side: side, pair: pair, station: station, number: indexOf(m.sides[side].pieces, pc)}
					if err := m.open(w, &sec, before, change); err != nil {
						return nil, err
					}
					change = ""
					w.close(sec)
					for _, line := range pc.lines {
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
	if m.named&spindleWord != 0 {
		w.put("M5")
	}
	if m.named&coolantWord != 0 {
		w.put("M9")
	}
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
	if m.named&spindleWord != 0 {
		w.put("M5")
	}
	if m.named&coolantWord != 0 {
		w.put("M9")
	}
	w.put(m.o.Pause)
}

// retract takes the tool to the clear height. The last piece may have left G91 or a
// cycle behind.
func (m *merger) retract(w *written, s Station) error {
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
	return w.sections[len(w.sections)-1].piece.last
}

// height writes a height in a unit, rounded up where it isn't finite there.
func (m *merger) height(v decimal.Decimal, u transform.Unit) (string, error) {
	c, exact := transform.Convert(v, m.o.Unit, u, heightPlaces)
	if !exact && c.LessThan(v.DivRound(decimal.New(254, -1), heightPlaces+4)) {
		c = c.Add(decimal.New(1, -heightPlaces))
	}
	return point(c.String()), nil
}

// heightPlaces is how many decimals of an inch a converted clear height gets.
const heightPlaces = 4

// open writes everything that a piece relies on.
func (m *merger) open(w *written, sec, before *section, change string) error {
	pc, o := sec.piece, &sec.piece.open
	s := &o.state
	if m.o.Marks {
		mark := fmt.Sprintf("(PAIR %d %s", sec.pair+1, strings.ToUpper(sideNames[sec.side]))
		if pc.tool >= 0 {
			mark += fmt.Sprintf(", T%d", pc.tool)
		}
		w.put(mark + ")")
	}
	unit := "G21"
	if s.Unit == transform.Inch {
		unit = "G20"
	}
	// G40, G80 and G90 come before any move, and before the tool is changed.
	w.put(unit, s.Plane.String(), "G90", "G94", "G40", "G80")
	first := before == nil
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
	if first && change != "" {
		// Up before the first tool change, wherever the tool stands.
		if err := up(); err != nil {
			return err
		}
	}
	if !first && change != "" && before.piece.spindle != 0 {
		w.put("M5") // a tool is changed with the spindle stopped, M6 or not
	}
	w.put(change)
	if first || change != "" || m.o.G53 {
		if err := up(); err != nil {
			return err
		}
	}
	if !first || m.o.G53 {
		w.put(sec.station.Offset)
	}
	w.put(m.modes(pc)...)
	if m.named&spindleWord != 0 {
		speed := ""
		if !s.Speed.IsZero() {
			v, err := exact(s.Speed)
			if err != nil {
				return m.unwritable(sec, "S")
			}
			speed = "S" + v
		}
		w.put(speed, map[int]string{1: "M3", -1: "M4", 0: "M5"}[s.Spindle])
	}
	if m.named&coolantWord != 0 {
		// M7 and M8 are of one group: one a block.
		w.put("M9")
		if s.Coolant&1 != 0 {
			w.put("M7")
		}
		if s.Coolant&2 != 0 {
			w.put("M8")
		}
	}
	return m.approach(w, sec)
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
		if pc.live[a] == notYet {
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
	if m.named&lengthWord != 0 {
		if s.Length >= 0 {
			w.put("G43", fmt.Sprintf("H%d", s.Length))
		} else {
			w.put("G49")
		}
	}
	if o.fromOK[2] {
		v, err := exact(o.from[2])
		if err != nil {
			return m.unwritable(sec, "Z")
		}
		w.put("G0", "Z"+point(v))
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
