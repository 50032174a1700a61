package words

import (
	"strings"

	"flipcalc/mirror/transform"
)

// values are what a fact or a note carries with its code.
type values []string

// at gives value i, counted from 0, or "?" so that a gap is seen.
func (v values) at(i int) string {
	if i < len(v) {
		return v[i]
	}
	return "?"
}

// from gives value i and those after it, or nothing.
func (v values) from(i int) []string {
	if i >= len(v) {
		return nil
	}
	return v[i:]
}

// A sentence finds the words for one code; u is the unit of its lengths.
type sentence func(v values, u string) string

// fixed is a sentence without values.
func fixed(s string) sentence { return func(values, string) string { return s } }

// Note turns the code of a note into a sentence.
func Note(code string, v []string, unit transform.Unit) string {
	return sayCode(setupSentences, code, v, unit)
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
