package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/draw"
	"flipcalc/report/words"
)

// SetBed takes a layout of the bed into the setup, with the machine; either may
// be nil. A
// machine in another unit than the layout is converted; in inches a length that
// is no finite decimal is rounded to 1e-6 in.
func (s *Setup) SetBed(l *bed.Layout, m *bed.Machine) {
	unit := s.Unit
	if l != nil {
		unit = l.Unit
		s.Stations = l.Stations
	}
	s.BedUnit = &unit
	if m == nil {
		return
	}
	in := func(v decimal.Decimal) decimal.Decimal {
		w, _ := transform.Convert(v, m.Unit, unit, 6)
		return w
	}
	area := func(r *bed.Rect, name string) *draw.Area {
		if r == nil {
			return nil
		}
		return &draw.Area{Area: bed.Area{Rect: bed.Rect{X: in(r.X), Y: in(r.Y), W: in(r.W), H: in(r.H)}}, Name: name}
	}
	out := &Machine{Name: m.Name, Bed: area(m.Bed, "bed")}
	for i, r := range []bed.Range{m.X, m.Y, m.Z} {
		out.Least[i], out.Greatest[i] = in(r.Least), in(r.Greatest)
	}
	for _, u := range m.InUse {
		out.Taken = append(out.Taken, draw.Taken{Offset: u.Offset, Area: area(u.Rect, u.For)})
	}
	s.Machine = out
}

// SetNoGo takes the no-go areas and the clamps, in the setup's unit, into its drawings.
// Findings speak of them by their place in the two lists, one behind the other.
func (s *Setup) SetNoGo(areas, clamps []bed.Area) {
	if len(areas)+len(clamps) == 0 {
		return
	}
	m := Machine{}
	if s.Machine != nil {
		m = *s.Machine
	}
	m.NoGo = nil
	add := func(name string, list []bed.Area) {
		for i, r := range list {
			m.NoGo = append(m.NoGo, draw.Area{Area: r, Name: name + " " + itoa(i+1)})
		}
	}
	add("no-go", areas)
	add("clamp", clamps)
	s.Machine = &m
}

// NoteTight warns of the sides on which a placed blank leaves no room for clamps. Dowels
// and plug don't hold it; a fence has its own room.
func (s *Setup) NoteTight(sides []bed.Tight) {
	if len(sides) == 0 || s.Answer == nil || s.Answer.Question.Register == registration.NoRegister {
		return
	}
	var names []string
	least := sides[0].Left
	for _, t := range sides {
		names = append(names, t.Side)
		least = decimal.Min(least, t.Left)
	}
	s.Notes = append(s.Notes, Note{Level: fact.Caution, Is: words.NoClampRoom{Sides: names, Least: least, Unit: s.bedUnit()}})
}

// NoteReach says what of the cutters was counted where stations were placed. radius is
// half the widest one, in the setup's unit.
func (s *Setup) NoteReach(radius decimal.Decimal, programs bool) {
	if programs && radius.IsPositive() {
		return
	}
	s.Notes = append(s.Notes, Note{Level: fact.Warning, Is: words.Reach{Widest: radius.Add(radius), Programs: programs}})
}

// places are where the sides of the blank lie, as far as that is known in machine
// coordinates: the stations, or else where the answer has them.
func (s *Setup) places() []bed.Station {
	if len(s.Stations) > 0 || s.Answer == nil {
		return s.Stations
	}
	return bed.Alone(s.Answer)
}

// placesOf are the places of one side.
func (s *Setup) placesOf(back bool) (out []bed.Station) {
	for _, st := range s.places() {
		if st.Side == sideOf(back) {
			out = append(out, st)
		}
	}
	return out
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
		if st.Turn != 0 {
			lies = "turned " + st.Turn.Degrees().String() + "°"
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

// touchedZ follows the second zero where its Z isn't stored: what is expected.
func (s *Setup) touchedZ() string {
	if s.Answer.Question.Lengths != registration.LengthsCalled || !s.Answer.Machine {
		return ""
	}
	if z := s.expected(true); z != nil {
		return ". Z: touch off, expect machine Z" + z.String()
	}
	return ". Z: touch off"
}
