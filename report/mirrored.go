package report

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// MirroredOf says what the mirror did to a program, in the job's unit. in and out
// name the two files.
func MirroredOf(in, out string, r *mirror.Report, unit transform.Unit) Mirrored {
	m := Mirrored{In: in, Out: out, Blocks: r.Blocks, Moves: r.Moves, Map: r.Map, Inserted: r.InsertedOffset,
		Before: MotionOf(&r.Before, unit), After: MotionOf(&r.After, unit)}
	if unit == transform.Inch {
		m.Map = r.InchMap
	}
	for _, n := range r.Notes {
		m.Notes = append(m.Notes, Note{Code: n.Code, Level: string(n.Level), File: in, Line: n.Line, Values: n.Values})
	}
	return m
}

// LowestOf is the least Z that a program goes to, in unit and rounded down to 0.001
// of it, nil where it isn't known: a zero set by G92 at an unknown place hides it.
func LowestOf(s *motion.Summary, unit transform.Unit) *decimal.Decimal {
	z := s.All[2]
	if !z.Any || s.UnknownZero > 0 {
		return nil
	}
	z.Min /= unit.MM()
	// To nine places first, so that the division's last bit costs no thousandth.
	low := decimal.NewFromFloat(z.Min).Round(9).RoundFloor(3)
	return &low
}

// MotionOf is a program's summary in unit; the interpreter gives millimetres.
func MotionOf(s *motion.Summary, unit transform.Unit) Motion {
	per := unit.MM()
	m := Motion{Known: s.Moves > 0, CutLength: Estimate(s.CutLength / per), RapidLength: Estimate(s.RapidLength / per), Seconds: Estimate(s.Seconds),
		Deepest: Estimate(s.Deepest / per), RapidsBelow: int(s.Rapids), FirstRapidLine: s.FirstRapid}
	for i, e := range s.Cut {
		m.Known = m.Known && e.Any
		m.Least[i], m.Greatest[i] = Estimate(e.Min/per), Estimate(e.Max/per)
	}
	for i, e := range s.All {
		m.From[i], m.To[i], m.FromOK[i] = Estimate(e.Min/per), Estimate(e.Max/per), e.Any
	}
	for _, sense := range s.Spindles {
		m.Spindles = append(m.Spindles, map[int]string{1: "M3", -1: "M4", 0: "M5"}[sense])
	}
	for _, t := range s.Tools {
		if t.Number >= 0 {
			m.Tools = append(m.Tools, t.Number)
		}
	}
	for _, o := range s.Offsets {
		if o != 0 {
			m.Offsets = append(m.Offsets, transform.OffsetName(o))
		}
	}
	return m
}

func (s *Setup) mirrorSection() Section {
	sec := Section{ID: "mirrored", Title: "Mirrored programs"}
	for i := range s.Mirrors {
		m := &s.Mirrors[i]
		rows := [][2]string{
			{"Program", m.In + " to " + m.Out},
			{"Transform", m.Map.String()},
			{"Proved", plural(int(m.Blocks), "block", "blocks") + ", " + plural(int(m.Moves), "move", "moves")},
		}
		if m.Inserted != "" {
			rows = append(rows, [2]string{"Added", "one block with " + m.Inserted})
		}
		sec.Blocks = append(sec.Blocks, Pairs{rows})
		if m.Before.Known && m.After.Known {
			t := Table{Caption: "Cutting moves, and all with the rapids, " + s.Unit.String(), Head: []string{"Program", "X", "Y", "Z", "Cut", "Rapid", "Time"}, Right: []int{4, 5}}
			for _, side := range []struct {
				name string
				m    Motion
			}{{"as it was", m.Before}, {"mirrored", m.After}} {
				t.Rows = append(t.Rows, motionRow(side.name, side.m))
			}
			t.Rows = append(t.Rows, reachRow("rapids too", m.Before), reachRow("mirrored", m.After))
			calls := Table{Caption: "Depth below the surface, and what is called, " + s.Unit.String(), Right: []int{1, 5},
				Head: []string{"Program", "Deepest cut", "Tools", "Spindle", "Offset", "Rapids below"}}
			calls.Rows = append(calls.Rows, callsRow("as it was", m.Before), callsRow("mirrored", m.After))
			sec.Blocks = append(sec.Blocks, t, calls)
		}
		for _, n := range m.Notes {
			if !idle(n) {
				sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
			}
		}
	}
	return sec
}

func motionRow(name string, m Motion) []string {
	row := []string{name}
	for i := range 3 {
		row = append(row, letters.Rounded(m.Least[i], 3)+" to "+letters.Rounded(m.Greatest[i], 3))
	}
	return append(row, letters.Rounded(m.CutLength, 1), letters.Rounded(m.RapidLength, 1), letters.Duration(m.Seconds))
}

// reachRow says how far all moves go.
func reachRow(name string, m Motion) []string {
	row := []string{name}
	for i := range 3 {
		text := "not known"
		if m.FromOK[i] {
			text = letters.Rounded(m.From[i], 3) + " to " + letters.Rounded(m.To[i], 3)
		}
		row = append(row, text)
	}
	return append(row, "", "", "")
}

// callsRow says what a program calls, how deep it cuts, and how often it goes below the
// surface in rapid.
func callsRow(name string, m Motion) []string {
	tools := ""
	for _, t := range m.Tools {
		tools += " T" + itoa(t)
	}
	or := func(list string) string {
		if list == "" {
			return "none"
		}
		return list
	}
	return []string{name, letters.Rounded(m.Deepest, 3), or(strings.TrimSpace(tools)), or(strings.Join(m.Spindles, " ")), or(strings.Join(m.Offsets, " ")), itoa(m.RapidsBelow)}
}

// StartOn says for every G92 that the program begins with where on the blank the
// tool must stand then. back is false for a program that runs on the face.
func (m *Mirrored) StartOn(a *registration.Answer, back bool) {
	plain := m.Map.X.Sign > 0 && m.Map.Y.Sign > 0
	for i := range m.Notes {
		n := &m.Notes[i]
		v := n.Values
		if n.Code != mirror.ZeroHere || len(v) < 4 {
			continue
		}
		at, err := decimal.NewFromString(v[2])
		if err != nil {
			continue
		}
		place := startWords(v[0], at, v[3], back)
		if edge := startEdge(v[0], at, v[3], a, back); edge != "" {
			place += ", " + edge
		}
		if plain && v[1] == v[2] {
			n.Text = "G92 calls the tool's place " + v[0] + v[2] + " (" + v[3] + "): before the start the tool must stand " + place
			continue
		}
		n.Text = "G92 calls the tool's place " + v[0] + v[1] + " on the face, " + v[0] + v[2] + " (" + v[3] +
			") on the back: before the back starts, the tool must stand at the mirror image of the face's start, " + place
	}
}

// startWords says where a coordinate of a program lies from its zero.
func startWords(axis string, at decimal.Decimal, unit string, back bool) string {
	zero := " the " + sideOf(back) + " zero"
	way := map[string][2]string{"X": {"to the right of", "to the left of"}, "Y": {"away from you from", "towards you from"}, "Z": {"above", "below"}}[axis]
	if at.IsZero() {
		return "level with" + zero
	}
	word := way[0]
	if at.IsNegative() {
		word = way[1]
	}
	return at.Abs().String() + " " + unit + " " + word + zero
}

// startEdge names the edge of the blank on which a coordinate of a program lies, ""
// if it lies on none.
func startEdge(axis string, at decimal.Decimal, unit string, a *registration.Answer, back bool) string {
	u := a.Question.Unit
	if axis == "Z" {
		return ""
	}
	from := transform.MM
	if unit == transform.Inch.String() {
		from = transform.Inch
	}
	at, exact := transform.Convert(at, from, u, 0)
	if !exact {
		return ""
	}
	zero, size := a.FaceZero, a.Used
	if back {
		zero = a.BackZero
	}
	p, whole, names := zero.X.Add(at), size.W, [2]registration.Side{registration.Left, registration.Right}
	if axis == "Y" {
		p, whole, names = zero.Y.Add(at), size.H, [2]registration.Side{registration.Near, registration.Far}
	}
	switch {
	case p.IsZero():
		return "over the blank's " + names[0].String() + " edge as it then lies"
	case p.Equal(whole):
		return "over the blank's " + names[1].String() + " edge as it then lies"
	case p.Add(p).Equal(whole):
		return "over the middle between the blank's " + names[0].String() + " and " + names[1].String() + " edges"
	}
	return ""
}
