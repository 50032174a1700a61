package report

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/report/words"
)

// The steps that set what locates the blank, and look whether it stands where the
// offsets have it.

// pairs are the answers at the stations of each pair, or the only one.
func (s *Setup) pairs() []*registration.Answer {
	if len(s.Pairs) > 0 {
		return s.Pairs
	}
	return []*registration.Answer{s.Answer}
}

// offsetOf is the offset of one side of a pair.
func offsetOf(a *registration.Answer, back bool) string {
	if back && a.Second != nil {
		return a.Second.Offset
	}
	return a.Question.FaceOffset()
}

// contact is a fence or a stop of one side of a touch.
type contact struct {
	name    string
	side    registration.Side
	at      decimal.Decimal
	machine bool
	back    bool
	offset  string
}

// contactOf gives one side of a touch at a pair of stations.
func contactOf(a *registration.Answer, t registration.Touch, back bool) contact {
	if !back {
		return contact{t.Locator, t.Side, t.FaceCoord, t.CoordKnown, false, offsetOf(a, false)}
	}
	name := t.BackLocator
	if name == "" {
		name = t.Locator
	}
	return contact{name, t.BackSide, t.BackCoord, t.BackKnown, true, offsetOf(a, true)}
}

// coordinate is the axis that a contact fixes, with its coordinate.
func (k contact) coordinate() string { return k.side.Axis() + k.at.String() }

// swapped gives the contacts that stand for one side alone where the blank is turned
// over in place: those of the face and those of the back.
func (c *checklist) swapped() (face, back []contact) {
	a := c.s.Answer
	if !a.Overlies() {
		return nil, nil
	}
	for _, t := range a.Touches {
		if !serves(a, t) {
			face, back = append(face, contactOf(a, t, false)), append(back, contactOf(a, t, true))
		}
	}
	return face, back
}

// contacts says how fences and stops are set: one step for all of one name on one
// side.
func (c *checklist) contacts(list []contact) (out []string) {
	one, each := c.s.Answer.Overlies(), ""
	if !one {
		each = " at each"
	}
	for i, k := range list {
		alike := func(o contact) bool { return o.name == k.name && o.side == k.side && o.machine == k.machine }
		if slices.ContainsFunc(list[:i], alike) {
			continue
		}
		text := "Set the "
		if one && !c.shared(k) {
			text += sideOf(k.back) + "'s "
		}
		text += k.name
		text += " on the " + k.side.String() + " side"
		if !k.machine && !k.back {
			along := "X"
			if k.side.Axis() == "X" {
				along = "Y"
			}
			text += " where there is room, along " + along
		} else {
			text += " at " + places(list, alike, one) + " (" + words.Frame(k.machine) + ")"
		}
		if k.name == "fence" {
			text += ". Two contacts" + each + ", as far apart as the blank allows"
		} else {
			text += ". One contact" + each
		}
		if st := c.standing(k.name); st != nil {
			text += ", at most " + st.Height.String() + " " + c.s.Unit.String() + " over the bed"
		}
		out = append(out, text+".")
	}
	return out
}

// shared reports whether a contact places both sides.
func (c *checklist) shared(k contact) bool {
	a := c.s.Answer
	return slices.ContainsFunc(a.Touches, func(t registration.Touch) bool { return serves(a, t) && t.Side == k.side })
}

// serves reports whether one contact, unmoved, places both sides.
func serves(a *registration.Answer, t registration.Touch) bool {
	f, b := contactOf(a, t, false), contactOf(a, t, true)
	return t.Shared || f.name == b.name && f.side == b.side && f.machine == b.machine && f.at.Equal(b.at)
}

// places lists the coordinates of contacts with the offsets that they serve, which one
// place needn't name.
func places(all []contact, alike func(contact) bool, one bool) string {
	var out []string
	for i, k := range all {
		same := func(o contact) bool { return alike(o) && o.at.Equal(k.at) }
		if !alike(k) || slices.ContainsFunc(all[:i], same) {
			continue
		}
		var offsets []string
		for _, o := range all {
			if same(o) && !slices.Contains(offsets, o.offset) {
				offsets = append(offsets, o.offset)
			}
		}
		text := k.coordinate()
		if !one {
			text += " for " + list(offsets)
		}
		out = append(out, text)
	}
	return strings.Join(out, ", at ")
}

// locatorSteps says how the locators are set before the blank goes on: all but those
// of the back where the blank is turned over in place.
func (c *checklist) locatorSteps() (out []string) {
	s, a := c.s, c.s.Answer
	q := a.Question
	var all []contact
	face, _ := c.swapped()
	for _, back := range []bool{false, true} {
		for _, p := range s.pairs() {
			for _, t := range p.Touches {
				if !back || !a.Overlies() {
					all = append(all, contactOf(p, t, back))
				}
			}
		}
	}
	out = c.contacts(all)
	if len(face) > 0 {
		var names []string
		for _, k := range face {
			names = append(names, k.name)
		}
		out = append(out, "Make the face's "+list(names)+" removable and repeatable.")
	}
	switch {
	case q.Register == registration.Dowels:
		out = append(out, c.pinSteps()...)
	case q.Register == registration.Plug && q.Bore != nil:
		out = append(out, c.plugSteps()...)
	}
	return out
}

// pinSteps says where the dowels stand.
func (c *checklist) pinSteps() (out []string) {
	s, a := c.s, c.s.Answer
	q := a.Question
	for i, p := range a.FacePins {
		n := itoa(i + 1)
		out = append(out, c.fitted("dowel "+n, "dowel "+n, p.Dia, "at "+c.pinPlaces(i)))
	}
	if len(out) > 0 && q.BackPin == nil && len(s.Stations) <= 2 {
		out[len(out)-1] += " The same dowels serve both sides."
	}
	return out
}

// fitted says that a dowel, plug or index pin is fitted, how thick, where, and how high:
// as check took it.
func (c *checklist) fitted(what, name string, dia decimal.Decimal, at string) string {
	unit := " " + c.s.Unit.String()
	var height decimal.Decimal
	if p := c.s.Pins; name == "plug" && p != nil && p.Stud != nil {
		height = p.Stud.Height
	}
	if st := c.standing(name); st != nil {
		dia, height = st.Dia, st.Height
	}
	text := "Fit " + what
	if !dia.IsZero() {
		text += ", " + dia.String() + unit + " dia,"
	}
	text += " " + at + "."
	if height.IsPositive() {
		over := "the bed"
		if name == "plug" {
			over = "its shoulder"
		}
		text += " Height at most " + height.String() + unit + " over " + over + "."
	}
	return text
}

// standing is a locator as check took it, nil where nothing was cut in memory.
func (c *checklist) standing(name string) *Standing {
	if c.s.Check == nil {
		return nil
	}
	list := c.s.Check.Standing
	if i := slices.IndexFunc(list, func(s Standing) bool { return s.Name == name }); i >= 0 {
		return &list[i]
	}
	return nil
}

// pinPlaces says where pin i stands at all stations.
func (c *checklist) pinPlaces(i int) string {
	s, a := c.s, c.s.Answer
	if len(s.Stations) > 2 {
		var places []string
		for _, st := range s.Stations {
			if pins := s.dowelsAt(st); i < len(pins) {
				places = append(places, xy(pins[i].At)+" ("+st.Offset+")")
			}
		}
		return strings.Join(places, "; ") + "; machine coordinates"
	}
	text := xy(a.FacePins[i].At) + " (" + words.Frame(a.FaceMachine) + ")"
	if a.Question.BackPin != nil && i < len(a.BackPins) {
		text += "; for the back, at " + xy(a.BackPins[i].At) + " (" + words.Frame(a.Machine) + ")"
	}
	return text
}

// plugSteps says where the plugs and what clocks the blank on them stand.
func (c *checklist) plugSteps() []string {
	q := c.s.Answer.Question
	out := []string{c.plugStep()}
	switch q.Clock.Kind {
	case registration.ClockPin:
		out = append(out, c.indexStep())
	case registration.ClockFlat:
		out = append(out, c.flatStep())
	}
	return out
}

// flatStep says where the plugs' flats face: once where that is one side at all stations.
func (c *checklist) flatStep() string {
	q := c.s.Answer.Question
	back := q.Flip.Turned(q.Clock.Side)
	if !c.turnsDiffer() {
		turn := c.s.Answer.FaceTurn
		text := "Turn the plug's flat to the " + turn.Side(q.Clock.Side).String() + " side"
		if back != q.Clock.Side {
			text += ", for the back to the " + turn.Side(back).String()
		}
		return text + "."
	}
	var sides []string
	for _, p := range c.s.pairs() {
		sides = append(sides, p.FaceTurn.Side(q.Clock.Side).String()+" for "+offsetOf(p, false), p.FaceTurn.Side(back).String()+" for "+offsetOf(p, true))
	}
	return "Turn the plugs' flats: " + list(sides) + "."
}

// turnsDiffer reports whether pairs stand turned against each other.
func (c *checklist) turnsDiffer() bool {
	return len(c.s.turnings()) > 1
}

// fromThePlug reports whether the face zero is set from the plug, which stands anywhere.
func (c *checklist) fromThePlug() bool {
	a := c.s.Answer
	return !a.FaceMachine && a.Overlies()
}

// plugStep says where the plugs stand.
func (c *checklist) plugStep() string {
	q := c.s.Answer.Question
	var dia decimal.Decimal
	if q.PlugD != nil {
		dia = *q.PlugD
	}
	at := "where there is room"
	if bore := q.Bore.At; !c.fromThePlug() {
		at = "at " + c.onBoth(func(a *registration.Answer) registration.Point { return a.FacePlace(bore) },
			func(a *registration.Answer) *registration.Point { return a.PlugAt })
	}
	return c.fitted("the plug", "plug", dia, at)
}

// indexStep says where the index pins stand.
func (c *checklist) indexStep() string {
	a := c.s.Answer
	q := a.Question
	face, back := a.FacePlace(q.Clock.Pin), a.ClockAt
	moves := back != nil && a.Overlies() && !(back.X.Equal(face.X) && back.Y.Equal(face.Y))
	at := ""
	switch {
	case c.fromThePlug():
		at = "at " + fromPlug(q)
	case moves:
		at = "at " + xy(face) + " (" + words.Frame(a.FaceMachine) + ")"
	default:
		at = "at " + c.onBoth(func(a *registration.Answer) registration.Point { return a.FacePlace(q.Clock.Pin) },
			func(a *registration.Answer) *registration.Point { return a.ClockAt })
	}
	text := c.fitted("the index pin", "index pin", q.Clock.Dia, at)
	if moves {
		text += " Move it before seating the back."
	}
	return text
}

// fromPlug is the index pin's place for the face as it lies from the plug.
func fromPlug(q registration.Question) string {
	return xy(registration.Point{X: q.Clock.Pin.X.Sub(q.Bore.At.X), Y: q.Clock.Pin.Y.Sub(q.Bore.At.Y)}) + " from the plug's center"
}

// onBoth says where something stands at the stations of all pairs.
func (c *checklist) onBoth(face func(*registration.Answer) registration.Point, back func(*registration.Answer) *registration.Point) string {
	pairs := c.s.pairs()
	if len(pairs) > 1 {
		var places []string
		for _, p := range pairs {
			places = append(places, xy(face(p))+" for "+offsetOf(p, false))
			if at := back(p); at != nil {
				places = append(places, xy(*at)+" for "+offsetOf(p, true))
			}
		}
		return list(places) + " (machine coordinates)"
	}
	a := pairs[0]
	f, b := face(a), back(a)
	text := xy(f) + " (" + words.Frame(a.FaceMachine) + ")"
	if b != nil && !(b.X.Equal(f.X) && b.Y.Equal(f.Y) && a.Machine == a.FaceMachine) {
		text += "; for the back, at " + xy(*b) + " (" + words.Frame(a.Machine) + ")"
	}
	return text
}

// swapSteps say what is changed over on the bed before the back is seated where it was
// turned over in place.
func (c *checklist) swapSteps() (out []string) {
	a := c.s.Answer
	q := a.Question
	face, back := c.swapped()
	if len(face) > 0 {
		var off []string
		apart := ""
		for i, k := range face {
			off = append(off, "the "+k.side.String()+" "+k.name+" ("+k.coordinate()+")")
			if o := back[i]; k.side != o.side && k.side.Axis() == o.side.Axis() {
				apart = " Don't leave both in."
			}
		}
		out = append(out, "Take off "+list(off)+"."+apart)
		out = append(out, c.contacts(back)...)
	}
	if q.Register == registration.Plug && q.Clock.Kind == registration.ClockPin && q.Bore != nil && a.ClockAt != nil && a.Overlies() {
		if from := a.FacePlace(q.Clock.Pin); !(from.X.Equal(a.ClockAt.X) && from.Y.Equal(a.ClockAt.Y)) {
			out = append(out, "Move the index pin from "+xy(from)+" to "+xy(*a.ClockAt)+" ("+words.Frame(a.Machine)+").")
		}
	}
	return out
}

// swapBack says what is changed over again before the next blank, "" if nothing is.
func (c *checklist) swapBack() string {
	face, back := c.swapped()
	var on, off []string
	for i, k := range face {
		on, off = append(on, "the "+k.side.String()+" "+k.name), append(off, "the "+back[i].side.String()+" "+back[i].name)
	}
	if len(on) > 0 {
		return "take off " + list(off) + "; set " + list(on) + " again"
	}
	if a := c.s.Answer; len(c.swapSteps()) > 0 {
		return "move the index pin back to " + xy(a.FacePlace(a.Question.Clock.Pin))
	}
	return ""
}

// checkLocators adds the step that compares the locators with X and Y as they are
// stored: of both sides, or of the back alone. Pins that the machine drilled from these
// zeros stand right; a plug is set by hand.
func (c *checklist) checkLocators(phase string, sides ...bool) {
	if c.s.Answer.Question.Register != registration.Plug && len(c.drillings("bed", "back-bed", "through")) > 0 || c.through() {
		return
	}
	var reads []string
	beside := false
	for _, back := range sides {
		for _, o := range c.offsets(back) {
			rows := c.readings(o)
			if len(rows) == 0 {
				continue
			}
			var at []string
			for i, r := range rows {
				beside = beside || !r.Centred
				read := r.Axis + r.Reads.String()
				switch r.Half {
				case 1:
					read += " plus half the tool"
				case -1:
					read += " minus half the tool"
				}
				if i > 0 && r.Centred && r.Axis == "Y" && rows[i-1].Axis == "X" {
					at[len(at)-1] = "X" + rows[i-1].Reads.String() + " " + read + " centered over the " + r.What
					continue
				}
				at = append(at, read+" at the "+r.What)
			}
			reads = append(reads, o+": "+strings.Join(at, "; "))
		}
	}
	if len(reads) == 0 {
		return
	}
	how := "center the spindle over each"
	if beside {
		how = "bring the tool"
		if c.s.TouchTool > 0 {
			how = "bring T" + itoa(c.s.TouchTool)
		}
		how += " against each"
		if len(c.s.TouchOffs) > 0 && c.s.Feeler != nil {
			how += " with the feeler between"
		}
	}
	text := "Check the locators, spindle stopped: " + how + ". " + strings.Join(reads, "; ") + ". If one is off, stop and find why. Move the locator, or correct its place in the job, then prepare again."
	var cautions []string
	if c.s.Answer.Question.Register == registration.FenceStop {
		cautions = append(cautions, "stop-edge")
	}
	c.add(phase, text, cautions...)
}

// readings are what X and Y must read at the locators in an offset that is stored in
// machine coordinates; none where it isn't.
func (c *checklist) readings(offset string) (out []TouchOff) {
	for _, r := range c.s.touches() {
		if r.Offset == offset && r.Axis != "Z" && r.Reads != nil {
			out = append(out, r)
		}
	}
	return out
}

// byLocators says how X and Y of the face zero are found where nothing is known in
// machine coordinates: from what locates the blank, not from its own edges.
func (c *checklist) byLocators(at string) string {
	a := c.s.Answer
	switch q := a.Question; {
	case q.Register == registration.Dowels && len(a.FacePins) > 0 && !a.FaceMachine && !c.through():
		p := a.FacePins[0].At
		return "centered over the dowel of hole 1 set X" + p.X.String() + " Y" + p.Y.String() + "; X0 Y0 is the " + at
	case q.Register == registration.Plug && q.Bore != nil && !a.FaceMachine:
		p := a.FacePlace(q.Bore.At)
		return "centered over the plug set X" + p.X.String() + " Y" + p.Y.String() + "; X0 Y0 is the " + at
	case q.Register == registration.FenceStop && !a.FaceMachine:
		var from []string
		for _, t := range a.Touches {
			from = append(from, t.Side.Axis()+t.FaceCoord.String()+" at the "+t.Side.String()+" "+t.Locator)
		}
		return "set " + list(from) + "; X0 Y0 is the " + at
	}
	return "X0 Y0 at the " + at
}

// onPlug says how a blank goes onto its plug.
func onPlug(s *Setup) string {
	if s.freeOnPlug() {
		return " on the plug, down on its shoulder"
	}
	if s.Answer.Question.Clock.Kind == registration.ClockPin {
		return " on the plug, then down over the index pin"
	}
	return " on the plug and clock it"
}

// turnNames are how a station lies turned, by its quarters.
var turnNames = [4]string{1: "a quarter turn counter-clockwise", 2: "turned end for end", 3: "a quarter turn clockwise"}

// corners says where the blank's near-left corner comes to lie: at the places of that
// side, or where the answer has it.
func (c *checklist) corners(back bool, at registration.Point) string {
	var places []string
	for _, st := range c.s.placesOf(back) {
		at := xy(st.Corner) + " for " + st.Offset
		if st.Turn != 0 {
			a := registration.Near
			if back && c.s.Answer.Question.Flip == registration.FlipX {
				a = registration.Far
			}
			at += " with the blank " + turnNames[st.Turn] + ", edge A " + st.Turn.Side(a).String()
		}
		places = append(places, at)
	}
	if len(places) > 0 {
		return list(places) + " (" + words.Frame(true) + ")"
	}
	return xy(at) + " (" + words.Frame(false) + ")"
}
