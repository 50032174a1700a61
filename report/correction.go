package report

import (
	"slices"
	"strings"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

func (s *Setup) correctionSection() Section {
	sec := Section{ID: "correction", Title: "Correction after the test cut"}
	l := s.Landed
	if l == nil {
		return sec
	}
	var rows [][2]string
	if l.After != nil {
		rows = append(rows, [2]string{"Corrected zero", SecondZeroWords(correctedZero(*l.After, s.Unit)) + alone(l)})
	}
	if l.Line != "" {
		rows = append(rows, [2]string{"As a block", l.Line + " (under G90 and " + map[transform.Unit]string{transform.MM: "G21", transform.Inch: "G20"}[s.Unit] + ")"})
	}
	if w := l.Ways; len(w) > 0 && w[0].Keep != "" {
		rows = append(rows, [2]string{"In the job", w[0].Keep})
	}
	if l.Before != nil {
		rows = append(rows, [2]string{"Started from", SecondZeroWords(*l.Before) + ", " + l.From})
	}
	rows = append(rows, [2]string{"Moved by", xy(finePoint(registration.Point{X: l.Shift.X.Neg(), Y: l.Shift.Y.Neg()}, s.Unit))})
	if l.After != nil {
		rows = append(rows, [2]string{"Its Z", "as touched off"})
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows})
	if len(l.Ways) > 1 {
		sec.Blocks = append(sec.Blocks, s.waysTable(l))
	}
	sec.Blocks = append(sec.Blocks, s.measuredTable(l))
	if l.Turn != nil {
		sec.Blocks = append(sec.Blocks, Para{"warning", "the measurements show a turn of " + letters.Rounded(*l.Turn, 4) + " degrees, which no zero corrects" + turnCures(l)})
	}
	for _, n := range l.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

// alone reminds that the first zero goes with locators that are left as they are.
func alone(l *Landed) string {
	if len(l.Ways) > 1 {
		return ", the locators left as they are"
	}
	return ""
}

// turnCures numbers the ways that take a turn out.
func turnCures(l *Landed) string {
	var numbers []string
	for i, w := range l.Ways {
		if !slices.EqualFunc(w.Remains, l.Ways[0].Remains, samePoint) {
			numbers = append(numbers, itoa(i+1))
		}
	}
	if len(numbers) == 0 {
		return ""
	}
	return ": see " + strings.Join(numbers, " or ") + " above"
}

func samePoint(p, q registration.Point) bool { return p.X.Equal(q.X) && p.Y.Equal(q.Y) }

// waysTable lists the ways to correct, each with its own zero.
func (s *Setup) waysTable(l *Landed) Table {
	t := Table{Caption: "Choose one: each has its own zero", Head: []string{"No", "Do", "Second zero", "Leaves"}, Right: []int{3}}
	for i, w := range l.Ways {
		do, zero := w.Do, ""
		if do == "" {
			do = "the zero alone"
		}
		if w.Zero != nil {
			z := correctedZero(*w.Zero, s.Unit)
			zero = z.Offset + " " + xy(registration.Point{X: z.X, Y: z.Y})
			if i > 0 && w.Keep != "" {
				zero += "; in the job " + w.Keep
			}
		}
		t.Rows = append(t.Rows, []string{itoa(i + 1), do, zero, letters.Up(w.Most, 4)})
	}
	return t
}

// measuredTable shows what was measured, and what each way leaves there; ways that leave
// the same share a column.
func (s *Setup) measuredTable(l *Landed) Table {
	t := Table{Caption: "Measured, the back's place minus the wanted one, and what remains, " + s.Unit.String(), Head: []string{"No", "At", "Right", "Away"}, Right: []int{2, 3}}
	var columns [][]registration.Point
	var names []string
	for i, w := range l.Ways {
		if len(w.Remains) != len(l.Measured) {
			continue
		}
		k := slices.IndexFunc(columns, func(c []registration.Point) bool { return slices.EqualFunc(c, w.Remains, samePoint) })
		if k < 0 {
			columns, names = append(columns, w.Remains), append(names, itoa(i+1))
			continue
		}
		names[k] += ", " + itoa(i+1)
	}
	for _, n := range names {
		if len(l.Ways) == 1 {
			t.Head = append(t.Head, "Left")
			continue
		}
		t.Head = append(t.Head, "Left by "+n)
	}
	for i, m := range l.Measured {
		at := "not given"
		if m.At != nil {
			at = xy(*m.At)
		}
		row := []string{itoa(i + 1), at, m.DX.String(), m.DY.String()}
		for _, c := range columns {
			row = append(row, xy(finePoint(c[i], s.Unit)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
