// Package trace follows a program as NISTIR 6556 has it, in floating point, for tests: a
// reading of its own that shares no code with the control. Positions are those of the spindle
// in machine coordinates, mm; what isn't known is NaN. From memory, as common practice: G95 is
// a feed for each turn, G28 and G30 take home the axes that they name, G90.1 makes centres
// absolute, G73 is a cycle as G83 is, G52 shifts the zero, G68 turns the program about X Y by
// R, and the return of G98 is the height where the first of a row of cycles began.
package trace

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Options say how a program is read.
type Options struct {
	Inch, Absolute, Skip bool                  // at its start; Absolute centres; block delete on
	Zeros                map[string][3]float64 // of work offsets, mm; 0 where they aren't named
	Lengths              map[int]float64       // of tools, by H, mm; 0 where they aren't named
}

// State is what is in force at a step.
type State struct {
	Tool, H, D, Spindle, Comp, Mode, Plane int // Spindle 1 is M3, -1 M4; Mode 93 to 95
	Speed, Feed                            float64
	Mist, Flood                            bool
	Offset, Way                            string // Way is the path mode
}

// Step is a move, a hole, a stop, a change of tools or a dwell.
type Step struct {
	Line int
	Code string // such as G0, G53, G28, G83, M0, M6, G4
	// Path is where the tool's tip goes, in its work offset: 9 places of a straight move or of
	// an arc; of a hole its R level, its bottom and its return.
	Path    [][3]float64
	Machine [2][3]float64 // ends of the move, of the spindle
	Named   [3]bool       // the axes that its block gives
	Home    [3]bool       // those that G28 and G30 take home
	Words   string        // of a hole or a dwell: P, Q, I, J, K
	State
}

// Cuts says that the step moves at feed.
func (s *Step) Cuts() bool {
	return s.Code == "G1" || s.Code == "G2" || s.Code == "G3" || len(s.Code) == 3 && s.Code[:2] == "G8" || s.Code == "G73"
}

// Same says whether two steps do the same, as far as the first is known: Path within bound.
func (s *Step) Same(t *Step, bound float64) bool {
	v, w := s.State, t.State
	v.Offset, w.Offset = "", ""
	if v.Way == "" {
		w.Way = ""
	}
	if v.Spindle == 0 {
		v.Speed, w.Speed = 0, 0
	}
	if v != w || s.Code != t.Code || s.Words != t.Words || len(s.Path) != len(t.Path) {
		return false
	}
	for i := range s.Path {
		for a := range 3 {
			if d := math.Abs(s.Path[i][a] - t.Path[i][a]); d > bound || math.IsNaN(d) && !math.IsNaN(s.Path[i][a]) {
				return false
			}
		}
	}
	return true
}

func (s *Step) String() string {
	out := fmt.Sprintf("line %d %s", s.Line, s.Code)
	for _, p := range s.Path {
		out += fmt.Sprintf(" %.4g,%.4g,%.4g", p[0], p[1], p[2])
	}
	return fmt.Sprintf("%s %s %+v", out, s.Words, s.State)
}

type control struct {
	o        Options
	s        State
	at       [3]float64 // of the spindle
	next     int        // tool that M6 takes
	unit     float64    // mm
	inc, abs bool
	motion   float64
	toR      bool
	initial  float64
	kept     map[byte]float64 // words of the running cycle, levels as places of the tip
	steps    []Step
	line     int
	done     bool

	local, g92, stored [3]float64 // G52, G92 and what G92.2 put aside
	turn               float64    // of G68, degrees
	about              [2]float64
}

var (
	remark = regexp.MustCompile(`\([^)]*\)|;.*|\s`)
	word   = regexp.MustCompile(`([A-Z])([-+]?[0-9.]+)`)
)

// Run gives the steps of a program.
func Run(text string, o Options) []Step {
	nan := math.NaN()
	c := &control{o: o, at: [3]float64{nan, nan, nan}, unit: 1, motion: -1, abs: o.Absolute, kept: map[byte]float64{}, initial: nan}
	c.s = State{Tool: -1, Comp: 40, Mode: 94, Plane: 17, Offset: "G54"}
	if o.Inch {
		c.unit = 25.4
	}
	for i, l := range strings.Split(text, "\n") {
		l = strings.ToUpper(remark.ReplaceAllString(l, ""))
		if l == "" || l[0] == '%' || c.done {
			continue
		}
		if l[0] == '/' {
			if o.Skip {
				continue
			}
			l = strings.TrimLeft(l[1:], "0123456789")
		}
		c.line = i + 1
		w, g, m := map[byte]float64{}, []float64{}, []float64{}
		for _, f := range word.FindAllStringSubmatch(l, -1) {
			v, err := strconv.ParseFloat(f[2], 64)
			if err != nil {
				panic(fmt.Sprintf("line %d: %q", i+1, l))
			}
			switch f[1] {
			case "G":
				g = append(g, v)
			case "M":
				m = append(m, v)
			default:
				w[f[1][0]] = v
			}
		}
		c.block(w, g, m)
	}
	return c.steps
}

// tip is where the tip is in the work offset.
func (c *control) tip(p [3]float64) [3]float64 {
	zero := c.o.Zeros[c.s.Offset]
	for a := range 3 {
		p[a] -= zero[a]
	}
	p[2] -= c.o.Lengths[c.s.H]
	return p
}

// spindle is tip's reverse.
func (c *control) spindle(p [3]float64) [3]float64 {
	zero := c.o.Zeros[c.s.Offset]
	for a := range 3 {
		p[a] += zero[a]
	}
	p[2] += c.o.Lengths[c.s.H]
	return p
}

// place carries a place of the program into the work offset: turned, then shifted.
func (c *control) place(p [3]float64) [3]float64 {
	if c.turn != 0 {
		sin, cos := math.Sincos(c.turn * math.Pi / 180)
		x, y := p[0]-c.about[0], p[1]-c.about[1]
		p[0], p[1] = c.about[0]+x*cos-y*sin, c.about[1]+x*sin+y*cos
	}
	for a := range 3 {
		p[a] += c.local[a] + c.g92[a]
	}
	return p
}

// program is place's reverse.
func (c *control) program(p [3]float64) [3]float64 {
	for a := range 3 {
		p[a] -= c.local[a] + c.g92[a]
	}
	if c.turn != 0 {
		sin, cos := math.Sincos(c.turn * math.Pi / 180)
		x, y := p[0]-c.about[0], p[1]-c.about[1]
		p[0], p[1] = c.about[0]+x*cos+y*sin, c.about[1]-x*sin+y*cos
	}
	return p
}

// shift sets or ends a zero or a turn of the program; ok says that the block did.
func (c *control) shift(w map[byte]float64, g []float64) (ok bool) {
	for _, v := range g {
		switch v {
		case 52:
			for a, letter := range []byte("XYZ") {
				if v, ok := w[letter]; ok {
					c.local[a] = v * c.unit
				}
			}
		case 92:
			at := c.tip(c.at)
			for a, letter := range []byte("XYZ") {
				if v, ok := w[letter]; ok {
					c.g92[a] = at[a] - c.local[a] - v*c.unit
				}
			}
			c.stored = c.g92
		case 92.1:
			c.g92, c.stored = [3]float64{}, [3]float64{}
		case 92.2:
			c.g92 = [3]float64{}
		case 92.3:
			c.g92 = c.stored
		case 68:
			c.turn, c.about = w['R'], [2]float64{w['X'] * c.unit, w['Y'] * c.unit}
		case 69:
			c.turn = 0
			continue
		default:
			continue
		}
		ok = true
	}
	return ok
}

func (c *control) step(s Step) {
	s.Line, s.State = c.line, c.s
	if s.Comp == 40 {
		s.D = 0
	}
	c.steps = append(c.steps, s)
}

// block runs a block in the order of table 8.
func (c *control) block(w map[byte]float64, g, m []float64) {
	has := func(list []float64, v float64) bool { return slices.Contains(list, v) }
	for i := 93; i <= 95; i++ {
		if has(g, float64(i)) {
			c.s.Mode, c.s.Feed = i, math.NaN() // F means another thing now
		}
	}
	switch {
	case has(g, 20):
		c.unit = 25.4
	case has(g, 21):
		c.unit = 1
	}
	if f, ok := w['F']; ok {
		if c.s.Feed = f; c.s.Mode != 93 {
			c.s.Feed *= c.unit
		}
	}
	if v, ok := w['S']; ok {
		c.s.Speed = v
	}
	if v, ok := w['T']; ok {
		c.next = int(v)
	}
	if has(m, 6) {
		c.step(Step{Code: "M6"}) // what ran until then
		c.s.Tool, c.s.Spindle = c.next, 0
	}
	for i, turn := range []int{1, -1, 0} {
		if has(m, float64(3+i)) {
			c.s.Spindle = turn
		}
	}
	c.s.Mist, c.s.Flood = (c.s.Mist || has(m, 7)) && !has(m, 9), (c.s.Flood || has(m, 8)) && !has(m, 9)
	if has(g, 4) {
		c.step(Step{Code: "G4", Words: fmt.Sprint(w['P'], w['X'])})
		delete(w, 'X')
		delete(w, 'P')
	}
	for i := 17; i <= 19; i++ {
		if has(g, float64(i)) {
			c.s.Plane = i
		}
	}
	for i := 40; i <= 42; i++ {
		if has(g, float64(i)) {
			c.s.Comp = i
		}
	}
	if d, ok := w['D']; ok {
		c.s.D = int(d)
	}
	switch {
	case has(g, 43):
		c.s.H = int(w['H'])
	case has(g, 49):
		c.s.H = 0
	}
	for _, v := range g {
		switch {
		case v >= 54 && v < 60:
			c.s.Offset = fmt.Sprint("G", v)
		case v >= 61 && v <= 64:
			if c.s.Way = fmt.Sprint("G", v); w['P'] != 0 {
				c.s.Way += fmt.Sprint(" P", w['P']*c.unit)
			}
		}
	}
	c.inc = (c.inc || has(g, 91)) && !has(g, 90)
	c.abs = (c.abs || has(g, 90.1)) && !has(g, 91.1)
	c.toR = (c.toR || has(g, 99)) && !has(g, 98)
	if !c.shift(w, g) {
		c.move(w, g)
	}
	for _, code := range m {
		switch code {
		case 0, 1, 60:
			c.step(Step{Code: fmt.Sprint("M", code)})
		case 2, 30:
			c.done = true
		}
	}
}

func isCycle(v float64) bool { return v == 73 || v > 80 && v < 90 }

// move runs the block's motion.
func (c *control) move(w map[byte]float64, g []float64) {
	once := 0.0
	for _, v := range g {
		switch {
		case v == 28 || v == 30 || v == 53:
			once = v
		case v >= 0 && v <= 3 || v == 80 || isCycle(v):
			if isCycle(v) && !isCycle(c.motion) {
				c.initial = math.NaN()
				clear(c.kept)
				_, _, n := c.axes()
				c.initial = c.program(c.tip(c.at))[n]
			}
			if c.motion != v && isCycle(v) {
				clear(c.kept)
			}
			c.motion = v
		}
	}
	from := c.program(c.tip(c.at))
	to, named := from, [3]bool{}
	for a, letter := range []byte("XYZ") {
		if v, ok := w[letter]; ok {
			if named[a] = true; c.inc {
				to[a] += v * c.unit
			} else {
				to[a] = v * c.unit
			}
		}
	}
	any := named[0] || named[1] || named[2]
	defer func(n int) {
		for i := range c.steps[n:] {
			c.steps[n+i].Named = named
		}
	}(len(c.steps))
	switch {
	case once == 28 || once == 30:
		c.to(fmt.Sprint("G", once), c.spindle(c.place(to)), nil)
		for a := range 3 {
			if named[a] || !any {
				c.steps[len(c.steps)-1].Home[a], c.at[a] = true, math.NaN()
			}
		}
	case once == 53:
		p := c.at
		for a, letter := range []byte("XYZ") {
			if v, ok := w[letter]; ok {
				p[a] = v * c.unit
			}
		}
		c.to("G53", p, nil)
	case isCycle(c.motion):
		if any {
			c.holes(w, named)
		}
	case c.motion == 2 || c.motion == 3:
		_, i := w['I']
		_, j := w['J']
		_, k := w['K']
		if any || i || j || k {
			c.arc(w, from, to)
		}
	case any:
		c.to(fmt.Sprint("G", max(c.motion, 0)), c.spindle(c.place(to)), nil)
	}
}

// to goes straight to a place, or along a path of the tip.
func (c *control) to(code string, p [3]float64, path [][3]float64) {
	s := Step{Code: code, Machine: [2][3]float64{c.at, p}, Path: path}
	if path == nil {
		a, b := c.tip(c.at), c.tip(p)
		for i := range 9 {
			var v [3]float64
			for k := range 3 {
				if v[k] = a[k] + (b[k]-a[k])*float64(i)/8; i == 8 {
					v[k] = b[k]
				}
			}
			s.Path = append(s.Path, v)
		}
	}
	c.at = p
	c.step(s)
}

// axes are those of the plane, counter-clockwise, and its normal (3.5.3).
func (c *control) axes() (first, second, normal int) {
	return [3]int{0, 2, 1}[c.s.Plane-17], [3]int{1, 0, 2}[c.s.Plane-17], [3]int{2, 1, 0}[c.s.Plane-17]
}

// arc goes round.
func (c *control) arc(w map[byte]float64, from, to [3]float64) {
	a, b, n := c.axes()
	sense := 2*c.motion - 5 // 1 is counter-clockwise
	var centre [2]float64
	if r, ok := w['R']; ok {
		r *= c.unit
		dx, dy := (to[a]-from[a])/2, (to[b]-from[b])/2
		half := math.Hypot(dx, dy)
		h := sense * math.Sqrt(math.Max(0, r*r-half*half)) * math.Copysign(1, r)
		centre = [2]float64{from[a] + dx - dy/half*h, from[b] + dy + dx/half*h}
	} else {
		for k, axis := range [2]int{a, b} {
			if centre[k] = w["IJK"[axis]] * c.unit; !c.abs {
				centre[k] += from[axis]
			}
		}
	}
	start := math.Atan2(from[b]-centre[1], from[a]-centre[0])
	sweep := sense * (math.Atan2(to[b]-centre[1], to[a]-centre[0]) - start)
	for sweep < 1e-7 {
		sweep += 2 * math.Pi
	}
	if p := w['P']; p > 1 {
		sweep += 2 * math.Pi * (p - 1)
	}
	r := math.Hypot(from[a]-centre[0], from[b]-centre[1])
	var path [][3]float64
	for i := range 9 {
		t := float64(i) / 8
		var v [3]float64
		sin, cos := math.Sincos(start + sense*sweep*t)
		v[a], v[b], v[n] = centre[0]+r*cos, centre[1]+r*sin, from[n]+(to[n]-from[n])*t
		path = append(path, c.place(v))
	}
	c.to(fmt.Sprint("G", c.motion), c.spindle(c.place(to)), path)
}

// holes drills L holes.
func (c *control) holes(w map[byte]float64, named [3]bool) {
	a, b, n := c.axes()
	at := c.program(c.tip(c.at))
	level := func(letter byte, from float64) {
		if v, ok := w[letter]; ok {
			if v *= c.unit; c.inc {
				v += from
			}
			c.kept[letter] = v
		}
	}
	level('R', at[n])
	level("XYZ"[n], c.kept['R'])
	for _, letter := range []byte("PQIJK") {
		if v, ok := w[letter]; ok {
			if c.kept[letter] = v; letter != 'P' {
				c.kept[letter] *= c.unit
			}
		}
	}
	times := 1
	if l, ok := w['L']; ok {
		times = int(l)
	}
	for range times {
		for _, axis := range [2]int{a, b} {
			if v, ok := w["XYZ"[axis]]; ok {
				if v *= c.unit; c.inc {
					v += at[axis]
				}
				at[axis] = v
			}
		}
		var path [3][3]float64
		path[0], path[1], path[2] = at, at, at
		path[0][n], path[1][n], path[2][n] = c.kept['R'], c.kept["XYZ"[n]], c.kept['R']
		if !c.toR {
			path[2][n] = max(c.initial, c.kept['R'])
		}
		at = path[2]
		end := c.spindle(c.place(at))
		for i := range path {
			path[i] = c.place(path[i])
		}
		s := Step{Code: fmt.Sprint("G", c.motion), Path: path[:], Machine: [2][3]float64{c.at, end}}
		for _, letter := range []byte("PQIJK") {
			if v, ok := c.kept[letter]; ok && !(letter == 'P' && c.motion == 81) {
				s.Words += fmt.Sprintf("%c%.4g ", letter, v)
			}
		}
		c.step(s)
		c.at = end
	}
}
