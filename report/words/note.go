package words

import (
	"strings"

	"flipcalc/mirror/transform"
)

// Note turns the code of a note into a sentence.
func Note(code string, v []string, unit transform.Unit) string {
	if setupSentences[code] != nil {
		return sayCode(setupSentences, code, v, unit)
	}
	return sayCode(noteSentences, code, v, unit)
}

func sayCode(table map[string]sentence, code string, v []string, unit transform.Unit) string {
	if say, ok := table[code]; ok {
		return say(v, unit.String())
	}
	s := strings.ReplaceAll(code, "-", " ")
	if len(v) > 0 {
		s += ": " + strings.Join(values(v).from(0), ", ")
	}
	return s
}
