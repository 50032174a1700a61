package report

import (
	"math"
	"strings"

	"flipcalc/mirror/cut"
	"flipcalc/registration"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// levelOfFinding says what a finding weighs. What doesn't make the answer no are cuts in
// a part that stands on its tabs, which may be strong enough for them, cuts that just
// meet, a step no larger than the back may be off, a vee that may have flutes above its cone,
// and a web that wasn't sought to the end but is enough in any case.
func levelOfFinding(f cut.Finding) string {
	switch {
	case f.Code == cut.CodeEarly, f.Code == cut.CodeMeets, f.Code == cut.CodeCone, f.Code == cut.CodeStep && f.Amount <= f.Limit,
		f.Code == cut.CodeUnproven && f.Amount > f.Limit:
		return "note"
	}
	return "finding"
}

// isHit says that a finding is about a cutter running into something.
func isHit(c cut.Code) bool {
	switch c {
	case cut.CodePin, cut.CodeFence, cut.CodeNoGo, cut.CodeRapid, cut.CodeShank, cut.CodeBed:
		return true
	}
	return false
}

// metName names the pin, the no-go area or the clamp that a finding is about, or the fence
// or stop with where it stands, as the operator sees it.
func (s *Setup) metName(a *registration.Answer, f cut.Finding) string {
	if f.Code == cut.CodeNoGo && s.Machine != nil && f.Index < len(s.Machine.NoGo) {
		return strings.Replace(s.Machine.NoGo[f.Index].Name, "no-go", "no-go area", 1)
	}
	if f.Code != cut.CodeFence || a == nil || f.Index >= len(a.Touches) {
		return words.Pin(a, f.Index)
	}
	t := a.Touches[f.Index]
	if f.Side == cut.Back {
		return "the " + t.BackSide.String() + " " + t.BackLocator
	}
	return "the " + t.Side.String() + " " + t.Locator
}

// throughNote says what was taken for meant because nothing was said of it, and the line that
// says it.
func throughNote(r *cut.Result, k float64, u string) []Note {
	least, n := math.Inf(1), 0
	for _, t := range r.Through {
		if t.Kind != "declared" {
			n++
			least = min(least, t.Overlap)
		}
	}
	if n == 0 || r.Counted {
		return nil
	}
	text := plural(r.Outlines, "outline", "outlines") + " and " + plural(r.Openings, "opening", "openings") +
		" cut through by at least " + letters.Down(least*k, 3) + " " + u +
		", taken as meant. Confirm: through = \"outlines=" + itoa(r.Outlines) + ",openings=" + itoa(r.Openings) + "\""
	return []Note{{Code: NoteThroughTaken, Level: "warning", Text: text}}
}

// NoteThroughTaken says what was taken for meant to be cut through.
const NoteThroughTaken = "through-taken"
