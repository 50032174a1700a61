package report

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/pattern"
	"flipcalc/report/words"
)

// PinsOf puts a pattern of dowels into words.
func PinsOf(p *pattern.Pattern) *PinFit {
	a := p.Answer
	q := a.Question
	l := &Layout{Pattern: "given", Spacing: p.Spacing, Strip: p.Strip, FlipLine: a.FlipLine, Edge: "left", LayUps: a.LayUps}
	if p.Style != "" {
		l.Pattern = string(p.Style)
	}
	if q.Flip == registration.FlipX {
		l.Edge = "near"
	}
	f := &PinFit{Fit: q.Fit, Foolproof: a.Foolproof, Layout: l}
	for i, d := range p.Dowels {
		if from := d.Pin.From(); l.Standard == "" {
			l.Standard = from
		} else if !slices.Contains(strings.Split(l.Standard, ", "), from) {
			l.Standard += ", " + from
		}
		e := dowelOf(d)
		l.Dowels = append(l.Dowels, e)
		if i == 0 {
			f.Pin, f.Least, f.Most = e.Dia, e.Least, e.Most
		}
		f.Least, f.Most = decimal.Min(f.Least, e.Least), decimal.Max(f.Most, e.Most)
		if p.Style != "" {
			l.Keys = append(l.Keys, d.At.X.String()+","+d.At.Y.String()+","+d.Pin.Nominal.String())
		}
	}
	f.Cure = cureOf(a)
	f.Notes = append(factNotes(p.Facts), layoutNotes(a)...)
	return f
}

func dowelOf(d pattern.Dowel) Dowel {
	e := Dowel{Point: d.At, Dia: d.Pin.Nominal, Label: d.Pin.Label, Length: d.Length, InBlank: d.InBlank, InBed: d.InBed, LengthTolerance: d.Tolerance,
		Hole: d.Hole, Least: d.Play.Min, Most: d.Play.Max}
	if !d.Length.IsZero() {
		e.LengthLabel = d.Pin.LengthLabel(d.Length)
	}
	return e
}

// Say adds one thing that must be said of the pins.
func (f *PinFit) Say(level string, is any) { f.Notes = append(f.Notes, Note{Level: level, Is: is}) }

// AsDrilled warns, for a job whose dowel holes are drilled by hand, of a fit that no
// drill makes.
func AsDrilled(q registration.Question) []Note {
	if f, ok := pattern.AsDrilled(q); ok {
		return factNotes([]registration.Fact{f})
	}
	return nil
}

// cureOf finds the words of the cure in the answer's facts, "" if none is needed.
func cureOf(a *registration.Answer) string {
	for _, f := range a.Facts {
		if wrong, ok := f.Is.(registration.NotFoolproof); ok {
			return words.Cure(wrong.Cure)
		}
	}
	return ""
}

// layoutNotes are the facts of an answer that bear on its pins or its plug.
func layoutNotes(a *registration.Answer) []Note {
	var out []Note
	for _, f := range a.Facts {
		switch f.Is.(type) {
		case registration.NearMiss, registration.PinAtEdge, registration.HoleTight, registration.FitPressed, registration.PinLoose, registration.DrilledFace, registration.SecondPins,
			registration.Measured, registration.Skimmed, registration.Unused, registration.Round, registration.ClockPinMoves, registration.ClockFlatTurns,
			registration.PlugLoose, registration.PlugTight, registration.ClockingLoose, registration.TurnUnknown, registration.ClockFenceUnsaid, registration.ClockFenceMoves, registration.ClockFenceNominal,
			registration.PlugAtDefault:
			out = append(out, factNote(f))
		}
	}
	return out
}

// verdict says whether a wrong lay-up goes on, "" where none was tried.
func (p *PinFit) verdict() string {
	switch {
	case p.Layout != nil:
		return words.Verdict(p.Layout.LayUps, p.Foolproof)
	case p.Stud != nil && len(p.Stud.LayUps) > 0:
		return words.Verdict(p.Stud.LayUps, p.Foolproof)
	}
	return ""
}

// layUpTable shows the four ways to lay the blank on its pins.
func layUpTable(layUps []registration.LayUp, unit transform.Unit) Table {
	t := Table{Caption: "Ways to lay the blank on its dowels", Head: []string{"Lay-up", "On the dowels"}}
	for _, l := range layUps {
		name := l.Name
		if l.Wanted {
			name += " (wanted)"
		}
		t.Rows = append(t.Rows, []string{name, words.LayUp(l, unit)})
	}
	return t
}

// patternWords says what a pattern is.
func patternWords(l *Layout) string {
	switch l.Pattern {
	case string(pattern.Line):
		return "proposed: two dowels of different diameters on the flip line"
	case string(pattern.Pair):
		return "proposed: two equal dowels either side of the flip line, a third on it"
	}
	return plural(len(l.Dowels), "dowel", "dowels") + " as given"
}

// layoutBlocks show the pattern; with the answer beside it, the lay-ups are said
// there.
func (s *Setup) layoutBlocks(p *PinFit) []Block {
	l := p.Layout
	unit := s.Unit.String()
	rows := [][2]string{{"Pattern", patternWords(l)}, {"Dowels", l.Standard}}
	if p.Fit != "" {
		rows = append(rows, [2]string{"Fit", p.Fit})
	}
	rows = append(rows, [2]string{"Apart", l.Spacing.String() + " " + unit + " between the two farthest apart"})
	if l.Pattern != "given" {
		rows = append(rows, [2]string{"Waste", "the holes take a strip of " + l.Strip.String() + " " + unit + " round the blank"})
	}
	if l.FlipLine != nil {
		rows = append(rows, [2]string{"Flip line", l.FlipLine.String() + " " + unit + " from the " + l.Edge + " edge"})
	}
	rows = append(rows, [2]string{"Verdict", words.Verdict(l.LayUps, p.Foolproof)})
	if p.Cure != "" {
		rows = append(rows, [2]string{"Cure", p.Cure})
	}
	t := Table{Caption: "Dowels, " + unit + ", from the blank's near-left corner with the face up", Head: []string{"Dowel", "X", "Y", "Dia", "Length", "In blank", "In bed", "Hole", "Clearance"},
		Right: []int{0, 1, 2, 3, 4, 5, 6, 7}}
	long := false
	for _, d := range l.Dowels {
		long = long || !d.Length.IsZero()
	}
	if !long {
		t.Head, t.Right = []string{"Dowel", "X", "Y", "Dia", "Hole", "Clearance"}, []int{0, 1, 2, 3, 4}
	}
	for i, d := range l.Dowels {
		row := []string{itoa(i + 1), d.X.String(), d.Y.String(), d.Label}
		if long {
			row = append(row, d.LengthLabel, d.InBlank.String(), d.InBed.String())
		}
		t.Rows = append(t.Rows, append(row, d.Hole.String(), words.Clearance(d.Least, d.Most)))
	}
	blocks := []Block{Pairs{rows}, t}
	if len(l.Keys) > 0 {
		blocks = append(blocks, Para{"", "In a job file:"}, Code{[]string{`pin = ["` + strings.Join(l.Keys, `", "`) + `"]`}})
	}
	if s.Answer == nil {
		blocks = append(blocks, layUpTable(l.LayUps, s.Unit))
	}
	return blocks
}
