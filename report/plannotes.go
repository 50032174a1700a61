package report

import (
	"bytes"
	"cmp"
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
	if r.ChangesHere {
		add("caution", PlanChangesHere, "tools are taken to be changed where the cutter stands, so no way to a tool change was held against the no-go areas: give tool-change in the machine file")
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
	r.better(p, add)
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
	if slices.ContainsFunc(r.Pairs, func(p cycle.Pair) bool { return p.Face.ZeroX == nil || p.Back.ZeroX == nil }) {
		add("note", PlanPlaces, "where the stations lie isn't known, so the way from one to the other isn't in the times")
		add("caution", PlanApart, "the offsets must belong to stations that lie apart: each cycle cuts a face at one while a turned blank lies at the other")
	}
	r.pairingNotes(p)
	if r.G53Assumed {
		add("assumed", PlanG53, "the control takes G53, moves in machine coordinates (g53 in the machine file)")
	}
	add("note", PlanEstimate, "times are estimates from feeds, rapid rates and ramps; a control that looks ahead less takes longer")
	if r.LoadAssumed {
		add("assumed", PlanLoad, "it takes "+seconds(p.LoadSeconds)+" to unload and load a station (--load-time)", letters.Rounded(p.LoadSeconds, 1))
	}
	if p.TouchOffs > 0 {
		add("caution", PlanTouch, "Z is touched off anew "+word(p.TouchOffs, "once", itoa(p.TouchOffs)+" times")+" in each cycle; the times count that only if the loading time has it in (--load-time): fewer parts an hour otherwise", itoa(p.TouchOffs))
	}
	if r.ChangeAssumed {
		add("assumed", PlanChange, "a tool change takes "+seconds(p.ChangeSeconds)+" (--change-time)", letters.Rounded(p.ChangeSeconds, 1))
	}
	if r.RatesAssumed {
		add("assumed", PlanRates, "the machine's rapid rates or accelerations weren't given: taken as an ordinary small router's")
	}
	if p.SetupSeconds == 0 {
		add("note", PlanSetup, "what setting up a second station takes isn't counted in the batch from which on it pays (--setup-time)")
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
		try("with --order stations --load guarded, where each station is guarded", q)
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

// pairingSentences are for the notes of a merge.
var pairingSentences = map[string]sentence{
	cycle.Dropped: func(v values, _ string) string {
		return "T" + v.at(1) + " is called but doesn't cut: left out"
	},
	cycle.AssumedState: func(v values, _ string) string {
		return "a program doesn't say so, and the other one can change it: taken as " + v.at(0)
	},
	cycle.SameTools: func(v values, _ string) string {
		var tools []string
		for _, n := range v {
			tools = append(tools, "T"+n)
		}
		slices.SortFunc(tools, func(a, b string) int { return cmp.Or(len(a)-len(b), strings.Compare(a, b)) })
		return list(tools) + " must be the same " + word(len(v), "cutter", "cutters") + " for face and back: both sides call " + word(len(v), "it", "them")
	},
	cycle.HomeInPiece: func(v values, _ string) string {
		return "goes home by G28 or G30, from every station: check that the way is clear"
	},
	cycle.OffsetChange: func(v values, _ string) string {
		return v.at(1) + " becomes " + list(v[2:])
	},
	cycle.CompClosed: func(v values, _ string) string {
		return "ends with cutter compensation on: G40 is written after its last move, so see that the cutter is free there"
	},
	cycle.NumbersGone: func(v values, _ string) string {
		return "the block numbers were taken out of the merged programs"
	},
}

// pairingLevels are the levels of the notes of a merge.
var pairingLevels = map[string]string{cycle.AssumedState: "assumed", cycle.HomeInPiece: "warning", cycle.CompClosed: "warning", cycle.OffsetChange: "warning", cycle.SameTools: "caution"}

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
		case cycle.Dropped, cycle.HomeInPiece, cycle.CompClosed, cycle.OffsetChange:
			note.File = values(n.Values).at(0)
		}
		key := note.File + note.Text
		if n.Code == cycle.Dropped {
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
func AsRun(backs []cycle.Source) (out []Note) {
	for _, b := range backs {
		if !bytes.Contains(b.Text, []byte("(flipcalc: ")) {
			out = append(out, Note{Code: PlanAsRun, Level: "caution", File: b.Name, Text: "is run on the back as it is: a program drawn as seen from the face must be mirrored first (flipcalc mirror)"})
		}
	}
	return out
}
