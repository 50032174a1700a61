package ask

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// machineTable are the rows of what a machine file alone says, in the order of the manual page.
var machineTable = []Question{
	{Key: "name", Form: "text", Help: "what the machine is called", into: sets(plainText, func(m *Machine) *string { return &m.Name })},
	{Key: "units", Form: "mm or in", Help: "unit of all plain lengths of this file (default mm)", into: checks(ParseUnit)}, // read before all others
	{Key: "bed", Form: `"X,Y,WxH"`, Help: "what may be used of the bed; all of the travel by default", into: sets(ParseRect, func(m *Machine) **bed.Rect { return &m.Bed })},
	{Key: "table", Form: "length", Help: "the machine Z at which the bare spindle nose would meet the table", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Table })},
	{Key: "no-go", Form: `"X,Y,WxH[,HEIGHT]", or a list of these`, Help: "what stands on the bed and has no offset, such as a vice, and how high over the bed it reaches: nothing may enter it", into: takeAreas},
	{Key: "home", Form: "[X, Y]", Help: "where the machine rests; the least X and Y by default", into: setsOptional(registration.ParsePoint, func(m *Machine) **registration.Point { return &m.Home })},
	{Key: "park", Form: "[X, Y]", Help: "where the merged programs leave the tool while hands are at the stations, machine coordinates; needs g53", into: setsOptional(registration.ParsePoint, func(m *Machine) **registration.Point { return &m.Park })},
	{Key: "tool-change", Form: "[X, Y]", Help: "where the control changes tools, machine coordinates; where the cutter stands by default", into: setsOptional(registration.ParsePoint, func(m *Machine) **registration.Point { return &m.Change })},
	{Key: "g10", Form: aSwitch, Help: "whether the control takes G10 L2, so that a program can set the offsets (default true)", into: turns(func(m *Machine) *bool { return &m.G10 })},
	{Key: "inert", Form: `"M25,M51"`, Help: "M codes that move no axis, so that programs with them can be mirrored", into: sets(inert, func(m *Machine) *[]int { return &m.Inert })},
	{Key: "lengths", Form: "whole", Help: "Z is stored in the offsets with the tool's whole length in use (G43 H), from the spindle nose to the tip; without it no Z is stored for programs that call lengths", into: takeLengths},
	{Key: "g53", Form: aSwitch, Help: "whether it takes moves in machine coordinates (default true)", into: turns(func(m *Machine) *bool { return &m.G53 })},
	{Key: "extended", Form: aSwitch, Help: "whether it has G59.1 to G59.3 (default false)", into: turns(func(m *Machine) *bool { return &m.Extended })},
	{Table: "travel", Key: "x", Form: aRange, Help: "machine coordinates of the ends of X; required", into: takeRange(func(m *Machine) *bed.Range { return &m.X })},
	{Table: "travel", Key: "y", Form: aRange, Help: "of Y; required", into: takeRange(func(m *Machine) *bed.Range { return &m.Y })},
	{Table: "travel", Key: "z", Form: aRange, Help: "of Z; required", into: takeRange(func(m *Machine) *bed.Range { return &m.Z })},
	{Table: "rapid", Key: "x", Form: "number", Help: "rapid rate of X, units a minute", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Rapid[0] })},
	{Table: "rapid", Key: "y", Form: "number", Help: "of Y", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Rapid[1] })},
	{Table: "rapid", Key: "z", Form: "number", Help: "of Z", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Rapid[2] })},
	{Table: "acceleration", Key: "x", Form: "number", Help: "acceleration of X, units a second squared", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Acceleration[0] })},
	{Table: "acceleration", Key: "y", Form: "number", Help: "of Y", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Acceleration[1] })},
	{Table: "acceleration", Key: "z", Form: "number", Help: "of Z", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.Acceleration[2] })},
	{Table: "offset", Key: "name", Form: "G54 to G59.3", Help: "the offset that is taken", into: takeOffset},
	{Table: "offset", Key: "for", Form: "text", Help: "what stands there", into: sets(plainText, func(m *Machine) *string { return &m.own().For })},
	{Table: "offset", Key: "job", Form: "text", Help: "the job whose own station it is; stations prints such entries", into: sets(plainText, func(m *Machine) *string { return &m.own().Job })},
	{Table: "offset", Key: "zero", Form: "[X, Y] or [X, Y, Z]", Help: "what is stored in it, machine coordinates", into: takeZero},
	{Table: "offset", Key: "rectangle", Form: `"X,Y,WxH"`, Help: "the part of the bed that it occupies", into: sets(ParseRect, func(m *Machine) **bed.Rect { return &m.own().Rect })},
	{Table: "offset", Key: "tool", Form: "whole number", Help: "the tool that Z was touched off with", into: setsOptional(toolNumber, func(m *Machine) **int { return &m.own().Tool })},
	{Table: "offset", Key: "stick-out", Form: "length", Help: "that tool's stick-out, from the spindle nose to the tip", into: setsOptional(registration.ParseLength, func(m *Machine) **decimal.Decimal { return &m.own().StickOut })},
}

// How the values of several rows are written.
const (
	aSwitch = "true or false"
	aRange  = "[least, greatest]"
)

// machineKeys names the keys of a table of the machine file; none where there is no such table.
func machineKeys(table string) (names []string) {
	for _, d := range machineTable {
		if d.Table == table {
			names = append(names, d.Key)
		}
	}
	return names
}

// sets makes a row's reader of a parser and the place of its value.
func sets[T any](parse func(string, transform.Unit) (T, error), at func(*Machine) *T) func(*Machine, Entry) error {
	return func(m *Machine, e Entry) (err error) {
		*at(m), err = parse(e.text(), m.Unit)
		return err
	}
}

// setsOptional is sets for a value that is nil where it isn't given.
func setsOptional[T any](parse func(string, transform.Unit) (T, error), at func(*Machine) **T) func(*Machine, Entry) error {
	return sets(func(s string, u transform.Unit) (*T, error) {
		v, err := parse(s, u)
		return &v, err
	}, at)
}

// checks makes a row's reader of a parser whose value was taken before.
func checks[T any](parse func(string) (T, error)) func(*Machine, Entry) error {
	return func(_ *Machine, e Entry) error {
		_, err := parse(e.text())
		return err
	}
}

// turns makes a row's reader of a switch.
func turns(at func(*Machine) *bool) func(*Machine, Entry) error {
	return func(m *Machine, e Entry) error {
		if e.Kind != "switch" || e.List {
			return &registration.Error{Found: e.text(), Expected: aSwitch}
		}
		*at(m) = e.text() == "true"
		return nil
	}
}

func plainText(s string, _ transform.Unit) (string, error) { return s, nil }

func inert(s string, _ transform.Unit) ([]int, error) { return ParseInert(s) }

func toolNumber(s string, _ transform.Unit) (int, error) {
	return whole(s, math.MinInt, "a tool number")
}

func takeAreas(m *Machine, e Entry) error {
	for _, s := range e.Values {
		a, err := ParseArea(s, m.Unit)
		if err != nil {
			return err
		}
		m.Areas = append(m.Areas, a)
	}
	return nil
}

func takeLengths(m *Machine, e Entry) error {
	m.Whole = true
	_, err := OneOf("whole")(e.text())
	return err
}

func takeRange(at func(*Machine) *bed.Range) func(*Machine, Entry) error {
	return func(m *Machine, e Entry) error {
		if len(e.Values) != 2 {
			return &registration.Error{Found: fmt.Sprintf("%d values", len(e.Values)), Expected: aRange + " in machine coordinates"}
		}
		ends, err := registration.ParsePoint(e.text(), m.Unit)
		*at(m) = bed.Range{Least: ends.X, Greatest: ends.Y}
		return err
	}
}

func takeOffset(m *Machine, e Entry) error {
	m.own().Offset = strings.ToUpper(e.text())
	return nil
}

func takeZero(m *Machine, e Entry) error {
	p, err := registration.ParsePosition(e.text(), m.Unit)
	u := m.own()
	u.X, u.Y, u.Z = &p.X, &p.Y, p.Z
	return err
}
