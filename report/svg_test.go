package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// node is one element of a drawing with its parents' data attributes.
type node struct {
	name  string
	attr  map[string]string
	class string
	in    []map[string]string // attributes of the groups round it, the outermost first
}

// nodes reads a drawing; it must be well-formed XML with names for readers.
func nodes(t *testing.T, svg string) []node {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(svg))
	var out []node
	var stack []map[string]string
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("no XML: %v", err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			a := map[string]string{}
			for _, x := range e.Attr {
				a[x.Name.Local] = x.Value
			}
			out = append(out, node{e.Name.Local, a, a["class"], append([]map[string]string(nil), stack...)})
			stack = append(stack, a)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		}
	}
	return out
}

func (n node) f(t *testing.T, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(n.attr[key], 64)
	if err != nil {
		t.Fatalf("%s %s: %v", n.name, key, err)
	}
	return v
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-5 }

// The drawing of the bed is read back and compared with the JSON: corners, sizes
// and zeros of the stations lie where the numbers say, Y turned round.
func TestBedDrawingAgreesWithJSON(t *testing.T) {
	s := markerSetup()
	var b bytes.Buffer
	if err := JSON(&b, s); err != nil {
		t.Fatal(err)
	}
	v := decode(t, b.Bytes())
	number := func(path string) float64 {
		f, err := strconv.ParseFloat(get(t, v, path).(interface{ String() string }).String(), 64)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	all := nodes(t, BedDrawing(s))
	// The travel gives the line from which Y is turned round.
	var top float64
	var blanks, rings, pins []node
	for _, n := range all {
		switch {
		case n.name == "rect" && n.class == "travel":
			top = n.f(t, "y") + number("machine.greatest.1")
			if !near(n.f(t, "width"), number("machine.greatest.0")-number("machine.least.0")) {
				t.Errorf("travel is %s wide", n.attr["width"])
			}
		case n.name == "rect" && n.class == "blank":
			blanks = append(blanks, n)
		case n.name == "circle" && n.class == "zero-ring":
			rings = append(rings, n)
		case n.name == "circle" && n.class == "pin":
			pins = append(pins, n)
		}
	}
	if len(blanks) != 2 || len(rings) != 2 || len(pins) != 4 {
		t.Fatalf("%d blanks, %d zeros, %d pins, want 2, 2 and 4", len(blanks), len(rings), len(pins))
	}
	for i := range blanks {
		at := "stations.stations." + itoa(i)
		if x, y := blanks[i].f(t, "x"), top-blanks[i].f(t, "y")-blanks[i].f(t, "height"); !near(x, number(at+".corner.x")) || !near(y, number(at+".corner.y")) {
			t.Errorf("station %d is drawn with its corner at %g, %g", i, x, y)
		}
		if !near(blanks[i].f(t, "width"), number(at+".w")) || !near(blanks[i].f(t, "height"), number(at+".h")) {
			t.Errorf("station %d is drawn %s x %s", i, blanks[i].attr["width"], blanks[i].attr["height"])
		}
		if x, y := rings[i].f(t, "cx"), top-rings[i].f(t, "cy"); !near(x, number(at+".zero.x")) || !near(y, number(at+".zero.y")) {
			t.Errorf("zero %d is drawn at %g, %g", i, x, y)
		}
	}
	if r := pins[0].f(t, "r"); !near(r, 3) {
		t.Errorf("a 6 mm pin is drawn with radius %g", r)
	}
}

// A point of the face program at p lies, face up, at p + a; a back program that
// is the mirrored face (x' = 120 - x) must draw the same feature mirrored.
func TestPathDrawingIsInPlace(t *testing.T) {
	s := markerSetup()
	s.Answer.FaceZero = pt("10", "5")
	s.Drawings = &Drawings{Face: &Path{Strokes: []Stroke{{Points: [][2]float64{{0, 0}, {30, 20}}}}}, Back: &Path{Strokes: []Stroke{{Points: [][2]float64{{0, 0}, {50, 20}}}}}}
	all := nodes(t, PathDrawing(s))
	var blanks, cuts []node
	for _, n := range all {
		if n.name == "rect" && n.class == "blank" {
			blanks = append(blanks, n)
		}
		if n.name == "polyline" && n.class == "cut" {
			cuts = append(cuts, n)
		}
	}
	if len(blanks) != 2 || len(cuts) != 2 {
		t.Fatalf("%d blanks and %d cuts, want 2 and 2", len(blanks), len(cuts))
	}
	for i, want := range [][4]float64{{10, 5, 40, 25}, {0, 0, 50, 20}} {
		left, near0 := blanks[i].f(t, "x"), blanks[i].f(t, "y")+blanks[i].f(t, "height")
		var got [4]float64
		for k, p := range strings.Fields(cuts[i].attr["points"]) {
			xs, ys, _ := strings.Cut(p, ",")
			x, _ := strconv.ParseFloat(xs, 64)
			y, _ := strconv.ParseFloat(ys, 64)
			got[2*k], got[2*k+1] = x-left, near0-y
		}
		for k := range want {
			if math.Abs(got[k]-want[k]) > 0.006 {
				t.Errorf("panel %d: from and to %v, want %v", i, got, want)
				break
			}
		}
	}
}

// The letters in the drawing of the turn: near, right, far and left of the last
// panel show how the lettered blank lies after the turn.
func TestTurnDrawingLetters(t *testing.T) {
	for _, c := range []struct {
		flip registration.Flip
		want string
	}{{registration.FlipY, "ABCDADCB"}, {registration.FlipX, "ABCDCBAD"}} {
		s := Setup{Answer: markerAnswer()}
		s.Answer.Question.Flip = c.flip
		svg := TurnDrawing(s)
		var got strings.Builder
		for _, l := range letteringOf(t, svg) {
			if l.class == "letter" {
				got.WriteString(l.text)
			}
		}
		// The half-turned blank's letters stand in between.
		if g := got.String()[:4] + got.String()[got.Len()-4:]; g != c.want {
			t.Errorf("flip %v: letters %s, want %s", c.flip, g, c.want)
		}
	}
}

// Every drawing has a title and a description that its root names, every colour
// comes from the sheet's inks, and nothing asks for a font or a file.
func TestDrawingsStandAlone(t *testing.T) {
	s := drawn()
	for name, svg := range map[string]string{"bed": BedDrawing(s), "turn": TurnDrawing(s), "paths": PathDrawing(s), "web": webDrawing(s), "web in the sheet": s.webFigure().SVG} {
		all := nodes(t, svg)
		root := all[0]
		ids := map[string]bool{}
		for _, n := range all {
			if id := n.attr["id"]; id != "" {
				if ids[id] {
					t.Errorf("%s: id %q twice", name, id)
				}
				ids[id] = true
			}
			if h := n.attr["href"]; h != "" && !strings.HasPrefix(h, "data:image/png;base64,") || n.name == "script" {
				t.Errorf("%s: %s asks for something outside", name, n.name)
			}
		}
		if root.name != "svg" || root.attr["role"] != "img" {
			t.Errorf("%s: the root is %v", name, root)
		}
		for id := range strings.FieldsSeq(root.attr["aria-labelledby"]) {
			if !ids[id] {
				t.Errorf("%s: nothing is called %q", name, id)
			}
		}
		if !strings.HasPrefix(svg, `<svg xmlns="http://www.w3.org/2000/svg"`) {
			t.Errorf("%s: doesn't stand alone", name)
		}
	}
}

// Names from outside can't break out of the drawing or the page.
func TestNamesAreEscaped(t *testing.T) {
	s := drawn()
	nasty := `"><script>alert(1)</script>&`
	s.Title, s.Job, s.Material = nasty, nasty, nasty
	s.Machine.Name, s.Machine.NoGo[0].Name, s.Machine.Taken[0].Area.Name = nasty, nasty, nasty
	s.Stations[0].Offset, s.Programs[0].Name, s.Lines[0] = nasty, nasty, nasty
	var b bytes.Buffer
	if err := HTML(&b, s); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script") {
		t.Error("a name became a script")
	}
	nodes(t, BedDrawing(s))
}

// The map keeps the thinnest place when cells are put together, and its bands
// are in order.
func TestWebMapKeepsThinPlaces(t *testing.T) {
	g := &Grid{NX: 1000, NY: 700, Cell: 0.1, V: make([]float32, 700_000)}
	for i := range g.V {
		g.V[i] = 12
	}
	g.V[350*1000+501] = 0.4
	inks := []string{"#000000", "#ffffff"}
	img := inkedMap(g, 160, 112, 1, func(v float64) int { return min(int(v), 1) }, inks)
	if !slices.Contains(img.Pix, 2) {
		t.Error("the least web left isn't on the map")
	}
	// Least values are rounded down, in inches to three decimals (0.375 in is 9.525 mm).
	inch := &Setup{Unit: transform.Inch, Check: &Check{Least: dp("0.125")}}
	e, asked := inch.webScale(0.5)
	if got := e.key(1, asked, transform.Inch); got != "0.062 to 0.125, thin" || !asked {
		t.Errorf("the key says %q", got)
	}
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{0.375, drawnPlaces(transform.Inch), "0.375"}, {9.525, drawnPlaces(transform.MM), "9.52"}, {9.529, 2, "9.52"}, {0.3, 3, "0.3"}, {1.1 * 3, 2, "3.3"}, {-0.001, 2, "-0.01"}} {
		if got := down(c.v, c.n); got != c.want {
			t.Errorf("%g is shown as %s, want %s", c.v, got, c.want)
		}
	}
	// Greatest values are rounded up.
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{0.4421, 3, "0.443"}, {0.442, 3, "0.442"}, {0.1 + 0.2, 3, "0.3"}, {0.4401, drawnPlaces(transform.MM), "0.45"}, {0.0171, drawnPlaces(transform.Inch), "0.018"}, {1e-10, 3, "0"}, {0.0001, 3, "0.001"}} {
		if got := up(c.v, c.n); got != c.want {
			t.Errorf("%g is shown as %s at most, want %s", c.v, got, c.want)
		}
	}
	// Without a web asked for six equal bands of 12: 0, 2, 4 ... With 2 asked for of 32 the
	// bounds are 0, 1, 2 and 9.5, 17, 24.5, 32 (derived).
	two := &Setup{Check: &Check{Least: dp("2")}}
	for _, b := range []struct {
		s      *Setup
		v, top float64
		want   int
	}{
		{&Setup{}, -1, 12, -1}, {&Setup{}, 0, 12, -1}, {&Setup{}, 0.1, 12, 0}, {&Setup{}, 2, 12, 1}, {&Setup{}, 11.99, 12, 5}, {&Setup{}, 12, 12, 5},
		{two, 0.99, 32, 0}, {two, 1.99, 32, 1}, {two, 2, 32, 2}, {two, 9.4, 32, 2}, {two, 9.6, 32, 3}, {two, 24.4, 32, 4}, {two, 31, 32, 5},
		{two, 1.5, 1.8, 5},
	} {
		e, _ := b.s.webScale(b.top)
		if got := e.band(b.v); got != b.want {
			t.Errorf("a web of %g of %g lies in band %d, want %d", b.v, b.top, got, b.want)
		}
	}
}

// The budget's terms stand in falling order, those of face and back of one kind as their sum.
func TestBudgetTermsFall(t *testing.T) {
	s := Setup{Budget: &Budget{At: pt("0", "0"), Terms: []BudgetTerm{{Name: "play", Worst: 0.05}, {Name: "seat", Worst: 0.03, Sides: "face"}, {Name: "seat", Worst: 0.03, Sides: "back"}}}}
	rows := s.budgetSection().Blocks[1].(Table).Rows
	if len(rows) != 2 || rows[0][0] != "seat" || rows[0][1] != "0.06" || rows[1][0] != "play" {
		t.Errorf("%v", rows)
	}
}

// Whatever shows the budget shows no less than it is, and the least web no more.
func TestLimitsHoldAsShown(t *testing.T) {
	s := markerSetup()
	s.Budget.Worst, s.Budget.Likely, s.Budget.Terms[0].Worst = 0.0921, 0.0561, 0.0401
	s.Check.WebMin = 3.1996
	var sheet, terminal strings.Builder
	if err := HTML(&sheet, s); err != nil {
		t.Fatal(err)
	}
	if err := Terminal(&terminal, s, Options{Why: true}); err != nil {
		t.Fatal(err)
	}
	short := s // with room for the budget on page one
	short.ClearZ = nil
	for _, c := range []struct{ where, text, want, not string }{
		{"sheet", sheet.String(), "0.093 mm", "0.092 mm"},
		{"sheet", sheet.String(), "0.057 mm", "0.056 mm"},
		{"sheet", sheet.String(), "0.041", "0.04<"},
		{"sheet", sheet.String(), "3.199 mm", ""},
		{"terminal", terminal.String(), "0.093 mm", "0.092 mm"},
		{"page one", strings.Join(short.planLines(), "\n"), "Back off by 0.06 likely, 0.1 at most", ""},
		{"page one", strings.Join(short.planLines(), "\n"), "Least web 3.19 mm", ""},
	} {
		if !strings.Contains(c.text, c.want) || c.not != "" && strings.Contains(c.text, c.not) {
			t.Errorf("%s: no %q, or %q in %s", c.where, c.want, c.not, c.text[:min(len(c.text), 500)])
		}
	}
}
