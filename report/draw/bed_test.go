package draw

import (
	"maps"
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/internal/readback"
)

// Pins and fixture are drawn at placed stations too. A pin at (50, 10) of a blank of
// 120 x 80 with its corner at X100 Y50 stands at X150 Y60; under the blank turned
// like a page, with its corner at X240.5 Y50, at 240.5 + 120 - 50 = 310.5 (derived);
// turned about X its Y is 50 + 80 - 10 = 120.
func TestBedDrawingShowsPinsAndFixture(t *testing.T) {
	for _, test := range []struct {
		flip         registration.Flip
		backX, backY float64
	}{{registration.FlipY, 310.5, 60}, {registration.FlipX, 290.5, 120}} {
		s := marker(t)
		s.Fixture = dp("10")
		a := *s.Answer
		a.Question.Flip, a.Question.Pins = test.flip, []registration.Pin{{At: pt("50", "10"), Dia: d("6")}}
		s.Answer = &a
		drawing := Bed(s).SVG(true)
		var pins, frames [][2]float64
		var words []string
		var top float64 // the travel gives the line from which Y is turned round
		for _, n := range readback.Nodes(t, drawing) {
			switch {
			case n.Name == "rect" && n.Class == "travel":
				top = n.Number(t, "y") + 400
			case n.Name == "circle" && n.Class == "pin":
				pins = append(pins, [2]float64{n.Number(t, "cx"), top - n.Number(t, "cy")})
			case n.Name == "rect" && n.Class == "hidden fixture":
				frames = append(frames, [2]float64{n.Number(t, "x"), n.Number(t, "width")})
			}
		}
		if len(pins) != 2 || !near(pins[0][0], 150) || !near(pins[0][1], 60) || !near(pins[1][0], test.backX) || !near(pins[1][1], test.backY) {
			t.Errorf("flip %s: pins at %v", test.flip, pins)
		}
		if len(frames) != 2 || frames[0] != [2]float64{90, 140} || frames[1] != [2]float64{230.5, 140} {
			t.Errorf("fixtures from X, wide: %v", frames)
		}
		for _, w := range []string{"the machine&#39;s travel: X 0 to 600, Y 0 to 400", "dashed: fixture", "the fixture goes 10 beyond each blank"} {
			if !strings.Contains(drawing, w) {
				words = append(words, w)
			}
		}
		if len(words) > 0 {
			t.Errorf("the drawing doesn't say %q", words)
		}
	}
}

// bedLook is what the drawing of a bed shows, read back: what locates the blanks, by
// its name and place, and all its words.
type bedLook struct {
	studs    map[string][]string // name: "X Y radius" of each
	contacts map[string]int      // "fence near 60": how many of its points touch there
	words    []string
	travels  int
}

func lookAt(t *testing.T, svg string) bedLook {
	t.Helper()
	out := bedLook{studs: map[string][]string{}, contacts: map[string]int{}}
	for _, n := range readback.Nodes(t, svg) {
		in := n.Group()
		switch {
		case n.Name == "circle" && in["class"] == "stud":
			out.studs[in["data-name"]] = append(out.studs[in["data-name"]], num(n.Number(t, "cx"))+" "+num(-n.Number(t, "cy"))+" "+num(n.Number(t, "r")))
		case n.Class == "contact":
			tip, _, _ := strings.Cut(n.Attr["points"], " ")
			xs, ys, _ := strings.Cut(tip, ",")
			at := xs
			if side := in["data-side"]; side == "near" || side == "far" {
				at = strings.TrimPrefix(ys, "-")
			}
			out.contacts[in["data-name"]+" "+in["data-side"]+" "+at]++
		case n.Class == "travel":
			out.travels++
		}
	}
	for _, l := range readback.Lines(t, svg) {
		out.words = append(out.words, l.Text)
	}
	return out
}

// A fence has two contacts and a stop one (the 3-2-1 rule of locating, common practice),
// at every station. By hand: pair 2 lies 120 farther off, its blanks' near edge at
// 60 + 120 = 180; the back station 160 to the right, its right edge at 210 + 140 = 350.
func TestBedShowsLocatorsOfEveryPair(t *testing.T) {
	s := stop(t)
	s.Stations = nil
	for pair, y := range []string{"60", "180"} {
		for side, x := range []string{"50", "210"} {
			s.Stations = append(s.Stations, station(pair+1, sideOf(side == 1), "G5"+itoa(4+2*pair+side), pt(x, y), "140", "90"))
		}
	}
	got := lookAt(t, Bed(s).SVG(true))
	want := map[string]int{"fence near 60": 4, "fence near 180": 4, "stop left 50": 2, "stop right 350": 2}
	if !maps.Equal(got.contacts, want) {
		t.Errorf("contacts %v, want %v", got.contacts, want)
	}
	for _, w := range []string{"fence Y60", "fence Y180", "stop X50", "stop X350"} {
		if n := count(got.words, w); n != 2 {
			t.Errorf("%q stands there %d times, want 2: %q", w, n, got.words)
		}
	}
	// Turned by a quarter counter-clockwise the near edge comes to the right and the left
	// one near: the fence at 10 + 90 = 100, the stop at Y500.
	turned := station(1, bed.FaceSide, "G54", pt("10", "500"), "90", "140")
	turned.Zero.X, turned.Turn = d("100"), 1
	s.Stations = []bed.Station{turned}
	want = map[string]int{"fence right 100": 2, "stop near 500": 1}
	if got := lookAt(t, Bed(s).SVG(true)).contacts; !maps.Equal(got, want) {
		t.Errorf("turned: contacts %v, want %v", got, want)
	}
}

func count(words []string, w string) int {
	n := 0
	for _, o := range words {
		if o == w {
			n++
		}
	}
	return n
}

// Face and back on one station: every edge that changes carries both letters, every
// stop its coordinate and its side, and no frame stands for a travel that isn't known.
// A page turned over has its left edge right (derived).
func TestBedOfOneStation(t *testing.T) {
	got := lookAt(t, Bed(stop(t)).SVG(true))
	for _, w := range []string{"A", "B, back D", "C", "D, back B", "stop X50, face", "stop X190, back", "fence Y60, face and back", "face G54 / back G55"} {
		if count(got.words, w) != 1 {
			t.Errorf("no %q in %q", w, got.words)
		}
	}
	if got.travels > 0 {
		t.Error("a travel is drawn that isn't known")
	}
	// Nor is it where the machine is known by a no-go area alone, which is in the picture.
	s := stop(t)
	s.NoGo = []Area{area("no-go 1", "300", "20", "50", "40")}
	if svg := Bed(s).SVG(true); strings.Contains(svg, "travel-area") || strings.Contains(svg, "0 to 0") || !strings.Contains(svg, "no-go") {
		t.Error(svg)
	}
}

// On dowels beside its middle the turned blank lies beside where it lay: what both sides
// lie on is drawn and named once.
func TestBedOfOneStationBeside(t *testing.T) {
	q := registration.Question{Stock: &registration.Blank{W: d("120"), H: d("80"), T: d("12")}, Flip: registration.FlipY, Zero: registration.Zero{Name: "near-left"},
		At: &registration.Position{X: d("200"), Y: d("100")}, Register: registration.Dowels,
		Pins: []registration.Pin{{At: pt("40", "6"), Dia: d("6")}, {At: pt("40", "74"), Dia: d("5")}}}
	got := lookAt(t, Bed(onePlace(solved(t, q))).SVG(true))
	for _, w := range []string{"dowel 1 Ø6", "dowel 2 Ø5", "face G54", "back G55"} {
		if count(got.words, w) != 1 {
			t.Errorf("%q %d times in %q", w, count(got.words, w), got.words)
		}
	}
}

// A plug is drawn with its own diameter at every station, a pin without a diameter as a
// cross that claims none. By hand: bore at (32, 32) of the blank, corners at (0, 0) and
// (94, 0), so plugs at X32 and X126, with half of 11.9 as their radius.
func TestBedShowsPlugs(t *testing.T) {
	q := registration.Question{Stock: &registration.Blank{W: d("64"), H: d("64"), T: d("15")}, Flip: registration.FlipX, Zero: registration.Zero{Name: "center"},
		At: &registration.Position{X: d("32"), Y: d("32")}, Register: registration.Plug, Bore: &registration.Pin{At: pt("32", "32"), Dia: d("12")}, PlugD: dp("11.9"),
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("56", "32")}}
	a := solved(t, q)
	s := &Scene{Answer: a}
	for i, x := range []string{"0", "94"} {
		st := station(i+1, bed.FaceSide, "G5"+itoa(4+i), pt(x, "0"), "64", "64")
		st.Zero = registration.Position{X: d(x).Add(d("32")), Y: d("32")}
		s.Stations = append(s.Stations, st)
	}
	got := lookAt(t, Bed(s).SVG(true))
	if p := got.studs["plug"]; len(p) != 2 || p[0] != "32 32 5.95" || p[1] != "126 32 5.95" || len(got.studs) != 1 {
		t.Errorf("round things at %v", got.studs)
	}
	for _, w := range []string{"plug Ø11.9", "index pin, dia not given"} {
		if count(got.words, w) == 0 {
			t.Errorf("no %q in %q", w, got.words)
		}
	}
	// Without the plug's diameter only the bore is known, and said to be one.
	a.Question.PlugD = nil
	if got := lookAt(t, Bed(s).SVG(true)); len(got.studs["bore"]) != 2 || count(got.words, "bore Ø12") == 0 {
		t.Errorf("%v, %q", got.studs, got.words)
	}
	// The drawing of the tool paths shows the same, the index pin turned about X.
	s.Face = &Path{}
	if got := lookAt(t, Sides(s).SVG(true)); count(got.words, "bore Ø12") != 2 || count(got.words, "index pin, dia not given") != 2 {
		t.Errorf("tool paths: %q", got.words)
	}
}

// Pins carry their number and diameter; names of areas are whole and say no flag.
func TestBedNamesThings(t *testing.T) {
	s := marker(t)
	s.Taken = append(s.Taken, taken("G58", "bread boards, fence and stop", "10", "250", "50", "50"),
		taken("G59.1", "--taken", "200", "250", "90", "90"))
	s.NoGo = append(s.NoGo, area("no-go 1", "300", "250", "60", "60"),
		area("clamp 1", "300", "320", "60", "60"))
	words := lookAt(t, Bed(s).SVG(true)).words
	for _, w := range []string{"dowel 1 Ø6", "dowel 2 Ø8"} {
		if n := count(words, w); n != 2 {
			t.Errorf("%q stands there %d times, want 2", w, n)
		}
	}
	all := strings.Join(words, " ")
	if !strings.Contains(all, "G58 taken bread boards, fence and stop") || strings.Contains(all, "--taken") || strings.Count(all, "no-go 1") != 1 || strings.Count(all, "clamp 1") != 1 {
		t.Errorf("areas: %q", words)
	}
}

// Of very many areas only those that have room for their name are named: no lines across
// the bed.
func TestBedOfManyAreas(t *testing.T) {
	s := marker(t)
	s.NoGo = []Area{area("no-go 1", "10", "250", "200", "90")}
	for i := range 40 {
		s.NoGo = append(s.NoGo, area("no-go "+itoa(i+2), itoa(10*i), "240", "2", "2"))
	}
	if words := strings.Join(lookAt(t, Bed(s).SVG(true)).words, "\n"); !strings.Contains(words, "no-go 1\n") || strings.Count(words, "no-go") != 1 {
		t.Errorf("%s", words)
	}
}
