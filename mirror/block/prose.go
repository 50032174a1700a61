package block

import (
	"bytes"
	"strings"
)

// Mark is the byte-order mark of UTF-8, which some editors put first.
const Mark = "\xef\xbb\xbf"

const allLetters = 1<<27 - 2

// flowAlone are words that steer a program and need no number.
var flowAlone = map[string]bool{"ELSEIF": true, "ENDIF": true, "ENDWHILE": true, "ENDSUB": true, "ENDREPEAT": true,
	"END": true, "BREAK": true, "CONTINUE": true}

// text takes a line that can't be read as a block but holds no word either: a // comment,
// a line of prose, a name behind the program number, what is printed to a port. No control
// moves by it. It reports whether b is such a line.
func (l *Lexer) text(b *Block) bool {
	line := bytes.TrimRight(l.buf[b.Start:b.End], "\r")
	rest := bytes.TrimLeft(line, " \t")
	at := b.Start + len(line) - len(rest)
	number := Word{}
	switch {
	case bytes.HasPrefix(rest, []byte("//")):
		if looksLikeWord(rest) >= 0 {
			return false
		}
	case len(rest) > 0 && rest[0]|0x20 == 'o' && digitsBehind(rest) > 0:
		end := digitsBehind(rest)
		if !isProse(rest[end:], 1) {
			return false
		}
		first := end
		for first > 0 && rest[first-1]-'0' <= 9 {
			first--
		}
		number = Word{Letter: 'O', Start: int32(at), Num: int32(at + first), End: int32(at + end)}
		for _, c := range rest[first:end] {
			if end-first > maxDigits {
				number.Flags |= Big
				break
			}
			number.Value = number.Value*10 + int64(c-'0')
		}
	case !isProse(rest, 3) && !isPrinting(rest):
		return false
	}
	next := b.Next
	*b = Block{Line: b.Line, Start: b.Start, End: b.Start + len(line), Next: next, Comments: true, Text: true, Deleted: b.Deleted}
	if number.Letter != 0 {
		b.N, b.W[0], b.Letters, b.Comments = 1, number, Bit('O'), false
	}
	return true
}

// digitsBehind gives the end of a number behind the letter that text starts with; 0 where
// none stands there.
func digitsBehind(text []byte) int {
	p := 1
	for p < len(text) && (text[p] == ' ' || text[p] == '\t') {
		p++
	}
	first := p
	for p < len(text) && text[p]-'0' <= 9 {
		p++
	}
	if p == first {
		return 0
	}
	return p
}

// isProse reports text of letters, digits and punctuation with no word in it, of which so
// many letters stand together, and which doesn't steer the program.
func isProse(text []byte, letters int) bool {
	if looksLikeWord(text) >= 0 {
		return false
	}
	longest := 0
	for i, name := range strings.FieldsFunc(string(text), func(c rune) bool { return c|0x20 < 'a' || c|0x20 > 'z' }) {
		if upper := strings.ToUpper(name); i == 0 && (flow[upper] || flowAlone[upper]) {
			return false
		}
		longest = max(longest, len(name))
	}
	for _, c := range text {
		if class[c] != cLetter && c < 0x80 && c-'0' > 9 && !strings.ContainsRune(" \t.,:;!?'\"-_&/+", rune(c)) {
			return false
		}
	}
	return longest >= letters
}

// isPrinting reports POPEN, PCLOS or DPRNT[...] (common practice).
func isPrinting(text []byte) bool {
	if len(text) > 0 && text[0]|0x20 == 'n' {
		text = bytes.TrimLeft(text[digitsBehind(text):], " \t")
	}
	if len(text) < 5 {
		return false
	}
	rest := bytes.Trim(text[5:], " \t")
	switch strings.ToUpper(string(text[:5])) {
	case "POPEN", "PCLOS":
		return len(rest) == 0
	case "DPRNT":
		depth := 0
		for i, c := range rest {
			switch c {
			case '[':
				depth++
			case ']':
				depth--
			}
			if depth == 0 && i < len(rest)-1 {
				return false
			}
		}
		return len(rest) > 0 && depth == 0
	}
	return false
}

// looksLikeWord gives the offset of the first letter with a number, a parameter or an
// expression behind it; -1 where there is none.
func looksLikeWord(text []byte) int {
	for p := range text {
		if wordAt(text, p, allLetters) {
			return p
		}
	}
	return -1
}

// wordAt reports that something at p reads like a word with one of the given letters.
func wordAt(text []byte, p int, letters uint32) bool {
	if class[text[p]] != cLetter || letters&Bit(text[p]) == 0 {
		return false
	}
	q := p + 1
	for q < len(text) && (text[q] == ' ' || text[q] == '\t' || text[q] == '-' || text[q] == '+') {
		q++
	}
	if q+1 < len(text) && text[q] == '.' {
		q++
	}
	return q < len(text) && (text[q]-'0' <= 9 || text[q] == '#' || text[q] == '[')
}

// nestedEnd gives the offset behind a comment that opens at open and holds a further
// parenthesis, 0 where it must be refused: controls end it at the first ')' or at the
// partner of the first '(', and between these no word may stand.
func nestedEnd(buf []byte, open int) int {
	first, last := 0, 0
	for p, depth := open, 0; buf[p] >= ' ' || buf[p] == '\t'; p++ {
		if buf[p] == '(' {
			depth++
		}
		if buf[p] != ')' {
			continue
		}
		if last = p; first == 0 {
			first = p
		}
		if depth--; depth == 0 {
			break
		}
	}
	if first == 0 || looksLikeWord(buf[first:last+1]) >= 0 {
		return 0
	}
	return last + 1
}
