package proof

import "testing"

// Mutants gives every n-th text that differs from a right output in one word or
// line to visit, with what was done, so that there are about most of them.
func Mutants(t testing.TB, text string, most int, visit func(text, what string)) {
	all := mutants(t, text)
	for i := 0; i < len(all); i += max(1, len(all)/most) {
		visit(all[i].in(text), all[i].String())
	}
}

// CheckBy proves texts in memory, with or without the short way.
var CheckBy = checkBy

// Trace writes all that a program does.
var Trace = trace
