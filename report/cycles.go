package report

import (
	"fmt"
	"math"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/report/words"
)

// cycle puts a row of cycles into words.
func (r Run) cycle(c cycle.Cycle) Cycle {
	plan := r.Plans[r.Chosen]
	var faces, backs, empty []string
	for i, p := range r.Pairs {
		faces, empty = sorted(i < c.Faces, p.Face.Offset, faces, empty)
		backs, empty = sorted(i < c.Backs, p.Back.Offset, backs, empty)
	}
	var lies []string
	for _, at := range []struct {
		offsets   []string
		one, many string
	}{{faces, "new blank", "new blanks"}, {backs, "turned blank", "turned blanks"}, {empty, "empty", "empty"}} {
		if n := len(at.offsets); n > 0 {
			lies = append(lies, list(at.offsets)+": "+word(n, at.one, at.many))
		}
	}
	out := Cycle{Name: cycleName(c), Lies: strings.Join(lies, "; "), Ends: Estimate(c.End), Repeats: c.From < c.To}
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
	h := hands{r: r, c: c, faces: faces, backs: backs}
	if plan.Hidden {
		h.guarded(out.Program)
	} else {
		h.held(out.Program)
	}
	out.Does, out.Before = h.does, strings.Join(h.before, "; ")
	switch {
	case plan.Batch.Parts > 0 && c.Finished > 0:
		out.Gives = plural(c.Finished, "part", "parts") + " finished"
	case plan.Batch.Parts == 0 && c.Backs > 0:
		out.Gives = plural(c.Backs, "finished part", "finished parts")
	}
	return out
}

// sorted adds an offset to the one list or to the other.
func sorted(first bool, offset string, a, b []string) ([]string, []string) {
	if first {
		return append(a, offset), b
	}
	return a, append(b, offset)
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

// hands gathers what is done in a cycle, one after the other, and what of it hands do with
// the blanks.
type hands struct {
	r            Run
	c            cycle.Cycle
	faces, backs []string
	does, before []string
}

// do adds what is done; blanks adds what hands do with the blanks, which the table shows too.
func (h *hands) do(clause string, values ...any) {
	h.does = append(h.does, fmt.Sprintf(clause, values...))
}

func (h *hands) blanks(clause string, values ...any) {
	h.do(clause, values...)
	h.before = append(h.before, h.does[len(h.does)-1])
}

// touch says that Z is touched off on the blanks that lie in the offsets of one side, "" where it
// isn't or none lies there.
func (h *hands) touch(back bool) string {
	side, offsets := 0, h.faces
	if back {
		side, offsets = 1, h.backs
	}
	if !h.r.Touched[side] || len(offsets) == 0 {
		return ""
	}
	return fmt.Sprintf(words.TouchOffZ, list(offsets))
}

// run runs the cycle's program.
func (h *hands) run(program string) {
	h.do(words.OutOfReach)
	h.do(words.RunProgram, program)
}

// finished says which finished parts are taken off, with the cycle from on which there are
// some; "" where there are none.
func (h *hands) finished() string {
	if h.c.To <= 2 {
		return ""
	}
	take := fmt.Sprintf(words.TakeFinished, word(len(h.r.Pairs), "part", "parts"), h.r.offsets(len(h.r.Pairs), true))
	if h.c.From == 2 {
		take += words.FromThird
	}
	return take
}

// end takes off what the last cycle has finished.
func (h *hands) end() {
	if h.c.Program == "last" {
		h.do(words.WhenEnded+words.TakeFinished, word(len(h.backs), "part", "parts"), list(h.backs))
	}
}

// held is a cycle that is loaded with the machine held.
func (h *hands) held(program string) {
	r, c := h.r, h.c
	if take := h.finished(); take != "" {
		h.blanks("%s", take)
	}
	if c.Turns > 0 {
		var from []string
		for _, p := range r.Pairs[:c.Turns] {
			from = append(from, p.Face.Offset+" to "+p.Back.Offset)
		}
		h.blanks(words.TurnOver, word(c.Turns, "blank", "blanks"), list(from))
	}
	if c.Loads > 0 {
		h.blanks(words.LayNew, word(c.Loads, "a new blank", "new blanks"), list(h.faces))
	} else {
		h.blanks(words.NoNewBlank)
	}
	h.do(words.Hold, word(c.Loads+c.Turns, "it", "them"))
	var touched []string
	for side, offsets := range [2][]string{h.faces, h.backs} {
		if r.Touched[side] {
			touched = append(touched, offsets...)
		}
	}
	if len(touched) > 0 {
		h.do(words.TouchOffZ, list(touched))
	}
	h.run(program)
	if c.Faces > 0 && c.Backs > 0 && r.Chosen == cycle.ByStations && r.Pause != "" {
		h.do(words.StartBacks, r.pauseWords())
	}
	h.end()
}

// guarded is a cycle in which one side is loaded while the other is cut. Z can be touched off
// only where the program has stopped or ended.
func (h *hands) guarded(program string) {
	c := h.c
	them := func(n int) string { return word(n, "it", "them") }
	seat := fmt.Sprintf(words.SeatTurned, word(c.Turns, "turned blank", "turned blanks"), list(h.backs), them(c.Turns))
	keep := fmt.Sprintf(words.KeepInHand, word(c.Faces, "blank", "blanks"), list(h.faces), them(c.Faces), them(c.Faces)) + ", " + words.LayIfAny
	after := h.touch(false)
	take := h.finished()
	switch c.Program {
	case "first":
		h.blanks(words.LayNew, word(c.Loads, "a new blank", "new blanks"), list(h.faces))
		h.do(words.Hold, them(c.Loads))
		if after != "" {
			h.do("%s", after)
			after = ", " + after
		}
		h.run(program)
		h.blanks("%s", words.WhenEnded+keep+after)
	case "last":
		if take != "" {
			h.blanks("%s", take)
		}
		h.blanks("%s", seat)
		h.blanks(words.NoNewBlank)
		if t := h.touch(true); t != "" {
			h.do("%s", t)
		}
		h.run(program)
		h.end()
	default:
		h.do(words.RunProgram, program)
		if take != "" {
			take += ", "
		}
		h.blanks("%s", words.FacesCut+take+seat)
		stop := fmt.Sprintf(words.StopBetween, h.r.pauseWords())
		if t := h.touch(true); t != "" {
			stop += t + words.RaiseClear
		}
		h.do("%s", stop+words.OutOfReach+", "+words.StartAgain)
		h.blanks("%s", words.BacksCut+keep)
		if after != "" {
			h.do("%s", words.WhenEnded+after)
		}
	}
}

// pauseWords names the stop between faces and backs.
func (r Run) pauseWords() string {
	if r.Pause == "M1" {
		return words.OptionalOn
	}
	return r.Pause
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
