package motion

import (
	"fmt"
	"strings"
)

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
				if err := r.calls.define(fmt.Sprint(n), i, i+1, r.name); err != nil {
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
			err = r.calls.define(st.key, i, i+1, r.name)
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
