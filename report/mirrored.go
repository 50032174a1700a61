package report

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
	"flipcalc/report/words"
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
		m.Notes = append(m.Notes, Note{Level: n.Level, File: in, Line: n.Line, Is: n.Is})
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
	straight := m.Map.X.Sign > 0 && m.Map.Y.Sign > 0
	for i, n := range m.Notes {
		if z, ok := n.Is.(mirror.ZeroHere); ok {
			m.Notes[i].Is = words.ZeroHere{ZeroHere: z, On: a, OnBack: back, Straight: straight}
		}
	}
}
