package motion

import (
	"fmt"
	"strings"
)

// What steers a program, none of it in NISTIR 6556 (common practice, from memory):
//
//	IF [..] GOTO n    IF [..] THEN a block    GOTO n    WHILE [..] DO n    DO n    END n
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
	condition *tree
	target    *tree // of GOTO
	arguments []*tree
	then      *Block // behind THEN
	to        int    // the other end of a loop, the next branch, or the last line of what break leaves
	loop      bool   // a while that closes a do
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
		if top := r.calls.running(); top == nil || !top.words {
			return pc, r.fault(pc, st.at, strings.ToLower(st.word[2:])+" outside a call", "a sub that is called with O words", "")
		}
		return r.back(), nil
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
	counts := &r.main
	if top := r.calls.running(); top != nil {
		counts = &top.counts
	}
	if *counts == nil {
		*counts = map[int]int64{}
	}
	return *counts
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
	given := map[int]amount{}
	for i, t := range st.arguments {
		v, err := t.Value(p)
		if err != nil {
			return pc, err
		}
		given[i+1] = v
	}
	start, ok := r.calls.subs[st.key]
	if !ok || r.steps[start-1] == nil || r.steps[start-1].word != "O SUB" {
		return pc, r.fault(pc, st.at, fmt.Sprintf("a call of O%s, whose sub isn't in this file", st.key), "", "put the sub into the file")
	}
	if err := r.noModal(pc, st.at, "a call"); err != nil {
		return pc, err
	}
	return r.enter(pc, st.at, call{start: start, back: pc + 1, words: true, given: given})
}
