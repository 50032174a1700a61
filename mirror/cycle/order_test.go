package cycle

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// fewest finds the least number of tool changes by trying every way to interleave
// two sequences, step by step: the state is how far each has come and which tool
// is in the spindle.
func fewest(a, b []int) int {
	type at struct{ i, j, tool int }
	seen := map[at]int{}
	var walk func(s at) int
	walk = func(s at) int {
		if s.i == len(a) && s.j == len(b) {
			return 0
		}
		if v, ok := seen[s]; ok {
			return v
		}
		best := 1 << 30
		if s.i < len(a) {
			c := 0
			if a[s.i] != s.tool {
				c = 1
			}
			best = min(best, c+walk(at{s.i + 1, s.j, a[s.i]}))
		}
		if s.j < len(b) {
			c := 0
			if b[s.j] != s.tool {
				c = 1
			}
			best = min(best, c+walk(at{s.i, s.j + 1, b[s.j]}))
		}
		seen[s] = best
		return best
	}
	return walk(at{tool: -2})
}

// sequence makes a program with the given tools, each cutting at its own place.
func sequence(tools []int) *program {
	p := &program{}
	for i, t := range tools {
		p.pieces = append(p.pieces, &piece{tool: t, line: i})
	}
	return p
}

// Every pair of sequences of one to four calls of three tools.
func TestFewestChanges(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var all [][]int
	var grow func(s []int)
	grow = func(s []int) {
		if len(s) > 0 {
			all = append(all, slices.Clone(s))
		}
		if len(s) == 4 {
			return
		}
		for tool := 1; tool <= 3; tool++ {
			grow(append(s, tool))
		}
	}
	grow(nil)
	wraps := 0
	for _, a := range all {
		for _, b := range all {
			check(t, a, b)
			if s := mergeRuns(sequence(a).runs(0), sequence(b).runs(1)); s[0].tool == s[len(s)-1].tool && len(s) > 1 {
				wraps++
			}
			if t.Failed() {
				return
			}
		}
	}
	if wraps == 0 {
		t.Error("no merge begins and ends with one tool")
	}
}

func TestFewestChangesLong(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		var s [2][]int
		for k := range s {
			for range 1 + rng.IntN(20) {
				s[k] = append(s[k], 1+rng.IntN(3+rng.IntN(4)))
			}
		}
		check(t, s[0], s[1])
	}
}

// check looks at one merge: fewest changes, each side's order kept, nothing lost.
func check(t *testing.T, a, b []int) {
	t.Helper()
	steps := joinEqual(mergeRuns(sequence(a).runs(0), sequence(b).runs(1)))
	if want := fewest(a, b); len(steps) != want {
		t.Errorf("%v and %v: %d changes, fewest %d", a, b, len(steps), want)
	}
	for side, want := range [][]int{a, b} {
		var got []string
		for _, s := range steps {
			for _, pc := range s.pieces[side] {
				if pc.tool != s.tool {
					t.Errorf("%v and %v: tool %d for a piece of tool %d", a, b, s.tool, pc.tool)
				}
				got = append(got, fmt.Sprint(pc.line))
			}
		}
		var in []string
		for i := range want {
			in = append(in, fmt.Sprint(i))
		}
		if strings.Join(got, " ") != strings.Join(in, " ") {
			t.Errorf("%v and %v: side %d in the order %v", a, b, side, got)
		}
	}
}

// Where several merges are as short, the one that begins and ends with the same
// tool saves a change in the next cycle.
func TestWrap(t *testing.T) {
	steps := mergeRuns(sequence([]int{1, 2}).runs(0), sequence([]int{2, 1}).runs(1))
	if len(steps) != 3 || steps[0].tool != steps[2].tool {
		t.Errorf("%d steps", len(steps))
	}
}
