package report

import (
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/draw"
)

// paired asks a question at two pairs of stations, faces at G54 and G57, backs at G56
// and G58, whose blanks' near-left corners lie at X20 and X230, Y20 and Y180.
func paired(t *testing.T, q registration.Question) Setup {
	t.Helper()
	q.Offset, q.BackOffset = "G54", "G56"
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s := Setup{Checklist: true, LinesFile: "offsets.nc", Lines: []string{"G90 G21"}}
	for i, y := range []string{"20", "180"} {
		offsets := [][2]string{{"G54", "G56"}, {"G57", "G58"}}[i]
		var at [2]registration.Station
		for side, x := range []string{"20", "230"} {
			corner := pt(x, y)
			zero := []registration.Point{a.FaceZero, a.BackZero}[side]
			at[side] = registration.Station{Offset: offsets[side], Corner: corner, Zero: registration.Position{X: corner.X.Add(zero.X), Y: corner.Y.Add(zero.Y), Z: dp("-91")}}
			s.Stations = append(s.Stations, bed.Station{Pair: i + 1, Side: sideOf(side == 1), Offset: offsets[side], Zero: at[side].Zero, Corner: corner,
				Blank: bed.Rect{X: corner.X, Y: corner.Y, W: a.Used.W, H: a.Used.H}})
		}
		p, err := a.At(at[0], at[1])
		if err != nil {
			t.Fatal(err)
		}
		s.Pairs = append(s.Pairs, p)
	}
	s.Answer = s.Pairs[0]
	return s
}

// breadBoard is a board of 140 x 90 x 19 on a near fence and a left stop, for the back a
// right one, turned about Y.
func breadBoard() registration.Question {
	return registration.Question{Stock: &registration.Blank{W: d("140"), H: d("90"), T: d("19")}, Flip: registration.FlipY, Zero: registration.Zero{Name: "near-left"},
		Register: registration.FenceStop, Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackStop: registration.Contact{Side: registration.Right}}
}

// The locators of every station are set. A contact on the near or left side stands at
// the corner's coordinate, one on the right at the corner plus W: 230 + 140. The plug of
// a 64 x 64 disc stands 32 from its corner, and its pin, turned about X, at 56 and
// 64 - 32 from the back's.
func TestLocatorsOfAllPairs(t *testing.T) {
	end := registration.Question{Stock: &registration.Blank{W: d("64"), H: d("64"), T: d("15")}, Flip: registration.FlipX, Zero: registration.Zero{Name: "center"},
		Register: registration.Plug, Bore: &registration.Pin{At: pt("32", "32"), Dia: d("12")}, PlugD: dp("11.9"),
		Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("56", "32"), Dia: d("4"), Hole: d("4.02")}}
	for _, r := range []struct {
		name string
		q    registration.Question
		has  []string
	}{
		{"fence", breadBoard(), []string{"Set the fence on the near side at Y20 for G54 and G56 and Y180 for G57 and G58 (machine coordinates, mm). Two contacts at each",
			"Set the stop on the left side at X20 for G54 and G57 (machine coordinates, mm). One contact at each.",
			"Set the stop on the right side at X370 for G56 and G58 (machine coordinates, mm). One contact at each."}},
		{"plug", end, []string{"Fit the plug, 11.9 mm dia, at X52 Y52 for G54; X52 Y212 for G57; X262 Y52 for G56; X262 Y212 for G58 (machine coordinates, mm).",
			"Fit the index pin, 4 mm dia, at X76 Y52 for G54; X76 Y212 for G57; X286 Y52 for G56; X286 Y212 for G58 (machine coordinates, mm)."}},
	} {
		s := paired(t, r.q)
		got := text(s.Steps())
		for _, w := range r.has {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no %q in\n%s", r.name, w, got)
			}
		}
	}
}

// Each pair's back is measured and corrected by itself (derived: its locators are set
// by hand like those of the first).
func TestEveryBackIsCorrected(t *testing.T) {
	s := paired(t, breadBoard())
	inOrder(t, "two pairs", text(s.Steps()), "Cut the back of one piece at each of G56 and G58", "Mark each piece with its offset, and measure each.",
		"G56 DX1, DY1 at X1, Y1", "G58 DX1, DY1 at X1, Y1", "Correct G56 once", "For another pair put its number first: --landed 2:DX1,DY1@X1,Y1.",
		"new G56 X, Y", "new G58 X, Y", "Cut a second piece at each and measure it")
}

// A board turned over in place between a left stop for the face and a right one for the
// back: 190 - 50 is its nominal width, so the one comes off before the other is set, and
// the other way round for the next board. Both are compared with the offsets: X reads
// 0 at the left stop of G54, its near-left corner, and 140 at the right one of G55.
func TestStopsOfOneSideAtATime(t *testing.T) {
	s := Setup{Answer: stopAnswer(registration.Right), Checklist: true}
	got := text(s.Steps())
	inOrder(t, "one place", got, "Set the fence on the near side at Y60 (machine coordinates, mm). Two contacts, as far", "Set the face's stop on the left side at X50",
		"Make the face's stop removable and repeatable", "Check fence and stop, spindle stopped: bring the tool against each. Readings in the offset: G54, mm: Y0 plus half the tool at the near fence; X0 plus half the tool at the left stop.",
		"Lay the blank face up", "Stop the spindle. Turn", "With the blank laid aside, take out the left stop (X50 mm). Don't leave both in.",
		"Set the back's stop on the right side at X190 (machine coordinates, mm). One contact.", "Check fence and stop, spindle stopped: bring the tool against each. Readings in the offset: G55, mm: Y0 plus half the tool", "X140 minus half the tool at the right stop",
		"Seat it back up", "Hold it down: clamps or vacuum.", "Run: ", "take out the right stop; set the left stop again")
	if strings.Count(got, "on the right side at X190") != 1 {
		t.Errorf("the back's stop is set more than once:\n%s", got)
	}
	same := Setup{Answer: stopAnswer(registration.Left), Checklist: true}
	for _, w := range []string{"Take out", "take out the", "face's stop"} {
		if got := text(same.Steps()); strings.Contains(got, w) {
			t.Errorf("the same stop serves both sides, yet %q in\n%s", w, got)
		}
	}
}

// Without --spoilboard no program makes the pins' holes: the steps have them made, in
// the bed first, then in the blanks while no pin stands, then the pins are fitted and
// compared with the offsets (the pins' places of markerAnswer less the face zero's).
func TestHolesByHand(t *testing.T) {
	s := markerSetup()
	inOrder(t, "by hand", text(s.Steps()), "Drill the holes", "If the bed has no dowels yet, drill the bare bed", "Hole 1, for a dowel of 6 mm, at X160 Y60 (machine coordinates, mm)",
		"hole 2, for a dowel of 8 mm, at X160 Y120", "key spoilboard", "Drill every blank right through", "hole 1, H7/m6 on a dowel of 6 mm, at X60 Y10 mm; hole 2", "Fit dowel 1", "Fit dowel 2",
		"Lay the blank face up on its dowels")
	s = Setup{Answer: markerAnswer(), Checklist: true}
	inOrder(t, "check", text(s.Steps()), "Fit dowel 2", "Check the dowels, spindle stopped: center the spindle over each. Readings in the offset: G54, mm: X60 Y10 centered over the dowel of 6; X60 Y70 centered over the dowel of 8. G55, mm: X60 Y10")
	a := *markerAnswer()
	a.Question.DrilledFace = true
	s = Setup{Answer: &a, Checklist: true}
	inOrder(t, "through, by hand", text(s.Steps()), "Touch off G54", "Drill by hand through blank and bed", "Then touch off Z anew for the face program's tool", "Dry run the face", "Fit dowel 1", "Seat it back up",
		"with the corrected zero. Then pull the dowels, lay the next blank on; drill through it; touch off Z for each drill, then for the face program; raise the tool clear each time.", "Cut a second piece and measure it")

	// The face program makes the holes itself: each is cut through at its place, and by the face alone.
	s.Check = &Check{}
	for _, p := range a.Question.Pins {
		x, y := p.At.X.Sub(a.FaceZero.X).InexactFloat64(), p.At.Y.Sub(a.FaceZero.Y).InexactFloat64()
		s.Check.Through = append(s.Check.Through, Through{Kind: "declared", X: Estimate(x - 0.05), Y: Estimate(y - 0.05), Cuts: Cuts{FaceLine: 7}})
	}
	own := text(s.Steps()) + shortText(&s)
	inOrder(t, "through, by the face", own, "Lay the blank face up against a temporary", "The face program drills the dowel holes.", "Touch off G54", "Dry run the face", "Fit dowel 1",
		"Then pull the dowels, lay the next blank on. Cut a second piece", "Run: ", "raise the tool clear; run the face program")
	for _, w := range []string{"by hand through", "drill through it", "drilled through", "Drill and cut", "anew for the face"} {
		if strings.Contains(own, w) {
			t.Errorf("through, by the face: %q in\n%s", w, own)
		}
	}
	for _, other := range []Through{{Kind: "groove", X: s.Check.Through[0].X, Y: s.Check.Through[0].Y, Cuts: Cuts{FaceLine: 7}}, {Kind: "declared", Cuts: Cuts{FaceLine: 7}}} {
		s.Check.Through[0] = other
		if got := text(s.Steps()); !strings.Contains(got, "Drill by hand through blank and bed") {
			t.Errorf("no program drills hole 1, nor does a hand: %+v", other)
		}
	}
	drilled := drilledSetup()
	drilled.TouchOffs = touchesAt("G54", "dowel 1", "G55", "dowel 1")
	got := text(drilled.Steps())
	inOrder(t, "drilled", got, "Fit dowel 2", "Check the dowels, spindle stopped: center the spindle over each. Readings in the offset: G54, mm: P1 X0 Y0 centered over the dowel 1", "P2", "If one is more than 0.02 mm off, stop and find why.") // as page one does
	if strings.Contains(got, "If the bed has no dowels") {
		t.Errorf("holes that a program drills are made by hand too:\n%s", got)
	}
}

// Where nothing is known in machine coordinates, a plug stands anywhere and what clocks
// the blank is placed from it: (56, 40) less the bore's (32, 32). Turned about X in place
// the pin's hole comes to 64 - 40, so the pin is moved, and moved back for the next blank.
func TestClockingPinIsMoved(t *testing.T) {
	a, err := registration.Solve(registration.Question{Stock: &registration.Blank{W: d("64"), H: d("64"), T: d("15")}, Flip: registration.FlipX, Zero: registration.Zero{Name: "center"},
		Register: registration.Plug, Bore: &registration.Pin{At: pt("32", "32"), Dia: d("12")}, PlugD: dp("11.9"), Clock: registration.Clocking{Kind: registration.ClockPin, Pin: pt("56", "40")}})
	if err != nil {
		t.Fatal(err)
	}
	s := Setup{Answer: a, Checklist: true}
	inOrder(t, "plug", text(s.Steps()), "Fit the plug, 11.9 mm dia, where there is room.", "Fit the index pin at X24 Y8 mm from the plug's center",
		"Lay the blank face up on the plug", "Touch off G54, spindle stopped. Centered over the plug set X0", "Stop the spindle. Turn", "With the blank laid aside, take out the index pin at X24 Y8 mm.", "Fit the index pin at X24 Y-8 (from the face zero, mm).", "Seat it back up",
		"Run: ", "take out the index pin at X24 Y-8; set the index pin at X24 Y8 again")
}

// Where the face program cuts the bore no plug stands before: it is fitted at the turn, at the
// only place, and taken out for the next blank.
func TestPlugWaitsForItsBore(t *testing.T) {
	q := plugAnswer(t, true).Question
	q.PlugAt = nil
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	s := Setup{Answer: a, Checklist: true, Check: &Check{Bored: true}}
	got := text(s.Steps())
	inOrder(t, "bored", got, "against a temporary near fence and left stop. Clamp it square and flat.", "The face program cuts the bore, 12 mm dia.", "Stop the spindle. Turn",
		"Fit the plug, 12 mm dia, at X200 Y100 (machine coordinates, mm).", "G55, mm: X0 Y0 centered over the plug", "Seat it back up on the plug", "Run: ", "take out plug; lay it on", "set plug for the back")
	if strings.Contains(got, "Bore every blank first") || strings.Contains(got, "G54, mm:") {
		t.Errorf("a plug stands before its bore is cut:\n%s", got)
	}
	s.Check.Bored = false
	inOrder(t, "bored before", text(s.Steps()), "Bore every blank first, right through: 12 mm dia at X30 Y30 mm. X and Y count from the near-left corner, face up.", "Fit the plug", "Lay the blank face up on the plug")

	// A flat of the plug that finds none in the bore keeps the blank off.
	s = Setup{Checklist: true, Answer: plugInPlace(t, func(q *registration.Question) {
		q.Clock = registration.Clocking{Kind: registration.ClockFlat, Side: registration.Left}
	})}
	inOrder(t, "flat", text(s.Steps()), "Bore every blank first, right through: 12 mm dia at X30 Y30 mm. Leave its flat on the left side. X and Y count", "Turn the plug's flat: left")
}

// Whoever cuts the bore cuts the index pin's hole in the same clamping; the steps ask for it
// once, unless the face program cuts it.
func TestIndexHoleIsCutWithTheBore(t *testing.T) {
	for _, c := range []struct {
		bored, indexed bool
		after          string // what asks for the hole comes after; "" where nothing does
	}{
		{false, false, "Bore every blank first, right through: 12 mm dia at X30 Y30 mm."},
		{false, true, ""},
		{true, false, "The face program cuts the bore, 12 mm dia."},
		{true, true, ""},
	} {
		s := Setup{Answer: plugAnswer(t, false), Checklist: true, Check: &Check{Bored: c.bored, Indexed: c.indexed}}
		got, n := text(s.Steps()), 0
		if c.after != "" {
			n = 1
			inOrder(t, "index", got, c.after+" Cut the index pin's hole in the same clamping: 4.02 mm dia at X50 Y30 mm. X and Y count from the near-left corner, face up.")
		}
		if strings.Count(got, "index pin's hole") != n {
			t.Errorf("%+v:\n%s", c, got)
		}
	}
}

// At the face of a blank whose bore its program cuts nothing stands: nothing is drawn there,
// read there, set there or turned there. Turned to another place it goes on the back's plug,
// which stands and is checked from the start; over the one plug of one place, at the turn.
func TestNothingStandsBeforeItsHole(t *testing.T) {
	flat := func(q *registration.Question) {
		q.Clock = registration.Clocking{Kind: registration.ClockFlat, Side: registration.Left}
	}
	q := plugAnswer(t, false).Question
	flat(&q)
	apart, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	reads := touchesAt("G54", "plug", "G55", "plug")
	index := &PinFit{Drilling: []Drilling{{Name: "pins-bed.nc", Where: "bed", Offset: "G54", Holes: []Drilled{{From: d("-8"), Bottom: d("-13"), Dia: d("4")}}}}}
	for _, c := range []struct {
		name  string
		s     Setup
		order []string
	}{
		{"flat, two places", Setup{Answer: apart}, []string{"Fit the plug, 12 mm dia, at X400 Y100 for G55 (machine coordinates, mm). Turn the plug's flat: left for G55.", "G55, mm: P1 X0 Y0 centered", "Lay the blank face up"}},
		{"flat, in place", Setup{Answer: plugInPlace(t, flat)}, []string{"Stop the spindle. Turn", "Fit the plug, 12 mm dia, at X200 Y100", "Turn the plug's flat: left for G55.", "Check the plug, spindle stopped"}},
		{"index pin", Setup{Answer: plugInPlace(t, func(*registration.Question) {}), Pins: index}, []string{"Touch the bare bed", "Stop the spindle. Turn", "Fit the plug", "Fit the index pin", "Check the plug, spindle stopped"}},
		{"index pin, place not known", Setup{Answer: plugInPlace(t, func(q *registration.Question) { q.At = nil }), Pins: index}, []string{"Set X and Y of G54 where the face zero is to be", "Touch the bare bed", "Fit the plug"}},
	} {
		c.s.Checklist, c.s.TouchOffs, c.s.Check = true, reads, &Check{Bored: true}
		got := text(c.s.Steps())
		inOrder(t, c.name, got, c.order...)
		for _, w := range []string{"G54, mm:", "for G54 and", "Center the stopped spindle"} {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q in\n%s", c.name, w, got)
			}
		}
		if n := strings.Count(got, "Check the plug, spindle stopped"); n != 1 {
			t.Errorf("%s: checked %d times", c.name, n)
		}
		scene := c.s.scene()
		if p := scene.Touches; len(p) != 1 || p[0].Offset != "G55" {
			t.Errorf("%s: touch points %v", c.name, p)
		}
		if len(scene.Stations) == 0 {
			continue
		}
		if desc := draw.Stations(scene, 50).Desc; !strings.Contains(desc, ", no plug yet; back G55: zero at ") || strings.Count(desc, "plug Ø12") != 1 {
			t.Errorf("%s: %s", c.name, desc)
		}
	}
}
