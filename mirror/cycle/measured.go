package cycle

// Measured fills the machine's times in from programs that were followed: what each takes
// over all its stations, in seconds without tool changes, and the tools that it calls one
// after the other.
type Measured struct {
	First, Steady, Last                float64
	FirstTools, SteadyTools, LastTools []int
	// Face and Back are the times of each side's own programs at one station, which call
	// the tools of First and Last.
	Face, Back float64
	Change     float64 // seconds for one tool change
}

// Changes counts tool changes. A tool that is in the spindle needs none (common
// practice), so each count begins with the tool that what ran before left there.
type Changes struct {
	First  int // after the last program of another batch
	Steady int // after a steady program
	Last   int // after a steady program
	// AfterFirst are those of the first steady program, Only those of a last program in a
	// batch that needs no steady one. Both follow First.
	AfterFirst, Only int
	Face, Back       int // at one station, after each other
}

// changes counts those of a program that begins with a tool in the spindle.
func changes(tool int, calls []int) (n int) {
	for _, t := range calls {
		if t != tool {
			n++
		}
		tool = t
	}
	return n
}

// Changes counts those of the programs. It follows the tool in the spindle through
// first, steady and last, and from batch to batch.
func (m Measured) Changes() Changes {
	end := func(calls []int) int { return calls[len(calls)-1] }
	first, steady, last := end(m.FirstTools), end(m.SteadyTools), end(m.LastTools)
	return Changes{
		First: changes(last, m.FirstTools), Steady: changes(steady, m.SteadyTools), Last: changes(steady, m.LastTools),
		AfterFirst: changes(first, m.SteadyTools), Only: changes(first, m.LastTools),
		Face: changes(last, m.FirstTools), Back: changes(first, m.LastTools),
	}
}

// Fill sets First, Steady, Last, SteadyMore, LastMore, BackPart, SingleFace and
// SingleBack. The steady program of ByStations cuts all faces as the first program does,
// then the backs, so what it takes beyond the first is its backs' part.
func (m Measured) Fill(q *Batch) {
	c := m.Changes()
	all := func(n int) float64 { return m.Change * float64(n) }
	q.First = m.First + all(c.First)
	q.Steady, q.SteadyMore = m.Steady+all(c.Steady), all(c.AfterFirst-c.Steady)
	q.Last, q.LastMore = m.Last+all(c.Last), all(c.Only-c.Last)
	q.BackPart = m.Steady - m.First + all(c.Only)
	q.SingleFace = m.Face + all(c.Face)
	q.SingleBack = m.Back + all(c.Back)
}

// On gives the same for another number of pairs: each cuts as long as the others, and
// the tools are called as often.
func (m Measured) On(pairs, of int) Measured {
	for _, s := range []*float64{&m.First, &m.Steady, &m.Last} {
		*s *= float64(pairs) / float64(of)
	}
	return m
}
