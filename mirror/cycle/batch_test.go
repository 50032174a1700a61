package cycle

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// Times fills the machine's times in from the cut of one face and one back at one
// station, the time of a tool change, and how many changes each program has.
type Times struct {
	Face, Back, Change float64
	// Changes of the first, steady and last program, and of face and back run one
	// after the other at one station.
	FirstChanges, SteadyChanges, LastChanges, FaceChanges, BackChanges int
}

// Fill sets First, Steady, Last, BackPart, SingleFace and SingleBack for the
// number of pairs that q has. With ByStations the changes of a steady cycle beyond
// those of the first belong to its backs.
func (t Times) Fill(q *Batch) {
	p := float64(q.Pairs)
	change := func(n int) float64 { return t.Change * float64(n) }
	q.First = p*t.Face + change(t.FirstChanges)
	q.Last = p*t.Back + change(t.LastChanges)
	q.Steady = p*(t.Face+t.Back) + change(t.SteadyChanges)
	q.BackPart = p*t.Back + change(max(t.SteadyChanges-t.FirstChanges, 0))
	q.SingleFace = t.Face + change(t.FaceChanges)
	q.SingleBack = t.Back + change(t.BackChanges)
}

// What lies at a station.
const (
	empty = iota
	fresh // to be cut
	cut
)

// shop plays a run second by second. It knows stations, a machine and two hands,
// and nothing of the plan's formulas. Times are whole seconds.
type shop struct {
	q            Batch
	faces, backs []int
	left, pile   int // blanks not yet loaded; faced blanks waiting in hand
	done         int
	clock        int
	ends         []int // when each cycle's cutting ended

	// tapes are the programs, where the tool is followed; spindle is the tool in it.
	tapes   map[string]tape
	spindle int
	change  int
}

// tape is a program: one tool after the other, each with the seconds that it cuts.
type tape []struct{ tool, seconds int }

// takes is how long the machine runs a program that begins now: seconds is what the
// question says of it, where no tape was made.
func (s *shop) takes(name string, seconds float64) int {
	if s.tapes == nil {
		return int(seconds)
	}
	clock := 0
	for _, step := range s.tapes[name] {
		if step.tool != s.spindle {
			for range s.change {
				clock++
			}
			s.spindle = step.tool
		}
		for range step.seconds {
			clock++
		}
	}
	return clock
}

func play(q Batch) *shop { return (&shop{q: q}).play() }

func (s *shop) play() *shop {
	q := s.q
	s.faces, s.backs, s.left = make([]int, q.Pairs), make([]int, q.Pairs), q.Parts
	if q.Loading == Guarded && q.Order == ByStations {
		s.guarded()
	} else {
		s.held()
	}
	return s
}

func count(stations []int, what int) (n int) {
	for _, s := range stations {
		n += b2i(s == what)
	}
	return n
}

func replace(stations []int, from, to int) {
	for i, s := range stations {
		if s == from {
			stations[i] = to
		}
	}
}

// held: hands and machine take turns.
func (s *shop) held() {
	for s.done < s.q.Parts {
		for i := range s.faces {
			if s.faces[i] == cut { // onto the back station, whose finished part comes off
				s.clock += int(s.q.Turn)
				s.faces[i], s.backs[i] = empty, fresh
			} else {
				s.backs[i] = empty
			}
			if s.left > 0 {
				s.clock += int(s.q.Load)
				s.left--
				s.faces[i] = fresh
			}
		}
		switch f, b := count(s.faces, fresh), count(s.backs, fresh); {
		case b == 0:
			s.clock += s.takes("first", s.q.First)
		case f == 0:
			s.clock += s.takes("last", s.q.Last)
		default:
			s.clock += s.takes("steady", s.q.Steady)
		}
		s.done += count(s.backs, fresh)
		replace(s.faces, fresh, cut)
		replace(s.backs, fresh, cut)
		s.ends = append(s.ends, s.clock)
	}
}

// guarded: hands work at the side that isn't being cut.
func (s *shop) guarded() {
	const none, face, back = 0, 1, 2
	running, next := none, face
	machineUntil, handsUntil := 0, 0
	facesCut := 0
	var finish func() // what the hands' work in progress does at its end
	for ; s.done < s.q.Parts; s.clock++ {
		if s.clock > 1<<20 {
			panic("the run doesn't end")
		}
		if running != none && s.clock == machineUntil {
			switch running {
			case face:
				replace(s.faces, fresh, cut)
				facesCut++
				next = back
				if facesCut == 1 {
					s.ends = append(s.ends, s.clock)
					if s.left > 0 {
						next = face
					}
				}
			case back:
				s.done += count(s.backs, fresh)
				replace(s.backs, fresh, cut)
				s.ends = append(s.ends, s.clock)
				next = face
				if s.left == 0 && count(s.faces, fresh) == 0 {
					next = back
				}
			}
			running = none
			if s.done == s.q.Parts {
				return
			}
		}
		if finish != nil && s.clock == handsUntil {
			finish()
			finish = nil
		}
		if s.left == 0 && running != face { // nothing to put in their place: faced blanks just come off
			s.pile += count(s.faces, cut)
			replace(s.faces, cut, empty)
		}
		load := func() bool {
			if s.left == 0 || running == face {
				return false
			}
			for i := range s.faces {
				if s.faces[i] != fresh {
					handsUntil = s.clock + int(s.q.Load)
					finish = func() {
						s.pile += b2i(s.faces[i] == cut)
						s.faces[i] = fresh
						s.left--
					}
					return true
				}
			}
			return false
		}
		turn := func() bool {
			if s.pile == 0 || running == back {
				return false
			}
			for i := range s.backs {
				if s.backs[i] != fresh {
					handsUntil = s.clock + int(s.q.Turn)
					finish = func() {
						s.backs[i] = fresh
						s.pile--
					}
					return true
				}
			}
			return false
		}
		if finish == nil {
			if next == face && running == none || running == back {
				_ = load() || turn()
			} else {
				_ = turn() || load()
			}
		}
		if running != none {
			continue
		}
		switch next {
		case face:
			if f := count(s.faces, fresh); f == s.q.Pairs || f > 0 && s.left == 0 {
				seconds := s.q.Steady - s.q.BackPart
				if facesCut == 0 {
					seconds = s.q.First
				}
				machineUntil = s.clock + s.takes("first", seconds)
				running = face
			}
		case back:
			if b := count(s.backs, fresh); b > 0 && (b == s.q.Pairs || s.pile == 0) {
				seconds := s.q.BackPart
				if s.left == 0 && s.pile == 0 && count(s.faces, cut) == 0 && count(s.faces, fresh) == 0 {
					seconds = s.q.Last
				}
				machineUntil = s.clock + s.takes("last", seconds)
				running = back
			}
		}
	}
}

// draw draws a question with whole seconds.
func draw(rng *rand.Rand) Batch {
	sec := func(n int) float64 { return float64(1 + rng.IntN(n)) }
	q := Batch{Parts: 1 + rng.IntN(25), Pairs: 1 + rng.IntN(4), Order: Order(rng.IntN(2)), Loading: Loading(rng.IntN(2)),
		First: sec(40), Last: sec(40), BackPart: sec(40), SingleFace: sec(40), SingleBack: sec(40),
		Load: sec(12), Turn: sec(12), Setup: float64(rng.IntN(300)), SingleSetup: float64(rng.IntN(100))}
	q.Steady = q.BackPart + sec(40)
	return q
}

func TestSimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	hidden := 0
	for i := range 3000 {
		q := draw(rng)
		p, err := q.Plan()
		if err != nil {
			t.Fatal(err)
		}
		hidden += b2i(p.Hidden)
		s := play(q)
		if float64(s.clock) != p.Finish || len(s.ends) != p.Cycles {
			t.Fatalf("run %d: done after %g s and %d cycles, simulation %d and %d\n%+v", i, p.Finish, p.Cycles, s.clock, len(s.ends), q)
		}
		for _, r := range p.Rows {
			if float64(s.ends[r.To-1]) != r.End {
				t.Fatalf("run %d: cycle %d ends at %g, simulation %d\n%+v", i, r.To, r.End, s.ends[r.To-1], q)
			}
		}
	}
	if hidden < 500 {
		t.Errorf("only %d runs with hidden loading", hidden)
	}
}

// Parts an hour are those of a long simulated run from cycle to cycle.
func TestRate(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for i := range 200 {
		q := draw(rng)
		q.Parts = 12 * q.Pairs
		p, err := q.Plan()
		if err != nil {
			t.Fatal(err)
		}
		s := play(q)
		cycle := s.ends[8] - s.ends[7]
		if want := 3600 * float64(q.Pairs) / float64(cycle); math.Abs(p.PartsPerHour-want) > 1e-9*want {
			t.Fatalf("run %d: %g parts an hour, simulation %g\n%+v", i, p.PartsPerHour, want, q)
		}
		if p.SpindleWaits != float64(cycle)-q.Steady || p.HandsWait != float64(cycle)-float64(q.Pairs)*(q.Load+q.Turn) {
			t.Fatalf("run %d: waits %g and %g in a cycle of %d\n%+v", i, p.SpindleWaits, p.HandsWait, cycle, q)
		}
	}
}

// The break-even batch is the least from which on no simulated batch loses.
func TestBreakEven(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	found, never := 0, 0
	for i := range 400 {
		q := draw(rng)
		p, err := q.Plan()
		if err != nil {
			t.Fatal(err)
		}
		loses := func(n int) bool {
			b := q
			b.Parts = n
			return float64(play(b).clock)+q.Setup > float64(n)*(q.SingleFace+q.SingleBack+q.Load+q.Turn)+q.SingleSetup
		}
		if p.BreakEven == 0 {
			never++
			if !loses(400*q.Pairs) && !loses(401*q.Pairs) {
				// Equal rates: never slower from some batch on can't be told apart here.
				if a, b := float64(q.Pairs)*3600/p.PartsPerHour, float64(q.Pairs)*3600/p.SinglePerHour; math.Abs(a-b) > 1e-9 {
					t.Fatalf("run %d: a large batch gains, but no break-even\n%+v", i, q)
				}
			}
			continue
		}
		found++
		if p.BreakEven > 1 && !loses(p.BreakEven-1) {
			t.Fatalf("run %d: %d parts gain too, break-even %d\n%+v", i, p.BreakEven-1, p.BreakEven, q)
		}
		for n := p.BreakEven; n < p.BreakEven+4*q.Pairs; n++ {
			if loses(n) {
				t.Fatalf("run %d: %d parts lose, break-even %d\n%+v", i, n, p.BreakEven, q)
			}
		}
	}
	if found < 50 || never < 50 {
		t.Errorf("%d with and %d without a break-even batch", found, never)
	}
}

// Seven parts on two pairs by hand: groups of 2, 2, 2 and 1, five cycles (common
// practice: one more than the parts fill, since the first has no backs).
func TestRows(t *testing.T) {
	q := Batch{Parts: 7, Pairs: 2, Load: 30, Turn: 20, SingleFace: 110, SingleBack: 60, Setup: 1800, SingleSetup: 900}
	Times{Face: 100, Back: 50, Change: 10, FirstChanges: 1, SteadyChanges: 2, LastChanges: 1, FaceChanges: 1, BackChanges: 1}.Fill(&q)
	p, err := q.Plan()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"1-1 first: 2 faces, 0 backs, 0 done, 0 to 270",
		"2-3 steady: 2 faces, 2 backs, 4 done, 270 to 1110",
		"4-4 steady: 1 faces, 2 backs, 6 done, 1110 to 1500",
		"5-5 last: 0 faces, 1 backs, 7 done, 1500 to 1630",
	}
	for i, r := range p.Rows {
		got := fmt.Sprintf("%d-%d %s: %d faces, %d backs, %d done, %g to %g", r.From, r.To, r.Program, r.Faces, r.Backs, r.Finished, r.Start, r.End)
		if i >= len(want) || got != want[i] {
			t.Errorf("got  %s\nwant %v", got, want[min(i, len(want)-1)])
		}
	}
	if p.Cycles != 5 || p.Finish != 1630 || p.CycleSeconds != 420 {
		t.Errorf("%d cycles, %g s, cycle %g s", p.Cycles, p.Finish, p.CycleSeconds)
	}
}

// Held, pairs save nothing but tool changes and stops: with none of them, the rate
// is that of one station (derived: hands and machine never work at once).
func TestHeldSavesChangesOnly(t *testing.T) {
	q := Batch{Pairs: 3, Load: 30, Turn: 20}
	Times{Face: 100, Back: 50, Change: 10}.Fill(&q)
	p, err := q.Plan()
	if err != nil {
		t.Fatal(err)
	}
	if p.PartsPerHour != p.SinglePerHour || p.PartsPerHour != 18 || p.BreakEven != 0 {
		t.Errorf("%g and %g an hour, break-even %d", p.PartsPerHour, p.SinglePerHour, p.BreakEven)
	}
	q.Order, q.Loading = ByStations, Guarded
	// Loading 3 x 30 hides behind the backs' 150, turning 3 x 20 behind the faces' 300.
	if p, err = q.Plan(); err != nil || p.CycleSeconds != 450 || p.PartsPerHour != 24 || !p.Hidden || p.SpindleWaits != 0 || p.HandsWait != 300 {
		t.Errorf("%+v %v", p, err)
	}
	q.Order = ByTools
	if p, _ = q.Plan(); p.Hidden || p.PartsPerHour != 18 {
		t.Errorf("hidden with both stations busy: %+v", p)
	}
}

func TestMessages(t *testing.T) {
	good := Batch{Parts: 5, Pairs: 1, First: 1, Steady: 2, Last: 1, SingleFace: 1, SingleBack: 1}
	rows := []struct {
		spoil func(*Batch)
		want  string
	}{
		{func(q *Batch) { q.Pairs = 0 }, "pairs: 0 pairs, expected 1 or more"},
		{func(q *Batch) { q.Parts = -1 }, "parts: -1 parts, expected 0 or more"},
		{func(q *Batch) { q.Parts = 2e9 }, "parts: 2000000000 parts, expected at most a thousand million"},
		{func(q *Batch) { q.Steady = 0 }, "the steady program: 0 seconds, expected more than 0"},
		{func(q *Batch) { q.First = math.NaN() }, "the first program: NaN seconds, expected more than 0"},
		{func(q *Batch) { q.Load = -1 }, "load time: -1 seconds, expected 0 or more"},
		{func(q *Batch) { q.Turn = math.Inf(1) }, "turning time: +Inf seconds, expected 0 or more"},
		{func(q *Batch) { q.Order = ByStations }, "the back's part: 0 seconds, expected more than 0 and less than the cycle's 2"},
	}
	for _, r := range rows {
		q := good
		r.spoil(&q)
		if _, err := q.Plan(); err == nil || err.Error() != r.want {
			t.Errorf("got  %v\nwant %s", err, r.want)
		}
	}
}

func ExampleBatch_Plan() {
	q := Batch{Parts: 40, Pairs: 2, Load: 40, Turn: 30, Setup: 3600, SingleSetup: 1200}
	Times{Face: 180, Back: 120, Change: 45, FirstChanges: 2, SteadyChanges: 3, LastChanges: 2, FaceChanges: 2, BackChanges: 2}.Fill(&q)
	p, err := q.Plan()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d cycles, %.1f parts an hour (%.1f at one station), pays from %d parts on\n",
		p.Cycles, p.PartsPerHour, p.SinglePerHour, p.BreakEven)
	// Output:
	// 21 cycles, 8.2 parts an hour (6.5 at one station), pays from 24 parts on
}
