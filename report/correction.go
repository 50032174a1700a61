package report

import (
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// Start is what a correction starts from: how the zero that the piece was cut with is
// known, and the line of the job that keeps a zero moved by so much from it and back
// programs turned by so many degrees, "" for none.
type Start struct {
	From string
	Keep func(moved registration.Point, turn decimal.Decimal) string
}

// LandedOf puts a correction into words. measured are the values it came from.
// g10 says that the control takes G10 L2, written that the turned programs are written, so
// that they are the cure.
func LandedOf(a *registration.Answer, measured []landed.Measurement, c *landed.Correction, start Start, g10, written bool) *Landed {
	unit := a.Question.Unit
	l := &Landed{Shift: c.Shift, Before: a.Second, From: start.From}
	for _, m := range measured {
		l.Measured = append(l.Measured, Measured{DX: m.Off.X, DY: m.Off.Y, At: m.At})
	}
	back := " for the back"
	if a.Second != nil {
		back += " at " + a.Second.Offset
	}
	way := func(do string, zero *registration.SecondZero, remains []registration.Point, most float64, program *decimal.Decimal) {
		w := Way{Do: do, Program: program, Zero: zero, Remains: remains, Most: Estimate(most)}
		if zero != nil && start.Keep != nil {
			z := correctedZero(*zero, unit)
			var turn decimal.Decimal
			if program != nil {
				turn = *program
			}
			w.Keep = start.Keep(registration.Point{X: z.X.Sub(a.Second.X), Y: z.Y.Sub(a.Second.Y)}, turn)
		}
		l.Ways = append(l.Ways, w)
	}
	way("", c.Zero, c.Remains, c.Greatest, nil)
	var moves []string
	for _, m := range c.Locators {
		if m.Factor == 0 || m.Move.IsZero() {
			continue
		}
		of := ""
		if m.Factor == 1 {
			of = back
		}
		moves = append(moves, "the "+m.Locator+of+" by "+capital(m.Axis)+words.Fine(m.Move, unit).String()+" "+unit.String()+words.Counts(m.Factor))
	}
	if len(moves) > 0 {
		way("move "+list(moves), c.MovesZero, c.Remains, c.Greatest, nil)
	}
	if t := c.Turn; t != nil && t.Clear {
		deg := Estimate(t.Angle * 180 / math.Pi)
		l.Turn = &deg
		l.Best = len(l.Ways) + t.Best
		if written {
			l.Best = len(l.Ways) + len(t.Cures) - 1
		}
		for _, k := range t.Cures {
			way(words.Cures(k, back, unit), k.Zero, t.Remain, t.Greatest, k.Program)
		}
	}
	if l.After = l.Ways[l.Best].Zero; l.After != nil && l.After.Machine && g10 {
		z := correctedZero(*l.After, unit)
		l.Line = cycle.Setting{Offset: z.Offset, X: z.X, Y: z.Y}.Line(unit)
	}
	l.Notes = factNotes(c.Facts)
	return l
}

// correctedZero is a zero after a test cut, with rounded lengths and without Z: that
// was touched off since it was reckoned, and the cut says nothing of it.
func correctedZero(z registration.SecondZero, unit transform.Unit) registration.SecondZero {
	z.X, z.Y, z.Z = words.Fine(z.X, unit), words.Fine(z.Y, unit), nil
	return z
}

func (s *Setup) correctionSection() Section {
	sec := Section{ID: "correction", Title: "Correction after the test cut"}
	l := s.Landed
	if l == nil {
		return sec
	}
	var rows [][2]string
	best := l.Ways[l.Best]
	if best.Do != "" {
		rows = append(rows, [2]string{"Do", best.Do})
	}
	if l.After != nil {
		rows = append(rows, [2]string{"Corrected zero", words.SecondZero(correctedZero(*l.After, s.Unit)) + alone(l)})
	}
	if l.Line != "" {
		rows = append(rows, [2]string{"As a block", l.Line + " (under G90 and " + map[transform.Unit]string{transform.MM: "G21", transform.Inch: "G20"}[s.Unit] + ")"})
	}
	if best.Keep != "" {
		rows = append(rows, [2]string{"In the job", best.Keep})
	}
	if l.Line != "" && best.Keep != "" && l.Offsets {
		rows = append(rows, [2]string{"Then", capital(newOffsets("offsets.nc"))})
	}
	if l.Before != nil {
		rows = append(rows, [2]string{"Started from", words.SecondZero(*l.Before) + ", " + l.From})
	}
	moved := registration.Point{X: l.Shift.X.Neg(), Y: l.Shift.Y.Neg()}
	if l.After != nil {
		moved = registration.Point{X: l.After.X.Sub(l.Before.X), Y: l.After.Y.Sub(l.Before.Y)}
	}
	rows = append(rows, [2]string{"Moved by", xy(words.FinePoint(moved, s.Unit))}, [2]string{"Leaves", "at most " + letters.Up(best.Most, 4) + " " + s.Unit.String() + " where it was measured"})
	if l.After != nil {
		rows = append(rows, [2]string{"Its Z", "as touched off"})
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows})
	if len(l.Ways) > 1 {
		sec.Blocks = append(sec.Blocks, s.waysTable(l))
	}
	sec.Blocks = append(sec.Blocks, s.measuredTable(l))
	if l.Turn != nil {
		sec.Blocks = append(sec.Blocks, Para{"warning", "the measurements show a turn of " + letters.Rounded(*l.Turn, 4) + " degrees, which no zero alone corrects"})
	}
	for _, n := range l.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

// newOffsets says what is run once a correction is in the job: its block now, and file, the
// offsets program made anew, only where all offsets are to be set again.
func newOffsets(file string) string {
	return "at the machine run the G10 block alone now. The new " + file + " has the correction. Run it only to set the offsets anew; touch off Z again."
}

// alone reminds that the first zero goes with locators that are left as they are.
func alone(l *Landed) string {
	if len(l.Ways) > 1 && l.Best == 0 {
		return ", the locators left as they are"
	}
	return ""
}

// waysTable lists the ways to correct, each with its own zero.
func (s *Setup) waysTable(l *Landed) Table {
	t := Table{Caption: "Other ways, one instead: each has its own zero", Why: true, Head: []string{"No", "Do", "Second zero", "Leaves"}, Right: []int{3}}
	for i, w := range l.Ways {
		if i == l.Best {
			continue
		}
		do, zero := w.Do, ""
		if do == "" {
			do = "the zero alone"
		}
		if w.Zero != nil {
			z := correctedZero(*w.Zero, s.Unit)
			zero = z.Offset + " " + xy(registration.Point{X: z.X, Y: z.Y})
			if w.Keep != "" {
				zero += "; in the job " + w.Keep
			}
		}
		t.Rows = append(t.Rows, []string{itoa(len(t.Rows) + 1), do, zero, letters.Up(w.Most, 4)})
	}
	return t
}

// measuredTable shows what was measured, and what the recommended way leaves there.
func (s *Setup) measuredTable(l *Landed) Table {
	t := Table{Caption: "Measured, the back's place minus the wanted one, and what remains, " + s.Unit.String(), Head: []string{"No", "At", "Right", "Away", "Left"}, Right: []int{2, 3}}
	left := l.Ways[l.Best].Remains
	for i, m := range l.Measured {
		at := "not given"
		if m.At != nil {
			at = xy(*m.At)
		}
		t.Rows = append(t.Rows, []string{itoa(i + 1), at, m.DX.String(), m.DY.String(), xy(words.FinePoint(left[i], s.Unit))})
	}
	return t
}
