package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
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
	// Brief is its short form on page one, "" where it has none there. Also: it goes on in the
	// line of the one before it. Cuts: from here on the blank is cut.
	Brief      string
	Also, Cuts bool
}

// say adds a sentence of words with its values.
func (st *Step) say(sentence string, values ...any) *Step {
	if st.Text != "" {
		st.Text += " "
	}
	st.Text += fmt.Sprintf(sentence, values...)
	return st
}

// brief gives the step's short form, in a line of its own.
func (st *Step) brief(text string, values ...any) *Step {
	st.Brief = fmt.Sprintf(text, values...)
	return st
}

// also gives the step's short form, behind that of the step before.
func (st *Step) also(text string, values ...any) *Step {
	st.Also = true
	return st.brief(text, values...)
}

// write adds labels of values to be written in.
func (st *Step) write(labels ...string) { st.Write = append(st.Write, labels...) }

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
	c := s.checklist()
	c.prepare()
	if !c.resumed() {
		c.holes()
		c.face()
	}
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

// step begins a step, with the cautions that are acted on here first.
func (c *checklist) step(phase string, cautions ...string) *Step {
	st := Step{Phase: phase}
	for _, code := range cautions {
		if c.said.First(code) {
			st.Cautions = append(st.Cautions, Caution{code, c.s.caution(code)})
		}
	}
	c.steps = append(c.steps, st)
	return &c.steps[len(c.steps)-1]
}

// resumed says that the steps go on with a blank whose face is cut, turned and touched.
func (c *checklist) resumed() bool { return c.s.Answer.Lie != nil }

// unit is that of the blank and its programs.
func (c *checklist) unit() string { return " " + c.s.Unit.String() }

// frame says what places on the bed are measured from, and their unit.
func (c *checklist) frame(machine bool) string {
	return words.Frame(machine) + "," + c.unit()
}

// bedFrame is the frame of what was placed on the bed.
func (c *checklist) bedFrame() string {
	return words.Frame(true) + ", " + c.s.bedUnit().String()
}

func (c *checklist) prepare() {
	s, a := c.s, c.s.Answer
	over := s.Overwritten()
	if c.resumed() {
		over = c.offsets(true)
	}
	if len(over) > 0 {
		c.step(phasePrepare).say(words.OldValues, list(over)).brief("note the old values of %s: %s", named(over), blank)
	}
	if c.resumed() {
		c.store(phasePrepare)
		return
	}
	st := c.step(phasePrepare)
	if a.FaceMachine {
		st.say(words.Home).also("home the machine")
	}
	st.say(words.ClearBed)
	st = c.step(phasePrepare, "check-zero")
	if len(s.Tools) == 0 {
		st.say(words.CheckTools)
	} else {
		st.say(words.CheckListed)
	}
	for _, t := range s.Tools {
		if s.expected(false) != nil || s.ClearZ != nil { // which rest on it
			st.write("T" + itoa(t.Number) + " stick-out," + c.unit())
		}
	}
	c.lettering()
	b := a.Used
	b.T = a.Uncut()
	c.step(phasePrepare).say(words.PencilEdges).brief("%s", strings.TrimSuffix(words.PencilEdges, "."))
	c.step(phasePrepare).say(words.MeasureBlank, size(b)+c.unit()).write("W,"+c.unit(), "H,"+c.unit(), "T,"+c.unit())
	c.bore()
	c.store(phasePrepare)
	if r := a.Question.Register; r != registration.Dowels && r != registration.Touched && len(c.drillings("bed")) == 0 {
		c.setLocators(phasePrepare)
	}
}

// bore is what makes the bore that goes over a plug, where the face program doesn't.
func (c *checklist) bore() {
	q := c.s.Answer.Question
	if q.Register != registration.Plug || q.Bore == nil || c.bored() {
		return
	}
	st := c.step(phasePrepare).say(words.BoreFirst, q.Bore.Dia.String()+c.unit()+" dia at "+xy(q.Bore.At)+c.unit())
	if q.Clock.Kind == registration.ClockFlat {
		st.say(words.FlatBore, q.Clock.Side)
	}
	c.cutIndexHole(st)
	st.say(words.FromNearLeft)
	if c.s.Check == nil {
		st.say(words.BoreUnknown)
	}
}

// cutIndexHole adds to the step that cuts the bore the index pin's hole, where the face program
// doesn't cut it, and reports whether it did.
func (c *checklist) cutIndexHole(st *Step) bool {
	q := c.s.Answer.Question
	if q.Clock.Kind != registration.ClockPin || c.s.Check != nil && c.s.Check.Indexed {
		return false
	}
	hole := "at " + xy(q.Clock.Pin) + c.unit()
	if dia := indexHoleDia(q); dia.IsPositive() {
		hole = dia.String() + c.unit() + " dia " + hole
	}
	st.say(words.IndexHole, hole)
	return true
}

// indexHoleDia gives the diameter of the index pin's hole in the blank, the pin's where nothing
// else was given; 0 where neither was.
func indexHoleDia(q registration.Question) decimal.Decimal {
	if q.Clock.Hole.IsPositive() {
		return q.Clock.Hole
	}
	return q.Clock.Dia
}

// bored reports whether the face program cuts the bore, so that no plug can stand there
// before.
func (c *checklist) bored() bool { return c.s.Check != nil && c.s.Check.Bored }

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
	c.step(phasePrepare).say(words.CheckLetters, on)
}

func (c *checklist) face() {
	s, a := c.s, c.s.Answer
	q := a.Question
	if q.ZZero == registration.Bed {
		c.touchOff(phaseFace, false)
	}
	hold := []string{"seat"}
	if q.Register != registration.NoRegister || len(s.Stations) > 0 {
		hold = append(hold, "hold")
	}
	st := c.step(phaseFace, hold...)
	switch {
	case c.through():
		do := words.OneClamping
		if c.faceDrills() {
			do = words.FaceDrills
		}
		st.say(words.LayFace, words.InTemporary).say(words.ClampSquare).say("%s", do)
	case c.bored():
		st.say(words.LayFace, words.InTemporary).say(words.ClampSquare).say(words.TheFaceBores, q.Bore.Dia.String()+c.unit())
		if c.cutIndexHole(st) {
			st.say(words.FromNearLeft)
		}
	case q.Register == registration.FenceStop:
		st.say(words.LayFace, words.AgainstBoth)
	case q.Register == registration.Dowels:
		st.say(words.LayFace, words.OnDowels)
	default:
		st.say(words.LayFace, c.onPlug(false))
	}
	st.brief("%s", c.layBlank())
	st.say(words.CornerAt, c.corners(false, a.FaceCorner))
	c.holdDown(st, false, c.through() || c.bored())
	if q.ZZero != registration.Bed {
		c.touchOff(phaseFace, false)
	}
	switch {
	case !c.placed:
		c.placed = true
		c.storeSecond(phaseFace, true)
	case q.TouchOff == registration.TouchOffOnce:
		if values := c.following(); len(values) > 0 {
			c.step(phaseFace).say(words.ZFollows, list(values)).brief("set %s", list(values))
		}
	}
	thick := a.Uncut()
	if t := c.drillings("through"); len(t) > 0 {
		c.drillThrough(t, thick)
	} else if c.through() && !c.faceDrills() {
		c.step(phaseFace, "wear", c.handsCode()).say(words.ThroughByHand, capital(c.blankHoles())).
			brief("drill the dowel holes through by hand (page\u00a02), then touch off Z again for the face")
	}
	c.tryOut(phaseFace, words.FacePrograms, false, thick)
}

// offsets are those of one side: of its stations, or of the only place.
func (c *checklist) offsets(back bool) (out []string) {
	for _, st := range c.s.Stations {
		if st.Side == sideOf(back) {
			out = append(out, st.Offset)
		}
	}
	if len(out) == 0 {
		out = append(out, offsetOf(c.s.Answer, back))
	}
	return out
}

func isFace(p *Program) bool { return p.Role == "face" }

func isBack(p *Program) bool {
	return p.Role == "back" || p.Role == "mirrored" || p.Role == "as written"
}

// cuts reports whether a program cuts one side of the blank.
func (p *Program) cuts(back bool) bool { return !back && isFace(p) || back && isBack(p) }

// named gives the file names of programs in brackets.
func (c *checklist) named(pass func(*Program) bool) string {
	var names []string
	for i := range c.s.Programs {
		if p := &c.s.Programs[i]; pass(p) {
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
		file := s.LinesFile
		if file == "" {
			file = "the offsets program"
		}
		st := c.step(phase, "offsets-once").say(words.RunOffsets, file).brief("run %s once (sets these zeros), check the offset page", file)
		if slices.ContainsFunc(s.Stations, func(st bed.Station) bool { return st.Zero.Z != nil }) {
			st.Brief += "; never after Z is touched off"
		}
		return
	}
	var values []string
	for _, st := range s.places() {
		if st.Side == sideOf(true) || !c.resumed() {
			values = append(values, st.Offset+" "+xyz(st.Zero.X, st.Zero.Y, st.Zero.Z))
		}
	}
	if len(values) > 0 {
		c.step(phase).say(words.StoreZeros, list(values), c.bedFrame()).brief("store the zeros above, read them back")
	}
}

// storeSecond says how the second zero follows from a face zero that was set by
// hand, in Z too if that was.
func (c *checklist) storeSecond(phase string, z bool) {
	second := c.s.Answer.Second
	if second == nil || second.Machine {
		return
	}
	plus := second.Z
	if !z {
		plus = nil
	}
	st := c.step(phase).say(words.StoreSecond, second.Offset, c.s.Answer.Question.FaceOffset(), xyz(second.X, second.Y, plus)+c.unit()).
		brief("store in %s %s's values plus %s", second.Offset, c.s.Answer.Question.FaceOffset(), xyz(second.X, second.Y, plus))
	if !z {
		st.say(words.ZComesLater)
	}
}

// following lists the Z that the back's offsets get from the face's: "Z of G55 to G54's
// Z plus 3 mm".
func (c *checklist) following() (values []string) {
	a := c.s.Answer
	if a.Second == nil {
		return nil
	}
	plus := ""
	switch {
	case a.Rise.IsPositive():
		plus = " plus " + a.Rise.String() + c.unit()
	case a.Rise.IsNegative():
		plus = " minus " + a.Rise.Neg().String() + c.unit()
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
	at, placed, z := words.Zero(q.Zero, a.FaceZero), c.placed, q.ZLevel(back)
	if back {
		at, placed = words.Zero(q.BackZero, a.BackZero), a.Second != nil
	}
	var cautions []string
	if !placed && q.Register == registration.FenceStop {
		cautions = append(cautions, "stop-edge")
	}
	if a.Second != nil && a.Second.Z != nil && !back && q.Lengths == registration.LengthsTool && q.TouchOff == registration.TouchOffOnce {
		cautions = append(cautions, "same-tool")
	}
	alone := ""
	if placed {
		alone = words.InZAlone
	}
	st := c.step(phase, append(cautions, "lengths")...).say(words.TouchOff, list(c.offsets(back)), alone, c.with(back))
	if !placed {
		c.byLocators(st, at)
	}
	before, feeler := "", words.OnAnyFeeler
	switch {
	case z == registration.Bed:
		before = words.BeforeCovers
	case !back && q.Skimmed.IsPositive():
		before = words.BeforeSkim
	}
	if s.Feeler != nil {
		feeler = fmt.Sprintf(words.OnFeeler, s.Feeler.String()+c.unit(), s.Feeler)
	}
	st.say(words.ZeroLevel, words.ZZero(z), before, feeler)
	if places := s.placesOf(back); len(places) > 0 && places[0].Zero.Z != nil {
		st.say(words.Replaces)
	}
	if reading := s.expected(back); reading != nil {
		st.say(words.ExpectZ, reading.String()+" "+s.bedUnit().String())
		if s.StickOut {
			st.say(words.FarOff, s.farOff(back))
		} else {
			st.say(words.AsBefore)
		}
	}
	if q.TouchOff == registration.TouchOffOnce && q.Measured != nil && z != registration.Bed {
		st.say(words.OnMeasured, a.Uncut().String()+c.unit())
	}
	if s.Feeler == nil {
		st.write("feeler," + c.unit())
	}
	st.write("tool touched off")
	st.brief("%s", c.touchBrief(back, placed))
}

// with names the tool with which a side's Z is touched off, where one is to be named.
func (c *checklist) with(back bool) string {
	f := c.s.first(back)
	if f == nil || !f.length && f.tool < 0 {
		return ""
	}
	with := fmt.Sprintf(words.WithTool, f.named())
	if !f.length {
		with += words.FirstTool
	}
	return with
}

func (c *checklist) turn() {
	a := c.s.Answer
	q := a.Question
	if c.resumed() {
		c.step(phaseTurn, "seat", "hold").brief("blank still BACK up, clamped where it was touched").say(words.LeaveClamped).say(words.CornerAt, c.corners(true, *a.BackCorner))
	} else {
		c.cut(phaseTurn, false, "wear", c.handsCode()).say(words.RunFace, c.named(isFace)+c.andChanges(false, true))
		st := c.step(phaseTurn, "turn").say(words.StopSpindle).brief("stop the spindle, unclamp, turn it over")
		for _, t := range c.s.turnings() {
			st.say("%s", strings.TrimSpace(t.at("At ")+" "+turnWords(q.Flip, t.quarter)+" "+turnCheck(q.Flip, t.quarter)))
		}
		c.changeOver()
	}
	touches := q.TouchOff == registration.TouchOffEach || a.Second == nil
	if touches && q.BackZZero == registration.Bed {
		c.touchOff(phaseTurn, true)
	}
	if !c.resumed() {
		c.seatBack()
	}
	if a.ToTouch() {
		c.touches()
		return
	}
	if touches && q.BackZZero != registration.Bed {
		c.touchOff(phaseTurn, true)
	}
	c.tryOut(phaseTurn, words.BackPrograms, true, a.Used.T)
}

// seatBack lays the turned blank on its seat.
func (c *checklist) seatBack() {
	a := c.s.Answer
	q := a.Question
	cautions := []string{"seat"}
	if q.Register != registration.NoRegister {
		cautions = append(cautions, "hold")
	}
	st := c.step(phaseTurn, cautions...)
	switch q.Register {
	case registration.Touched:
		st.say(words.LayToTouch).also("clamp it BACK up, anywhere")
	case registration.Dowels:
		st.say(words.SeatBack, words.OnItsDowels)
		wrong := func(l registration.LayUp) bool { return l.Fits && !l.Wanted && l.Name != registration.LayAsIs }
		if i := slices.IndexFunc(a.LayUps, wrong); i >= 0 {
			st.say(words.GoesOnWrong, a.LayUps[i].Name)
		}
	default:
		st.say(words.SeatBack, c.onPlug(true))
	}
	if st.Brief == "" {
		st.also("seat it BACK up%s%s", c.seatedOn(true), c.lies(true))
	}
	if q.Register == registration.FenceStop {
		var on []string
		for i, k := range a.Stands(true) {
			name := k.Name
			if !c.turnsDiffer() {
				name = k.Side.String() + " " + name
			}
			on = append(on, fmt.Sprintf(words.OnEdge, name, a.Touches[i].BackEdge))
		}
		st.say("%s.", capital(strings.Join(on, "; ")))
	}
	if a.BackCorner != nil {
		st.say(words.CornerAt, c.corners(true, *a.BackCorner))
	}
	c.holdDown(st, true, q.Register == registration.Touched)
}

// holdDown says how the blank is held, where neither the step nor its caution says so, and
// what check counts on beside clamps.
func (c *checklist) holdDown(st *Step, back, clamped bool) {
	if !c.s.Answer.ToTouch() || !back {
		st.Brief += c.heldBrief(back)
	}
	caution := func(w Caution) bool { return w.Code == "hold" }
	switch {
	case c.s.HeldAll:
		st.say(words.HoldAll)
	case !clamped && !slices.ContainsFunc(st.Cautions, caution):
		st.say(words.HoldDown)
	}
	if len(c.s.Held) > 0 {
		st.say(words.HoldAt, c.s.heldPlaces())
	}
}

// heldPlaces lists the places that are held beside clamps.
func (s *Setup) heldPlaces() string {
	var places []string
	for _, p := range s.Held {
		places = append(places, xy(p))
	}
	return list(places) + " " + s.Unit.String()
}

// touches are the steps that find a blank which nothing locates.
func (c *checklist) touches() {
	a := c.s.Answer
	q := a.Question
	for i, p := range a.Spots {
		how := words.Centered
		if p.Spot.Edge != registration.NoSide {
			how = fmt.Sprintf(words.WithFinder, q.Finder.String()+c.unit())
		}
		c.step(phaseTurn).say(words.TouchAt, i+1, spotWords(p), how).say(words.WriteRead).write("X,"+c.unit(), "Y,"+c.unit())
	}
	c.step(phaseTurn).say(words.EnterTouches, q.Touched[0].Name()).
		brief("touch %s, readings into the job, prepare anew: page\u00a02", plural(len(a.Spots), "place", "places"))
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
