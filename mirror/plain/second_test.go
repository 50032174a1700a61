package plain

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A second evaluator: it runs a program as the handbooks have it, in floating point, with a
// reading of its own that shares no code with the control. It knows what the programs in
// testdata/shop.txtar use and panics on the rest. Flow and calls are common practice, from
// memory; expressions are those of NISTIR 6556, 3.3.

// made is one move, or one hole of a cycle, in the work offset.
type made struct {
	kind    string // G0 to G3, or the cycle
	to      [3]float64
	centre  [2]float64 // of an arc
	level   float64    // R of a hole
	feed    float64
	tool, s float64
}

type call2 struct {
	at, back, left int
	locals         map[string]float64
}

type second struct {
	lines   []string
	vars    map[string]float64
	stack   []call2
	counts  map[int]int
	out     []made
	pos     [3]float64 // in the program's own coordinates
	g52     [2]float64
	g92     [3]float64
	turn    float64
	about   [2]float64
	scale   float64
	fixed   [3]float64
	polar   [2]float64
	isPolar bool
	inc     bool
	mode    string
	feed    float64
	tool, s float64
	r, z    float64 // levels of the running cycle, as places
	toR     bool
	initial float64
	modal   string // G66
	given   map[string]float64
	plane   string
}

// comment2 and label2 are comments, and block delete and block numbers.
var (
	comment2 = regexp.MustCompile(`\([^)]*\)|;.*`)
	label2   = regexp.MustCompile(`^N *([0-9]+) *`)
)

func newSecond(text string) *second {
	r := &second{vars: map[string]float64{}, counts: map[int]int{}, scale: 1, plane: "G17"}
	for _, l := range strings.Split(text, "\n") {
		l = strings.ToUpper(strings.TrimSpace(comment2.ReplaceAllString(l, "")))
		r.lines = append(r.lines, strings.TrimPrefix(l, "/"))
	}
	return r
}

func (r *second) find(from int, match func(string) bool) int {
	for i := range r.lines {
		if at := (from + i) % len(r.lines); match(r.lines[at]) {
			return at
		}
	}
	panic("nothing to go to")
}

func (r *second) label(from int, n float64) int {
	return r.find(from, func(l string) bool {
		m := label2.FindStringSubmatch(l)
		return m != nil && strings.TrimLeft(m[1], "0") == fmt.Sprint(int(n))
	})
}

// own2 says that a parameter is a call's own: #1 to #33, and names without an underscore.
func own2(name string) bool {
	n, err := strconv.Atoi(name)
	return err == nil && n <= 33 || err != nil && !strings.HasPrefix(name, "<_")
}

func (r *second) enter(at, back, times int, given map[string]float64) int {
	c := call2{at: at, back: back, left: times}
	if given != nil {
		c.locals = map[string]float64{}
		for k, v := range r.vars {
			if own2(k) {
				c.locals[k] = v
				delete(r.vars, k)
			}
		}
		for k, v := range given {
			r.vars[k] = v
		}
	}
	r.stack = append(r.stack, c)
	return at
}

func (r *second) leave() int {
	c := &r.stack[len(r.stack)-1]
	if c.left--; c.left > 0 {
		return c.at
	}
	if c.locals != nil {
		for k := range r.vars {
			if own2(k) {
				delete(r.vars, k)
			}
		}
		for k, v := range c.locals {
			r.vars[k] = v
		}
	}
	back := c.back
	r.stack = r.stack[:len(r.stack)-1]
	return back
}

// run runs the whole program.
func (r *second) run() []made {
	for at, n := 0, 0; at >= 0 && at < len(r.lines); n++ {
		if n > 1_000_000 {
			panic("without end")
		}
		at = r.step(at)
	}
	return r.out
}

var (
	oword2 = regexp.MustCompile(`^O *(<[^>]*>|[0-9]+) *(SUB|ENDSUB|CALL|RETURN|IF|ELSEIF|ELSE|ENDIF|WHILE|ENDWHILE|DO|REPEAT|ENDREPEAT|BREAK|CONTINUE)\b(.*)`)
	while2 = regexp.MustCompile(`^WHILE *(\[.*\]) *DO *([0-9]+)$`)
	do2    = regexp.MustCompile(`^DO *([0-9]+)$`)
	end2   = regexp.MustCompile(`^END *([0-9]+)$`)
)

// step runs a line and gives the next, -1 at the end.
func (r *second) step(at int) int {
	l := label2.ReplaceAllString(r.lines[at], "")
	if m := oword2.FindStringSubmatch(l); m != nil {
		return r.word(at, m[1], m[2], m[3])
	}
	ends := func(n string) func(string) bool {
		return func(l string) bool {
			m := end2.FindStringSubmatch(label2.ReplaceAllString(l, ""))
			return m != nil && m[1] == n
		}
	}
	switch m := while2.FindStringSubmatch(l); {
	case m != nil:
		if v, _ := r.eval(m[1]); v == 0 {
			return r.find(at, ends(m[2])) + 1
		}
		return at + 1
	case do2.MatchString(l):
		return at + 1
	}
	if m := end2.FindStringSubmatch(l); m != nil {
		for i := at - 1; ; i-- {
			back := label2.ReplaceAllString(r.lines[i], "")
			if w := while2.FindStringSubmatch(back); w != nil && w[2] == m[1] {
				return i
			}
			if d := do2.FindStringSubmatch(back); d != nil && d[1] == m[1] {
				return i
			}
		}
	}
	if rest, ok := strings.CutPrefix(l, "IF"); ok {
		v, rest := r.eval(strings.TrimSpace(rest))
		if rest = strings.TrimSpace(rest); v == 0 {
			return at + 1
		}
		l = strings.TrimSpace(strings.TrimPrefix(rest, "THEN"))
	}
	if rest, ok := strings.CutPrefix(l, "GOTO"); ok {
		n, _ := r.eval(strings.TrimSpace(rest))
		return r.label(at, n)
	}
	return r.block(at, l)
}

// word runs a line of O words.
func (r *second) word(at int, key, word, rest string) int {
	is := func(words ...string) func(string) bool {
		return func(l string) bool {
			m := oword2.FindStringSubmatch(label2.ReplaceAllString(l, ""))
			if m == nil || strings.ReplaceAll(m[1], " ", "") != strings.ReplaceAll(key, " ", "") {
				return false
			}
			for _, w := range words {
				if m[2] == w {
					return true
				}
			}
			return false
		}
	}
	back := func(words ...string) int {
		for i := at - 1; i >= 0; i-- {
			if is(words...)(r.lines[i]) {
				return i
			}
		}
		return -1
	}
	truth := func() bool { v, _ := r.eval(strings.TrimSpace(rest)); return v != 0 }
	switch word {
	case "SUB":
		return r.find(at, is("ENDSUB")) + 1
	case "CALL":
		given := map[string]float64{}
		for k := 1; strings.TrimSpace(rest) != ""; k++ {
			given[fmt.Sprint(k)], rest = r.eval(strings.TrimSpace(rest))
		}
		return r.enter(r.find(0, is("SUB"))+1, at+1, 1, given)
	case "RETURN", "ENDSUB":
		return r.leave()
	case "IF":
		for !truth() {
			if at = r.find(at+1, is("ELSEIF", "ELSE", "ENDIF")); !is("ELSEIF")(r.lines[at]) {
				return at + 1
			}
			rest = oword2.FindStringSubmatch(r.lines[at])[3]
		}
	case "ELSEIF", "ELSE":
		return r.find(at, is("ENDIF")) + 1
	case "WHILE":
		if do := back("DO", "ENDWHILE"); do >= 0 && is("DO")(r.lines[do]) {
			if truth() {
				return do + 1
			}
		} else if !truth() {
			return r.find(at, is("ENDWHILE")) + 1
		}
	case "ENDWHILE":
		return back("WHILE")
	case "REPEAT":
		n, _ := r.eval(strings.TrimSpace(rest))
		if r.counts[at] = int(n); n < 1 {
			return r.find(at, is("ENDREPEAT")) + 1
		}
	case "ENDREPEAT":
		first := back("REPEAT")
		if r.counts[first]--; r.counts[first] > 0 {
			return first + 1
		}
	case "BREAK":
		return r.find(at, is("ENDWHILE", "ENDREPEAT")) + 1
	case "CONTINUE":
		return r.find(at, is("ENDWHILE", "ENDREPEAT"))
	}
	return at + 1
}

var program2 = regexp.MustCompile(`^O *([0-9]+)( [^A-Z].*)?$`)
