package cycle

import (
	"fmt"
	"math"

	"flipcalc/mirror/fault"
)

// A batch on pairs of stations: what lies where in each cycle, how long it takes, and from
// how many parts on it pays. In a steady cycle every pair has a new blank at its face
// station and, at its back station, the blank whose face was cut in the cycle before. So
// each cycle finishes one part a pair; N parts on p pairs take ceil(N/p) + 1 cycles, the
// first with faces only and the last with backs only. All times are in seconds.

// Loading says when hands may work.
type Loading uint8

// Held loads only while the machine is held. Guarded loads the side that isn't
// being cut while the other is; only where that side is guarded or out of reach.
const (
	Held Loading = iota
	Guarded
)

// Batch asks for a plan.
type Batch struct {
	Parts int // of the batch; 0 asks for the rate only
	Pairs int
	Order
	Loading

	// What the machine takes for the three programs, all pairs, ramps and tool
	// changes included. A program runs over all its stations, whether or not a
	// blank lies there.
	First, Steady, Last float64
	// SteadyMore is what the first steady program takes beyond those that follow one
	// another, LastMore what a last program takes beyond that right after a first one. Both
	// are 0 or whole tool changes, and below 0 where the tool is in the spindle already.
	SteadyMore, LastMore float64
	// BackPart is how much of Steady cuts backs; used with ByStations only.
	BackPart float64
	// SingleFace and SingleBack are what the machine takes for one part that is
	// flipped at one station, its tool changes included.
	SingleFace, SingleBack float64

	// Load is what hands take at a face station, and Turn at a back station, to
	// take off what lies there and seat the next; at one station both are needed
	// for each part.
	Load, Turn float64

	// Setup is what setting up the pairs takes, SingleSetup the one station.
	Setup, SingleSetup float64
}

// Cycle is one cycle, or a row of cycles that are alike.
type Cycle struct {
	From, To   int     // numbers, from 1
	Faces      int     // pairs 1 to Faces have a new blank at the face station
	Backs      int     // pairs 1 to Backs have a turned blank at the back station
	Program    string  // "first", "steady" or "last"
	Loads      int     // blanks put on face stations before or in each cycle
	Turns      int     // blanks turned over to back stations
	Finished   int     // parts finished at the end of the row
	Start, End float64 // of the row
}

// Plan is the answer.
type Plan struct {
	Batch  Batch
	Cycles int     // ceil(N/p) + 1
	Rows   []Cycle // like cycles in one row
	Finish float64 // from the first hand on the first blank to the end of the last cut

	CycleSeconds float64 // of a steady cycle with its loading
	PartsPerHour float64 // in steady cycles
	SinglePerHour,
	SingleFinish float64 // flipping at one station
	SpindleWaits float64 // a steady cycle: the machine waits for hands
	HandsWait    float64 // a steady cycle: hands wait for the machine

	// BreakEven is the least batch from which on the pairs are never slower than
	// one station, setting up included; 0 if they never are faster for good.
	BreakEven int
	// Hidden says that loading is hidden behind cutting. Where it was asked for
	// but the order doesn't let it, it isn't.
	Hidden bool
}

// Plan plans a run. Errors are *fault.Error.
func (q Batch) Plan() (*Plan, error) {
	if err := q.validate(); err != nil {
		return nil, err
	}
	p := &Plan{Batch: q, Hidden: q.hidden()}
	pairs := float64(q.Pairs)
	hands := pairs * (q.Load + q.Turn)
	p.CycleSeconds = q.Steady + hands
	if p.Hidden {
		face := q.Steady - q.BackPart
		p.CycleSeconds = math.Max(face, pairs*q.Turn) + math.Max(q.BackPart, pairs*q.Load)
	}
	p.SpindleWaits = p.CycleSeconds - q.Steady
	p.HandsWait = p.CycleSeconds - hands
	p.PartsPerHour = 3600 * pairs / p.CycleSeconds
	p.SinglePerHour = 3600 / q.single()
	p.BreakEven = q.breakEven(p.CycleSeconds)
	if q.Parts > 0 {
		p.Cycles = q.groups(q.Parts) + 1
		p.Finish = q.finish(q.Parts)
		p.SingleFinish = float64(q.Parts) * q.single()
		p.Rows = q.rows()
	}
	return p, nil
}

func (q *Batch) hidden() bool { return q.Loading == Guarded && q.Order == ByStations }

// single is what one part takes at one station.
func (q *Batch) single() float64 { return q.Load + q.SingleFace + q.Turn + q.SingleBack }

func (q *Batch) validate() error {
	bad := func(about, found, expected string) error {
		return &fault.Error{About: about, Found: found, Expected: expected}
	}
	switch {
	case q.Pairs < 1:
		return bad("pairs", fmt.Sprintf("%d pairs", q.Pairs), "1 or more")
	case q.Parts < 0:
		return bad("parts", fmt.Sprintf("%d parts", q.Parts), "0 or more")
	case q.Parts > 1_000_000_000:
		return bad("parts", fmt.Sprintf("%d parts", q.Parts), "at most a thousand million")
	}
	for _, v := range []struct {
		about string
		s     float64
		zero  bool
	}{
		{"the first program", q.First, false}, {"the steady program", q.Steady, false}, {"the last program", q.Last, false},
		{"the face program", q.SingleFace, false}, {"the back program", q.SingleBack, false},
		{"load time", q.Load, true}, {"turning time", q.Turn, true}, {"setting up", q.Setup, true}, {"setting up one station", q.SingleSetup, true},
	} {
		if !(v.s > 0 || v.zero && v.s == 0) || v.s > 1e9 {
			return bad(v.about, fault.Number(v.s)+" seconds", []string{"more than 0", "0 or more"}[b2i(v.zero)])
		}
	}
	if q.Order == ByStations && !(q.BackPart > 0 && q.BackPart < q.Steady) {
		return bad("the back's part", fault.Number(q.BackPart)+" seconds", "more than 0 and less than the cycle's "+fault.Number(q.Steady))
	}
	return nil
}

// groups is how many groups of blanks a batch has, of a blank a pair but for the last.
func (q *Batch) groups(parts int) int { return (parts + q.Pairs - 1) / q.Pairs }

// group is how many blanks group c of a batch has.
func (q *Batch) group(c, parts int) int {
	if c < 1 {
		return 0
	}
	return max(0, min(q.Pairs, parts-(c-1)*q.Pairs))
}

// finish is when a batch is done.
func (q *Batch) finish(parts int) float64 { return q.end(q.groups(parts)+1, parts) }

// end is when the machine has done cycle c of a batch.
func (q *Batch) end(c, parts int) float64 {
	g, p := q.groups(parts), float64(q.Pairs)
	group := func(k int) float64 { return float64(q.group(k, parts)) }
	if c == g+1 {
		// The last group is turned when the back stations are empty again.
		t := q.end(g, parts) + group(g)*q.Turn + q.Last
		if g == 1 {
			t += q.LastMore
		}
		return t
	}
	t := group(1)*q.Load + q.First
	if c == 1 {
		return t
	}
	if !q.hidden() {
		// Cycles 2 to c turn groups 1 to c-1 and load groups 2 to c.
		loads := float64(c-2)*p + group(c)
		return t + float64(c-1)*(p*q.Turn+q.Steady) + q.SteadyMore + loads*q.Load
	}
	// Group 2 is loaded with nothing to cut. While faces of group c are cut, group c-1 is
	// turned; while its backs are cut, group c+1 is loaded.
	face := q.Steady - q.BackPart
	t += group(2)*q.Load + math.Max(face+q.SteadyMore, p*q.Turn) + float64(c-2)*math.Max(face, p*q.Turn)
	if c > 2 {
		t += float64(c-3)*math.Max(q.BackPart, p*q.Load) + math.Max(q.BackPart, group(c)*q.Load)
	}
	return t + q.BackPart
}

// breakEven finds the least batch from which on the pairs are never slower.
func (q *Batch) breakEven(cycle float64) int {
	gain := func(parts int) float64 {
		return q.SingleSetup + float64(parts)*q.single() - q.Setup - q.finish(parts)
	}
	step := float64(q.Pairs)*q.single() - cycle // what each further full group gains
	if step <= 0 {
		return 0
	}
	slow := 0 // the largest batch that loses
	for r := 1; r <= q.Pairs; r++ {
		for g := 1; g <= 3; g++ {
			if n := (g-1)*q.Pairs + r; gain(n) < 0 {
				slow = max(slow, n)
			}
		}
		// From the third group on the gain is linear.
		n := 2*q.Pairs + r
		if d := gain(n); d < 0 {
			more := math.Ceil(-d/step) - 1
			if more > 1e12 {
				return 0
			}
			slow = max(slow, n+int(more)*q.Pairs)
		}
	}
	return slow + 1
}

// rows lists the cycles, like ones together.
func (q *Batch) rows() []Cycle {
	g := q.groups(q.Parts)
	group := func(c int) int { return q.group(c, q.Parts) }
	var rows []Cycle
	for c := 1; c <= g+1; {
		row := Cycle{From: c, To: c, Faces: group(c), Backs: group(c - 1), Program: "steady", Loads: group(c), Turns: group(c - 1)}
		switch c {
		case 1:
			row.Program = "first"
		case g + 1:
			row.Program = "last"
		case 2:
			// Cycles 2 to g-1 are full, and cycle g too if its group is.
			row.To = max(2, g-1)
			if group(g) == q.Pairs {
				row.To = g
			}
		}
		row.Finished = min(q.Parts, (row.To-1)*q.Pairs)
		if len(rows) > 0 {
			row.Start = rows[len(rows)-1].End
		}
		row.End = q.end(row.To, q.Parts)
		rows = append(rows, row)
		c = row.To + 1
	}
	return rows
}
