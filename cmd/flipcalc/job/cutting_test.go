package job

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/plain"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/report"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func dp(s string) *decimal.Decimal { v := d(s); return &v }

func pt(x, y string) registration.Point { return registration.Point{X: d(x), Y: d(y)} }

// checked is a question that was solved, as check looks at it: keys are those of a job, key
// and value in turn, machine nil where the travel isn't known.
func checked(t *testing.T, q registration.Question, machine *bed.Machine, keys ...string) *cutting {
	t.Helper()
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	j := New(ask.New(ask.FindVerb("check")), nil, "")
	j.Put("units", "", []string{q.Unit.String()})
	j.Put("tool", "", []string{"1=flat,6"})
	for i := 0; i < len(keys); i += 2 {
		j.Put(keys[i], "", strings.Split(keys[i+1], " "))
	}
	j.Machine = &ask.Machine{Known: machine != nil}
	if machine != nil {
		j.Machine.Machine = *machine
	}
	return &cutting{Job: j, answer: a, face: []cut.Program{{Name: "face.nc"}}, back: []cut.Program{{Name: "outline.nc"}, {Name: "lettering.nc"}}}
}

func bread() registration.Question {
	z := d("-80")
	return registration.Question{Stock: &registration.Blank{W: d("140"), H: d("90"), T: d("19")}, Flip: registration.FlipY,
		Register: registration.FenceStop, Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right}, At: &registration.Position{X: d("50"), Y: d("60"), Z: &z}}
}

func same(t *testing.T, name string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %v, want %v", name, got, want)
	}
}

// Table at -140 and a board of 19: its top lies at Z-121 without a tool, where an offset
// with whole tool lengths in use has it. A tool 40 out has the spindle at Z-81 then (derived).
func TestTravelWithToolLengths(t *testing.T) {
	for _, c := range []struct {
		name, z string
		lengths registration.Lengths
		stick   string // "" is unknown
		want    float64
		known   bool
	}{
		{"whole lengths", "-121", registration.LengthsWhole, "40", -81, true},
		{"whole lengths, no stick-out", "-121", registration.LengthsWhole, "", 0, false},
		{"lengths called", "-121", registration.LengthsCalled, "40", -81, true},
		{"the tool reckoned in", "-81", registration.LengthsTool, "40", -81, true},
	} {
		q := bread()
		*q.At.Z, q.Lengths = d(c.z), c.lengths
		var keys []string
		if c.stick != "" {
			keys = []string{"stick-out", c.stick}
		}
		m := &bed.Machine{Table: dp("-140"), X: bed.Range{Greatest: d("600")}, Y: bed.Range{Greatest: d("400")}, Z: bed.Range{Least: d("-110")}}
		r, notes := checked(t, q, m, keys...).request()
		for _, z := range r.Zeros {
			same(t, c.name, z.Z, c.want)
			if z.ZKnown != c.known {
				t.Errorf("%s: Z known is %v", c.name, z.ZKnown)
			}
		}
		if slices.ContainsFunc(notes, func(n report.Note) bool { return fact.Code(n.Is) == "level-unknown" }) == c.known {
			t.Errorf("%s: %v", c.name, notes)
		}
	}
}

// Heights are over the bed, no-go areas' and seats' alike.
func TestHeightsOverTheBed(t *testing.T) {
	q := bread()
	q.Seat, q.BackSeat = d("12"), d("15")
	r, _ := checked(t, q, nil, "no-go", "300,0,9x9,30 500,0,9x9").request()
	same(t, "over the bed", r.NoGo[0].Height, 30)
	same(t, "up to the spindle", r.NoGo[1].Height, 0)
	same(t, "the face's seat", r.Seats[0], 12)
	same(t, "the back's seat", r.Seats[1], 15)
}

// All derived from the question, by hand.
func TestRequestOfABoardAgainstAFence(t *testing.T) {
	q := bread()
	q.Skimmed, q.BackZZero = d("0.5"), registration.Bed
	m := &bed.Machine{Unit: transform.Inch, X: bed.Range{Greatest: d("24")}, Y: bed.Range{Greatest: d("16")}, Z: bed.Range{Least: d("-5")}}
	r, notes := checked(t, q, m, "web", "2", "flute", "20", "no-go", "400,70,15x30", "clamp", "45,70,15x30").request()
	same(t, "thickness before the skim", r.T, 19)
	same(t, "nominal thickness", r.Nominal, 19)
	same(t, "skim", r.Skimmed, 0.5)
	if r.FaceLevel != cut.Top || r.BackLevel != cut.Bed {
		t.Errorf("levels %v, %v", r.FaceLevel, r.BackLevel)
	}
	same(t, "web", r.Web, 2)
	same(t, "flute", r.Tools[0].Flute, 20)
	same(t, "travel in X, of 24 in", r.Travel.Greatest[0], 609.6)
	same(t, "least Z, of -5 in", r.Travel.Least[2], -127)
	same(t, "face zero", r.Zeros[0].X, 50)
	// The stop on the right stands at 50 + 140; the turned blank's corner is at 50 again.
	same(t, "back zero", r.Zeros[1].X, 50)
	// The face zero is the top before the skim, the bed 19 under it.
	same(t, "back zero's Z", r.Zeros[1].Z, -80-19)
	same(t, "on the bed", r.NoGo[0].X, 400)
	same(t, "the clamp on the bed", r.NoGo[1].X, 45)
	if len(r.NoGo) != 2 || r.Clamps != 1 {
		t.Errorf("a no-go area holds: %d of %v", r.Clamps, r.NoGo)
	}
	// The same edges touch: near, and left with the face up.
	// They stand as high as told, or as the blank, and that is said.
	want := [2][]cut.Locator{{{Edge: cut.NearEdge, Height: 18.5}, {Edge: cut.LeftEdge, Height: 18.5}}, {{Edge: cut.NearEdge, Height: 18.5}, {Edge: cut.LeftEdge, Height: 18.5}}}
	if !reflect.DeepEqual(r.Locators, want) {
		t.Errorf("locators %v", r.Locators)
	}
	if r.Face.Name != "face.nc" || r.Face.Offset != 540 || len(r.Face.Also) > 0 {
		t.Errorf("face %+v", r.Face)
	}
	if r.Back.Name != "outline.nc" || r.Back.Offset != 550 || len(r.Back.Then) != 1 || r.Back.Then[0].Name != "lettering.nc" || r.Back.Then[0].Offset != 550 {
		t.Errorf("back %+v", r.Back)
	}
	if codesOf(notes) != "fence-height no-budget" || !strings.Contains(report.NoteWords(notes[0], q.Unit), "assumed 18.5 mm over the seat, as high as the blank") {
		t.Errorf("%+v", notes)
	}
	q.BackStop = registration.Contact{Side: registration.Left}
	r, notes = checked(t, q, nil, "fence-height", "8").request()
	// A stop on the left touches what was the right edge.
	if got := r.Locators[1][1]; got.Edge != cut.RightEdge || got.Height != 8 || strings.Contains(codesOf(notes), "fence-height") {
		t.Errorf("%+v, %+v", got, notes)
	}
}

// Another offset's zero of 1, 2 and -3 in, in mm.
func TestOtherZeros(t *testing.T) {
	x, y, z := d("1"), d("2"), d("-3")
	m := &bed.Machine{Unit: transform.Inch, InUse: []bed.InUse{{Offset: "G57", X: &x, Y: &y, Z: &z}}}
	r, _ := checked(t, bread(), m).request()
	same(t, "X", r.OtherZeros[570].X, 25.4)
	same(t, "Y", r.OtherZeros[570].Y, 50.8)
	same(t, "Z", r.OtherZeros[570].Z, -76.2)
}

// What is rounded of a program counts on its own side: 0.01 of the face, 0.001 of the back.
func TestRoundingOfEitherSide(t *testing.T) {
	k := checked(t, bread(), nil, "face", "f.nc", "back", "b.nc")
	k.plain["f.nc"] = &plain.Report{Places: [2]int{transform.MM: 2}, Rounded: [2]bool{transform.MM: true}}
	k.plain["b.nc"] = &plain.Report{Places: [2]int{transform.MM: 3}, Rounded: [2]bool{transform.MM: true}}
	b, err := k.budget(k.answer)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, term := range b.Terms {
		if term.Name == budget.Rounding {
			got[term.Sides] = term.Value.Amount.String()
		}
	}
	if want := map[string]string{"face": "0.01", "back": "0.001"}; !maps.Equal(got, want) {
		t.Errorf("rounding %v, want %v", got, want)
	}
}

// Where the two zeros are one place, either offset will do.
func TestOffsetsOfOneZero(t *testing.T) {
	q := bread()
	r, _ := checked(t, q, nil).request()
	if len(r.Face.Also) != 1 || r.Face.Also[0] != 550 || r.Back.Also[0] != 540 || r.Back.Then[0].Also[0] != 540 {
		t.Errorf("face %+v, back %+v", r.Face, r.Back)
	}
	// With the nominal stop on the left the blank lies 0 away as well, but another Z is another place.
	q.BackSeat = d("1")
	if r, _ = checked(t, q, nil).request(); len(r.Back.Also) > 0 {
		t.Errorf("back %+v", r.Back)
	}
	if r, _ = checked(t, q, nil, "keep-offset", "true").request(); r.Back.Offset != 0 {
		t.Errorf("kept: %+v", r.Back)
	}
	q.Register, q.Fence, q.Stop, q.BackStop = registration.NoRegister, registration.Contact{}, registration.Contact{}, registration.Contact{}
	if r, _ = checked(t, q, nil).request(); r.Face.Offset != 0 || r.Back.Offset != 0 {
		t.Errorf("without a register: %+v, %+v", r.Face, r.Back)
	}
}

func TestRequestOfPinsAndPlug(t *testing.T) {
	blank := &registration.Blank{W: d("3"), H: d("2"), T: d("0.5")}
	q := registration.Question{Unit: transform.Inch, Stock: blank, Flip: registration.FlipY, Register: registration.Dowels,
		Pins: []registration.Pin{{At: pt("1.5", "0.2"), Dia: d("0.25")}, {At: pt("1.5", "1.8"), Dia: d("0.1875")}}, DrilledFace: true}
	r, _ := checked(t, q, nil, "pin-height", "0.4").request()
	same(t, "inch in mm", r.Pins[0].X, 38.1)
	same(t, "diameter", r.Pins[0].Dia, 6.35)
	same(t, "height", r.Pins[0].Height, 10.16)
	if !r.Pins[0].Drilled {
		t.Error("drilled with the face")
	}
	// Each dowel stands as high as its own length says; out of the blank it is warned of.
	k := checked(t, q, nil)
	k.tops = []decimal.Decimal{d("0.4"), d("0.51")}
	r, notes := k.request()
	same(t, "first dowel", r.Pins[0].Height, 10.16)
	same(t, "second dowel", r.Pins[1].Height, 12.954)
	if fact.Code(notes[0].Is) != "pin-heights" || notes[0].Level != "warning" || !strings.Contains(report.NoteWords(notes[0], q.Unit), "dowels 0.4 to 0.51 in over the seat at most") {
		t.Errorf("%+v", notes[0])
	}
	k.tops[1] = d("0.5") // level with the blank
	if _, notes = k.request(); notes[0].Level != "note" {
		t.Errorf("%+v", notes[0])
	}
	plug := d("11.95")
	q = registration.Question{Stock: &registration.Blank{W: d("60"), H: d("60"), T: d("8")}, Flip: registration.FlipX, Register: registration.Plug,
		Bore: &registration.Pin{At: pt("30", "30"), Dia: d("12")}, PlugD: &plug, Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("30", "8"), Dia: d("4")}}
	r, _ = checked(t, q, nil).request()
	if r.Bore == nil || r.Bore.Dia != 12 || len(r.Pins) != 2 || r.Pins[0].Dia != 11.95 || r.Pins[1].Y != 8 || r.Pins[1].Dia != 4 {
		t.Errorf("bore %+v, pins %+v", r.Bore, r.Pins)
	}
}

// The web loses the thickness error where the zeros let it in, and a touch-off on
// each side; the back lies off by the worst case.
func TestTolerancesTakenOff(t *testing.T) {
	tol := budget.Tolerances{}
	for _, s := range []string{"thickness=0.3", "touch-off=0.02"} {
		if err := tol.Set(s, transform.MM, func(s string) (decimal.Decimal, error) { return registration.ParseLength(s, transform.MM) }); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		face, back registration.ZZero
		unit       transform.Unit
		want       float64
	}{{registration.Top, registration.Top, transform.MM, 0.34}, {registration.Bed, registration.Bed, transform.MM, 0.34}, {registration.Bed, registration.Top, transform.MM, 0.04},
		{registration.Top, registration.Top, transform.Inch, 0.34}} {
		q := bread()
		q.Unit = c.unit
		mm := 1.0
		if c.unit == transform.Inch {
			mm = 25.4
		}
		q.ZZero, q.BackZZero = c.face, c.back
		k := checked(t, q, nil)
		b, err := budget.For(k.answer, budget.Options{Tolerances: tol})
		if err != nil {
			t.Fatal(err)
		}
		k.misalignment = b
		r, _ := k.request()
		same(t, "web", r.ThicknessTol, c.want*mm)
		same(t, "misalignment", r.Misalignment, b.Worst*mm)
	}
}

// A dowel is clear of a cut where its circle stays off the cut's rim by a cell. The skim
// alone may go over it: 1 mm on the face, nothing on the back.
func TestClearOfCuts(t *testing.T) {
	a, err := registration.Solve(registration.Question{Stock: &registration.Blank{W: d("120"), H: d("80"), T: d("12")}, Flip: registration.FlipY, Zero: registration.Zero{Name: "near-left"},
		Offset: "G54", BackOffset: "G55", At: &registration.Position{X: d("100"), Y: d("50"), Z: dp("-30")}, Skimmed: d("1"),
		Register: registration.Dowels, Pins: []registration.Pin{{At: pt("60", "10"), Dia: d("6")}, {At: pt("60", "70"), Dia: d("8")}}, Fit: "H7/m6"})
	if err != nil {
		t.Fatal(err)
	}
	groove := func(offset, z string) cut.Program {
		return cut.Program{Read: strings.NewReader("G21 G90 " + offset + "\nT1 M6\nS10000 M3\nG0 X30 Y40 Z5\nG1 Z" + z + " F200\nG1 X40\nG0 Z5\nM30\n")}
	}
	for _, c := range []struct {
		face, back string
		x, y       string // the back's groove lies from X80 to 90, seen from the face
		over       string
		want       bool
	}{
		{"-1", "0", "35", "40", "0", true}, // as deep as the skim
		{"-1.5", "0", "35", "40", "0", false},
		{"-1.5", "0", "35", "40", "1.5", true},
		{"-1.5", "0", "35", "45.9", "0", false}, // rims 0.1 mm into each other
		{"-1.5", "0", "35", "46.6", "0", true},  // 0.6 apart, two cells and more
		{"-1.5", "0", "46.6", "40", "0", true},
		{"-1", "-0.5", "85", "40", "0", false},
		{"-1", "-0.5", "35", "40", "0", true},
		{"-1", "-1.5", "85", "40", "2", false}, // over counts from the face as it was
		{"-1", "-0.9", "85", "40", "2", true},
	} {
		r, err := cut.Check(cut.Request{W: 120, H: 80, T: 12, Skimmed: 1, Map: a.Transform, Tools: []cut.Tool{{Number: 1, Shape: cut.Flat, Diameter: 6}},
			Face: groove("G54", c.face), Back: groove("G55", c.back), Cell: 0.25})
		if err != nil {
			t.Fatal(err)
		}
		if got := ClearOf(r.Grid, a, d(c.over))(pt(c.x, c.y), d("3")); got != c.want {
			t.Errorf("%+v: clear %v", c, got)
		}
	}
}

// What isn't known is said.
func TestWhatCheckLeavesOut(t *testing.T) {
	q := bread()
	q.At = nil
	_, notes := checked(t, q, nil, "no-go", "0,0,1x1").request()
	if got := codesOf(notes); got != "fence-height station-unknown travel-unknown no-budget" {
		t.Error(got)
	}
	// With no register only the face's place follows from at.
	for _, c := range []struct {
		name        string
		change      func(*registration.Question)
		level, want string
	}{
		{"no place", func(q *registration.Question) { q.At = nil }, "warning", "travel and no-go areas not checked: watch the dry run [at]"},
		{"no register", func(q *registration.Question) { *q = registration.Question{Stock: q.Stock, Flip: q.Flip, At: q.At} }, "warning", "travel and no-go areas not checked on the back: watch the dry run [register]"},
		{"to be touched", func(q *registration.Question) {
			near, left := registration.Spot{Edge: registration.Near, Planned: true}, registration.Spot{Edge: registration.Left, Planned: true}
			finder := d("6")
			*q = registration.Question{Stock: q.Stock, Flip: q.Flip, At: q.At, Register: registration.Touched, Touched: []registration.Spot{near, near, left}, Finder: &finder}
		}, "warning", "travel and no-go areas not checked on the back: touch the turned blank first"},
		{"no Z", func(q *registration.Question) { q.At.Z = nil }, "warning", "travel in Z not checked on the face and back; beside the blank jog first to the highest and the deepest Z [at]"},
		{"both known", func(*registration.Question) {}, "", ""},
	} {
		q := bread()
		c.change(&q)
		_, notes := checked(t, q, &bed.Machine{}, "no-go", "0,0,1x1").request()
		level, text := "", ""
		for _, n := range notes {
			if code := fact.Code(n.Is); code == "station-unknown" || code == "level-unknown" {
				level, text = n.Level, report.NoteWords(n, transform.MM)
			}
		}
		if level != c.level || text != c.want {
			t.Errorf("%s: %s %q, want %s %q", c.name, level, text, c.level, c.want)
		}
	}
}

func codesOf(notes []report.Note) string {
	var out []string
	for _, n := range notes {
		out = append(out, fact.Code(n.Is))
	}
	return strings.Join(out, " ")
}

// What check took for granted is what the steps ask for: one diameter and one greatest
// height for each locator.
func TestStepsSayWhatCheckTook(t *testing.T) {
	clocked := func() registration.Question {
		return registration.Question{Stock: &registration.Blank{W: d("64"), H: d("64"), T: d("8")}, Flip: registration.FlipX, Zero: registration.Zero{Name: "center"}, At: &registration.Position{X: d("100"), Y: d("100")},
			Register: registration.Plug, Bore: &registration.Pin{At: pt("32", "32"), Dia: d("12")}, PlugD: dp("11.9"),
			Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("56", "32"), Dia: d("4"), Hole: d("4.02")}}
	}
	for _, r := range []struct {
		name string
		q    registration.Question
		keys []string
		tops []decimal.Decimal
		has  []string
	}{
		{"fence and stop as high as the blank", bread(), nil, nil, []string{"as far apart as the blank allows. Height at most 19 mm over the seat.", "One contact. Height at most 19 mm over the seat."}},
		{"a lower fence", bread(), []string{"fence-height", "9"}, nil, []string{"Height at most 9 mm over the seat."}},
		{"plug and index pin", clocked(), nil, []decimal.Decimal{d("5")},
			[]string{"Height at most 5 mm over its shoulder.", "Height at most 8 mm over the seat."}},
		{"as high as given", clocked(), []string{"pin-height", "9"}, nil,
			[]string{"Height at most 9 mm over its shoulder.", "Height at most 9 mm over the seat."}},
	} {
		k := checked(t, r.q, nil, r.keys...)
		k.tops = r.tops
		s := report.Setup{Answer: k.answer, Checklist: true, Check: &report.Check{Standing: k.standing()}}
		got := ""
		for _, step := range s.Steps() {
			got += step.Text + "\n"
		}
		for _, w := range r.has {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no %q in\n%s", r.name, w, got)
			}
		}
		// The cut has the same figures, in millimetres.
		q, _ := k.request()
		for i, p := range q.Pins {
			if want := k.standing()[i]; p.Height != want.Height.InexactFloat64() || p.Dia != want.Dia.InexactFloat64() {
				t.Errorf("%s: %s cut as %+v, said as %+v", r.name, want.Name, p, want)
			}
		}
	}
}
