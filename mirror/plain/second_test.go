package plain

import (
	"fmt"
	"math"
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
	words          bool
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

// value reads an expression: comparisons last, then + -, * / MOD, **, and values.
type reader2 struct {
	s   string
	at  int
	run *second
}

func (e *reader2) peek(words ...string) string {
	for e.at < len(e.s) && e.s[e.at] == ' ' {
		e.at++
	}
	for _, w := range words {
		if strings.HasPrefix(e.s[e.at:], w) {
			return w
		}
	}
	return ""
}

func (e *reader2) take(words ...string) string {
	w := e.peek(words...)
	e.at += len(w)
	return w
}

func (e *reader2) all() float64 {
	v := e.compared()
	for w := e.take("AND", "XOR", "OR"); w != ""; w = e.take("AND", "XOR", "OR") {
		a, b := v != 0, e.compared() != 0
		v = truth2(w == "AND" && a && b || w == "OR" && (a || b) || w == "XOR" && a != b)
	}
	return v
}

func truth2(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func (e *reader2) compared() float64 {
	v := e.sum()
	switch w := e.take("EQ", "NE", "GE", "GT", "LE", "LT"); w {
	case "":
		return v
	default:
		b := e.sum()
		d := v - b
		if math.Abs(d) < 1e-9 || math.IsNaN(v) && math.IsNaN(b) {
			d = 0
		}
		return truth2(w == "EQ" && d == 0 || w == "NE" && d != 0 || w == "GE" && d >= 0 || w == "GT" && d > 0 || w == "LE" && d <= 0 || w == "LT" && d < 0)
	}
}

func (e *reader2) sum() float64 {
	v := e.product()
	for {
		switch e.take("+", "-") {
		case "+":
			v += e.product()
		case "-":
			v -= e.product()
		default:
			return v
		}
	}
}

func (e *reader2) product() float64 {
	v := e.value()
	for {
		switch e.take("**", "*", "/", "MOD") {
		case "**":
			v = math.Pow(v, e.value())
		case "*":
			v *= e.value()
		case "/":
			v /= e.value()
		case "MOD":
			b := e.value()
			v -= b * math.Floor(v/b+1e-12)
		default:
			return v
		}
	}
}

var number2 = regexp.MustCompile(`^[0-9]*\.?[0-9]*`)

func (e *reader2) value() float64 {
	switch w := e.take("-", "+", "[", "#", "SIN", "COS", "TAN", "ATAN", "ASIN", "ACOS", "SQRT", "ABS", "ROUND", "FIX", "FUP"); w {
	case "-":
		return -e.value()
	case "+":
		return e.value()
	case "[":
		v := e.all()
		if e.take("]") == "" {
			panic("no ] in " + e.s)
		}
		return v
	case "#":
		v, ok := e.run.vars[e.name()]
		if !ok {
			return math.NaN()
		}
		return v
	case "":
		n := number2.FindString(e.s[e.at:])
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			panic(fmt.Sprintf("%q at %d: %v", e.s, e.at, err))
		}
		e.at += len(n)
		return v
	default:
		return e.function(w, e.value())
	}
}

func (e *reader2) function(name string, v float64) float64 {
	const degree = math.Pi / 180
	switch name {
	case "SIN":
		return math.Sin(v * degree)
	case "COS":
		return math.Cos(v * degree)
	case "TAN":
		return math.Tan(v * degree)
	case "ASIN":
		return math.Asin(v) / degree
	case "ACOS":
		return math.Acos(v) / degree
	case "ATAN":
		if e.take("/") == "" {
			return math.Atan(v) / degree
		}
		return math.Atan2(v, e.value()) / degree
	case "SQRT":
		return math.Sqrt(v)
	case "ABS":
		return math.Abs(v)
	case "ROUND":
		return math.Round(v)
	case "FIX":
		return math.Floor(v + 1e-12)
	}
	return math.Ceil(v - 1e-12)
}

// name gives what stands behind #: a name in < >, or a number, perhaps worked out.
func (e *reader2) name() string {
	e.peek()
	if e.s[e.at] == '<' {
		end := strings.IndexByte(e.s[e.at:], '>') + e.at
		n := strings.ReplaceAll(e.s[e.at:end+1], " ", "")
		e.at = end + 1
		return n
	}
	return fmt.Sprint(int(math.Round(e.value())))
}

func (r *second) eval(s string) (v float64, rest string) {
	e := &reader2{s: s, run: r}
	v = e.all()
	return v, s[e.at:]
}

// text2 takes comments, block delete and block numbers off.
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

func (r *second) enter(at, back, times int, given map[string]float64, words bool) int {
	c := call2{at: at, back: back, left: times, words: words}
	if given != nil {
		c.locals = map[string]float64{}
		for k, v := range r.vars {
			if n, err := strconv.Atoi(k); err == nil && n <= 33 || err != nil && !strings.HasPrefix(k, "<_") {
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
			if n, err := strconv.Atoi(k); err == nil && n <= 33 || err != nil && !strings.HasPrefix(k, "<_") {
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
		return r.enter(r.find(0, is("SUB"))+1, at+1, 1, given, true)
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

var arguments2 = map[byte]string{'A': "1", 'B': "2", 'C': "3", 'I': "4", 'J': "5", 'K': "6", 'D': "7", 'E': "8", 'F': "9", 'H': "11", 'M': "13", 'Q': "17",
	'R': "18", 'S': "19", 'T': "20", 'U': "21", 'V': "22", 'W': "23", 'X': "24", 'Y': "25", 'Z': "26"}

// block runs a block of words.
func (r *second) block(at int, l string) int {
	if l == "" || l[0] == '%' || l[0] == 'O' || strings.HasPrefix(l, "DPRNT") || l == "POPEN" || l == "PCLOS" {
		return at + 1
	}
	w, codes := map[byte]float64{}, map[string]bool{}
	type set struct {
		name string
		v    float64
	}
	var sets []set
	for l = strings.TrimSpace(l); l != ""; l = strings.TrimSpace(l) {
		e := &reader2{s: l, at: 1, run: r}
		if l[0] == '#' {
			name := e.name()
			e.take("=")
			sets = append(sets, set{name, e.sum()})
			l = l[e.at:]
			continue
		}
		v := e.sum()
		if math.IsNaN(v) {
			l = l[e.at:] // an argument that wasn't given
			continue
		}
		if l[0] == 'G' || l[0] == 'M' {
			codes[fmt.Sprintf("%c%g", l[0], v)] = true
		} else {
			w[l[0]] = v
		}
		l = l[e.at:]
	}
	next := r.codes(at, w, codes)
	for _, s := range sets {
		if math.IsNaN(s.v) {
			delete(r.vars, s.name)
		} else {
			r.vars[s.name] = s.v
		}
	}
	return next
}

// codes does what a block's codes and words say.
func (r *second) codes(at int, w map[byte]float64, c map[string]bool) int {
	times := 1
	if l, ok := w['L']; ok {
		times = int(l)
	}
	sub := func() int {
		p := int(w['P'])
		if len(fmt.Sprint(p)) > 4 {
			p, times = p%10000, p/10000
		}
		return r.find(0, func(l string) bool {
			m := program2.FindStringSubmatch(l)
			return m != nil && strings.TrimLeft(m[1], "0") == fmt.Sprint(p)
		}) + 1
	}
	given := func() map[string]float64 {
		g := map[string]float64{}
		for k, v := range w {
			if k != 'P' && k != 'L' {
				g[arguments2[k]] = v
			}
		}
		return g
	}
	switch {
	case c["G65"]:
		return r.enter(sub(), at+1, times, given(), false)
	case c["G66"]:
		r.modal, r.given = fmt.Sprint(sub()), given()
		return at + 1
	case c["G67"]:
		r.modal = ""
	case c["M97"]:
		return r.enter(r.label(0, w['P']), at+1, times, nil, false)
	}
	n := len(r.out)
	r.motion(w, c)
	switch {
	case c["M98"]:
		to := sub()
		return r.enter(to, at+1, times, nil, false)
	case c["M99"]:
		return r.leave()
	case c["M30"], c["M2"]:
		return -1
	case r.modal != "" && len(r.out) > n && len(r.stack) == 0:
		to, _ := strconv.Atoi(r.modal)
		return r.enter(to, at+1, 1, r.given, false)
	}
	return at + 1
}

// motion moves.
func (r *second) motion(w map[byte]float64, c map[string]bool) {
	for letter, into := range map[byte]*float64{'F': &r.feed, 'S': &r.s, 'T': &r.tool} {
		if v, ok := w[letter]; ok {
			*into = v
		}
	}
	r.inc = (r.inc || c["G91"]) && !c["G90"]
	r.toR = (r.toR || c["G99"]) && !c["G98"]
	for _, p := range []string{"G17", "G18", "G19"} {
		if c[p] {
			r.plane = p
		}
	}
	r.isPolar = (r.isPolar || c["G16"]) && !c["G15"]
	switch {
	case c["G80"]:
		r.mode = ""
	}
	for _, m := range []string{"G0", "G1", "G2", "G3", "G81", "G82", "G83", "G84", "G85"} {
		if c[m] {
			if len(m) > 2 && (r.mode == "" || len(r.mode) < 3) {
				r.initial = r.pos[2]
			}
			r.mode = m
		}
	}
	x, isX := w['X']
	y, isY := w['Y']
	z, isZ := w['Z']
	switch {
	case c["G4"], c["G28"], c["G53"]:
		return
	case c["G52"]:
		r.pos[0], r.pos[1] = r.pos[0]+r.g52[0]-x, r.pos[1]+r.g52[1]-y
		r.g52 = [2]float64{x, y}
		return
	case c["G92"]:
		for i, v := range [3]float64{x, y, z} {
			if [3]bool{isX, isY, isZ}[i] {
				r.g92[i], r.pos[i] = r.g92[i]+r.pos[i]-v, v
			}
		}
		return
	case c["G92.1"]:
		for i := range 3 {
			r.pos[i], r.g92[i] = r.pos[i]+r.g92[i], 0
		}
		return
	case c["G68"]:
		r.turn, r.about = w['R'], [2]float64{x, y}
		return
	case c["G69"]:
		p := r.placed(r.pos)
		r.turn = 0
		r.pos = [3]float64{p[0] - r.g52[0] - r.g92[0], p[1] - r.g52[1] - r.g92[1], r.pos[2]}
		return
	case c["G51"]:
		r.scale, r.fixed = w['P'], [3]float64{x, y, z}
		return
	case c["G50"]:
		r.scale = 1
	}
	_, isI := w['I']
	_, isJ := w['J']
	_, isR := w['R']
	if !isX && !isY && !isZ && !((r.mode == "G2" || r.mode == "G3") && (isI || isJ || isR)) {
		return
	}
	if len(r.mode) > 2 {
		r.holes(w)
		return
	}
	to := r.target(w)
	m := made{kind: r.mode, feed: r.feed, tool: r.tool, s: r.s}
	if r.mode == "G2" || r.mode == "G3" {
		m.centre = r.centre(to, w)
	}
	r.pos = to
	m.to = r.placed(to)
	r.out = append(r.out, m)
}

// target gives where a block's X, Y and Z lead.
func (r *second) target(w map[byte]float64) (to [3]float64) {
	to = r.pos
	if r.isPolar {
		for i, letter := range []byte("XY") {
			if v, ok := w[letter]; ok {
				if r.inc && i == 1 {
					v += r.polar[1]
				}
				r.polar[i] = v
			}
		}
		sin, cos := math.Sincos(r.polar[1] * math.Pi / 180)
		to[0], to[1] = r.polar[0]*cos, r.polar[0]*sin
	}
	for i, letter := range []byte("XYZ") {
		v, ok := w[letter]
		switch {
		case !ok || i < 2 && r.isPolar || i == 2 && len(r.mode) > 2:
		case r.inc:
			to[i] += v * r.scale
		default:
			to[i] = r.fixed[i] + (v-r.fixed[i])*r.scale
			if r.scale == 1 {
				to[i] = v
			}
		}
	}
	return to
}

// placed gives a place in the work offset: turned, then shifted.
func (r *second) placed(p [3]float64) [3]float64 {
	sin, cos := math.Sincos(r.turn * math.Pi / 180)
	x, y := p[0]-r.about[0], p[1]-r.about[1]
	if r.turn != 0 {
		p[0], p[1] = r.about[0]+x*cos-y*sin, r.about[1]+x*sin+y*cos
	}
	return [3]float64{p[0] + r.g52[0] + r.g92[0], p[1] + r.g52[1] + r.g92[1], p[2] + r.g92[2]}
}

// centre gives an arc's centre, placed, along the axes of its plane.
func (r *second) centre(to [3]float64, w map[byte]float64) [2]float64 {
	a, b, i, j := 0, 1, byte('I'), byte('J')
	if r.plane == "G18" {
		a, b, i, j = 2, 0, 'K', 'I'
	}
	c := r.pos
	if radius, ok := w['R']; ok {
		radius *= r.scale
		dx, dy := (to[a]-r.pos[a])/2, (to[b]-r.pos[b])/2
		half := math.Hypot(dx, dy)
		h := math.Sqrt(math.Max(0, radius*radius-half*half))
		if (r.mode == "G3") != (radius < 0) {
			h = -h
		}
		c[a], c[b] = r.pos[a]+dx+dy/half*h, r.pos[b]+dy-dx/half*h
	} else {
		c[a] += w[i] * r.scale
		c[b] += w[j] * r.scale
	}
	p := r.placed(c)
	return [2]float64{p[a], p[b]}
}

// holes drills: levels count as they were given.
func (r *second) holes(w map[byte]float64) {
	level := func(v, from float64) float64 {
		if r.inc {
			return from + v*r.scale
		}
		return r.fixed[2] + (v-r.fixed[2])*r.scale
	}
	if v, ok := w['R']; ok {
		r.r = level(v, r.pos[2])
	}
	if v, ok := w['Z']; ok {
		r.z = level(v, r.r)
	}
	times := 1
	if l, ok := w['L']; ok {
		times = int(l)
	}
	if k, ok := w['K']; ok {
		times = int(k)
	}
	for range times {
		r.pos = r.target(w)
		p := r.placed([3]float64{r.pos[0], r.pos[1], r.z})
		r.out = append(r.out, made{kind: r.mode, to: p, level: r.r + r.g92[2], feed: r.feed, tool: r.tool, s: r.s})
		if r.pos[2] = math.Max(r.initial, r.r); r.toR {
			r.pos[2] = r.r
		}
	}
}
