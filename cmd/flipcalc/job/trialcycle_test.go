package job_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
)

// cycles compares the merged programs: the first cuts what the faces' programs cut, the last
// what the backs' do, and a steady one both, each in its offset.
func (r *trial) cycles(t *testing.T, j *job.Job, files map[string]string, cut map[string][]vec) {
	if !r.pairs {
		return
	}
	for i, name := range []string{"first.nc", "steady.nc", "last.nc"} {
		merged, parked := map[string][]vec{}, 0
		strokes, _ := tape(t, files[name])
		for _, s := range strokes {
			if !s.rapid {
				merged[s.offset] = append(merged[s.offset], s.to)
			}
			// The one way in machine coordinates beside the way up is to the far right end of the travel.
			park := vec{r.at(8 + r.bed[0] + r.beside[1]), r.at(4 + r.bed[1] + r.beside[3])}
			if s.offset == "G53" && !math.IsNaN(s.to[0]) && math.Hypot(s.to[0]-park[0], s.to[1]-park[1]) > 1e-3 {
				t.Errorf("%s parks at %v, want %v", name, s.to, park)
			} else if s.offset == "G53" && !math.IsNaN(s.to[0]) {
				parked++
			}
		}
		if parked == 0 {
			t.Errorf("%s doesn't park", name)
		}
		for n, s := range j.Layout.Stations {
			var want []vec
			if n%2 == 0 && i < 2 || n%2 == 1 && i > 0 {
				want = cut[s.Offset]
			}
			if !slices.EqualFunc(merged[s.Offset], want, near) {
				t.Errorf("%s cuts %v in %s, the programs %v", name, merged[s.Offset], s.Offset, want)
			}
		}
	}
}

// TestTimesInEitherUnit: a machine whose file is in inches runs as long as the same one in mm.
func TestTimesInEitherUnit(t *testing.T) {
	for seed := range 6 {
		r := draw(rand.New(rand.NewPCG(29, uint64(seed))), true)
		r.bed, r.beside = [2]int{160, 110}, [4]int{40, 40, 40, 40}
		var seconds [2]float64
		for i := range seconds {
			r.inchMachine = i == 1
			j, err := r.work(t, "prepare", (*job.Job).Prepare)
			if err != nil {
				t.Fatal(err)
			}
			seconds[i] = float64(j.Setup.Plan.Seconds)
		}
		// Places are rounded in either unit, which a way between stations shows: 1 in 100.
		if math.Abs(seconds[0]/seconds[1]-1) > 0.01 || seconds[0] < 1 {
			t.Errorf("trial %d: %v s a cycle in mm, %v in inches\n%s", seed, seconds[0], seconds[1], strings.Join(r.keys, "\n"))
		}
	}
}
