package report

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// middleOfCuts is the middle of the face's cuts, and the place that lies under it on the back,
// each from its zero: what is to lie behind it is programmed there. "" where it isn't known.
func (s *Setup) middleOfCuts() string {
	var cuts transform.Box
	for i := range s.Programs {
		p := &s.Programs[i]
		switch {
		case !isFace(p):
		case !p.Cuts.Any:
			return ""
		default:
			cuts = cuts.Join(p.Cuts)
		}
	}
	if !cuts.Any {
		return ""
	}
	half := decimal.New(5, -1)
	middle := func(b transform.Box) string {
		at := func(axis int) decimal.Decimal {
			return b.Least[axis].Add(b.Greatest[axis]).Mul(half).Round(int32(letters.Places(s.Unit)))
		}
		return xy(registration.Point{X: at(0), Y: at(1)})
	}
	return "face " + middle(cuts) + ", on the back " + middle(s.Answer.Transform.Box(cuts)) + " (each from its zero)"
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
		row("Second zero", words.SecondZero(*a.Second)+s.touchedZ())
	default:
		row("Second zero", "not known: "+s.zeroMissing())
	}
	row("Back program", a.Transform.String())
	row("Arcs", words.Arcs(a.Transform))
	row("Turn", "flip "+q.Flip.String()+": "+words.Flip(q.Flip))
	blank := size(a.Used) + " " + unit
	if s.Material != "" {
		blank += ", " + s.Material
	}
	if q.Measured != nil && q.Stock != nil {
		blank += " (measured; nominal " + size(*q.Stock) + ")"
	}
	row("Blank", blank)
	if a.NominalZero != nil {
		row("For nominal size", words.SecondZero(*a.NominalZero)+", with a back program mirrored for the nominal blank")
	}
	row("Register", words.Register(q))
	offset := q.Offset
	if offset == "" {
		offset = "G54"
	}
	face := offset + ", " + words.Zero(q.Zero, a.FaceZero)
	if a.FaceAt != nil {
		face += "; machine " + xyz(a.FaceAt.X, a.FaceAt.Y, a.FaceAt.Z)
	}
	row("Face zero", face+"; Z0 is "+words.ZZero(q.ZZero))
	back := words.Zero(q.BackZero, a.BackZero) + "; Z0 is " + words.ZZero(q.BackZZero)
	if a.Second != nil {
		back = a.Second.Offset + ", " + back
	}
	row("Back zero", back)
	row("Blank's corner, face", xy(a.FaceCorner)+" ("+words.Frame(a.FaceMachine)+")")
	if a.BackCorner != nil {
		row("Blank's corner, back", xy(*a.BackCorner)+" ("+words.Frame(a.Machine)+")")
	}
	if a.PlugAt != nil {
		row("Plug, back", xy(*a.PlugAt)+" ("+words.Frame(a.Machine)+")")
	}
	row("Middle of the cuts", s.middleOfCuts())
	sec.Blocks = append(sec.Blocks, Pairs{rows})
	if s.Drawings != nil {
		sec.Blocks = append(sec.Blocks, s.turnFigure(mostHigh))
	}
	for _, t := range a.Touches {
		level := "note"
		if !t.SameEdge {
			level = "warning"
		}
		sec.Blocks = append(sec.Blocks, Para{level, words.Touch(t)})
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
			t.Rows = append(t.Rows, []string{name, words.LayUp(l, s.Unit)})
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
		t := Table{Caption: "Dowels at the " + side.name + " station, " + unit + ", " + words.Frame(side.machine), Head: []string{"Hole", "X", "Y", "Dia"}, Right: []int{0, 1, 2, 3}}
		if q.BackPin == nil {
			t.Caption = "Dowels for both sides, " + unit + ", " + words.Frame(side.machine)
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
				sec.Blocks = append(sec.Blocks, Para{f.Level, words.Fact(f.Is, s.Unit)})
			}
		}
	}
	return sec
}

// saidByTouch reports whether a touch says already what the fact says.
func saidByTouch(a *registration.Answer, f registration.Fact) bool {
	switch f.Is.(type) {
	case registration.SameEdge, registration.OtherEdge:
		return len(a.Touches) > 0
	}
	return false
}
