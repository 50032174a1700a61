package report

import (
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/report/draw"
	"flipcalc/report/words"
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
	phaseHoles   = "Drill the holes"
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
	c := &checklist{s: s, said: words.Said{}}
	c.placed = s.Answer.FaceAt != nil || len(s.Stations) > 0
	c.prepare()
	c.holes()
	c.face()
	c.turn()
	if s.Answer.ToTouch() { // the sheet that is made next goes on from there
		return c.steps
	}
	c.first()
	c.run()
	return c.steps
}

type checklist struct {
	s     *Setup
	steps []Step
	said  words.Said // cautions that stand at a step
	// placed says that X and Y of the face's offset are set by now.
	placed bool
}

func (c *checklist) add(phase, text string, cautions ...string) *Step {
	st := Step{Phase: phase, Text: text}
	for _, code := range cautions {
		if c.said.First(code) { // where it is acted on first
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
		c.add(phasePrepare, "Note the old values of "+list(over)+": they are overwritten.")
	}
	c.add(phasePrepare, "Clear and clean the bed. Compare it with the drawing: no other fixture inside a station.", "practice")
	if len(s.Tools) > 0 {
		st := c.add(phasePrepare, "Check each tool against the list: number, shape, diameter, stick-out.", "check-zero")
		for _, t := range s.Tools {
			st.Write = append(st.Write, "T"+itoa(t.Number)+" stick-out, "+unit)
		}
	} else {
		c.add(phasePrepare, "Check each tool: number, shape, diameter, stick-out.", "check-zero")
	}
	c.lettering()
	b := a.Used
	b.T = b.T.Add(a.Question.Skimmed)
	c.add(phasePrepare, "Pencil on every blank: FACE; edges A near, B right, C far, D left.")
	c.add(phasePrepare, "Measure the blank in three places. Expect "+size(b)+" "+unit+".").Write = []string{"W", "H", "T"}
	c.store(phasePrepare)
	if r := a.Question.Register; r != registration.Dowels && r != registration.Touched && len(c.drillings("bed")) == 0 {
		c.setLocators(phasePrepare)
	}
}

// lettering is the look at what must read: mirrored by mistake it proves and cuts as well.
func (c *checklist) lettering() {
	mirrored := func(p Program) bool { return p.Role == "mirrored" }
	if !slices.ContainsFunc(c.s.Programs, mirrored) {
		return
	}
	on := "the drawing of the back"
	if c.s.Picture != "" {
		on = c.s.Picture
	}
	c.add(phasePrepare, "Check on "+on+" that lettering reads on the back. If not, list it under back, not mirror.")
}

// setLocators adds the steps that set the locators and the one that checks them.
func (c *checklist) setLocators(phase string) {
	for _, t := range c.locatorSteps() {
		c.add(phase, t)
	}
	sides := []bool{false, true}
	if len(c.swapSteps()) > 0 {
		sides = sides[:1] // the back's aren't there yet
	}
	c.checkLocators(phase, sides...)
}

func (c *checklist) face() {
	s, a := c.s, c.s.Answer
	q := a.Question
	if q.ZZero == registration.Bed {
		c.touchOff(phaseFace, false)
	}
	seat := "Lay the blank face up"
	switch {
	case c.through():
		seat += " against a temporary fence and stop, and clamp it flat. Drill and cut the face in this one clamping"
	case q.Register == registration.FenceStop:
		seat += " against the fence, then slide it to the stop"
	case q.Register == registration.Dowels:
		seat += " on its dowels, without force"
	case q.Register == registration.Plug:
		seat += onPlug(s)
	}
	seat += ". Its near-left corner comes to " + c.corners(false, a.FaceCorner) + "."
	hold := []string{"seat"}
	if q.Register != registration.NoRegister || len(s.Stations) > 0 {
		hold = append(hold, "hold")
	}
	c.add(phaseFace, seat, hold...)
	if q.ZZero != registration.Bed {
		c.touchOff(phaseFace, false)
	}
	switch {
	case !c.placed:
		c.placed = true
		c.storeSecond(phaseFace, true)
	case q.TouchOff == registration.TouchOffOnce:
		c.follow(phaseFace)
	}
	thick := a.Uncut()
	if t := c.drillings("through"); len(t) > 0 {
		c.drillThrough(t, thick)
	} else if c.through() {
		c.add(phaseFace, "Drill by hand through blank and bed, in this clamping, square to the bed. "+capital(c.blankHoles())+". Then touch off Z anew for the face program's tool.", "wear", c.handsCode())
	}
	c.changeSteps(phaseFace, false)
	c.dryRun(phaseFace, "the face program"+c.named("face")+" above the work", c.offsets(false), thick, isFace, "path")
}

// offsets are those of one side: of its stations, or of the only place.
func (c *checklist) offsets(back bool) (out []string) {
	for _, st := range c.s.Stations {
		if st.Side == sideOf(back) {
			out = append(out, st.Offset)
		}
	}
	switch a := c.s.Answer; {
	case len(out) > 0:
	case !back || a.Second == nil:
		out = append(out, a.Question.FaceOffset())
	default:
		out = append(out, a.Second.Offset)
	}
	return out
}

func isFace(p *Program) bool { return p.Role == "face" }

func isBack(p *Program) bool {
	return p.Role == "back" || p.Role == "mirrored" || p.Role == "as written"
}

// cuts reports whether a program cuts one side of the blank.
func (p *Program) cuts(back bool) bool { return !back && isFace(p) || back && isBack(p) }

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

// store says how the offsets get the values that are known beforehand.
func (c *checklist) store(phase string) {
	s := c.s
	if len(s.Lines) > 0 {
		t := "Read the offsets program, then run it once"
		if s.LinesFile != "" {
			t = "Read " + s.LinesFile + ", then run it once"
		}
		c.add(phase, t+". Compare the control's offset page with the table, number by number.", "offsets-once")
		return
	}
	var values []string
	for _, st := range s.places() {
		values = append(values, st.Offset+" "+xyz(st.Zero.X, st.Zero.Y, st.Zero.Z))
	}
	if len(values) > 0 {
		c.add(phase, "Store "+list(values)+" (machine coordinates). Read them back.")
	}
}

// storeSecond says how the second zero follows from a face zero that was set by
// hand, in Z too if that was.
func (c *checklist) storeSecond(phase string, z bool) {
	second := c.s.Answer.Second
	if second == nil || second.Machine {
		return
	}
	plus, rest := xyz(second.X, second.Y, second.Z), ""
	if !z {
		plus, rest = xyz(second.X, second.Y, nil), " Z comes later."
	}
	c.add(phase, "Store in "+second.Offset+" the values of "+c.s.Answer.Question.FaceOffset()+" plus "+plus+". Read them back."+rest)
}

// follow says which Z the back's offsets get where Z is touched off once, on the
// face.
func (c *checklist) follow(phase string) {
	if values := c.following(); len(values) > 0 {
		c.add(phase, "Z is touched off once: set "+list(values)+". Read it back.")
	}
}

// following lists the Z that the back's offsets get from the face's: "Z of G55 to G54's
// Z plus 3".
func (c *checklist) following() (values []string) {
	a := c.s.Answer
	if a.Second == nil {
		return nil
	}
	plus := ""
	switch {
	case a.Rise.IsPositive():
		plus = " plus " + a.Rise.String()
	case a.Rise.IsNegative():
		plus = " minus " + a.Rise.Neg().String()
	}
	face, back := c.offsets(false), c.offsets(true)
	for i := range min(len(face), len(back)) {
		values = append(values, "Z of "+back[i]+" to "+face[i]+"'s Z"+plus)
	}
	return values
}

// touchOff says how the zeros of one side are set.
func (c *checklist) touchOff(phase string, back bool) {
	s, a := c.s, c.s.Answer
	q := a.Question
	at, placed, z := words.Zero(q.Zero, a.FaceZero), c.placed, q.ZZero
	if back {
		at, placed, z = words.Zero(q.BackZero, a.BackZero), a.Second != nil, q.BackZZero
	}
	text := "Touch off " + list(c.offsets(back))
	if placed {
		text += " in Z alone" + c.with(back) + ". "
	} else {
		text += c.with(back) + ". " + capital(c.byLocators(at)) + ". "
	}
	text += "Z0 is " + words.ZZero(z)
	switch {
	case z == registration.Bed:
		text += ", before the blank covers it"
	case !back && q.Skimmed.IsPositive():
		text += " before the skim"
	}
	if s.Feeler != nil {
		text += "; on the " + s.Feeler.String() + " " + s.Unit.String() + " feeler set Z" + s.Feeler.String()
	} else {
		text += "; on a feeler set Z to its thickness"
	}
	if reading := s.expected(back); reading != nil {
		text += ". Expect machine Z" + reading.String() + ". If far off, stop: wrong tool, stick-out or blank"
	}
	text += "."
	if q.TouchOff == registration.TouchOffOnce && q.Measured != nil && z != registration.Bed {
		text += " Do this once, on the measured piece, " + a.Uncut().String() + " " + s.Unit.String() + " thick."
	}
	var cautions []string
	if !back && q.Register == registration.FenceStop {
		cautions = append(cautions, "stop-edge")
	}
	if a.Second != nil && a.Second.Z != nil && !back && q.Lengths == registration.LengthsTool {
		cautions = append(cautions, "same-tool")
	}
	st := c.add(phase, text, append(cautions, "lengths")...)
	if s.Feeler == nil {
		st.Write = append(st.Write, "feeler, "+s.Unit.String())
	}
	st.Write = append(st.Write, "tool touched off")
}

// with names the tool with which a side's Z is touched off, where one is to be named.
func (c *checklist) with(back bool) string {
	switch f := c.s.first(back); {
	case f == nil, !f.length && f.tool < 0:
		return ""
	case f.length:
		return " with " + f.named()
	default:
		return " with " + f.named() + " (its first tool)"
	}
}

func (c *checklist) turn() {
	a := c.s.Answer
	q := a.Question
	c.add(phaseTurn, "Run the face program"+c.named("face")+c.andChanges(false)+".", append(c.dangerCodes(false), "wear", c.handsCode())...)
	text := "Stop the spindle."
	for _, t := range c.s.turnings() {
		text += t.at(" At ") + " " + turnWords(q.Flip, t.quarter) + " " + turnCheck(q.Flip, t.quarter)
	}
	c.add(phaseTurn, text, "turn")
	if c.through() {
		for _, t := range c.locatorSteps() {
			c.add(phaseTurn, t)
		}
	}
	if swaps := c.swapSteps(); len(swaps) > 0 {
		for _, t := range swaps {
			c.add(phaseTurn, t)
		}
		c.checkLocators(phaseTurn, true)
	}
	touches := q.TouchOff == registration.TouchOffEach || a.Second == nil
	if touches && q.BackZZero == registration.Bed {
		c.touchOff(phaseTurn, true)
	}
	seat := "Seat it back up"
	switch q.Register {
	case registration.FenceStop:
		for i, t := range a.Touches {
			back := t.BackLocator
			if back == "" {
				back = t.Locator
			}
			if !c.turnsDiffer() {
				back = t.BackSide.String() + " " + back
			}
			if i == 0 {
				seat += ". " + capital(back)
			} else {
				seat += "; " + back
			}
			seat += " on the edge that was " + t.BackEdge.String()
		}
	case registration.Dowels:
		seat += " on its dowels"
		for _, l := range a.LayUps {
			if l.Fits && !l.Wanted && l.Name != registration.LayAsIs {
				seat += ". It goes on wrongly too (" + l.Name + "): check the letters first"
				break
			}
		}
	case registration.Plug:
		seat += onPlug(c.s)
	case registration.Touched:
		if !a.ToTouch() {
			seat = "Leave it back up, clamped where it was touched"
			break
		}
		seat += ", flat and anywhere inside the travel, clear of the places to touch; clamp it and don't move it until the back is cut"
	}
	seat += "."
	if a.BackCorner != nil {
		seat += " Its near-left corner comes to " + c.corners(true, *a.BackCorner) + "."
	}
	cautions := []string{"seat"}
	if q.Register != registration.NoRegister {
		cautions = append(cautions, "hold")
	}
	c.add(phaseTurn, seat, cautions...)
	if c.touches(); a.ToTouch() {
		return
	}
	if touches && q.BackZZero != registration.Bed {
		c.touchOff(phaseTurn, true)
	}
	c.changeSteps(phaseTurn, true)
	c.dryRun(phaseTurn, "the back program"+c.backNames()+" above the work", c.offsets(true), a.Used.T, isBack, "path")
}

// touches are the steps that find a blank which nothing locates.
func (c *checklist) touches() {
	a := c.s.Answer
	q := a.Question
	for i, p := range a.Spots {
		text := "Touch " + itoa(i+1) + ": " + spotWords(p) + ", "
		if p.Spot.Edge == registration.NoSide {
			text += "the spindle centered on it"
		} else {
			text += "with the finder of " + q.Finder.String() + " " + c.s.Unit.String()
		}
		if !a.ToTouch() {
			c.add(phaseTurn, text+": it read machine "+xy(p.Spot.At)+".")
			continue
		}
		c.add(phaseTurn, text+". Write down what the machine reads.").Write = []string{"X", "Y"}
	}
	if a.ToTouch() {
		c.add(phaseTurn, "Put the readings behind an @ into touched in the job, as in "+q.Touched[0].Name()+"@X,Y, run flipcalc prepare again, and go on by its sheet. Leave the blank clamped.")
	}
}

// turning is how blanks lie as they are turned over, with the offsets of the faces that lie so.
type turning struct {
	quarter registration.Quarter
	offsets []string // none where all lie alike
}

// at names the offsets, with the words before them.
func (t turning) at(before string) string {
	if len(t.offsets) == 0 {
		return ""
	}
	return before + list(t.offsets) + ":"
}

// turnings lists them in the order of the pairs.
func (s *Setup) turnings() (out []turning) {
	for _, p := range s.pairs() {
		i := slices.IndexFunc(out, func(t turning) bool { return t.quarter == p.FaceTurn })
		if i < 0 {
			i, out = len(out), append(out, turning{quarter: p.FaceTurn})
		}
		out[i].offsets = append(out[i].offsets, offsetOf(p, false))
	}
	if len(out) == 1 {
		out[0].offsets = nil
	}
	return out
}

// turnTitle says the flip as hands do it, once where all blanks are turned over alike.
func (s *Setup) turnTitle() string {
	f, all := s.Answer.Question.Flip, s.turnings()
	title := turnWords(f, all[0].quarter)
	for _, t := range all {
		if turnWords(f, t.quarter) != title {
			title += t.at(" At ") + " " + turnWords(f, t.quarter)
		}
	}
	return title
}

// turnCheck says which lettered edge must now be where.
func turnCheck(f registration.Flip, k registration.Quarter) string {
	moved, still := edgesTurned(f, k)
	for i := range 2 {
		moved[i], still[i] = moved[i][:1]+" now"+moved[i][1:], still[i][:1]+" still"+still[i][1:]
	}
	return "Check: edge " + strings.Join(moved[:], ", ") + "; " + strings.Join(still[:], ", ") + "."
}

// edgesTurned are the edges that change places, each with where it comes to lie, and those
// that stay.
func edgesTurned(f registration.Flip, k registration.Quarter) (moved, still [2]string) {
	before, after := draw.EdgeLetters(f, false, int(k)), draw.EdgeLetters(f, true, int(k))
	m, n := 0, 0
	for _, letter := range []string{"A", "B", "C", "D"} {
		i := slices.Index(after[:], letter)
		text := letter + " " + [4]string{"near", "right", "far", "left"}[i]
		if before[i] == letter {
			still[n], n = text, n+1
		} else {
			moved[m], m = text, m+1
		}
	}
	return moved, still
}

func (c *checklist) backNames() string {
	var names []string
	for _, p := range c.s.Programs {
		if isBack(&p) {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + list(names) + ")"
}
