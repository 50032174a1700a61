package job_test

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

// plunges are the ends of a program's feed moves.
func plunges(t *testing.T, text string) (list []vec) {
	t.Helper()
	strokes, _ := tape(t, text)
	for _, s := range strokes {
		if !s.rapid {
			list = append(list, s.to)
		}
	}
	return list
}

// drilled compares the drilling programs: the holes of the bed lie under those of the blank,
// on either side, wherever the zero was corrected to.
func (r *trial) drilled(t *testing.T, files map[string]string, prefix string, face, back *box, zeros [2]vec, moved vec) {
	if r.register == "fence" {
		return
	}
	pins := r.pins[:]
	if r.register == "plug" {
		pins = pins[1:]
	}
	for _, f := range []struct {
		name string
		lies *box
		zero vec
		seat int
		deep func(float64) bool // under the seating plane
		from float64            // over it, where the material begins
	}{
		{"pins-blank.nc", face, zeros[0], r.seat, func(z float64) bool { return math.Abs(z+r.at(r.beyond)) < 1e-6 }, r.at(r.thick + r.skim)},
		{prefix + "pins-bed.nc", face, zeros[0], r.seat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, 0},
		{prefix + "pins-back-bed.nc", back, plus(zeros[1], moved), r.backSeat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, 0},
		{"pins-through.nc", face, zeros[0], r.seat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, r.at(r.thick + r.skim)},
	} {
		text, has := files[f.name]
		wanted := r.pairs || !strings.Contains(f.name, "back")
		if strings.HasSuffix(f.name, "blank.nc") { // at the first pair's face station, once
			if prefix > "pair1-" {
				continue
			}
			wanted = r.register == "dowels"
		}
		if through := strings.HasSuffix(f.name, "through.nc"); through || r.through {
			wanted = through && r.through
		}
		if has != wanted {
			t.Errorf("%s is written: %v", f.name, has)
		}
		if !wanted || !has {
			continue
		}
		strokes, _ := tape(t, text)
		lowest, deepest, clear := map[[2]float64]float64{}, math.Inf(1), math.Inf(1)
		for _, s := range strokes {
			p := plus(f.zero, s.to)
			over := p[2] - r.at(f.seat)
			switch at := [2]float64{s.to[0], s.to[1]}; {
			case s.offset == "G53" || math.IsNaN(s.to[2]):
			case s.rapid && (s.from[0] != s.to[0] || s.from[1] != s.to[1] || math.IsNaN(s.from[2])):
				// It goes across over a blank's top, whether one lies there or not, and comes
				// down to there from the clear height.
				if top := f.lies.size[2] + r.at(r.safe); math.Abs(over-top) > 1e-6 {
					t.Errorf("%s goes across %v over the seat, want %v", f.name, over, top)
				}
			case s.rapid:
				clear = min(clear, over-f.from)
			default:
				lowest[at] = min(lowest[at], over)
				deepest = min(deepest, s.to[2])
			}
		}
		// At rapid it comes down to 1 mm or 0.04 in over what it drills (common practice).
		if want := map[bool]float64{false: 1, true: 0.04}[r.inch]; math.Abs(clear-want) > 1e-6 {
			t.Errorf("%s comes down at rapid to %v over what it drills, want %v", f.name, clear, want)
		}
		if said := regexp.MustCompile(`down to Z(-?[0-9.]+)`).FindStringSubmatch(text); said == nil || math.Abs(number(said[1])-deepest) > 1e-3 {
			t.Errorf("%s says %q, it drills to Z%v", f.name, said, deepest)
		}
		if len(lowest) != len(pins) {
			t.Errorf("%s drills %v", f.name, lowest)
		}
		for _, p := range pins {
			hole := f.lies.place(vec{r.at(p[0]), r.at(p[1]), 0})
			found := false
			for at, z := range lowest {
				found = found || math.Hypot(f.zero[0]+at[0]-hole[0], f.zero[1]+at[1]-hole[1]) < 1e-6 && f.deep(z)
			}
			if !found {
				t.Errorf("%s: no hole at %v: zero %v, %v", f.name, hole, f.zero, lowest)
			}
		}
	}
}

// mm is one of the job's unit.
func (r *trial) mm() float64 {
	if r.inch {
		return 25.4
	}
	return 1
}
