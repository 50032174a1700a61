package report

import (
	"fmt"
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
	if s.Check.free() {
		tabs = append(tabs, "tabs")
	}
	backs, at, again := c.offsets(true), "", ""
	each := len(backs) > 1
	if each {
		at, again = fmt.Sprintf(words.AtEach, list(backs)), " at each"
	}
	c.cut(phaseFirst, true, tabs...).say(words.CutBack, at, c.named(isBack)+c.andChanges(true, true))
	st := c.step(phaseFirst).say(words.MeasureOff).also("measure how far off, correct (page\u00a02)")
	if each {
		st.say(words.MarkPieces)
	}
	for _, o := range backs {
		if each {
			st.write(o+" DX1, DY1 at X1, Y1,"+c.unit(), o+" DX2, DY2 at X2, Y2,"+c.unit())
			continue
		}
		st.write("DX1,"+c.unit(), "DY1,"+c.unit(), "at X1, Y1", "DX2,"+c.unit(), "DY2,"+c.unit(), "at X2, Y2")
	}
	if a.Second == nil {
		backs[0] = words.TheBackOffset
	}
	st = c.step(phaseFirst).say("%s", words.CorrectOnce(backs[0], s.Correct, each))
	if s.Job != "" {
		st.say(words.PasteLine, filepath.Base(s.Job))
		if s.LinesFile != "" {
			st.say(words.NewOffsets, s.LinesFile)
		}
	}
	for _, o := range backs {
		st.write("new " + o + " X, Y," + c.unit())
	}
	st = c.step(phaseFirst, "dry-run").say(words.AgainBack)
	if c.through() {
		st.say("%s", c.pullDowels(words.ThenPull))
	}
	st.say(words.SecondPiece, again)
	if len(c.anew(true)) > 0 {
		st.say(words.EachToolAnew)
	}
}

func (c *checklist) run() {
	s := c.s
	if s.Plan == nil || len(s.Plan.Cycles) == 0 {
		so := words.RunTheRest
		if c.resumed() {
			so = words.EveryTouched
		}
		c.step(phaseRun, append(append(c.dangerCodes(false), c.dangerCodes(true)...), c.handsCode(), "wear")...).say(so, strings.Join(c.blankByBlank(), "; ")).brief("%s", c.everyBlank())
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
		c.dryRun(phaseRun, fmt.Sprintf(words.Cycles, list(programs)), all, s.Answer.Uncut(), func(p *Program) bool { return isFace(p) || isBack(p) }, "path").brief("%s", c.cyclesBrief())
	}
	from := ""
	if s.Plan.Ends[1] != "" {
		from = " from " + s.Plan.Ends[1]
	}
	aside := fmt.Sprintf(words.CutterAside, from)
	if s.Plan.Park != "" {
		aside = fmt.Sprintf(words.CutterParked, s.Plan.Park)
	}
	switch {
	case s.Plan.Hidden:
		st := c.step(phaseRun, c.handsCode()).say(words.ReachGuarded, aside)
		if s.Plan.TouchOffs > 0 && s.Answer.Question.BackZZero != registration.Bed {
			st.say(words.BacksAtStop)
		}
	case s.Plan.Park != "" || from != "":
		c.step(phaseRun, c.handsCode()).say(words.BeforeHands, aside)
	}
	if c.through() {
		c.step(phaseRun).say("%s", c.pullDowels(words.InEveryCycle))
	}
	for i, cy := range s.Plan.Cycles {
		cautions := []string{c.handsCode()}
		if s.Plan.TouchOffs > 0 {
			cautions = append(cautions, "lengths")
		}
		does := slices.Clone(cy.Does)
		if cy.Repeats {
			does = append(does, fmt.Sprintf(words.RepeatFor, cy.Name))
		}
		if cy.Gives != "" {
			does = append(does, cy.Gives)
		}
		st := c.step(phaseRun, cautions...).say("%s: %s.", capital(cy.Name), strings.Join(does, "; "))
		if cy.Program != "" {
			st.brief("%s: %s", cy.Name, c.cycleBrief(i))
		} else if i == 0 {
			st.brief("%s", c.everyBlank())
		}
	}
}

// blankByBlank lists what is done with a blank where each program is run by itself.
func (c *checklist) blankByBlank() (out []string) {
	q := c.s.Answer.Question
	say := func(clause string, values ...any) { out = append(out, fmt.Sprintf(clause, values...)) }
	// handle lays the blank on; Z on the seating plane is touched off before that.
	handle := func(back bool, clause string) {
		z := q.ZLevel(back)
		again := len(c.s.endOtherwise(back)) > 0 || q.TouchOff == registration.TouchOffEach && z != registration.Bed
		with, on := "", words.OnIt
		if f := c.s.first(back); f != nil && f.tool >= 0 && !f.length {
			with = fmt.Sprintf(words.WithTool, f.named())
		}
		if z != registration.Bed {
			say("%s", clause)
		} else {
			on = words.OnSeat
		}
		if again {
			say(words.TouchInZ, list(c.offsets(back)), on, with)
		}
		if z == registration.Bed {
			say("%s", clause)
		}
	}
	off, on := c.swapped()
	switch {
	case len(off) > 0:
		say(words.ChangeBack, namesOf(on), namesOf(off))
	case len(on) > 0:
		say(words.TakeAway, shortNames(on))
	}
	handle(false, words.LayOn)
	if drill := c.drillIt(); drill != "" {
		say("%s", drill)
	}
	say(words.RunTheFace, c.named(isFace)+c.andChanges(false, false))
	say(words.TurnItOver)
	if c.resumed() {
		say(words.TouchAgain)
		return out
	}
	if len(on) > 0 {
		names := namesOf(on)
		if len(off) == 0 {
			names = shortNames(on)
		}
		say(words.ForTheBack, names)
	}
	handle(true, words.SeatIt)
	say(words.RunTheBack, c.named(isBack)+c.andChanges(true, false))
	return out
}

// pullDowels takes them out before the next blank is drilled through.
func (c *checklist) pullDowels(when string) string {
	does := fmt.Sprintf(words.PullDowels, when)
	if drill := c.drillIt(); drill != "" {
		does += "; " + drill
	}
	return does + "."
}

// drillIt drills through a blank and the bed, "" where the face program does.
func (c *checklist) drillIt() string {
	switch {
	case c.drillsAnew():
		return words.DrillIt + words.EachDrill
	case c.through() && !c.faceDrills():
		return words.DrillIt
	}
	return ""
}

func (c *checklist) handsCode() string {
	if c.s.Guarded {
		return "hands-guarded"
	}
	return "hands"
}
