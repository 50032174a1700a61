package words

import "flipcalc/mirror/transform"

// rooms find the words for the facts of one room each, their lengths in u; "" for those
// of another.
var rooms = []func(is any, u string) string{registrationFact, patternFact, budgetFact, landedFact, mirrorFact, mergeFact, planFact, setupFact, drillingFact, jobFact}

// Fact finds the words for a fact, one sentence for each type; its lengths are in unit.
func Fact(is any, unit transform.Unit) string {
	for _, room := range rooms {
		if s := room(is, unit.String()); s != "" {
			return s
		}
	}
	return ""
}
