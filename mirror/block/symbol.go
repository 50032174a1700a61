package block

import (
	"bytes"
	"io"
	"strings"
)

// What only a control that runs the program knows, so that it isn't mirrored word by
// word: parameters, expressions, functions and what steers a program.

// functions are the unary operations of NISTIR 6556, 3.3.2.4.
var functions = map[string]bool{
	"ABS": true, "ACOS": true, "ASIN": true, "ATAN": true, "COS": true, "EXP": true, "FIX": true,
	"FUP": true, "LN": true, "ROUND": true, "SIN": true, "SQRT": true, "TAN": true,
}

// flow are the words that steer a program in one macro language or another.
var flow = map[string]bool{
	"IF": true, "THEN": true, "ELSE": true, "WHILE": true, "DO": true, "GOTO": true,
	"SUB": true, "CALL": true, "RETURN": true, "REPEAT": true,
}

// noNumber says what stands behind a word's letter in place of a number.
func (l *Lexer) noNumber(b *Block, w *Word) error {
	buf, p := l.buf, skipSpace(l.buf, int(w.Num))
	signed := buf[p] == '-' || buf[p] == '+'
	if signed { // NISTIR 6556 has signs before numbers only; before # and [ they are common
		p = skipSpace(buf, p+1)
	}
	switch {
	case w.Letter == 'N':
	case buf[p] == '#' || buf[p] == '[':
		return l.fail(b, Symbol, int(w.Start))
	case class[buf[p]] == cLetter && !signed:
		name := l.name(p)
		full := strings.ToUpper(string(w.Letter) + name)
		switch upper := full[1:]; {
		case functions[upper] && buf[skipSpace(buf, p+len(name))] == '[':
			return l.fail(b, Symbol, int(w.Start))
		case flow[full], strings.HasPrefix(full, "END"):
			return l.failAt(b, ControlFlow, int(w.Start), full)
		case upper[0] == 'O':
			return l.failAt(b, LetterO, p, string(w.Letter))
		case len(name) > 1:
			return l.failAt(b, UnknownName, p, name)
		}
	}
	return l.failAt(b, NoNumber, int(w.Start), string(w.Letter))
}

// name gives the letters at p, at most 8 of them.
func (l *Lexer) name(p int) string {
	end := p
	for class[l.buf[end]] == cLetter && end < p+8 {
		end++
	}
	return string(l.buf[p:end])
}

// Symbols reports whether a program holds a parameter or an expression: # or [ outside
// comments and lines that print. What can't be read holds none.
func Symbols(in io.Reader) bool {
	r := NewReader(in)
	for {
		chunk, err := r.Next()
		if err != nil || symbols(chunk) {
			return err == nil
		}
	}
}

// symbols looks through whole lines.
func symbols(chunk []byte) bool {
	for _, sign := range []byte("#[") {
		for at := 0; ; at++ {
			i := bytes.IndexByte(chunk[at:], sign)
			if i < 0 {
				break
			}
			at += i
			line := bytes.LastIndexByte(chunk[:at], '\n') + 1
			end := line + bytes.IndexByte(chunk[line:], '\n')
			if !commented(chunk[line:at]) && !isPrinting(bytes.TrimSpace(chunk[line:end])) {
				return true
			}
		}
	}
	return false
}

// commented reports whether a comment is open at the end of the beginning of a line.
func commented(line []byte) bool {
	open := false
	for _, c := range line {
		switch {
		case c == ';' && !open:
			return true
		case c == '(':
			open = true
		case c == ')':
			open = false
		}
	}
	return open
}
