package block

import "strings"

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

// value reads the value of a word that is no plain number, from its first byte:
// #parameter, [expression] or function. It finds its end and no more.
func (l *Lexer) value(b *Block, w *Word, p int) (int, error) {
	buf, start := l.buf, p
	if buf[p] == '-' || buf[p] == '+' {
		// NISTIR 6556 has signs before numbers only; before # and [ they are common.
		if start = skipSpace(buf, p+1); class[buf[start]] == cLetter {
			return 0, l.failAt(b, NoNumber, int(w.Start), string(w.Letter))
		}
	}
	if w.Letter != 'N' && (buf[start] == '#' || buf[start] == '[' || class[buf[start]] == cLetter) {
		end, err := l.operand(b, start, w)
		if err != nil {
			return 0, err
		}
		w.End = int32(end)
		return end, nil
	}
	return 0, l.failAt(b, NoNumber, int(w.Start), string(w.Letter))
}

// operand finds the end of a number, #operand, [expression] or function that
// starts at p. w is the word it belongs to, nil in a setting.
func (l *Lexer) operand(b *Block, p int, w *Word) (int, error) {
	buf := l.buf
	p = skipSpace(buf, p)
	switch c := buf[p]; {
	case c == '#':
		for start, n := p, 0; buf[p] == '#'; n++ {
			if n == deepest {
				return 0, l.failAt(b, TooDeep, start, "")
			}
			p = skipSpace(buf, p+1)
		}
		if buf[p] == '<' {
			return 0, l.failAt(b, NamedParameter, p-1, "")
		}
		if class[buf[p]] == cLetter && !functions[strings.ToUpper(l.name(p))] {
			return 0, l.failAt(b, NoNumber, p-1, "#")
		}
		return l.operand(b, p, nil)
	case c == '[':
		return l.bracket(b, p)
	case class[c] == cLetter:
		name := l.name(p)
		upper := strings.ToUpper(name)
		if !functions[upper] {
			if w == nil {
				return 0, l.failAt(b, UnknownName, p, name)
			}
			full := string(buf[w.Start]) + name
			switch {
			case flow[strings.ToUpper(full)], strings.HasPrefix(strings.ToUpper(full), "END"):
				return 0, l.failAt(b, ControlFlow, int(w.Start), strings.ToUpper(full))
			case upper[0] == 'O':
				return 0, l.failAt(b, LetterO, p, string(w.Letter))
			case len(name) == 1:
				return 0, l.failAt(b, NoNumber, int(w.Start), string(w.Letter))
			}
			return 0, l.failAt(b, UnknownName, p, name)
		}
		end := skipSpace(buf, p+len(name))
		if buf[end] != '[' {
			return 0, l.failAt(b, UnknownName, p, name)
		}
		end, err := l.bracket(b, end)
		if err != nil || upper != "ATAN" {
			return end, err
		}
		// ATAN[y]/[x]
		if q := skipSpace(buf, end); buf[q] == '/' {
			if q = skipSpace(buf, q+1); buf[q] == '[' {
				return l.bracket(b, q)
			}
		}
		return 0, l.failAt(b, UnknownName, p, name+" without /[...]")
	}
	return l.plain(b, p)
}

// plain finds the end of a number in a setting or behind '#'.
func (l *Lexer) plain(b *Block, p int) (int, error) {
	buf, start := l.buf, p
	if buf[p] == '-' || buf[p] == '+' {
		p++
	}
	digits, point, end := 0, false, p
	for ; ; p++ {
		switch c := buf[p]; {
		case c == ' ' || c == '\t':
			continue
		case c == '.' && !point:
			point = true
		case c-'0' <= 9:
			digits++
		default:
			if digits == 0 {
				return 0, l.failAt(b, BadSetting, start, "")
			}
			return end, nil
		}
		end = p + 1
	}
}

// bracket finds the end of the [expression] at p.
func (l *Lexer) bracket(b *Block, p int) (int, error) {
	buf, depth := l.buf, 0
	for q := p; ; q++ {
		switch buf[q] {
		case '[':
			if depth++; depth > deepest {
				return 0, l.failAt(b, TooDeep, p, "")
			}
		case ']':
			if depth--; depth == 0 {
				return q + 1, nil
			}
		case '\n', ';', '(', ')':
			return 0, l.failAt(b, OpenBracket, p, "")
		}
	}
}

// name gives the letters at p, at most 8 of them.
func (l *Lexer) name(p int) string {
	end := p
	for class[l.buf[end]] == cLetter && end < p+8 {
		end++
	}
	return string(l.buf[p:end])
}

// setting finds the end of the parameter setting #index=value at p.
func (l *Lexer) setting(b *Block, p int) (int, error) {
	buf := l.buf
	q := skipSpace(buf, p+1)
	if buf[q] == '<' {
		return 0, l.failAt(b, NamedParameter, p, "")
	}
	q, err := l.operand(b, q, nil)
	if err != nil {
		return 0, err
	}
	q = skipSpace(buf, q)
	if buf[q] != '=' {
		return 0, l.failAt(b, BadSetting, p, "")
	}
	return l.operand(b, q+1, nil)
}

// Operand gives the end of the number, #parameter, [expression] or function that
// starts at text[p]; ok is false where none does.
func Operand(text []byte, p int) (end int, ok bool) {
	l := Lexer{buf: append(append([]byte(nil), text...), '\n')}
	end, err := l.operand(&Block{}, p, nil)
	return end, err == nil
}
