package report

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
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
	bed, blank := c.drillings("bed", "back-bed"), c.drillings("blank")
	if a.Question.Register == registration.Plug && len(bed) > 0 {
		c.indexHoles(bed)
		return
	}
	if a.Question.Register != registration.Dowels || c.through() || len(a.FacePins) == 0 {
		return
	}
	if len(bed)+len(blank) == 0 {
		c.holesByHand()
	}
	if len(bed) > 0 {
		if !c.placed {
			c.add(phaseHoles, "Set X and Y of "+faceOffset(a)+" where the face zero is to be: the pins are drilled from it, and it stays until the run is over. Near-left corner of the blank, as it will lie, at "+
				xy(a.FaceCorner)+" from there.")
			c.placed = true
			c.storeSecond(phaseHoles, false)
		}
		c.drillBed(bed, "Check that nothing lies or stands on the bed there: no blank, no pin, no clamp. The drill goes down to just over the bare bed by a rapid, into a blank if one lies there.")
	}
	if len(blank) > 0 {
		q := a.Question
		text := "Lay a blank flat, face up, at the face station while no pin stands: against a temporary fence and stop, its near-left corner at " +
			c.corners(false, a.FaceCorner, a.FaceMachine) + ". Clamp it clear of the holes. From now on the holes place it, not its edges: here the corner must be true only within the waste round the part."
		c.add(phaseHoles, text, "seat", "hold")
		groups := c.drills(blank)
		for i, g := range groups {
			switch {
			case q.ZZero != registration.Bed:
				c.add(phaseHoles, "Touch off "+faceOffset(a)+" in Z on this blank's top with "+g.drill+": Z reads 0, with a feeler its thickness. X and Y stay.", "lengths")
			case len(groups) == 1 && g.length:
				c.add(phaseHoles, "Z of "+faceOffset(a)+" stays as it was set on the bed.", "lengths")
			default:
				c.add(phaseHoles, "Touch the bed beside the blank with "+g.drill+" and set Z of "+faceOffset(a)+": it reads 0, with a feeler its thickness. X and Y stay.", "lengths")
			}
			c.dryRun(phaseHoles, "the drilling of the blank", drilledOffsets(g.programs), a.Uncut(), among(g.programs), "path")
			text := "Drill the blank: " + drilledNames(g.programs) + "."
			if i == len(groups)-1 {
				text += " Every hole must go right through and a pin drop into it: a pointed drill may need --beyond. The same with every blank of the run, Z touched off on each, before the pins are fitted: a pin under the drill breaks it."
			}
			c.add(phaseHoles, text, "wear", c.handsCode())
		}
	}
	if len(bed)+len(blank) > 0 {
		c.odd(phaseHoles, "blank", "In every blank, before the pins are fitted: ")
	}
	c.setLocators(phaseHoles)
}

// drillBed are the steps that drill the bed, with what is checked there first.
func (c *checklist) drillBed(programs []Drilling, check string) {
	for i, g := range c.drills(programs) {
		c.add(phaseHoles, "Touch the bare bed with "+g.drill+" and set Z: "+c.bedReadings(g.programs)+". With a feeler it reads the feeler's thickness more.", "check-zero", "lengths")
		if i == 0 {
			c.add(phaseHoles, check, "path")
		}
		c.dryRun(phaseHoles, "the drilling of the bed", drilledOffsets(g.programs), decimal.Decimal{}, among(g.programs))
		c.add(phaseHoles, "Drill the bed: "+drilledNames(g.programs)+".", "wear", c.handsCode())
	}
	c.odd(phaseHoles, "bed", "In the bare bed: ")
}

// indexHoles are the steps that drill the bed for the index pin: the plug first, X and Y
// set from it, then the hole, then the pin.
func (c *checklist) indexHoles(bed []Drilling) {
	a := c.s.Answer
	q := a.Question
	c.add(phaseHoles, c.plugStep())
	if !c.placed {
		at := registration.Point{X: q.Bore.At.X.Sub(a.FaceZero.X), Y: q.Bore.At.Y.Sub(a.FaceZero.Y)}
		c.add(phaseHoles, "Center the spindle over the plug and set X and Y of "+faceOffset(a)+" to read "+xy(at)+". They stay until the run is over.", "check-zero")
		c.placed = true
		c.storeSecond(phaseHoles, false)
	}
	c.checkLocators(phaseHoles, false, true)
	c.drillBed(bed, "Check that the bed there is level with the plug's shoulder, and that no blank, no pin and no clamp is there: rapids go down to just over the bare bed.")
	c.add(phaseHoles, c.indexStep())
	c.add(phaseHoles, "Cut the index pin's hole in every blank in one clamping with its bore: "+c.indexHole()+" from the near-left corner, face up.")
}

// indexHole is the index pin's hole in the blank.
func (c *checklist) indexHole() string {
	at := xy(c.s.Answer.Question.Clock.Pin)
	if d := c.s.Pins.Index; d != nil {
		return d.Hole.String() + " " + c.s.Unit.String() + " dia at " + at
	}
	return "at " + at
}

// drillThrough are the steps that drill through blank and bed in the face's clamping, Z
// touched off for the face program.
func (c *checklist) drillThrough(programs []Drilling, thick decimal.Decimal) {
	a := c.s.Answer
	first := c.s.first(false)
	on := " on this blank's top"
	if a.Question.ZZero == registration.Bed {
		on = " on the bed beside the blank"
	}
	holds := first
	for _, g := range c.drills(programs) {
		if holds == nil || !g.key.serves(*holds) {
			c.add(phaseFace, "Touch off "+faceOffset(a)+" in Z anew"+on+" with "+g.drill+". X and Y stay.", "lengths")
		}
		holds = &g.key
		c.dryRun(phaseFace, "the drilling through blank and bed", drilledOffsets(g.programs), thick, among(g.programs), "path")
		c.add(phaseFace, "Drill through blank and bed: "+drilledNames(g.programs)+".", "wear", c.handsCode())
	}
	if first == nil || !first.serves(*holds) {
		with := "the tool with which it begins"
		if first != nil {
			with = first.named()
		}
		c.add(phaseFace, "Touch off "+faceOffset(a)+" in Z anew"+on+" for the face program, with "+with+". X and Y stay.", "lengths")
	}
	c.odd(phaseFace, "through", "Through blank and bed: ")
}

// holesByHand are the steps that make the pins' holes where no program drills them: the
// bed's first, while nothing lies there, then the blanks', while no pin stands.
func (c *checklist) holesByHand() {
	a := c.s.Answer
	var holes []string
	for i, p := range a.FacePins {
		text := "hole " + itoa(i+1)
		if !p.Dia.IsZero() {
			text += ", for the pin of " + p.Dia.String() + " " + c.s.Unit.String() + ","
		}
		holes = append(holes, text+" at "+c.pinPlaces(i))
	}
	from := ""
	if !c.placed {
		from = " (set X and Y of " + faceOffset(a) + " first, where the face zero is to be)"
	}
	c.add(phaseHoles, "Where the pins don't stand in the bed already, make their holes in it, square to it and nothing lying there: go to each place by these coordinates"+from+", then drill and ream or bore, so that the pin stands firm: "+strings.Join(holes, "; ")+
		". No program drills them: with --spoilboard (spoilboard in the job) prepare writes those that do.", "path", "wear", c.handsCode())
	c.add(phaseHoles, "Make the holes in every blank of the run, right through, face up, from its near-left corner, while no pin stands (a pin under the drill breaks it): "+c.blankHoles()+
		". A pin must drop into each.", "hold")
}

// blankHoles lists the holes in the blank, from its near-left corner with the face up.
func (c *checklist) blankHoles() string {
	q := c.s.Answer.Question
	unit := " " + c.s.Unit.String()
	var holes []string
	for i, p := range q.Pins {
		text := "hole " + itoa(i+1)
		switch dia := q.HoleOf(i); {
		case dia != nil:
			text += ", " + dia.String() + unit + " dia,"
		case !p.Dia.IsZero() && q.Fit != "":
			text += ", " + q.Fit + " on the pin of " + p.Dia.String() + unit + ","
		case !p.Dia.IsZero():
			text += ", for the pin of " + p.Dia.String() + unit + ","
		}
		holes = append(holes, text+" at "+xy(p.At))
	}
	return strings.Join(holes, "; ")
}

// drillGroup are programs that drill from one touch-off.
type drillGroup struct {
	drill    string // what touches
	length   bool   // their drills' lengths are called
	key      spindle
	programs []Drilling
}

// drills parts drilling programs by what Z is touched off with: all of those that call
// their drills' lengths together, the others drill by drill.
func (c *checklist) drills(programs []Drilling) (out []drillGroup) {
	for _, d := range programs {
		g := drillGroup{drill: "the drill", length: true, key: spindle{length: true}}
		for i := range c.s.Programs {
			if p := &c.s.Programs[i]; p.Name == d.Name && len(p.Stints) > 0 {
				g.key = spindleOf(p.Stints[0])
				g.length = g.key.length
			}
		}
		switch {
		case !g.length && len(d.Holes) > 0:
			g.drill = "the drill of " + d.Holes[0].Dia.String() + " " + c.s.Unit.String()
			if g.key.tool >= 0 {
				g.drill += " (" + g.key.named() + ")"
			}
		case !g.length:
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
		if n.Code == DrillOdd && slices.ContainsFunc(values(n.Values).from(1), func(file string) bool { return strings.Contains(file, where) }) {
			c.add(phase, when+n.Text+".")
		}
	}
}

// bedReadings says what Z must read in each offset where the drill touches the bare
// bed.
func (c *checklist) bedReadings(programs []Drilling) string {
	var out []string
	for i, d := range programs {
		if len(d.Holes) == 0 {
			continue
		}
		from := d.Holes[0].From
		same := func(o Drilling) bool { return len(o.Holes) > 0 && o.Holes[0].From.Equal(from) }
		if slices.ContainsFunc(programs[:i], same) {
			continue
		}
		var places []string
		for _, o := range programs {
			at := o.Offset + " at the " + map[bool]string{true: "back", false: "face"}[o.Where == "back-bed"] + " station"
			if same(o) && !slices.Contains(places, at) {
				places = append(places, at)
			}
		}
		text := list(places) + " must read Z" + from.String()
		if from.IsNegative() {
			text += ", since Z0 is the top of a blank " + from.Neg().String() + " " + c.s.Unit.String() + " thick that isn't there yet"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
