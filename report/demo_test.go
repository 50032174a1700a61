package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/draw"
	"flipcalc/report/words"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func dp(s string) *decimal.Decimal { v := d(s); return &v }

func pt(x, y string) registration.Point { return registration.Point{X: d(x), Y: d(y)} }

// drill is the number of the tool that drills.
func drill(n int) *int { return &n }

func ptp(x, y string) *registration.Point { p := pt(x, y); return &p }

// markerAnswer is a row marker of 120 x 80 x 12 on two dowels of 6 and 8 mm on
// the flip line u = 60, its face zero near-left at machine X100 Y50 Z-30. By the
// formulas of the dowels: L2x = L1x + 2m - W = 100 + 120 - 120.
func markerAnswer() *registration.Answer {
	b := registration.Blank{W: d("120"), H: d("80"), T: d("12")}
	pins := []registration.Pin{{At: pt("60", "10"), Dia: d("6")}, {At: pt("60", "70"), Dia: d("8")}}
	q := registration.Question{Unit: transform.MM, Stock: &b, Flip: registration.FlipY,
		Zero: registration.Zero{Name: "near-left"}, BackZero: registration.Zero{Name: "near-left"},
		ZZero: registration.Top, BackZZero: registration.Top, Offset: "G54", BackOffset: "G55",
		At:       &registration.Position{X: d("100"), Y: d("50"), Z: dp("-30")},
		Register: registration.Dowels, Pins: pins, Fit: "H7/m6", Tool: "T1"}
	on := []registration.Pin{{At: pt("160", "60"), Dia: d("6")}, {At: pt("160", "120"), Dia: d("8")}}
	return &registration.Answer{Question: q, Used: b,
		Transform: transform.Map{X: transform.Axis{Sign: -1, Offset: d("120")}, Y: transform.Axis{Sign: 1}, Z: transform.Axis{Sign: 1}},
		FaceZero:  pt("0", "0"), BackZero: pt("0", "0"), FaceMachine: true, Machine: true,
		FaceCorner: pt("100", "50"), BackCorner: ptp("100", "50"), FaceAt: q.At,
		Second: &registration.SecondZero{Offset: "G55", X: d("100"), Y: d("50"), Z: dp("-30"), Machine: true},
		LayUps: []registration.LayUp{
			{Name: registration.LayAsIs, Fits: true, Pairing: []int{0, 1}},
			{Name: registration.LayFlipX, Reason: registration.ReasonDiameters, Miss: d("1")},
			{Name: registration.LayFlipY, Fits: true, Wanted: true, Pairing: []int{0, 1}},
			{Name: registration.LayTurned, Reason: registration.ReasonDiameters, Miss: d("1")},
		},
		Foolproof: true, FacePins: on, BackPins: on, FlipLine: dp("60"),
		Facts: []registration.Fact{
			{Level: registration.LevelNote, Is: registration.SamePins{Edge: "left", At: d("60")}},
			{Level: registration.LevelNote, Is: registration.Foolproof{}},
			{Level: registration.LevelNote, Is: registration.ToolZ{Tool: "T1"}},
			{Level: registration.LevelCaution, Is: registration.TouchOffEdge{From: registration.Dowels}},
			{Level: registration.LevelAssumed, Is: registration.BackOffsetChosen{Offset: "G55", Taken: []string{"G57", "G59"}}},
		},
	}
}

// stopAnswer is a 140 x 90 x 19 board on a near fence and a left stop, turned
// about Y, at machine X50 Y60 Z-20. With the stop on the right for the back the
// same edge touches and L2x = 190 - 140 = 50; with it on the left, L2x = 50 as
// well, but another edge touches.
func stopAnswer(backStop registration.Side) *registration.Answer {
	b := registration.Blank{W: d("140"), H: d("90"), T: d("19")}
	q := registration.Question{Unit: transform.MM, Stock: &b, Flip: registration.FlipY,
		Zero: registration.Zero{Name: "near-left"}, BackZero: registration.Zero{Name: "near-left"},
		ZZero: registration.Top, BackZZero: registration.Top, Offset: "G54", BackOffset: "G55",
		At:       &registration.Position{X: d("50"), Y: d("60"), Z: dp("-20")},
		Register: registration.FenceStop,
		Fence:    registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left},
		BackFence: registration.Contact{Side: registration.Near}, BackStop: registration.Contact{Side: backStop}}
	same := backStop == registration.Right
	stop := registration.Touch{Locator: "stop", BackLocator: "stop", Side: registration.Left, BackSide: backStop,
		FaceEdge: registration.Left, BackEdge: registration.Left, SameEdge: same, Across: true,
		FaceCoord: d("50"), BackCoord: d("190"), CoordKnown: true, BackKnown: true}
	if !same {
		stop.BackEdge, stop.KeepSide, stop.KeepFlip, stop.KeepFlipSpoils = registration.Right, registration.Right, registration.FlipX, true
		stop.BackCoord = d("50")
	}
	return &registration.Answer{Question: q, Used: b,
		Transform:   transform.Map{X: transform.Axis{Sign: -1, Offset: d("140")}, Y: transform.Axis{Sign: 1}, Z: transform.Axis{Sign: 1}},
		FaceMachine: true, Machine: true, FaceCorner: pt("50", "60"), BackCorner: ptp("50", "60"), FaceAt: q.At,
		Second: &registration.SecondZero{Offset: "G55", X: d("50"), Y: d("60"), Z: dp("-20"), Machine: true},
		Touches: []registration.Touch{
			{Locator: "fence", BackLocator: "fence", Side: registration.Near, BackSide: registration.Near, FaceEdge: registration.Near,
				BackEdge: registration.Near, SameEdge: true, Shared: true, FaceCoord: d("60"), BackCoord: d("60"), CoordKnown: true, BackKnown: true},
			stop,
		},
		Facts: []registration.Fact{{Level: registration.LevelCaution, Is: registration.TouchOffEdge{From: registration.FenceStop}}},
	}
}

// station is a marker's place on the bed, its zero near-left.
func station(pair int, side, offset, x, y string) bed.Station {
	return bed.Station{Pair: pair, Side: side, Offset: offset, Zero: registration.Position{X: d(x), Y: d(y), Z: dp("-30")}, Corner: pt(x, y),
		Blank: bed.Rect{X: d(x), Y: d(y), W: d("120"), H: d("80")}}
}

func area(name, x, y, w, h string) draw.Area {
	return draw.Area{Area: bed.Area{Rect: bed.Rect{X: d(x), Y: d(y), W: d(w), H: d(h)}}, Name: name}
}

// markerSetup is the whole set-up of a run of row markers on two stations.
func markerSetup() Setup {
	a := markerAnswer()
	vice := area("vice", "420", "250", "150", "120")
	sum := "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"
	web := Estimate(3.2)
	s := Setup{
		Title: "Row marker", Job: "job.toml", Correct: "flipcalc correct --job job.toml", Material: "beech", Unit: transform.MM, Version: "test", Answer: a, Checklist: true,
		Machine: &Machine{Name: "bench router", Least: [3]decimal.Decimal{d("0"), d("0"), d("-90")}, Greatest: [3]decimal.Decimal{d("600"), d("400"), d("0")},
			NoGo:  []draw.Area{area("probe", "560", "0", "40", "60")},
			Taken: []draw.Taken{{Offset: "G57", Area: &vice}, {Offset: "G59"}}},
		Stations: []bed.Station{station(1, bed.FaceSide, "G54", "100", "50"), station(1, bed.BackSide, "G55", "240.5", "50")},
		Lines:    []string{"%", "(OFFSETS FOR ROW MARKER)", "G21 G90", "G10 L2 P1 X100 Y50 Z-30", "G10 L2 P2 X240.5 Y50 Z-30", "M30", "%"}, LinesFile: "offsets.nc",
		ClearZ: dp("-5"),
		Programs: []Program{
			{Name: "face.nc", Role: "face", Offset: "G54", Bytes: 1834, SHA256: sum, Seconds: 212, Tools: []int{1, 3}},
			{Name: "back.nc", Role: "mirrored", From: "outline.nc", Offset: "G55", Bytes: 2210, SHA256: sum, Seconds: 340, Tools: []int{1}},
			{Name: "offsets.nc", Role: "offsets", Bytes: 98, SHA256: sum},
		},
		Tools: []Tool{{Number: 1, Shape: "flat", Dia: d("6"), Flute: dp("22")}, {Number: 3, Shape: "vee", Dia: d("6"), X: dp("60")}},
		Budget: &Budget{At: pt("120", "80"), Worst: 0.094, Likely: 0.058, Dominant: "play on the pins", Halve: "with 0.012 the worst case falls to 0.076",
			Web: []string{"the web takes the blank's error of 0.2, the depths don't"},
			Terms: []BudgetTerm{{Code: "clearance", Name: "play on the pins", X: 0.03, Y: 0.02, Worst: 0.036, Sides: "face", Reason: "0.024, fit"},
				{Code: "repeatability", Name: "machine repeatability", X: 0.02, Y: 0.02, Worst: 0.028, Sides: "back", Reason: "0.02, common practice"},
				{Code: "wood", Name: "wood movement", X: 0.03, Worst: 0.03, Reason: "0.00043, Wood Handbook"}}},
		Plan: &Plan{Load: "held", Seconds: 560, Cycles: []Cycle{
			{Name: "first cycle", Before: "load the face station only", Does: []string{"load the face station only"}, Program: "first.nc", Gives: "a half-made marker to turn over"},
			{Name: "every cycle", Before: "move the marker from face to back station, turned over; load a new blank", Does: []string{"move the marker from face to back station, turned over", "load a new blank"}, Program: "cycle.nc", Gives: "one finished marker"},
			{Name: "last cycle", Before: "move the last marker, turned over; leave the face station empty", Does: []string{"move the last marker, turned over", "leave the face station empty"}, Program: "last.nc", Gives: "one finished marker"},
		}},
		Check: &Check{Cell: 0.1, HasWeb: true, WebMin: 3.4, WebAt: Place{60.5, 41.25}, Least: dp("2"), WebLess: &web, Tabs: &Tabs{Count: 4, Least: 0.8},
			Travel: []Travel{{Station: "G54", Axis: "X", Low: 92, High: 371, OK: true}, {Station: "G55", Axis: "Z", Low: 4, High: 25, OK: true, Room: 25}}},
		Mirrors: []Mirrored{{In: "outline.nc", Out: "back.nc", Blocks: 61, Moves: 48, Map: a.Transform,
			Before: Motion{Known: true, Greatest: [3]Estimate{120, 80, 0}, Least: [3]Estimate{0, 0, -12}, CutLength: 812.4, RapidLength: 300, Seconds: 340, Tools: []int{1}},
			After:  Motion{Known: true, Greatest: [3]Estimate{120, 80, 0}, Least: [3]Estimate{0, 0, -12}, CutLength: 812.4, RapidLength: 300, Seconds: 340, Tools: []int{1}}}},
		Notes: []Note{{Level: "note", Is: words.PlugMeasures{Why: "a pipe | in a note"}}},
	}
	return s
}
