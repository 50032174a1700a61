package block

// motionLetters are the letters whose words move an axis: coordinates, rotary axes,
// second axes and centres of circles.
const motionLetters = 1<<('X'&31) | 1<<('Y'&31) | 1<<('Z'&31) | 1<<('A'&31) | 1<<('B'&31) | 1<<('C'&31) |
	1<<('U'&31) | 1<<('V'&31) | 1<<('W'&31) | 1<<('I'&31) | 1<<('J'&31) | 1<<('K'&31)

// Moving gives the offset of the first word in text that could move an axis, be the text
// a block or not; -1 where there is none. Comments are left out, an open one isn't.
func Moving(text []byte) int { return findWord(text, motionLetters) }

// findWord gives the offset of the first thing that reads like a word with one of the
// given letters: the letter and a digit, a point, a parameter or an expression.
func findWord(text []byte, letters uint32) int {
	for p := 0; p < len(text); p++ {
		switch c := text[p]; {
		case c == ';':
			return -1
		case c == '(':
			for q := p + 1; q < len(text); q++ {
				if text[q] == ')' {
					p = q
					break
				}
			}
		case class[c] == cLetter && letters&Bit(c) != 0:
			q := p + 1
			for q < len(text) && (text[q] == ' ' || text[q] == '\t' || text[q] == '-' || text[q] == '+') {
				q++
			}
			if q < len(text) && (text[q]-'0' <= 9 || text[q] == '.' || text[q] == '#' || text[q] == '[') {
				return p
			}
		}
	}
	return -1
}
