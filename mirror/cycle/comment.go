package cycle

import (
	"fmt"
	"strings"

	"flipcalc/mirror/fault"
)

// longestLine is the greatest length of a line (NISTIR 6556, 3.3).
const longestLine = 256

// comment puts text into parentheses.
func comment(text string) (string, error) {
	if i := strings.IndexFunc(text, func(r rune) bool { return r == '(' || r == ')' || r < ' ' || r > '~' }); i >= 0 {
		return "", &fault.Error{Found: fmt.Sprintf("a comment with %q", []rune(text[i:])[0]), Expected: "plain characters without parentheses"}
	}
	if len(text)+2 > longestLine {
		return "", &fault.Error{Found: fmt.Sprintf("a comment of %d characters", len(text)), Expected: fmt.Sprintf("at most %d", longestLine-2)}
	}
	return "(" + text + ")", nil
}
