package block

// motionLetters are the letters whose words move an axis: coordinates, rotary axes,
// second axes and centres of circles.
const motionLetters = 1<<('X'&31) | 1<<('Y'&31) | 1<<('Z'&31) | 1<<('A'&31) | 1<<('B'&31) | 1<<('C'&31) |
	1<<('U'&31) | 1<<('V'&31) | 1<<('W'&31) | 1<<('I'&31) | 1<<('J'&31) | 1<<('K'&31)

// Moving gives the offset of the first word in text that could move an axis, be the text
// a block or not; -1 where there is none. Comments are left out, an open one isn't.
func Moving(text []byte) int {
	for p := 0; p < len(text); p++ {
		switch {
		case text[p] == ';':
			return -1
		case text[p] == '(':
			for q := p + 1; q < len(text); q++ {
				if text[q] == ')' {
					p = q
					break
				}
			}
		case wordAt(text, p, motionLetters):
			return p
		}
	}
	return -1
}
