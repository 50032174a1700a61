package report

import (
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// lettering is one line of letters read back from a drawing.
type lettering struct {
	class, anchor, text string
	x, y, size          float64
}

var textElement = regexp.MustCompile(`<text class="([^"]*)" text-anchor="(\w+)" x="([^"]*)" y="([^"]*)" font-size="([^"]*)">([^<]*)</text>`)

func letteringOf(t *testing.T, svg string) []lettering {
	t.Helper()
	found := textElement.FindAllStringSubmatch(svg, -1)
	if n := strings.Count(svg, "<text"); n != len(found) || n == 0 {
		t.Fatalf("%d texts of %d read", len(found), n)
	}
	var out []lettering
	for _, m := range found {
		l := lettering{class: m[1], anchor: m[2], text: html.UnescapeString(m[6])}
		for i, to := range []*float64{&l.x, &l.y, &l.size} {
			v, err := strconv.ParseFloat(m[3+i], 64)
			if err != nil {
				t.Fatal(err)
			}
			*to = v
		}
		out = append(out, l)
	}
	return out
}

// box is what a line covers, Y downwards, a hair less than was reckoned.
func (l lettering) box() box {
	w := textWidth(l.class, l.text) * l.size
	x := map[string]float64{"start": l.x, "middle": l.x - w/2, "end": l.x - w}[l.anchor]
	return box{x, l.y - 0.76*l.size, x + w, l.y + 0.2*l.size}.grown(-0.01 * l.size)
}

func viewBox(t *testing.T, svg string) box {
	t.Helper()
	m := regexp.MustCompile(`viewBox="(\S+) (\S+) (\S+) (\S+)"`).FindStringSubmatch(svg)
	var v [4]float64
	for i := range v {
		var err error
		if v[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return box{v[0], v[1], v[0] + v[2], v[1] + v[3]}
}

// blankSet gives a set-up for a blank, one station, two, or two pairs on a bed with
// areas that belong to something else.
func blankSet(t *testing.T, w, h, thick, zero string, flip registration.Flip, reg registration.Register, unit transform.Unit, stations int) Setup {
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
	path := &Path{Strokes: []Stroke{{Points: [][2]float64{{0, 0}, {fl(W) / 2, fl(H) / 2}}}}}
	s := Setup{Unit: unit, Answer: a, Drawings: &Drawings{Face: path, Back: path}}
	if stations < 2 {
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
			zero := add(corner, on)
			s.Stations = append(s.Stations, Station{Pair: pair + 1, Back: side == 1, Offset: "G5" + itoa(4+2*pair+side), Zero: registration.Position{X: zero.X, Y: zero.Y}, Corner: corner, W: W, H: H})
		}
	}
	low := a.FaceCorner
	wide := W.Add(gap).Mul(d("5"))
	s.Machine = &Machine{Least: [3]decimal.Decimal{low.X.Sub(gap), low.Y.Sub(gap)}, Greatest: [3]decimal.Decimal{low.X.Add(wide), low.Y.Add(H.Add(gap).Mul(d("4")))},
		Taken: []Taken{{Offset: "G59.1", Area: &Area{At: registration.Point{X: low.X.Add(W.Mul(d("3"))), Y: low.Y}, W: W, H: H, Name: "bread boards, fence and stop, with the long clamps"}},
			{Offset: "G59.2", Area: &Area{At: registration.Point{X: low.X.Add(W.Mul(d("3"))), Y: low.Y.Add(H.Mul(d("2")))}, W: part(W, "0.3"), H: part(H, "0.3"), Name: "--taken"}}},
		NoGo: []Area{{At: registration.Point{X: low.X.Add(W.Mul(d("4.2"))), Y: low.Y}, W: part(W, "0.2"), H: H, Name: "no-go 1"}}}
	margin := part(gap, "0.4")
	s.Fixture = &margin
	return s
}

// drawingsOf gives all drawings that show words of the set-up.
func drawingsOf(s Setup) map[string]string {
	slim, title, desc := s.turn(turnSlim)
	return map[string]string{"bed": BedDrawing(s), "turn": TurnDrawing(s), "slim": slim.svg(title, desc, true), "paths": PathDrawing(s), "face": SideDrawing(s, false), "back": SideDrawing(s, true)}
}

// everyBlank goes through blanks of extreme shapes with every flip, zero and register.
func everyBlank(t *testing.T, visit func(name string, s Setup)) {
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
	everyBlank(t, func(name string, s Setup) {
		for drawing, svg := range drawingsOf(s) {
			if svg == "" {
				if drawing != "bed" {
					t.Errorf("%s: no drawing %s", name, drawing)
				}
				continue
			}
			view, all := viewBox(t, svg), letteringOf(t, svg)
			for i, l := range all {
				if faults > 20 {
					t.Fatal("and so on")
				}
				if !l.box().within(view) {
					faults++
					t.Errorf("%s, %s: %q is cut off at %v of %v", name, drawing, l.text, l.box(), view)
				}
				for _, o := range all[:i] {
					if l.box().meets(o.box()) {
						faults++
						t.Errorf("%s, %s: %q stands on %q", name, drawing, l.text, o.text)
					}
				}
			}
		}
	})
}

// The same in a browser's own letters, for the drawings with most words.
func TestWordsKeepApartInBrowser(t *testing.T) {
	exe := browser(t)
	var page strings.Builder
	page.WriteString(`<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>d</title><style>` + drawingColors + drawingStyle + `svg{width:900px}</style><body>`)
	n := 0
	everyBlank(t, func(name string, s Setup) {
		if n++; n%7 != 0 { // all zeros, flips, registers and shapes come up: 7 shares no factor with their counts
			return
		}
		for drawing, svg := range drawingsOf(s) {
			if svg != "" && drawing != "face" && drawing != "back" {
				page.WriteString(`<div data-name="` + esc(name+", "+drawing) + `">` + svg + "</div>\n")
			}
		}
	})
	// Letters reach 0.76 of their size over the line and 0.2 under it.
	page.WriteString(`<script>addEventListener("load",()=>{const bad=[];let looked=0;
for(const d of document.querySelectorAll("div")){const v=d.querySelector("svg").viewBox.baseVal,boxes=[];
for(const t of d.querySelectorAll("text")){const b=t.getBBox(),s=parseFloat(t.getAttribute("font-size")),y=parseFloat(t.getAttribute("y"));looked++;
const o={x0:b.x+s*.03,x1:b.x+b.width-s*.03,y0:y-.76*s,y1:y+.2*s,t:t.textContent};
if(o.x0<v.x||o.y0<v.y||o.x1>v.x+v.width||o.y1>v.y+v.height)bad.push(d.dataset.name+": "+o.t+" is cut off");
for(const p of boxes)if(o.x0<p.x1&&p.x0<o.x1&&o.y0<p.y1&&p.y0<o.y1)bad.push(d.dataset.name+": "+o.t+" stands on "+p.t);
boxes.push(o)}}
document.body.innerHTML="<pre>ANSWER"+JSON.stringify({looked,bad:bad.slice(0,20)}).replace(/&/g,"&amp;").replace(/</g,"&lt;")+"END</pre>"})</script>`)
	path := filepath.Join(t.TempDir(), "drawings.html")
	if err := os.WriteFile(path, []byte(page.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	out, _ := browse(t, exe, "file://"+path, "--virtual-time-budget=20000", "--dump-dom")
	var got pageAnswer
	answerOf(t, out, &got)
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
// belongs to another station, and BACK stays readable beside it. A letter too wide for
// the blank on edge stands beside it.
func TestTurnWords(t *testing.T) {
	for _, c := range []struct{ w, h, t, zero string }{{"4.75", "3.125", "0.5", "near-left"}, {"300", "40", "3", "far-right"}} {
		s := blankSet(t, c.w, c.h, c.t, c.zero, registration.FlipY, registration.NoRegister, transform.MM, 1)
		svg := TurnDrawing(s)
		all := letteringOf(t, svg)
		var words []string
		var edge lettering
		for _, l := range all {
			words = append(words, l.text)
			if l.class == "letter" && l.text == "D" && edge.text == "" && len(words) > 7 {
				edge = l
			}
		}
		if joined := strings.Join(words, " "); !strings.Contains(joined, "BACK") || !strings.Contains(joined, "face zero, underneath") || strings.Contains(joined, "G54 is") {
			t.Errorf("%s x %s: %q", c.w, c.h, words)
		}
		if c.t == "3" {
			// The half-turned blank is the second of three.
			var strips []node
			for _, n := range nodes(t, svg) {
				if n.name == "rect" && n.class == "blank" {
					strips = append(strips, n)
				}
			}
			if x := strips[1].f(t, "x") + strips[1].f(t, "width"); edge.box().x0 < x {
				t.Errorf("D begins at %g, on the strip that ends at %g", edge.box().x0, x)
			}
			if !strings.Contains(svg, `class="leader thin"`) {
				t.Error("no line leads from D to its edge")
			}
		}
	}
}
