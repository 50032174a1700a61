package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report/words"
)

// markerPattern proposes the dowels of a row marker of 120 x 80 x 12 with 12 mm
// of waste.
func markerPattern(t *testing.T, change func(*registration.Question, *pattern.Options)) *pattern.Pattern {
	t.Helper()
	q := registration.Question{Stock: &registration.Blank{W: d("120"), H: d("80"), T: d("12")}, Flip: registration.FlipY, Fit: "H7/g6"}
	o := pattern.Options{Margin: dp("12"), Spoilboard: d("18")}
	if change != nil {
		change(&q, &o)
	}
	p, err := pattern.Propose(q, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// bobbin is the plug of a bobbin end of 60 x 60 x 8 with a bore of 12.
func bobbin(t *testing.T) *PinFit {
	t.Helper()
	a, err := registration.Solve(registration.Question{Stock: &registration.Blank{W: d("60"), H: d("60"), T: d("8")}, Flip: registration.FlipX, Register: registration.Plug,
		Bore: &registration.Pin{At: pt("30", "30"), Dia: d("12")}, PlugD: dp("11.95"),
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("50", "30"), Dia: d("4"), Hole: d("4.02")}})
	if err != nil {
		t.Fatal(err)
	}
	m, err := fit.ForBore(d("12"), d("8"), decimal.Zero, nil, d("11.95"), transform.MM)
	if err != nil {
		t.Fatal(err)
	}
	return PlugOf(a, m)
}

// onScreen is a setup with one fit as a terminal shows it, on one line.
func onScreen(t *testing.T, f *PinFit) string {
	t.Helper()
	var b bytes.Buffer
	if err := Terminal(&b, Setup{Pins: f}, Options{Width: 400, Why: true}); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// What a maker must read of a pattern: what it is, whether it is foolproof with
// the cure if not, an interference as one, pins that the fit doesn't name, and what
// was assumed.
func TestPatternSaid(t *testing.T) {
	given := func(places ...string) func(*registration.Question, *pattern.Options) {
		return func(q *registration.Question, _ *pattern.Options) {
			for _, s := range places {
				p, err := registration.ParsePin(s, transform.MM)
				if err != nil {
					t.Fatal(err)
				}
				q.Pins = append(q.Pins, p)
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*registration.Question, *pattern.Options)
		want   []string
		not    string
	}{
		{"proposed", nil, []string{"two dowels of different diameters on the flip line", "ISO 8734 m6", "turned wrong it does not go on; unturned it does", "66 mm between", "60 mm from the left edge",
			`pin = ["60,8,8", "60,74,6"]`, "H7/g6 takes dowels ground to g6"}, "Cure"},
		{"pair", func(_ *registration.Question, o *pattern.Options) { o.Style = pattern.Pair }, []string{"two equal dowels either side of the flip line"}, ""},
		{"given and equal", given("60,20,6", "60,74,6"), []string{"2 dowels as given", "also fits wrong: flip x and turned 180", "Cure make dowel 2 and its hole another diameter",
			"dowel 1: its hole goes 11 mm farther into the blank than the margin"}, "In a job file"},
		{"all but symmetric", given("30,40,6", "90,40,6", "60,40.1,6"), []string{"fits wrong with a push: see the warning", "misses by only 0.088 mm"}, "does not go on"},
		{"interference", func(q *registration.Question, _ *pattern.Options) { q.Fit = "H7/m6" }, []string{"-0.015 to 0.009, tight or loose", "below 0 is interference"}, "takes pins ground"},
		{"always tight", func(q *registration.Question, o *pattern.Options) {
			q.Fit, q.Hole, o.Style, o.Diameters = "", []decimal.Decimal{d("6")}, pattern.Pair, []decimal.Decimal{d("6")}
		},
			[]string{"-0.012 to -0.004, tight"}, "tight or loose"},
		{"flip x", func(q *registration.Question, _ *pattern.Options) { q.Flip = registration.FlipX }, []string{"40 mm from the near edge"}, ""},
		{"no margin, no bed", func(_ *registration.Question, o *pattern.Options) { o.Margin, o.Spoilboard = nil, decimal.Zero },
			[]string{"holes assumed in a strip of 12 mm", "give spoilboard"}, "In bed"},
	} {
		got := onScreen(t, PinsOf(markerPattern(t, c.change)))
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q isn't in\n%s", c.name, w, got)
			}
		}
		if c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s: %q is in\n%s", c.name, c.not, got)
		}
	}
}

// A plug with its measures and the turn that is left: (0.05 + 0.02)/(2 x 20) rad
// is 0.1003 degrees, and the rim's 0.0942 mm is (0.05 x 58.31 + 0.02 x 42.43)/40
// (derived).
func TestPlugSaid(t *testing.T) {
	got := onScreen(t, bobbin(t))
	for _, w := range []string{"12 mm dia at X30 Y30", "11.95 mm dia", "0.05 mm on the diameter", "5 mm over the shoulder", "1 mm chamfer", "at least 0.5 mm", "at least 18 mm dia",
		"an index pin at X50 Y30", "0.1003 degrees either way", "up to 0.0942 mm", "up to 0.025 mm any way", "turned wrong it does not go on", "common practice"} {
		if !strings.Contains(got, w) {
			t.Errorf("%q isn't in\n%s", w, got)
		}
	}
	f := bobbin(t)
	f.Stud.Turn = &registration.Turn{Free: true, Rim: d("42.4265"), PerDegree: d("0.7405")}
	f.Stud.Clocking, f.Stud.LayUps = "", nil
	if got := onScreen(t, f); !strings.Contains(got, "nothing stops it: each degree moves the farthest corner, 42.4265 mm from the bore's center, by 0.7405 mm") ||
		strings.Contains(got, "Verdict") {
		t.Error(got)
	}
	if got := PinLines(f); got != "11.95 11.95\n" {
		t.Errorf("%q", got)
	}
	if got := PinLines(PinsOf(markerPattern(t, nil))); got != "60,8,8\n60,74,6\n" {
		t.Errorf("%q", got)
	}
}

// drilledMarker is the marker's pattern with its drilling programs.
func drilledMarker(t *testing.T) *PinFit {
	f := PinsOf(markerPattern(t, nil))
	f.Drilling = []Drilling{
		{Name: "pins-blank.nc", Where: "blank", Offset: "G54", Safe: d("10"), Holes: []Drilled{
			{Pin: 1, X: d("60"), Y: d("8"), From: d("0"), Bottom: d("-12"), Dia: d("8"), Tool: drill(4), Speed: d("8000"), Plunge: d("300"), Peck: d("8")}}},
		{Name: "pins-bed.nc", Where: "bed", Offset: "G54", Safe: d("10"), Holes: []Drilled{
			{Pin: 1, X: d("60"), Y: d("8"), From: d("-12"), Bottom: d("-21"), Dia: d("8"), Speed: d("8000"), Plunge: d("300"), Peck: d("8")}}},
	}
	f.Say(fact.Assumed, words.PeckAssumed{})
	f.Say(fact.Assumed, words.SafeAssumed{Height: d("10")})
	f.Say(fact.Caution, words.DrillEnd{})
	f.Say(fact.Note, words.DrillBeyond{By: d("2")})
	f.Say(fact.Note, words.DrillBedZ{Z: d("-12"), Thick: d("12"), Files: []string{"pins-bed.nc"}})
	f.Say(fact.Note, words.DrillListed{Dia: d("6"), Tool: 1})
	return f
}

// Each hole of each program is shown, and everything that it rests on in words.
func TestDrillingSaid(t *testing.T) {
	f := drilledMarker(t)
	got := onScreen(t, f)
	for _, w := range []string{"│ pins-blank.nc │ G54 │ 1 │ 60 │ 8 │ 0 │ -12 │ T4, 8 │", "│ pins-bed.nc │ G54 │ 1 │ 60 │ 8 │ -12 │ -21 │ 8 │",
		"the drill of 6 mm is T1", "the bed is at Z-12 in pins-bed.nc", "goes 2 mm into what is under the blank"} {
		if !strings.Contains(got, w) {
			t.Errorf("%q isn't in\n%s", w, got)
		}
	}
}

// The checklist has bed and blanks drilled before the pins go in, since a drill
// that goes through a blank would run into a pin that stands there.
func TestDrillingComesBeforePins(t *testing.T) {
	s := Setup{Answer: markerAnswer(), Checklist: true, Pins: drilledMarker(t)}
	bed, blank, pin := -1, -1, -1
	for i, st := range s.Steps() {
		switch {
		case strings.HasPrefix(st.Text, "Drill the bed: pins-bed.nc (G54)"):
			bed = i
		case strings.Contains(st.Text, "pins-blank.nc (G54)") && strings.Contains(st.Text, "with no dowels in the bed"):
			blank = i
		case strings.HasPrefix(st.Text, "Fit dowel 1"):
			pin = i
		}
	}
	if bed < 0 || blank < bed || pin < blank {
		t.Errorf("bed %d, blank %d, pin %d", bed, blank, pin)
	}
}

// Patterns, plugs and drilling programs keep to the schema.
func TestFitsKeepToTheSchema(t *testing.T) {
	v := &validator{root: decode(t, Schema())}
	answer := v.root["$defs"].(map[string]any)["pinsAnswer"].(map[string]any)
	for name, f := range map[string]*PinFit{
		"dowels":  drilledMarker(t),
		"no bed":  PinsOf(markerPattern(t, func(_ *registration.Question, o *pattern.Options) { o.Spoilboard = decimal.Zero })),
		"a plug":  bobbin(t),
		"no play": {Fit: "H7/m6", Pin: d("6")},
	} {
		s := Setup{Answer: markerAnswer(), Pins: f}
		var b bytes.Buffer
		if err := PinsJSON(&b, s); err != nil {
			t.Fatal(err)
		}
		for _, e := range v.check(answer, decode(t, b.Bytes()), name) {
			t.Error(e)
		}
		b.Reset()
		if err := JSON(&b, s); err != nil {
			t.Fatal(err)
		}
		for _, e := range v.check(v.root, decode(t, b.Bytes()), name) {
			t.Error(e)
		}
	}
}
