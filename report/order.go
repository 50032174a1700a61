package report

import (
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/report/letters"
)

// What is run on the machine, in order: page one's short form of the steps. The steps say
// how each is done.

// stage is a part of the order under its heading, numbered from First.
type stage struct {
	Title string
	First int
	Ticks []tick
}

// tick is one thing to do or to run, with blanks to fill in.
type tick struct {
	Text  string
	Write []string
}

// order gathers the stages.
type order struct {
	c      *checklist
	stages []stage
}

func (o *order) begin(title string) {
	first := 1
	if n := len(o.stages); n > 0 {
		first = o.stages[n-1].First + len(o.stages[n-1].Ticks)
	}
	o.stages = append(o.stages, stage{Title: title, First: first})
}

func (o *order) add(text string, write ...string) {
	st := &o.stages[len(o.stages)-1]
	st.Ticks = append(st.Ticks, tick{text, write})
}

// order is what is run: once, then cycle by cycle where programs are merged, else the
// face, the turn and the back.
func (s *Setup) order() []stage {
	o := &order{c: &checklist{s: s, said: map[string]bool{}, placed: s.Answer.FaceAt != nil || len(s.Stations) > 0}}
	if s.merged() {
		o.begin("Once")
		o.before()
		o.side(false)
		o.testPiece()
		o.begin("Each cycle")
		o.cycles()
		return o.stages
	}
	o.begin("Face")
	o.before()
	o.side(false)
	o.run(false)
	o.begin("Back")
	o.turn()
	if s.Answer.ToTouch() {
		o.touches()
		return o.stages
	}
	o.side(true)
	o.run(true)
	o.add("Measure the first piece (page\u00a02)")
	return o.stages
}

// merged reports whether faces and backs are cut by one program a cycle.
func (s *Setup) merged() bool {
	return s.Plan != nil && slices.ContainsFunc(s.Plan.Cycles, func(c Cycle) bool { return c.Program != "" })
}

// before is what is done before the first blank goes on: the offsets, the holes, the
// locators.
func (o *order) before() {
	s := o.c.s
	if over := s.Overwritten(); len(over) > 0 {
		o.add("Write down "+o.named(over)+":", "old values")
	}
	switch {
	case s.LinesFile != "":
		o.add("Run " + s.LinesFile + " once; compare the offset page")
	case o.c.placed:
		o.add("Store the zeros above; read them back")
	}
	plug := s.Answer.Question.Register == registration.Plug
	if plug {
		o.locators()
	}
	if bed := o.c.drillings("bed", "back-bed"); len(bed) > 0 {
		o.add("Touch off the bare bed as " + strings.Join(bedLevels(bed), ", ") + "; run " + drillRun(s, bed))
	}
	if blank := o.c.drillings("blank"); len(blank) > 0 {
		o.add("Each blank, no dowels in the bed: touch off Z, run " + drillRun(s, blank))
	}
	if !plug && !o.c.through() {
		o.locators()
	}
}

// bedLevels are what Z reads on the bare bed, in the programs that drill it.
func bedLevels(programs []Drilling) (out []string) {
	for _, d := range programs {
		if len(d.Holes) > 0 {
			if z := "Z" + d.Holes[0].From.String(); !slices.Contains(out, z) {
				out = append(out, z)
			}
		}
	}
	return out
}

// drillRun names drilling programs, with the time that they take.
func drillRun(s *Setup, programs []Drilling) string {
	pass := among(programs)
	var names []string
	for _, d := range programs {
		names = append(names, d.Name)
	}
	if n := len(names); n > 2 { // of several pairs
		return names[0] + " and " + itoa(n-1) + " more (page\u00a02)"
	}
	return list(names) + s.takes(pass)
}

// takes is the time of the programs that pass, in brackets; "" where one isn't known.
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
	if total == 0 {
		return ""
	}
	if total < 60 {
		return " (" + itoa(int(math.Ceil(total))) + " s)"
	}
	return " (" + letters.Clock(total) + " min)"
}

// locators is the step that sets the locators and checks them at the touch points, those
// of the face alone where others stand there for the back.
func (o *order) locators() {
	s := o.c.s
	set := ""
	switch s.Answer.Question.Register {
	case registration.Dowels:
		set = "Set the dowels"
	case registration.Plug:
		set = "Set the plug"
	case registration.FenceStop:
		set = "Set fence and stop"
	default:
		return
	}
	first, _ := o.c.standing()
	if len(first) == 0 {
		return
	}
	sides := []bool{false, true}
	if _, on := o.c.swapped(); len(on) > 0 {
		sides = sides[:1]
	}
	o.add(set + o.checked(sides...))
}

// checked says at which touch points the locators of sides are checked.
func (o *order) checked(sides ...bool) string {
	var offsets, names []string
	for _, back := range sides {
		offsets = append(offsets, o.c.offsets(back)...)
	}
	for i, t := range o.c.s.touchPoints() {
		if slices.Contains(offsets, t.Offset) {
			names = append(names, t.Name(i+1))
		}
	}
	switch n := len(names); {
	case n == 0:
		return ""
	case n > 2:
		return "; check at " + names[0] + " to " + names[n-1]
	}
	return "; check at " + list(names)
}

// side is what is done with a blank on one side before the cut; the face alone stands for
// both where programs are merged.
func (o *order) side(back bool) {
	s, a := o.c.s, o.c.s.Answer
	q := a.Question
	level := q.ZZero
	if back {
		level = q.BackZZero
	}
	touch := func() { o.touchOff(back) }
	if level == registration.Bed {
		touch()
	}
	if back && q.Register == registration.Touched {
		o.add("Leave it BACK up, clamped where it was touched")
	} else {
		o.seat(back)
	}
	if level != registration.Bed {
		touch()
	}
	if through := o.c.drillings("through"); !back && o.c.through() {
		names := "the dowel holes"
		if len(through) > 0 {
			names = drillRun(s, through)
		}
		o.add("Drill through blank and bed: " + names + "; touch off Z for the face")
	}
	if len(o.c.toolChanges(back)) > 0 {
		o.add("Touch off Z again after each tool change")
	}
	thick, pass := a.Uncut(), isFace
	if back {
		thick, pass = a.Used.T, isBack
	}
	o.dryRun(o.c.offsets(back), thick, pass)
}

// seat is the step that lays a blank on its seat.
func (o *order) seat(back bool) {
	o.add("Brush out chips; seat it " + strings.ToUpper(sideOf(back)) + " up" + o.lies(back) + "; clamp it")
}

// lies says how a side's blank lies at stations that are turned, "" where none is.
func (o *order) lies(back bool) string {
	edge := registration.Near
	if back && o.c.s.Answer.Question.Flip == registration.FlipX {
		edge = registration.Far
	}
	var turns []registration.Quarter
	for _, st := range o.c.s.placesOf(back) {
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

// touches are the steps that find a blank which nothing locates; the next sheet goes on
// from there.
func (o *order) touches() {
	o.seat(true)
	for i, p := range o.c.s.Answer.Spots {
		o.add("Back up, touch "+itoa(i+1)+": "+spotWords(p), "machine X", "Y")
	}
	o.add("Put the readings into the job; prepare anew; leave it clamped")
}

// toolChanges are those of a side, of both where programs are merged.
func (c *checklist) toolChanges(back bool) []toolChange {
	out := c.s.toolChanges(back)
	if !back && c.s.merged() {
		out = append(out, c.s.toolChanges(true)...)
	}
	return out
}

// touchOff is the step that sets Z of a side's offsets, and X and Y where no machine
// coordinates are known.
func (o *order) touchOff(back bool) {
	s, a := o.c.s, o.c.s.Answer
	q := a.Question
	if back && a.Second != nil && q.TouchOff == registration.TouchOffOnce {
		return // it was set with the face's
	}
	axes, offsets := "Z", o.c.offsets(back)
	if known := o.c.placed || back && a.Second != nil; !known {
		axes = "X, Y, Z"
	}
	level := q.ZZero
	if back {
		level = q.BackZZero
	}
	on, write := "", []string{"tool", "feeler"}
	if level == registration.Bed {
		on = " on the seating plane"
	}
	switch f := s.first(back); {
	case f == nil:
	case f.length:
		on += ", G43 active"
	case f.tool >= 0:
		on += " with T" + itoa(f.tool)
		write = write[1:]
	}
	if s.Feeler != nil {
		write = write[:len(write)-1]
	}
	text := "Touch off " + axes + " in " + o.named(offsets) + on
	if len(write) > 0 {
		text += ":"
	}
	o.add(text, write...)
	if back || a.Second == nil {
		return
	}
	if !o.c.placed {
		o.add("Store in " + a.Second.Offset + ": " + a.Question.FaceOffset() + " plus " + xyz(a.Second.X, a.Second.Y, a.Second.Z))
	}
	if q.TouchOff == registration.TouchOffOnce {
		o.add("Set " + strings.Join(o.c.following(), ", "))
	}
}

// dryRun is the step that runs programs above the work.
func (o *order) dryRun(offsets []string, thick decimal.Decimal, pass func(*Program) bool) {
	l := o.c.s.lift(offsets, thick, pass)
	in := o.named(offsets)
	by := l.by.String() + " " + o.c.s.Unit.String()
	off := ""
	switch {
	case l.none():
		o.add("Blank off: dry run over the bare bed")
		return
	case l.short():
		off, by = "Blank off. ", l.room.String()+" "+o.c.s.Unit.String()
	case !l.known:
		o.add("In "+in+" raise Z clear of the work; dry run; lower it again", "by")
		return
	}
	o.add(off + "In " + in + " raise Z by " + by + "; dry run; lower it again")
}

// run is the step that runs a side's programs, each by itself.
func (o *order) run(back bool) {
	pass, what := isFace, "the face program"
	if back {
		pass, what = isBack, "the back program"
	}
	if names := o.programs(pass); names != "" {
		what = names + o.c.s.takes(pass)
	}
	o.add("Run " + what)
}

// programs names the programs that pass, in the order in which they are run.
func (o *order) programs(pass func(*Program) bool) string {
	var names []string
	for i := range o.c.s.Programs {
		if p := &o.c.s.Programs[i]; pass(p) {
			names = append(names, p.Name)
		}
	}
	return strings.Join(names, ", then ")
}

// turn is the turn itself, and what is changed over for the back.
func (o *order) turn() {
	var edges []string
	for _, t := range o.c.s.turnings() {
		moved, _ := edgesTurned(o.c.s.Answer.Question.Flip, t.quarter)
		edges = append(edges, strings.TrimSpace(t.at("at ")+" edge "+strings.Join(moved[:], ", ")))
	}
	o.add("Stop the spindle. Turn: " + strings.Join(edges, "; "))
	off, on := o.c.swapped()
	switch {
	case o.c.through():
		o.add("Fit the dowels" + o.checked(false, true))
	case len(off) > 0:
		o.add("Take out " + namesOf(off) + "; set " + namesOf(on) + o.checked(true))
	case len(on) > 0:
		o.add("Fit " + namesOf(on) + o.checked(true))
	}
}

// namesOf names locators.
func namesOf(all []stand) string {
	var names []string
	for _, k := range all {
		names = append(names, k.named())
	}
	return list(names)
}

// testPiece is the piece that the second zero is corrected from, cut by the sides' own
// programs. The back's are run above the work once Z of the back is touched off, not before.
func (o *order) testPiece() {
	if len(o.c.s.Stations) > 2 {
		o.add("Test piece of each pair (page\u00a02): face, turn, touch off Z, dry run, back; measure")
		return
	}
	o.add("Test piece: run " + o.programs(isFace))
	o.add("Spindle still. Turn it over to " + list(o.c.offsets(true)) + "; seat, clamp" + o.touchOffIn(o.c.touchedBack()))
	o.dryRun(o.c.offsets(true), o.c.s.Answer.Used.T, isBack)
	o.add("Test piece: run " + o.programs(isBack) + "; measure (page\u00a02)")
}

// cycles are the merged programs, each with what it cuts, and what hands do between.
func (o *order) cycles() {
	s := o.c.s
	face, back := o.named(o.c.offsets(false)), o.named(o.c.offsets(true))
	n := len(o.c.offsets(false))
	move := word(n, "the part from "+face+" over to "+back, "each part over to its own back")
	load := "Spindle still. Turn " + move + "; new " + word(n, "blank", "blanks") + " on " + face
	if s.Plan.Hidden {
		load = "While the faces are cut seat " + word(n, "the turned part", "the turned parts") + " on " + back + " (page\u00a02)"
	}
	anew := ""
	if o.touchedOff(o.c.touchedFace()) != "" {
		anew = ", touch off Z"
	}
	o.add("New " + word(n, "blank", "blanks") + " on " + face + ": seat, clamp" + anew + "; dry run each program first")
	for i, c := range s.Plan.Cycles {
		if i == 1 {
			o.add(load)
			o.add("Brush out the chips, seat, clamp" + o.touchedOff(append(o.c.touchedFace(), o.c.touchedBack()...)))
		}
		cuts := "both"
		switch i {
		case 0:
			cuts = "face only"
		case len(s.Plan.Cycles) - 1:
			cuts = "back only"
		}
		takes := s.takes(func(p *Program) bool { return p.Name == c.Program })
		o.add(capital(c.Name) + ": " + c.Program + takes + ", " + cuts)
	}
}

// touchedOff says in which offsets Z is touched off anew in a cycle; "" where the plan
// has none.
func (o *order) touchedOff(offsets []string) string {
	if o.c.s.Plan.TouchOffs == 0 {
		return ""
	}
	return o.touchOffIn(offsets)
}

func (o *order) touchOffIn(offsets []string) string {
	if len(offsets) == 0 {
		return ""
	}
	return ", touch off Z in " + o.named(offsets)
}

// named lists offsets; more than two by their side, since the zeros name them.
func (o *order) named(offsets []string) string {
	switch {
	case len(offsets) <= 2:
		return list(offsets)
	case slices.Equal(offsets, o.c.offsets(false)):
		return "all face offsets"
	case slices.Equal(offsets, o.c.offsets(true)):
		return "all back offsets"
	}
	return "all offsets"
}

// touchedFace are the face's offsets that a new blank is touched off in.
func (c *checklist) touchedFace() []string {
	if c.s.Answer.Question.ZZero == registration.Bed {
		return nil
	}
	return c.offsets(false)
}

// touchedBack are the back's.
func (c *checklist) touchedBack() []string {
	q := c.s.Answer.Question
	if q.BackZZero == registration.Bed || q.TouchOff != registration.TouchOffEach {
		return nil
	}
	return c.offsets(true)
}
