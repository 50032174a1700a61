package run

// Measured fills the machine's times in from programs that were followed: what
// each takes over all its stations, in seconds without tool changes, and how often
// each changes the tool.
type Measured struct {
	First, Steady, Last                      float64
	FirstChanges, SteadyChanges, LastChanges int

	// Face and Back are the same of each side's own programs at one station.
	// FaceChanges and BackChanges count from the tool that the other side ended
	// with.
	Face, Back               float64
	FaceChanges, BackChanges int

	// Wraps says that a steady cycle begins with the tool that the one before it
	// ended with. LastKeeps says the same of the last program.
	Wraps, LastKeeps bool

	Change float64 // seconds for one tool change
}

// Fill sets First, Steady, Last, BackPart, SingleFace and SingleBack. The steady
// program of ByStations cuts all faces as the first program does, then the backs,
// so what it takes beyond the first is its backs' part.
func (m Measured) Fill(q *Question) {
	change := func(n int) float64 { return m.Change * float64(n) }
	q.First = m.First + change(m.FirstChanges)
	q.Steady = m.Steady + change(m.SteadyChanges-b2i(m.Wraps))
	q.Last = m.Last + change(m.LastChanges-b2i(m.LastKeeps))
	q.BackPart = m.Steady - m.First + change(max(m.SteadyChanges-m.FirstChanges, 0))
	q.SingleFace = m.Face + change(m.FaceChanges)
	q.SingleBack = m.Back + change(m.BackChanges)
}
