package report

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/registration/landed"
	"flipcalc/report/draw"
	"flipcalc/report/letters"
)

// BudgetOf puts a misalignment budget into words; unit is the question's.
func BudgetOf(r *budget.Result, q registration.Question) *Budget {
	unit := q.Unit
	b := &Budget{At: r.At, Worst: Estimate(r.Worst), Likely: Estimate(r.Likely)}
	for _, t := range r.Terms {
		if t.Limit == 0 {
			continue
		}
		reason := t.Value.String()
		if t.Name == budget.Wood {
			reason += " % of moisture"
		}
		reason += ", " + string(t.From)
		name := termWords(t.Name, q) + axisWords(t)
		b.Terms = append(b.Terms, BudgetTerm{t.Name, name, Estimate(t.X), Estimate(t.Y), Estimate(t.Limit), t.Sides, reason})
	}
	if h := r.Halved; h != nil {
		b.Dominant = termWords(h.Name, q)
		b.Halve = "to " + h.Value.String() + ": worst " + letters.Up(h.Worst, 3) + ", likely " + letters.Up(min(h.Expanded, h.Worst), 3) + " " + unit.String()
	}
	switch {
	case r.Free:
		b.Notes = append(b.Notes, Note{Code: "turn-free", Level: "note", Text: "the round part turns freely on its plug: let no feature depend on its turn"})
	case r.TurnAtRim > 0:
		b.Notes = append(b.Notes, Note{Code: "turn-at-rim", Level: "note", Text: "one seat can turn the blank by " + letters.Up(r.Turn*180/math.Pi, 4) +
			" degrees, " + letters.Up(r.TurnAtRim, 3) + " " + unit.String() + " at its farthest corner"})
	}
	if r.Web != nil {
		b.Web = webWords(r.Web, unit)
	}
	b.Notes = append(b.Notes, factNotes(budgetSentences, r.Facts, unit)...)
	return b
}

// factNotes finds the words for facts whose codes belong to one table.
func factNotes(table map[string]sentence, facts []registration.Fact, unit transform.Unit) []Note {
	var out []Note
	for _, f := range facts {
		out = append(out, Note{Code: f.Code, Level: f.Level, Values: f.Values, Text: sayCode(table, f.Code, f.Values, unit)})
	}
	return out
}

// termWords names a term of the budget.
func termWords(name string, q registration.Question) string {
	on := "the dowels"
	if q.Register == registration.Plug {
		on = "the plug"
	}
	switch name {
	case budget.Clearance:
		return "clearance on " + on
	case budget.Hole:
		return "hole drilled off size"
	case budget.Locator:
		return "locator off its place"
	case budget.PinLine:
		return "dowel off the line of the others"
	case budget.FenceLine:
		return "fence out of parallel with its axis"
	case budget.Square:
		return "Y axis out of square with X"
	case budget.Seating:
		return "gap at fence or stop"
	case budget.Size:
		return "size of the blank"
	case budget.Corner:
		return "blank out of square"
	case budget.Repeatability:
		return "machine repeatability"
	case budget.Clocking:
		return "clearance of the clocking"
	case budget.Thickness:
		return "thickness of the blank"
	case budget.TouchOff:
		return "Z zero off its surface"
	case budget.Touch:
		return "touch of the turned blank"
	case budget.Feature:
		return "touched edge or old hole off its place"
	case budget.Turn:
		return "turn within its limit, not corrected"
	case budget.Wood:
		return "movement of the wood"
	}
	return name
}

// axisWords says what a term is about: the contact, or the axis along which it
// moves the back.
func axisWords(t budget.Term) string {
	switch {
	case t.Axis == "":
		return ""
	case t.Axis == "fence" || t.Axis == "stop":
		return ", the " + t.Axis
	case t.Name != budget.Wood:
		return ", along " + axisUpper(t.Axis)
	case t.Axis == "x": // the grain's axis: wood moves across it
		return " across the grain, along Y"
	}
	return " across the grain, along X"
}

// webWords says what an error of the thickness does to web and depths.
func webWords(w *budget.Web, unit transform.Unit) []string {
	u := unit.String()
	share := func(what string, factor int) string {
		switch {
		case factor == 0:
			return what + " unchanged"
		case factor < 0:
			return what + " less by as much"
		}
		return what + " more by as much"
	}
	out := []string{"a blank thicker by " + w.Error.String() + " " + u + " (" + string(w.From) + "): " + share("the web", w.WebFactor) + ", " +
		share("the face's depth", w.FaceFactor) + ", " + share("the back's depth", w.BackFactor)}
	if w.FaceDepth == nil || w.BackDepth == nil {
		return out
	}
	text := "web " + w.Nominal.String() + " " + u + ", between " + w.Least.String() + " and " + w.Greatest.String()
	if w.Through {
		text = "the cuts overlap by " + w.Nominal.Neg().String() + " " + u + ", between " + w.Greatest.Neg().String() + " and " + w.Least.Neg().String()
		if !w.Enough {
			text += ": NOT the " + w.Asked.String() + " asked for"
		}
	}
	return append(out, text)
}

// Start is what a correction starts from: how the zero that the piece was cut with is
// known, and the line of the job that keeps a zero moved by so much from it, "" for none.
type Start struct {
	From string
	Keep func(moved registration.Point) string
}

// LandedOf puts a correction into words. measured are the values it came from.
// g10 says that the control takes G10 L2.
func LandedOf(a *registration.Answer, measured []landed.Measurement, c *landed.Correction, start Start, g10 bool) *Landed {
	unit := a.Question.Unit
	l := &Landed{Shift: c.Shift, Before: a.Second, After: c.Zero, From: start.From}
	for _, m := range measured {
		l.Measured = append(l.Measured, Measured{DX: m.Off.X, DY: m.Off.Y, At: m.At})
	}
	if c.Zero != nil && c.Zero.Machine && g10 {
		z := correctedZero(*c.Zero, unit)
		l.Line = cycle.Setting{Offset: z.Offset, X: z.X, Y: z.Y}.Line(unit)
	}
	back := " for the back"
	if a.Second != nil {
		back += " at " + a.Second.Offset
	}
	way := func(do string, zero *registration.SecondZero, remains []registration.Point, most float64) {
		w := Way{Do: do, Zero: zero, Remains: remains, Most: Estimate(most)}
		if zero != nil && start.Keep != nil {
			z := correctedZero(*zero, unit)
			w.Keep = start.Keep(registration.Point{X: z.X.Sub(a.Second.X), Y: z.Y.Sub(a.Second.Y)})
		}
		l.Ways = append(l.Ways, w)
	}
	way("", c.Zero, c.Remains, c.Greatest)
	var moves []string
	for _, m := range c.Locators {
		if m.Factor == 0 || m.Move.IsZero() {
			continue
		}
		of := ""
		if m.Factor == 1 {
			of = back
		}
		moves = append(moves, "the "+m.Locator+of+" by "+axisUpper(m.Axis)+fine(m.Move, unit).String()+" "+unit.String()+factorWords(m.Factor))
	}
	if len(moves) > 0 {
		way("move "+list(moves), c.MovesZero, c.Remains, c.Greatest)
	}
	if t := c.Turn; t != nil && t.Clear {
		deg := Estimate(t.Angle * 180 / math.Pi)
		l.Turn = &deg
		for _, k := range t.Cures {
			way(cureWay(k, back, unit), k.Zero, t.Remain, t.Greatest)
		}
	}
	l.Notes = factNotes(landedSentences, c.Facts, unit)
	return l
}

// cureWay says what is done with the hands to turn the blank back.
func cureWay(k landed.Cure, back string, unit transform.Unit) string {
	sides := back
	if k.Both {
		sides = " for both sides"
	}
	switch {
	case k.Shim != nil:
		text := fine(k.Shim.Thick.Abs(), unit).String() + " " + unit.String()
		at := " the " + k.Shim.Fence.String() + " fence at its " + k.Shim.End.String() + " contact, X" + k.Shim.At.X.String() + " Y" + k.Shim.At.Y.String() + " of the blank,"
		if k.Shim.Thick.IsNegative() {
			return "move" + at + " away from it by " + text + sides
		}
		stays := ""
		if k.Both {
			stays = ", and leave it in"
		}
		return "put a shim of " + text + " between the blank and" + at + sides + stays + ", or move the fence there by as much"
	case k.Pin != nil:
		pin := "the index pin"
		if k.Pin.Pin > 0 {
			pin = "dowel " + itoa(k.Pin.Pin)
		}
		return "move " + pin + sides + " by " + xy(finePoint(k.Pin.Move, unit))
	}
	way := "counter-clockwise"
	if k.Angle < 0 {
		way = "clockwise"
	}
	what := k.Part
	if what == "plug" {
		what = "plug with its flat"
	}
	return "turn the " + what + sides + " by " + letters.Rounded(math.Abs(k.Angle)*180/math.Pi, 4) + " degrees " + way
}

func axisUpper(axis string) string { return capital(axis) }

func factorWords(f int) string {
	if f == 2 {
		return " (it places both sides, so it counts twice)"
	}
	return ""
}

// bedUnit is the unit of everything on the bed.
func (s *Setup) bedUnit() transform.Unit {
	if s.BedUnit != nil {
		return *s.BedUnit
	}
	return s.Unit
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
	s.Notes = append(s.Notes, Note{Code: NoteTight, Level: registration.LevelCaution, Values: []string{strings.Join(names, " and "), least.String(), s.bedUnit().String()}})
}

// NoteReach says what of the cutters was counted where stations were placed. radius is
// half the widest one, in the setup's unit.
func (s *Setup) NoteReach(radius decimal.Decimal, programs bool) {
	n := Note{Code: NoteReach, Level: registration.LevelWarning, Values: []string{"", ""}}
	switch {
	case programs && radius.IsPositive():
		return
	case programs:
		n.Values[1] = "programs"
	case radius.IsPositive():
		n.Values[0] = radius.Add(radius).String()
	}
	s.Notes = append(s.Notes, n)
}

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
