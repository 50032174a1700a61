package cut

import "math"

// tabReach is how long a cutter's way may be from one place where it cuts through to
// the next, mm, to count as passing over a tab.
const tabReach = 40

// stretch is a part of a stroke's way, as shares of it as Stroke.along takes them.
type stretch struct {
	from, to float64
	alone    bool // its side goes through alone there
}

// flight is a way on which a cutter was lifted from one place that is cut through over to the
// next, straight on.
type flight struct {
	stroke
	alone bool // its side goes through alone at both ends
}

// follow finds the stretches of a side's kept strokes that belong to cuts meant to go
// through: those that lie on such islands (the passes down to it among them), and those
// over tabs, which lead from one island to another within tabReach without leaving the
// work; and the flights from one to another. The rest of such a line belongs to itself: what
// it cuts beyond the island is a cut like any other.
func (s *study) follow(side int) {
	r := s.runs[side]
	s.stretches[side], s.partly[side], s.flights[side] = nil, nil, nil
	if len(s.meant) == 0 {
		return
	}
	s.stretches[side] = make([][]stretch, len(r.kept))
	t := trail{study: s, side: side, length: math.Inf(1)}
	for n := range r.kept {
		t.stroke(n, &r.kept[n])
	}
	for n, list := range s.stretches[side] {
		if len(list) > 0 {
			mark(&s.partly[side], int(r.kept[n].line))
		}
	}
}

// trail is the way of a side's cutter while it is followed.
type trail struct {
	*study
	side   int
	open   []bit   // since the way left an island
	length float64 // of those, infinite where it left none
	alone  bool    // that island is cut by this side alone
	x, y   float64 // the end of the way so far
	ux, uy float64 // and its direction there
	lifted *flight // what led to the stroke that begins
}

// bit is a part of a kept stroke's way, in the sense in which it was cut.
type bit struct {
	stroke   int
	from, to float64
}

// on says whether a place is cut through as is meant, and by this side alone.
func (t *trail) on(x, y float64) (ok, alone bool) {
	l := t.islands.label(t.g.cellAt(x, y))
	if !t.meant[l] {
		return false, false
	}
	return true, t.patches[l].alone[t.side] || len(t.runs[1-t.side].kept) == 0
}

// belongs adds a bit to the stretches.
func (t *trail) belongs(p bit, alone bool) {
	a, b := min(p.from, p.to), max(p.from, p.to)
	list := t.stretches[t.side][p.stroke]
	if n := len(list); n > 0 && a <= list[n-1].to && b >= list[n-1].from && alone == list[n-1].alone {
		list[n-1].from, list[n-1].to = min(a, list[n-1].from), max(b, list[n-1].to)
		return
	}
	t.stretches[t.side][p.stroke] = append(list, stretch{a, b, alone})
}

// lose forgets the island that the way left.
func (t *trail) lose() { t.open, t.length = t.open[:0], math.Inf(1) }

// stroke follows kept stroke n.
func (t *trail) stroke(n int, k *stroke) {
	way := k.way()
	t.begin(k, way)
	steps := max(1, int(math.Ceil(way/t.pace(k))))
	for m := range steps + 1 {
		at, before := float64(m)/float64(steps), float64(max(0, m-1))/float64(steps)
		if k.kind == levelArc && k.cw {
			at, before = 1-at, 1-before
		}
		t.x, t.y = k.along(at)
		if m > 0 && !math.IsInf(t.length, 1) {
			t.open = append(t.open, bit{n, before, at})
			if t.length += way / float64(steps); t.length > tabReach {
				t.lose()
			}
		}
		if ok, alone := t.on(t.x, t.y); ok {
			for _, p := range t.open {
				t.belongs(p, t.alone && alone)
			}
			t.belongs(bit{n, at, at}, alone)
			t.open, t.length, t.alone = t.open[:0], 0, alone
		}
	}
}

// begin looks at how the way goes on to a stroke: from where it ended, or lifted.
func (t *trail) begin(k *stroke, way float64) {
	x, y := k.start()
	if d := math.Hypot(x-t.x, y-t.y); d > 1e-6 {
		t.lifted = nil
		if to, alone := t.on(x, y); t.length == 0 && d <= tabReach && to {
			over := newStraight(k.p, int(k.line), [3]float64{t.x, t.y}, [3]float64{x, y})
			if over.ux*t.ux+over.uy*t.uy >= ahead {
				t.lifted = &flight{over, t.alone && alone}
			}
		}
		t.ux, t.uy = 0, 0
		t.lose()
	}
	if way == 0 {
		return
	}
	// A lifted tab lies straight on from the way before it and to that after it.
	if x, y := k.heading(0); t.lifted != nil && t.lifted.ux*x+t.lifted.uy*y >= ahead {
		t.flights[t.side] = append(t.flights[t.side], *t.lifted)
	}
	t.lifted = nil
	t.ux, t.uy = k.heading(1)
}

// tabbed says whether a flight leads over a tab: another piece lies to its left than to its
// right.
func (s *study) tabbed(f *flight) bool {
	counts := s.pieces.large()
	x, y := f.along(0.5)
	return s.toward(x, y, -f.uy, f.ux, counts) != s.toward(x, y, f.uy, -f.ux, counts)
}

// toward gives the first piece that counts from a place in a direction, -1 for none.
func (s *study) toward(x, y, ux, uy float64, counts func(label int) bool) int {
	for d := 0.0; ; d += s.g.Cell {
		i, j := s.g.cellAt(x+ux*d, y+uy*d)
		if !s.g.inside(i, j) {
			return -1
		}
		if l := s.pieces.label(i, j); l >= 0 && counts(l) {
			return l
		}
	}
}

func mark(list *[]bool, n int) {
	if n >= len(*list) {
		*list = append(*list, make([]bool, n+1-len(*list))...)
	}
	(*list)[n] = true
}

// pace is how far apart the places are at which a stroke's way is held against the
// islands, mm: islands that the cutter makes are as wide as the cutter.
func (s *study) pace(k *stroke) float64 { return max(s.g.Cell, k.p.R/4) }

// beneath says whether the cut of a line that reaches (x, y) belongs there to a cut
// meant to go through, and to one that its side goes through alone.
func (s *study) beneath(side, line int, x, y float64) (ok, alone bool) {
	if line >= len(s.partly[side]) || !s.partly[side][line] {
		return false, false
	}
	kept := s.runs[side].kept
	for n := kept.from(line); n < len(kept) && int(kept[n].line) == line; n++ {
		if len(s.stretches[side][n]) == 0 {
			continue
		}
		k := &kept[n]
		if d, _, _ := k.near(x, y); d > k.p.R+s.g.Cell {
			continue
		}
		in, by := s.within(side, n, k.share(x, y))
		ok, alone = ok || in, alone || by
	}
	return ok, alone
}

// ahead is the cosine of the greatest angle (25 degrees) by which a way goes on aside from the
// one before.
const ahead = 0.906

// over gives the flight that led over a place, nil for none; one of a cut that its side goes
// through alone first.
func (s *study) over(side int, x, y float64) (found *flight) {
	for i := range s.flights[side] {
		f := &s.flights[side][i]
		if d, _, _ := f.near(x, y); d <= f.p.R+s.g.Cell && (found == nil || f.alone) {
			found = f
		}
	}
	return found
}

// within says whether a place on the way of kept stroke n belongs to a cut meant to go
// through, known to the pace, and to one that its side goes through alone.
func (s *study) within(side, n int, t float64) (ok, alone bool) {
	k := &s.runs[side].kept[n]
	slack := 1.0
	if way := k.way(); way > 0 {
		slack = s.pace(k) / way
	}
	for _, p := range s.stretches[side][n] {
		if t >= p.from-slack && t <= p.to+slack {
			ok, alone = true, alone || p.alone
		}
	}
	return ok, alone
}
