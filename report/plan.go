package report

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"flipcalc/mirror/pairing"
	"flipcalc/registration/bed"
	"flipcalc/registration/run"
)

// Plan is the order of work in a production run. Times are in seconds.
type Plan struct {
	Order  string    // "tools" or "stations"
	Load   string    // "held" or "guarded"
	Hidden bool      // loading hides behind cutting
	Pause  string    // "M0" or "M1" between faces and backs, or ""
	Park   string    // where the cutter stands at a pause and at the end, "" where it isn't taken aside
	Ends   [3]string // offsets over which the three programs then leave it
	Pairs  int
	// TouchOffs is how often Z is touched off anew in each cycle, which no time counts.
	TouchOffs int
	Parts     int // of the batch; 0 where it isn't said

	// Tool changes of each program, of a steady cycle from the second on, and of
	// the programs run one after the other, station by station.
	FirstChanges, Changes, LastChanges, Separate int

	FaceSeconds, BackSeconds                 float64 // of one face and one back, ramps included, tool changes not
	LoadSeconds, ChangeSeconds, SetupSeconds float64
	Seconds                                  float64 // one steady cycle with its loading

	Orders []PlanOrder // both orders of cutting, then one station
	Cycles []Cycle
	Count  int // cycles in all; 0 where the batch isn't said
	Finish float64
	// BreakEven is the least batch from which on the pairs are never slower than
	// one station; 0 if they never are faster for good.
	BreakEven int
	Notes     []Note
}

// PlanOrder is one way of cutting, for comparison.
type PlanOrder struct {
	Name                    string // "tools", "stations" or "one station"
	Chosen                  bool
	Changes                 int     // of the tool, in one cycle; at one station for one part
	Machine                 float64 // that the machine takes for it
	Seconds                 float64 // with hands
	PerHour                 float64 // parts
	SpindleWaits, HandsWait float64 // in one cycle
	Finish                  float64 // of the batch
}

// Cycle is one start of the machine, or a row of starts that are alike.
type Cycle struct {
	Name    string   // "first cycle", "cycles 2 to 20"
	Lies    string   // what lies where while it runs
	Before  string   // what the operator's hands do
	Does    []string // what is done and run, one after the other
	Program string
	Cuts    string  // what the machine cuts
	Gives   string  // what is finished
	Ends    float64 // since the first hand on the first blank; 0 is unknown
}

// Run is a production run as it was worked out: both orders of cutting, each with
// its programs and its plan.
type Run struct {
	Merged [2]*pairing.Result // by run.Order
	Plans  [2]*run.Plan
	Chosen run.Order
	Pairs  []pairing.Pair
	Names  [3]string // files of the first, the steady and the last program
	Pause  string
	Times  run.Measured // of the chosen order
	Clear  *bed.Clear   // how the clear height was reckoned; nil where it was given

	// Placed says that the stations were placed on the bed; Left are the offsets that
	// then remain free, Extended that the control has G59.1 to G59.3.
	Placed, Extended bool
	Left             []string

	Park    *pairing.Place // nil where the tool isn't taken aside
	Touched [2]bool        // on which sides of each part, face and back, Z is touched off anew

	// What was not said and took its default.
	LoadAssumed, ChangeAssumed, RatesAssumed, G53Assumed bool
}

// TimesOf gives a merge's times and tool changes; change is the seconds of one. A
// tool that is in the spindle needs no change.
func TimesOf(m *pairing.Result, change float64) run.Measured {
	first, steady, last := m.First.Tools, m.Steady.Tools, m.Last.Tools
	t := run.Measured{First: m.First.Seconds, Steady: m.Steady.Seconds, Last: m.Last.Seconds,
		FirstChanges: m.First.Changes, SteadyChanges: m.Steady.Changes, LastChanges: m.Last.Changes,
		Face: m.FaceSeconds, Back: m.BackSeconds, FaceChanges: m.First.Changes, BackChanges: m.Last.Changes,
		Wraps: m.Wrap, LastKeeps: last[0] == steady[len(steady)-1], Change: change}
	if first[0] == last[len(last)-1] {
		t.FaceChanges--
	}
	if last[0] == first[len(first)-1] {
		t.BackChanges--
	}
	return t
}

// PlanOf puts a run into words.
func PlanOf(r Run) *Plan {
	plan, merged := r.Plans[r.Chosen], r.Merged[r.Chosen]
	q := plan.Question
	p := &Plan{Order: orderName(r.Chosen), Load: "held", Hidden: plan.Hidden, Pause: r.Pause, Pairs: q.Pairs, Parts: q.Parts,
		FirstChanges: merged.First.Changes, Changes: changesOf(merged), LastChanges: merged.Last.Changes, Separate: merged.Separate,
		FaceSeconds: merged.FaceSeconds, BackSeconds: merged.BackSeconds,
		LoadSeconds: q.Load, ChangeSeconds: r.Times.Change, SetupSeconds: q.Setup - q.SingleSetup,
		Seconds: plan.CycleSeconds, Count: plan.Cycles, Finish: plan.Finish, BreakEven: plan.BreakEven}
	if q.Loading == run.Guarded {
		p.Load = "guarded"
	}
	p.Ends = [3]string{merged.First.Ends, merged.Steady.Ends, merged.Last.Ends}
	for _, touched := range r.Touched {
		if touched {
			p.TouchOffs += q.Pairs
		}
	}
	if r.Park != nil {
		p.Park = "machine X" + r.Park.X.String() + " Y" + r.Park.Y.String() + " " + r.Park.Unit.String()
	}
	for o, pl := range r.Plans {
		p.Orders = append(p.Orders, PlanOrder{Name: orderName(run.Order(o)), Chosen: run.Order(o) == r.Chosen, Changes: changesOf(r.Merged[o]),
			Machine: pl.Question.Steady, Seconds: pl.CycleSeconds, PerHour: pl.PartsPerHour, SpindleWaits: pl.SpindleWaits, HandsWait: pl.HandsWait, Finish: pl.Finish})
	}
	machine, hands := q.SingleFace+q.SingleBack, q.Load+q.Turn
	p.Orders = append(p.Orders, PlanOrder{Name: "one station", Changes: r.Times.FaceChanges + r.Times.BackChanges, Machine: machine, Seconds: machine + hands,
		PerHour: plan.SinglePerHour, SpindleWaits: hands, HandsWait: machine, Finish: plan.SingleFinish})
	rows := plan.Rows
	if len(rows) == 0 {
		rows = []run.Cycle{
			{From: 1, To: 1, Faces: q.Pairs, Program: "first", Loads: q.Pairs},
			{From: 2, To: math.MaxInt, Faces: q.Pairs, Backs: q.Pairs, Program: "steady", Loads: q.Pairs, Turns: q.Pairs},
			{From: math.MaxInt, To: math.MaxInt, Backs: q.Pairs, Program: "last", Turns: q.Pairs},
		}
	}
	for _, c := range rows {
		p.Cycles = append(p.Cycles, r.cycle(c))
	}
	r.notes(p)
	return p
}

// changesOf counts the tool changes of a steady cycle from the second on.
func changesOf(m *pairing.Result) int {
	if m.Wrap {
		return m.Steady.Changes - 1
	}
	return m.Steady.Changes
}

func orderName(o run.Order) string {
	if o == run.ByStations {
		return "stations"
	}
	return "tools"
}

// cycle puts a row of cycles into words.
func (r Run) cycle(c run.Cycle) Cycle {
	plan := r.Plans[r.Chosen]
	var faces, backs, idleFaces, idleBacks []string
	for i, p := range r.Pairs {
		*pick(i < c.Faces, &faces, &idleFaces) = append(*pick(i < c.Faces, &faces, &idleFaces), p.Face.Offset)
		*pick(i < c.Backs, &backs, &idleBacks) = append(*pick(i < c.Backs, &backs, &idleBacks), p.Back.Offset)
	}
	var lies []string
	say := func(at []string, one, many string) {
		if len(at) > 0 {
			lies = append(lies, list(at)+": "+map[bool]string{true: one, false: many}[len(at) == 1])
		}
	}
	say(faces, "new blank", "new blanks")
	say(backs, "turned blank", "turned blanks")
	say(append(idleFaces, idleBacks...), "empty", "empty")
	out := Cycle{Name: cycleName(c), Lies: strings.Join(lies, "; "), Ends: c.End}
	if plan.Hidden {
		out.Before = r.guardedHands(c, faces, backs)
	} else {
		out.Before = r.heldHands(c, faces)
	}
	switch c.Program {
	case "first":
		out.Program, out.Cuts = r.Names[0], "the faces"
	case "last":
		out.Program, out.Cuts = r.Names[2], "the backs"
	default:
		out.Program, out.Cuts = r.Names[1], "faces and backs"
		if r.Chosen == run.ByStations {
			out.Cuts = "the faces, then the backs"
			if r.Pause != "" {
				out.Cuts = "the faces, stops (" + r.Pause + "), then the backs"
			}
		}
	}
	if plan.Hidden {
		out.Does = r.guardedDoes(c, out.Program, faces, backs)
	} else {
		out.Does = r.heldDoes(c, out.Program, faces, backs)
	}
	if plan.Question.Parts > 0 && c.Finished > 0 {
		out.Gives = plural(c.Finished, "part", "parts") + " finished"
	} else if plan.Question.Parts == 0 && c.Backs > 0 {
		out.Gives = plural(c.Backs, "finished part", "finished parts")
	}
	return out
}

func pick(first bool, a, b *[]string) *[]string {
	if first {
		return a
	}
	return b
}

// cycleName names a row of cycles.
func cycleName(c run.Cycle) string {
	switch {
	case c.To == math.MaxInt && c.From == 2:
		return "every further cycle"
	case c.To == math.MaxInt:
		return "last cycle"
	case c.From == 1:
		return "first cycle"
	case c.Program == "last":
		return "last cycle, " + itoa(c.From)
	case c.From == c.To:
		return "cycle " + itoa(c.From)
	}
	return fmt.Sprintf("cycles %d to %d", c.From, c.To)
}

// touchOn says that Z is touched off on the blanks at stations of one side, "" where it
// isn't or none lies there.
func (r Run) touchOn(offsets []string, back bool) string {
	i := 0
	if back {
		i = 1
	}
	if !r.Touched[i] || len(offsets) == 0 {
		return ""
	}
	return "touch off Z of " + list(offsets)
}

// heldDoes lists what is done in a cycle that is loaded with the machine held.
func (r Run) heldDoes(c run.Cycle, program string, faces, backs []string) (out []string) {
	out = append(out, r.heldHands(c, faces), "hold "+word(c.Loads+c.Turns, "it", "them"))
	var touched []string
	for side, offsets := range [2][]string{faces, backs} {
		if r.Touched[side] {
			touched = append(touched, offsets...)
		}
	}
	if len(touched) > 0 {
		out = append(out, "touch off Z of "+list(touched))
	}
	out = append(out, "hands out of reach", "run "+program)
	if c.Faces > 0 && c.Backs > 0 && r.Chosen == run.ByStations && r.Pause != "" {
		out = append(out, "it stops after the faces ("+r.pauseWords()+"): start it again for the backs")
	}
	return out
}

// pauseWords names the stop between faces and backs.
func (r Run) pauseWords() string {
	if r.Pause == "M1" {
		return "M1: see that the optional stop is switched on, or it doesn't"
	}
	return r.Pause
}

// guardedDoes lists what is done in a cycle in which one side is loaded while the other
// is cut. Z can be touched off only where the program has stopped or ended.
func (r Run) guardedDoes(c run.Cycle, program string, faces, backs []string) (out []string) {
	say := func(acts ...string) {
		for _, t := range acts {
			if t != "" {
				out = append(out, t)
			}
		}
	}
	take := ""
	if c.To > 2 {
		take = "take the finished " + word(len(r.Pairs), "part", "parts") + " off " + r.offsets(len(r.Pairs), true)
		if c.From == 2 {
			take = "from the third cycle on " + take
		}
	}
	seat := "seat the " + word(c.Turns, "turned blank", "turned blanks") + " from the hand, back up, on " + list(backs) + " and hold " + word(c.Turns, "it", "them")
	off := "take the " + word(c.Faces, "blank", "blanks") + " off " + list(faces) + ", turn " + word(c.Faces, "it", "them") + " over and keep " + word(c.Faces, "it", "them") + " in hand"
	const lay = "lay new ones on and hold them, as long as there are any"
	after := ""
	if t := r.touchOn(faces, false); t != "" {
		after = ", " + t
	}
	switch c.Program {
	case "first":
		say("lay "+word(c.Loads, "a new blank", "new blanks")+" on "+list(faces)+" and hold "+word(c.Loads, "it", "them"), r.touchOn(faces, false), "hands out of reach", "run "+program, "when it has ended: "+off+", "+lay+after)
	case "last":
		say(take, seat, r.touchOn(backs, true), "hands out of reach", "run "+program)
	default:
		at := "it stops after the faces (" + r.pauseWords() + ") with the spindle still: "
		if t := r.touchOn(backs, true); t != "" {
			at += t + ", raise the tool to the clear height, "
		}
		first := "while the faces are cut: "
		if take != "" {
			first += take + ", "
		}
		say("run "+program, first+seat, at+"hands out of reach, start it again", "while the backs are cut: "+off+", "+lay)
		if after != "" {
			say("when it has ended" + after)
		}
	}
	return out
}

// heldHands says what hands do before a cycle starts, the machine held.
func (r Run) heldHands(c run.Cycle, faces []string) string {
	var does []string
	if c.To > 2 {
		take := "take the finished " + word(len(r.Pairs), "part", "parts") + " off " + r.offsets(len(r.Pairs), true)
		if c.From == 2 {
			take = "from the third cycle on " + take
		}
		does = append(does, take)
	}
	if c.Turns > 0 {
		var from []string
		for _, p := range r.Pairs[:c.Turns] {
			from = append(from, p.Face.Offset+" to "+p.Back.Offset)
		}
		does = append(does, "turn the "+word(c.Turns, "blank", "blanks")+" over from "+list(from))
	}
	if c.Loads > 0 {
		does = append(does, "lay "+word(c.Loads, "a new blank", "new blanks")+" on "+list(faces))
	}
	return strings.Join(does, "; ")
}

// guardedHands says what hands do while the other side is cut. A turned blank waits
// in hand from the one to the other.
func (r Run) guardedHands(c run.Cycle, faces, backs []string) string {
	if c.Program == "first" {
		return "before it: lay " + word(c.Loads, "a new blank", "new blanks") + " on " + list(faces) + "; after it: take " + word(c.Loads, "the blank", "the blanks") +
			" off and keep " + word(c.Loads, "it", "them") + " in hand, and lay new ones on"
	}
	var does []string
	if c.To > 2 {
		take := "take the finished " + word(len(r.Pairs), "part", "parts") + " off " + r.offsets(len(r.Pairs), true)
		if c.From == 2 {
			take = "from the third cycle on " + take
		}
		does = append(does, take)
	}
	seat := "seat the " + word(c.Turns, "turned blank", "turned blanks") + " from the hand on " + list(backs)
	if c.Program == "last" {
		return strings.Join(append(does, seat), "; ")
	}
	s := "while the faces are cut: " + strings.Join(append(does, seat), "; ") + "; while the backs are cut: take the " + word(c.Faces, "blank", "blanks") + " off " + list(faces) +
		" and keep " + word(c.Faces, "it", "them") + " in hand"
	return s + ", and lay new ones on as long as there are any"
}

// offsets lists the offsets of the first n face or back stations.
func (r Run) offsets(n int, back bool) string {
	var out []string
	for _, p := range r.Pairs[:n] {
		if back {
			out = append(out, p.Back.Offset)
		} else {
			out = append(out, p.Face.Offset)
		}
	}
	return list(out)
}

func word(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Codes of a plan's notes, beyond those of package pairing.
const (
	PlanGuarded      = "loading-while-moving"
	PlanGuardIdle    = "guard-without-use"
	PlanPauseUnused  = "pause-without-use"
	PlanOptionalStop = "optional-stop"
	PlanEmpty        = "air-at-empty-stations"
	PlanEstimate     = "times-estimated"
	PlanLoad         = "load-time-default"
	PlanChange       = "change-time-default"
	PlanRates        = "rates-default"
	PlanSetup        = "set-up-not-counted"
	PlanFirst        = "dry-run-each"
	PlanClear        = "clear-height-reckoned"
	PlanClearUnknown = "clear-height-fixtures"
	PlanG53          = "g53-default"
	PlanPlaces       = "places-unknown"
	PlanOffsets      = "offsets-left"
	PlanApart        = "stations-apart"
	PlanAsRun        = "back-as-run"
	PlanPark         = "parked"
	PlanNotParked    = "not-parked"
	PlanRestart      = "restart-lines"
	PlanTouch        = "touch-off-not-counted"
	PlanNotMerged    = "not-merged"
	PlanStale        = "stale-program"
)

// notes adds what must be said of a plan.
func (r Run) notes(p *Plan) {
	add := func(level, code, text string, v ...string) {
		p.Notes = append(p.Notes, Note{Code: code, Level: level, Text: text, Values: v})
	}
	if p.Hidden {
		add("caution", PlanGuarded, "stations are loaded while the machine moves: only where each station is guarded or out of the machine's reach, otherwise load with the machine held (--load held)")
	}
	add("caution", PlanFirst, "dry run "+list(r.Names[:])+" above the work, each for itself, before the first blank")
	if p.Load == "guarded" && !p.Hidden {
		add("note", PlanGuardIdle, "with --order tools both stations are busy to the end of the cycle, so there is nothing to load while the machine moves: it is loaded held")
	}
	if p.Park != "" {
		add("note", PlanPark, "between cycles the spindle stands still and the cutter at "+p.Park+", at the clear height")
	} else {
		over := list(r.Names[1:]) + " leave the cutter over " + p.Ends[1]
		if p.Ends[1] != p.Ends[2] {
			over = r.Names[1] + " leaves the cutter over " + p.Ends[1] + ", " + r.Names[2] + " over " + p.Ends[2]
		}
		add("caution", PlanNotParked, r.Names[0]+" leaves the cutter over "+p.Ends[0]+", "+over+", at the clear height: move it aside before hands go in, or say where it is to stand (--park X,Y, in machine coordinates)", p.Ends[:]...)
	}
	for i, m := range []*pairing.Program{&r.Merged[r.Chosen].First, &r.Merged[r.Chosen].Steady, &r.Merged[r.Chosen].Last} {
		var at, v []string
		for _, re := range m.Restarts {
			s := "line " + itoa(re.Line)
			if re.Tool >= 0 {
				s += " (T" + itoa(re.Tool) + ")"
			}
			at, v = append(at, s), append(v, itoa(re.Line))
		}
		add("note", PlanRestart, r.Names[i]+": restart only at "+strings.Join(at, ", ")+": what follows elsewhere relies on the tool in the spindle", append([]string{r.Names[i]}, v...)...)
	}
	switch {
	case p.Pause != "" && p.Order != "stations":
		add("note", PlanPauseUnused, p.Pause+" isn't written: with --order tools the operator acts only after the program's end", p.Pause)
	case p.Pause == "M1":
		add("caution", PlanOptionalStop, "M1 stops only while the control's optional stop is switched on", p.Pause)
	}
	for _, c := range p.Cycles {
		if strings.Contains(c.Lies, "empty") && p.Parts%p.Pairs != 0 {
			add("caution", PlanEmpty, "the programs run over every station: at an empty one the tool goes where the blank would be, so nothing else may lie there")
			break
		}
	}
	if c := r.Clear; c != nil {
		over := map[string]string{bed.BlankTop: "the highest blank", bed.ProgramLevel: "the highest level at which the programs move across"}[c.Over]
		if over == "" {
			over = "what stands at " + c.Over
		}
		room := " just clears " + over
		if !c.Room.IsZero() {
			room = " passes " + c.Room.String() + " over " + over
		}
		add("caution", PlanClear, "at the clear height, machine Z"+c.Z.String()+", the longest tool"+room+": clamps, pins and everything else must stay below that (--clear)", c.Z.String(), c.Over, c.Room.String())
		if len(c.Unknown) > 0 {
			add("warning", PlanClearUnknown, "how high the fixtures at "+list(c.Unknown)+" stand isn't known: check that the clear height passes over them", c.Unknown...)
		}
	}
	if r.Placed {
		left := "no offset is"
		if n := len(r.Left); n > 0 {
			left = list(r.Left) + map[bool]string{true: " is", false: " are"}[n == 1]
		}
		more := "so no further pair has its two"
		if n := len(r.Left) / 2; n > 0 {
			more = "enough for " + plural(n, "further pair", "further pairs")
		}
		s := left + " left free, " + more
		if !r.Extended {
			s += "; a control with G59.1 to G59.3 has nine offsets in all (extended = true), beyond that an extended control is needed"
		}
		add("note", PlanOffsets, s, r.Left...)
	}
	if slices.ContainsFunc(r.Pairs, func(p pairing.Pair) bool { return p.Face.ZeroX == nil || p.Back.ZeroX == nil }) {
		add("note", PlanPlaces, "where the stations lie isn't known, so the way from one to the other isn't in the times")
		add("caution", PlanApart, "the offsets must belong to stations that lie apart: each cycle cuts a face at one while a turned blank lies at the other")
	}
	r.pairingNotes(p)
	if r.G53Assumed {
		add("assumed", PlanG53, "the control takes G53, moves in machine coordinates (g53 in the machine file)")
	}
	add("note", PlanEstimate, "times are estimates from feeds, rapid rates and ramps; a control that looks ahead less takes longer")
	if r.LoadAssumed {
		add("assumed", PlanLoad, "it takes "+seconds(p.LoadSeconds)+" to unload and load a station (--load-time)", rounded(p.LoadSeconds, 1))
	}
	if p.TouchOffs > 0 {
		add("caution", PlanTouch, "Z is touched off anew "+word(p.TouchOffs, "once", itoa(p.TouchOffs)+" times")+" in each cycle; the times count that only if the loading time has it in (--load-time): fewer parts an hour otherwise", itoa(p.TouchOffs))
	}
	if r.ChangeAssumed {
		add("assumed", PlanChange, "a tool change takes "+seconds(p.ChangeSeconds)+" (--change-time)", rounded(p.ChangeSeconds, 1))
	}
	if r.RatesAssumed {
		add("assumed", PlanRates, "the machine's rapid rates or accelerations weren't given: taken as an ordinary small router's")
	}
	if p.SetupSeconds == 0 {
		add("note", PlanSetup, "what setting up a second station takes isn't counted in the batch from which on it pays (--setup-time)")
	}
}

// pairingSentences are for the notes of a merge.
var pairingSentences = map[string]sentence{
	pairing.Dropped: func(v values, _ string) string {
		return "T" + v.at(1) + " is called but doesn't cut: left out"
	},
	pairing.AssumedState: func(v values, _ string) string {
		return "a program doesn't say so, and the other one can change it: taken as " + v.at(0)
	},
	pairing.SameTools: func(v values, _ string) string {
		var tools []string
		for _, n := range v {
			tools = append(tools, "T"+n)
		}
		slices.SortFunc(tools, func(a, b string) int { return cmp.Or(len(a)-len(b), strings.Compare(a, b)) })
		return list(tools) + " must be the same " + word(len(v), "cutter", "cutters") + " for face and back: both sides call " + word(len(v), "it", "them")
	},
	pairing.HomeInPiece: func(v values, _ string) string {
		return "goes home by G28 or G30, from every station: check that the way is clear"
	},
	pairing.NumbersGone: func(v values, _ string) string {
		return "the block numbers were taken out of the merged programs"
	},
}

// pairingLevels are the levels of the notes of a merge.
var pairingLevels = map[string]string{pairing.AssumedState: "assumed", pairing.HomeInPiece: "warning", pairing.SameTools: "caution"}

// pairingNotes adds the notes of the merge, each once.
func (r Run) pairingNotes(p *Plan) {
	said := map[string]bool{}
	for _, n := range r.Merged[r.Chosen].Notes {
		level := pairingLevels[n.Code]
		if level == "" {
			level = "note"
		}
		note := Note{Code: n.Code, Level: level, Line: n.Line, Values: n.Values, Text: sayCode(pairingSentences, n.Code, n.Values, 0)}
		switch n.Code {
		case pairing.Dropped, pairing.HomeInPiece:
			note.File = values(n.Values).at(0)
		}
		key := note.File + note.Text
		if n.Code == pairing.Dropped {
			key += itoa(note.Line)
		}
		if !said[key] {
			said[key] = true
			p.Notes = append(p.Notes, note)
		}
	}
}

// NotMerged says why a job has no programs for its cycles.
func NotMerged(files [3]string, why string) Note {
	return Note{Code: PlanNotMerged, Level: "warning", Text: list(files[:]) + " weren't written, so each program is run by itself: " + why}
}

// MergedCuts says why the programs of the cycles need no check of their own.
func MergedCuts(files [3]string) Note {
	return Note{Code: "merged-cuts", Level: "note", Text: list(files[:]) + " make the same moves at each station, in the same order, as the programs that were cut here: it was proved when they were merged"}
}

// Stale warns of a program of an earlier run that a job doesn't write any more.
func Stale(file string) Note {
	return Note{Code: PlanStale, Level: "caution", File: file, Text: "is of an earlier run and doesn't belong to this job any more: don't run it"}
}

// AsRun warns of back programs that no earlier pass has mirrored or passed as written.
func AsRun(backs []pairing.Source) (out []Note) {
	for _, b := range backs {
		if !bytes.Contains(b.Text, []byte("(flipcalc: ")) {
			out = append(out, Note{Code: PlanAsRun, Level: "caution", File: b.Name, Text: "is run on the back as it is: a program drawn as seen from the face must be mirrored first (flipcalc mirror)"})
		}
	}
	return out
}

// seconds writes a time finely enough to compare cycles.
func seconds(s float64) string {
	switch {
	case math.IsNaN(s) || math.IsInf(s, 0):
		return "unknown"
	case s < 90:
		return rounded(s, 0) + " s"
	case s < 3600:
		n := int(math.Round(s))
		return fmt.Sprintf("%d min %d s", n/60, n%60)
	}
	m := int(math.Round(s / 60))
	return fmt.Sprintf("%d h %d min", m/60, m%60)
}

// clock writes a time as min:s, or h:min:s, for tables.
func clock(s float64) string {
	if math.IsNaN(s) || math.IsInf(s, 0) {
		return "unknown"
	}
	n := int(math.Round(s))
	if n < 3600 {
		return fmt.Sprintf("%d:%02d", n/60, n%60)
	}
	return fmt.Sprintf("%d:%02d:%02d", n/3600, n/60%60, n%60)
}

func (s *Setup) planSection() Section {
	sec := Section{ID: "plan", Title: "Run plan"}
	p := s.Plan
	if p == nil || len(p.Cycles) == 0 {
		return sec
	}
	if rows := s.figures(); len(rows) > 0 {
		sec.Blocks = append(sec.Blocks, Pairs{rows})
	} else if p.Seconds > 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "One cycle takes about " + duration(p.Seconds) + "."})
	}
	if len(p.Orders) > 0 {
		t := Table{Caption: "Orders compared, one steady cycle of " + plural(p.Pairs, "part", "parts") + ", times in min:s",
			Head: []string{"Order", "Tool changes", "Machine", "With hands", "Parts an hour", "Spindle waits", "Hands wait"}, Right: []int{2, 3, 4, 5, 6}}
		if p.Parts > 0 {
			t.Head, t.Right = append(t.Head, itoa(p.Parts)+" done in"), append(t.Right, len(t.Head))
		}
		for _, o := range p.Orders {
			name, changes := o.Name, itoa(o.Changes)
			if o.Chosen {
				name += " (chosen)"
			}
			if o.Name == "one station" {
				changes += " a part"
			}
			row := []string{name, changes, clock(o.Machine), clock(o.Seconds), rounded(o.PerHour, 1), clock(o.SpindleWaits), clock(o.HandsWait)}
			if p.Parts > 0 {
				row = append(row, clock(o.Finish))
			}
			t.Rows = append(t.Rows, row)
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	sec.Blocks = append(sec.Blocks, p.cycleTable())
	for _, n := range p.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

// figures are the plan's main numbers.
func (s *Setup) figures() (rows [][2]string) {
	p := s.Plan
	if len(p.Orders) == 0 {
		return nil
	}
	chosen, single := p.Orders[0], p.Orders[len(p.Orders)-1]
	for _, o := range p.Orders {
		if o.Chosen {
			chosen = o
		}
	}
	row := func(name, value string) { rows = append(rows, [2]string{name, value}) }
	row("Tool changes", fmt.Sprintf("%d in a steady cycle, against %d with the programs one after the other; %d in the first cycle, %d in the last",
		p.Changes, p.Separate, p.FirstChanges, p.LastChanges))
	row("Cutting", "face "+seconds(p.FaceSeconds)+", back "+seconds(p.BackSeconds)+" at one station, ramps included, tool changes not")
	load := "with the machine held"
	if p.Hidden {
		load = "while the other side is cut"
	}
	row("Loading", seconds(p.LoadSeconds)+" a station, "+load)
	if s.ClearZ != nil {
		row("Clear height", "machine Z"+s.ClearZ.String()+" "+s.bedUnit().String()+" between stations")
	}
	hour := rounded(chosen.PerHour, 1) + ", against " + rounded(single.PerHour, 1) + " flipping at one station"
	if p.TouchOffs > 0 {
		hour += ", less where touching off Z isn't in the loading time"
	}
	row("Parts an hour", hour)
	waits := "the spindle " + seconds(chosen.SpindleWaits) + " for hands, hands " + seconds(chosen.HandsWait) + " for the machine"
	row("Waiting in a cycle", waits)
	if p.BreakEven > 0 {
		row("Pays", "from "+plural(p.BreakEven, "part", "parts")+" on")
	} else {
		row("Pays", "never: flipping at one station is as fast with these times")
	}
	if p.Parts > 0 {
		row("Batch", fmt.Sprintf("%s in %d cycles, done in %s", plural(p.Parts, "part", "parts"), p.Count, seconds(p.Finish)))
	}
	return rows
}

// cycleTable lists what lies where, and who does what.
func (p *Plan) cycleTable() Table {
	t := Table{Caption: "Cycles", Head: []string{"Cycle", "Lies there", "Hands", "Machine", "Gives"}}
	ends, lies := false, false
	for _, c := range p.Cycles {
		ends, lies = ends || c.Ends > 0, lies || c.Lies != ""
	}
	if !lies {
		t.Head = []string{"Cycle", "Before it", "Program", "Gives"}
	}
	if ends {
		t.Caption += ", each done so many min:s after the first blank is laid on"
		t.Head, t.Right = append(t.Head, "Done at"), []int{len(t.Head)}
	}
	for _, c := range p.Cycles {
		row := []string{c.Name}
		if lies {
			row = append(row, c.Lies)
		}
		machine := plain(c.Program)
		if c.Cuts != "" {
			machine += ": " + c.Cuts
		}
		row = append(row, c.Before, machine, c.Gives)
		if ends {
			row = append(row, clock(c.Ends))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
