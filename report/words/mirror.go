package words

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report/letters"
)

// values are what a fact or a note carries with its code.
type values []string

// at gives value i, counted from 0, or "?" so that a gap is seen.
func (v values) at(i int) string {
	if i < len(v) {
		return v[i]
	}
	return "?"
}

// from gives value i and those after it, or nothing.
func (v values) from(i int) []string {
	if i >= len(v) {
		return nil
	}
	return v[i:]
}

// A sentence finds the words for one code; u is the unit of its lengths.
type sentence func(v values, u string) string

// fixed is a sentence without values.
func fixed(s string) sentence { return func(values, string) string { return s } }

// frameOf turns a frame value into words.
func frameOf(s string) string {
	if s == "machine" {
		return "machine coordinates"
	}
	return "from the face zero"
}

// pressedOn says what an interference does to a blank that has to come off again.
const pressedOn = "below 0 is interference: the blank needs pressing on, and can bow"

// SideAxis is the axis along which a locator on that side places the blank.
func SideAxis(side string) string {
	if side == registration.Left.String() || side == registration.Right.String() {
		return "X"
	}
	return "Y"
}

// Cure says how a pin pattern is made foolproof.
func Cure(code string) string {
	code, pin := registration.ParseCure(code)
	switch code {
	case registration.CureDiameters:
		return "make dowel " + pin + " and its hole another diameter"
	case registration.CureThirdPin:
		if pin != "" {
			return "add a dowel as thick as the first at " + pin + " from near-left, face up"
		}
		return "add a dowel on the flip line, clear of the cuts (verb pins places it)"
	case registration.CureNone:
		return "choose other places, or a fence and stop"
	case registration.CureFlat:
		return "put the flat across the flip line"
	case registration.CureClockPin:
		return "put the index pin on the flip line through the bore"
	}
	return strings.ReplaceAll(code, "-", " ")
}

// noteSentences are for the notes of a mirrored program.
var noteSentences = map[string]sentence{
	mirror.AssumedUnit: func(v values, _ string) string {
		return "no G20 or G21 before the first length: " + v.at(0) + " assumed"
	},
	mirror.AssumedDistance: func(v values, _ string) string {
		return "no G90 or G91 before the first move: " + v.at(0) + " assumed"
	},
	mirror.AssumedPlane: func(v values, _ string) string {
		return "no G17, G18 or G19 before the first arc or cycle: " + v.at(0) + " assumed"
	},
	mirror.AssumedCentres: func(v values, _ string) string {
		return "no G90.1 or G91.1 before the first arc: " + v.at(0) + " assumed"
	},
	mirror.AssumedFeed: func(v values, _ string) string {
		return "no G93, G94 or G95 before the first feed move: " + v.at(0) + " assumed"
	},
	mirror.AssumedStraight: fixed("axis word without G0 or G1 in force: controls move straight, at rapid or feed"),
	mirror.WholeNumbers: func(v values, _ string) string {
		return "numbers without a point are read as whole " + v.at(0) + "; some controls read them in their least increment"
	},
	mirror.InchRounded: func(v values, _ string) string {
		return v.at(0) + ": " + v.at(2) + " mm rounded to " + v.at(1) + " in"
	},
	mirror.IncrementalStart: func(v values, _ string) string {
		return v.at(0) + " starts by G91 from where the tool stands; " + atImage
	},
	mirror.CutAtStart: func(v values, _ string) string {
		return "no " + v.at(0) + " before the first cut, which starts where the tool stands; give it in the program; or " + atImage
	},
	mirror.CycleKept: func(v values, _ string) string {
		return v.at(0) + " with L0 drills nothing there; controls differ on whether the tool goes there"
	},
	mirror.CycleLevel: func(v values, _ string) string {
		return v.at(0) + " has no R word: write it in; controls differ on the level they take"
	},
	mirror.CycleBare: func(v values, _ string) string {
		return v.at(0) + " has no axis words: nothing is drilled there"
	},
	mirror.StoppedTap:    fixed("G84 taps with the spindle stopped: write M3 before it"),
	mirror.MachineCounts: fixed("a G53 block under G91: some controls ignore G53 there"),
	mirror.MarkDropped:   fixed("byte-order mark at the start left out"),
	mirror.TextKept:      fixed("text outside parentheses, or with parentheses inside, kept as a comment"),
	mirror.PassedOn: func(v values, _ string) string {
		return v.at(0) + " unchanged, since it moves no axis: check what it does on the back"
	},
	mirror.LookAhead: func(v values, _ string) string {
		return v.at(0) + " unchanged: look-ahead only"
	},
	mirror.TextAfterEnd:    fixed("text behind the program's end unchanged: it moves nothing"),
	mirror.AlreadyMirrored: fixed("its comment says it was mirrored before: mirrored again it is the face's"),
	mirror.SpindleStopped: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "a cut with the spindle stopped: write M3 or M4 before it"
		}
		return v.at(0) + " cuts with the spindle stopped, this the first: write M3 or M4 before it"
	},
	mirror.LowRapids: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "a rapid move below the surface: check that it is cut away there"
		}
		return v.at(0) + " rapid moves below the surface, first here: check that it is cut away"
	},
	mirror.NotSummarised: func(v values, _ string) string {
		return "over " + v.at(0) + " MiB: mirrored and proved, but its reach and time aren't known"
	},
	mirror.OtherOffset: func(v values, _ string) string {
		if len(v) > 3 { // the face's own program: whose the offset is, where that is known
			of := ""
			if v.at(3) != "" {
				of = " (taken: " + v.at(3) + ")"
			}
			return v.at(0) + of + " called, though the job's face runs in " + v.at(1) + ": it becomes " + v.at(2) + "; check that it is the right program; if the face runs there: --offset " + v.at(0)
		}
		return v.at(0) + " called, though the face runs in " + v.at(1) + ": it becomes " + v.at(2) + "; if the face runs there: --offset " + v.at(0)
	},
	mirror.ZeroHere: func(v values, _ string) string {
		return "G92 calls the tool's place " + v.at(0) + v.at(1) + " on the face, " + v.at(0) + v.at(2) + " (" + v.at(3) + ") on the back; " + atImage
	},
	mirror.ZeroLeft: func(v values, _ string) string {
		what := "G92 or G52"
		if len(v) > 0 {
			what = v.at(0)
		}
		if what == "G68" {
			return "G68 isn't ended by G69: the next program would run turned"
		}
		return what + " isn't cancelled: the next program would run from a shifted zero"
	},
	mirror.Machine: func(v values, _ string) string {
		return "G53 move (" + letters.List(v) + ") unchanged: check its way at the back's station"
	},
	mirror.Home: func(v values, _ string) string {
		return v.at(0) + " goes home: only the point on the way is mirrored"
	},
	mirror.Rotary: func(v values, _ string) string {
		text := "rotary axis " + v.at(0) + " unchanged: a turned blank may need it the other way round"
		if v.at(0) == "A" {
			text += "; if A beside G1 is a line's angle, write the end point instead"
		}
		return text
	},
	mirror.Helix: fixed("helix mirrored: a milled thread changes hand"),
	mirror.ArcMismatch: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "an arc's radius differs by " + v.at(1) + " mm at its end: some controls refuse it"
		}
		return "radius of " + v.at(0) + " arcs differs by up to " + v.at(1) + " mm at the end: some controls refuse them"
	},
	mirror.BackBoring: fixed("G87: the spindle's stop angle isn't mirrored; check that the tool comes free"),
	mirror.NoOffset:   fixed("no work offset called or added: it runs in the active one"),
	mirror.OffsetsKept: func(v values, _ string) string {
		return letters.List(v) + " unchanged: store the back's zero there before it runs"
	},
	mirror.OffsetMapped: func(v values, _ string) string { return v.at(0) + " becomes " + v.at(1) },
	mirror.OffsetInserted: func(v values, _ string) string {
		return "no work offset before the first motion: block with " + v.at(0) + " added"
	},
	mirror.DeletedState: fixed("a block with a slash changes later blocks: don't switch block delete during the run"),
	mirror.AfterChange: func(v values, _ string) string {
		return "write " + v.at(0) + " in G90 after M6; if the machine moves to change tools, the back goes wrong without it"
	},
	mirror.NoEnd: fixed("no M2, M30 or closing %: check that the program is whole"),
	mirror.OtherSide: func(v values, _ string) string {
		if v.at(0) == "1" {
			return "1 cutting chain changes between climb and conventional: --reverse-cuts tries to turn it round"
		}
		return v.at(0) + " cutting chains change between climb and conventional: --reverse-cuts tries to turn them round"
	},
	mirror.CutsReversed: func(v values, _ string) string {
		reversed, left := chains(v.at(0)), chains(v.at(1))
		switch {
		case v.at(1) == "0":
			return reversed + " reversed, so that the cutter keeps its side"
		case v.at(0) == "0":
			return "no cutting chain could be reversed: " + left + " changed between climb and conventional"
		}
		return reversed + " reversed, " + left + " changed between climb and conventional; check that no groove has passes of both"
	},
	mirror.WrittenTurned: func(v values, _ string) string {
		places, _ := strconv.Atoi(v.at(1))
		step := decimal.New(1, int32(-places)).String() + " " + v.at(2)
		return "turned by " + v.at(0) + "° about the back zero, move by move, rounded to " + step
	},
	mirror.OtherEnd: func(v values, _ string) string {
		word := " open chains, reversed, now plunge at their other end"
		if v.at(0) == "1" {
			word = " open chain, reversed, now plunges at its other end"
		}
		return v.at(0) + word + "; use a tool that cuts over its center"
	},
	mirror.LeftAsMirrored: func(v values, _ string) string {
		const shown = 20
		lines := v.from(1)
		more := ""
		if len(lines) > shown {
			more = " and " + strconv.Itoa(len(lines)-shown) + " more"
			lines = lines[:shown]
		}
		word := ": lines "
		if len(lines) == 1 && !strings.ContainsAny(lines[0], "- ") {
			word = ": line "
		}
		return "left as mirrored (" + v.at(0) + ")" + word + strings.Join(lines, ", ") + more
	},
	mirror.OffBlank: func(v values, _ string) string {
		return "cuts run off the blank: " + v.at(0) + v.at(1) + " to " + v.at(2) + ", blank " + v.at(3) + " to " + v.at(4) + " " + v.at(5) +
			"; check the zero, and that the program isn't mirrored already"
	},
}

// atImage is what to do before a back that starts from the tool's place.
const atImage = "before the back, put the tool at the mirrored start"

// lookFirst is what to look at before a great mismatch is corrected.
func lookFirst(flip string) string {
	return "before correcting, look for a chip under the blank; check that it was turned as flip " + flip + " and seated on the right edges; check unit and sign of DX and DY: the back's place minus the wanted one"
}

// chains counts cutting chains in words.
func chains(n string) string {
	if n == "1" {
		return "1 cutting chain"
	}
	return n + " cutting chains"
}

// causeWords says why a mismatch is no shift and turn.
func causeWords(cause, amount, u string) string {
	switch cause {
	case landed.CauseSizeX:
		return "the back's length along X is off by " + amount + " " + u
	case landed.CauseSizeY:
		return "the back's length along Y is off by " + amount + " " + u
	case landed.CauseSquare:
		return "an axis or the blank is out of square by " + amount + " " + u
	case landed.CauseStretch:
		return "the length between the places differs by " + amount + " " + u
	case landed.CauseScatter:
		return "the measurements disagree by " + amount + " " + u
	}
	return strings.ReplaceAll(cause, "-", " ")
}

var layUpReasons = map[string]string{
	registration.ReasonPlaces:    "holes not over dowels",
	registration.ReasonFlat:      "flats not together",
	registration.ReasonDiameters: "dowel sizes differ",
}
