package words

import (
	"path/filepath"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/registration"
	"flipcalc/registration/pattern"
)

// The comment line that a written program begins with: what it is, from what, and the
// caution.

const dryRunFirst = ", dry run above the work first"

// OffsetsComment is that of the program that stores the stations' offsets.
const OffsetsComment = "offsets of the stations: note the old values first, run it once before touching off, corrections go into the job"

// ProgramComment is that of a maker's program for its station, "face", "mirrored" or
// "as written" by its role.
func ProgramComment(path, role string, a *registration.Answer) string {
	name := filepath.Base(path)
	switch {
	case role == "face":
		return name + " for the face" + dryRunFirst
	case role != "mirrored":
		return name + " for the back as written" + dryRunFirst
	case path == "-":
		name = "standard input"
	}
	formula := a.Transform.X.Formula("x")
	switch {
	case !a.BackTurn.IsZero():
		formula = a.Transform.String()
	case a.Question.Flip == registration.FlipX:
		formula = a.Transform.Y.Formula("y")
	}
	return "back of " + name + ", flip " + a.Question.Flip.String() + ", " + formula + dryRunFirst
}

// CycleComments are those of the first, the steady and the last cycle; faces and backs name
// the programs that were merged, in the order in which they run.
func CycleComments(pairs []cycle.Pair, faces, backs []string) [3]string {
	var at [2][]string
	for _, p := range pairs {
		at[0], at[1] = append(at[0], p.Face.Offset), append(at[1], p.Back.Offset)
	}
	face := "faces at " + strings.Join(at[0], " ") + " from " + strings.Join(faces, " and ")
	back := "backs at " + strings.Join(at[1], " ") + " from " + strings.Join(backs, " and ")
	return [3]string{"first cycle, " + face + dryRunFirst, "steady cycle, " + face + ", " + back + dryRunFirst, "last cycle, " + back + dryRunFirst}
}

// DrillingComment is that of a program that drills pins' holes, the deepest of them to lowest.
func DrillingComment(a *registration.Answer, where pattern.Where, lowest string) string {
	pins := "holes for the dowels"
	if a.Question.Register == registration.Plug {
		pins = "hole for the index pin"
	}
	blank := "dowel holes through the blank of " + a.Used.String() + " " + a.Question.Unit.String()
	what := map[pattern.Where]string{
		pattern.Blank:   blank,
		pattern.Bed:     pins + " in the bare bed of the face station",
		pattern.Through: blank + " into the bed",
		pattern.BackBed: pins + " in the bare bed of the back station",
	}[where]
	return what + ", down to Z" + lowest + dryRunFirst
}
