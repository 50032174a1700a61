// Package offsets writes the program that stores work offsets, and the blocks by
// which each of them is checked.
package offsets

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// Setting is what one work offset shall hold, in machine coordinates.
type Setting struct {
	Offset string // "G54" ... "G59", "G59.1" ... "G59.3"
	X, Y   decimal.Decimal
	Z      *decimal.Decimal // nil is left as it is, to be touched off
}

// Options says how the program is written.
type Options struct {
	Unit     transform.Unit
	Extended bool     // the control has G59.1 to G59.3
	Taken    []string // offsets that must not be written
	Comment  string   // the one comment line; "" is none
}

// commentLimit is the greatest length of a comment line, parentheses included.
const commentLimit = 256

// names are the offsets by P number, P1 first (NISTIR 6556, 3.5.5).
var names = []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}

// Program writes a G10 L2 line for each setting, absolute (G90) and in a stated
// unit (G20 or G21): G10 takes lengths in the active unit, and under G91 some
// controls add instead of storing. Only axes with a value are named, since G10
// leaves the others as they are (NISTIR 6556, 3.5.5). Every number has a decimal
// point: controls read X5 and X5. differently. A *fault.Error refuses an offset
// that is taken, named twice or not there.
func Program(settings []Setting, o Options) ([]byte, error) {
	if len(settings) == 0 {
		return nil, &fault.Error{Found: "no offsets to set", Expected: "at least one"}
	}
	var out bytes.Buffer
	if o.Comment != "" {
		c, err := comment(o.Comment)
		if err != nil {
			return nil, err
		}
		out.WriteString(c + "\n")
	}
	out.WriteString("G90\n" + unitCode(o.Unit) + "\n")
	seen := map[string]bool{}
	for _, s := range settings {
		p := slices.Index(names, s.Offset) + 1
		switch {
		case p == 0 || p > 6 && !o.Extended:
			return nil, &fault.Error{Found: fmt.Sprintf("offset %q", s.Offset), Expected: "an offset that the control has, " + strings.Join(names[:6+3*b2i(o.Extended)], ", ")}
		case slices.Contains(o.Taken, s.Offset):
			return nil, &fault.Error{Found: s.Offset + ", which belongs to something else", Expected: "a free offset"}
		case seen[s.Offset]:
			return nil, &fault.Error{Found: s.Offset + " a second time", Expected: "each offset once"}
		}
		seen[s.Offset] = true
		out.WriteString(s.Line(o.Unit) + "\n")
	}
	out.WriteString("M2\n")
	return out.Bytes(), nil
}

// Line gives the block that stores a setting, to be run under G90 and the code of the
// unit; "" for an offset that isn't one.
func (s Setting) Line(unit transform.Unit) string {
	p := slices.Index(names, s.Offset) + 1
	if p == 0 {
		return ""
	}
	line := fmt.Sprintf("G10 L2 P%d X%s Y%s", p, number(s.X, unit), number(s.Y, unit))
	if s.Z != nil {
		line += " Z" + number(*s.Z, unit)
	}
	return line
}

// Check gives the blocks that bring the tool over an offset's X0 Y0, for the
// maker to look whether it points at the right place: up to the machine's clear
// height first, or, where that isn't known, at whatever height the tool is when
// the maker starts it.
func Check(offset string, unit transform.Unit, clearZ *decimal.Decimal) []string {
	lines := []string{"G90 " + unitCode(unit)}
	if clearZ != nil {
		lines = append(lines, "G53 G0 Z"+number(*clearZ, unit))
	}
	return append(lines, offset, "G0 X0. Y0.")
}

// comment puts text into parentheses.
func comment(text string) (string, error) {
	if i := strings.IndexFunc(text, func(r rune) bool { return r == '(' || r == ')' || r < ' ' || r > '~' }); i >= 0 {
		return "", &fault.Error{Found: fmt.Sprintf("a comment with %q", []rune(text[i:])[0]), Expected: "plain characters without parentheses"}
	}
	if len(text)+2 > commentLimit {
		return "", &fault.Error{Found: fmt.Sprintf("a comment of %d characters", len(text)), Expected: fmt.Sprintf("at most %d", commentLimit-2)}
	}
	return "(" + text + ")", nil
}

// number writes a length with all its decimals, and at least three in mm and four
// in inches.
func number(v decimal.Decimal, u transform.Unit) string {
	least := int32(3)
	if u == transform.Inch {
		least = 4
	}
	s := v.StringFixed(max(least, -v.Exponent()))
	for head, tail, _ := strings.Cut(s, "."); len(tail) > int(least) && strings.HasSuffix(s, "0"); head, tail, _ = strings.Cut(s, ".") {
		s = head + "." + tail[:len(tail)-1]
	}
	return s
}

func unitCode(u transform.Unit) string {
	if u == transform.Inch {
		return "G20"
	}
	return "G21"
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
