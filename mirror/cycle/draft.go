package cycle

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// section is a stretch of lines of a written program.
type section struct {
	to      int // last line
	body    bool
	piece   *piece
	side    int
	pair    int // from 0
	station Station
}

// draft is a program as it is being written, with what stands where.
type draft struct {
	text     bytes.Buffer
	line     int
	end      string
	sections []section
	steps    []step
	restarts []Restart
	changes  []int // lines that call a tool by M6
}

// put writes one line.
func (w *draft) put(words ...string) {
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
func (w *draft) close(s section) {
	s.to = w.line
	w.sections = append(w.sections, s)
}

// write writes one program from its steps.
func (m *merger) write(steps []step, comment string) (*draft, error) {
	w := &draft{end: "\n", steps: steps}
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
				for _, own := range s.pieces[side] {
					pc := own.at(station)
					sec := section{piece: pc, side: side, pair: pair, station: station}
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
					m.retract(w, station)
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
func (m *merger) pause(w *draft) {
	if m.o.Pause == "" {
		return
	}
	m.stop(w)
	m.park(w)
	w.put(m.o.Pause)
}

// stop switches spindle and coolant off, whatever was left on.
func (m *merger) stop(w *draft) {
	if m.named&spindleWord != 0 {
		w.put("M5")
	}
	if m.named&coolantWord != 0 {
		w.put("M9")
	}
}

// park takes the tool, at the clear height, to where it is out of the way.
func (m *merger) park(w *draft) {
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

// retract takes the tool to the clear height over its station. The last piece may have
// left G91, a cycle or compensation behind, under which no G53 may run (NISTIR 6556,
// 3.5.12).
func (m *merger) retract(w *draft, s Station) {
	if w.sections[len(w.sections)-1].piece.offset {
		w.put("G40")
	}
	w.put("G90", "G80")
	m.up(w, s, w.unit())
}

// up takes the tool to the clear height: in machine coordinates, else over a station in its
// own offset.
func (m *merger) up(w *draft, s Station, unit transform.Unit) {
	if m.o.G53 {
		w.put("G53", "G0", "Z"+m.height(*m.o.Clear, unit))
		return
	}
	w.put("G0", "Z"+m.height(m.o.Clear.Sub(*s.ZeroZ), unit))
}

// unit is that in which the last piece ended.
func (w *draft) unit() transform.Unit {
	return w.sections[len(w.sections)-1].piece.last.Unit
}

// height writes a height in a unit, rounded up where it isn't finite there.
func (m *merger) height(v decimal.Decimal, u transform.Unit) string {
	c, exact := transform.Convert(v, m.o.Unit, u, heightPlaces)
	if !exact && transform.InMM(c, u).LessThan(v) {
		c = c.Add(decimal.New(1, -heightPlaces))
	}
	return point(c.String())
}

// heightPlaces is how many decimals of an inch a converted clear height gets.
const heightPlaces = 4
