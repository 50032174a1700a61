package mirror

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// slack is how far cuts may reach beyond the blank without a warning, in mm: an
// outline runs a cutter's radius outside it and leads in from further out. Beyond
// that, cuts that would fit if they were moved, or that lie beside the blank, mean
// another zero.
var slack = decimal.New(2, 0)

// lookedThrough notes a program's rapids below the surface, and its cuts there with the
// spindle stopped.
func lookedThrough(s *motion.Summary) []Note {
	var notes []Note
	if s.Stopped > 0 {
		notes = append(notes, Note{Level: fact.Warning, Line: s.StoppedLine, Is: SpindleStopped{Moves: s.Stopped}})
	}
	if s.Rapids > 0 {
		notes = append(notes, Note{Level: fact.Warning, Line: s.FirstRapid, Is: LowRapids{Moves: s.Rapids}})
	}
	return notes
}

// offBlank warns of cuts that don't lie on the blank: those that reach further over
// one edge than they stay inside the opposite one, or lie outside by more than half
// the blank.
func offBlank(o *Options, r *Report) []Note {
	if o.Blank == nil || !r.Summarised {
		return nil
	}
	var notes []Note
	for a, letter := range []string{"X", "Y"} {
		e := r.Before.Cut[a]
		if !e.Any {
			continue
		}
		// The extent of an arc may rest on a root: to 1e-6 mm it is as good as exact.
		least, greatest := decimal.NewFromFloat(e.Min).Round(6), decimal.NewFromFloat(e.Max).Round(6)
		left, right := transform.InMM(o.Blank[0][a], o.Map.Unit), transform.InMM(o.Blank[1][a], o.Map.Unit)
		under, over := left.Sub(least), greatest.Sub(right) // how far beyond each edge
		half := right.Sub(left).Div(decimal.New(2, 0))
		shifted := func(out, other decimal.Decimal) bool {
			return out.GreaterThan(slack) && (other.Neg().GreaterThanOrEqual(out) || out.GreaterThan(half))
		}
		if !shifted(under, over) && !shifted(over, under) {
			continue
		}
		notes = append(notes, Note{Level: fact.Warning, Is: OffBlank{Axis: letter, Least: least, Greatest: greatest, Left: left, Right: right, Unit: transform.MM}})
	}
	return notes
}
