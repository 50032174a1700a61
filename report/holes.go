package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/report/words"
)

// The steps that drill the holes for dowels: the bed's while nothing lies on it, the
// blanks' while no pin stands.

// drillings gives the programs that drill there.
func (c *checklist) drillings(where ...string) (out []Drilling) {
	if c.s.Pins == nil {
		return nil
	}
	for _, d := range c.s.Pins.Drilling {
		if slices.Contains(where, d.Where) {
			out = append(out, d)
		}
	}
	return out
}

// through reports whether blank and bed are drilled in one go, in the face's clamping.
func (c *checklist) through() bool {
	q := c.s.Answer.Question
	return q.Register == registration.Dowels && q.DrilledFace
}

// faceDrills reports whether the face program cuts all holes of the dowels through blank and
// bed: each stands among the cuts that go through, from the face alone and within the hole.
func (c *checklist) faceDrills() bool {
	a := c.s.Answer
	if !c.through() || c.s.Check == nil || len(c.drillings("through")) > 0 {
		return false
	}
	return !slices.ContainsFunc(a.Question.Pins, func(p registration.Pin) bool {
		x, y, r := p.At.X.Sub(a.FaceZero.X).InexactFloat64(), p.At.Y.Sub(a.FaceZero.Y).InexactFloat64(), p.Dia.InexactFloat64()/2
		return !slices.ContainsFunc(c.s.Check.Through, func(t Through) bool {
			dx, dy := float64(t.X)-x, float64(t.Y)-y
			return t.Kind == "declared" && t.FaceLine > 0 && t.BackLine == 0 && dx*dx+dy*dy < r*r
		})
	})
}

// drilledNames lists programs with their offsets.
func drilledNames(programs []Drilling) string {
	var names []string
	for _, d := range programs {
		name := d.Name
		if d.Offset != "" {
			name += " (" + d.Offset + ")"
		}
		names = append(names, name)
	}
	return list(names)
}

// drilledOffsets lists the offsets of programs, each once.
func drilledOffsets(programs []Drilling) (out []string) {
	for _, d := range programs {
		if d.Offset != "" && !slices.Contains(out, d.Offset) {
			out = append(out, d.Offset)
		}
	}
	return out
}

// among passes the programs with the names of drillings.
func among(programs []Drilling) func(p *Program) bool {
	return func(p *Program) bool {
		return slices.ContainsFunc(programs, func(d Drilling) bool { return d.Name == p.Name })
	}
}

// holes are the steps that drill the pins' holes.
func (c *checklist) holes() {
	a := c.s.Answer
	q := a.Question
	bed, blank := c.drillings("bed", "back-bed"), c.drillings("blank")
	if q.Register == registration.Plug && len(bed) > 0 {
		c.indexHoles(bed)
		return
	}
	if q.Register != registration.Dowels || c.through() || len(a.FacePins) == 0 {
		return
	}
	if len(bed)+len(blank) == 0 {
		c.holesByHand()
	}
	if len(bed) > 0 {
		if !c.placed {
			c.zeroForHoles()
		}
		c.drillBed(bed, words.DrillBare)
	}
	if len(blank) > 0 {
		c.step(phaseHoles, "seat", "hold").say(words.LayToDrill).say(words.CornerAt, c.corners(false, a.FaceCorner, drilledOffsets(blank)...)).say(words.ClampClear)
	}
	groups := c.drills(blank)
	for i, g := range groups {
		st := c.step(phaseHoles, "lengths")
		switch {
		case q.ZZero != registration.Bed:
			st.say(words.TouchZ, q.FaceOffset(), words.OnThisTop, g.drill)
		case len(groups) == 1 && g.key.length:
			st.say(words.LeaveZ, q.FaceOffset())
		default:
			st.say(words.TouchZ, q.FaceOffset(), words.OnBedBeside, g.drill)
		}
		st = c.drill(phaseHoles, words.BlankHoles, words.DrillBlank, g.programs, a.Uncut(), "path")
		if i == len(groups)-1 {
			st.say(words.DrillEvery)
		}
	}
	if len(bed)+len(blank) > 0 {
		c.odd(phaseHoles, "blank", words.OddBlank)
	}
	c.setLocators(phaseHoles)
}

// zeroForHoles sets the face zero, from which the bed is drilled, where there is room.
func (c *checklist) zeroForHoles() {
	a := c.s.Answer
	c.step(phaseHoles).say(words.ZeroForHoles, a.Question.FaceOffset(), xy(a.FaceCorner)+c.unit())
	c.placed = true
	c.storeSecond(phaseHoles, false)
}

// drillBed are the steps that drill the bed, with what is checked there first.
func (c *checklist) drillBed(programs []Drilling, check string) {
	for i, g := range c.drills(programs) {
		c.touchBed(g)
		if i == 0 {
			c.step(phaseHoles, "path").say("%s", check)
		}
		c.drill(phaseHoles, words.BedHoles, words.DrillBed, g.programs, decimal.Decimal{})
	}
	c.odd(phaseHoles, "bed", words.OddBed)
}

// touchBed sets Z on the bare bed of each offset that is drilled.
func (c *checklist) touchBed(g drillGroup) {
	at, q := "", c.s.Answer.Question
	several := len(drilledOffsets(g.programs)) > 1
	if several {
		at = words.AtEachStation
	}
	st := c.step(phaseHoles, "check-zero", "lengths").say(words.TouchBed, at, g.drill, c.bedReadings(g.programs))
	if !several {
		return
	}
	st.say(words.EachItsOwn)
	switch up := q.BackSeat.Sub(q.Seat); {
	case up.IsPositive():
		st.say(words.BedHigher, up.String()+c.unit())
	case up.IsNegative():
		st.say(words.BedLower, up.Neg().String()+c.unit())
	}
}

// drill tries drilling programs out and runs them.
func (c *checklist) drill(phase, what, run string, programs []Drilling, thick decimal.Decimal, cautions ...string) *Step {
	c.dryRun(phase, what, drilledOffsets(programs), thick, among(programs), cautions...).Brief = ""
	cautions = []string{"wear", c.handsCode()}
	if c.s.across() {
		cautions = append(cautions, "drill-clear")
	}
	st := c.step(phase, cautions...).say(run, drilledNames(programs))
	before := func(o Step) bool { return o.Phase == phaseHoles && o.Brief != "" }
	st.Brief, st.Also = c.drillBrief(run, programs), phase == phaseFace || slices.ContainsFunc(c.steps, before)
	if !st.Also {
		st.Brief += "; hold, Z: page\u00a02"
	}
	return st
}

// across reports whether drills go across at a height that isn't known to clear the bed.
func (s *Setup) across() bool {
	return s.Pins != nil && slices.ContainsFunc(s.Pins.Notes, func(n Note) bool { return n.Is == words.DrillAcross{} })
}

// indexHoles are the steps that drill the bed for the index pin: the plug first, X and Y
// set from it, then the hole, then the pin.
func (c *checklist) indexHoles(bed []Drilling) {
	a := c.s.Answer
	q := a.Question
	first, _ := c.standing()
	index := func(k stand) bool { return k.Name == registration.StandIndexPin }
	pins := slices.DeleteFunc(slices.Clone(first), func(k stand) bool { return !index(k) })
	c.set(phaseHoles, slices.DeleteFunc(first, index))
	switch {
	case c.placed:
	case c.bored(): // there is no plug to center over
		c.zeroForHoles()
	default:
		at := registration.Point{X: q.Bore.At.X.Sub(a.FaceZero.X), Y: q.Bore.At.Y.Sub(a.FaceZero.Y)}
		c.step(phaseHoles, "check-zero").say(words.CenterPlug, q.FaceOffset(), xy(at)+c.unit())
		c.placed = true
		c.storeSecond(phaseHoles, false)
	}
	c.checkLocators(phaseHoles, c.checkedFirst()...)
	c.drillBed(bed, words.DrillLevelBed)
	c.set(phaseHoles, pins)
}

// drillThrough are the steps that drill through blank and bed in the face's clamping, Z
// touched off for the face program.
func (c *checklist) drillThrough(programs []Drilling, thick decimal.Decimal) {
	a := c.s.Answer
	first := c.s.first(false)
	on := words.OnThisTop
	if a.Question.ZZero == registration.Bed {
		on = words.OnBedBeside
	}
	holds := first
	for _, g := range c.drills(programs) {
		if holds == nil || !g.key.serves(*holds) {
			c.step(phaseFace, "lengths").say(words.TouchAnew, a.Question.FaceOffset(), on, "", g.drill).brief("touch off Z anew with %s", g.drill)
		}
		holds = &g.key
		c.drill(phaseFace, words.ThroughHoles, words.DrillThrough, g.programs, thick, "path")
	}
	if first == nil || !first.serves(*holds) {
		with := words.ItsFirstTool
		if first != nil {
			with = first.named()
		}
		c.step(phaseFace, "lengths").say(words.TouchAnew, a.Question.FaceOffset(), on, words.ForTheFace, with).also("touch off Z again for the face")
	}
	c.odd(phaseFace, "through", words.OddThrough)
}

// drillsAnew reports whether Z is touched off for drilling through blank and bed, and then
// anew for the face program: not where the lengths of all drills are called.
func (c *checklist) drillsAnew() bool {
	groups, first := c.drills(c.drillings("through")), c.s.first(false)
	return c.through() && !c.faceDrills() && (len(groups) == 0 || first == nil || slices.ContainsFunc(groups, func(g drillGroup) bool { return !g.key.serves(*first) }))
}

// holesByHand are the steps that make the pins' holes where no program drills them: the
// bed's first, while nothing lies there, then the blanks', while no pin stands.
func (c *checklist) holesByHand() {
	first, _ := c.standing()
	var holes []string
	for i, k := range first {
		alike := func(o stand) bool { return o.Name == k.Name }
		if slices.ContainsFunc(first[:i], alike) {
			continue
		}
		text := strings.Replace(k.Name, "dowel", "hole", 1)
		if k.Dia.IsPositive() {
			text += ", for a dowel of " + k.Dia.String() + c.unit() + ","
		}
		holes = append(holes, text+" "+c.where(first, k, alike))
	}
	st := c.step(phaseHoles, "path", "wear", c.handsCode()).say(words.DrillByHand).brief("drill the dowel holes by hand, bed then blanks (page\u00a02)")
	if !c.placed {
		st.say(words.FirstSetXY, c.s.Answer.Question.FaceOffset())
	}
	st.say(words.HolesAt, capital(strings.Join(holes, "; ")))
	c.step(phaseHoles, "hold").say(words.EveryByHand, c.blankHoles())
}

// blankHoles lists the holes in the blank, from its near-left corner with the face up.
func (c *checklist) blankHoles() string {
	q := c.s.Answer.Question
	var holes []string
	for i, p := range q.Pins {
		text := "hole " + itoa(i+1)
		switch dia := q.HoleOf(i); {
		case dia != nil:
			text += ", " + dia.String() + c.unit() + " dia,"
		case !p.Dia.IsZero() && q.Fit != "":
			text += ", " + q.Fit + " on a dowel of " + p.Dia.String() + c.unit() + ","
		case !p.Dia.IsZero():
			text += ", for a dowel of " + p.Dia.String() + c.unit() + ","
		}
		holes = append(holes, text+" at "+xy(p.At)+c.unit())
	}
	return strings.Join(holes, "; ")
}

// drillGroup are programs that drill from one touch-off.
type drillGroup struct {
	drill    string // what touches
	key      spindle
	programs []Drilling
}

// drills parts drilling programs by what Z is touched off with: all of those that call
// their drills' lengths together, the others drill by drill.
func (c *checklist) drills(programs []Drilling) (out []drillGroup) {
	for _, d := range programs {
		g := drillGroup{drill: words.TheDrill, key: spindle{length: true}}
		for i := range c.s.Programs {
			if p := &c.s.Programs[i]; p.Name == d.Name && len(p.Stints) > 0 {
				g.key = spindleOf(p.Stints[0])
			}
		}
		switch {
		case g.key.length:
		case len(d.Holes) > 0:
			g.drill = fmt.Sprintf(words.DrillOf, d.Holes[0].Dia.String()+c.unit())
			if g.key.tool >= 0 {
				g.drill += " (" + g.key.named() + ")"
			}
		default:
			g.drill = g.key.named()
		}
		i := slices.IndexFunc(out, func(o drillGroup) bool { return o.drill == g.drill })
		if i < 0 {
			i = len(out)
			out = append(out, g)
		}
		out[i].programs = append(out[i].programs, d)
	}
	return out
}

// odd adds the step that makes the holes for which no drill is named, so that the
// programs of that place ("bed", "blank" or "through") leave them out.
func (c *checklist) odd(phase, where, when string) {
	for _, n := range c.s.Pins.Notes {
		left, odd := n.Is.(words.DrillOdd)
		if odd && slices.ContainsFunc(left.Files, func(file string) bool { return strings.Contains(file, where) }) {
			c.step(phase).say(when, NoteWords(n, c.s.Unit))
		}
	}
}

// bedReadings says what Z must read in each offset where the drill touches the bare
// bed.
func (c *checklist) bedReadings(programs []Drilling) string {
	var out []string
	for i, d := range programs {
		same := func(o Drilling) bool {
			return len(o.Holes) > 0 && len(d.Holes) > 0 && o.Holes[0].From.Equal(d.Holes[0].From)
		}
		if !same(d) || slices.ContainsFunc(programs[:i], same) {
			continue
		}
		var places []string
		for _, o := range programs {
			at := o.Offset + " (" + sideOf(o.Where == "back-bed") + ")"
			if same(o) && !slices.Contains(places, at) {
				places = append(places, at)
			}
		}
		from := d.Holes[0].From
		text := "Z" + from.String() + c.unit() + " in " + list(places)
		if from.IsNegative() {
			text += fmt.Sprintf(words.TopOfBlank, from.Neg().String()+c.unit())
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
