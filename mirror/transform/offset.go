package transform

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// offsetNames are the stored work offsets in the order of their P numbers in G10 L2
// (NISTIR 6556, 3.5.5 and 3.5.13): six that every control has, then three.
var offsetNames = []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}

// OffsetNames lists the stored work offsets, P1 first, with G59.1 to G59.3 where the
// control is extended.
func OffsetNames(extended bool) []string {
	if extended {
		return slices.Clone(offsetNames)
	}
	return slices.Clone(offsetNames[:6])
}

// OffsetNumber gives the P number of an offset, 1 for G54 to 9 for G59.3, or 0.
func OffsetNumber(name string) int { return slices.Index(offsetNames, name) + 1 }

// OffsetCode gives ten times the G number of an offset, 540 for G54 to 593 for G59.3,
// or 0 for another name.
func OffsetCode(name string) int {
	if OffsetNumber(name) == 0 {
		return 0
	}
	whole, part, _ := strings.Cut(name[1:], ".")
	g, _ := strconv.Atoi(whole) // digits, since it is one of the names
	tenth, _ := strconv.Atoi(part)
	return 10*g + tenth
}

// MoreOffsets plus its P is the code of the work offset G54.1 P, on some controls written
// G54 P (common practice, not in NISTIR 6556).
const MoreOffsets = 541_000

// MostOffsets is the greatest P of G54.1: controls have 48 to 500 (common practice).
const MostOffsets = 999

// ReadOffset gives the code of an offset as a maker or a program may write it, such as
// "g59.1", "G54.1 P2" or "G54 P2"; 0 for another text.
func ReadOffset(s string) int {
	head, p, more := strings.Cut(strings.ToUpper(strings.TrimSpace(s)), "P")
	head = strings.TrimSpace(head)
	if !more {
		return OffsetCode(head)
	}
	n, err := strconv.Atoi(strings.TrimSpace(p))
	if err != nil || n < 1 || n > MostOffsets || head != "G54" && head != "G54.1" {
		return 0
	}
	return MoreOffsets + n
}

// OffsetName writes an offset's code as a program calls it, such as "G59.1" or
// "G54.1 P2".
func OffsetName(code int) string {
	switch {
	case code > MoreOffsets:
		return fmt.Sprintf("G54.1 P%d", code-MoreOffsets)
	case code%10 != 0:
		return fmt.Sprintf("G%d.%d", code/10, code%10)
	}
	return fmt.Sprintf("G%d", code/10)
}
