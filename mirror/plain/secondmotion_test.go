package plain

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

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
		return r.enter(sub(), at+1, times, given())
	case c["G66"]:
		r.modal, r.given = fmt.Sprint(sub()), given()
		return at + 1
	case c["G67"]:
		r.modal = ""
	case c["M97"]:
		return r.enter(r.label(0, w['P']), at+1, times, nil)
	}
	n := len(r.out)
	r.motion(w, c)
	switch {
	case c["M98"]:
		to := sub()
		return r.enter(to, at+1, times, nil)
	case c["M99"]:
		return r.leave()
	case c["M30"], c["M2"]:
		return -1
	case r.modal != "" && len(r.out) > n && len(r.stack) == 0:
		to, _ := strconv.Atoi(r.modal)
		return r.enter(to, at+1, 1, r.given)
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
