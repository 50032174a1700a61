package motion

import (
	"math"
	"slices"
)

// Extent is how far something reaches along one axis, in mm.
type Extent struct {
	Any      bool // something was known at all
	Min, Max float64
}

// Extents are the reaches along X, Y and Z.
type Extents [3]Extent

// ToolUse is what one tool did.
type ToolUse struct {
	Number    int // -1 before the first T word
	Line      int // of its first move
	CutLength float64
	Seconds   float64
}

// Summary is what a program does as a whole. Lengths are in mm, whatever the
// program's unit, and count known moves only.
type Summary struct {
	Blocks, Moves int64
	Stores        int64    // offsets stored, see Options.Stores
	All, Cut      Extents  // of all moves, of the cutting ones, arcs at their widest
	Across        []Across // rapid moves sideways, by height

	CutLength, RapidLength float64
	Seconds                float64 // feed and rapid, ramps included, tool changes not
	Tools                  []ToolUse
	Spindles               []int   // senses used while cutting: 1, -1, 0 for none
	Offsets                []int   // in order of first use; 0 where none was selected
	Units                  [2]bool // by transform.Unit: whether moves were made in it
	Deepest                float64 // below Options.Surface, of cutting moves
	Rapids                 int64   // rapid moves that end or run below Options.Surface sideways
	FirstRapid             int     // line of the first of them
	Assumed                []string
	Needs                  []StartNeed
	PresetLeft             bool // G92 still in force at the end
	Mismatches             int  // arcs whose radii differ by more than 0.002 mm or 0.0002 in
	FirstMismatch          int
	WorstMismatch          float64 // mm
	CompLine               int     // first move with G41 or G42; 0 if none
	UnknownZero            int     // first move that Track can't follow, counted from the program's own zero here; 0 if none
	Stopped                int64   // feed moves that end or start below Options.Surface with the spindle stopped, of a program that starts it
	StoppedLine            int     // line of the first of them
	Unturned               int     // line of the first cut of a program that never starts the spindle; 0 if none
	Reversed               int     // line of the first cut under M4, taps aside; 0 if none
	Unfed                  int     // line of the first cut before any F; 0 if none
	OtherLength            Number  // the H of G43 that a tool first cuts with and that isn't its own
	OtherRadius            Number  // the D of G41 or G42 likewise
	track                  Track
	clock                  clock
	surface                Num
	tool                   int   // index of the running tool
	hole                   Point // where a cycle fed to last
	holeLine               int   // in that line
}

// Number is the number of a length or radius that isn't the tool's, and where it was used;
// Line is 0 where there is none.
type Number struct{ Line, Number, Tool int }

func newSummary(o Options) *Summary {
	s := &Summary{tool: -1, surface: o.Surface}
	s.clock.rates = DefaultRates
	if o.Rates != nil {
		s.clock.rates = *o.Rates
	}
	return s
}

// widen takes a coordinate into an extent.
func (e *Extent) widen(v float64) {
	if !e.Any {
		*e = Extent{true, v, v}
	}
	e.Min, e.Max = min(e.Min, v), max(e.Max, v)
}

// add takes one move into account.
func (s *Summary) add(m *Move) {
	s.Moves++
	v, ok := s.track.In(m)
	if !ok && s.UnknownZero == 0 {
		s.UnknownZero = m.Line
	}
	if ok || m.Rotated {
		m = v
	}
	s.Units[m.State.Unit] = true
	feed := m.Kind != Rapid
	s.reach(&s.All, m)
	if feed {
		s.reach(&s.Cut, m)
	}
	if !m.Machine && !m.Home && !slices.Contains(s.Offsets, m.State.Offset) {
		s.Offsets = append(s.Offsets, m.State.Offset)
	}
	if feed && !slices.Contains(s.Spindles, m.State.Spindle) {
		s.Spindles = append(s.Spindles, m.State.Spindle)
	}
	if feed && m.State.Spindle == 0 && (s.below(m.From[2], m.FromOK[2], m) || s.below(m.To[2], m.ToOK[2], m)) {
		if s.Stopped++; s.Stopped == 1 {
			s.StoppedLine = m.Line
		}
	}
	if feed && !m.Either {
		s.settings(m)
	}
	if s.tool < 0 || s.Tools[s.tool].Number != m.State.Tool {
		s.useTool(m)
	}
	if m.State.Comp != 40 && s.CompLine == 0 {
		s.CompLine = m.Line
	}
	s.lowRapid(m)
	if !feed {
		s.across(m)
	}
	if feed && m.Cycle != 0 {
		s.hole, s.holeLine = m.To, m.Line
	}
	s.measure(m, feed)
}

// settings keeps the first cuts with a doubtful feed, sense, length or radius.
func (s *Summary) settings(m *Move) {
	first := func(line *int, is bool) {
		if is && *line == 0 {
			*line = m.Line
		}
	}
	first(&s.Unturned, true)
	first(&s.Unfed, m.State.Feed.IsZero())
	first(&s.Reversed, m.State.Spindle < 0 && m.Cycle != 740 && m.Cycle != 840)
	other := func(n *Number, number int) {
		if n.Line == 0 && number > 0 && m.State.Tool > 0 && number != m.State.Tool {
			*n = Number{m.Line, number, m.State.Tool}
		}
	}
	other(&s.OtherLength, m.State.Length)
	if d, whole := m.State.D.Int(); whole && m.State.Comp != 40 && m.State.CompBy == CompByNumber {
		other(&s.OtherRadius, int(d))
	}
}

// useTool opens the entry of the tool that runs now.
func (s *Summary) useTool(m *Move) {
	if s.tool = slices.IndexFunc(s.Tools, func(t ToolUse) bool { return t.Number == m.State.Tool }); s.tool < 0 {
		s.tool = len(s.Tools)
		s.Tools = append(s.Tools, ToolUse{Number: m.State.Tool, Line: m.Line})
	}
}

// below says whether a known Z of a move lies below the surface.
func (s *Summary) below(z Num, known bool, m *Move) bool {
	return known && z.mm(m.State.Unit).Cmp(s.surface) < 0
}

// lowRapid counts rapid moves that go sideways below the surface, or down to below it
// but for those between the pecks of a hole.
func (s *Summary) lowRapid(m *Move) {
	if m.Kind != Rapid || m.Machine || !s.below(m.To[2], m.ToOK[2], m) {
		return
	}
	if m.FromOK[2] && m.From[2].Cmp(m.To[2]) < 0 && m.From[0].Equal(m.To[0]) && m.From[1].Equal(m.To[1]) {
		return // straight up
	}
	if (m.Cycle == 730 || m.Cycle == 830) && m.Line == s.holeLine && m.To[0].Equal(s.hole[0]) && m.To[1].Equal(s.hole[1]) && m.To[2].Cmp(s.hole[2]) >= 0 {
		return // back to the next peck, in the hole
	}
	s.Rapids++
	if s.FirstRapid == 0 {
		s.FirstRapid = m.Line
	}
}

// Across is where rapid moves go sideways at one height, in mm: the places, and whether they
// come from elsewhere.
type Across struct {
	Z         float64
	At        [2]Extent
	Elsewhere bool
}

// mostHeights is how many heights are kept apart; more are taken as the lowest of the rest.
const mostHeights = 16

// across takes a rapid move that goes sideways at a known height into account.
func (s *Summary) across(m *Move) {
	from := m.FromOK[0] && m.FromOK[1]
	if m.Machine || !m.ToOK[2] || from && m.From[0].Equal(m.To[0]) && m.From[1].Equal(m.To[1]) {
		return
	}
	unit := m.State.Unit
	z := m.To[2].mm(unit).Float()
	if m.FromOK[2] {
		z = min(z, m.From[2].mm(unit).Float())
	}
	i := slices.IndexFunc(s.Across, func(a Across) bool { return a.Z == z })
	switch {
	case i >= 0:
	case len(s.Across) < mostHeights:
		i, s.Across = len(s.Across), append(s.Across, Across{Z: z})
	default:
		i = mostHeights - 1
		s.Across[i].Z = min(s.Across[i].Z, z)
	}
	on := &s.Across[i]
	on.Elsewhere = on.Elsewhere || !from
	for axis := range on.At {
		for _, at := range []struct {
			v  Num
			ok bool
		}{{m.From[axis], m.FromOK[axis]}, {m.To[axis], m.ToOK[axis]}} {
			if at.ok {
				on.At[axis].widen(at.v.mm(unit).Float())
			}
		}
	}
}

// Crossing gives the least Z, in mm, at which rapid moves go sideways beyond where the program
// cuts; ok is false where none does.
func (s *Summary) Crossing() (z float64, ok bool) {
	for _, a := range s.Across {
		beyond := a.Elsewhere
		for axis, e := range a.At {
			beyond = beyond || e.Any && (e.Min < s.Cut[axis].Min || e.Max > s.Cut[axis].Max)
		}
		if beyond && (!ok || a.Z < z) {
			z, ok = a.Z, true
		}
	}
	return z, ok
}

// reach takes the places that a move touches into extents. A start counts where
// the tool cuts away from it, not where a rapid leaves it: it was another move's
// end.
func (s *Summary) reach(e *Extents, m *Move) {
	if m.Machine {
		return
	}
	unit, mm := m.State.Unit, m.State.Unit.MM()
	for i := range 3 {
		if m.ToOK[i] {
			e[i].widen(m.To[i].mm(unit).Float())
		}
		if m.FromOK[i] && m.Kind != Rapid {
			e[i].widen(m.From[i].mm(unit).Float())
		}
	}
	if m.Kind == Spline {
		for _, p := range m.sample() {
			for i := range 2 {
				if m.FromOK[i] && m.ToOK[i] {
					e[i].widen(p[i] * mm)
				}
			}
		}
	}
	if !m.Circular() {
		return
	}
	centre, radius, sweep, ok := m.Arc()
	if !ok {
		return
	}
	first, second, _ := m.axes()
	start := math.Atan2(m.From[second].Float()-centre[1], m.From[first].Float()-centre[0])
	for q := range 4 {
		if !passes(start, sweep, float64(q)*math.Pi/2) {
			continue
		}
		axis, k, sign := first, 0, 1.0
		if q%2 == 1 {
			axis, k = second, 1
		}
		if q >= 2 {
			sign = -1
		}
		if m.FromOK[axis] {
			e[axis].widen((centre[k] + sign*radius) * mm)
		}
	}
}

// passes reports whether an arc from angle start over sweep passes angle at.
func passes(start, sweep, at float64) bool {
	if math.Abs(sweep) >= 2*math.Pi {
		return true
	}
	d := at - start
	if sweep < 0 {
		d, sweep = -d, -sweep
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d <= sweep
}

// measure adds a move's length and time.
func (s *Summary) measure(m *Move, feed bool) {
	l, ok := m.Length()
	if !ok {
		s.clock.stop()
		return
	}
	mm := m.State.Unit.MM()
	l *= mm
	tool := &s.Tools[s.tool]
	start, end := m.directions()
	if !feed {
		s.clock.stop()
		s.RapidLength += l
		v, a := s.clock.limit(start)
		t := Ramp(l, v, a)
		s.clock.seconds += t
		tool.Seconds += t
		return
	}
	s.CutLength += l
	tool.CutLength += l
	if l == 0 {
		return
	}
	v := s.speed(m, l, mm)
	if v <= 0 {
		return
	}
	_, a := s.clock.limit(start)
	if m.Circular() {
		first, second, _ := m.axes()
		a = math.Min(s.clock.rates.Acceleration[first], s.clock.rates.Acceleration[second])
	}
	before := s.clock.seconds + Ramp(s.clock.run, s.clock.speed, s.clock.accel)
	s.clock.add(l, v, a, start, end)
	t := s.clock.seconds + Ramp(s.clock.run, s.clock.speed, s.clock.accel) - before
	tool.Seconds += t
}

// speed gives a feed move's programmed speed in mm/s.
func (s *Summary) speed(m *Move, l, mm float64) float64 {
	f := m.State.Feed.Float()
	switch m.State.FeedMode {
	case 93:
		return l * f / 60
	case 95:
		return f * mm * m.State.Speed.Float() / 60
	}
	return f * mm / 60
}

// directions gives unit vectors along the move at its start and end.
func (m *Move) directions() (start, end [3]float64) {
	if m.Circular() {
		centre, radius, sweep, ok := m.Arc()
		if !ok || radius == 0 {
			return start, end
		}
		first, second, normal := m.axes()
		rise := m.To[normal].Float() - m.From[normal].Float()
		turn := func(p *Point) (d [3]float64) {
			sign := math.Copysign(1, sweep)
			d[first] = -sign * (p[second].Float() - centre[1]) / radius
			d[second] = sign * (p[first].Float() - centre[0]) / radius
			d[normal] = rise / (radius * math.Abs(sweep))
			return unit(d)
		}
		return turn(&m.From), turn(&m.To)
	}
	var d [3]float64
	for i := range 3 {
		d[i] = m.To[i].Float() - m.From[i].Float()
	}
	d = unit(d)
	return d, d
}

// unit gives d at length 1.
func unit(d [3]float64) [3]float64 {
	l := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
	if l == 0 {
		return d
	}
	return [3]float64{d[0] / l, d[1] / l, d[2] / l}
}

// close takes what the machine knows at the end.
func (s *Summary) close(m *Machine) {
	s.clock.stop()
	s.Seconds = s.clock.seconds
	s.Assumed = m.assumed
	s.Needs = m.needs
	s.Mismatches, s.FirstMismatch, s.WorstMismatch = m.mismatches, m.firstMismatch, m.worstMismatch
	s.PresetLeft = m.PresetLeft()
	if m.started {
		s.Unturned = 0
	} else {
		s.Stopped, s.StoppedLine = 0, 0 // it is switched by hand
	}
	if s.Cut[2].Any {
		s.Deepest = max(0, s.surface.Float()-s.Cut[2].Min)
	}
}
