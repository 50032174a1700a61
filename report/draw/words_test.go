package draw

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/internal/readback"
	"flipcalc/report/letters"
)

// lines are all letters of a figure.
func (c *Canvas) lines() (out []writing) {
	c.settle()
	for _, s := range c.shapes {
		if w, ok := s.(writing); ok {
			out = append(out, w)
		}
	}
	return out
}

// covers is what a line covers, a hair less than was reckoned.
func (w writing) covers() box {
	wide := textWidth(w.class, w.text) * w.size
	x := map[string]float64{"start": w.at[0], "middle": w.at[0] - wide/2, "end": w.at[0] - wide}[w.anchor]
	return box{x, w.at[1] - 0.2*w.size, x + wide, w.at[1] + 0.76*w.size}.grown(-0.01 * w.size)
}

// clashes says which words of a figure stand on others or are cut off.
func (c *Canvas) clashes() (faults []string) {
	all := c.lines()
	for i, l := range all {
		if !l.covers().within(c.shown()) {
			faults = append(faults, fmt.Sprintf("%q is cut off at %v of %v", l.text, l.covers(), c.shown()))
		}
		for _, o := range all[:i] {
			if l.covers().meets(o.covers()) {
				faults = append(faults, fmt.Sprintf("%q stands on %q", l.text, o.text))
			}
		}
	}
	return faults
}

// blankSet gives a scene of a blank, one station, two, or two pairs on a bed with
// areas that belong to something else.
func blankSet(t *testing.T, w, h, thick, zero string, flip registration.Flip, reg registration.Register, unit transform.Unit, stations int) *Scene {
	t.Helper()
	W, H := d(w), d(h)
	part := func(v decimal.Decimal, k string) decimal.Decimal { return v.Mul(d(k)) }
	small := decimal.Min(W, H)
	q := registration.Question{Unit: unit, Stock: &registration.Blank{W: W, H: H, T: d(thick)}, Flip: flip, Register: reg,
		Zero: registration.Zero{Name: zero}, At: &registration.Position{X: d("100"), Y: d("50"), Z: dp("-30")}}
	switch reg {
	case registration.Dowels:
		q.Pins = []registration.Pin{{At: registration.Point{X: part(W, "0.5"), Y: part(H, "0.2")}, Dia: part(small, "0.1")}, {At: registration.Point{X: part(W, "0.5"), Y: part(H, "0.8")}, Dia: part(small, "0.15")}}
		if flip == registration.FlipX {
			q.Pins[0].At = registration.Point{X: part(W, "0.1"), Y: part(H, "0.5")}
			q.Pins[1].At = registration.Point{X: part(W, "0.9"), Y: part(H, "0.5")}
		}
	case registration.Plug:
		q.Bore = &registration.Pin{At: registration.Point{X: part(W, "0.5"), Y: part(H, "0.5")}, Dia: part(small, "0.2")}
		plug := part(small, "0.19")
		q.PlugD = &plug
		q.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: registration.Point{X: part(W, "0.8"), Y: part(H, "0.5")}}
		if flip == registration.FlipY {
			q.Clock.Pin = registration.Point{X: part(W, "0.5"), Y: part(H, "0.8")}
		}
	case registration.FenceStop:
		q.Fence, q.Stop = registration.Contact{Side: registration.Near}, registration.Contact{Side: registration.Left}
		q.BackStop = registration.Contact{Side: registration.Right}
		if flip == registration.FlipX {
			q.BackStop = registration.Contact{}
			q.BackFence = registration.Contact{Side: registration.Far}
		}
	}
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	path := &Path{Strokes: []Stroke{{Points: []point{{0, 0}, {fl(W) / 2, fl(H) / 2}}}}}
	s := &Scene{Unit: unit, BedUnit: unit, Answer: a, Face: path, Back: path}
	if stations < 2 {
		s.Stations = bed.Alone(a)
		return s
	}
	gap := part(decimal.Max(W, H), "0.15")
	for pair := range stations / 2 {
		for side := range 2 {
			corner := registration.Point{X: a.FaceCorner.X.Add(W.Add(gap).Mul(d(itoa(side)))), Y: a.FaceCorner.Y.Add(H.Add(gap).Mul(d(itoa(pair))))}
			on := a.FaceZero
			if side == 1 {
				on = a.BackZero
			}
			st := station(pair+1, sideOf(side == 1), "G5"+itoa(4+2*pair+side), corner, w, h)
			st.Zero = registration.Position{X: corner.X.Add(on.X), Y: corner.Y.Add(on.Y)}
			s.Stations = append(s.Stations, st)
		}
	}
	low := a.FaceCorner
	at := func(name string, x, y, w, h decimal.Decimal) Area {
		return Area{Area: bed.Area{Rect: bed.Rect{X: low.X.Add(x), Y: low.Y.Add(y), W: w, H: h}}, Name: name}
	}
	s.Travel = &bed.Rect{X: low.X.Sub(gap), Y: low.Y.Sub(gap), W: W.Add(gap).Mul(d("5")).Add(gap), H: H.Add(gap).Mul(d("4")).Add(gap)}
	boards, flag := at("bread boards, fence and stop, with the long clamps", W.Mul(d("3")), decimal.Zero, W, H), at("--taken", W.Mul(d("3")), H.Mul(d("2")), part(W, "0.3"), part(H, "0.3"))
	s.Taken = []Taken{{Offset: "G59.1", Area: &boards}, {Offset: "G59.2", Area: &flag}}
	s.NoGo = []Area{at("no-go 1", W.Mul(d("4.2")), decimal.Zero, part(W, "0.2"), H)}
	margin := part(gap, "0.4")
	s.Fixture = &margin
	return s
}

// drawingsOf gives all drawings that show words of the set-up.
func drawingsOf(s *Scene) map[string]*Canvas {
	out := map[string]*Canvas{"bed": Bed(s), "turn": Turn(s, Wide), "slim": Turn(s, Slim), "sheet's turn": SheetTurn(s, 44), "stations": Stations(s, 44),
		"paths": Sides(s), "face": Side(s, false), "back": Side(s, true), "overlay": Overlay(s)}
	maps.DeleteFunc(out, func(_ string, c *Canvas) bool { return c == nil })
	return out
}

// everyBlank goes through blanks of extreme shapes with every flip, zero and register.
func everyBlank(t *testing.T, visit func(name string, s *Scene)) {
	t.Helper()
	for _, shape := range []struct {
		w, h, t string
		unit    transform.Unit
	}{{"300", "40", "3", transform.MM}, {"40", "300", "3", transform.MM}, {"1200", "20", "6", transform.MM}, {"64", "40", "15", transform.MM}, {"120", "80", "12", transform.MM}, {"4.75", "3.125", "0.5", transform.Inch}} {
		for _, flip := range []registration.Flip{registration.FlipX, registration.FlipY} {
			for _, zero := range []string{"near-left", "near-right", "far-left", "far-right", "center"} {
				for _, reg := range []registration.Register{registration.NoRegister, registration.Dowels, registration.Plug, registration.FenceStop} {
					for _, stations := range []int{1, 2, 4} {
						if reg == registration.NoRegister && stations > 1 {
							continue
						}
						visit(fmt.Sprintf("%sx%sx%s flip %s %s register %d, %d stations", shape.w, shape.h, shape.t, flip, zero, reg, stations),
							blankSet(t, shape.w, shape.h, shape.t, zero, flip, reg, shape.unit, stations))
					}
				}
			}
		}
	}
}

// No words stand on other words and none are cut off, whatever the blank's shape. The
// letters' width is reckoned; a browser measures it below.
func TestWordsKeepApart(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	faults := 0
	everyBlank(t, func(name string, s *Scene) {
		drawings := drawingsOf(s)
		if len(drawings) < 7 { // bed and stations only where a place in the machine is known
			t.Errorf("%s: only %d drawings", name, len(drawings))
		}
		for drawing, c := range drawings {
			for _, fault := range c.clashes() {
				if faults++; faults > 20 {
					t.Fatal("and so on")
				}
				t.Errorf("%s, %s: %s", name, drawing, fault)
			}
		}
	})
}

func TestMain(m *testing.M) {
	m.Run()
	readback.Close()
}

// The same in a browser's own letters, for the drawings with most words.
func TestWordsKeepApartInBrowser(t *testing.T) {
	browser := readback.Open(t)
	var page strings.Builder
	page.WriteString(`<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>d</title><style>` + Style() + `svg{width:900px}</style><body>`)
	n := 0
	everyBlank(t, func(name string, s *Scene) {
		if n++; n%7 != 0 { // all zeros, flips, registers and shapes come up: 7 shares no factor with their counts
			return
		}
		for drawing, c := range drawingsOf(s) {
			if drawing != "face" && drawing != "back" {
				page.WriteString(`<div data-name="` + letters.Escaped(name+", "+drawing) + `">` + c.SVG(false) + "</div>\n")
			}
		}
	})
	// Letters reach 0.76 of their size over the line and 0.2 under it.
	path := filepath.Join(t.TempDir(), "drawings.html")
	if err := os.WriteFile(path, []byte(page.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	browser.Load("file://" + path)
	var got struct {
		Looked int
		Bad    []string
	}
	browser.Ask(`(()=>{const bad=[];let looked=0;
for(const d of document.querySelectorAll("div")){const v=d.querySelector("svg").viewBox.baseVal,boxes=[];
for(const t of d.querySelectorAll("text")){const b=t.getBBox(),s=parseFloat(t.getAttribute("font-size")),y=parseFloat(t.getAttribute("y"));looked++;
const o={x0:b.x+s*.03,x1:b.x+b.width-s*.03,y0:y-.76*s,y1:y+.2*s,t:t.textContent};
if(o.x0<v.x||o.y0<v.y||o.x1>v.x+v.width||o.y1>v.y+v.height)bad.push(d.dataset.name+": "+o.t+" is cut off");
for(const p of boxes)if(o.x0<p.x1&&p.x0<o.x1&&o.y0<p.y1&&p.y0<o.y1)bad.push(d.dataset.name+": "+o.t+" stands on "+p.t);
boxes.push(o)}}
return {looked,bad:bad.slice(0,20)}})()`, &got)
	if got.Looked < 2000 {
		t.Errorf("only %d texts on the page", got.Looked)
	}
	for _, b := range got.Bad {
		t.Error(b)
	}
}

// A line that only touches a box along an edge, or passes it by, doesn't cross it
// (derived by hand).
func TestCrossed(t *testing.T) {
	b := box{0, 0, 2, 1}
	for _, c := range []struct {
		x, y, x2, y2 float64
		want         bool
	}{{-1, 0.5, 3, 0.5, true}, {-1, -1, 3, 2, true}, {0.5, 0.5, 1, 0.6, true}, {-1, 1, 3, 1, false}, {-1, 0.5, -0.5, 0.5, false}, {-1, 0, 1, 3, false}, {3, -1, 3, 2, false}} {
		if got := b.crossed(c.x, c.y, c.x2, c.y2); got != c.want {
			t.Errorf("from %g, %g to %g, %g: %v", c.x, c.y, c.x2, c.y2, got)
		}
	}
	if math.Abs(textWidth("", "Ø6")-(0.73+0.63)) > 1e-9 {
		t.Error("a diameter's width")
	}
}

// The turn's own words: what lies underneath is the face's zero, also where that offset
// belongs to another station, and BACK stays readable beside it. The letter of the edge
// that is up half turned stands on it: beside it, it would seem to have arrived.
func TestTurnWords(t *testing.T) {
	for _, c := range []struct{ w, h, t, zero string }{{"4.75", "3.125", "0.5", "near-left"}, {"300", "40", "3", "far-right"}} {
		s := blankSet(t, c.w, c.h, c.t, c.zero, registration.FlipY, registration.NoRegister, transform.MM, 1)
		turn := Turn(s, Wide)
		var words []string
		var edge writing
		for _, l := range turn.lines() {
			words = append(words, l.text)
			if l.class == "letter" && l.text == "D" && edge.text == "" && len(words) > 7 {
				edge = l
			}
		}
		if joined := strings.Join(words, " "); !strings.Contains(joined, "BACK") || !strings.Contains(joined, "face zero, underneath") || strings.Contains(joined, "G54 is") {
			t.Errorf("%s x %s: %q", c.w, c.h, words)
		}
		// The half-turned blank is the second of three.
		var strips []box
		for _, s := range turn.shapes {
			if r, ok := s.(rectangle); ok && r.class == "blank" {
				strips = append(strips, r.box)
			}
		}
		if x, _ := strips[1].middle(); !near(edge.at[0], x) || edge.anchor != "middle" {
			t.Errorf("D stands at %g, the edge that is up at %g", edge.at[0], x)
		}
	}
}
