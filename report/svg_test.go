package report

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"flipcalc/report/internal/readback"
)

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
	all := readback.Nodes(t, bedDrawing(s))
	// The travel gives the line from which Y is turned round.
	var top float64
	var blanks, rings, pins []readback.Node
	for _, n := range all {
		switch {
		case n.Name == "rect" && n.Class == "travel":
			top = n.Number(t, "y") + number("machine.greatest.1")
			if !near(n.Number(t, "width"), number("machine.greatest.0")-number("machine.least.0")) {
				t.Errorf("travel is %s wide", n.Attr["width"])
			}
		case n.Name == "rect" && n.Class == "blank":
			blanks = append(blanks, n)
		case n.Name == "circle" && n.Class == "zero-ring":
			rings = append(rings, n)
		case n.Name == "circle" && n.Class == "pin":
			pins = append(pins, n)
		}
	}
	if len(blanks) != 2 || len(rings) != 2 || len(pins) != 4 {
		t.Fatalf("%d blanks, %d zeros, %d pins, want 2, 2 and 4", len(blanks), len(rings), len(pins))
	}
	for i := range blanks {
		at := "stations.stations." + itoa(i)
		if x, y := blanks[i].Number(t, "x"), top-blanks[i].Number(t, "y")-blanks[i].Number(t, "height"); !near(x, number(at+".corner.x")) || !near(y, number(at+".corner.y")) {
			t.Errorf("station %d is drawn with its corner at %g, %g", i, x, y)
		}
		if !near(blanks[i].Number(t, "width"), number(at+".w")) || !near(blanks[i].Number(t, "height"), number(at+".h")) {
			t.Errorf("station %d is drawn %s x %s", i, blanks[i].Attr["width"], blanks[i].Attr["height"])
		}
		if x, y := rings[i].Number(t, "cx"), top-rings[i].Number(t, "cy"); !near(x, number(at+".zero.x")) || !near(y, number(at+".zero.y")) {
			t.Errorf("zero %d is drawn at %g, %g", i, x, y)
		}
	}
	if r := pins[0].Number(t, "r"); !near(r, 3) {
		t.Errorf("a 6 mm pin is drawn with radius %g", r)
	}
}

// Every drawing has a title and a description that its root names, every colour
// comes from the sheet's inks, and nothing asks for a font or a file.
func TestDrawingsStandAlone(t *testing.T) {
	s := drawn()
	for name, svg := range map[string]string{"bed": bedDrawing(s), "turn": turnDrawing(s), "paths": pathDrawing(s), "web": webDrawing(s), "web in the sheet": s.webFigure().SVG} {
		all := readback.Nodes(t, svg)
		root := all[0]
		ids := map[string]bool{}
		for _, n := range all {
			if id := n.Attr["id"]; id != "" {
				if ids[id] {
					t.Errorf("%s: id %q twice", name, id)
				}
				ids[id] = true
			}
			if h := n.Attr["href"]; h != "" && !strings.HasPrefix(h, "data:image/png;base64,") || n.Name == "script" {
				t.Errorf("%s: %s asks for something outside", name, n.Name)
			}
		}
		if root.Name != "svg" || root.Attr["role"] != "img" {
			t.Errorf("%s: the root is %v", name, root)
		}
		for id := range strings.FieldsSeq(root.Attr["aria-labelledby"]) {
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
	readback.Nodes(t, bedDrawing(s))
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
	for _, c := range []struct{ where, text, want, not string }{
		{"sheet", sheet.String(), "0.093 mm", "0.092 mm"},
		{"sheet", sheet.String(), "0.057 mm", "0.056 mm"},
		{"sheet", sheet.String(), "0.041", "0.04<"},
		{"sheet", sheet.String(), "3.199 mm", ""},
		{"terminal", terminal.String(), "0.093 mm", "0.092 mm"},
		{"page one", strings.Join(s.foundInMemory(), "\n"), "Back lies off the face: 0.06 mm likely, 0.1 at most", ""},
		{"page one", strings.Join(s.foundInMemory(), "\n"), "Least wood left between face and back: 3.19 mm, 2 wanted: good", ""},
	} {
		if !strings.Contains(c.text, c.want) || c.not != "" && strings.Contains(c.text, c.not) {
			t.Errorf("%s: no %q, or %q in %s", c.where, c.want, c.not, c.text[:min(len(c.text), 500)])
		}
	}
}
