package report

import (
	"fmt"
	"math"
	"strings"

	"flipcalc/mirror/cycle"
)

// cycle puts a row of cycles into words.
func (r Run) cycle(c cycle.Cycle) Cycle {
	plan := r.Plans[r.Chosen]
	var faces, backs, idleFaces, idleBacks []string
	for i, p := range r.Pairs {
		*pick(i < c.Faces, &faces, &idleFaces) = append(*pick(i < c.Faces, &faces, &idleFaces), p.Face.Offset)
		*pick(i < c.Backs, &backs, &idleBacks) = append(*pick(i < c.Backs, &backs, &idleBacks), p.Back.Offset)
	}
	var lies []string
	say := func(at []string, one, many string) {
		if len(at) > 0 {
			lies = append(lies, list(at)+": "+word(len(at), one, many))
		}
	}
	say(faces, "new blank", "new blanks")
	say(backs, "turned blank", "turned blanks")
	say(append(idleFaces, idleBacks...), "empty", "empty")
	out := Cycle{Name: cycleName(c), Lies: strings.Join(lies, "; "), Ends: Estimate(c.End)}
	if plan.Hidden {
		out.Before = r.guardedHands(c, faces, backs)
	} else {
		out.Before = r.heldHands(c, faces)
	}
	switch c.Program {
	case "first":
		out.Program, out.Cuts = r.Names[0], "the faces"
	case "last":
		out.Program, out.Cuts = r.Names[2], "the backs"
	default:
		out.Program, out.Cuts = r.Names[1], "faces and backs"
		if r.Chosen == cycle.ByStations {
			out.Cuts = "the faces, then the backs"
			if r.Pause != "" {
				out.Cuts = "the faces, stops (" + r.Pause + "), then the backs"
			}
		}
	}
	if plan.Hidden {
		out.Does = r.guardedDoes(c, out.Program, faces, backs)
	} else {
		out.Does = r.heldDoes(c, out.Program, faces, backs)
	}
	if plan.Batch.Parts > 0 && c.Finished > 0 {
		out.Gives = plural(c.Finished, "part", "parts") + " finished"
	} else if plan.Batch.Parts == 0 && c.Backs > 0 {
		out.Gives = plural(c.Backs, "finished part", "finished parts")
	}
	return out
}

func pick(first bool, a, b *[]string) *[]string {
	if first {
		return a
	}
	return b
}

// cycleName names a row of cycles.
func cycleName(c cycle.Cycle) string {
	switch {
	case c.To == math.MaxInt && c.From == 2:
		return "every further cycle"
	case c.To == math.MaxInt:
		return "last cycle"
	case c.From == 1:
		return "first cycle"
	case c.Program == "last":
		return "last cycle, " + itoa(c.From)
	case c.From == c.To:
		return "cycle " + itoa(c.From)
	}
	return fmt.Sprintf("cycles %d to %d", c.From, c.To)
}

// touchOn says that Z is touched off on the blanks at stations of one side, "" where it
// isn't or none lies there.
func (r Run) touchOn(offsets []string, back bool) string {
	i := 0
	if back {
		i = 1
	}
	if !r.Touched[i] || len(offsets) == 0 {
		return ""
	}
	return "touch off Z of " + list(offsets)
}

// heldDoes lists what is done in a cycle that is loaded with the machine held.
func (r Run) heldDoes(c cycle.Cycle, program string, faces, backs []string) (out []string) {
	out = append(out, r.heldHands(c, faces), "hold "+word(c.Loads+c.Turns, "it", "them"))
	var touched []string
	for side, offsets := range [2][]string{faces, backs} {
		if r.Touched[side] {
			touched = append(touched, offsets...)
		}
	}
	if len(touched) > 0 {
		out = append(out, "touch off Z of "+list(touched))
	}
	out = append(out, "hands out of reach", "run "+program)
	if c.Faces > 0 && c.Backs > 0 && r.Chosen == cycle.ByStations && r.Pause != "" {
		out = append(out, "at its stop after the faces ("+r.pauseWords()+") start it again for the backs")
	}
	return out
}

// pauseWords names the stop between faces and backs.
func (r Run) pauseWords() string {
	if r.Pause == "M1" {
		return "M1: switch the optional stop on"
	}
	return r.Pause
}

// takeOff says which finished parts are taken off before a cycle, "" in the first two.
func (r Run) takeOff(c cycle.Cycle) string {
	if c.To <= 2 {
		return ""
	}
	take := "take the finished " + word(len(r.Pairs), "part", "parts") + " off " + r.offsets(len(r.Pairs), true)
	if c.From == 2 {
		take += " (from cycle 3)"
	}
	return take
}

// guardedDoes lists what is done in a cycle in which one side is loaded while the other
// is cut. Z can be touched off only where the program has stopped or ended.
func (r Run) guardedDoes(c cycle.Cycle, program string, faces, backs []string) (out []string) {
	say := func(acts ...string) {
		for _, t := range acts {
			if t != "" {
				out = append(out, t)
			}
		}
	}
	take := r.takeOff(c)
	seat := "seat the " + word(c.Turns, "turned blank", "turned blanks") + " from the hand, back up, on " + list(backs) + " and hold " + word(c.Turns, "it", "them")
	off := "take the " + word(c.Faces, "blank", "blanks") + " off " + list(faces) + ", turn " + word(c.Faces, "it", "them") + " over; keep " + word(c.Faces, "it", "them") + " in hand"
	const lay = "lay new ones on, if any, and clamp them"
	after := ""
	if t := r.touchOn(faces, false); t != "" {
		after = ", " + t
	}
	switch c.Program {
	case "first":
		say("lay "+word(c.Loads, "a new blank", "new blanks")+" on "+list(faces)+" and hold "+word(c.Loads, "it", "them"), r.touchOn(faces, false), "hands out of reach", "run "+program, "when it has ended: "+off+", "+lay+after)
	case "last":
		say(take, seat, r.touchOn(backs, true), "hands out of reach", "run "+program)
	default:
		at := "at the stop after the faces (" + r.pauseWords() + "), spindle still: "
		if t := r.touchOn(backs, true); t != "" {
			at += t + ", raise the tool to the clear height, "
		}
		first := "while the faces are cut: "
		if take != "" {
			first += take + ", "
		}
		say("run "+program, first+seat, at+"hands out of reach, start it again", "while the backs are cut: "+off+", "+lay)
		if after != "" {
			say("when it has ended" + after)
		}
	}
	return out
}

// heldHands says what hands do before a cycle starts, the machine held.
func (r Run) heldHands(c cycle.Cycle, faces []string) string {
	var does []string
	if take := r.takeOff(c); take != "" {
		does = append(does, take)
	}
	if c.Turns > 0 {
		var from []string
		for _, p := range r.Pairs[:c.Turns] {
			from = append(from, p.Face.Offset+" to "+p.Back.Offset)
		}
		does = append(does, "turn the "+word(c.Turns, "blank", "blanks")+" over from "+list(from))
	}
	if c.Loads > 0 {
		does = append(does, "lay "+word(c.Loads, "a new blank", "new blanks")+" on "+list(faces))
	}
	return strings.Join(does, "; ")
}

// guardedHands says what hands do while the other side is cut. A turned blank waits
// in hand from the one to the other.
func (r Run) guardedHands(c cycle.Cycle, faces, backs []string) string {
	if c.Program == "first" {
		return "before it: lay " + word(c.Loads, "a new blank", "new blanks") + " on " + list(faces) + "; after it: take " + word(c.Loads, "the blank", "the blanks") +
			" off and keep " + word(c.Loads, "it", "them") + " in hand, and lay new ones on"
	}
	var does []string
	if take := r.takeOff(c); take != "" {
		does = append(does, take)
	}
	seat := "seat the " + word(c.Turns, "turned blank", "turned blanks") + " from the hand on " + list(backs)
	if c.Program == "last" {
		return strings.Join(append(does, seat), "; ")
	}
	s := "while the faces are cut: " + strings.Join(append(does, seat), "; ") + "; while the backs are cut: take the " + word(c.Faces, "blank", "blanks") + " off " + list(faces) +
		" and keep " + word(c.Faces, "it", "them") + " in hand"
	return s + ", and lay new ones on, if any"
}

// offsets lists the offsets of the first n face or back stations.
func (r Run) offsets(n int, back bool) string {
	var out []string
	for _, p := range r.Pairs[:n] {
		if back {
			out = append(out, p.Back.Offset)
		} else {
			out = append(out, p.Face.Offset)
		}
	}
	return list(out)
}
