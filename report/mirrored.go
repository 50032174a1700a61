package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
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
// of it, nil where it isn't known.
func LowestOf(s *motion.Summary, unit transform.Unit) *decimal.Decimal {
	z := s.All[2]
	if !z.Any {
		return nil
	}
	if unit == transform.Inch {
		z.Min /= 25.4
	}
	// To nine places first, so that the division's last bit costs no thousandth.
	low := decimal.NewFromFloat(z.Min).Round(9).RoundFloor(3)
	return &low
}

// MotionOf is a program's summary in unit; the interpreter gives millimetres.
func MotionOf(s *motion.Summary, unit transform.Unit) Motion {
	per := 1.0
	if unit == transform.Inch {
		per = 25.4
	}
	m := Motion{Known: s.Moves > 0, CutLength: s.CutLength / per, RapidLength: s.RapidLength / per, Seconds: s.Seconds,
		Deepest: s.Deepest / per, RapidsBelow: int(s.Rapids), FirstRapidLine: s.FirstRapid}
	for i, e := range s.Cut {
		m.Known = m.Known && e.Any
		m.Least[i], m.Greatest[i] = e.Min/per, e.Max/per
	}
	for i, e := range s.All {
		m.From[i], m.To[i], m.FromOK[i] = e.Min/per, e.Max/per, e.Any
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
			m.Offsets = append(m.Offsets, offsetName(o))
		}
	}
	return m
}
