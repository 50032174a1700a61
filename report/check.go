package report

import (
	"path/filepath"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/registration"
	"flipcalc/report/draw"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// SetCheck takes the result of cutting both sides in memory into the setup, with
// the maps for its pictures. least is the web asked for, nil for none.
func (s *Setup) SetCheck(r *cut.Result, least *decimal.Decimal) {
	s.Check = s.found(r, s.Answer)
	s.Check.Least = least
	if s.Drawings == nil {
		s.Drawings = &Drawings{}
	}
	v := r.Grid.View(draw.CutWide, draw.CutHigh, r.FlipX)
	s.Drawings.Web, s.Drawings.FaceTop, s.Drawings.BackTop = draw.GridOf(v.Web, v, s.Unit), draw.GridOf(v.Face, v, s.Unit), draw.GridOf(v.Back, v, s.Unit)
}

// AddPair takes in what the same programs do at a further pair of stations: its
// travel, and what is wrong there and not at the first.
func (s *Setup) AddPair(pair int, a *registration.Answer, r *cut.Result) {
	c := s.found(r, a)
	s.Check.Travel = append(s.Check.Travel, c.Travel...)
	for i, f := range c.Findings {
		switch r.Findings[i].(type) {
		case *cut.NoGoEntered, *cut.TravelExceeded, *cut.WrongOffset:
		default:
			same := func(o Finding) bool {
				return o.Text == f.Text && o.FaceLine == f.FaceLine && o.BackLine == f.BackLine
			}
			if slices.ContainsFunc(s.Check.Findings, same) {
				continue
			}
		}
		f.Text = "pair " + itoa(pair) + ": " + f.Text
		s.Check.Findings = append(s.Check.Findings, f)
	}
}

// found puts a result into words; a is the answer of the pair that was cut.
func (s *Setup) found(r *cut.Result, a *registration.Answer) *Check {
	k := 1 / s.Unit.MM()
	offsets := [2]string{"face", "back"}
	if a != nil {
		offsets[0] = a.Question.FaceOffset()
		if a.Second != nil {
			offsets[1] = a.Second.Offset
		}
	}
	in := func(mm float64) Estimate { return Estimate(mm * k) }
	at := func(x, y float64) Place { return Place{in(x), in(y)} }
	c := &Check{Cell: in(r.Grid.Cell), Bored: r.Bored, Indexed: r.Indexed, Blind: r.Outlines+len(r.BrokenThrough) == 0 && !r.Counted, HasWeb: r.Web.Any, WebMin: in(r.Web.Min), WebAt: at(r.Web.X, r.Web.Y)}
	if r.WorstWeb.Any && r.WorstWeb.Min != r.Web.Min {
		v := in(r.WorstWeb.Min)
		c.WebLess = &v
	}
	if t := r.Tabs; t.Count > 0 {
		c.Tabs = &Tabs{t.Count, in(t.Least), at(t.X, t.Y)}
	}
	for _, b := range r.BrokenThrough {
		c.Islands = append(c.Islands, Island{in(b.X), in(b.Y), in(b.Area * k), in(b.Overlap), Cuts{b.FaceFile, b.FaceLine, b.BackFile, b.BackLine}})
	}
	for _, t := range r.Through {
		c.Through = append(c.Through, Through{t.Kind, t.Both, in(t.X), in(t.Y), in(t.Overlap), in(t.Step), Cuts{t.FaceFile, t.FaceLine, t.BackFile, t.BackLine}})
	}
	for _, l := range r.Loose {
		file, line := l.Line()
		c.Loose = append(c.Loose, Loose{in(l.X), in(l.Y), in(l.Area * k), l.Side.String(), file, line})
	}
	for _, f := range r.Findings {
		w := f.At()
		place := letters.Rounded((w.X+r.FaceZero[0])*k, 2) + "," + letters.Rounded((w.Y+r.FaceZero[1])*k, 2)
		text, do := words.Finding(f, k, s.Unit.String(), s.metName(a, f), place)
		found := Finding{Code: f.Code(), Level: levels[f.Weight()], Hit: cut.Hit(f), Side: w.Side.String(),
			Cuts: Cuts{w.FaceFile, w.FaceLine, w.BackFile, w.BackLine}, Text: text, Do: do}
		if w.Placed {
			p := at(w.X, w.Y)
			found.Place = &p
		}
		if w.Elsewhere != nil {
			p := at(w.Elsewhere[0], w.Elsewhere[1])
			found.Back = &p
		}
		if w.Depth != 0 {
			depth := in(w.Depth)
			found.Depth = &depth
		}
		c.Findings = append(c.Findings, found)
	}
	for _, a := range r.Travel {
		// The nanometre covers the rounding of sums of decimals in binary.
		c.Travel = append(c.Travel, Travel{offsets[a.Side], words.Axis(a.Axis), in(a.LeftLow), in(a.LeftHigh), a.LeftLow >= -1e-6 && a.LeftHigh >= -1e-6, in(a.Room)})
	}
	c.Notes = slices.Concat(indexNote(r, a), throughNote(r, k), compensationNotes(r.Comp, k))
	return c
}

// OK reports whether check found nothing that forbids cutting. A nil check, which
// wasn't made, found nothing.
func (c *Check) OK() bool {
	if c == nil {
		return true
	}
	return len(c.Islands) == 0 && c.bad() == 0 &&
		!slices.ContainsFunc(c.Travel, func(t Travel) bool { return !t.OK })
}

// Verdict counts what makes the answer no, or says that nothing does; how many
// warnings and notes there are beside; and where nothing is wrong, that no outline goes through.
func (c *Check) Verdict() string {
	bad, warnings := c.bad(), 0
	says := "No fault found"
	if bad > 0 {
		says = plural(bad, "finding", "findings")
	}
	for _, n := range c.Notes {
		if n.Level == registration.LevelWarning {
			warnings++
		}
	}
	if warnings > 0 {
		says += ", " + plural(warnings, "warning", "warnings")
	}
	if notes := len(c.Findings) - bad; notes > 0 {
		says += ", " + plural(notes, "note", "notes")
	}
	switch {
	case bad > 0 || !c.Blind:
	case len(c.Through) > 0: // holes or openings
		says += ". No outline goes right through"
	default:
		says += ". Nothing goes right through"
	}
	return says
}

// bad is how many findings make the answer no.
func (c *Check) bad() (n int) {
	for _, f := range c.Findings {
		if f.Level != "note" {
			n++
		}
	}
	return n
}

// lineIn writes a line with its program, "face.nc:41"; "" for no line.
func lineIn(file string, line int) string {
	switch {
	case line <= 0:
		return ""
	case file == "":
		return strconv.Itoa(line)
	}
	return filepath.Base(file) + ":" + strconv.Itoa(line)
}

func (s *Setup) checkSection() Section {
	sec := Section{ID: "check", Title: "Cut in memory"}
	c := s.Check
	if c == nil {
		return sec
	}
	add := func(b ...Block) { sec.Blocks = append(sec.Blocks, b...) }
	unit := s.Unit.String()
	if bad := c.bad(); bad == 0 {
		add(Para{"", c.Verdict() + " (" + letters.Rounded(c.Cell, 4) + " " + unit + " grid). Still dry run."})
	} else {
		add(Para{"warning", c.Verdict() + ": don't cut before " + word(bad, "it is", "they are") + " dealt with."})
	}
	if len(c.Findings) > 0 {
		add(c.findingTables(unit)...)
	}
	if rows := c.rows(unit); len(rows) > 0 {
		add(Pairs{rows})
	}
	if s.Drawings != nil && s.Drawings.Web != nil {
		add(s.webFigure())
	}
	if len(c.Travel) > 0 {
		add(c.travelTable(unit))
	}
	for _, n := range c.Notes {
		add(notePara(n, s.Unit))
	}
	return sec
}

// findingTables say what was found, and where.
func (c *Check) findingTables(unit string) []Block {
	t := Table{Caption: "Findings", Head: []string{"No", "What", "What to do"}, Right: []int{0}}
	where := Table{Caption: "Where: X and Y of the face program, depth below the surface, " + unit + "; held and through count from near-left",
		Head: []string{"No", "X", "Y", "Depth", "Face line", "Back line"}, Right: []int{0, 1, 2, 3}}
	for i, f := range c.Findings {
		text := f.Text
		if f.Level == "note" {
			text = "note: " + text
		}
		t.Rows = append(t.Rows, []string{itoa(i + 1), text, f.Do})
		if f.Place == nil && f.Depth == nil && f.FaceLine <= 0 && f.BackLine <= 0 {
			continue // it has no place
		}
		row := []string{itoa(i + 1), "", "", "", lineIn(f.FaceFile, f.FaceLine), lineIn(f.BackFile, f.BackLine)}
		if f.Place != nil {
			row[1], row[2] = letters.Rounded(f.X, 2), letters.Rounded(f.Y, 2)
		}
		if f.Depth != nil {
			row[3] = letters.Rounded(*f.Depth, 3)
		}
		where.Rows = append(where.Rows, row)
	}
	if len(where.Rows) == 0 {
		return []Block{t}
	}
	return []Block{t, where}
}

// rows are the least web, the tabs and the cuts that go through.
func (c *Check) rows(unit string) (rows [][2]string) {
	if c.HasWeb {
		v := letters.Down(c.WebMin, 3) + " " + unit + " at X" + letters.Rounded(c.WebAt.X, 2) + " Y" + letters.Rounded(c.WebAt.Y, 2) + " of the face program"
		if c.Least != nil {
			v += "; " + c.Least.String() + " asked for"
		}
		rows = append(rows, [2]string{"Least web", v + ", without tabs and through cuts"})
		if c.WebLess != nil {
			rows = append(rows, [2]string{"Worst-case web", letters.Down(*c.WebLess, 3) + " " + unit})
		}
	}
	if t := c.Tabs; t != nil {
		v := plural(t.Count, "tab", "tabs") + ", the lowest "
		if t.Count == 1 {
			v = "1 tab, "
		}
		rows = append(rows, [2]string{"Tabs", v + letters.Down(t.Least, 3) + " " + unit + " high at X" + letters.Rounded(t.X, 2) + " Y" + letters.Rounded(t.Y, 2) + " of the face program"})
	}
	for i, t := range c.Through {
		how := "from one side"
		if t.Both {
			how = "from both sides, overlap " + letters.Down(t.Overlap, 3) + " " + unit
		}
		if letters.Rounded(t.Step, 3) != "0" {
			how += ", step " + letters.Up(t.Step, 3) + " " + unit
		}
		kind, frame := t.Kind, ""
		if i == 0 {
			frame = " of the face program"
		}
		if kind == "declared" {
			kind = "as given"
		}
		rows = append(rows, [2]string{firstOf(i, "Cut through"), kind + " at X" + letters.Rounded(t.X, 2) + " Y" + letters.Rounded(t.Y, 2) + frame + ", " + how})
	}
	return rows
}

// travelTable is what is left of the travel.
func (c *Check) travelTable(unit string) Table {
	t := Table{Caption: "Travel left, " + unit, Head: []string{"Offset", "Axis", "Low end", "High end", "Verdict"}, Right: []int{2, 3}}
	for _, tr := range c.Travel {
		ok := "ok"
		if !tr.OK {
			ok = "TOO FAR"
		}
		t.Rows = append(t.Rows, []string{tr.Station, tr.Axis, letters.Down(tr.Low, 3), letters.Down(tr.High, 3), ok})
	}
	return t
}

// firstOf names the first row of a kind and leaves the others open.
func firstOf(i int, name string) string {
	if i == 0 {
		return name
	}
	return ""
}
