package report

import (
	"bytes"
	"slices"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

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
	PlanBetter       = "more-parts-an-hour"
	PlanChangesHere  = "tool-change-place"
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
		add("caution", PlanGuarded, "the machine moves while you load: guard each station, or load with it held (load held)")
	}
	add("caution", PlanFirst, "dry run "+list(r.Names[:])+" above the work, each before its first blank")
	if p.Load == "guarded" && !p.Hidden {
		add("note", PlanGuardIdle, "with --order tools no station is free until the cycle ends: load with the machine held")
	}
	if p.Park != "" {
		add("note", PlanPark, "between cycles the cutter is parked at "+p.Park+", at the clear height, spindle stopped")
	} else {
		over := list(r.Names[1:]) + " over " + p.Ends[1]
		if p.Ends[1] != p.Ends[2] {
			over = r.Names[1] + " over " + p.Ends[1] + ", " + r.Names[2] + " over " + p.Ends[2]
		}
		add("caution", PlanNotParked, "move the cutter aside before hands go in, or give park X,Y; "+r.Names[0]+" leaves it over "+p.Ends[0]+", "+over+", at the clear height", p.Ends[:]...)
	}
	if r.ChangesHere {
		add("caution", PlanChangesHere, "give tool-change in the machine file; tools are assumed to be changed where the cutter stands")
	}
	for i, m := range []*cycle.Program{&r.Merged[r.Chosen].First, &r.Merged[r.Chosen].Steady, &r.Merged[r.Chosen].Last} {
		var at, v []string
		for _, re := range m.Restarts {
			s := "line " + itoa(re.Line)
			if re.Tool >= 0 {
				s += " (T" + itoa(re.Tool) + ")"
			}
			at, v = append(at, s), append(v, itoa(re.Line))
		}
		add("note", PlanRestart, r.Names[i]+": restart only at "+strings.Join(at, ", "), append([]string{r.Names[i]}, v...)...)
	}
	switch {
	case p.Pause != "" && p.Order != "stations":
		add("note", PlanPauseUnused, p.Pause+" isn't written: with --order tools hands act only after the program's end", p.Pause)
	case p.Pause == "M1":
		add("caution", PlanOptionalStop, "M1 stops only while the control's optional stop is switched on", p.Pause)
	}
	for _, c := range p.Cycles {
		if strings.Contains(c.Lies, "empty") && p.Parts%p.Pairs != 0 {
			add("caution", PlanEmpty, "the tool also cuts at empty stations: leave nothing there")
			break
		}
	}
	if c := r.Clear; c != nil {
		over := map[string]string{bed.BlankTop: "the highest blank", bed.ProgramLevel: "the programs' highest crossing"}[c.Over]
		if over == "" {
			over = "what stands at " + c.Over
		}
		room := " just clears " + over
		if !c.Room.IsZero() {
			room = " passes " + c.Room.String() + " over " + over
		}
		add("caution", PlanClear, "set all clamps and dowels below the clear height, machine Z"+c.Z.String()+"; there the longest tool"+room, c.Z.String(), c.Over, c.Room.String())
		if len(c.Unknown) > 0 {
			add("warning", PlanClearUnknown, "check that the clear height passes over "+list(c.Unknown)+": their height isn't known", c.Unknown...)
		}
	}
	r.better(p, add)
	if r.Placed {
		left := "no offset"
		if n := len(r.Left); n > 0 {
			left = list(r.Left)
		}
		more := "none for a further pair"
		if n := len(r.Left) / 2; n > 0 {
			more = "enough for " + plural(n, "further pair", "further pairs")
		}
		s := left + " free, " + more
		if !r.Extended {
			s += "; with G59.1 to G59.3 there are nine (extended = true)"
		}
		add("note", PlanOffsets, s, r.Left...)
	}
	if slices.ContainsFunc(r.Pairs, func(p cycle.Pair) bool { return p.Face.ZeroX == nil || p.Back.ZeroX == nil }) {
		add("note", PlanPlaces, "stations' places not known: times leave out the way between them")
		add("caution", PlanApart, "check that the offsets' stations are apart: each cycle cuts at both")
	}
	for _, n := range r.Merged[r.Chosen].Notes {
		p.Notes = append(p.Notes, Note{Level: n.Level, File: n.File, Line: n.Line, Is: n.Is})
	}
	if r.G53Assumed {
		add("assumed", PlanG53, "G53 moves assumed to work (g53 in the machine file)")
	}
	add("note", PlanEstimate, "times are estimates; with less look-ahead a control takes longer")
	if r.LoadAssumed {
		add("assumed", PlanLoad, "unloading and loading a station assumed to take "+seconds(p.LoadSeconds)+" (load-time)", letters.Rounded(p.LoadSeconds, 1))
	}
	if p.TouchOffs > 0 {
		add("caution", PlanTouch, "touch off Z anew "+word(p.TouchOffs, "once", itoa(p.TouchOffs)+" times")+" in each cycle; include it in load-time", itoa(p.TouchOffs))
	}
	if r.ChangeAssumed {
		add("assumed", PlanChange, "a tool change assumed to take "+seconds(p.ChangeSeconds)+" (change-time)", letters.Rounded(p.ChangeSeconds, 1))
	}
	if r.RatesAssumed {
		add("assumed", PlanRates, "rapid rates and accelerations assumed as a small router's")
	}
	if p.SetupSeconds == 0 {
		add("note", PlanSetup, "break-even leaves out setting up the second station (setup-time)")
	}
}

// better says in one sentence what would give more parts an hour: the other order, loading
// behind a guard, one more pair where two offsets are free.
func (r Run) better(p *Plan, add func(level, code, text string, v ...string)) {
	plan := r.Plans[r.Chosen]
	var ways, v []string
	try := func(name string, q cycle.Batch) {
		if other, err := q.Plan(); err == nil && letters.Rounded(other.PartsPerHour, 1) != letters.Rounded(plan.PartsPerHour, 1) && other.PartsPerHour > plan.PartsPerHour {
			ways, v = append(ways, letters.Rounded(other.PartsPerHour, 1)+" "+name), append(v, letters.Rounded(other.PartsPerHour, 1))
		}
	}
	other := cycle.ByTools + cycle.ByStations - r.Chosen
	try("with --order "+orderName(other), r.Plans[other].Batch)
	if !plan.Hidden {
		q := r.Plans[cycle.ByStations].Batch
		q.Loading = cycle.Guarded
		try("with --order stations and load guarded, where each station is guarded", q)
	}
	if r.Placed && len(r.Left) > 1 {
		q := plan.Batch
		q.Pairs++
		r.Times.On(q.Pairs, q.Pairs-1).Fill(&q)
		try("with one more pair, where the bed has room", q)
	}
	if len(ways) > 0 {
		add("note", PlanBetter, "more parts an hour than "+letters.Rounded(plan.PartsPerHour, 1)+": "+strings.Join(ways, "; "), v...)
	}
}

// NotMerged says why a job has no programs for its cycles.
func NotMerged(files [3]string, why string) Note {
	return Note{Code: PlanNotMerged, Level: "warning", Text: list(files[:]) + " not written; run each program by itself; " + why}
}

// MergedCuts says why the programs of the cycles need no check of their own.
func MergedCuts(files [3]string) Note {
	return Note{Code: "merged-cuts", Level: "note", Text: list(files[:]) + ": proved to make the same moves, in order, as the programs cut here"}
}

// Stale warns of a program of an earlier run that a job doesn't write any more.
func Stale(file string) Note {
	return Note{Code: PlanStale, Level: "caution", File: file, Text: "is of an earlier run: don't run it"}
}

// AsRun warns of back programs that no earlier pass has mirrored or passed as written.
func AsRun(backs []cycle.Source) (out []Note) {
	for _, b := range backs {
		if !bytes.Contains(b.Text, []byte("(flipcalc: ")) {
			out = append(out, Note{Code: PlanAsRun, Level: "caution", File: b.Name, Text: "is run on the back as it is; if drawn from the face, mirror it first (verb mirror)"})
		}
	}
	return out
}
