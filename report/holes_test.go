package report

import (
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/report/words"
)

// drilledSetup is a marker of 120 x 80 x 12 whose pins' holes are drilled, its Z0 on
// top: the bare bed lies at Z-12.
func drilledSetup() Setup {
	s := markerSetup()
	bed := Drilled{Pin: 1, X: d("60"), Y: d("10"), From: d("-12"), Bottom: d("-19"), Dia: d("6"), Tool: drill(1)}
	blank := Drilled{Pin: 1, X: d("60"), Y: d("10"), From: d("0"), Bottom: d("-12"), Dia: d("6"), Tool: drill(1)}
	s.Pins = &PinFit{Drilling: []Drilling{{Name: "pins-blank.nc", Where: "blank", Offset: "G54", Holes: []Drilled{blank}},
		{Name: "pins-bed.nc", Where: "bed", Offset: "G54", Holes: []Drilled{bed}}, {Name: "pins-back-bed.nc", Where: "back-bed", Offset: "G55", Holes: []Drilled{bed}}}}
	for name, z := range map[string]string{"pins-blank.nc": "-12", "pins-bed.nc": "-19", "pins-back-bed.nc": "-19"} {
		s.Programs = append(s.Programs, Program{Name: name, Role: "drilling", Lowest: dp(z)})
	}
	return s
}

// inOrder checks that all texts occur, one after the other.
func inOrder(t *testing.T, name, got string, texts ...string) {
	t.Helper()
	rest := got
	for _, w := range texts {
		i := strings.Index(rest, w)
		if i < 0 {
			t.Errorf("%s: %q is missing or comes too early in\n%s", name, w, got)
			return
		}
		rest = rest[i+len(w):]
	}
}

// The bed is drilled bare, from offsets that are set and with Z set on it; then the
// blanks, while no pin stands; then the pins go in (common practice: a rapid goes to
// just over the bed, which a blank there would not outlive).
func TestHolesAreDrilledInOrder(t *testing.T) {
	s := drilledSetup()
	inOrder(t, "two stations", text(s.Steps()), "Note the old values of G54 and G55", "Check each tool", "Measure the blank", "Read offsets.nc, then run it once",
		"Touch the bare bed at each station with the drill, spindle stopped. Set Z-12 mm in G54 (face) and G55 (back); Z0 is the top of a blank 12 mm thick",
		"Drill the bed bare", "Raise the tool clear. Dry run the drilling of the bed. Raise Z of G54 and G55 by 29 mm: 19 deep + 10",
		"Drill the bed: pins-bed.nc (G54) and pins-back-bed.nc (G55)",
		"No dowels in the bed yet. Lay a blank flat, face up against a temporary near fence and left stop. Its near-left corner comes to X100 Y50 for G54",
		"Touch off G54 in Z alone on this blank's top with the drill. Set 0", "Dry run the drilling of the blank. Raise Z of G54 by 34 mm: 12 thick + 12 deep + 10",
		"Drill the blank: pins-blank.nc (G54)", "Drill every blank so", "Fit dowel 1", "Fit dowel 2",
		"Lay the blank face up on its dowels", "Touch off G54 in Z alone", "Dry run the face program", "Turn over")

	// Where seats differ, the place that was touched for the other station is wrong by as much.
	for up, want := range map[string]string{"7": "The back's bed is 7 mm higher.", "-2.5": "The back's bed is 2.5 mm lower."} {
		q := s.Answer.Question
		q.BackSeat, q.Seat = d(up), d("0")
		a := *s.Answer
		a.Question = q
		seats := s
		seats.Answer = &a
		inOrder(t, "seats", text(seats.Steps()), "Touch the bare bed at each station", "Set each offset at its own station. "+want, "Drill the bed bare")
	}
	if got := text(s.Steps()); strings.Contains(got, "The back's bed") || strings.Contains(got, "Raise the drill clear") {
		t.Errorf("level, clear height known:\n%s", got)
	}
	// Without a clear height a drill goes across where it stands, so it is raised by hand.
	s.Pins.Say("caution", words.DrillAcross{})
	inOrder(t, "no clear height", text(s.Steps()), "Drill the bed: pins-bed.nc", "Raise the drill clear of everything before the start and after each tool change.", "Lay a blank flat")

	// With both zeros on the bed Z0 is the bare bed, and it stays.
	s = drilledSetup()
	a := *s.Answer
	a.Question.ZZero, a.Question.BackZZero = registration.Bed, registration.Bed
	s.Answer = &a
	for i := range s.Pins.Drilling {
		s.Pins.Drilling[i].Holes[0].From = d("0")
	}
	got := text(s.Steps())
	inOrder(t, "bed zeros", got, "Set Z0 mm in G54 (face) and G55 (back). On a feeler", "Drill the bed", "Leave Z of G54 as set on the bed", "Fit dowel 1",
		"Touch off G54 in Z alone", "the seating plane (bed), before the blank covers it", "Lay the blank face up",
		"Stop the spindle. Turn", "Touch off G55 in Z alone", "Seat it back up")
	if strings.Contains(got, "isn't there yet") || strings.Contains(got, "On every blank") || strings.Contains(got, "on every blank touch off") {
		t.Errorf("bed zeros:\n%s", got)
	}

	// Nothing known in machine coordinates: X and Y are set before the bed is drilled,
	// and stay.
	s = drilledSetup()
	a = *solved(t, func(q *registration.Question) { q.At = nil })
	s.Answer, s.Stations, s.Lines, s.Plan = &a, nil, nil, nil
	s.Pins.Drilling = s.Pins.Drilling[:2]
	got = text(s.Steps())
	inOrder(t, "no machine", got, "Note the old values of G54 and G55", "Set X and Y of G54 where the face zero is to be", "Store in G55 the values of G54 plus X0 Y0 mm. Read them back. Z comes later",
		"Touch the bare bed", "Drill the bed: pins-bed.nc (G54).", "Drill the blank", "Touch off G54 in Z alone")
	if strings.Count(got, "Store in G55") != 1 {
		t.Errorf("no machine:\n%s", got)
	}

	// Through blank and bed: one clamping for holes and face, pins at the turn.
	s = drilledSetup()
	a = *solved(t, func(q *registration.Question) { q.DrilledFace = true })
	s.Answer, s.Stations, s.Lines, s.Plan = &a, nil, nil, nil
	s.Pins.Drilling = []Drilling{{Name: "pins-through.nc", Where: "through", Offset: "G54", Holes: []Drilled{{From: d("0"), Bottom: d("-19")}}}}
	got = text(s.Steps())
	inOrder(t, "through", got, "Store G54 X100 Y50 Z-30", "in this one clamping", "Touch off G54 in Z alone", "Dry run the drilling through blank and bed",
		"Drill through blank and bed: pins-through.nc (G54)", "Touch off G54 in Z alone, anew, on this blank's top for the face program", "Dry run the face program", "Stop the spindle. Turn", "Fit dowel 1", "Seat it back up on its dowels",
		"take out dowel 1 and dowel 2; lay it on face up and hold it; touch off G54 in Z alone on it, raise the tool clear; drill through it; touch off Z for each drill, then for the face program; raise the tool clear each time; run the face program", "turn it over; set dowel 1 and dowel 2 for the back; seat it back up")
	if strings.Count(got, "Fit dowel 1") != 1 || strings.Contains(got, "Touch the bare bed") || strings.Contains(got, "on its dowels, without force") {
		t.Errorf("through:\n%s", got)
	}
}

// Each station of a run of two pairs has its pins.
func TestPinsOfEveryStation(t *testing.T) {
	q := markerAnswer().Question
	q.At, q.BackOffset = nil, ""
	s := paired(t, q)
	got := text(s.Steps())
	for _, w := range []string{"Fit dowel 1, 6 mm dia, at X80 Y30 for G54; X80 Y190 for G57; X290 Y30 for G56; X290 Y190 for G58 (machine coordinates, mm)",
		"Touch off G54 and G57 in Z alone", "Touch off G56 and G58 in Z alone"} {
		if !strings.Contains(got, w) {
			t.Errorf("no %q in\n%s", w, got)
		}
	}
}

// The bed is drilled for an index pin once the plug stands, from a zero set on it; the
// blank goes down on the plug and over the pin.
func TestIndexHoleIsDrilledInOrder(t *testing.T) {
	s := Setup{Answer: plugAnswer(t, false), Checklist: true}
	bed := Drilled{Pin: 1, X: d("20"), Y: d("0"), From: d("-8"), Bottom: d("-13"), Dia: d("4"), Tool: drill(5)}
	s.Pins = &PinFit{Index: &Dowel{Point: pt("50", "30"), Dia: d("4"), Hole: d("4.02")}, Drilling: []Drilling{
		{Name: "pins-bed.nc", Where: "bed", Offset: "G54", Holes: []Drilled{bed}}, {Name: "pins-back-bed.nc", Where: "back-bed", Offset: "G55", Holes: []Drilled{bed}}}}
	got := text(s.Steps())
	inOrder(t, "two stations", got, "Bore every blank first, right through: 12 mm dia at X30 Y30 mm. "+
		"Cut the index pin's hole in the same clamping: 4.02 mm dia at X50 Y30 mm. X and Y count from the near-left corner, face up.", "Fit the plug, 12 mm dia, at X200 Y100", "G54, mm: X0 Y0 centered over the plug. G55, mm: X0 Y0 centered over the plug",
		"Touch the bare bed", "Z-8 mm in", "level with the plug's shoulder", "Drill the bed: pins-bed.nc (G54) and pins-back-bed.nc (G55)",
		"Fit the index pin, 4 mm dia, at X220 Y100 for G54 and X420 Y100 for G55 (machine coordinates, mm)",
		"Lay the blank face up on the plug, then down over the index pin")
	listed := map[string]bool{}
	for _, c := range s.Cautions() {
		listed[c.Text] = true
	}
	for _, st := range s.Steps() {
		for _, c := range st.Cautions {
			if !listed[c.Text] {
				t.Errorf("a step warns %q, the list doesn't", c.Text)
			}
		}
	}

	// Nothing known in machine coordinates: X and Y come from the plug.
	a := *s.Answer
	q := a.Question
	q.At, q.PlugAt = nil, nil
	loose, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s.Answer, s.Pins.Drilling = loose, s.Pins.Drilling[:1]
	got = text(s.Steps())
	inOrder(t, "no machine", got, "Fit the plug, 12 mm dia, where there is room", "Center the stopped spindle over the plug. Set G54 to X0 Y0 mm",
		"Store in G55 the values of G54 plus X0 Y0", "Touch the bare bed", "Drill the bed: pins-bed.nc (G54).", "Fit the index pin", "Touch off G54 in Z alone")
	if strings.Count(got, "Fit the plug") != 1 || strings.Count(got, "Fit the index pin") != 1 {
		t.Errorf("set twice:\n%s", got)
	}
}
