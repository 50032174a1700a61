package report

import (
	"cmp"
	"math"
	"slices"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// BudgetOf puts a misalignment budget into words; unit is the question's.
func BudgetOf(r *budget.Result, q registration.Question) *Budget {
	unit := q.Unit
	b := &Budget{At: r.At, Worst: Estimate(r.Worst), Likely: Estimate(r.Likely)}
	for _, t := range r.Terms {
		if t.Limit == 0 {
			continue
		}
		reason := t.Value.String()
		if t.Name == budget.Wood {
			reason += " % of moisture"
		}
		reason += ", " + string(t.From)
		name := termWords(t.Name, q) + axisWords(t)
		b.Terms = append(b.Terms, BudgetTerm{t.Name, name, Estimate(t.X), Estimate(t.Y), Estimate(t.Limit), t.Sides, reason})
	}
	if h := r.Halved; h != nil {
		b.Dominant = termWords(h.Name, q)
		b.Halve = "to " + h.Value.String() + ": worst " + letters.Up(h.Worst, 3) + ", likely " + letters.Up(min(h.Expanded, h.Worst), 3) + " " + unit.String()
	}
	switch {
	case r.Free:
		b.Notes = append(b.Notes, Note{Level: fact.Note, Is: words.TurnFree{}})
	case r.TurnAtRim > 0:
		b.Notes = append(b.Notes, Note{Level: fact.Note, Is: words.TurnAtRim{Degrees: r.Turn * 180 / math.Pi, Rim: r.TurnAtRim}})
	}
	if r.Web != nil {
		b.Web = webWords(r.Web, unit)
	}
	b.Notes = append(b.Notes, factNotes(r.Facts)...)
	return b
}

// termWords names a term of the budget.
func termWords(name string, q registration.Question) string {
	on := "the dowels"
	if q.Register == registration.Plug {
		on = "the plug"
	}
	switch name {
	case budget.Clearance:
		return "clearance on " + on
	case budget.Hole:
		return "hole drilled off size"
	case budget.Locator:
		return "locator off its place"
	case budget.PinLine:
		return "dowel off the line of the others"
	case budget.FenceLine:
		return "fence out of parallel with its axis"
	case budget.Square:
		return "Y axis out of square with X"
	case budget.Seating:
		return "gap at fence or stop"
	case budget.Size:
		return "size of the blank"
	case budget.Corner:
		return "blank out of square"
	case budget.Repeatability:
		return "machine repeatability"
	case budget.Clocking:
		return "clearance of the clocking"
	case budget.Thickness:
		return "thickness of the blank"
	case budget.TouchOff:
		return "Z zero off its surface"
	case budget.Touch:
		return "touch of the turned blank"
	case budget.Feature:
		return "touched edge or old hole off its place"
	case budget.Turn:
		return "turn within its limit, not corrected"
	case budget.Rounding:
		return "rounding of a program written out"
	case budget.Wood:
		return "movement of the wood"
	}
	return name
}

// axisWords says what a term is about: the contact, or the axis along which it
// moves the back.
func axisWords(t budget.Term) string {
	switch {
	case t.Axis == "":
		return ""
	case t.Axis == "fence" || t.Axis == "stop":
		return ", the " + t.Axis
	case t.Name != budget.Wood:
		return ", along " + axisUpper(t.Axis)
	case t.Axis == "x": // the grain's axis: wood moves across it
		return " across the grain, along Y"
	}
	return " across the grain, along X"
}

// webWords says what an error of the thickness does to web and depths.
func webWords(w *budget.Web, unit transform.Unit) []string {
	u := unit.String()
	share := func(what string, factor int) string {
		switch {
		case factor == 0:
			return what + " unchanged"
		case factor < 0:
			return what + " less by as much"
		}
		return what + " more by as much"
	}
	out := []string{"a blank thicker by " + w.Error.String() + " " + u + " (" + string(w.From) + "): " + share("the web", w.WebFactor) + ", " +
		share("the face's depth", w.FaceFactor) + ", " + share("the back's depth", w.BackFactor)}
	if w.FaceDepth == nil || w.BackDepth == nil {
		return out
	}
	text := "web " + w.Nominal.String() + " " + u + ", between " + w.Least.String() + " and " + w.Greatest.String()
	if w.Through {
		text = "the cuts overlap by " + w.Nominal.Neg().String() + " " + u + ", between " + w.Greatest.Neg().String() + " and " + w.Least.Neg().String()
		if !w.Enough {
			text += ": NOT the " + w.Asked.String() + " asked for"
		}
	}
	return append(out, text)
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
		name := "Thickness"
		if i > 0 {
			name = ""
		}
		rows = append(rows, [2]string{name, w})
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows}, t)
	for _, n := range b.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}
