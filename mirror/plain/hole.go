package plain

import (
	"fmt"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// holes writes a canned cycle, one block a hole.
func (l *lineOf) holes() error {
	of := &l.moves[len(l.moves)-1] // the control may be back at its start, after M2
	if len(l.e.Holes) == 0 {       // L0 goes there and drills nothing
		return l.move(&l.moves[0])
	}
	if _, _, normal := of.State.Plane.Axes(); l.e.Carried != "" && l.e.Was[normal] != motion.Known {
		return refuse(l.b, 'G', l.e.Carried, "", "controls differ on what they mean there: repeat R and the depth in this block")
	}
	if l.e.Carried != "" {
		l.note(l.b, l.e.Carried+": taken as they were given, controls differ")
	}
	if l.cycle == of.Cycle && l.drilled != of.State.Unit {
		return refuse(l.b, 'G', "other units while a cycle runs", "G80 first", "")
	}
	l.writer.cycle, l.writer.drilled = of.Cycle, of.State.Unit
	first := 0 // which may go up to R
	for k := range l.e.Holes {
		end := len(l.moves)
		if k+1 < len(l.e.Holes) {
			end = l.e.Holes[k+1]
		}
		line, err := l.hole(&l.moves[first], &l.moves[end-1])
		first = end
		if err != nil {
			return err
		}
		l.report.Moves++
		if k == 0 {
			l.moving = line
			continue
		}
		l.more = append(l.more, line)
	}
	return nil
}

// hole writes one hole, from its first move to its last. Where a place isn't known it is
// written by counts, in G91.
func (l *lineOf) hole(first, mv *motion.Move) ([]byte, error) {
	to, err := l.place(mv)
	if err != nil {
		return nil, err
	}
	q := step(l.report.Places[mv.State.Unit])
	for i := range 3 {
		l.known[i] = l.known[i] && first.FromOK[i]
	}
	h := &holeOf{lineOf: l, mv: mv, to: to}
	h.x, h.y, h.normal = mv.State.Plane.Axes()
	if err := h.levels(q); err != nil {
		return nil, err
	}
	h.counts = !l.e.Levelled && !l.e.NoLevel
	for _, i := range [2]int{h.x, h.y} {
		h.counts = h.counts || !mv.ToOK[i] && to[i] != l.at[i]
	}
	if err := h.possible(q); err != nil {
		return nil, err
	}
	line := h.head()
	if mv.Cycle == 870 {
		if line, err = h.aside(line, q); err != nil {
			return nil, err
		}
	}
	if l.e.Peck.Sign() > 0 {
		v, ok := l.e.Peck.Nano()
		if !ok || v == 0 {
			return nil, refuse(l.b, 'Q', fmt.Sprintf("Q%s in a cycle", l.e.Peck), "a peck that a drill can do", "")
		}
		line = append(number(append(line, 'Q'), v), ' ')
	}
	l.at, l.known = to, mv.ToOK
	return append(line, l.dwell...), nil
}

// holeOf is a hole of a cycle while it is written.
type holeOf struct {
	*lineOf
	mv            *motion.Move
	to            [3]int64
	x, y, normal  int   // axes of its plane
	depth, R, top int64 // its levels; top is the one that G87 bores up to
	counts        bool  // by counts, in G91
}

// levels rounds the levels of the hole.
func (h *holeOf) levels(q int64) error {
	for _, v := range []struct {
		n  motion.Num
		to *int64
	}{{h.e.Depth, &h.depth}, {h.e.Reached, &h.R}, {h.e.Top, &h.top}} {
		n := v.n
		if h.mv.Frame != nil {
			n = n.Add(h.mv.Frame.Shift[h.normal])
		}
		if !h.e.Levelled {
			n = n.Sub(h.base[h.normal])
		}
		var ok bool
		if *v.to, ok = rounded(n, q); !ok {
			return refuse(h.b, axisLetters[h.normal], "a depth that is too large", "a number that a machine can use", "")
		}
	}
	return nil
}

// possible says why the hole can't be written.
func (h *holeOf) possible(q int64) error {
	plane := h.mv.State.Plane
	switch {
	case h.counts && (h.at[0]%q != 0 || h.at[1]%q != 0 || h.at[2]%q != 0):
		return refuse(h.b, 'G', "a cycle after other units, at a place that isn't known", "X, Y and Z in G90 first", "")
	case h.turn.on && (h.mv.Cycle == 870 || plane != transform.XY):
		return h.turn.refuse(h.b, "G87, or a cycle outside G17", "its moves in G0 and G1")
	case h.mv.Cycle == 870 && h.mv.Rotated:
		return refuse(h.b, 'G', "G87 (back boring) under G68", "", "write its moves out in G0 and G1")
	case h.counts && (h.e.NoLevel || plane != transform.XY):
		return refuse(h.b, 'G', "a cycle at a place that isn't known", "X, Y, Z and R in G90 first", "")
	}
	return nil
}

// head writes the cycle, the hole's place, its depth and its R level.
func (h *holeOf) head() (line []byte) {
	depth, R := h.depth, h.R
	switch {
	case h.counts:
		line, h.back = append(line, "G91 "...), true
		depth, R = depth-R, R-h.at[h.normal]
	case h.back:
		line = append(line, "G90 "...)
	}
	line = fmt.Appendf(line, "G%d ", h.cycle/10)
	for _, i := range [2]int{h.x, h.y} {
		v := h.to[i]
		if h.counts {
			v -= h.at[i]
		} else if !h.mv.ToOK[i] {
			continue
		}
		line = append(number(append(line, axisLetters[i]), v), ' ')
	}
	line = append(number(append(line, axisLetters[h.normal]), depth), ' ')
	if !h.e.NoLevel {
		line = append(number(append(line, 'R'), R), ' ')
	}
	return line
}

// aside writes how far G87 stands aside as it goes down, and the level that it bores up to.
func (h *holeOf) aside(line []byte, q int64) ([]byte, error) {
	for k, i := range [2]int{h.x, h.y} {
		v, ok := rounded(h.e.Aside[k], q)
		if !ok {
			return nil, refuse(h.b, centreLetters[i], "a way aside that is too long", "a number that a machine can use", "")
		}
		line = append(number(append(line, centreLetters[i]), v), ' ')
	}
	top := h.top
	if h.counts {
		top -= h.depth
	}
	return append(number(append(line, centreLetters[h.normal]), top), ' '), nil
}
