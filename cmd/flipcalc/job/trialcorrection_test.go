package job_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
)

// correct draws rounds of corrections.
func (r *trial) correct() {
	var rounds []string
	for range r.rng.IntN(4) {
		c := [3]int{1, r.between(-2, 2), r.between(-2, 2)}
		if slices.Contains(r.keys, "pairs = 2") {
			c[0] = r.between(1, 2)
		}
		r.corrections = append(r.corrections, c)
		rounds = append(rounds, strconv.Quote(fmt.Sprintf("%d:%s", c[0], r.lengths(c[1], c[2]))))
	}
	r.key("corrections", "["+strings.Join(rounds, ", ")+"]")
}

// TestCorrectedJobs measures where a back landed and works the line that correct gives into
// the job: the zero then lies where the cut would have been right, and another round starts
// from there.
func TestCorrectedJobs(t *testing.T) {
	for seed := range 24 {
		rng := rand.New(rand.NewPCG(11, uint64(seed)))
		r := draw(rng, seed%2 == 0)
		if r.pairs {
			r.bed = [2]int{160, 110}
		} else {
			r.key("at", strconv.Quote(r.lengths(r.between(60, 80), r.between(50, 60))))
		}
		pair := 1
		if slices.Contains(r.keys, "pairs = 2") {
			pair = r.between(1, 2)
		}
		var sum vec // of all rounds, each the negative of what was measured
		rounds := ""
		for round := range 3 {
			off := [2]int{r.between(-2, 2), r.between(-2, 2)}
			sum = plus(sum, vec{-r.at(off[0]), -r.at(off[1])})
			from, measured := "", fmt.Sprintf("landed = %q", fmt.Sprintf("%d:%s", pair, r.lengths(off[:]...)))
			if round == 1 { // cut from another zero than the job's: what counts is where it is then
				off := [2]int{r.between(-1, 1), r.between(-1, 1)}
				sum = plus(sum, vec{r.at(off[0]), r.at(off[1])})
				j, err := r.work(t, "correct", (*job.Job).Correct, rounds, measured)
				if err != nil {
					t.Fatal(err)
				}
				was := j.Pairs[pair-1].Second
				x, y := was.X.Add(in(r.inch, off[0])), was.Y.Add(in(r.inch, off[1]))
				from = "from " + x.String() + "," + y.String()
			}
			j, err := r.work(t, "correct", (*job.Job).Correct, rounds, measured, from)
			if err != nil {
				t.Fatalf("%v\n%s\n%s", err, measured, strings.Join(r.keys, "\n"))
			}
			_, back := r.lies(j, pair-1)
			want := plus(back.place(r.backZeroOn(back, r.backLevel)), sum)
			l := j.Setup.Landed
			if got := (vec{l.After.X.InexactFloat64(), l.After.Y.InexactFloat64()}); !near(got, vec{want[0], want[1]}) {
				t.Fatalf("trial %d, round %d: corrected to %v, want %v\n%s\n%s", seed, round+1, got, want, measured, strings.Join(r.keys, "\n"))
			}
			rounds = l.Ways[0].Keep
		}
		j, err := r.work(t, "prepare", (*job.Job).Prepare, rounds)
		if err != nil {
			t.Fatal(err)
		}
		for i := range j.Pairs {
			_, back := r.lies(j, i)
			want := back.place(r.backZeroOn(back, r.backLevel))
			if i == pair-1 {
				want = plus(want, sum)
			}
			s := j.Pairs[i].Second
			if got := (vec{s.X.InexactFloat64(), s.Y.InexactFloat64()}); !near(got, vec{want[0], want[1]}) {
				t.Errorf("trial %d: %s puts pair %d's zero at %v, want %v", seed, rounds, i+1, got, want)
			}
		}
	}
}
