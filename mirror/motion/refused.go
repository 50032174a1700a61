package motion

import (
	"fmt"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// What is said of G and M words that aren't followed: what each is, and what the maker can
// do. Whoever reads programs decides by itself which it follows; the words are the same.

// advice is what one code is, and what to do.
type advice struct{ what, hint string }

const (
	outOfProgram = "take the control's own mirror out of the program"
	onlyXYZ      = "only X, Y and Z can be mirrored"
	noLathe      = "a lathe program can't be flipped"
	plainMoves   = "write what it does as plain moves"
	probeApart   = "probe in a program of its own"
)

// refused has the G words, their numbers times ten.
var refused = map[int]advice{
	52:   {"a spline block", "write the curve as lines and arcs"},
	53:   {"a spline block", "write the curve as lines and arcs"},
	70:   {"diameter programming, a turning code", noLathe},
	80:   {"radius programming, a turning code", noLathe},
	71:   {"cylindrical interpolation", plainMoves},
	100:  {"writes offsets or tool data", "set offsets at the control or in a program of their own"},
	110:  {"writes data", "set the data at the control"},
	160:  {"polar coordinates", fault.MovesOut},
	310:  {"a probing move", probeApart},
	320:  {"thread cutting, a turning code", noLathe},
	330:  {"thread cutting, a turning code", noLathe},
	381:  {"a probing move on some controls, scaling on others", plainMoves},
	382:  {"a probing move", probeApart},
	383:  {"a probing move", probeApart},
	384:  {"a probing move", probeApart},
	385:  {"a probing move", probeApart},
	431:  {"a tool length written in the program", "use G43 with H"},
	470:  {"a text engraving cycle", "text must read: don't mirror it, or " + plainMoves},
	500:  {"scaling off, or the speed limit of a lathe", "on a mill write G50 in a block of its own; " + noLathe},
	501:  {"ends a mirror in the control, of the axes beside it", "write G50.1 in a block of its own"},
	510:  {"scaling", fault.MovesOut},
	511:  {"a mirror in the control", outOfProgram},
	650:  {"a macro call", fault.MovesOut},
	660:  {"a modal macro call", fault.MovesOut},
	700:  {"inches on older controls, a cycle on others", "give ‹units in›, or write G20"},
	710:  {"millimetres on older controls, a cycle on others", "give ‹units mm›, or write G21"},
	720:  {"a cycle or a turning code", plainMoves},
	740:  {"left-hand tapping", plainMoves},
	760:  {"fine boring, whose tool must stop at an angle", plainMoves},
	960:  {"constant surface speed, a turning code", "where this mills write G97 and S; " + noLathe},
	1000: {"ends a mirror in the control", outOfProgram},
	1010: {"a mirror in the control", outOfProgram},
}

// refusedM has the M words.
var refusedM = map[int]advice{
	170: {"the end of a subprogram on some controls", "write M99"},
	210: {"a mirror in the control", outOfProgram},
	220: {"a mirror in the control", outOfProgram},
	230: {"ends a mirror in the control", outOfProgram},
	960: {"a jump or a call", "write the blocks out in the order in which they run"},
	970: {"a call inside the program", fault.MovesOut},
}

// letters are the words that aren't followed whatever their number.
var letters = map[byte]advice{
	'E': {"a word that milling controls read differently", "take it out"},
	'O': {"a program number in the middle of a program", "keep one program in a file"},
	'U': {"a second X axis, or X by increments on a lathe", onlyXYZ},
	'V': {"a second Y axis", onlyXYZ},
	'W': {"a second Z axis, or Z by increments on a lathe", onlyXYZ},
}

// DescribeWord says the same of a word of E, O, U, V or W, given as it is written.
func DescribeWord(letter byte, text string) (found, hint string) {
	a := letters[letter]
	return fmt.Sprintf("%s (%s)", text, a.what), a.hint
}

// Describe says of a G or M word that isn't followed what it is, such as "G16 (polar
// coordinates)", and what the maker can do. code is its number times ten, below 0 where it
// is none.
func Describe(letter byte, code int) (found, hint string) {
	table, whole := refused, "take it out, or "+plainMoves
	if letter == 'M' {
		table, whole = refusedM, fmt.Sprintf("take it out, or give ‹inert %s› where it moves no axis", CodeName(letter, code))
	}
	name := CodeName(letter, code)
	switch a, ok := table[code]; {
	case code < 0:
		return fmt.Sprintf("%c without a code's number", letter), fmt.Sprintf("write a plain number such as %c1", letter)
	case ok:
		return fmt.Sprintf("%s (%s)", name, a.what), a.hint
	}
	return name + ", which isn't followed", whole
}

// CodeName writes a code with its letter, such as "G59.1" or "G54.1 P2".
func CodeName(letter byte, code int) string {
	if letter == 'G' {
		return transform.OffsetName(code)
	}
	return fmt.Sprintf("%c%s", letter, transform.OffsetName(code)[1:])
}
