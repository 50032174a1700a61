package cut

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// The workshop's job: a row marker 100 x 60 mm out of a blank 140 x 80 x 12 mm,
// dowels in the margin, turned like a page. A plate outline from both sides with
// tabs, lettering, a pocket and a hanging hole.

// turned gives the map of a blank w wide and h high with both zeros near-left.
func turned(flip string, w, h float64) transform.Map {
	m := transform.Identity(transform.MM)
	if flip == "x" {
		m.Y = transform.Axis{Sign: -1, Offset: decimal.NewFromFloat(h)}
	} else {
		m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromFloat(w)}
	}
	return m
}

// prog writes a program line by line. All coordinates are in the face's frame seen
// from above; a back program mirrors them through at.
type prog struct {
	strings.Builder
	w, h float64
	flip string // "" for a face program, else how the blank was turned
	z    float64
}

func newProg(w, h float64, flip string) *prog {
	p := &prog{w: w, h: h, flip: flip}
	p.say("G21 G90 G17 G91.1")
	return p
}

func (p *prog) say(format string, a ...any) { fmt.Fprintf(p, format+"\n", a...) }

func (p *prog) at(x, y float64) (float64, float64) {
	switch p.flip {
	case "x":
		return x, p.h - y
	case "y":
		return p.w - x, y
	}
	return x, y
}

func (p *prog) tool(n int) { p.say("T%d M6", n); p.say("S12000 M3") }

func (p *prog) over(x, y float64) {
	x, y = p.at(x, y)
	p.say("G0 X%.4f Y%.4f", x, y)
	p.say("G0 Z%.4f", 2+p.z)
}

func (p *prog) up()            { p.say("G0 Z%.4f", 5+p.z) }
func (p *prog) down(z float64) { p.say("G1 Z%.4f F300", z+p.z) }

func (p *prog) to(x, y float64) {
	x, y = p.at(x, y)
	p.say("G1 X%.4f Y%.4f F900", x, y)
}

// circle goes once around (x, y), counter-clockwise in the face's frame.
func (p *prog) circle(x, y, r float64) {
	cx, cy := p.at(x, y)
	sx, sy := p.at(x+r, y)
	g := 3
	if p.flip != "" {
		g = 2
	}
	p.say("G%d X%.4f Y%.4f I%.4f J%.4f F900", g, sx, sy, cx-sx, cy-sy)
}

// outline goes around a rectangle at depth z; where tab is not 0 the cutter lifts
// to it over 8 mm in the middle of both long sides.
func (p *prog) outline(x0, y0, x1, y1, z, tab float64) {
	p.over(x0, y0)
	p.down(z)
	side := func(ax, bx, y float64) {
		if tab != 0 {
			m, d := (ax+bx)/2, math.Copysign(7, bx-ax)
			p.to(m-d, y)
			p.down(tab)
			p.to(m+d, y)
			p.down(z)
		}
		p.to(bx, y)
	}
	side(x0, x1, y0)
	p.to(x1, y1)
	side(x1, x0, y1)
	p.to(x0, y0)
	p.up()
}

// pocket clears a rectangle given by the cutter's way at depth z.
func (p *prog) pocket(x0, y0, x1, y1, z, step float64) {
	p.over(x0, y0)
	p.down(z)
	right := true
	for y := y0; ; y = math.Min(y1, y+step) {
		if right {
			p.to(x1, y)
		} else {
			p.to(x0, y)
		}
		right = !right
		if y >= y1 {
			break
		}
		ny := math.Min(y1, y+step)
		if right {
			p.to(x0, ny)
		} else {
			p.to(x1, ny)
		}
	}
	p.up()
}

// drill plunges.
func (p *prog) drill(x, y, z float64) {
	p.over(x, y)
	p.down(z)
	p.up()
}

// stroke engraves a line.
func (p *prog) stroke(z float64, pts ...float64) {
	p.over(pts[0], pts[1])
	p.down(z)
	for i := 2; i < len(pts); i += 2 {
		p.to(pts[i], pts[i+1])
	}
	p.up()
}

// marker says how the job is made; its zero value is not one, see clean.
type marker struct {
	w, h, t, cell          float64
	flip                   string
	faceOutline, backDepth float64 // depths of the outline, below 0
	tab                    float64
	letters, backLetters   float64 // depths
	pocket                 float64 // on the back
	hole                   float64
	web                    float64
	tools                  []Tool
	shiftX, shiftY         float64 // where the back program wrongly lies
	backTool               int
	faceLevel, backLevel   Level
	pins                   []Pin
	edit                   func(q *Request)
	face, back             func(p *prog) // more of the programs
}

func clean() marker {
	return marker{w: 140, h: 80, t: 12, cell: 0.2, flip: "y",
		faceOutline: -6.3, backDepth: -6.3, tab: -3.5,
		letters: -1, backLetters: -1, pocket: -4, hole: -12.3, web: 2,
		tools: []Tool{{Number: 1, Shape: Flat, Diameter: 6}, {Number: 2, Shape: Vee, Diameter: 6, Angle: 60},
			{Number: 3, Shape: Flat, Diameter: 5}, {Number: 4, Shape: Ball, Diameter: 6}},
		backTool: 1,
		pins:     []Pin{{X: 5, Y: 40, Dia: 6, Height: 12}, {X: 135, Y: 40, Dia: 6, Height: 12}},
	}
}

// check cuts the job.
func (m marker) check(t testing.TB) *Result {
	t.Helper()
	f := newProg(m.w, m.h, "")
	if m.faceLevel == Bed {
		f.z = m.t
	}
	f.tool(2)
	f.stroke(m.letters, 30, 50, 35, 60, 40, 50)
	f.stroke(m.letters, 50, 50, 50, 60)
	f.tool(3)
	f.drill(100, 60, m.hole)
	if m.face != nil {
		m.face(f)
	}
	f.tool(1)
	f.outline(20-3, 10-3, 120+3, 70+3, m.faceOutline/2, 0)
	f.outline(20-3, 10-3, 120+3, 70+3, m.faceOutline, 0)
	f.say("M30")

	b := newProg(m.w, m.h, m.flip)
	if m.backLevel == Bed {
		b.z = m.t
	}
	b.tool(2)
	b.stroke(m.backLetters, 60, 30, 70, 40, 80, 30)
	b.tool(1)
	b.pocket(25, 20, 45, 32, m.pocket, 2.5)
	if m.back != nil {
		m.back(b)
	}
	b.tool(m.backTool)
	b.outline(20-3+m.shiftX, 10-3+m.shiftY, 120+3+m.shiftX, 70+3+m.shiftY, m.backDepth/2, 0)
	b.outline(20-3+m.shiftX, 10-3+m.shiftY, 120+3+m.shiftX, 70+3+m.shiftY, m.backDepth, m.tab)
	b.say("M30")

	q := Request{W: m.w, H: m.h, T: m.t, Map: turned(m.flip, m.w, m.h), Tools: m.tools, Pins: m.pins,
		FaceLevel: m.faceLevel, BackLevel: m.backLevel,
		Face: Program{Name: "face.nc", Read: strings.NewReader(f.String())},
		Back: Program{Name: "back.nc", Read: strings.NewReader(b.String())},
		Web:  m.web, Cell: m.cell}
	if m.edit != nil {
		m.edit(&q)
	}
	r, err := Check(q)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// codes lists the findings' codes without repeats.
func codes(r *Result) string {
	var out []string
	for _, f := range r.Findings {
		if len(out) == 0 || out[len(out)-1] != f.Code() {
			out = append(out, f.Code())
		}
	}
	return strings.Join(out, " ")
}

func TestCleanJobsRaiseNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, c := range []struct {
		name string
		edit func(m *marker)
	}{
		{"as it is", func(*marker) {}},
		{"turned near edge to far", func(m *marker) { m.flip = "x" }},
		{"fine cells", func(m *marker) { m.cell = 0.1 }},
		{"coarse cells", func(m *marker) { m.cell = 0.5 }},
		{"outline from the face alone, tabs in it", func(m *marker) {
			m.faceOutline, m.backDepth, m.tab = -2, -12.3, -9
		}},
		{"bed zero on both sides", func(m *marker) { m.faceLevel, m.backLevel = Bed, Bed }},
		{"face bed, back top", func(m *marker) { m.faceLevel = Bed }},
		{"hole from both sides", func(m *marker) {
			m.hole = -7
			m.back = func(p *prog) { p.tool(3); p.drill(100, 60, -7) }
		}},
		{"bored hole, a helix from the face", func(m *marker) {
			m.face = func(p *prog) {
				p.tool(3)
				p.over(90+2, 25)
				p.down(0)
				for z := -1.0; z >= -13; z-- {
					x, y := p.at(92, 25)
					p.say("G3 X%.4f Y%.4f Z%.4f I-2 J0", x, y, math.Max(z, -12.3))
				}
				p.circle(90, 25, 2)
				p.up()
			}
		}},
		{"a slot from both sides", func(m *marker) {
			m.face = func(p *prog) { p.tool(3); p.stroke(-6.3, 80, 45, 95, 45) }
			m.back = func(p *prog) { p.tool(3); p.stroke(-6.2, 80, 45, 95, 45) }
		}},
		{"a stepped hole", func(m *marker) {
			m.hole = -8
			m.back = func(p *prog) {
				p.tool(1)
				p.over(100+2, 60)
				p.down(-5)
				p.circle(100, 60, 2)
				p.up()
			}
		}},
		{"pins drilled into the bed", func(m *marker) {
			for i := range m.pins {
				m.pins[i].Drilled = true
			}
			m.face = func(p *prog) { p.tool(1); p.drill(5, 40, -20); p.drill(135, 40, -20) }
		}},
		{"held by vacuum, no tabs", func(m *marker) {
			m.tab = 0
			m.edit = func(q *Request) { q.HeldAll = true }
		}},
		{"a declared window", func(m *marker) {
			m.face = func(p *prog) { p.tool(1); p.pocket(60, 46, 85, 62, -8, 2.5) }
			m.back = func(p *prog) { p.tool(1); p.pocket(60, 46, 85, 62, -5, 2.5) }
			m.edit = func(q *Request) { q.Through = [][2]float64{{70, 50}} }
		}},
		{"misalignment and thickness allowed for", func(m *marker) {
			m.edit = func(q *Request) { q.Misalignment, q.ThicknessTol = 0.3, 0.2 }
		}},
		{"pecked hole", func(m *marker) {
			m.face = func(p *prog) {
				p.tool(3)
				x, y := p.at(30, 40)
				p.say("G98 G83 X%.4f Y%.4f Z%.4f R%.4f Q2 F200", x, y, -12.2+p.z, 1+p.z)
				p.say("G80")
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := clean()
			c.edit(&m)
			r := m.check(t)
			for _, f := range r.Findings {
				t.Errorf("%+v", f)
			}
			if len(r.Through) == 0 || !r.Web.Any {
				t.Errorf("through %+v, web %+v", r.Through, r.Web)
			}
		})
	}
}

func TestSpoiledJobsAreCaught(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, c := range []struct {
		name string
		want string
		edit func(m *marker)
	}{
		{"deeper back", "broken-through", func(m *marker) {
			m.backLetters = -11.5
			m.face = func(p *prog) { p.tool(1); p.pocket(60, 25, 80, 40, -3, 2.5) }
		}},
		{"deeper pocket", "broken-through", func(m *marker) {
			m.pocket = -10
			m.face = func(p *prog) { p.tool(1); p.pocket(30, 22, 50, 35, -3, 2.5) }
		}},
		{"wrong flip axis", "through-missed", func(m *marker) {
			m.shiftX, m.shiftY = 0, 5
		}},
		{"outline about the wrong line", "through-step", func(m *marker) { m.shiftX = 0.5 }},
		{"letters about the wrong line", "broken-through", func(m *marker) {
			m.backLetters = -6
			m.face = func(p *prog) { p.tool(1); p.pocket(62, 25, 78, 35, -7, 2.5) }
		}},
		{"pin in the path", "pin-cut", func(m *marker) { m.pins[0].X, m.pins[0].Y = 12, 20 }},
		{"thin blank", "web-thin", func(m *marker) {
			m.pocket = -6
			m.t = 7.5
			m.hole = -7.8
			m.faceOutline, m.backDepth, m.tab = -4, -4, -2
		}},
		{"thin blank, pocket comes out", "broken-through", func(m *marker) {
			m.pocket = -6
			m.t = 5.9
			m.hole = -6.2
			m.faceOutline, m.backDepth, m.tab = -3.2, -3.2, -1
		}},
		{"outline short", "through-short", func(m *marker) { m.backDepth = -5.5 }},
		{"wrong tool", "through-step", func(m *marker) { m.backTool = 3 }},
		{"wrong tool, ball", "broken-through", func(m *marker) { m.backTool = 4 }},
		{"no tabs", "part-loose", func(m *marker) { m.tab = 0 }},
		{"engraving comes out", "broken-through", func(m *marker) {
			m.t = 2.5
			m.letters = -2.6
			m.hole = -2.8
			m.pocket = -1
			m.web = 0
			m.faceOutline, m.backDepth, m.tab = -1.4, -1.4, -0.5
		}},
		{"rapid through the stock", "rapid-in-stock", func(m *marker) {
			m.face = func(p *prog) {
				p.tool(1)
				p.over(60, 30)
				p.down(-2)
				x, y := p.at(80, 30)
				p.say("G0 X%.4f Y%.4f", x, y)
				p.up()
			}
		}},
		{"into the bed", "bed-cut", func(m *marker) { m.hole = -13 }},
		{"flute too short", "shank-in-stock", func(m *marker) {
			m.tools[0].Flute = 4
			m.faceOutline = -6.3
			m.face = func(p *prog) { p.tool(1); p.stroke(-5, 60, 62, 80, 62) }
		}},
		{"web at tolerance", "web-thin-at-tolerance", func(m *marker) {
			m.pocket = -9.95
			m.edit = func(q *Request) { q.ThicknessTol = 0.1 }
		}},
		{"wide pocket on both sides", "broken-through", func(m *marker) {
			m.pocket = -6.5
			m.face = func(p *prog) { p.tool(1); p.pocket(25, 20, 45, 32, -6, 2.5) }
		}},
		{"a window cleared with the outline's depths", "broken-through", func(m *marker) {
			m.face = func(p *prog) { p.tool(1); p.pocket(60, 46, 85, 62, -6.3, 2.5) }
			m.back = func(p *prog) { p.tool(1); p.pocket(60, 46, 85, 62, -6.3, 2.5) }
		}},
		{"crossed slots", "broken-through", func(m *marker) {
			m.face = func(p *prog) { p.tool(3); p.stroke(-6.2, 80, 45, 95, 45) }
			m.back = func(p *prog) { p.tool(3); p.stroke(-6.2, 87, 30, 87, 55) }
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := clean()
			c.edit(&m)
			r := m.check(t)
			found := false
			for _, f := range r.Findings {
				found = found || f.Code() == c.want
			}
			if !found {
				t.Errorf("want %s, got %s", c.want, codes(r))
			}
			if testing.Verbose() {
				for _, f := range r.Findings {
					t.Logf("%+v", f)
				}
			}
		})
	}
}
