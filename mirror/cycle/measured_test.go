package cycle

import (
	"math/rand/v2"
	"testing"
)

// The tool in the spindle is followed second by second through two batches, with random
// tools on one to three pairs: the batch, its cycles and the break-even are those of the
// formulas, the first batch only having left its last tool (derived: two ways to one clock;
// a tool that is in needs no change, common practice).
func TestToolInTheSpindle(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 179))
	side := func(pairs int) (one, all tape) {
		for range 1 + rng.IntN(4) {
			step := tape{{1 + rng.IntN(4), 1 + rng.IntN(15)}}[0]
			if n := len(one); n > 0 && one[n-1].tool == step.tool {
				one[n-1].seconds += step.seconds
			} else {
				one = append(one, step)
			}
		}
		for _, step := range one {
			step.seconds *= pairs
			all = append(all, step)
		}
		return one, all
	}
	sum := func(program tape) (seconds float64, tools []int) {
		for _, s := range program {
			seconds += float64(s.seconds)
			if n := len(tools); n == 0 || tools[n-1] != s.tool {
				tools = append(tools, s.tool)
			}
		}
		return seconds, tools
	}
	pays, differs := 0, 0
	for i := range 1500 {
		q := draw(rng)
		q.Pairs, q.Parts = 1+rng.IntN(3), 1+rng.IntN(12)
		change := rng.IntN(20)
		face, first := side(q.Pairs)
		back, last := side(q.Pairs)
		steady := append(append(tape{}, first...), last...)
		if q.Order == ByTools { // in any order that keeps each side's own
			steady = nil
			for f, b := 0, 0; f < len(first) || b < len(last); {
				if b == len(last) || f < len(first) && rng.IntN(2) == 0 {
					steady, f = append(steady, first[f]), f+1
				} else {
					steady, b = append(steady, last[b]), b+1
				}
			}
		}
		m := Measured{Change: float64(change)}
		m.First, m.FirstTools = sum(first)
		m.Steady, m.SteadyTools = sum(steady)
		m.Last, m.LastTools = sum(last)
		m.Face, _ = sum(face)
		m.Back, _ = sum(back)
		m.Fill(&q)
		p, err := q.Plan()
		if err != nil {
			t.Fatal(err)
		}
		batch := func(parts int) *shop {
			var s *shop
			spindle := -1
			for range 2 {
				b := q
				b.Parts = parts
				s = &shop{q: b, tapes: map[string]tape{"first": first, "steady": steady, "last": last}, spindle: spindle, change: change}
				s.play()
				spindle = s.spindle
			}
			return s
		}
		single := func(parts int) (clock int) {
			s := &shop{tapes: map[string]tape{"face": face, "back": back}, change: change}
			for range 2 {
				clock = 0
				for range parts {
					clock += int(q.Load) + s.takes("face", 0) + int(q.Turn) + s.takes("back", 0)
				}
			}
			return clock
		}
		s := batch(q.Parts)
		if float64(s.clock) != p.Finish || len(s.ends) != p.Cycles || float64(single(q.Parts)) != p.SingleFinish {
			t.Fatalf("run %d: done after %g s, %g s at one station; simulation %d and %d\n%+v\n%+v", i, p.Finish, p.SingleFinish, s.clock, single(q.Parts), q, m)
		}
		for _, r := range p.Rows {
			if float64(s.ends[r.To-1]) != r.End {
				t.Fatalf("run %d: cycle %d ends at %g, simulation %d\n%+v\n%+v", i, r.To, r.End, s.ends[r.To-1], q, m)
			}
		}
		if q.SteadyMore != 0 || q.LastMore != 0 {
			differs++
		}
		if p.BreakEven == 0 {
			continue
		}
		pays++
		loses := func(n int) bool {
			return float64(batch(n).clock)+q.Setup > float64(single(n))+q.SingleSetup
		}
		if p.BreakEven > 1 && !loses(p.BreakEven-1) {
			t.Fatalf("run %d: %d parts gain too, break-even %d\n%+v\n%+v", i, p.BreakEven-1, p.BreakEven, q, m)
		}
		for n := p.BreakEven; n < p.BreakEven+3*q.Pairs; n++ {
			if loses(n) {
				t.Fatalf("run %d: %d parts lose, break-even %d\n%+v\n%+v", i, n, p.BreakEven, q, m)
			}
		}
	}
	t.Logf("%d runs in which a first steady or a lone last program differs, %d that pay", differs, pays)
	if differs < 200 || pays < 200 {
		t.Error("too few")
	}
}

// Twice as many pairs cut twice as long and change tools as often.
func TestOn(t *testing.T) {
	m := Measured{First: 100, Steady: 160, Last: 60, FirstTools: []int{1}, SteadyTools: []int{1, 2}, LastTools: []int{2}, Face: 100, Back: 60, Change: 30}
	q := Batch{Pairs: 2}
	m.On(2, 1).Fill(&q)
	want := Batch{Pairs: 2, First: 230, Steady: 380, SteadyMore: -30, Last: 120, LastMore: 30, BackPart: 150, SingleFace: 130, SingleBack: 90}
	if q != want {
		t.Errorf("%+v\nwant %+v", q, want)
	}
}
