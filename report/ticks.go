package report

import (
	"math"
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// Page one's boxes to tick, up to the first cut, and in a few lines how it goes on. The
// steps on page two say how each is done.

// blank is where something is written by hand.
const blank = "___"

// ticks are what must be true before the first face is cut, in order.
func (s *Setup) ticks() (out []string) {
	c := s.checklist()
	q := s.Answer.Question
	back := c.resumed() // with a blank whose face is cut, turned and touched
	offsets, over := c.offsets(back), s.Overwritten()
	if back {
		over = offsets
	}
	add := func(text string) {
		if text != "" {
			out = append(out, text)
		}
	}
	if len(over) > 0 {
		homed := "Old "
		if s.Answer.FaceMachine {
			homed = "Homed; old "
		}
		add(homed + named(over) + " written down: " + blank)
	}
	switch {
	case s.LinesFile != "":
		text := s.LinesFile + " run once (stores the zeros above), offset page compared"
		if slices.ContainsFunc(s.Stations, func(st bed.Station) bool { return st.Zero.Z != nil }) {
			text += "; never after Z is touched off"
		}
		add(text)
	case c.placed:
		add("Zeros above stored and read back")
	}
	zero, level := c.zeroTick(back), q.ZLevel(back)
	if back {
		add("Blank still BACK up, clamped where it was touched")
	} else {
		add(c.locatorTick())
	}
	if level == registration.Bed {
		add(zero)
	}
	if !back {
		add(s.pencilTick())
		add(c.blankTick())
		switch {
		case s.HeldAll:
			add("Held all over: vacuum or tape")
		case len(s.Held) > 0:
			add("Clamped, and by tape or screws at " + s.heldPlaces() + " from the corner near left")
		default:
			add("Clamped, or vacuum on")
		}
	}
	if level != registration.Bed {
		add(zero)
	}
	if !c.placed && !back && s.Answer.Second != nil {
		add(s.secondTick())
	}
	if c.through() && !c.faceDrills() {
		drilled := "Dowel holes drilled through (page\u00a02)"
		if c.drillsAnew() {
			drilled += ", Z touched off for it, then again for the face"
		}
		add(drilled)
	}
	if q.TouchOff == registration.TouchOffOnce {
		add(strings.Join(c.following(), ", "))
	}
	if len(c.dangerCodes(back)) > 0 {
		add("Stop here: mend the program as the warning says, prepare again")
		return out
	}
	thick, pass := s.Answer.Uncut(), isFace
	if back {
		thick, pass = s.Answer.Used.T, isBack
	}
	l := s.lift(offsets, thick, pass)
	by := l.by.String() + " " + s.Unit.String()
	switch {
	case l.none():
		add("Tool up, dry run over the bare bed: clear. Blank back on")
		return out
	case l.short():
		add("Blank off, tool up: dry run, " + named(offsets) + " Z raised " + l.room.String() + " " + s.Unit.String() + ": clear. Then Z back to " + blank)
		return out
	case !l.known:
		by = "clear of the work"
	}
	add("Tool up, dry run, " + named(offsets) + " Z raised " + by + ": clear. Then Z back to " + blank)
	return out
}

// checklist gathers steps, or the words of page one's boxes.
func (s *Setup) checklist() *checklist {
	return &checklist{s: s, said: map[string]bool{}, placed: s.Answer.FaceAt != nil || len(s.Stations) > 0}
}

// named lists a few offsets by name.
func named(offsets []string) string {
	if len(offsets) > 4 {
		return itoa(len(offsets)) + " offsets"
	}
	return strings.Join(offsets, ", ")
}

// locatorTick says that the locators stand and were checked; "" where none stands yet.
func (c *checklist) locatorTick() string {
	s := c.s
	q := s.Answer.Question
	if first, _ := c.standing(); len(first) == 0 {
		return ""
	}
	text := ""
	switch q.Register {
	case registration.Dowels:
		text = "Dowels"
		if p := s.dowelPlaces(); p != nil {
			text += " Ø" + q.Pins[0].Dia.String() + " " + p[0] + ", Ø" + q.Pins[1].Dia.String() + " " + p[1]
		}
		if n := len(s.Stations); n == 2 {
			text += ", both stations"
		} else if n > 2 {
			text += ", all stations"
		}
		text += c.holesBy()
	case registration.Plug:
		text = "Plug"
		if c.bored() {
			text = "The back's plug"
		}
		if q.PlugD != nil {
			text += " Ø" + q.PlugD.String()
		}
		switch q.Clock.Kind {
		case registration.ClockPin:
			text += ", index pin"
			if q.Clock.Dia.IsPositive() {
				text += " Ø" + q.Clock.Dia.String()
			}
			text += " (page\u00a02)"
		case registration.ClockFlat:
			text += ", its flat as on page\u00a02,"
		}
		text += " set"
	case registration.FenceStop:
		text = "Fence and stop set (page\u00a02)"
	}
	if points := c.checked(c.checkedFirst()...); points != "" {
		text += "; " + points
	}
	return text
}

// holesBy says who drills the holes of dowels, and with what.
func (c *checklist) holesBy() string {
	var tools []string
	for i := range c.s.Programs {
		for _, t := range c.s.Programs[i].Tools {
			if name := "T" + itoa(t); c.s.Programs[i].Role == "drilling" && !slices.Contains(tools, name) {
				tools = append(tools, name)
			}
		}
	}
	switch {
	case len(c.drillings("bed", "back-bed", "blank")) == 0:
		return " (holes by hand: page\u00a02)"
	case len(tools) == 0:
		return " (programs drill bed, then blanks: page\u00a02)"
	}
	return " (programs drill bed, then blanks, with " + list(tools) + ": page\u00a02)"
}

// secondTick stores the second zero, which follows from the face's that was touched off.
func (s *Setup) secondTick() string {
	z := s.Answer.Second
	return z.Offset + " stored: " + s.Answer.Question.FaceOffset() + "'s values plus " + xyz(z.X, z.Y, z.Z)
}

// dowelPlaces are where two dowels of two diameters stand as seen by the operator, where
// that is one place on both sides and at all stations; else nil.
func (s *Setup) dowelPlaces() []string {
	q := s.Answer.Question
	if q.Register != registration.Dowels || len(q.Pins) != 2 || len(s.turnings()) > 1 || q.Pins[0].Dia.Equal(q.Pins[1].Dia) || q.Pins[0].Dia.IsZero() || q.Pins[1].Dia.IsZero() {
		return nil
	}
	a, b := q.Pins[0].At, q.Pins[1].At
	sides := [2]registration.Side{registration.Near, registration.Far}
	across, along := a.X.Sub(b.X), a.Y.Sub(b.Y)
	if q.Flip == registration.FlipX {
		sides = [2]registration.Side{registration.Left, registration.Right}
		across, along = along, across
	}
	if !across.IsZero() { // not on the flip line
		return nil
	}
	if along.IsPositive() {
		sides[0], sides[1] = sides[1], sides[0]
	}
	turn := s.turnings()[0].quarter
	return []string{turn.Side(sides[0]).String(), turn.Side(sides[1]).String()}
}

// checked says at which touch points the locators of sides are checked.
func (c *checklist) checked(sides ...bool) string {
	var offsets, names []string
	for _, back := range sides {
		offsets = append(offsets, c.offsets(back)...)
	}
	for i, t := range c.s.touchPoints() {
		if slices.Contains(offsets, t.Offset) {
			names = append(names, t.Name(i+1))
		}
	}
	switch n := len(names); {
	case n == 0:
		return ""
	case n > 2:
		return names[0] + " to " + names[n-1] + " checked"
	}
	return list(names) + " checked"
}

// blankTick says that the first blank lies there.
func (c *checklist) blankTick() string {
	q := c.s.Answer.Question
	lying := "Blank"
	if q.Register == registration.Plug {
		bore := "bore Ø" + q.Bore.Dia.String()
		if c.bored() {
			return "Blank FACE up" + words.InTemporary + ": " + c.s.programs(c.s.firstPair(false)) + " cuts the " + bore
		}
		lying += " with its " + bore
	}
	return lying + c.seatedOn(false) + ", FACE up" + c.lies(false) + ", no chips under it"
}

// pencilTick says what is written on the first blank: its side up, and the letters by which
// its edges are known.
func (s *Setup) pencilTick() string {
	text := "Blank pencilled: FACE"
	for i, edge := range []registration.Side{registration.Near, registration.Right, registration.Far, registration.Left} {
		for k, t := range s.turnings() {
			if k > 0 {
				return text + ", A to D as on page\u00a02"
			}
			text += ", " + string("ABCD"[i]) + " " + t.quarter.Side(edge).String()
		}
	}
	return text
}

// seatedOn says what a side's blank lies on or against.
func (c *checklist) seatedOn(back bool) string {
	switch q := c.s.Answer.Question; q.Register {
	case registration.Dowels:
		if c.through() && !back {
			return words.InTemporary
		}
		return " on its dowels"
	case registration.FenceStop:
		return " against the fence, then the stop"
	case registration.Plug:
		return " on the plug" + c.clockedBy()
	}
	return ""
}

// clockedBy says what squares a blank on its plug.
func (c *checklist) clockedBy() string {
	switch c.s.Answer.Question.Clock.Kind {
	case registration.ClockPin:
		return " and index pin"
	case registration.ClockFlat:
		return "'s flat"
	case registration.ClockFence:
		return " and fence"
	}
	return ""
}

// edgeA is where edge A lies as a side is cut, the blank not turned.
func (c *checklist) edgeA(back bool) registration.Side {
	if back && c.s.Answer.Question.Flip == registration.FlipX {
		return registration.Far
	}
	return registration.Near
}

// lies says how a side's blank lies at stations that are turned, "" where none is.
func (c *checklist) lies(back bool) string {
	edge := c.edgeA(back)
	var turns []registration.Quarter
	for _, st := range c.s.placesOf(back) {
		if !slices.Contains(turns, st.Turn) {
			turns = append(turns, st.Turn)
		}
	}
	switch {
	case len(turns) > 1:
		return ", turned as on page\u00a02"
	case len(turns) == 1 && turns[0] != 0:
		return ", edge A " + turns[0].Side(edge).String()
	}
	return ""
}

// zeroTick says that a side's Z is set, and X and Y where no machine coordinates are
// known. A tool is asked for where none is known.
func (c *checklist) zeroTick(back bool) string {
	s := c.s
	axes := "Z"
	if !c.placed && !back {
		axes = "X, Y, Z"
	}
	text := axes + " touched off in " + named(c.offsets(back))
	if s.Answer.Question.ZLevel(back) == registration.Bed {
		text += " on the bed"
	}
	tool, length := s.starts(back)
	switch {
	case tool < 0:
		text += ", tool " + blank
	case length:
		text += " with T" + itoa(tool) + ", its length on (G43)"
	default:
		text += " with T" + itoa(tool)
		if len(s.toolChanges(back)) > 0 && len(c.dangerCodes(back)) == 0 {
			text += " (anew at each tool change)"
		}
	}
	if s.Feeler != nil {
		text += ", Z set to the feeler, " + s.Feeler.String()
	} else {
		text += ", Z set to the feeler: " + blank
	}
	if z := s.expected(back); z != nil {
		text += " (expect machine Z" + z.String() + "; far off: stop)"
	}
	return text
}

// starts is the tool with which a side's programs begin, or the only one there is, and
// whether its length is called; -1 where it isn't known.
func (s *Setup) starts(back bool) (tool int, length bool) {
	tool = -1
	if st := s.begins(back); st != nil {
		tool, length = st.Tool, st.Length
	}
	if tool < 0 && len(s.Tools) == 1 {
		tool = s.Tools[0].Number
	}
	return tool, length
}

// plan says in a few lines how it goes on from there.
func (s *Setup) plan() (out []string) {
	c := s.checklist()
	backs := named(c.offsets(true))
	add := func(text string) { out = append(out, text) }
	runs := func(what string, back bool) string {
		pass := s.firstPair(back)
		if names := s.programs(pass); names != "" {
			what = names + s.takes(pass)
		}
		switch {
		case len(c.dangerCodes(back)) > 0:
			what += ", not as it is: see the warning"
		case len(s.toolChanges(back)) > 0:
			what += ", Z anew at each tool change"
		}
		return what
	}
	face, back := runs("the face program", false), runs("the back program", true)
	thick, dry := s.Answer.Used.T, ", tool up, dry run"
	if l := s.lift(c.offsets(true), thick, isBack); len(c.dangerCodes(true)) > 0 {
		dry = ""
	} else if l.known && !l.none() && !l.short() {
		dry = ", tool up, raise Z " + l.by.String() + " " + s.Unit.String() + ", dry run, Z back to " + blank
	}
	turn := "Spindle stopped, turn it over"
	off, on := c.swapped()
	switch pins := slices.ContainsFunc(on, stand.Pin); {
	case c.through():
		turn += ", fit the dowels"
	case c.bored() && pins:
		turn += ", fit " + shortNames(slices.DeleteFunc(slices.Clone(on), func(k stand) bool { return !k.Pin() }))
	case len(on) > 0:
		turn += ", lay it aside, change over " + shortNames(on)
	case len(off) > 0:
		turn += ", lay it aside, take out " + shortNames(off)
	}
	if points := c.checked(true); points != "" && len(on) > 0 {
		turn += ", " + points
	}
	seat := c.turnedSeat()
	if s.Answer.ToTouch() {
		add("Run " + face)
		add(turn + ". Clamp it BACK up, anywhere.")
		add("Touch " + plural(len(s.Answer.Spots), "place", "places") + ", readings into the job, prepare anew: page\u00a02")
		return out
	}
	if c.resumed() {
		add("Run " + back + "; measure the first piece")
		return out
	}
	if !s.merged() {
		add("Run " + face)
		add(turn + "; " + seat + dry)
		add("Run " + back + "; measure the first piece")
		if s.Plan != nil && s.Plan.Parts > 1 {
			add("Then each blank the same way")
		}
		return out
	}
	add("Test piece: face, turn it over, " + seat + dry + ", back, measure")
	n := len(c.offsets(true))
	for i, cy := range s.Plan.Cycles {
		text := capital(cy.Name) + ": " + cy.Program + s.takes(func(p *Program) bool { return p.Name == cy.Program })
		switch i {
		case 0:
			if s.Plan.FirstChanges > 0 && strings.Contains(text, ", ") {
				text += " with tool changes"
			}
			text += ", " + word(n, "face", "faces") + " only"
		case len(s.Plan.Cycles) - 1:
			text += ", no new " + word(n, "blank", "blanks") + "; take the " + word(n, "part", "parts") + " off"
		default:
			text += ": from cycle 3 " + word(n, "part", "parts") + " off " + backs + "; turned " + word(n, "part", "parts") + " on it, new " + word(n, "blank", "blanks") + " on " + named(c.offsets(false))
		}
		add(text)
	}
	return out
}

// merged reports whether faces and backs are cut by one program a cycle.
func (s *Setup) merged() bool {
	return s.Plan != nil && slices.ContainsFunc(s.Plan.Cycles, func(c Cycle) bool { return c.Program != "" })
}

// firstPair passes a side's programs, of the first pair alone.
func (s *Setup) firstPair(back bool) func(*Program) bool {
	return func(p *Program) bool {
		return p.cuts(back) && (len(s.Stations) <= 2 || slices.ContainsFunc(s.Stations[:2], func(st bed.Station) bool { return st.Offset == p.Offset }))
	}
}

// programs names the programs that pass, in the order in which they are run.
func (s *Setup) programs(pass func(*Program) bool) string {
	var names []string
	for i := range s.Programs {
		if p := &s.Programs[i]; pass(p) {
			names = append(names, p.Name)
		}
	}
	return strings.Join(names, ", ")
}

// takes is the time of the programs that pass, behind a comma; "" where one isn't known.
func (s *Setup) takes(pass func(*Program) bool) string {
	total := 0.0
	for i := range s.Programs {
		if p := &s.Programs[i]; pass(p) {
			if p.Seconds <= 0 {
				return ""
			}
			total += float64(p.Seconds)
		}
	}
	switch {
	case total == 0:
		return ""
	case total < 60:
		return ", " + itoa(int(math.Ceil(total))) + " s"
	}
	return ", " + letters.Clock(total) + " min"
}

// turnedSeat lays the turned blank on its place and sets the back's Z.
func (c *checklist) turnedSeat() string {
	a := c.s.Answer
	q := a.Question
	seat := "seat it BACK up" + c.seatedOn(true) + c.lies(true) + ", clamp"
	touch := "touch off Z in " + named(c.offsets(true))
	switch tool, length := c.s.starts(true); {
	case length:
		touch += " with T" + itoa(tool) + " and G43"
	case tool >= 0:
		touch += " with T" + itoa(tool)
	}
	if z := c.s.expected(true); z != nil {
		touch += " (Z" + z.String() + ")"
	}
	switch {
	case a.Second != nil && q.TouchOff == registration.TouchOffOnce:
		return seat
	case q.BackZZero == registration.Bed:
		return touch + " on the bed, " + seat
	}
	return seat + ", " + touch
}
