package block

import "strings"

// CommentPrefix begins the comment lines that the project adds to a program, and marks
// them for the next pass.
const CommentPrefix = "(flipcalc: "

// CommentText makes text fit to stand in a comment in parentheses (NISTIR 6556, 3.3.4):
// printable ASCII with no parenthesis inside, and at most so many characters.
func CommentText(text string, most int) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r == '(':
			return '['
		case r == ')':
			return ']'
		case r < ' ' || r > '~':
			return ' '
		}
		return r
	}, text)
	return clean[:min(len(clean), most)]
}
