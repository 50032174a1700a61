package report

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/words"
)

// What must be true before the first cut stands there in order, and nothing that comes
// later; then in at most seven lines how it goes on.
func TestTicks(t *testing.T) {
	alone := markerSetup()
	alone.Plan = nil
	bedZero := markerSetup()
	bedZero.Plan, bedZero.Answer.Question.ZZero, bedZero.Answer.Question.BackZZero = nil, registration.Bed, registration.Bed
	deep := markerSetup()
	deep.Plan = nil
	deep.Programs[0].Lowest = dp("-6")
	short := deep
	short.Check = &Check{Travel: []Travel{{Station: "G54", Axis: "Z", OK: true, Room: 25}}}
	oneTool := deep
	oneTool.Tools = oneTool.Tools[:1]
	turned, mixed := markerSetup(), markerSetup()
	turned.Plan, turned.Stations = nil, []bed.Station{station(1, bed.FaceSide, "G54", "100", "50"), station(1, bed.BackSide, "G55", "240", "50")}
	turned.Stations[0].Turn, turned.Stations[1].Turn = 1, 1
	mixed.Stations = append(slices.Clone(turned.Stations), station(2, bed.FaceSide, "G56", "100", "200"), station(2, bed.BackSide, "G57", "240", "200"))
	fence := Setup{Answer: stopAnswer(registration.Right), Checklist: true, TouchOffs: touchesAt("G54", "near fence", "G54", "left stop", "G55", "near fence", "G55", "right stop")}
	touched, three := fence, fence
	touched.TouchTool, three.TouchTool = 1, 1
	three.TouchOffs = touchesAt("G54", "near fence", "G54", "near fence", "G54", "left stop", "G55", "near fence", "G55", "right stop")
	plug := Setup{Answer: plugAnswer(t, false), Checklist: true, TouchOffs: touchesAt("G54", "plug", "G55", "plug")}
	bored := plug
	bored.Programs, bored.Check = []Program{{Name: "face.nc", Role: "face"}}, &Check{Bored: true}
	inPlace, loose := bored, plug
	inPlace.Answer = plugInPlace(t, func(*registration.Question) {})
	loose.Answer = plugInPlace(t, func(q *registration.Question) { q.At, q.Clock.Dia = nil, decimal.Zero })
	forbidden, waits := alone, alone
	forbidden.Programs = []Program{{Name: "face.nc", Role: "face", Offset: "G54", Stints: []motion.Stint{{Tool: 1}, {Tool: 2, Line: 9}}}}
	waits.Programs = []Program{{Name: "face.nc", Role: "face", Offset: "G54", Stints: []motion.Stint{{Tool: 1}, {Tool: 2, Line: 9, Stop: 9}}}}
	through := forbidden
	through.Stations, through.Answer = nil, solved(t, func(q *registration.Question) { q.DrilledFace = true })
	through.TouchOffs = touchesAt("G54", "dowel 1", "G55", "dowel 1")
	changes := markerSetup()
	changes.Plan.FirstChanges = 2
	changes.Programs = append(changes.Programs, Program{Name: "first.nc", Seconds: 148}, Program{Name: "pins-bed.nc", Role: "drilling", Tools: []int{1, 4}})
	changes.Pins = &PinFit{Drilling: []Drilling{{Name: "pins-bed.nc", Where: "bed"}}}
	other, far := alone, alone
	other.Programs = []Program{{Name: "face.nc", Role: "face", Offset: "G54", Stints: []motion.Stint{{Tool: 1}}}, {Name: "back.nc", Role: "back", Offset: "G55", Stints: []motion.Stint{{Tool: 3}}}}
	far.Budget, far.StickOut, far.Reading = nil, true, [2]*decimal.Decimal{dp("-88"), dp("-90")}
	taped, spots := markerSetup(), markerSetup()
	taped.HeldAll, spots.Held = true, []registration.Point{{X: d("60"), Y: d("40")}}
	for _, c := range []struct {
		name string
		s    Setup
		want []string // one after the other
		not  []string
	}{
		{"merged", markerSetup(), []string{"Note the old values of G54, G55: ___; home the machine\nPencil on every blank: FACE; edges A near, B right, C far, D left\nRun offsets.nc once", "Drill the dowel holes by hand, bed then blanks (page 2)\nFit dowel 1 Ø6 near, dowel 2 Ø8 far\n",
			"Lay the blank on its dowels, FACE up", "\nClamp it, or vacuum on\n", "Touch off Z in G54, tool ___, Z = feeler thickness ___\n",
			"Tool up, raise stored Z clear of the work, dry run, Z back to ___\n", "Run face.nc, 3:32 min\nStop the spindle, unclamp, turn it over; seat it BACK up on its dowels; hold it alike\nTouch off Z in G55; tool up, raise stored Z clear of the work, dry run, Z back to ___\n",
			"Run back.nc, 5:40 min; measure how far off, correct (page 2)\n", "First cycle: first.nc, face only\n",
			"Every cycle: cycle.nc: part off G55 (from cycle 3); turn G54's onto G55; new blank on G54\n", "Last cycle: last.nc, no new blank; take the part off"}, []string{"each blank"}},
		{"alone", alone, []string{"Run face.nc, 3:32 min\n", "Run back.nc, 5:40 min; measure"}, []string{"first.nc"}},
		{"zero on the bed", bedZero, []string{"Touch off Z in G54 on the bed", "Lay the blank on its dowels", "Touch off Z in G55 on the bed; seat it BACK up"}, nil},
		{"held all over", taped, []string{"Hold all of it: vacuum or tape\n"}, []string{"Clamp"}},
		{"held at a place", spots, []string{"Clamp it, or vacuum on; and by tape or screws at X60 Y40 mm from the corner near left\n"}, nil},
		// 12 thick + 6 deep + 10 over it; then the travel leaves 25.
		{"deep", deep, []string{"Tool up, raise stored Z 28 mm, dry run, Z back to ___"}, nil},
		{"short of travel", short, []string{"Blank off, tool up, raise stored Z 25 mm, dry run, Z back to ___"}, nil},
		{"one tool", oneTool, []string{"Touch off Z in G54 with T1, Z = feeler thickness ___\n", "Touch off Z in G55 with T1"}, nil},
		// A quarter turn counter-clockwise brings the near edge to the right.
		{"turned", turned, []string{"FACE up, edge A right", "BACK up on its dowels, edge A right"}, nil},
		{"two pairs", mixed, []string{"At all stations", "FACE up, turned as on page 2", "Touch off Z in G54, G56", "parts off G55, G57"}, nil},
		{"fence", fence, []string{"Set near fence, left stop; check P1, P2 (page 2)\n", "Lay the blank against the fence, then the stop, FACE up", "take out left stop; set right stop; check P3, P4 (page 2); seat it BACK up against the fence"}, nil},
		{"plug", plug, []string{"Fit plug Ø12, index pin Ø4; check P1, P2 (page 2)\n", "Lay the blank with its bore Ø12 on the plug and index pin, FACE up"}, []string{"; fit the plug"}},
		{"fence, touched with a tool", touched, []string{"check P1, P2 with T1 (page 2)\n", "check P3, P4 (page 2)"}, nil},
		{"three places", three, []string{"check P1 to P3 with T1 (page 2)\n"}, nil},
		{"bored by the face, turned to another place", bored, []string{"Fit the back's plug Ø12, the back's index pin Ø4; check P1 (page 2)\n", "Lay the blank FACE up against a temporary near fence and left stop, corner at machine X170 Y70: face.nc cuts the bore Ø12\n",
			"turn it over; seat it BACK up on the plug and index pin"}, []string{"P2"}},
		{"bored by the face, turned in place", inPlace, []string{"read them back\n", "turn it over; fit plug Ø12, index pin Ø4; check P1 (page 2); seat it BACK up"}, []string{"Fit", "P2"}},
		{"nothing known of the bed", loose, []string{"index pin; check P1", "Touch off X, Y, Z in G54", "Store in G55 G54's values plus X0 Y0 Z0\n", "dry run"}, []string{"Ø0"}},
		{"not to be run", forbidden, []string{"Stop here: mend face.nc, see the warning\n", "Run face.nc, not as it is: see the warning\n"}, []string{"anew", "Tool up"}},
		{"stops for its tools", waits, []string{"with T1, Z = feeler thickness ___; anew with T2 at the stop, line 9 of face.nc\n", "Run face.nc, Z anew at each tool change\n"}, nil},
		{"drilled through", through, []string{"Lay the blank against a temporary near fence", "Drill the dowel holes through by hand (page 2), then touch off Z again for the face\n", "fit dowel 1 Ø6 near, dowel 2 Ø8 far; seat"}, []string{"P1", "P2"}},
		{"tool changes", changes, []string{"Drill the bed: pins-bed.nc with T1 and T4; hold, Z: page 2\n", "First cycle: first.nc, 2:28 min with tool changes, face only"}, nil},
		{"another tool for the back", other, []string{"Put T3 in, touch off Z in G55; tool up"}, []string{"G55 with"}},
		// 1 mm of a rule's reading and 0.2 of the blank's thickness, which the budget takes unsaid.
		{"far off", far, []string{"(expect machine Z-88; more than 1.2 mm off: stop)", "Touch off Z in G55 (expect Z-90)"}, nil},
	} {
		if _, plan := c.s.inShort(); len(plan) > 8 {
			t.Errorf("%s: %d lines of plan", c.name, len(plan))
		}
		text := shortText(&c.s)
		from := 0
		for _, w := range c.want {
			i := strings.Index(text[from:], w)
			if i < 0 {
				t.Errorf("%s: no %q behind %d of\n%s", c.name, w, from, text)
				break
			}
			from += i
		}
		for _, n := range c.not {
			if strings.Contains(text, n) {
				t.Errorf("%s: %q in\n%s", c.name, n, text)
			}
		}
	}
}

// shortText is what page one's boxes and plan say.
func shortText(s *Setup) string {
	ticks, plan := s.inShort()
	return strings.ReplaceAll(strings.Join(append(ticks, plan...), "\n"), "\u00a0", " ")
}

// The order of the programs stands on page one whatever else is to stand there; only its
// drawings and alarms make room, the drawing of the turn on page two.
func TestPlanIsNeverLeftOut(t *testing.T) {
	all := sheets()
	many := all["findings"]
	for i := range 9 {
		many.Notes = append(many.Notes, Note{Level: "warning", Is: words.PlugMeasures{Why: "a long warning that takes a line or two of the page, number " + itoa(i)}})
	}
	for pair := range 2 {
		many.Stations = append(many.Stations, station(pair+2, bed.FaceSide, "G5"+itoa(6+2*pair), "100", "200"), station(pair+2, bed.BackSide, "G5"+itoa(7+2*pair), "240", "200"))
	}
	all["three pairs and alarms"] = many
	for name, s := range all {
		p, _ := s.pageOne()
		if _, want := s.inShort(); len(want) == 0 || !slices.Equal(p.Plan, want) {
			t.Errorf("%s: plan %q, want %q", name, p.Plan, want)
		}
		var b bytes.Buffer
		if err := HTML(&b, s); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), `id="fig-turn"`); n != 1 {
			t.Errorf("%s: the turn is drawn %d times", name, n)
		}
	}
}

// touchesAt are readings of the first pair, by offset and what is touched.
func touchesAt(rows ...string) (out []TouchOff) {
	for i := 0; i < len(rows); i += 2 {
		side := map[string]string{"G54": bed.FaceSide, "G55": bed.BackSide}[rows[i]]
		row := TouchOff{Pair: 1, Side: side, Offset: rows[i], What: rows[i+1], Axis: "X", Reads: dp("0")}
		if row.Centred = rows[i+1] == "plug" || strings.HasPrefix(rows[i+1], "dowel"); row.Centred {
			out = append(out, row)
			row.Axis = "Y"
		}
		out = append(out, row)
	}
	return out
}

// The box says whether the Z that is touched off replaces one that is stored, and what is run
// there with its time and tools.
func TestZeroBoxes(t *testing.T) {
	whole, called := markerSetup(), markerSetup()
	for i := range called.Stations {
		called.Stations[i].Zero.Z = nil
	}
	for _, c := range []struct {
		name, zero, level string
		s                 Setup
	}{
		{"stored", "G54 X100 Y50 Z-30", "Z0 top of blank: touch off, replacing its Z", whole},
		{"lengths called", "G54 X100 Y50", "Z0 top of blank: touch off", called},
	} {
		if b := c.s.zeroBoxes()[0]; b != (zeroBox{"FACE", c.zero, "mm, machine coordinates", c.level, "face.nc, 3:32 min: T1 T3"}) {
			t.Errorf("%s: %+v", c.name, b)
		}
	}
}

// A tool that no program of a side uses is there for the holes, or it isn't listed.
func TestToolsSayWhatTheyCut(t *testing.T) {
	s := markerSetup()
	s.Programs = append(s.Programs, Program{Name: "bed.nc", Role: "drilling", Tools: []int{4}})
	for tool, want := range map[int]string{1: "", 3: "", 4: " (dowel holes)", 5: "not used"} {
		got, used := s.usedFor(tool)
		if !used {
			got = "not used"
		}
		if got != want {
			t.Errorf("T%d%s, want %s", tool, got, want)
		}
	}
	if got := shortTool(s.Tools[1]); got != "vee 6, 60°" {
		t.Error(got)
	}
}

// Whatever is a warning or a finding on the terminal stands on page one or two; page one
// holds the worst, and says how many are left.
func TestAlarmsStandOnPageOneOrTwo(t *testing.T) {
	all := sheets()
	many := all["findings"]
	for _, text := range []string{"one of them", "two of them", "three of them"} {
		many.Notes = append(many.Notes, Note{Level: "warning", Is: words.PlugMeasures{Why: text}})
	}
	all["many"] = many
	for name, s := range all {
		sections, _ := s.Brief()
		var page bytes.Buffer
		if err := HTML(&page, s); err != nil {
			t.Fatal(err)
		}
		one, rest, _ := strings.Cut(page.String(), `<article class="two"`)
		two, _, _ := strings.Cut(rest, `<article class="record"`)
		n := 0
		for _, sec := range sections {
			for _, b := range sec.Blocks {
				p, ok := b.(Para)
				if !ok || p.Level != "warning" && p.Level != "finding" {
					continue
				}
				n++
				if text := string(prose(p.Text)); !strings.Contains(one, text) && !strings.Contains(two, text) {
					t.Errorf("%s: %q stands on neither page", name, p.Text)
				}
			}
		}
		shared, left := s.pageOne()
		first := shared.Alarms
		if n == 0 || n != len(first)+len(left) || len(first) > mostAlarms {
			t.Errorf("%s: %d on the terminal, %d on page one, %d on page two", name, n, len(first), len(left))
		}
		if more := "+" + itoa(len(left)) + " more on page 2"; strings.Contains(one, more) != (len(left) > 0) {
			t.Errorf("%s: %q, or not", name, more)
		}
		if len(left) > 0 && first[0].Level != "finding" {
			t.Errorf("%s: %v comes first", name, first[0])
		}
	}
}

// A number that drives the cutter wrong is told before a look at the offset page.
func TestDoubtsComeFirst(t *testing.T) {
	s := Setup{Checklist: true, Unit: transform.MM, Answer: solved(t, func(q *registration.Question) { q.BackOffset = "" })}
	s.Check = &Check{Notes: []Note{{Level: "warning", Is: words.ThroughTaken{Outlines: 1, Least: 0.5}}}}
	s.Notes = []Note{{Level: "warning", Is: words.ZDoubtful{Doubt: bed.Doubt{At: d("-101")}, Zero: registration.Top}}}
	got := ""
	for _, a := range s.alarms() {
		got += a.Text + "\n"
	}
	inOrder(t, "alarms", got, "-101", "taken as meant", "using G55: check that it is free")
}

// plugInPlace is plugAnswer's blank turned over on the one plug.
func plugInPlace(t *testing.T, change func(*registration.Question)) *registration.Answer {
	t.Helper()
	q := plugAnswer(t, false).Question
	q.PlugAt = nil
	change(&q)
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Keys of the job are for whoever sits at it: the terminal has them, the sheet's alarms don't.
func TestAlarmsOnPaperHaveNoKeys(t *testing.T) {
	s := markerSetup()
	for _, is := range []any{words.ThroughTaken{Outlines: 1, Least: 0.5}, words.NotMerged{Programs: []string{"first.nc"}, Why: "no clear height; hint: give clear Z"}, words.LevelUnknown{Sides: []string{"face"}, Keys: []string{"at"}}} {
		s.Notes = append(s.Notes, Note{Level: "warning", Is: is})
	}
	keys := 0
	for _, a := range s.alarms() {
		keys += strings.Count(a.Text, " [") + strings.Count(a.Text, "give clear")
	}
	one, rest := s.pageOne()
	for _, a := range append(one.Alarms, rest...) {
		if strings.Contains(a.Text, "[") || strings.Contains(a.Text, "give clear") {
			t.Errorf("on paper: %q", a.Text)
		}
	}
	if keys != 3 {
		t.Errorf("%d warnings on the terminal with their keys, want 3", keys)
	}
}

// A blank that nothing locates is touched on its own edges: there is nothing to check beside
// it with the blank off.
func TestTouchedBlankHasNoPointsToCheck(t *testing.T) {
	s := Setup{Checklist: true, TouchOffs: touchesAt("G54", "left edge", "G54", "near edge"), Answer: solved(t, func(q *registration.Question) {
		q.Register, q.Pins, q.Fit = registration.NoRegister, nil, ""
	})}
	if got := shortText(&s); strings.Contains(got, "check P") || len(s.scene().Touches) > 0 {
		t.Errorf("%s: %d points", got, len(s.scene().Touches))
	}
}

// A touched blank that lies turned has its face no more where it was cut: no place is drawn.
func TestTurnedBlankHasNoPlaceDrawn(t *testing.T) {
	for turn, drawn := range map[string]bool{"0.5": true, "-37": false} {
		a := *markerAnswer()
		a.Lie = &registration.Lie{Turn: d(turn)}
		s := Setup{Answer: &a, Checklist: true, Drawings: &Drawings{}}
		if got := s.placesFigure(50).SVG != ""; got != drawn {
			t.Errorf("turned by %s: drawn %v", turn, got)
		}
	}
}

// What nothing rests on isn't written down: a stick-out serves the Z that is expected, and the
// clear height.
func TestStickOutIsWrittenWhereItServes(t *testing.T) {
	s := markerSetup()
	s.ClearZ, s.Reading = nil, [2]*decimal.Decimal{}
	if got := text(s.Steps()); strings.Contains(got, "stick-out, mm") {
		t.Error(got)
	}
	for name, change := range map[string]func(){"expected": func() { s.Reading[0] = dp("-88") }, "clear": func() { s.Reading[0], s.ClearZ = nil, dp("-50") }} {
		if change(); !strings.Contains(text(s.Steps()), "T1 stick-out, mm") {
			t.Errorf("%s: no room to write it", name)
		}
	}
}

// Lettering goes behind the middle of the face's cuts. By hand: they run from X10 to X50 and from
// Y10 to Y70; turned like a page over 120 the middle X30 comes to X90.
func TestMiddleOfTheCuts(t *testing.T) {
	s := markerSetup()
	if got := s.middleOfCuts(); got != "" {
		t.Errorf("unknown cuts: %q", got)
	}
	s.Programs[0].Cuts = reachBox("10", "10", "-6", "50", "70")
	if got, want := s.middleOfCuts(), "face X30 Y40, on the back X90 Y40 (each from its zero)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// The limits are those of the job's budget; with Z0 on the bed the blank's thickness is no part of
// them. A rule is read to 1 mm, or 1/32 in (common practice).
func TestLimits(t *testing.T) {
	s := markerSetup()
	s.Budget = &Budget{Locator: d("0.1"), Thickness: d("0.3")}
	if place, z := s.offPlace(), s.farOff(false); place != "0.1 mm" || z != "1.3 mm" {
		t.Errorf("%s off its place, %s off Z", place, z)
	}
	s.Unit, s.Budget, s.Answer.Question.ZZero = transform.Inch, nil, registration.Bed
	s.BedUnit = nil
	if z := s.farOff(false); z != "0.03 in" {
		t.Errorf("Z0 on the bed: %s", z)
	}
}

// A time of an hour or more isn't told as minutes.
func TestTakes(t *testing.T) {
	for seconds, want := range map[Estimate]string{0: "", 48.2: ", 49 s", 75: ", 1:15 min", 3599: ", 59:59 min", 22062: ", 6 h 8 min"} {
		s := Setup{Programs: []Program{{Seconds: seconds}}}
		if got := s.takes(func(*Program) bool { return true }); got != want {
			t.Errorf("%v s: %q, want %q", seconds, got, want)
		}
	}
}
