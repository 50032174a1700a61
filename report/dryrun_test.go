package report

import (
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// A dry run goes by the blank's thickness, the deepest cut and 10 mm or 0.4 in higher
// (common practice), so the tip stays at least that much over the blank with Z0 on
// its top or on the bed.
func TestDryRunSaysHowHigh(t *testing.T) {
	for _, test := range []struct {
		name        string
		unit        transform.Unit
		face, back  *decimal.Decimal
		travel      float64 // left upwards at G54
		skim        string
		want, wants string
	}{
		{"known", transform.MM, dp("-6"), dp("-6.5"), 63, "0",
			"Raise the tool clear. Dry run the face program (face.nc) above the work. Raise Z of G54 by 28 mm: 12 thick + 6 deep + 10; more over higher clamps. Spindle off, hand on feed hold. Then set Z back and check it.\n  G54 Z to set back",
			"Raise Z of G55 by 28.5 mm: 12 thick + 6.5 deep + 10;"},
		{"nothing below Z0", transform.MM, dp("2"), dp("0"), 63, "0", "Raise Z of G54 by 22 mm: 12 thick + 0 deep + 10;", "Raise Z of G55 by 22 mm"},
		{"skimmed", transform.MM, dp("-1"), dp("-1"), 63, "1", "Raise Z of G54 by 24 mm: 13 thick +", "Raise Z of G55 by 23 mm: 12 thick +"},
		{"unknown", transform.MM, nil, dp("-6"), 63, "0", "Raise Z of G54 by 12 thick + deepest cut below Z0 + 10 mm at least; more over higher clamps. Spindle off", "by 28 mm"},
		{"inches", transform.Inch, dp("-0.25"), dp("-0.25"), 63, "0", "Raise Z of G54 by 12.65 in: 12 thick + 0.25 deep + 0.4;", "by 12.65 in"},
		{"short of travel", transform.MM, dp("-6"), dp("-6"), 20.5, "0",
			"clamps. The travel allows only 20.5 mm: take blank and clamps off, raise by that, watch the tip. Spindle off", "G55 by 28 mm: 12 thick + 6 deep + 10; more over higher clamps. Spindle off"},
		{"no travel left", transform.MM, dp("-6"), dp("-6"), 0.0004, "0",
			"Raise the tool clear. Dry run the face program (face.nc) above the work over the bare bed: the travel doesn't let Z of G54 rise. Take blank and clamps off. Single block, spindle off, hand on feed hold, eye on the tip.", "Raise Z of G55 by 28 mm"},
		{"no travel left, depth unknown", transform.MM, nil, dp("-6"), -0.5, "0", "the travel doesn't let Z of G54 rise.", "by 28 mm"},
		{"moves by machine coordinates alone", transform.MM, dp("-6"), dp("-6"), math.Inf(1), "0", "Raise Z of G54 by 28 mm: 12 thick + 6 deep + 10; more over higher clamps. Spindle off", "by 28 mm"},
		{"a move by machine coordinates to the top", transform.MM, dp("-6"), dp("-6"), 40, "0", "Raise Z of G54 by 28 mm: 12 thick + 6 deep + 10; more", "by 28 mm"},
	} {
		s := Setup{Answer: markerAnswer(), Checklist: true, Unit: test.unit, Check: &Check{Travel: []Travel{{Station: "G54", Axis: "X", High: 1}, {Station: "G54", Axis: "Z", High: 0, Room: Estimate(test.travel)}}},
			Programs: []Program{{Name: "face.nc", Role: "face", Lowest: test.face}, {Name: "back.nc", Role: "mirrored", Lowest: test.back}, {Name: "letters.nc", Role: "as written", Lowest: dp("0")}}}
		s.Answer.Question.Skimmed = d(test.skim)
		got := text(s.Steps())
		for _, w := range []string{test.want, test.wants} {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no %q in\n%s", test.name, w, got)
			}
		}
	}
}

func TestLowest(t *testing.T) {
	for _, test := range []struct {
		mm   float64
		unit transform.Unit
		want string
	}{{-6.5, transform.MM, "-6.5"}, {-12.7, transform.Inch, "-0.5"}, {-1, transform.Inch, "-0.04"}, {2, transform.MM, "2"}} {
		if got := LowestOf(&motion.Summary{All: motion.Extents{2: {Any: true, Min: test.mm}}}, test.unit); got.String() != test.want {
			t.Errorf("%g mm: %s, want %s", test.mm, got, test.want)
		}
	}
	if LowestOf(&motion.Summary{}, transform.MM) != nil {
		t.Error("a program without Z has a least Z")
	}
}

// What is stored, and on what the face zero is found, hangs on what is known.
func TestStepsStoreAndTouchOff(t *testing.T) {
	once := func(q *registration.Question) { q.TouchOff = registration.TouchOffOnce }
	fromZero := func(q *registration.Question) { q.At = nil }
	board := func(change func(q *registration.Question)) *registration.Answer {
		q := stopAnswer(registration.Right).Question
		change(&q)
		a, err := registration.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	for _, test := range []struct {
		name     string
		s        Setup
		has, not []string
	}{
		{"place given", Setup{Answer: solved(t, nil)},
			[]string{"old values of G54 and G55", "Store G54 X100 Y50 Z-30 and G55 X100 Y50 Z-30 (machine coordinates, mm). Read them back",
				"Touch off G54 in Z alone"}, []string{"offsets program", "G54 plus"}},
		{"without Z", Setup{Answer: solved(t, func(q *registration.Question) { q.At = &registration.Position{X: d("7"), Y: d("8")} })},
			[]string{"Store G54 X7 Y8 and G55 X7 Y8 (machine"}, []string{"Machine Z"}},
		{"pins, nothing known", Setup{Answer: solved(t, fromZero)},
			[]string{"Touch off G54, spindle stopped. Centered over dowel 1 set X60 Y10 mm; X0 Y0 is the near-left corner", "Store in G55 the values of G54 plus X0 Y0 Z0 mm"}, []string{"table of offsets G54"}},
		{"fence, nothing known", Setup{Answer: board(fromZero)},
			[]string{"Touch off G54, spindle stopped. Set Y0 mm at the near fence and X0 mm at the left stop; X0 Y0 is", "Take the zero from the stop, never from the blank's own edge"}, nil},
		{"stations without a program", func() Setup { s := markerSetup(); s.Lines, s.LinesFile = nil, ""; return s }(),
			[]string{"Store G54 X100 Y50 Z-30 and G55 X240.5 Y50 Z-30 (machine coordinates, mm). Read them back"}, []string{"offsets program"}},
		{"offsets program", markerSetup(),
			[]string{"Run the offsets program once, before touching off", "By hand: X minus the mean DX"}, nil},
		{"each", Setup{Answer: solved(t, nil)}, []string{"Pencil on every blank: FACE; edges A near, B right, C far, D left", "lay it on face up and hold it; touch off G54 in Z alone on it, raise the tool clear; run the face program; stop the spindle and turn it over; seat it back up and hold it; touch off G55 in Z alone on it, raise the tool clear; run the back program. Check zero"}, []string{"touched off once"}},
		{"once", Setup{Answer: solved(t, once)}, []string{"Z is touched off once: set Z of G55 to G54's Z. Read it back", "lay it on face up and hold it; run the face program; stop"}, []string{"Touch off G55", "touch off Z of"}},
		{"once, seats", Setup{Answer: solved(t, func(q *registration.Question) { once(q); q.BackSeat = d("2.5") })}, []string{"to G54's Z plus 2.5 mm."}, nil},
		{"once, seats", Setup{Answer: solved(t, func(q *registration.Question) { once(q); q.Seat = d("3") })}, []string{"to G54's Z minus 3 mm."}, nil},
		{"once, measured", Setup{Answer: solved(t, func(q *registration.Question) {
			once(q)
			q.Measured = &registration.Blank{W: d("120"), H: d("80"), T: d("12.2")}
		})},
			[]string{"Do this once, on the measured piece, 12.2 mm thick"}, nil},
		{"face on the bed", Setup{Answer: solved(t, func(q *registration.Question) { q.ZZero, q.BackZZero = registration.Bed, registration.Top })},
			[]string{"lay it on face up and hold it; run the face program; stop the spindle and turn it over; seat it back up and hold it; touch off G55 in Z alone on it"}, nil},
		{"skimmed", Setup{Answer: solved(t, func(q *registration.Question) { q.Skimmed = d("0.5") })}, []string{"Z0 is the top before the skim;", "Expect 120 x 80 x 12 mm"}, nil},
		{"round", Setup{Answer: plugAnswer(t, true)}, []string{"on the plug, down on its shoulder", "Plug and shoulder locate, they do not hold"}, []string{"clock"}},
		{"lengths", Setup{Answer: solved(t, nil)}, []string{"with G43 H if called, else with G49"}, nil},
	} {
		test.s.Checklist = true
		got := text(test.s.Steps())
		for _, w := range test.has {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no %q in\n%s", test.name, w, got)
			}
		}
		for _, w := range test.not {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q in\n%s", test.name, w, got)
			}
		}
	}
}

// The machine reads the sum of table, stick-out, seat and thickness at the touch-off:
// -140 + 40 + 0 + 12 = -88; with whole lengths in use -128 is stored (derived).
func TestWhatZRestsOn(t *testing.T) {
	for _, test := range []struct {
		z, stored, seat string
		thick           *decimal.Decimal
		has, not        string
	}{
		{"-88", "-88", "0", dp("12"), "expect machine Z-88 touching off G54: table -140, stick-out 40, seat 0, thickness 12|seat height assumed 0", "stores"},
		{"-88", "-128", "0", dp("12"), "expect machine Z-88|its offset stores Z-128, without the tool", ""},
		{"-70", "-70", "18", dp("12"), "table -140, stick-out 40, seat 18, thickness 12", "seat height assumed 0"},
		{"-100", "-100", "0", nil, "expect machine Z-100 touching off G54: table -140, stick-out 40, seat 0", "thickness"},
	} {
		s := markerSetup()
		s.Answer, s.Level = nil, &Level{Table: d("-140"), StickOut: d("40"), Seat: d(test.seat), BackSeat: d(test.seat), Thick: test.thick}
		s.Stations[0].Zero.Z, s.Reading[0] = dp(test.stored), dp(test.z)
		var got string
		for _, b := range s.levelBlocks() {
			got += b.(Para).Text + "\n"
		}
		for _, w := range strings.Split(test.has, "|") {
			if !strings.Contains(got, w) {
				t.Errorf("Z%s: no %q in %q", test.z, w, got)
			}
		}
		if test.not != "" && strings.Contains(got, test.not) {
			t.Errorf("Z%s: %q", test.z, got)
		}
	}
	s := markerSetup()
	if s.Level, s.Stations[0].Zero.Z = (&Level{}), nil; len(s.levelBlocks()) != 0 {
		t.Error("an unknown Z rests on something")
	}
}
