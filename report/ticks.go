package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// Page one's boxes to tick, up to the first cut, and in a few lines how it goes on: the short
// forms of the steps on page two, which say how each is done.

// blank is where something is written by hand.
const blank = "___"

// inShort gives the steps' short forms: what is done before the first cut, and what comes then.
// One that goes on in a line does so behind a semicolon, where it doesn't bring its own comma.
func (s *Setup) inShort() (ticks, plan []string) {
	lines := &ticks
	for _, st := range s.Steps() {
		if st.Cuts {
			lines = &plan
		}
		for i, text := range strings.Split(st.Brief, "\n") {
			switch last := len(*lines) - 1; {
			case text == "":
			case i == 0 && st.Also && last >= 0:
				if !strings.HasPrefix(text, ", ") {
					text = "; " + text
				}
				(*lines)[last] += text
			default:
				*lines = append(*lines, capital(text))
			}
		}
	}
	return ticks, plan
}

// checklist gathers steps.
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

// cut is the step that runs a side's programs.
func (c *checklist) cut(phase string, back bool, cautions ...string) *Step {
	danger, pass := c.dangerCodes(back), c.s.firstPair(back)
	st := c.step(phase, append(danger, cautions...)...)
	st.Cuts = true
	what := "the " + sideOf(back) + " program"
	if names := c.s.programs(pass); names != "" {
		what = names + c.s.takes(pass)
	}
	switch {
	case len(danger) > 0:
		what += ", not as it is: see the warning"
	case c.andChanges(back, false) != "":
		what += ", Z anew at each tool change"
	}
	return st.brief("run %s", what)
}

// setBrief names a thing that is set, the i-th, with its diameter and where it stands of two.
func (c *checklist) setBrief(k stand, dia decimal.Decimal, i int) string {
	name, at := k.short(), "fit "
	if k.Pin() {
		if k.back && c.bored() && !c.s.Answer.Overlies() {
			name = "the back's " + k.Name
		}
		if dia.IsPositive() {
			name += " Ø" + dia.String()
		}
		if p := c.s.dowelPlaces(); p != nil {
			name += " " + p[slices.Index([]string{"dowel 1", "dowel 2"}, k.Name)]
		}
	} else {
		at = "set "
	}
	switch n := len(c.s.Stations); {
	case i > 0:
		return ", " + name
	case n > 2:
		at = "at all stations " + at
	case n == 2 && !c.s.Answer.Overlies() && !c.later():
		at = "at both stations " + at
	}
	return at + name
}

// drillBrief names the programs that drill, and their tools.
func (c *checklist) drillBrief(run string, programs []Drilling) string {
	var tools []string
	pass := among(programs)
	for i := range c.s.Programs {
		for _, t := range c.s.Programs[i].Tools {
			if name := "T" + itoa(t); pass(&c.s.Programs[i]) && !slices.Contains(tools, name) {
				tools = append(tools, name)
			}
		}
	}
	names := itoa(len(programs)) + " programs"
	if len(programs) < 3 {
		names = c.s.programs(pass)
	}
	text := strings.ToLower(run[:1]) + fmt.Sprintf(strings.TrimSuffix(run[1:], "."), names)
	if len(tools) > 0 {
		text += " with " + list(tools)
	}
	return text
}

// heldBrief says how a side's blank is held, and where no clamp may stand.
func (c *checklist) heldBrief(back bool) string {
	limits, text := c.s.clampLimits(), "clamp it, or vacuum on"
	limit := limits[0]
	if back {
		limit = limits[1]
	}
	switch {
	case back && (c.s.HeldAll || limit == limits[0]):
		return "; hold it alike"
	case c.s.HeldAll:
		text = "hold all of it: vacuum or tape"
	case limit == noClamp:
		text = limit
	case limit != "":
		text = limit + ", or vacuum on"
	}
	if len(c.s.Held) > 0 && !back {
		text += "; and by tape or screws at " + c.s.heldPlaces() + " from the corner near left"
	}
	return "\n" + text
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

// checked says at which touch points the locators of sides are checked, and by what tool.
func (c *checklist) checked(by string, sides ...bool) string {
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
		return "check " + names[0] + " to " + names[n-1] + by + " (page\u00a02)"
	}
	return "check " + strings.Join(names, ", ") + by + " (page\u00a02)"
}

// layBlank lays the first blank on its place.
func (c *checklist) layBlank() string {
	q := c.s.Answer.Question
	if c.bored() {
		return "lay the blank FACE up" + words.InTemporary + c.cornerBrief() + ": " + c.s.programs(c.s.firstPair(false)) + " cuts the bore Ø" + q.Bore.Dia.String()
	}
	what := "the blank"
	if q.Register == registration.Plug {
		what += " with its bore Ø" + q.Bore.Dia.String()
	}
	return "lay " + what + c.seatedOn(false) + ", FACE up" + c.lies(false) + ", no chips under it"
}

// seatedOn says what a side's blank lies on or against.
func (c *checklist) seatedOn(back bool) string {
	switch q := c.s.Answer.Question; q.Register {
	case registration.Dowels:
		if c.through() && !back {
			return words.InTemporary + c.cornerBrief()
		}
		return " on its dowels"
	case registration.FenceStop:
		return " against the fence, then the stop"
	case registration.Plug:
		if back && c.s.freeOnPlug() {
			return " on the plug, any way round"
		}
		return " on the plug" + c.clockedBy()
	}
	return ""
}

// cornerBrief says where temporary stops bring the blank's near-left corner; page two does where
// faces are cut at several stations.
func (c *checklist) cornerBrief() string {
	places := c.s.placesOf(false)
	if len(places) != 1 {
		return ""
	}
	return ", corner at machine " + xy(places[0].Corner)
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

// touchBrief says how a side's Z is set, and X and Y where they aren't placed. A tool is asked
// for where none is known.
func (c *checklist) touchBrief(back, placed bool) string {
	s := c.s
	text := "touch off X, Y, Z in "
	if placed {
		text = "touch off Z in "
	}
	text += named(c.offsets(back))
	if s.Answer.Question.ZLevel(back) == registration.Bed {
		text += " on the bed"
	}
	tool, length := s.starts(back)
	switch {
	case tool < 0 && !back:
		text += ", tool " + blank
	case tool < 0:
	case back && c.otherTool():
		text = "put T" + itoa(tool) + " in, " + text
	default:
		text += " with T" + itoa(tool)
	}
	if _, face := s.starts(false); length && !(back && face && !c.resumed()) { // said for the face
		text += ", G43 on"
	}
	z := s.expected(back)
	switch {
	case back && !c.resumed(): // the feeler and the limit are the face's
		if z != nil {
			text += " (expect Z" + z.String() + ")"
		}
		return text
	case s.Feeler != nil:
		text += ", Z = feeler thickness " + s.Feeler.String()
	default:
		text += ", Z = feeler thickness " + blank
	}
	switch {
	case z == nil:
		return text
	case s.StickOut:
		return text + " (expect machine Z" + z.String() + "; more than " + s.farOff(back) + " off: stop)"
	}
	return text + " (expect machine Z" + z.String() + ", stick-out as before)"
}

// otherTool reports whether the back begins with another tool than that with which the face
// ends.
func (c *checklist) otherTool() bool {
	begins, ends := c.s.begins(true), -1
	for i := range c.s.Programs {
		if p := &c.s.Programs[i]; isFace(p) && len(p.Stints) > 0 {
			ends = p.Stints[len(p.Stints)-1].Tool
		}
	}
	return begins != nil && begins.Tool >= 0 && ends >= 0 && begins.Tool != ends
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

// everyBlank goes on with the batch, where there is one.
func (c *checklist) everyBlank() string {
	if p := c.s.Plan; p != nil && p.Parts > 1 {
		return "then each blank the same way"
	}
	return ""
}

// cyclesBrief says what comes before each cycle.
func (c *checklist) cyclesBrief() string {
	text := "dry run each of these above the work, before its first blank"
	if n := c.s.Plan.TouchOffs; n > 0 {
		text += "; touch off Z anew, " + plural(n, "time", "times") + " a cycle"
	}
	return text
}

// cycleBrief says what the i-th cycle of the plan runs, and what hands do for it.
func (c *checklist) cycleBrief(i int) string {
	p, n := c.s.Plan, len(c.offsets(true))
	text := p.Cycles[i].Program + c.s.takes(func(o *Program) bool { return o.Name == p.Cycles[i].Program })
	switch i {
	case 0:
		if p.FirstChanges > 0 && strings.Contains(text, ", ") {
			text += " with tool changes"
		}
		return text + ", " + word(n, "face", "faces") + " only"
	case len(p.Cycles) - 1:
		return text + ", no new " + word(n, "blank", "blanks") + "; take the " + word(n, "part", "parts") + " off"
	}
	faces, backs := named(c.offsets(false)), named(c.offsets(true))
	return text + ": " + word(n, "part", "parts") + " off " + backs + " (from cycle 3); turn " + faces + "'s onto " + backs + "; new " + word(n, "blank", "blanks") + " on " + faces
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
	case total >= 3600:
		return ", " + letters.Duration(total)
	}
	return ", " + letters.Clock(total) + " min"
}
