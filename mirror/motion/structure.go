package motion

import (
	"fmt"
	"slices"
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
	section, sections, around := 0, 0, 0 // of the line, so far, and of what a sub stands in
	for i := range r.lines {
		r.sections[i] = section
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
				sections++
				section, r.sections[i] = sections, sections
			}
			continue
		}
		switch r.steps[i] = st; st.word {
		case "O SUB":
			sections++
			section, around, r.sections[i] = sections, section, sections
		case "O ENDSUB":
			section = around
		}
		if open, err = r.nest(i, st, open); err != nil {
			return err
		}
	}
	if len(open) > 0 {
		return r.unclosed(open[len(open)-1])
	}
	return nil
}

// closers are what may close a loop, a branch or a subprogram, its end first; elseif and else
// open a branch of their own.
var closers = map[string][]string{"WHILE": {"END"}, "DO": {"END"}, "O SUB": {"O ENDSUB"}, "O WHILE": {"O ENDWHILE"}, "O DO": {"O WHILE"}, "O REPEAT": {"O ENDREPEAT"},
	"O IF": {"O ENDIF", "O ELSEIF", "O ELSE"}, "O ELSEIF": {"O ENDIF", "O ELSEIF", "O ELSE"}, "O ELSE": {"O ENDIF"}}

func (r *runner) unclosed(o opening) error {
	if o.key == "" {
		return r.fault(o.line, o.at, fmt.Sprintf("%s %d without END %d", o.word, o.number, o.number), "", "")
	}
	return r.fault(o.line, o.at, fmt.Sprintf("O%s %s without %s", o.key, strings.ToLower(o.word[2:]), strings.ToLower(closers[o.word][0][2:])), "", "")
}

// nest takes line i into the structure.
func (r *runner) nest(i int, st *step, open []opening) ([]opening, error) {
	switch st.word {
	case "WHILE", "DO", "O DO", "O REPEAT", "O IF":
		return append(open, opening{i, st}), nil
	case "O SUB":
		if len(open) > 0 {
			return open, r.fault(i, st.at, "a sub inside "+strings.TrimPrefix(open[len(open)-1].word, "O "), "subs beside one another", "")
		}
		return append(open, opening{i, st}), r.calls.define(st.key, i, i+1, r.name)
	case "O WHILE":
		if n := len(open); n == 0 || open[n-1].word != "O DO" || open[n-1].key != st.key {
			return append(open, opening{i, st}), nil
		}
		st.loop = true
		return r.shut(i, st, open), nil
	case "O BREAK", "O CONTINUE":
		for k := len(open) - 1; k >= 0; k-- {
			if o := open[k]; o.key == st.key && (o.word == "O WHILE" || o.word == "O DO" || o.word == "O REPEAT") {
				st.to = o.line
				return open, nil
			}
		}
		return open, r.fault(i, st.at, fmt.Sprintf("%s outside loop O%s", strings.ToLower(st.word[2:]), st.key), "one inside it", "")
	case "O RETURN":
		if len(open) == 0 || open[0].word != "O SUB" {
			return open, r.fault(i, st.at, "return outside a sub", "", "")
		}
		return open, nil
	case "GOTO", "IF", "THEN", "O CALL":
		return open, nil
	}
	if err := r.closes(i, st, open); err != nil {
		return open, err
	}
	open = r.shut(i, st, open)
	if st.word == "O ELSEIF" || st.word == "O ELSE" {
		open = append(open, opening{i, st})
	}
	return open, nil
}

// closes says why line i can't close what is open.
func (r *runner) closes(i int, st *step, open []opening) error {
	name := fmt.Sprintf("%s %d", st.word, st.number)
	if st.key != "" {
		name = fmt.Sprintf("O%s %s", st.key, strings.ToLower(st.word[2:]))
	}
	if len(open) == 0 {
		return r.fault(i, st.at, name+" without its beginning", "", "")
	}
	top := open[len(open)-1]
	if slices.Contains(closers[top.word], st.word) && top.key == st.key && top.number == st.number {
		return nil
	}
	return r.fault(i, st.at, fmt.Sprintf("%s before %s of line %d is closed", name, strings.TrimPrefix(top.word, "O "), top.line+1), "loops inside one another", "")
}

// shut ties line i to the beginning that it closes.
func (r *runner) shut(i int, st *step, open []opening) []opening {
	top := open[len(open)-1]
	st.to, top.to = top.line, i
	r.spans = append(r.spans, span{top.line, i})
	return open[:len(open)-1]
}
