package cut

import "math"

// reach is how far a program goes on each axis, in its own coordinates and, for
// G53 moves, in machine coordinates.
type reach struct {
	lo, hi         [2][3]float64 // work, machine
	loLine, hiLine [2][3]int
}

func (r *reach) start() {
	for k := range 2 {
		for i := range 3 {
			r.lo[k][i], r.hi[k][i] = math.Inf(1), math.Inf(-1)
		}
	}
}

func (r *reach) widen(k, i int, lo, hi float64, line int) {
	if lo < r.lo[k][i] {
		r.lo[k][i], r.loLine[k][i] = lo, line
	}
	if hi > r.hi[k][i] {
		r.hi[k][i], r.hiLine[k][i] = hi, line
	}
}

// work takes a move in work coordinates.
func (r *reach) work(s *Segment) {
	if !s.Arc && s.ToOK == known {
		// The start is the end of the move before.
		for i := range 3 {
			r.widen(0, i, s.To[i], s.To[i], s.Line)
		}
		return
	}
	lo, hi, ok := s.extent()
	for i := range 3 {
		if ok[i] {
			r.widen(0, i, lo[i], hi[i], s.Line)
		}
	}
}

// machine takes a move whose end is in machine coordinates.
func (r *reach) machine(s *Segment) {
	for i := range 3 {
		if s.ToOK[i] {
			r.widen(1, i, s.To[i], s.To[i], s.Line)
		}
	}
}

// AxisTravel is how one station's program uses one axis, in machine coordinates.
type AxisTravel struct {
	Side     Side
	Axis     int     // 0 X, 1 Y, 2 Z
	LeftLow  float64 // travel left at its low end; under 0 where it is exceeded
	LeftHigh float64 // and at its high end
	// Room is the travel left above the moves that go with the work offset: by so much it
	// can be raised. A G53 move stays where it is. Without such moves it is infinite.
	Room float64
}

// travel compares a side's reach with the machine's travel.
func (r *run) travel(out *Result) {
	t, zero := r.q.Travel, r.q.Zeros[r.side]
	if t == nil {
		return
	}
	for i := range 3 {
		a := AxisTravel{Side: Side(r.side), Axis: i, Room: math.Inf(1)}
		least, greatest := math.Inf(1), math.Inf(-1)
		var loLine, hiLine int
		var loMoved, hiMoved float64 // by how far corrections moved the extreme moves
		whole := true                // all moves along the axis can be placed
		for k := range 2 {
			off, moved := 0.0, 0.0
			if k == 0 {
				if zero == nil || i == 2 && !zero.ZKnown {
					whole = r.reach.lo[0][i] > r.reach.hi[0][i]
					continue
				}
				off = [3]float64{zero.X, zero.Y, zero.Z}[i]
				if i < 2 {
					moved = zero.Moved[i]
				}
				a.Room = t.Greatest[i] - (r.reach.hi[0][i] + off)
			}
			if v := r.reach.lo[k][i] + off; v < least {
				least, loLine, loMoved = v, r.reach.loLine[k][i], moved
			}
			if v := r.reach.hi[k][i] + off; v > greatest {
				greatest, hiLine, hiMoved = v, r.reach.hiLine[k][i], moved
			}
		}
		if least > greatest {
			continue
		}
		a.LeftLow, a.LeftHigh = least-t.Least[i], t.Greatest[i]-greatest
		if whole || min(a.LeftLow, a.LeftHigh) < -1e-6 {
			out.Travel = append(out.Travel, a)
		}
		// A nanometre covers the rounding of sums of decimals in binary.
		if a.LeftLow < -1e-6 {
			if a.LeftLow-loMoved < -1e-6 {
				loMoved = 0
			}
			r.found.add(&TravelExceeded{r.onLine(loLine), i, -a.LeftLow, t.Least[i], loMoved})
		}
		if a.LeftHigh < -1e-6 {
			if a.LeftHigh+hiMoved < -1e-6 {
				hiMoved = 0
			}
			r.found.add(&TravelExceeded{r.onLine(hiLine), i, -a.LeftHigh, t.Greatest[i], hiMoved})
		}
	}
}
