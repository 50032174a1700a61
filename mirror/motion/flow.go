package motion

import (
	"fmt"
	"strings"

	"flipcalc/mirror/expression"
)

// What steers a program, none of it in NISTIR 6556 (common practice, from memory):
//
//	IF [..] GOTO n    IF [..] THEN #i=..    GOTO n    WHILE [..] DO n    DO n    END n
//	o1 sub, endsub, call [..] [..], return, if [..], elseif [..], else, endif, while [..],
//	endwhile, do, repeat [..], endrepeat, break, continue; o<name> likewise
//
// Beside them M97, M98, M99 and G65, which are words of blocks.

// step is a line that steers.
type step struct {
	word      string // upper case
	key       string // of an O word: its number, or its name in < >
	at        int    // byte of the line
	number    int64  // of DO and END
	condition *expression.Tree
	target    *expression.Tree // of GOTO
	arguments []*expression.Tree
	set       []*expression.Assignment // behind THEN
	to        int                      // the other end of a loop, the next branch, or the last line of what break leaves
	loop      bool                     // a while that closes a do
}

// steering are the words behind an O number.
var steering = []string{"SUB", "ENDSUB", "CALL", "RETURN", "IF", "ELSEIF", "ELSE", "ENDIF", "WHILE", "ENDWHILE", "DO", "REPEAT", "ENDREPEAT", "BREAK", "CONTINUE"}

// sentence is a line that steers, being read.
type sentence struct {
	text []byte
	at   int
}

// letters reads a run of letters, in upper case, blanks in front left out.
func (s *sentence) letters() string {
	s.at = skipBlanks(s.text, s.at)
	i := s.at
	for i < len(s.text) && upper(s.text[i]) >= 'A' && upper(s.text[i]) <= 'Z' {
		i++
	}
	return strings.ToUpper(string(s.text[s.at:i]))
}

// word takes a word where it comes next, alone.
func (s *sentence) word(w string) bool {
	if s.letters() == w {
		s.at += len(w)
		return true
	}
	return false
}

// parse reads a line that steers; nil for any other.
func (r *runner) parse(i int) (*step, error) {
	s := &sentence{text: r.line(i)}
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
func (r *runner) parsePlain(i int, s *sentence, st *step) (err error) {
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
			st.word = "THEN"
			for s.at = skipBlanks(s.text, s.at); s.at < len(s.text) && s.text[s.at] == '#'; s.at = skipBlanks(s.text, s.at) {
				a, end, err := expression.CompileSetting(s.text, s.at)
				if err != nil {
					return r.at(i, err)
				}
				st.set, s.at = append(st.set, a), end
			}
			if st.set == nil {
				return r.fault(i, s.at, "IF [..] THEN without a setting", "THEN #1=2", "write blocks behind IF [..] GOTO")
			}
			return nil
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

// brackets reads a condition.
func (r *runner) brackets(i int, s *sentence) (*expression.Tree, error) {
	if s.at = skipBlanks(s.text, s.at); s.at == len(s.text) || s.text[s.at] != '[' {
		return nil, r.fault(i, s.at, "a condition without brackets", "[", "")
	}
	t, end, err := expression.Compile(s.text, s.at, false)
	s.at = end
	return t, r.at(i, err)
}

// target reads the block number behind GOTO.
func (r *runner) target(i int, s *sentence, st *step) error {
	s.at = skipBlanks(s.text, s.at)
	if s.at < len(s.text) && upper(s.text[s.at]) == 'N' {
		return r.fault(i, s.at, "GOTO with the letter N", "the number alone", "")
	}
	t, end, err := expression.Compile(s.text, s.at, true)
	st.target, s.at = t, end
	return r.at(i, err)
}

// count reads the number of DO or END.
func (r *runner) count(i int, s *sentence, st *step) error {
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
func (r *runner) parseO(i int, s *sentence, st *step) (err error) {
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
	known := false
	for _, w := range steering {
		known = known || w == name
	}
	if !known {
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
			return r.fault(i, at, strings.ToLower(name)+" with a value", "the result in a parameter such as #<_depth>", "")
		}
		if len(st.arguments) > 30 {
			return r.fault(i, at, "more than 30 arguments", "at most 30", "")
		}
	}
	return nil
}

// opening is a loop, a branch or a subprogram that isn't closed yet.
type opening struct {
	line int
	*step
}

// structure reads the lines that steer and finds which belong together.
func (r *runner) structure() error {
	var open []opening
	for i := range r.lines {
		st, err := r.parse(i)
		if err != nil {
			return err
		}
		if st == nil {
			if n, ok := Label(r.line(i)); ok {
				if err := r.define(i, fmt.Sprint(n)); err != nil {
					return err
				}
				if len(open) > 0 && i > 0 {
					return r.unclosed(open[len(open)-1])
				}
				r.bounds = append(r.bounds, i)
			}
			continue
		}
		r.steps[i] = st
		if open, err = r.nest(i, st, open); err != nil {
			return err
		}
	}
	if len(open) > 0 {
		return r.unclosed(open[len(open)-1])
	}
	return nil
}

// define notes where a subprogram begins.
func (r *runner) define(i int, name string) error {
	if _, twice := r.subs[name]; twice {
		return r.fault(i, 0, fmt.Sprintf("a second subprogram O%s", name), "one of each number", "")
	}
	r.subs[name] = i + 1
	return nil
}

// closers are what closes a loop, a branch or a subprogram.
var closers = map[string]string{"WHILE": "END", "DO": "END", "O SUB": "endsub", "O IF": "endif", "O ELSEIF": "endif", "O ELSE": "endif",
	"O WHILE": "endwhile", "O DO": "while", "O REPEAT": "endrepeat"}

func (r *runner) unclosed(o opening) error {
	if o.key == "" {
		return r.fault(o.line, o.at, fmt.Sprintf("%s %d without END %d", o.word, o.number, o.number), "", "")
	}
	return r.fault(o.line, o.at, fmt.Sprintf("O%s %s without %s", o.key, strings.ToLower(o.word[2:]), closers[o.word]), "", "")
}

// nest takes line i into the structure.
func (r *runner) nest(i int, st *step, open []opening) ([]opening, error) {
	none := opening{step: &step{}}
	top := none
	if len(open) > 0 {
		top = open[len(open)-1]
	}
	closes := func(words ...string) error {
		for _, w := range words {
			if top.word == w && top.key == st.key && top.number == st.number {
				return nil
			}
		}
		name := fmt.Sprintf("%s %d", st.word, st.number)
		if st.key != "" {
			name = fmt.Sprintf("O%s %s", st.key, strings.ToLower(st.word[2:]))
		}
		if top.step == none.step {
			return r.fault(i, st.at, name+" without its beginning", "", "")
		}
		return r.fault(i, st.at, fmt.Sprintf("%s before %s of line %d is closed", name, strings.TrimPrefix(top.word, "O "), top.line+1), "loops inside one another", "")
	}
	pop := func() []opening {
		r.spans = append(r.spans, span{top.line, i})
		return open[:len(open)-1]
	}
	var err error
	switch st.word {
	case "WHILE", "DO", "O DO", "O REPEAT", "O IF", "O SUB":
		if st.word == "O SUB" {
			if top.step != none.step {
				return open, r.fault(i, st.at, "a sub inside "+strings.TrimPrefix(top.word, "O "), "subs beside one another", "")
			}
			err = r.define(i, st.key)
			r.bounds = append(r.bounds, i)
		}
		return append(open, opening{i, st}), err
	case "O WHILE":
		if top.word != "O DO" || top.key != st.key {
			return append(open, opening{i, st}), nil
		}
		st.loop, st.to, top.to = true, top.line, i
		return pop(), nil
	case "END":
		if err = closes("WHILE", "DO"); err == nil {
			st.to, top.to = top.line, i
			open = pop()
		}
	case "O ENDWHILE":
		if err = closes("O WHILE"); err == nil {
			st.to, top.to = top.line, i
			open = pop()
		}
	case "O ENDREPEAT":
		if err = closes("O REPEAT"); err == nil {
			st.to, top.to = top.line, i
			open = pop()
		}
	case "O ENDSUB":
		if err = closes("O SUB"); err == nil {
			top.to = i
			r.bounds = append(r.bounds, i+1)
			open = open[:len(open)-1]
		}
	case "O ELSEIF", "O ELSE":
		if err = closes("O IF", "O ELSEIF"); err == nil {
			top.to = i
			r.spans = append(r.spans, span{top.line, i})
			open = append(open[:len(open)-1], opening{i, st})
		}
	case "O ENDIF":
		if err = closes("O IF", "O ELSEIF", "O ELSE"); err == nil {
			top.to = i
			open = pop()
		}
	case "O BREAK", "O CONTINUE":
		for k := len(open) - 1; k >= 0; k-- {
			if o := open[k]; o.key == st.key && (o.word == "O WHILE" || o.word == "O DO" || o.word == "O REPEAT") {
				st.to = o.line
				return open, nil
			}
		}
		err = r.fault(i, st.at, fmt.Sprintf("%s outside loop O%s", strings.ToLower(st.word[2:]), st.key), "one inside it", "")
	case "O RETURN":
		if len(open) == 0 || open[0].word != "O SUB" {
			err = r.fault(i, st.at, "return outside a sub", "", "")
		}
	}
	return open, err
}

// steer runs a line that steers and gives the one to run next.
func (r *runner) steer(pc int, st *step) (int, error) {
	p := &r.params
	truth := func() (bool, error) { return st.condition.True(p) }
	switch st.word {
	case "GOTO":
		return r.jump(pc, st)
	case "IF":
		yes, err := truth()
		if err != nil || !yes {
			return pc + 1, err
		}
		return r.jump(pc, st)
	case "THEN":
		yes, err := truth()
		if err != nil || !yes {
			return pc + 1, err
		}
		for _, a := range st.set {
			s, err := a.Evaluate(p)
			if err != nil {
				return pc, err
			}
			if s.Number() == alarm {
				return pc, r.fault(pc, st.at, fmt.Sprintf("the program stops itself here with an alarm (#%d)", alarm), "a program that runs to its end", "its arguments are refused by the macro itself")
			}
			s.Apply(p)
		}
	case "WHILE", "O WHILE":
		yes, err := truth()
		switch {
		case err != nil:
			return pc, err
		case st.loop && yes:
			return st.to + 1, nil
		case !st.loop && !yes:
			return st.to + 1, nil
		}
	case "END", "O ENDWHILE":
		return st.to, nil
	case "O SUB":
		return st.to + 1, nil
	case "O CALL":
		return r.callWord(pc, st)
	case "O RETURN", "O ENDSUB":
		if len(r.stack) == 0 || !r.stack[len(r.stack)-1].words {
			return pc, r.fault(pc, st.at, strings.ToLower(st.word[2:])+" outside a call", "a sub that is called with O words", "")
		}
		return r.back(pc)
	case "O IF":
		return r.branch(pc)
	case "O ELSEIF", "O ELSE":
		return r.endOf(pc), nil
	case "O REPEAT":
		n, err := st.condition.Value(p)
		if err != nil {
			return pc, err
		}
		v, _ := n.Nano()
		if v < 0 || v%scale != 0 {
			return pc, r.fault(pc, st.at, fmt.Sprintf("repeat [%s]", FromNano(v)), "a whole number, 0 or more", "")
		}
		r.repeats()[pc] = v / scale
		if v == 0 {
			return st.to + 1, nil
		}
	case "O ENDREPEAT":
		return r.repeat(st.to), nil
	case "O BREAK":
		return r.steps[st.to].to + 1, nil
	case "O CONTINUE":
		switch loop := r.steps[st.to]; loop.word {
		case "O REPEAT":
			return r.repeat(st.to), nil
		case "O DO":
			return loop.to, nil
		}
		return st.to, nil
	}
	return pc + 1, nil
}

// repeats are the counts of the repeat loops that run in this call.
func (r *runner) repeats() map[int]int64 {
	if len(r.stack) == 0 {
		if r.main == nil {
			r.main = map[int]int64{}
		}
		return r.main
	}
	f := &r.stack[len(r.stack)-1]
	if f.counts == nil {
		f.counts = map[int]int64{}
	}
	return f.counts
}

// repeat runs the end of a repeat loop that begins at a line.
func (r *runner) repeat(first int) int {
	c := r.repeats()
	if c[first]--; c[first] > 0 {
		return first + 1
	}
	return r.steps[first].to + 1
}

// branch finds the branch to run, from if on.
func (r *runner) branch(pc int) (int, error) {
	for i := pc; ; i = r.steps[i].to {
		st := r.steps[i]
		if st.word == "O ENDIF" || st.word == "O ELSE" {
			return i + 1, nil
		}
		yes, err := st.condition.True(&r.params)
		if err != nil {
			return pc, r.at(i, err)
		}
		if yes {
			return i + 1, nil
		}
	}
}

// endOf gives the line behind a branch's endif.
func (r *runner) endOf(pc int) int {
	for r.steps[pc].word != "O ENDIF" {
		pc = r.steps[pc].to
	}
	return pc + 1
}

// jump runs GOTO.
func (r *runner) jump(pc int, st *step) (int, error) {
	n, err := st.target.Value(&r.params)
	if err != nil {
		return pc, err
	}
	v, _ := n.Nano()
	if v <= 0 || v%scale != 0 {
		return pc, r.fault(pc, st.at, fmt.Sprintf("GOTO %s", FromNano(v)), "a whole block number", "")
	}
	return r.find(pc, pc, st.at, v/scale)
}

// callWord runs a call of O words: its values become #1, #2 and so on, and #1 to #30
// belong to the call.
func (r *runner) callWord(pc int, st *step) (int, error) {
	p := &r.params
	given := map[int]expression.Number{}
	for i, t := range st.arguments {
		v, err := t.Value(p)
		if err != nil {
			return pc, err
		}
		given[i+1] = v
	}
	start, ok := r.subs[st.key]
	if !ok || r.steps[start-1] == nil || r.steps[start-1].word != "O SUB" {
		return pc, r.fault(pc, st.at, fmt.Sprintf("a call of O%s, whose sub isn't in this file", st.key), "its blocks in the file", "put the sub into the file")
	}
	if err := r.noModal(pc, st.at, "a call"); err != nil {
		return pc, err
	}
	return r.enter(pc, st.at, frame{start: start, back: pc + 1, words: true, given: given})
}
