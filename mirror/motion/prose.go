package motion

import (
	"slices"
	"strings"
)

// What a program holds besides blocks: a mark of the text's encoding, prose and names that
// no control runs, lines that print (all common practice). Such a line is left alone where
// nothing in it reads like a word.

// byteOrderMark is that of UTF-8.
const byteOrderMark = "\xef\xbb\xbf"

// flowWords steer a program in one macro language or another, also without a number.
var flowWords = []string{"IF", "THEN", "ELSE", "ELSEIF", "ENDIF", "WHILE", "ENDWHILE", "DO", "END", "GOTO", "SUB", "ENDSUB",
	"CALL", "RETURN", "REPEAT", "ENDREPEAT", "BREAK", "CONTINUE"}

// unread gives what a line holds that can't be read as a block: nothing that runs, and
// perhaps a program number in front. ok is false where it isn't such a line.
func (b *Block) unread() (ok bool) {
	text := b.Text
	i := skipBlanks(text, 0)
	if i < len(text) && upper(text[i]) == 'O' {
		number := skipBlanks(text, i+1)
		end := number
		for end < len(text) && text[end]-'0' <= 9 {
			end++
		}
		if end > number && prose(text[end:], 1) {
			b.Words = append(b.Words[:0], Word{Letter: 'O', Plain: true, Start: i, Number: number, End: end})
			b.Words[0].Value, _, _ = scanNum(text, number)
			return true
		}
	}
	b.Words = b.Words[:0]
	if i+1 < len(text) && text[i] == '/' && text[i+1] == '/' {
		return anyWord(text, i+2) < 0
	}
	return prints(text) || prose(text[i:], 3)
}

// prose reports text with a run of so many letters and nothing that reads like a word or
// steers the program.
func prose(text []byte, letters int) bool {
	longest, run, start := 0, 0, -1 // of the first run of letters
	for i, c := range text {
		switch u := upper(c); {
		case u >= 'A' && u <= 'Z':
			if start < 0 {
				start = i
			}
			run++
			longest = max(longest, run)
			continue
		case c >= 0x80, c-'0' <= 9, blank(c), slices.Contains([]byte(".,:;!?'\"-_&/+"), c):
		default:
			return false
		}
		run = 0
	}
	if longest < letters || anyWord(text, 0) >= 0 {
		return false
	}
	end := start
	for end < len(text) && upper(text[end]) >= 'A' && upper(text[end]) <= 'Z' {
		end++
	}
	return !slices.Contains(flowWords, strings.ToUpper(string(text[start:end])))
}

// prints reports POPEN, PCLOS and DPRNT[...], which print to a port.
func prints(text []byte) bool {
	i := skipBlanks(text, 0)
	if i < len(text) && upper(text[i]) == 'N' {
		for i = skipBlanks(text, i+1); i < len(text) && text[i]-'0' <= 9; i++ {
		}
		i = skipBlanks(text, i)
	}
	if len(text)-i < 5 {
		return false
	}
	name := strings.ToUpper(string(text[i : i+5]))
	i = skipBlanks(text, i+5)
	switch name {
	case "POPEN", "PCLOS":
	case "DPRNT":
		depth := 0
		for start := i; i < len(text) && (depth > 0 || i == start); i++ {
			switch text[i] {
			case '[':
				depth++
			case ']':
				depth--
			}
		}
		if depth != 0 || i == 0 || text[i-1] != ']' {
			return false
		}
	default:
		return false
	}
	i = skipBlanks(text, i)
	return i == len(text)
}

func skipBlanks(text []byte, i int) int {
	for i < len(text) && blank(text[i]) {
		i++
	}
	return i
}

// anyWord gives the place of the first thing in text[from:] that reads like a word; -1 if
// there is none.
func anyWord(text []byte, from int) int {
	for i := from; i < len(text); i++ {
		if c := upper(text[i]); c >= 'A' && c <= 'Z' && startsNumber(text, i+1) {
			return i
		}
	}
	return -1
}

// nested gives the place behind a comment that opens at i and holds another parenthesis:
// behind the partner of the first one, or behind the last one there is. Between the first
// and the last closing one, where controls differ, no word may stand.
func nested(text []byte, i int) (end int, ok bool) {
	depth, first, last := 0, -1, -1
	for j := i; j < len(text); j++ {
		c := text[j]
		if c < ' ' && c != '\t' {
			return 0, false
		}
		if c == '(' {
			depth++
		}
		if c != ')' {
			continue
		}
		if last = j; first < 0 {
			first = j
		}
		if depth--; depth == 0 {
			break
		}
	}
	if first < 0 || anyWord(text[:last], first) >= 0 {
		return 0, false
	}
	return last + 1, true
}
