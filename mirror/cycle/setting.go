package cycle

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
	"flipcalc/mirror/transform"
)

// The program that stores work offsets, and the blocks by which each of them is checked.

// Setting is what one work offset shall hold, in machine coordinates.
type Setting struct {
	Offset string // "G54" ... "G59", "G59.1" ... "G59.3"
	X, Y   decimal.Decimal
	Z      *decimal.Decimal // nil is left as it is, to be touched off
}

// SettingOptions says how the program is written.
type SettingOptions struct {
	Unit     transform.Unit
	Extended bool     // the control has G59.1 to G59.3
	Taken    []string // offsets that must not be written
	Comment  string   // the one comment line; "" is none
}

// StoreOffsets writes a G10 L2 line for each setting, absolute (G90) and in a stated
// unit (G20 or G21): G10 takes lengths in the active unit, and under G91 some
// controls add instead of storing. Only axes with a value are named, since G10
// leaves the others as they are (NISTIR 6556, 3.5.5). Every number has a decimal
// point: controls read X5 and X5. differently. What is written is proved. A *fault.Error refuses an offset
// that is taken, named twice or not there.
func StoreOffsets(settings []Setting, o SettingOptions) ([]byte, error) {
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
	out.WriteString("G90\n" + o.Unit.Code() + "\n")
	seen := map[string]bool{}
	for _, s := range settings {
		p := transform.OffsetNumber(s.Offset)
		switch {
		case p == 0 || p > 6 && !o.Extended:
			return nil, &fault.Error{Found: fmt.Sprintf("offset %q", s.Offset), Expected: "an offset that the control has, " + strings.Join(transform.OffsetNames(o.Extended), ", ")}
		case slices.Contains(o.Taken, s.Offset):
			return nil, &fault.Error{Found: s.Offset + ", which belongs to something else", Expected: "a free offset"}
		case seen[s.Offset]:
			return nil, &fault.Error{Found: s.Offset + " a second time", Expected: "each offset once"}
		}
		seen[s.Offset] = true
		out.WriteString(s.Line(o.Unit) + "\n")
	}
	out.WriteString("M2\n")
	if err := proveSettings(out.Bytes(), settings, o.Unit); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// proveSettings says whether a text stores just the settings, read by a control that
// stands in the other unit.
func proveSettings(text []byte, settings []Setting, unit transform.Unit) error {
	var moves []proof.Wanted
	for _, s := range settings {
		w := proof.Wanted{Kind: motion.Store, Machine: true, Unit: unit, Stored: transform.OffsetCode(s.Offset),
			To: motion.Point{motion.FromDecimal(s.X), motion.FromDecimal(s.Y)}, Named: [3]bool{true, true, s.Z != nil}}
		if s.Z != nil {
			w.To[2] = motion.FromDecimal(*s.Z)
		}
		moves = append(moves, w)
	}
	_, err := proof.Matches(text, proof.Program{Read: motion.Options{Name: "the offsets program", Unit: 1 - unit, Stores: true}, Legs: []proof.Leg{{Moves: moves}}})
	return err
}

// Line gives the block that stores a setting, to be run under G90 and the code of the
// unit; "" for an offset that isn't one.
func (s Setting) Line(unit transform.Unit) string {
	p := transform.OffsetNumber(s.Offset)
	if p == 0 {
		return ""
	}
	line := fmt.Sprintf("G10 L2 P%d X%s Y%s", p, length(s.X, unit), length(s.Y, unit))
	if s.Z != nil {
		line += " Z" + length(*s.Z, unit)
	}
	return line
}

// OverZero gives the blocks that bring the tool over an offset's X0 Y0, for the
// maker to look whether it points at the right place: up to the machine's clear
// height first, or, where that isn't known, at whatever height the tool is when
// the maker starts it.
func OverZero(offset string, unit transform.Unit, clearZ *decimal.Decimal) []string {
	lines := []string{"G90 " + unit.Code()}
	if clearZ != nil {
		lines = append(lines, "G53 G0 Z"+length(*clearZ, unit))
	}
	return append(lines, offset, "G0 X0. Y0.")
}

// length writes a length with all its decimals, and at least three in mm and four
// in inches.
func length(v decimal.Decimal, u transform.Unit) string {
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
