package report

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/draw"
	"flipcalc/report/internal/readback"
)

// measure of a length such as "120mm": millimetres of paper (CSS Values 3, 6.2: 1in = 25.4mm).
func paper(t *testing.T, length string) float64 {
	t.Helper()
	k, text := 1.0, strings.TrimSuffix(length, "mm")
	if text == length {
		k, text = 25.4, strings.TrimSuffix(length, "in")
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || text == length {
		t.Fatalf("%q is no length on paper", length)
	}
	return v * k
}

func overlay(s Setup) string {
	drawing, _ := OverlayDrawing(s)
	return drawing
}

// The sheet that is named holds the print with 5 mm to spare at each edge, and says so on
// it; the blank alone would fit the one before. ISO 216: A4 is 210 x 297, A3 297 x 420
// (from memory).
func TestOverlayNamesItsPaper(t *testing.T) {
	for _, c := range []struct {
		w, h string
		unit transform.Unit
		want string
	}{
		{"120", "80", transform.MM, "A4"}, {"190", "80", transform.MM, "A4"}, {"80", "190", transform.MM, "A4"},
		{"190", "280", transform.MM, "A3"}, {"500", "300", transform.MM, "A2"}, {"700", "400", transform.MM, "A1"},
		{"1100", "100", transform.MM, "A0"}, {"1180", "100", transform.MM, "paper larger than A0"},
		{"6", "4", transform.Inch, "Letter"}, {"11-3/4", "7", transform.Inch, "11 x 17 in"}, {"50", "7", transform.Inch, "paper larger than 34 x 44 in"},
	} {
		s := drawn()
		s.Unit = c.unit
		w, err := registration.ParseLength(c.w, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		h, err := registration.ParseLength(c.h, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		s.Answer.Used.W, s.Answer.Used.H = w, h
		s.Answer.Question.Pins, s.Answer.FaceZero, s.Answer.BackZero = nil, pt("0", "0"), pt("0", "0")
		s.Drawings = &Drawings{Face: drilledAt(t, "G21 G90 G54\nM3 S9000\nG0 X1 Y1 Z5\nG1 Z-1 F200\nG0 Z5\nM30\n")}
		drawing, sheet := OverlayDrawing(s)
		if sheet != c.want || !strings.Contains(drawing, "Print at 100 % on "+c.want+". This line") {
			t.Errorf("%s x %s %s: %q, want %q", c.w, c.h, c.unit, sheet, c.want)
		}
	}
}

// The print has the blank's size: a unit of the drawing is a unit on paper, the line to
// check it is 50 mm or 2 in, and the outline is the blank of the JSON, dowels in place.
func TestOverlayIsFullSize(t *testing.T) {
	inch := drawn()
	inch.Unit = transform.Inch
	for name, c := range map[string]struct {
		s        Setup
		per, bar float64
	}{"mm": {drawn(), 1, 50}, "in": {inch, 25.4, 50.8}} {
		all := readback.Nodes(t, overlay(c.s))
		view := strings.Fields(all[0].Attr["viewBox"])
		for i, key := range []string{"width", "height"} {
			v, err := strconv.ParseFloat(view[2+i], 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := paper(t, all[0].Attr[key]) / v; math.Abs(got-c.per) > 1e-4 {
				t.Errorf("%s: a unit is %g mm %s on paper, want %g", name, got, key, c.per)
			}
		}
		var b bytes.Buffer
		if err := JSON(&b, c.s); err != nil {
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
		bars, blanks, pins := 0, 0, 0
		for _, n := range all {
			if len(n.In) == 0 {
				continue
			}
			switch in := n.Group()["class"]; {
			case in == "print-scale" && n.Attr["y1"] == n.Attr["y2"]:
				bars++
				if got := (n.Number(t, "x2") - n.Number(t, "x1")) * c.per; math.Abs(got-c.bar) > 1e-4 {
					t.Errorf("%s: the line to check is %g mm, want %g", name, got, c.bar)
				}
			case in == "blank-outline":
				blanks++
				if n.Number(t, "width") != number("origin.blank.w") || n.Number(t, "height") != number("origin.blank.h") {
					t.Errorf("%s: the outline is %s x %s", name, n.Attr["width"], n.Attr["height"])
				}
			case in == "stud" && n.Name == "circle":
				i := strconv.Itoa(pins)
				pins++
				if n.Number(t, "cx") != c.s.Answer.Question.Pins[pins-1].At.X.InexactFloat64() || -n.Number(t, "cy") != c.s.Answer.Question.Pins[pins-1].At.Y.InexactFloat64() || 2*n.Number(t, "r") != c.s.Answer.Question.Pins[pins-1].Dia.InexactFloat64() {
					t.Errorf("%s: pin %s is drawn at %s, %s", name, i, n.Attr["cx"], n.Attr["cy"])
				}
			}
		}
		if bars != 1 || blanks != 1 || pins != 2 {
			t.Errorf("%s: %d lines to check, %d outlines, %d pins", name, bars, blanks, pins)
		}
	}
}

// drilledAt follows a program of the face or the back and gives its path.
func drilledAt(t *testing.T, program string) *draw.Path {
	t.Helper()
	p, err := draw.Trace(strings.NewReader(program), motion.Options{}, transform.MM, 0.01, 0)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Holes drilled from both sides lie over each other: with the blank turned and the zeros
// anywhere, a hole at u on the face is at W - u (flip y) or H - v (flip x) on the back
// (derived). A back drilled 0.5 off is seen 0.5 off.
func TestOverlayHolesCoincide(t *testing.T) {
	const face = "G21 G90 G54\nM3 S9000\nG0 X20 Y15 Z5\nG1 Z-6 F200\nG0 Z5\nG0 X70 Y60\nG1 Z-6\nG0 Z5\nM30\n"
	for _, c := range []struct {
		name string
		flip registration.Flip
		back string
		off  [2]float64
	}{
		{"flip y", registration.FlipY, "X87 Y11|X37 Y56", [2]float64{}},
		{"flip x", registration.FlipX, "X17 Y57|X67 Y12", [2]float64{}},
		{"0.5 off", registration.FlipY, "X87.5 Y11|X37.5 Y56", [2]float64{-0.5, 0}},
	} {
		s := markerSetup()
		s.Answer.Question.Flip = c.flip
		s.Answer.FaceZero, s.Answer.BackZero = pt("10", "5"), pt("3", "9")
		if c.flip == registration.FlipX {
			s.Answer.BackZero = pt("13", "3")
		}
		one, two, _ := strings.Cut(c.back, "|")
		back := "G21 G90 G55\nM3 S9000\nG0 " + one + " Z5\nG1 Z-6 F200\nG0 Z5\nG0 " + two + "\nG1 Z-6\nG0 Z5\nM30\n"
		s.Drawings = &Drawings{Face: drilledAt(t, face), Back: drilledAt(t, back)}
		holes := map[string][][2]float64{}
		for _, n := range readback.Nodes(t, overlay(s)) {
			if n.Name == "circle" && strings.HasPrefix(n.Class, "cut") {
				side := n.Group()["data-side"]
				holes[side] = append(holes[side], [2]float64{n.Number(t, "cx"), -n.Number(t, "cy")})
			}
		}
		if len(holes["face"]) != 2 || len(holes["back"]) != 2 {
			t.Fatalf("%s: holes %v", c.name, holes)
		}
		for i, f := range holes["face"] {
			b := holes["back"][i]
			if !near(b[0]-f[0], c.off[0]) || !near(b[1]-f[1], c.off[1]) {
				t.Errorf("%s: hole %d is at %v on the face and at %v on the back, want %v between them", c.name, i+1, f, b, c.off)
			}
		}
		if f := holes["face"][0]; !near(f[0], 30) || !near(f[1], 20) {
			t.Errorf("%s: hole 1 is drawn at %v, want 30, 20", c.name, f)
		}
	}
}
