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
		c.add(phaseHoles, "Touch the bare bed with the drill and set Z: "+c.bedReadings(bed)+". With a feeler it reads the feeler's thickness more. A drill that calls no tool length is touched off anew.", "check-zero", "lengths")
		c.add(phaseHoles, "Check that nothing lies or stands on the bed there: no blank, no pin, no clamp. The drill goes down to just over the bare bed by a rapid, into a blank if one lies there.", "path")
		c.dryRun(phaseHoles, "the drilling of the bed", drilledOffsets(bed), decimal.Decimal{}, among(bed))
		c.add(phaseHoles, "Drill the bed: "+drilledNames(bed)+".", "wear", c.handsCode())
	}
	if len(blank) > 0 {
		q := a.Question
		text := "Lay a blank flat, face up, at the face station while no pin stands: against a temporary fence and stop, its near-left corner at " +
			c.corners(false, a.FaceCorner, a.FaceMachine) + ". Clamp it clear of the holes. From now on the holes place it, not its edges: here the corner must be true only within the waste round the part."
		c.add(phaseHoles, text, "seat", "hold")
		if q.ZZero == registration.Bed {
			c.add(phaseHoles, "Z of "+faceOffset(a)+" stays as it was set on the bed; a drill that calls no tool length is touched off anew beside the blank.", "lengths")
		} else {
			c.add(phaseHoles, "Touch off "+faceOffset(a)+" in Z on this blank's top with the drill: Z reads 0, with a feeler its thickness. X and Y stay.", "lengths")
		}
		c.dryRun(phaseHoles, "the drilling of the blank", drilledOffsets(blank), a.Uncut(), among(blank), "path")
		c.add(phaseHoles, "Drill the blank: "+drilledNames(blank)+". Every hole must go right through and a pin drop into it: a pointed drill may need --beyond. The same with every blank of the run, Z touched off on each, before the pins are fitted: a pin under the drill breaks it.", "wear", c.handsCode())
	}
	c.setLocators(phaseHoles)
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
