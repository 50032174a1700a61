package motion

import (
	"fmt"
	"slices"
	"strings"
)

// steering are the words behind an O number.
var steering = []string{"SUB", "ENDSUB", "CALL", "RETURN", "IF", "ELSEIF", "ELSE", "ENDIF", "WHILE", "ENDWHILE", "DO", "REPEAT", "ENDREPEAT", "BREAK", "CONTINUE"}

// flowLine is a line that steers a program (IF, WHILE, GOTO, O words), being read.
type flowLine struct {
	text []byte
	at   int
}

// letters reads a run of letters, in upper case, blanks in front left out.
func (s *flowLine) letters() string {
	s.at = skipBlanks(s.text, s.at)
	i := s.at
	for i < len(s.text) && upper(s.text[i]) >= 'A' && upper(s.text[i]) <= 'Z' {
		i++
	}
	return strings.ToUpper(string(s.text[s.at:i]))
}

// word takes a word where it comes next, alone.
func (s *flowLine) word(w string) bool {
	if s.letters() == w {
		s.at += len(w)
		return true
	}
	return false
}

// parse reads a line that steers; nil for any other.
func (r *runner) parse(i int) (*step, error) {
	s := &flowLine{text: r.line(i)}
	s.at = skipBlanks(s.text, 0)
	slash := s.at < len(s.text) && s.text[s.at] == '/'
	if slash {
		s.at = skipBlanks(s.text, s.at+1)
	}
	if _, ok := blockNumber(s.text[s.at:]); ok {
		for s.at++; s.at < len(s.text) && (blank(s.text[s.at]) || s.text[s.at]-'0' <= 9); s.at++ {
		}
	}
	if s.at == len(s.text) || !strings.ContainsRune("IWGDEO", rune(upper(s.text[s.at]))) {
		return nil, nil
	}
	if next := skipBlanks(s.text, s.at+1); upper(s.text[s.at]) != 'O' && (next == len(s.text) || upper(s.text[next]) < 'A') {
		return nil, nil // a word such as G1
	}
	st := &step{at: s.at}
	var err error
	switch upper(s.text[s.at]) {
	case 'I', 'W', 'G', 'D', 'E':
		err = r.parsePlain(i, s, st)
	case 'O':
		err = r.parseO(i, s, st)
	default:
		return nil, nil
	}
	if err != nil || st.word == "" {
		return nil, err
	}
	if slash {
		return nil, r.fault(i, 0, fmt.Sprintf("%s behind a slash (block delete)", st.word), "a line that always runs", "take the slash out, or write two programs")
	}
	if s.at = skipBlanks(s.text, s.at); s.at < len(s.text) && s.text[s.at] != '(' && s.text[s.at] != ';' {
		return nil, r.fault(i, s.at, fmt.Sprintf("%q behind %s", string(s.text[s.at:min(len(s.text), s.at+12)]), st.word), "the end of the line", "")
	}
	return st, nil
}

// parsePlain reads IF, WHILE, DO, END and GOTO.
func (r *runner) parsePlain(i int, s *flowLine, st *step) (err error) {
	begin := s.at
	switch {
	case s.word("IF"):
		if st.condition, err = r.brackets(i, s); err != nil {
			return err
		}
		switch {
		case s.word("GOTO"):
			st.word = "IF"
			return r.target(i, s, st)
		case s.word("THEN"):
			if s.word("GOTO") {
				st.word = "IF"
				return r.target(i, s, st)
			}
			return r.then(i, s, st)
		}
		return r.fault(i, s.at, "IF [..] without GOTO or THEN", "GOTO and a block number, or THEN and a setting", "")
	case s.word("WHILE"):
		st.word = "WHILE"
		if st.condition, err = r.brackets(i, s); err != nil {
			return err
		}
		if !s.word("DO") {
			return r.fault(i, s.at, "WHILE [..] without DO", "DO and a number", "")
		}
		return r.count(i, s, st)
	case s.word("DO"):
		st.word = "DO"
		return r.count(i, s, st)
	case s.word("END"):
		st.word = "END"
		return r.count(i, s, st)
	case s.word("GOTO"):
		st.word = "GOTO"
		return r.target(i, s, st)
	}
	s.at = begin
	return nil
}

// then reads the block behind THEN, which counts its columns from the line's beginning. A
// setting there is part of every macro language, other words are common practice.
func (r *runner) then(i int, s *flowLine, st *step) error {
	text := slices.Clone(s.text)
	for k := range s.at {
		text[k] = ' '
	}
	st.word, st.then = "THEN", &Block{File: r.name}
	if err := st.then.Read(text, i+1); err != nil {
		return err
	}
	if len(st.then.Words)+len(st.then.settings) == 0 {
		return r.fault(i, s.at, "IF [..] THEN without a block", "THEN #1=2, or words such as G0 X1", "")
	}
	s.at = len(s.text)
	return nil
}

// brackets reads a condition.
func (r *runner) brackets(i int, s *flowLine) (*tree, error) {
	if s.at = skipBlanks(s.text, s.at); s.at == len(s.text) || s.text[s.at] != '[' {
		return nil, r.fault(i, s.at, "a condition without brackets", "[", "")
	}
	t, end, err := compile(s.text, s.at, false)
	s.at = end
	return t, r.at(i, err)
}

// target reads the block number behind GOTO.
func (r *runner) target(i int, s *flowLine, st *step) error {
	s.at = skipBlanks(s.text, s.at)
	if s.at < len(s.text) && upper(s.text[s.at]) == 'N' {
		return r.fault(i, s.at, "GOTO with the letter N", "the number alone", "")
	}
	t, end, err := compile(s.text, s.at, true)
	st.target, s.at = t, end
	return r.at(i, err)
}

// count reads the number of DO or END.
func (r *runner) count(i int, s *flowLine, st *step) error {
	s.at = skipBlanks(s.text, s.at)
	digits := 0
	for ; s.at < len(s.text) && s.text[s.at]-'0' <= 9 && digits < 9; s.at++ {
		st.number = st.number*10 + int64(s.text[s.at]-'0')
		digits++
	}
	if digits == 0 {
		return r.fault(i, s.at, st.word+" without a number", "a number such as 1", "")
	}
	return nil
}

// parseO reads an O word that steers. A program's number isn't one.
func (r *runner) parseO(i int, s *flowLine, st *step) (err error) {
	begin := s.at
	s.at = skipBlanks(s.text, s.at+1)
	start := s.at
	switch {
	case s.at < len(s.text) && s.text[s.at] == '<':
		end := strings.IndexByte(string(s.text[s.at:]), '>')
		if end < 0 {
			return r.fault(i, s.at, "a < that isn't closed", ">", "")
		}
		s.at += end + 1
		st.key = strings.ToLower(strings.ReplaceAll(string(s.text[start:s.at]), " ", ""))
	case s.at < len(s.text) && s.text[s.at]-'0' <= 9:
		for s.at < len(s.text) && s.text[s.at]-'0' <= 9 {
			s.at++
		}
		if st.key = strings.TrimLeft(string(s.text[start:s.at]), "0"); st.key == "" {
			st.key = "0"
		}
	default:
		s.at = begin
		return nil
	}
	s.at = skipBlanks(s.text, s.at)
	at, name := s.at, s.letters()
	if !slices.Contains(steering, name) {
		if st.key[0] == '<' {
			return r.fault(i, at, fmt.Sprintf("%q behind O%s", name, st.key), "sub, call, if, while, repeat or the like", "")
		}
		s.at = begin // a program's number, perhaps with prose behind it
		return nil
	}
	s.at += len(name)
	st.word, st.at = "O "+name, begin
	switch name {
	case "IF", "ELSEIF", "WHILE", "REPEAT":
		st.condition, err = r.brackets(i, s)
		return err
	case "CALL", "RETURN", "ENDSUB":
		for s.at = skipBlanks(s.text, s.at); s.at < len(s.text) && s.text[s.at] == '['; s.at = skipBlanks(s.text, s.at) {
			t, err := r.brackets(i, s)
			if err != nil {
				return err
			}
			st.arguments = append(st.arguments, t)
		}
		if len(st.arguments) > 0 && name != "CALL" {
			return r.fault(i, at, strings.ToLower(name)+" with a value", strings.ToLower(name)+" alone", "set a parameter such as #<_depth> in a block before it, and read that behind the call")
		}
		if len(st.arguments) > 30 {
			return r.fault(i, at, "more than 30 arguments", "at most 30", "")
		}
	}
	return nil
}
