package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/report/words"
)

// The steps that set what locates the blank, and look whether it stands where the
// offsets have it. All of them follow from what stands at the stations.

// stand is one thing that locates a blank at a station.
type stand struct {
	registration.Stand
	offset string
	back   bool
}

// named names it with its side, or with its place.
func (k stand) named() string {
	if k.Pin() {
		return called(k.Name) + " at " + k.place()
	}
	return "the " + k.Side.String() + " " + k.Name
}

// namesOf names locators.
func namesOf(all []stand) string {
	var names []string
	for _, k := range all {
		names = append(names, k.named())
	}
	return list(names)
}

// called is what stands in a hole: dowels have numbers.
func called(name string) string {
	if strings.HasPrefix(name, "dowel") {
		return name
	}
	return "the " + name
}

// shortNames name locators without their places.
func shortNames(all []stand) string {
	var names []string
	for _, k := range all {
		names = append(names, k.short())
	}
	return list(names)
}

// short names it without its place.
func (k stand) short() string {
	if k.Pin() {
		return k.Name
	}
	return strings.TrimPrefix(k.named(), "the ")
}

// place is where it stands.
func (k stand) place() string {
	if k.Pin() {
		return xy(k.At)
	}
	return k.Side.Axis() + k.Coordinate().String()
}

// in passes what is the same thing as one of a list.
func in(all []stand) func(stand) bool {
	return func(k stand) bool {
		return slices.ContainsFunc(all, func(o stand) bool { return o.Same(k.Stand) })
	}
}

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

// stands are what locates the blanks of all pairs on one side.
func (c *checklist) stands(back bool) (out []stand) {
	for _, a := range c.s.pairs() {
		for _, k := range a.Stands(back) {
			out = append(out, stand{k, offsetOf(a, back), back})
		}
	}
	return out
}

// standing parts them into what is set before the blank goes on, and what is set once it
// was turned: all of the back where the blank is turned over in place, and what stands in
// holes that are made with the face.
func (c *checklist) standing() (first, turned []stand) {
	one := c.s.Answer.Overlies()
	for _, k := range c.stands(false) {
		if !k.Pin() || !c.later() {
			first = append(first, k)
		}
	}
	served := in(first)
	for _, k := range c.stands(true) {
		switch {
		case one && served(k):
		case one, k.Pin() && c.through():
			turned = append(turned, k)
		default:
			first = append(first, k)
		}
	}
	return first, turned
}

// later says that nothing stands in holes at the face, since they are made with it.
func (c *checklist) later() bool { return c.through() || c.bored() }

// swapped gives what stands for one side alone where the blank is turned over in place:
// what comes off the face's, and what is set for the back.
func (c *checklist) swapped() (off, on []stand) {
	first, on := c.standing()
	if !c.s.Answer.Overlies() {
		return nil, on
	}
	serves := in(c.stands(true))
	return slices.DeleteFunc(first, serves), on
}

// setLocators adds the steps that set the locators and the one that checks them.
func (c *checklist) setLocators(phase string) {
	first, _ := c.standing()
	c.set(phase, first)
	off, _ := c.swapped()
	off = slices.DeleteFunc(off, stand.Pin)
	if len(off) > 0 {
		var names []string
		for _, k := range off {
			names = append(names, k.Name)
		}
		c.step(phase).say(words.MakeRemovable, "the face's "+list(names))
	}
	c.checkLocators(phase, c.checkedFirst()...)
}

// checkedFirst are the sides whose locators are looked at before the blank goes on: the
// back's too where none of them is set at the turn.
func (c *checklist) checkedFirst() []bool {
	if _, turned := c.standing(); len(turned) > 0 {
		return []bool{false}
	}
	return []bool{false, true}
}

// changeOver takes off what stands for the face alone, and sets what the back needs.
func (c *checklist) changeOver() {
	off, on := c.swapped()
	if len(off) > 0 {
		var names []string
		apart := false
		for _, f := range off {
			name := f.named() + c.unit()
			if !f.Pin() {
				name = f.named() + " (" + f.place() + c.unit() + ")"
			}
			names = append(names, name)
			apart = apart || slices.ContainsFunc(on, func(b stand) bool { return !f.Pin() && b.Side == f.Side.Opposite() })
		}
		st := c.step(phaseTurn).say(words.TakeOut, list(names)).also("lay it aside, take out %s", shortNames(off))
		if apart {
			st.say(words.NotBoth)
		}
	}
	if len(on) > 0 {
		c.set(phaseTurn, on)
		c.checkLocators(phaseTurn, true)
	}
}

// set says how each thing is set, in one step for all of one name on one side.
func (c *checklist) set(phase string, all []stand) {
	one, each := c.s.Answer.Overlies(), ""
	if !one {
		each = " at each"
	}
	both := in(c.stands(true))
	for i, k := range all {
		alike := func(o stand) bool { return o.Name == k.Name && o.Side == k.Side && o.Machine == k.Machine }
		if slices.ContainsFunc(all[:i], alike) {
			continue
		}
		st := c.step(phase)
		dia, height := c.taken(k)
		over := "the seat"
		if k.Pin() {
			what := called(k.Name)
			if dia.IsPositive() {
				what += ", " + dia.String() + c.unit() + " dia,"
			}
			if k.Name == registration.StandPlug {
				over = "its shoulder"
			}
			st.say(words.FitPin, what, c.where(all, k, alike))
		} else {
			what := k.Name
			if one && (k.back || !both(k)) {
				what = sideOf(k.back) + "'s " + what
			}
			st.say(words.SetContact, what, k.Side, c.where(all, k, alike))
			if k.Name == registration.StandFence {
				st.say(words.TwoContacts, each)
			} else {
				st.say(words.OneContact, each)
			}
		}
		if k.Name == registration.StandPlug && c.s.Answer.Question.Clock.Kind == registration.ClockFlat {
			st.say(words.TurnFlat, c.flats(all))
		}
		if height.IsPositive() {
			st.say(words.HighestAt, height.String()+c.unit(), over)
		}
		st.Brief, st.Also = c.setBrief(k, dia, i), i > 0 || phase == phaseTurn
	}
}

// taken is how thick and how high a thing stands, as check took it; a height of 0 isn't known.
func (c *checklist) taken(k stand) (dia, height decimal.Decimal) {
	if p := c.s.Pins; k.Name == registration.StandPlug && p != nil && p.Stud != nil {
		height = p.Stud.Height
	}
	if c.s.Check != nil {
		for _, t := range c.s.Check.Standing {
			if t.Name == k.Name {
				return t.Dia, t.Height
			}
		}
	}
	return k.Dia, height
}

// where says where all that is alike stands, with the offsets that each place serves where
// there are several.
func (c *checklist) where(all []stand, k stand, alike func(stand) bool) string {
	a := c.s.Answer
	if free := !k.Machine && !k.back; free {
		switch {
		case !k.Pin() && k.Side.Axis() == "X":
			return fmt.Sprintf(words.RoomAlong, "Y")
		case !k.Pin():
			return fmt.Sprintf(words.RoomAlong, "X")
		case a.Overlies() && k.Name == registration.StandPlug:
			return words.Room
		case a.Overlies() && k.Name == registration.StandIndexPin:
			bore, pin := a.Question.Bore.At, a.Question.Clock.Pin
			return fmt.Sprintf(words.FromPlug, xy(registration.Point{X: pin.X.Sub(bore.X), Y: pin.Y.Sub(bore.Y)})+c.unit())
		}
	}
	var places []string
	for i, p := range all {
		here := func(o stand) bool { return alike(o) && o.place() == p.place() }
		if !alike(p) || slices.ContainsFunc(all[:i], here) {
			continue
		}
		var offsets []string
		for _, o := range all {
			if here(o) && !slices.Contains(offsets, o.offset) {
				offsets = append(offsets, o.offset)
			}
		}
		place := p.place()
		if !a.Overlies() {
			place += " for " + list(offsets)
		}
		places = append(places, place)
	}
	at := list(places)
	if len(places) > 2 {
		at = strings.Join(places, "; ")
	}
	return "at " + at + " (" + c.frame(k.Machine) + ")"
}

// flats says where the flats of plugs face, among all that is set.
func (c *checklist) flats(all []stand) string {
	q := c.s.Answer.Question
	var sides []string
	for _, p := range c.s.pairs() {
		for _, k := range all {
			flat := q.Clock.Side
			if k.back {
				flat = q.Flip.Turned(flat)
			}
			if k.Name == registration.StandPlug && k.offset == offsetOf(p, k.back) {
				sides = append(sides, p.FaceTurn.Side(flat).String()+" for "+k.offset)
			}
		}
	}
	return list(sides)
}

// turnsDiffer reports whether pairs stand turned against each other.
func (c *checklist) turnsDiffer() bool { return len(c.s.turnings()) > 1 }

// checkLocators adds the step that compares the locators with X and Y as they are
// stored, at the touch points of page one.
func (c *checklist) checkLocators(phase string, sides ...bool) {
	var reads []string
	beside := false
	_, names := c.s.namedTouches(1)
	point := func(i int) string { // as drawn on page one
		if i < len(names) && names[i] != "" {
			return names[i] + " "
		}
		return ""
	}
	for _, back := range sides {
		for _, o := range c.offsets(back) {
			var at []string
			x := ""
			for i, row := range c.s.touches() {
				if row.Offset != o || row.Axis == "Z" || row.Reads == nil {
					continue
				}
				beside = beside || !row.Centred
				read := row.Axis + row.Reads.String()
				switch {
				case row.Half > 0:
					read += words.PlusHalf
				case row.Half < 0:
					read += words.MinusHalf
				}
				switch {
				case !row.Centred:
					at = append(at, point(i)+fmt.Sprintf(words.AtThe, read, row.What))
				case row.Axis == "X":
					x = read
				default:
					at = append(at, point(i)+fmt.Sprintf(words.CenteredOver, x, read, row.What))
				}
			}
			if len(at) > 0 {
				reads = append(reads, o+", "+c.s.bedUnit().String()+": "+strings.Join(at, "; "))
			}
		}
	}
	if len(reads) == 0 {
		return
	}
	how, counted, by := words.CenterEach, "", ""
	if beside {
		with := "the tool"
		if c.s.TouchTool > 0 {
			with, counted = "T"+itoa(c.s.TouchTool), words.RadiusCounted
			if !sides[0] { // the back's are checked alike
				by = " with " + with
			}
		}
		how = fmt.Sprintf(words.TouchEach, with)
		if len(c.s.TouchOffs) > 0 && c.s.Feeler != nil {
			how += words.FeelerBetween
		}
	}
	c.step(phase).say(words.CheckStands, c.s.located(), how, counted, strings.Join(reads, ". ")).say(words.IfOneIsOff, c.s.offPlace()).also("%s", c.checked(by, sides...))
}

// byLocators says how X and Y of the face zero are found where nothing is known in
// machine coordinates: from what locates the blank, not from its own edges.
func (c *checklist) byLocators(st *Step, at string) {
	a := c.s.Answer
	first, _ := c.standing()
	first = slices.DeleteFunc(first, func(k stand) bool { return k.back || k.Machine })
	var from []string
	for _, k := range first {
		from = append(from, k.place()+c.unit()+" at "+k.named())
	}
	switch {
	case len(first) == 0:
		st.say(words.XYAt, at)
	case a.Question.Register == registration.Dowels:
		st.say(words.XYOverDowel, first[0].place()+c.unit(), at)
	case a.Question.Register == registration.Plug:
		i := slices.IndexFunc(first, func(k stand) bool { return k.Name == registration.StandPlug })
		st.say(words.XYOverPlug, first[i].place()+c.unit(), at)
	default:
		st.say(words.XYAtContacts, list(from), at)
	}
}

// onPlug says how a blank goes onto its plug, "" without one.
func (c *checklist) onPlug(back bool) string {
	a := c.s.Answer
	switch q := a.Question; {
	case q.Register != registration.Plug:
		return ""
	case q.Clock.Kind == registration.ClockPin:
		return words.OverIndexPin
	case q.Clock.Kind == registration.ClockFlat:
		return words.OntoFlat
	case q.Clock.Kind == registration.ClockFence && len(a.Touches) > 0:
		return fmt.Sprintf(words.OntoFence, a.Stands(back)[0].Side)
	}
	return words.OnShoulder
}

// turnNames are how a station lies turned, by its quarters.
var turnNames = [4]string{1: "a quarter turn counter-clockwise", 2: "turned end for end", 3: "a quarter turn clockwise"}

// corners says where the blank's near-left corner comes to lie: at the places of that
// side, or where the answer has it.
func (c *checklist) corners(back bool, at registration.Point, offsets ...string) string {
	var places []string
	a := c.edgeA(back)
	for _, st := range c.s.placesOf(back) {
		if len(offsets) > 0 && !slices.Contains(offsets, st.Offset) {
			continue
		}
		at := xy(st.Corner) + " for " + st.Offset
		if st.Turn != 0 {
			at += " with the blank " + turnNames[st.Turn] + ", edge A " + st.Turn.Side(a).String()
		}
		places = append(places, at)
	}
	if len(places) > 0 {
		return list(places) + " (" + c.bedFrame() + ")"
	}
	return xy(at) + " (" + c.frame(false) + ")"
}
