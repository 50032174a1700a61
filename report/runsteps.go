package report

import (
	"slices"
	"strings"

	"flipcalc/registration"
)

// The steps of the first article and of the run.

func (c *checklist) first() {
	s, a := c.s, c.s.Answer
	var tabs []string
	if s.TabsFree {
		tabs = append(tabs, "tabs")
	}
	backs := c.offsets(true)
	each := len(backs) > 1
	one := "one piece"
	if each {
		one = "one piece at each of " + list(backs)
	}
	c.add(phaseFirst, "Cut the back of "+one+c.backNames()+".", tabs...)
	text := "Measure at two features far apart how far the back lies from where it should, looking at the back as it lay on the machine: DX to the right, DY away from you, at X, Y from its near-left corner."
	if each {
		text += " Mark each piece with the offset that it lay on, and measure each."
	}
	st := c.add(phaseFirst, text)
	for _, o := range backs {
		if each {
			st.Write = append(st.Write, o+" DX1, DY1 at X1, Y1", o+" DX2, DY2 at X2, Y2")
			continue
		}
		st.Write = append(st.Write, "DX1", "DY1", "at X1, Y1", "DX2", "DY2", "at X2, Y2")
	}
	offset := "the back's offset"
	if a.Second != nil {
		offset = backs[0]
	}
	text = "Correct " + offset + " once: " + s.Correct + " --landed DX1,DY1@X1,Y1 --landed DX2,DY2@X2,Y2 gives the new second zero. (By hand: X minus the mean DX, Y minus the mean DY.)"
	if each {
		text += " That is for the piece of " + offset + ". " + list(backs[1:]) + " by hand, each by its own piece's DX and DY."
	}
	if len(s.Lines) > 0 {
		file := s.LinesFile
		if file == "" {
			file = "the offsets program"
		}
		text += " Put it into " + file + " too: run again, that would bring back the old zero and the Z that was reckoned."
	}
	st = c.add(phaseFirst, text)
	for _, o := range backs {
		if a.Second == nil {
			o = offset
		}
		st.Write = append(st.Write, "new "+o+" X, Y")
	}
	c.add(phaseFirst, "Dry run the back again with the corrected zero, cut a second piece"+map[bool]string{true: " at each", false: ""}[each]+" and measure it before going on.", "dry-run")
}

func (c *checklist) run() {
	s := c.s
	if s.Plan == nil || len(s.Plan.Cycles) == 0 {
		c.add(phaseRun, "Run the rest, with every blank in this order: "+strings.Join(c.blankByBlank(), "; ")+". Check zero and tool after every break, tool change or bump.", c.handsCode(), "wear")
		return
	}
	var programs []string
	for _, cy := range s.Plan.Cycles {
		if cy.Program != "" && !slices.Contains(programs, cy.Program) {
			programs = append(programs, cy.Program)
		}
	}
	if len(programs) > 0 {
		all := append(c.offsets(false), c.offsets(true)...)
		c.dryRun(phaseRun, list(programs)+" above the work, each for itself, and watch the way from station to station at the clear height", all,
			s.Answer.Uncut(), func(p *Program) bool { return isFace(p) || isBack(p) }, "path")
	}
	switch p := s.Plan; {
	case p.Hidden: // hands go in while the other side is cut
	case p.Park != "":
		c.add(phaseRun, "Before hands go to a station, every time: the program has ended or stopped, the spindle stands still, the cutter is parked at "+p.Park+".", c.handsCode())
	case p.Ends[1] != "":
		c.add(phaseRun, "Before hands go to a station, every time: the program has ended or stopped, the spindle stands still, and the cutter, which stops over the station cut last ("+p.Ends[1]+"), is moved aside at the clear height.", c.handsCode())
	}
	if each := c.everyBlank(); each != "" {
		c.add(phaseRun, "In every cycle: "+each, "lengths")
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

// blankByBlank lists what is done with a blank where each program is run by itself.
func (c *checklist) blankByBlank() (out []string) {
	q := c.s.Answer.Question
	each := q.TouchOff == registration.TouchOffEach
	touch := func(back bool, z registration.ZZero) {
		if each && z != registration.Bed {
			out = append(out, "touch off Z of "+list(c.offsets(back))+" on it, X and Y stay")
		}
	}
	if swap := c.swapBack(); swap != "" {
		out = append(out, swap)
	}
	if c.through() {
		out = append(out, "pull the pins")
	}
	out = append(out, "lay it on face up and hold it")
	touch(false, q.ZZero)
	if c.through() {
		out = append(out, "drill through it")
	}
	out = append(out, "run the face program"+c.named("face"), "stop the spindle and turn it over")
	if len(c.swapSteps()) > 0 {
		out = append(out, "change the locators over for the back")
	}
	if c.through() {
		out = append(out, "fit the pins")
	}
	out = append(out, "seat it back up and hold it")
	touch(true, q.BackZZero)
	return append(out, "run the back program"+c.backNames())
}

// everyBlank says what is touched off on every blank, "" if nothing is.
func (c *checklist) everyBlank() string {
	a := c.s.Answer
	q := a.Question
	var text string
	if q.Register == registration.Dowels && c.through() {
		text = "pull the pins before the next blank is drilled through. "
	}
	if q.TouchOff != registration.TouchOffEach {
		return text
	}
	var sides []string
	if q.ZZero != registration.Bed {
		sides = append(sides, list(c.offsets(false))+" on its face")
	}
	if q.BackZZero != registration.Bed {
		sides = append(sides, list(c.offsets(true))+" on its back")
	}
	if len(sides) == 0 {
		return text
	}
	if text != "" {
		return text + "On every blank touch off Z anew, X and Y stay: " + list(sides) + ". "
	}
	return "on every blank touch off Z anew, X and Y stay: " + list(sides) + ". "
}

func (c *checklist) handsCode() string {
	if c.s.Guarded {
		return "hands-guarded"
	}
	return "hands"
}
