package report

import (
	"bytes"
	"slices"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// say adds one thing that must be said of a plan.
func (p *Plan) say(level string, is any) { p.Notes = append(p.Notes, Note{Level: level, Is: is}) }

// notes adds all that must be said of a plan.
func (r Run) notes(p *Plan) {
	r.handNotes(p)
	r.programNotes(p)
	r.clearNotes(p)
	r.better(p)
	r.stationNotes(p)
	for _, n := range r.Merged[r.Chosen].Notes {
		p.Notes = append(p.Notes, Note{Level: n.Level, File: n.File, Line: n.Line, Is: n.Is})
	}
	r.timeNotes(p)
}

// handNotes are about hands between the cycles.
func (r Run) handNotes(p *Plan) {
	if p.Hidden {
		p.say(fact.Caution, words.LoadingWhileMoving{})
	}
	p.say(fact.Caution, words.DryRunEach{Programs: r.Names[:]})
	if p.Load == "guarded" && !p.Hidden {
		p.say(fact.Note, words.GuardWithoutUse{})
	}
	if p.Park != "" {
		p.say(fact.Note, words.Parked{At: p.Park})
	} else {
		p.say(fact.Caution, words.NotParked{Programs: r.Names[:], Ends: p.Ends[:]})
	}
	if r.ChangesHere {
		p.say(fact.Caution, words.ToolChangePlace{})
	}
}

// programNotes are about the three programs.
func (r Run) programNotes(p *Plan) {
	for i, m := range []*cycle.Program{&r.Merged[r.Chosen].First, &r.Merged[r.Chosen].Steady, &r.Merged[r.Chosen].Last} {
		lines := words.RestartLines{Program: r.Names[i]}
		for _, re := range m.Restarts {
			lines.At = append(lines.At, words.Restart(re))
		}
		p.say(fact.Note, lines)
	}
	switch {
	case p.Pause != "" && p.Order != "stations":
		p.say(fact.Note, words.PauseWithoutUse{Pause: p.Pause})
	case p.Pause == "M1":
		p.say(fact.Caution, words.OptionalStop{Pause: p.Pause})
	}
	empty := func(c Cycle) bool { return strings.Contains(c.Lies, "empty") }
	if slices.ContainsFunc(p.Cycles, empty) && p.Parts%p.Pairs != 0 {
		p.say(fact.Caution, words.AirAtEmptyStations{})
	}
}

// clearNotes are about the height over everything.
func (r Run) clearNotes(p *Plan) {
	c := r.Clear
	if c == nil {
		return
	}
	p.say(fact.Caution, words.ClearHeightReckoned{Z: c.Z, Over: c.Over, Room: c.Room})
	if len(c.Unknown) > 0 {
		p.say(fact.Warning, words.ClearHeightFixtures{Offsets: c.Unknown})
	}
}

// better says what would give more parts an hour: the other order, loading behind a guard,
// one more pair where two offsets are free.
func (r Run) better(p *Plan) {
	plan := r.Plans[r.Chosen]
	more := words.MorePartsAnHour{Now: words.Time(plan.PartsPerHour)}
	try := func(way string, q cycle.Batch) {
		if other, err := q.Plan(); err == nil && letters.Rounded(other.PartsPerHour, 1) != letters.Rounded(plan.PartsPerHour, 1) && other.PartsPerHour > plan.PartsPerHour {
			more.Ways = append(more.Ways, words.Better{PerHour: words.Time(other.PartsPerHour), Way: way})
		}
	}
	if r.Chosen == cycle.ByTools {
		try(words.ByStations, r.Plans[cycle.ByStations].Batch)
	} else {
		try(words.ByTools, r.Plans[cycle.ByTools].Batch)
	}
	if !plan.Hidden {
		q := r.Plans[cycle.ByStations].Batch
		q.Loading = cycle.Guarded
		try(words.Guarded, q)
	}
	if r.Placed && len(r.Left) > 1 {
		q := plan.Batch
		q.Pairs++
		r.Times.On(q.Pairs, q.Pairs-1).Fill(&q)
		try(words.OneMore, q)
	}
	if len(more.Ways) > 0 {
		p.say(fact.Note, more)
	}
}

// stationNotes are about the stations and their offsets.
func (r Run) stationNotes(p *Plan) {
	if r.Placed {
		p.say(fact.Note, words.OffsetsLeft{Left: r.Left, Extended: r.Extended})
	}
	if slices.ContainsFunc(r.Pairs, func(p cycle.Pair) bool { return p.Face.ZeroX == nil || p.Back.ZeroX == nil }) {
		p.say(fact.Note, words.PlacesUnknown{})
		p.say(fact.Caution, words.StationsApart{})
	}
}

// timeNotes are about what the times rest on.
func (r Run) timeNotes(p *Plan) {
	if r.G53Assumed {
		p.say(fact.Assumed, words.G53Default{})
	}
	p.say(fact.Note, words.TimesEstimated{})
	if r.LoadAssumed {
		p.say(fact.Assumed, words.LoadTimeDefault{Seconds: words.Time(p.LoadSeconds)})
	}
	if p.TouchOffs > 0 {
		p.say(fact.Caution, words.TouchOffNotCounted{Times: p.TouchOffs})
	}
	if r.ChangeAssumed {
		p.say(fact.Assumed, words.ChangeTimeDefault{Seconds: words.Time(p.ChangeSeconds)})
	}
	if r.RatesAssumed {
		p.say(fact.Assumed, words.RatesDefault{})
	}
	if p.SetupSeconds == 0 {
		p.say(fact.Note, words.SetUpNotCounted{})
	}
}

// AsRun warns of back programs that no earlier pass has mirrored or passed as written.
func AsRun(backs []cycle.Source) (out []Note) {
	for _, b := range backs {
		if !bytes.Contains(b.Text, []byte("(flipcalc: ")) {
			out = append(out, Note{Level: fact.Caution, File: b.Name, Is: words.BackAsRun{}})
		}
	}
	return out
}
