package report

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Step is one line of the checklist that a person ticks off at the machine.
type Step struct {
	Phase string // the heading it stands under
	Text  string
	// Write is a label for a value to be written in by hand, "" if none.
	Write    []string
	Cautions []Caution
}

// The phases of the checklist, in order.
const (
	phasePrepare = "Before the blank goes on"
	phaseFace    = "Face: hold, touch off, dry run"
	phaseTurn    = "Turn over"
	phaseFirst   = "First article"
	phaseRun     = "Run"
)

// Steps gives the checklist. It holds only steps that the setup calls for.
func (s *Setup) Steps() []Step {
	if !s.Checklist || s.Answer == nil {
		return nil
	}
	c := &checklist{s: s}
	c.prepare()
	c.face()
	c.turn()
	c.first()
	c.run()
	return c.steps
}

type checklist struct {
	s     *Setup
	steps []Step
	phase string
	said  map[string]bool // cautions of this phase
}

func (c *checklist) add(phase, text string, cautions ...string) *Step {
	st := Step{Phase: phase, Text: text}
	if c.phase != phase {
		c.phase, c.said = phase, map[string]bool{}
	}
	for _, code := range cautions {
		if !c.said[code] { // once a phase is enough
			c.said[code] = true
			st.Cautions = append(st.Cautions, Caution{code, c.s.caution(code)})
		}
	}
	c.steps = append(c.steps, st)
	return &c.steps[len(c.steps)-1]
}

func (c *checklist) prepare() {
	s, a := c.s, c.s.Answer
	unit := s.Unit.String()
	if over := s.Overwritten(); len(over) > 0 {
		c.add(phasePrepare, "Note the old values of "+list(over)+" in the table of offsets, as the control shows them: they are overwritten.")
	}
	c.add(phasePrepare, "Clear and clean the bed. Compare what stands on it with the drawing: nothing of other fixtures inside a station.", "practice")
	for _, t := range append(c.drillingSteps(), c.locatorSteps()...) {
		c.add(phasePrepare, t)
	}
	if len(s.Tools) > 0 {
		st := c.add(phasePrepare, "Check each tool against the list: number, shape, diameter, stick-out.", "check-zero")
		for _, t := range s.Tools {
			st.Write = append(st.Write, "T"+itoa(t.Number)+" stick-out, "+unit)
		}
	} else {
		c.add(phasePrepare, "Check each tool: number, shape, diameter, stick-out.", "check-zero")
	}
	b := a.Used
	c.add(phasePrepare, "Measure the blank in three places: "+size(b)+" "+unit+" was reckoned with.").Write = []string{"W", "H", "T"}
}

// locatorSteps says how the locators are set.
func (c *checklist) locatorSteps() []string {
	s, a := c.s, c.s.Answer
	unit := s.Unit.String()
	q := a.Question
	var out []string
	for _, t := range a.Touches {
		text := "Set the " + t.Locator + contactAt(t.Side, t.FaceCoord.String(), t.CoordKnown) + ": "
		if t.Locator == "fence" {
			text += "two contacts, as far apart as the blank allows"
		} else {
			text += "one contact"
		}
		if !t.Shared && (t.Side != t.BackSide || !t.FaceCoord.Equal(t.BackCoord) || t.CoordKnown != t.BackKnown) {
			back := t.BackLocator
			if back == "" {
				back = t.Locator
			}
			text += "; for the back the " + back + contactAt(t.BackSide, t.BackCoord.String(), t.BackKnown)
		}
		out = append(out, text+".")
	}
	switch q.Register {
	case registration.Dowels:
		for i, p := range a.FacePins {
			text := "Fit the pin for hole " + itoa(i+1)
			if !p.Dia.IsZero() {
				text += ", " + p.Dia.String() + " " + unit + " dia,"
			}
			text += " at " + xy(p.At) + " (" + frameWords(a.FaceMachine) + ")"
			if q.BackPin != nil && i < len(a.BackPins) {
				text += " and, for the back, at " + xy(a.BackPins[i].At) + " (" + frameWords(a.Machine) + ")"
			}
			out = append(out, text+".")
		}
	case registration.Plug:
		if q.Bore == nil {
			break
		}
		text := "Fit the plug"
		if q.PlugD != nil {
			text += ", " + q.PlugD.String() + " " + unit + " dia,"
		}
		face := add(a.FaceCorner, q.Bore.At)
		text += " at " + xy(face) + " (" + frameWords(a.FaceMachine) + ")"
		if p := a.PlugAt; p != nil && !(p.X.Equal(face.X) && p.Y.Equal(face.Y) && a.Machine == a.FaceMachine) {
			text += " and, for the back, at " + xy(*p) + " (" + frameWords(a.Machine) + ")"
		}
		out = append(out, text+".")
		switch q.Clock.Kind {
		case registration.ClockPin:
			text := "Fit the clocking pin at " + xy(add(a.FaceCorner, q.Clock.Pin)) + " (" + frameWords(a.FaceMachine) + ")"
			if a.ClockAt != nil {
				text += "; for the back at " + xy(*a.ClockAt) + " (" + frameWords(a.Machine) + ")"
			}
			out = append(out, text+".")
		case registration.ClockFlat:
			out = append(out, "Clock the blank by its flat.")
		}
	}
	return out
}

// contactAt says where a fence or stop stands.
func contactAt(side registration.Side, coord string, machine bool) string {
	axis := "Y"
	if side == registration.Left || side == registration.Right {
		axis = "X"
	}
	return " on the " + side.String() + " side at " + axis + coord + " (" + frameWords(machine) + ")"
}

func add(a, b registration.Point) registration.Point {
	return registration.Point{X: a.X.Add(b.X), Y: a.Y.Add(b.Y)}
}

func (c *checklist) face() {
	s, a := c.s, c.s.Answer
	q := a.Question
	seat := "Lay the blank face up"
	switch q.Register {
	case registration.FenceStop:
		seat += " against the fence first, then slide it to the stop"
	case registration.Dowels:
		seat += " on its pins, without force"
	case registration.Plug:
		seat += " on the plug and clock it"
	}
	seat += "." + c.corner(false, a.FaceCorner, a.FaceMachine)
	hold := []string{"seat"}
	if q.Register != registration.NoRegister || len(s.Stations) > 0 {
		hold = append(hold, "hold")
	}
	c.add(phaseFace, seat, hold...)
	c.store(phaseFace)
	c.touchOff(phaseFace, false)
	c.add(phaseFace, "Dry run the face program"+c.named("face")+" above the work: spindle off, hand on feed hold.", "dry-run", "path")
}

// corner says where the blank's near-left corner comes to lie: at the stations
// of that side, or where the answer has it.
func (c *checklist) corner(back bool, at registration.Point, machine bool) string {
	var places []string
	for _, st := range c.s.Stations {
		if st.Back == back {
			places = append(places, xy(st.Corner)+" for "+st.Offset)
		}
	}
	if len(places) > 0 {
		return " Near-left corner at " + list(places) + " (machine coordinates)."
	}
	return " Near-left corner at " + xy(at) + " (" + frameWords(machine) + ")."
}

// named gives the file names of a role in brackets.
func (c *checklist) named(role string) string {
	var names []string
	for _, p := range c.s.Programs {
		if p.Role == role {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + list(names) + ")"
}

// store says how the offsets get their values.
func (c *checklist) store(phase string) {
	s, a := c.s, c.s.Answer
	if len(s.Lines) > 0 {
		t := "Read the offsets program through, then run it"
		if s.LinesFile != "" {
			t = "Read " + s.LinesFile + " through, then run it"
		}
		c.add(phase, t+"; compare the control's offset page with the table, number for number.")
		return
	}
	if z := a.Second; z != nil && z.Machine {
		c.add(phase, "Store the second zero, "+xyz(z.X, z.Y, z.Z)+", in "+z.Offset+" and read it back.")
	} else if z != nil {
		c.add(phase, "Touch off the face zero first (next step); then store in "+z.Offset+" its values plus "+xyz(z.X, z.Y, z.Z)+" and read them back.")
	}
}

// touchOff says how one zero is set.
func (c *checklist) touchOff(phase string, back bool) {
	s, a := c.s, c.s.Answer
	q := a.Question
	offset, z := q.Offset, q.ZZero
	if offset == "" {
		offset = "G54"
	}
	at, stored := zeroWords(q.Zero, a.FaceZero), a.FaceAt != nil
	var storedZ *decimal.Decimal
	if a.FaceAt != nil {
		storedZ = a.FaceAt.Z
	}
	if back {
		z = q.BackZZero
		at, stored = zeroWords(q.BackZero, a.BackZero), a.Second != nil
		if a.Second != nil {
			offset = a.Second.Offset
			storedZ = nil
			if a.Second.Machine {
				storedZ = a.Second.Z
			}
		}
	}
	text := "Touch off " + offset
	if stored {
		text += " in Z alone, X and Y stay as stored (" + at + "): "
	} else {
		text += ": X0 Y0 at the " + at + "; "
	}
	text += "Z0 is " + zZeroWords(z)
	if s.Feeler != nil {
		text += "; with the " + s.Feeler.String() + " " + s.Unit.String() + " feeler under the tool Z reads " + s.Feeler.String()
	} else {
		text += "; with a feeler under the tool Z reads the feeler's thickness"
	}
	if storedZ != nil {
		text += ". Machine Z" + storedZ.String() + " was reckoned: a great difference means another tool, stick-out or blank"
	}
	text += "."
	var cautions []string
	if !back && q.Register == registration.FenceStop {
		cautions = append(cautions, "stop-edge")
	}
	if a.Second != nil && a.Second.Z != nil && !back {
		cautions = append(cautions, "same-tool")
	}
	st := c.add(phase, text, cautions...)
	if s.Feeler == nil {
		st.Write = append(st.Write, "feeler, "+s.Unit.String())
	}
	st.Write = append(st.Write, "tool touched off")
}

func (c *checklist) turn() {
	a := c.s.Answer
	q := a.Question
	c.add(phaseTurn, "Run the face program"+c.named("face")+".", "wear", c.handsCode())
	c.add(phaseTurn, "Stop the spindle, then turn the blank: "+FlipWords(q.Flip)+". "+turnCheck(q.Flip), "turn")
	seat := "Seat it back up"
	switch q.Register {
	case registration.FenceStop:
		for i, t := range a.Touches {
			back := t.BackLocator
			if back == "" {
				back = t.Locator
			}
			if i == 0 {
				seat += ": "
			} else {
				seat += ", "
			}
			seat += back + " on the " + t.BackSide.String() + " side touches the edge that was " + t.BackEdge.String()
		}
	case registration.Dowels:
		seat += " on its pins"
		for _, l := range a.LayUps {
			if l.Fits && !l.Wanted && l.Name != registration.LayAsIs {
				seat += "; it would go on wrongly too (" + l.Name + "), so look at the letters before you press it down"
				break
			}
		}
	case registration.Plug:
		seat += " on the plug and clock it"
	}
	seat += "."
	if a.BackCorner != nil {
		seat += c.corner(true, *a.BackCorner, a.Machine)
	}
	cautions := []string{"seat"}
	if q.Register != registration.NoRegister {
		cautions = append(cautions, "hold")
	}
	c.add(phaseTurn, seat, cautions...)
	if q.TouchOff == registration.TouchOffEach || a.Second == nil || a.Second.Z == nil {
		c.touchOff(phaseTurn, true)
	}
	c.add(phaseTurn, "Dry run the back program"+c.backNames()+" above the work.", "dry-run", "path")
}

// turnCheck says which lettered edge must now be where.
func turnCheck(f registration.Flip) string {
	if f == registration.FlipX {
		return "Edge A (near) is now far, B (right) is still right, C (far) is now near, D (left) is still left."
	}
	return "Edge A (near) is still near, B (right) is now left, C (far) is still far, D (left) is now right."
}

func (c *checklist) backNames() string {
	var names []string
	for _, p := range c.s.Programs {
		switch p.Role {
		case "back", "mirrored", "as written":
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + list(names) + ")"
}

func (c *checklist) handsCode() string {
	if c.s.Guarded {
		return "hands-guarded"
	}
	return "hands"
}

func (c *checklist) first() {
	s, a := c.s, c.s.Answer
	var tabs []string
	if s.TabsFree {
		tabs = append(tabs, "tabs")
	}
	c.add(phaseFirst, "Cut the back of one piece"+c.backNames()+".", tabs...)
	c.add(phaseFirst, "Measure at two features far apart how far the back lies from where it should, looking at the back as it lay on the machine: DX to the right, DY away from you, at X, Y from its near-left corner.").
		Write = []string{"DX 1", "DY 1", "at X, Y", "DX 2", "DY 2", "at X, Y"}
	offset := "the back's offset"
	if a.Second != nil {
		offset = a.Second.Offset
	}
	job := ""
	if s.Job != "" {
		job = " --job " + s.Job
	}
	c.add(phaseFirst, "Correct "+offset+" once: flipcalc correct"+job+" --landed DX,DY@X,Y gives the new second zero. (By hand: X minus DX, Y minus DY.)").
		Write = []string{"new " + offset + " X, Y"}
	c.add(phaseFirst, "Dry run the back again with the corrected zero, cut a second piece and measure it before going on.", "dry-run")
}

func (c *checklist) run() {
	s := c.s
	if s.Plan == nil || len(s.Plan.Cycles) == 0 {
		c.add(phaseRun, "Run the rest. Check zero and tool after every break, tool change or bump.", c.handsCode(), "wear")
		return
	}
	var programs []string
	for _, cy := range s.Plan.Cycles {
		if cy.Program != "" && !slices.Contains(programs, cy.Program) {
			programs = append(programs, cy.Program)
		}
	}
	if len(programs) > 0 {
		c.add(phaseRun, "Dry run "+list(programs)+" above the work, each for itself, and watch the way from station to station at the clear height.", "dry-run", "path")
	}
	for _, cy := range s.Plan.Cycles {
		text := capital(cy.Name)
		if cy.Before != "" {
			text += ": " + cy.Before
		}
		if cy.Program != "" {
			text += "; run " + cy.Program
		}
		if cy.Gives != "" {
			text += "; " + cy.Gives
		}
		c.add(phaseRun, text+".", c.handsCode())
	}
}
