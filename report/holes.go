package report

import (
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
			c.add(phaseHoles, "Set X and Y of "+a.Question.FaceOffset()+" where the face zero is to be, for the whole run. The blank's near-left corner comes to "+
				xy(a.FaceCorner)+" from there.")
			c.placed = true
			c.storeSecond(phaseHoles, false)
		}
		c.drillBed(bed, "Drill the bed bare: no blank, no dowel, no clamp. Rapids stop just above the bed, so they would hit a blank.")
	}
	if len(blank) > 0 {
		q := a.Question
		text := "No dowels in the bed yet. Lay a blank flat, face up, against a temporary fence and stop. Its near-left corner comes to " +
			c.corners(false, a.FaceCorner) + ". Clamp it clear of the holes. Place the corner within the waste round the part: the holes locate from now on."
		c.add(phaseHoles, text, "seat", "hold")
		groups := c.drills(blank)
		for i, g := range groups {
			switch {
			case q.ZZero != registration.Bed:
				c.add(phaseHoles, "Touch off "+a.Question.FaceOffset()+" in Z alone on this blank's top with "+g.drill+". Set 0, on a feeler its thickness.", "lengths")
			case len(groups) == 1 && g.length:
				c.add(phaseHoles, "Leave Z of "+a.Question.FaceOffset()+" as set on the bed.", "lengths")
			default:
				c.add(phaseHoles, "Touch off "+a.Question.FaceOffset()+" in Z alone on the bed beside the blank with "+g.drill+". Set 0, on a feeler its thickness.", "lengths")
			}
			c.dryRun(phaseHoles, "the drilling of the blank", drilledOffsets(g.programs), a.Uncut(), among(g.programs), "path")
			text := "Drill the blank: " + drilledNames(g.programs) + "."
			if i == len(groups)-1 {
				text += " Check that every hole goes right through and a dowel drops in (key beyond). Drill every blank so, Z touched off on each, with no dowels in the bed."
			}
			c.add(phaseHoles, text, "wear", c.handsCode())
		}
	}
	if len(bed)+len(blank) > 0 {
		c.odd(phaseHoles, "blank", "In every blank, with no dowels in the bed: ")
	}
	c.setLocators(phaseHoles)
}

// drillBed are the steps that drill the bed, with what is checked there first.
func (c *checklist) drillBed(programs []Drilling, check string) {
	for i, g := range c.drills(programs) {
		c.add(phaseHoles, "Touch the bare bed with "+g.drill+". Set "+c.bedReadings(g.programs)+". On a feeler add its thickness.", "check-zero", "lengths")
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
		c.add(phaseHoles, "Center the spindle over the plug. Set "+a.Question.FaceOffset()+" to "+xy(at)+" for the whole run.", "check-zero")
		c.placed = true
		c.storeSecond(phaseHoles, false)
	}
	c.checkLocators(phaseHoles, false, true)
	c.drillBed(bed, "Check that the bed is level with the plug's shoulder. Drill it bare: no blank, no pin, no clamp. Rapids stop just above the bed.")
	c.add(phaseHoles, c.indexStep())
	c.add(phaseHoles, "Cut the index pin's hole in every blank in one clamping with its bore. It is "+c.indexHole()+" from the near-left corner, face up.")
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
			c.add(phaseFace, "Touch off "+a.Question.FaceOffset()+" in Z alone, anew,"+on+" with "+g.drill+".", "lengths")
		}
		holds = &g.key
		c.dryRun(phaseFace, "the drilling through blank and bed", drilledOffsets(g.programs), thick, among(g.programs), "path")
		c.add(phaseFace, "Drill through blank and bed: "+drilledNames(g.programs)+".", "wear", c.handsCode())
	}
	if first == nil || !first.serves(*holds) {
		with := "its first tool"
		if first != nil {
			with = first.named()
		}
		c.add(phaseFace, "Touch off "+a.Question.FaceOffset()+" in Z alone, anew,"+on+" for the face program with "+with+".", "lengths")
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
			text += ", for a dowel of " + p.Dia.String() + " " + c.s.Unit.String() + ","
		}
		holes = append(holes, text+" at "+c.pinPlaces(i))
	}
	from := ""
	if !c.placed {
		from = " First set X and Y of " + a.Question.FaceOffset() + "."
	}
	c.add(phaseHoles, "If the bed has no dowels yet, drill the bare bed, square to it."+from+" "+capital(strings.Join(holes, "; "))+
		". Ream or bore so that each dowel stands firm. With the key spoilboard, prepare writes the programs.", "path", "wear", c.handsCode())
	c.add(phaseHoles, "Drill every blank right through, face up, with no dowels in the bed. From its near-left corner: "+c.blankHoles()+
		". A dowel must drop into each.", "hold")
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
			text += ", " + q.Fit + " on a dowel of " + p.Dia.String() + unit + ","
		case !p.Dia.IsZero():
			text += ", for a dowel of " + p.Dia.String() + unit + ","
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
		left, odd := n.Is.(words.DrillOdd)
		if odd && slices.ContainsFunc(left.Files, func(file string) bool { return strings.Contains(file, where) }) {
			c.add(phase, when+NoteWords(n, c.s.Unit)+".")
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
			at := o.Offset + " (" + sideOf(o.Where == "back-bed") + ")"
			if same(o) && !slices.Contains(places, at) {
				places = append(places, at)
			}
		}
		text := "Z" + from.String() + " in " + list(places)
		if from.IsNegative() {
			text += "; Z0 is the top of a blank " + from.Neg().String() + " " + c.s.Unit.String() + " thick"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
