package report

import (
	"cmp"
	"math"
	"slices"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// BudgetOf puts a misalignment budget into words; unit is the question's.
func BudgetOf(r *budget.Result, q registration.Question) *Budget {
	unit := q.Unit
	b := &Budget{At: r.At, Worst: Estimate(r.Worst), Likely: Estimate(r.Likely)}
	b.Thickness = r.Web.Error.Amount
	for _, t := range r.Terms {
		if t.Name == budget.Locator {
			b.Locator = t.Value.Amount
		}
		if t.Limit == 0 {
			continue
		}
		reason := t.Value.String()
		if t.Name == budget.Wood {
			reason += " % of moisture"
		}
		reason += ", " + string(t.From)
		name := words.Term(t.Name, q) + words.TermAxis(t)
		b.Terms = append(b.Terms, BudgetTerm{t.Name, name, Estimate(t.X), Estimate(t.Y), Estimate(t.Limit), t.Sides, reason})
	}
	if h := r.Halved; h != nil {
		b.Dominant = words.Term(h.Name, q)
		b.Halve = "to " + h.Value.String() + ": worst " + letters.Up(h.Worst, 3) + ", likely " + letters.Up(h.Likely, 3) + " " + unit.String()
	}
	switch {
	case r.Free:
		b.Notes = append(b.Notes, Note{Level: fact.Note, Is: words.TurnFree{}})
	case r.TurnAtRim > 0:
		b.Notes = append(b.Notes, Note{Level: fact.Note, Is: words.TurnAtRim{Degrees: r.Turn * 180 / math.Pi, Rim: r.TurnAtRim}})
	}
	b.Web = []string{words.WebError(r.Web, unit)}
	b.Notes = append(b.Notes, factNotes(r.Facts)...)
	return b
}

func (s *Setup) budgetSection() Section {
	sec := Section{ID: "budget", Title: "How far off the back can be"}
	b := s.Budget
	if b == nil {
		return sec
	}
	unit := s.Unit.String()
	t := Table{Caption: "Terms at " + xy(b.At) + " from the near-left corner, face up, " + unit, Head: []string{"Term", "Most", "From"}, Right: []int{1}}
	var terms []BudgetTerm
	for i := 0; i < len(b.Terms); i++ {
		term := b.Terms[i]
		sides := map[string]string{"face": ", face", "back": ", back", "both": ", one error on both sides"}[term.Sides]
		// Face and back of one term stand in one row.
		if i+1 < len(b.Terms) {
			if next := b.Terms[i+1]; next.Name == term.Name && next.Reason == term.Reason && term.Sides == "face" && next.Sides == "back" {
				term.Worst += next.Worst
				sides = ", face and back"
				i++
			}
		}
		term.Reason += sides
		terms = append(terms, term)
	}
	slices.SortStableFunc(terms, func(a, b BudgetTerm) int { return cmp.Compare(b.Worst, a.Worst) })
	for _, term := range terms {
		t.Rows = append(t.Rows, []string{term.Name, letters.Up(term.Worst, 3), term.Reason})
	}
	rows := [][2]string{
		{"Worst case", letters.Up(b.Worst, 3) + " " + unit + " (the sum)"},
		{"Likely", letters.Up(b.Likely, 3) + " " + unit + " (expanded uncertainty, k = 2)"},
	}
	if b.Dominant != "" {
		rows = append(rows, [2]string{"Dominates", b.Dominant})
	}
	if b.Halve != "" {
		rows = append(rows, [2]string{"Halve it", b.Halve})
	}
	for i, w := range b.Web {
		rows = append(rows, [2]string{firstOf(i, "Thickness"), w})
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows}, t)
	for _, n := range b.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}
