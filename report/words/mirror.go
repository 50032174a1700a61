package words

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
)

// mirrorFact: what a program relies on, and what becomes of it on the back.
func mirrorFact(is any, _ string) string {
	switch f := is.(type) {
	case mirror.AssumedUnit:
		return noUnit(f.Unit)
	case mirror.AssumedDistance:
		return "no G90 or G91 before the first move: " + f.Code + " assumed"
	case mirror.AssumedPlane:
		return "no G17, G18 or G19 before the first arc or cycle: " + f.Code + " assumed"
	case mirror.AssumedCentres:
		return "no G90.1 or G91.1 before the first arc: " + f.Code + " assumed"
	case mirror.AssumedFeed:
		return "no G93, G94 or G95 before the first feed move: " + f.Code + " assumed"
	case mirror.AssumedStraight:
		return "axis word without G0 or G1 in force: controls move straight, at rapid or feed"
	case mirror.WholeNumbers:
		return "numbers without a point are read as whole " + f.Unit.String() + "; some controls read them in their least increment"
	case mirror.NoEnd:
		return "no M2, M30 or closing %: check that the program is whole"
	case mirror.DeletedState:
		return "a block with a slash changes later blocks: don't switch block delete during the run"
	case mirror.IncrementalStart:
		return f.Axis + " starts by G91 from where the tool stands; " + atImage
	case mirror.CutAtStart:
		return "no " + f.Axis + " before the first cut, which starts where the tool stands; give it in the program; or " + atImage
	case mirror.AfterChange:
		return "write " + f.Axis + " in G90 after M6; if the machine moves to change tools, the back goes wrong without it"
	case mirror.ZeroHere:
		return onBothSides(f) + " on the back; " + atImage
	case ZeroHere:
		return f.sentence()
	case mirror.ZeroLeft:
		if f.Code == "G68" {
			return "G68 isn't ended by G69: the next program would run turned"
		}
		return f.Code + " isn't cancelled: the next program would run from a shifted zero"
	case mirror.InchRounded:
		return f.Axis + ": " + f.Exact.String() + " mm rounded to " + f.Used.String() + " in"
	case mirror.MachineMove:
		return "G53 move (" + f.Axes + ") unchanged: check its way at the back's station"
	case mirror.MachineCounts:
		return "a G53 block under G91: some controls ignore G53 there"
	case mirror.Home:
		return f.Code + " goes home: only the point on the way is mirrored"
	case mirror.Rotary:
		text := "rotary axis " + f.Axis + " unchanged: a turned blank may need it the other way round"
		if f.Axis == "A" {
			text += "; if A beside G1 is a line's angle, write the end point instead"
		}
		return text
	case mirror.MarkDropped:
		return "byte-order mark at the start left out"
	case mirror.TextKept:
		return "text outside parentheses, or with parentheses inside, kept as a comment"
	case mirror.PassedOn:
		return f.Code + " unchanged, since it moves no axis: check what it does on the back"
	case mirror.LookAhead:
		return f.Code + " unchanged: look-ahead only"
	case mirror.TextAfterEnd:
		return "text behind the program's end unchanged: it moves nothing"
	case mirror.AlreadyMirrored:
		return "its comment says it was mirrored before: mirrored again it is the face's"
	case mirror.WrittenTurned:
		step := decimal.New(1, int32(-f.Decimals)).String() + " " + f.Unit.String()
		return "turned by " + f.Degrees.String() + "° about the back zero, move by move, rounded to " + step
	}
	return cutFact(is)
}

// cutFact: what a program's cuts do, its work offsets, and its chains between climb and
// conventional.
func cutFact(is any) string {
	switch f := is.(type) {
	case mirror.Helix:
		return "helix mirrored: a milled thread changes hand"
	case mirror.ArcMismatch:
		if f.Arcs == 1 {
			return "an arc's radius differs by " + f.Most + " mm at its end: some controls refuse it"
		}
		return strconv.Itoa(f.Arcs) + " arcs end up to " + f.Most + " mm off their radius: some controls refuse them"
	case mirror.CycleKept:
		return f.Cycle + " with L0 drills nothing there; controls differ on whether the tool goes there"
	case mirror.CycleLevel:
		return f.Cycle + " has no R word: write it in; controls differ on the level they take"
	case mirror.CycleCarried:
		return "R or " + string(f.Depth) + " given in " + f.Given + " is used under " + f.Now + ": controls differ; repeat both there"
	case mirror.CycleBare:
		return f.Cycle + " has no axis words: nothing is drilled there"
	case mirror.StoppedTap:
		return "G84 taps with the spindle stopped: write M3 before it"
	case mirror.BackBoring:
		return "G87: the spindle's stop angle isn't mirrored; check that the tool comes free"
	case mirror.SpindleStopped:
		if f.Moves == 1 {
			return "a cut with the spindle stopped: write M3 or M4 before it"
		}
		return strconv.FormatInt(f.Moves, 10) + " cuts with the spindle stopped, this the first: write M3 or M4 before it"
	case mirror.LowRapids:
		if f.Moves == 1 {
			return "a rapid move below the surface: check that it is cut away there"
		}
		return strconv.FormatInt(f.Moves, 10) + " rapid moves below the surface, first here: check that it is cut away"
	case mirror.NotSummarised:
		return "over " + strconv.FormatInt(f.MiB, 10) + " MiB: mirrored and proved, but its reach and time aren't known"
	case mirror.OffBlank:
		return "cuts run off the blank: " + f.Axis + f.Least.String() + " to " + f.Greatest.String() + ", blank " + f.Left.String() + " to " + f.Right.String() + " " + f.Unit.String() +
			"; check the zero, and that the program isn't mirrored already"
	case mirror.OtherOffset:
		calls := f.Offset + " called, though the face runs in " + f.Face + ": it becomes " + f.Back
		if f.Own != nil {
			of := ""
			if f.Own.For != "" {
				of = " (taken: " + f.Own.For + ")"
			}
			calls = f.Offset + of + " called, though the job's face runs in " + f.Face + ": it becomes " + f.Back + "; check that it is the right program"
		}
		return calls + "; if the face runs there: --offset " + f.Offset
	case mirror.NoOffset:
		return "no work offset called or added: it runs in the active one"
	case mirror.OffsetsKept:
		return f.Offset + " unchanged: store the back's zero there before it runs"
	case mirror.OffsetMapped:
		return f.Face + " becomes " + f.Back
	case mirror.OffsetInserted:
		return "no work offset before the first motion: block with " + f.Back + " added"
	case mirror.OtherSide:
		if f.Chains == 1 {
			return "1 cutting chain changes between climb and conventional: --reverse-cuts tries to turn it round"
		}
		return strconv.FormatInt(f.Chains, 10) + " cutting chains change between climb and conventional: --reverse-cuts tries to turn them round"
	case mirror.CutsReversed:
		reversed, left := chains(f.Reversed), chains(int64(f.Left))
		switch {
		case f.Left == 0:
			return reversed + " reversed, so that the cutter keeps its side"
		case f.Reversed == 0:
			return "no cutting chain could be reversed: " + left + " changed between climb and conventional"
		}
		return reversed + " reversed, " + left + " changed between climb and conventional; check that no groove has passes of both"
	case mirror.OtherEnd:
		word := " open chains, reversed, now plunge at their other end"
		if f.Chains == 1 {
			word = " open chain, reversed, now plunges at its other end"
		}
		return strconv.FormatInt(f.Chains, 10) + word + "; use a tool that cuts over its center"
	case mirror.LeftAsMirrored:
		return "left as mirrored (" + f.Why + ")" + linesOf(f.Lines)
	}
	return ""
}

// linesOf names lines of a program, the first twenty.
func linesOf(lines []string) string {
	const most = 20
	more := ""
	if len(lines) > most {
		more = " and " + strconv.Itoa(len(lines)-most) + " more"
		lines = lines[:most]
	}
	word := ": lines "
	if len(lines) == 1 && !strings.ContainsAny(lines[0], "- ") {
		word = ": line "
	}
	return word + strings.Join(lines, ", ") + more
}

// atImage is what to do before a back that starts from the tool's place.
const atImage = "before the back, put the tool at the mirrored start"

// chains counts cutting chains in words.
func chains(n int64) string {
	if n == 1 {
		return "1 cutting chain"
	}
	return strconv.FormatInt(n, 10) + " cutting chains"
}
