package cut

import "math"

// overrun gathers how much of a program's cutting runs beside the blank, farther off
// than the cutter reaches.
type overrun struct {
	all, off float64 // lengths, mm
	worst    float64 // how far beside at most, beyond the cutter's reach
	x, y     float64
	axis     int
	line     int
	reach    float64 // radius of the widest cutter
}

// overrunSlack is how far beyond the blank's edge and the cutter's radius a stroke may
// run and still count as on the blank, mm: an outline around the blank touches it.
const overrunSlack = 0.5

// overrunStep is how finely strokes are followed, mm.
const overrunStep = 1.0

// plungeWeight is what a plunge counts as, mm, so that drilling counts at all.
const plungeWeight = 0.1

// add takes in a stroke that cuts below the surface. A stroke whose ends are both near
// the blank is near it all along, since what is near a rectangle is convex; an arc is
// followed in any case.
func (a *overrun) add(k *stroke, w, h float64) {
	way := max(k.way(), plungeWeight)
	reach := k.p.R + overrunSlack
	beside := func(x, y float64) (d float64, axis int) {
		dx, dy := max(-x, x-w)-reach, max(-y, y-h)-reach
		if dy > dx {
			return dy, 1
		}
		return dx, 0
	}
	a.all += way
	a.reach = max(a.reach, k.p.R)
	x0, y0 := k.along(0)
	x1, y1 := k.along(1)
	d0, _ := beside(x0, y0)
	d1, _ := beside(x1, y1)
	if k.kind == straight && d0 <= 0 && d1 <= 0 {
		return
	}
	n := int(math.Min(math.Ceil(way/overrunStep), 1000))
	for i := range n {
		x, y := k.along((float64(i) + 0.5) / float64(n))
		d, axis := beside(x, y)
		if d <= 0 {
			continue
		}
		a.off += way / float64(n)
		if d += overrunSlack; d > a.worst {
			a.worst, a.x, a.y, a.axis, a.line = d, x, y, axis, int(k.line)
		}
	}
}

// farBeside is how far from the blank's edge, beyond the cutter's reach, a cut may run
// and still be a lead or the overrun of a facing pass: 10 mm, or two cutter diameters
// where that is more.
const farBeside = 10.0

// beside adds a finding for each program of which more than half runs beside the
// blank: it was written for another zero, or mirrored about another line. What merely
// overruns an edge, a facing pass or the lead of an outline, stays far below that. A
// single cut that goes further off than those do is one too: the blank's sides may be
// swapped.
func (r *run) beside() {
	for i := range r.parts {
		a := &r.parts[i].overrun
		at := onSide(r.side, Spot{X: a.x, Y: a.y}, a.line)
		var f Finding
		switch {
		case a.off > a.all/2:
			f = &MostlyOffBlank{at, a.worst, a.axis}
		case a.worst > max(farBeside, 4*a.reach):
			f = &OffBlank{at, a.worst, a.axis}
		default:
			continue
		}
		r.found = append(r.found, f)
	}
}
