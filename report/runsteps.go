package report

import (
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/report/words"
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
	c.add(phaseFirst, "Cut the back of "+one+c.backNames()+c.andChanges(true)+".", append(c.dangerCodes(true), tabs...)...)
	text := "Measure the back's offset at two features far apart, back up as cut. Right and away from you are plus. X, Y count from its near-left corner."
	if each {
		text += " Mark each piece with its offset, and measure each."
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
	text = words.CorrectOnce(offset, s.Correct, each)
	if s.Job != "" {
		text += " Paste its line into " + filepath.Base(s.Job) + " and prepare anew."
		if s.LinesFile != "" {
			text += " " + capital(newOffsets(s.LinesFile))
		}
	}
	st = c.add(phaseFirst, text)
	for _, o := range backs {
		if a.Second == nil {
			o = offset
		}
		st.Write = append(st.Write, "new "+o+" X, Y")
	}
	again := ""
	if each {
		again = " at each"
	}
	c.add(phaseFirst, "Dry run the back with the corrected zero. Cut a second piece"+again+" and measure it.", "dry-run")
}

func (c *checklist) run() {
	s := c.s
	if s.Plan == nil || len(s.Plan.Cycles) == 0 {
		c.add(phaseRun, "Run the rest, each blank so: "+strings.Join(c.blankByBlank(), "; ")+". Check zero and tool after every break, tool change or bump.", append(append(c.dangerCodes(false), c.dangerCodes(true)...), c.handsCode(), "wear")...)
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
		c.dryRun(phaseRun, list(programs)+" above the work, each by itself; watch the way between stations", all,
			s.Answer.Uncut(), func(p *Program) bool { return isFace(p) || isBack(p) }, "path")
	}
	aside := "cutter moved aside at the clear height"
	if s.Plan.Park != "" {
		aside = "cutter parked at " + s.Plan.Park
	} else if s.Plan.Ends[1] != "" {
		aside = "cutter moved aside from " + s.Plan.Ends[1] + " at the clear height"
	}
	switch {
	case s.Plan.Hidden:
		text := "Reach only to a guarded station on the side not being cut. Elsewhere check every time: program ended or stopped; spindle still; " + aside + "."
		if s.Plan.TouchOffs > 0 && c.s.Answer.Question.BackZZero != registration.Bed {
			text += " Touch off Z of the backs at the stop. If the control takes no new Z there, use load held."
		}
		c.add(phaseRun, text, c.handsCode())
	case s.Plan.Park != "" || s.Plan.Ends[1] != "":
		c.add(phaseRun, "Check every time before hands go to a station: program ended or stopped; spindle still; "+aside+".", c.handsCode())
	}
	q := s.Answer.Question
	if q.Register == registration.Dowels && c.through() {
		c.add(phaseRun, "In every cycle: pull the dowels before the next blank is drilled through.")
	}
	for _, cy := range s.Plan.Cycles {
		does := cy.Does
		if len(does) == 0 {
			if cy.Before != "" {
				does = append(does, cy.Before)
			}
			if cy.Program != "" {
				does = append(does, "run "+cy.Program)
			}
		}
		text := capital(cy.Name)
		if len(does) > 0 {
			text += ": " + strings.Join(does, "; ")
		}
		if cy.Gives != "" {
			text += "; " + cy.Gives
		}
		cautions := []string{c.handsCode()}
		if s.Plan.TouchOffs > 0 {
			cautions = append(cautions, "lengths")
		}
		c.add(phaseRun, text+".", cautions...)
	}
}

// blankByBlank lists what is done with a blank where each program is run by itself.
func (c *checklist) blankByBlank() (out []string) {
	q := c.s.Answer.Question
	each := q.TouchOff == registration.TouchOffEach
	touch := func(back bool, z registration.ZZero) {
		if again := c.s.endsOtherwise(back); again || each && z != registration.Bed {
			with := ""
			if f := c.s.first(back); f != nil && f.tool >= 0 && !f.length {
				with = " with T" + itoa(f.tool)
			}
			on := " on it"
			if z == registration.Bed {
				on = " on the seating plane"
			}
			out = append(out, "touch off "+list(c.offsets(back))+" in Z alone"+on+with)
		}
	}
	if swap := c.swapBack(); swap != "" {
		out = append(out, swap)
	}
	if c.through() {
		out = append(out, "pull the dowels")
	}
	out = append(out, "lay it on face up and hold it")
	touch(false, q.ZZero)
	if c.through() {
		drill := "drill through it"
		if len(c.drills(c.drillings("through"))) > 1 {
			drill += ", Z touched off for each drill, then for the face program"
		}
		out = append(out, drill)
	}
	out = append(out, "run the face program"+c.named("face")+c.andChanges(false), "stop the spindle and turn it over")
	if len(c.swapSteps()) > 0 {
		out = append(out, "set the locators for the back")
	}
	if c.through() {
		out = append(out, "fit the dowels")
	}
	out = append(out, "seat it back up and hold it")
	touch(true, q.BackZZero)
	return append(out, "run the back program"+c.backNames()+c.andChanges(true))
}

func (c *checklist) handsCode() string {
	if c.s.Guarded {
		return "hands-guarded"
	}
	return "hands"
}
