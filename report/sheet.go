package report

import (
	"cmp"
	"slices"
	"strings"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// Name is what the sheet is headed with.
func (s *Setup) Name() string {
	if s.Title != "" {
		return s.Title
	}
	if s.Job != "" {
		return s.Job
	}
	return "Second side"
}

// text gives the sections without their drawings, which cost more than all the rest.
func (s *Setup) text() []Section {
	plain := *s
	plain.undrawn = true
	return plain.Sections()
}

// Sections gives the sheet's sections in reading order; empty ones are left out.
func (s *Setup) Sections() []Section {
	var out []Section
	for _, f := range []func() Section{
		s.answerSection,
		s.correctionSection,
		s.fitSection,
		s.cautionSection,
		s.stationSection,
		s.offsetSection,
		s.touchOffSection,
		s.checkSection,
		s.stepSection,
		s.planSection,
		s.programSection,
		s.toolSection,
		s.mirrorSection,
		s.budgetSection,
		s.noteSection,
	} {
		if sec := f(); len(sec.Blocks) > 0 {
			out = append(out, sec)
		}
	}
	return out
}

func (s *Setup) answerSection() Section {
	sec := Section{ID: "answer", Title: "The answer"}
	a := s.Answer
	if a == nil {
		return sec
	}
	q := a.Question
	unit := s.Unit.String()
	var rows [][2]string
	row := func(name, value string) {
		if value != "" {
			rows = append(rows, [2]string{name, value})
		}
	}
	switch {
	case a.Second != nil:
		row("Second zero", SecondZeroWords(*a.Second)+s.touchedZ())
	case q.Register == registration.NoRegister:
		row("Second zero", "not known: no register was given")
	}
	row("Back program", a.Transform.String())
	row("Arcs", arcWords(a.Transform))
	row("Turn", "flip "+q.Flip.String()+": "+FlipWords(q.Flip))
	blank := size(a.Used) + " " + unit
	if s.Material != "" {
		blank += ", " + s.Material
	}
	if q.Measured != nil && q.Stock != nil {
		blank += " (measured; nominal " + size(*q.Stock) + ")"
	}
	row("Blank", blank)
	if a.NominalZero != nil {
		row("For nominal size", SecondZeroWords(*a.NominalZero)+", with a back program mirrored for the nominal blank")
	}
	row("Register", registerWords(q))
	offset := q.Offset
	if offset == "" {
		offset = "G54"
	}
	face := offset + ", " + zeroWords(q.Zero, a.FaceZero)
	if a.FaceAt != nil {
		face += "; machine " + xyz(a.FaceAt.X, a.FaceAt.Y, a.FaceAt.Z)
	}
	row("Face zero", face+"; Z0 is "+zZeroWords(q.ZZero))
	back := zeroWords(q.BackZero, a.BackZero) + "; Z0 is " + zZeroWords(q.BackZZero)
	if a.Second != nil {
		back = a.Second.Offset + ", " + back
	}
	row("Back zero", back)
	row("Blank's corner, face", xy(a.FaceCorner)+" ("+frameWords(a.FaceMachine)+")")
	if a.BackCorner != nil {
		row("Blank's corner, back", xy(*a.BackCorner)+" ("+frameWords(a.Machine)+")")
	}
	if a.PlugAt != nil {
		row("Plug, back", xy(*a.PlugAt)+" ("+frameWords(a.Machine)+")")
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows})
	if s.Drawings != nil {
		sec.Blocks = append(sec.Blocks, s.turnFigure())
	}
	for _, t := range a.Touches {
		level := "note"
		if !t.SameEdge {
			level = "warning"
		}
		sec.Blocks = append(sec.Blocks, Para{level, TouchWords(t)})
	}
	if a.Lie != nil {
		t := Table{Caption: "Touches, " + unit, Head: []string{"Touch", "Of", "At", "Left over", "Explained"}, Right: []int{0, 3, 4}}
		for i, l := range a.Lie.Touches {
			t.Rows = append(t.Rows, []string{itoa(i + 1), l.Spot.Name(), xy(l.Spot.At), l.By.String(), l.Limit.String()})
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	if len(a.LayUps) > 0 {
		t := Table{Caption: "Ways to lay the blank on its dowels", Head: []string{"Lay-up", "On the dowels"}}
		for _, l := range a.LayUps {
			name := l.Name
			if l.Wanted {
				name += " (wanted)"
			}
			t.Rows = append(t.Rows, []string{name, LayUpWords(l, s.Unit)})
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	for _, side := range []struct {
		name    string
		pins    []registration.Pin
		machine bool
	}{{"face", a.FacePins, a.FaceMachine}, {"back", a.BackPins, a.Machine}} {
		if len(side.pins) == 0 || side.name == "back" && q.BackPin == nil {
			continue
		}
		t := Table{Caption: "Dowels at the " + side.name + " station, " + unit + ", " + frameWords(side.machine), Head: []string{"Hole", "X", "Y", "Dia"}, Right: []int{0, 1, 2, 3}}
		if q.BackPin == nil {
			t.Caption = "Dowels for both sides, " + unit + ", " + frameWords(side.machine)
		}
		for i, p := range side.pins {
			dia := ""
			if !p.Dia.IsZero() {
				dia = p.Dia.String()
			}
			t.Rows = append(t.Rows, []string{itoa(i + 1), p.At.X.String(), p.At.Y.String(), dia})
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	for _, level := range []string{"warning", "caution", "note", "assumed"} {
		for _, f := range a.Facts {
			if f.Level == level && !saidByTouch(a, f) {
				sec.Blocks = append(sec.Blocks, Para{f.Level, FactWords(f, s.Unit)})
			}
		}
	}
	return sec
}

// saidByTouch reports whether a touch says already what the fact says.
func saidByTouch(a *registration.Answer, f registration.Fact) bool {
	return len(a.Touches) > 0 && (f.Code == registration.FactSameEdge || f.Code == registration.FactOtherEdge)
}

func (s *Setup) fitSection() Section {
	sec := Section{ID: "fit", Title: "Fit of dowels or plug"}
	p := s.Pins
	if p == nil {
		return sec
	}
	if p.Layout != nil || p.Stud != nil || p.Index != nil {
		sec.Blocks = s.fitBlocks(p)
		return sec
	}
	unit := s.Unit.String()
	var rows [][2]string
	row := func(name, value string) {
		if value != "" {
			rows = append(rows, [2]string{name, value})
		}
	}
	if !p.Pin.IsZero() {
		row("Dowel", p.Pin.String()+" "+unit+" dia")
	}
	row("Fit", p.Fit)
	if p.Fit != "" || !p.Least.IsZero() || !p.Most.IsZero() {
		row("Clearance on the diameter", p.Least.String()+" to "+p.Most.String()+" "+unit+fitWords(p))
	}
	if p.Foolproof {
		row("Foolproof", "yes: no wrong lay-up goes on")
	} else {
		row("Foolproof", "no: a wrong lay-up goes on")
		row("Cure", p.Cure)
	}
	row("Drilling program", p.Program)
	sec.Blocks = append(sec.Blocks, Pairs{rows})
	return sec
}

func fitWords(p *PinFit) string {
	switch {
	case p.Least.IsZero() && p.Most.IsZero():
		return " (the same size: it can be tight)"
	case p.Most.Sign() <= 0:
		return " (always tight: pressed in)"
	case p.Least.IsNegative():
		return " (may be tight or loose)"
	}
	return " (always loose)"
}

func (s *Setup) stationSection() Section {
	sec := Section{ID: "stations", Title: "Stations"}
	if len(s.Stations) == 0 {
		if s.Drawings != nil && s.Answer != nil && s.Answer.Machine {
			sec.Title = "On the bed"
			sec.Blocks = append(sec.Blocks, s.bedFigure())
		}
		return sec
	}
	if s.Drawings != nil {
		sec.Blocks = append(sec.Blocks, s.bedFigure())
	}
	t := Table{Caption: "Zero and near-left corner in machine coordinates, " + s.bedUnit().String(),
		Head: []string{"Pair", "Side", "Offset", "X0", "Y0", "Z0", "Corner X", "Corner Y", "Lies"}, Right: []int{0, 3, 4, 5, 6, 7}}
	for _, st := range s.Stations {
		z := "touch off"
		if st.Zero.Z != nil {
			z = st.Zero.Z.String()
		}
		lies := "straight"
		if st.Turned {
			lies = "turned"
		}
		t.Rows = append(t.Rows, []string{itoa(st.Pair), st.Side, st.Offset, st.Zero.X.String(), st.Zero.Y.String(), z,
			st.Corner.X.String(), st.Corner.Y.String(), lies})
	}
	sec.Blocks = append(sec.Blocks, t)
	sec.Blocks = append(sec.Blocks, s.levelBlocks()...)
	if s.ClearZ != nil {
		sec.Blocks = append(sec.Blocks, Para{"", "Clear height between stations: machine Z" + s.ClearZ.String() + " " + s.bedUnit().String() + ". After a change of offset X and Y move first."})
	}
	return sec
}

// touchedZ follows the second zero where its Z isn't stored: what is expected.
func (s *Setup) touchedZ() string {
	if s.Answer.Question.Lengths != registration.LengthsCalled || !s.Answer.Machine {
		return ""
	}
	if z := s.Reading[1]; z != nil {
		return ". Z: touch off, expect machine Z" + z.String()
	}
	return ". Z: touch off"
}

// levelBlocks say what the stations' Z rests on: lengths from the spindle nose.
func (s *Setup) levelBlocks() []Block {
	if s.Level == nil || s.Reading[0] == nil {
		return nil
	}
	l := s.Level
	parts := "table " + l.Table.String() + ", stick-out " + l.StickOut.String() + ", seat " + l.Seat.String()
	if l.Thick != nil {
		parts += ", thickness " + l.Thick.String()
	}
	text := "expect machine Z" + s.Reading[0].String() + " touching off " + s.Stations[0].Offset + ": " + parts
	if z := s.Stations[0].Zero.Z; z != nil && !z.Equal(*s.Reading[0]) {
		text += "; its offset stores Z" + z.String() + ", without the tool"
	}
	blocks := []Block{Para{"note", text}}
	if l.Seat.IsZero() && l.BackSeat.IsZero() && !l.SeatSaid {
		blocks = append(blocks, Para{"assumed", "seat height assumed 0, the machine file's table; with a plate or spoilboard on it give seat"})
	}
	return blocks
}

func (s *Setup) offsetSection() Section {
	sec := Section{ID: "offsets", Title: "Offsets"}
	if over := s.Overwritten(); len(over) > 0 && s.Checklist {
		t := Table{Caption: "Old values to note first: they are overwritten", Head: []string{"Offset", "Old X", "Old Y", "Old Z"}}
		for _, o := range over {
			t.Rows = append(t.Rows, []string{o, "", "", ""})
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	if s.Machine != nil && len(s.Machine.Taken) > 0 {
		var names []string
		for _, t := range s.Machine.Taken {
			names = append(names, t.Offset)
		}
		sec.Blocks = append(sec.Blocks, Para{"note", "Don't touch " + list(names) + ": other fixtures."})
	}
	if len(s.Lines) > 0 {
		title := "Offsets program"
		if s.LinesFile != "" {
			title += " (" + s.LinesFile + ")"
		}
		sec.Blocks = append(sec.Blocks, Para{"", title + ":"}, Code{s.Lines})
	}
	return sec
}

func belong(n int) string {
	if n == 1 {
		return " belongs"
	}
	return " belong"
}

func (s *Setup) checkSection() Section {
	sec := Section{ID: "check", Title: "Cut in memory"}
	c := s.Check
	if c == nil {
		return sec
	}
	unit := s.Unit.String()
	bad := 0
	for _, f := range c.Findings {
		if f.Level != "note" {
			bad++
		}
	}
	if bad == 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "No fault found (" + letters.Rounded(c.Cell, 4) + " " + unit + " grid). Still dry run."})
	} else {
		sec.Blocks = append(sec.Blocks, Para{"warning", plural(bad, "finding", "findings") + ": don't cut before " + word(bad, "it is", "they are") + " dealt with."})
	}
	if len(c.Findings) > 0 {
		t := Table{Caption: "Findings", Head: []string{"No", "What", "What to do"}, Right: []int{0}}
		where := Table{Caption: "Where: X and Y of the face program, depth below the surface, " + unit + "; held and through count from near-left",
			Head: []string{"No", "X", "Y", "Depth", "Face line", "Back line"}, Right: []int{0, 1, 2, 3}}
		for i, f := range c.Findings {
			text := f.Text
			if f.Level == "note" {
				text = "note: " + text
			}
			t.Rows = append(t.Rows, []string{itoa(i + 1), text, f.Do})
			row := []string{itoa(i + 1), "", "", "", lineIn(f.FaceFile, f.FaceLine), lineIn(f.BackFile, f.BackLine)}
			if f.Place != nil {
				row[1], row[2] = letters.Rounded(f.X, 2), letters.Rounded(f.Y, 2)
			}
			if f.Depth != nil {
				row[3] = letters.Rounded(*f.Depth, 3)
			}
			where.Rows = append(where.Rows, row)
		}
		sec.Blocks = append(sec.Blocks, t, where)
	}
	var rows [][2]string
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
	if len(rows) > 0 {
		sec.Blocks = append(sec.Blocks, Pairs{rows})
	}
	if s.Drawings != nil && s.Drawings.Web != nil {
		sec.Blocks = append(sec.Blocks, s.webFigure())
	}
	if len(c.Travel) > 0 {
		t := Table{Caption: "Travel left, " + unit, Head: []string{"Offset", "Axis", "Low end", "High end", "Verdict"}, Right: []int{2, 3}}
		for _, tr := range c.Travel {
			ok := "ok"
			if !tr.OK {
				ok = "TOO FAR"
			}
			t.Rows = append(t.Rows, []string{tr.Station, tr.Axis, letters.Rounded(tr.Low, 3), letters.Rounded(tr.High, 3), ok})
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	for _, n := range c.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

// firstOf names the first row of a kind and leaves the others open.
func firstOf(i int, name string) string {
	if i == 0 {
		return name
	}
	return ""
}

func (s *Setup) stepSection() Section {
	sec := Section{ID: "steps", Title: "Steps at the machine"}
	steps := s.Steps()
	for i := 0; i < len(steps); {
		j := i
		for j < len(steps) && steps[j].Phase == steps[i].Phase {
			j++
		}
		sec.Blocks = append(sec.Blocks, Checks{steps[i].Phase, i + 1, steps[i:j]})
		i = j
	}
	return sec
}

// cautionSection lists the cautions that stand at no step.
func (s *Setup) cautionSection() Section {
	sec := Section{ID: "cautions", Title: "Cautions"}
	var items []string
	steps := s.Steps()
	for _, c := range s.Cautions() {
		if !slices.ContainsFunc(steps, func(st Step) bool { return slices.Contains(st.Cautions, c) }) {
			items = append(items, c.Text)
		}
	}
	if len(items) > 0 {
		sec.Blocks = append(sec.Blocks, Bullets{items})
	}
	return sec
}

func (s *Setup) programSection() Section {
	sec := Section{ID: "programs", Title: "Programs"}
	if len(s.Programs) == 0 {
		return sec
	}
	if s.Drawings != nil && (s.Drawings.Face != nil || s.Drawings.Back != nil) {
		sec.Blocks = append(sec.Blocks, s.pathFigure())
	}
	t := Table{Caption: "Files", Head: []string{"File", "What", "Offset", "Size", "Takes about"}, Right: []int{3}}
	if s.Plan != nil && len(s.Plan.Orders) > 0 {
		t.Caption += "; tool changes count in the cycles' programs alone"
	}
	for _, p := range s.Programs {
		what := p.Role
		if p.From != "" && p.From != p.Name {
			what += " from " + p.From
		}
		takes := ""
		if p.Seconds > 0 {
			takes = duration(p.Seconds)
		}
		t.Rows = append(t.Rows, []string{p.Name, what, p.Offset, bytesOf(p.Bytes), takes})
	}
	sec.Blocks = append(sec.Blocks, t)
	// One line a file, as sha256sum writes and checks them.
	var sums []string
	for _, p := range s.Programs {
		if p.SHA256 != "" {
			sums = append(sums, p.SHA256+"  "+p.Name)
		}
	}
	if len(sums) > 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "SHA-256 of each file:"}, Code{sums})
	}
	return sec
}

func (s *Setup) toolSection() Section {
	sec := Section{ID: "tools", Title: "Tools"}
	if len(s.Tools) == 0 {
		return sec
	}
	t := Table{Caption: "Cutters", Head: []string{"Tool", "Cutter"}}
	var flutes, used bool
	for _, tool := range s.Tools {
		flutes, used = flutes || tool.Flute != nil, used || tool.Used != ""
	}
	if flutes {
		t.Head, t.Right = append(t.Head, "Flute"), []int{2}
	}
	if used {
		t.Head = append(t.Head, "Used for")
	}
	for _, tool := range s.Tools {
		row := []string{"T" + itoa(tool.Number), toolWords(tool, s.Unit)}
		if flutes {
			flute := ""
			if tool.Flute != nil {
				flute = tool.Flute.String()
			}
			row = append(row, flute)
		}
		if used {
			row = append(row, tool.Used)
		}
		t.Rows = append(t.Rows, row)
	}
	sec.Blocks = append(sec.Blocks, t)
	return sec
}

func notePara(n Note, unit transform.Unit) Para {
	text := NoteWords(n, unit)
	where := n.File
	if n.Line > 0 {
		if where != "" {
			where += ":"
		} else {
			where = "line "
		}
		where += itoa(n.Line)
	}
	if where != "" {
		text = where + ": " + text
	}
	return Para{n.Level, text}
}

func (s *Setup) budgetSection() Section {
	sec := Section{ID: "budget", Title: "How far off the back can be"}
	b := s.Budget
	if b == nil {
		return sec
	}
	unit := s.Unit.String()
	t := Table{Caption: "Terms at " + xy(b.At) + " from the near-left corner, face up, " + unit, Head: []string{"Term", "Most", "From"}, Right: []int{1}}
	var terms []BudgetTerm
	for i := 0; i < len(b.Terms); i++ {
		term := b.Terms[i]
		sides := map[string]string{"face": ", face", "back": ", back", "both": ", one error on both sides"}[term.Sides]
		// Face and back of one term stand in one row.
		if i+1 < len(b.Terms) {
			if next := b.Terms[i+1]; next.Name == term.Name && next.Reason == term.Reason && term.Sides == "face" && next.Sides == "back" {
				term.Worst += next.Worst
				sides = ", face and back"
				i++
			}
		}
		term.Reason += sides
		terms = append(terms, term)
	}
	slices.SortStableFunc(terms, func(a, b BudgetTerm) int { return cmp.Compare(b.Worst, a.Worst) })
	for _, term := range terms {
		t.Rows = append(t.Rows, []string{term.Name, letters.Up(term.Worst, 3), term.Reason})
	}
	rows := [][2]string{
		{"Worst case", letters.Up(b.Worst, 3) + " " + unit + " (the sum)"},
		{"Likely", letters.Up(b.Likely, 3) + " " + unit + " (expanded uncertainty, k = 2)"},
	}
	if b.Dominant != "" {
		rows = append(rows, [2]string{"Dominates", b.Dominant})
	}
	if b.Halve != "" {
		rows = append(rows, [2]string{"Halve it", b.Halve})
	}
	for i, w := range b.Web {
		name := "Thickness"
		if i > 0 {
			name = ""
		}
		rows = append(rows, [2]string{name, w})
	}
	sec.Blocks = append(sec.Blocks, Pairs{rows}, t)
	for _, n := range b.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

func (s *Setup) noteSection() Section {
	sec := Section{ID: "notes", Title: "Notes and assumptions"}
	for _, n := range s.Notes {
		if !idle(n) {
			sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
		}
	}
	return sec
}

// idle says that a note tells nothing: an offset that stays what it is.
func idle(n Note) bool {
	return n.Code == mirror.OffsetMapped && len(n.Values) > 1 && n.Values[0] == n.Values[1]
}

// labelled puts a paragraph's level in front as a word.
func labelled(p Para) string {
	text := strings.TrimSpace(p.Text)
	if p.Level == "" {
		return text
	}
	return capital(p.Level) + ": " + text
}
