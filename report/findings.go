package report

import (
	"math"
	"strings"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// levels are what the answer calls the weights.
var levels = map[cut.Weight]string{cut.Stop: "finding", cut.Warn: "note"}

// metName names the pin, the no-go area or the clamp that a finding is about, or the fence
// or stop with where it stands, as the operator sees it; "" where it is about none.
func (s *Setup) metName(a *registration.Answer, f cut.Finding) string {
	switch f := f.(type) {
	case *cut.PinCut:
		return words.Pin(a, f.Pin)
	case *cut.MarginSevered:
		return words.Pin(a, f.Pin)
	case *cut.HoleBroken:
		return words.Pin(a, f.Pin)
	case *cut.NoGoEntered:
		if s.Machine == nil || f.Area >= len(s.Machine.NoGo) {
			return "a no-go area"
		}
		return strings.Replace(s.Machine.NoGo[f.Area].Name, "no-go", "no-go area", 1)
	case *cut.FenceCut:
		if a == nil || f.Locator >= len(a.Touches) {
			return "a fence or stop"
		}
		t := a.Touches[f.Locator]
		if f.Side == cut.Back {
			return "the " + t.BackSide.String() + " " + t.BackLocator
		}
		return "the " + t.Side.String() + " " + t.Locator
	}
	return ""
}

// indexNote warns where the face program cuts the bore and no hole that the index pin fits
// into: cut later, that hole is in another clamping than the bore.
func indexNote(r *cut.Result, a *registration.Answer) []Note {
	if a == nil || a.Question.Clock.Kind != registration.ClockPin || !r.Bored || r.Indexed {
		return nil
	}
	at := a.Question.Clock.Pin
	return []Note{{Level: fact.Warning, Is: words.IndexHoleMissing{X: at.X.Sub(a.FaceZero.X), Y: at.Y.Sub(a.FaceZero.Y), Dia: indexHoleDia(a.Question)}}}
}

// throughNote says what was taken for meant because nothing was said of it, and the line that
// says it.
func throughNote(r *cut.Result, k float64) []Note {
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
	return []Note{{Level: fact.Warning, Is: words.ThroughTaken{Outlines: r.Outlines, Openings: r.Openings, Least: least * k}}}
}
