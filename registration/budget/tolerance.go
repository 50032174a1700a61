package budget

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Kind says what a tolerance is measured in.
type Kind uint8

// The kinds of tolerance.
const (
	// Length is a length in the question's unit.
	Length Kind = iota
	// Slope is a length over a length, such as 0.1/300. Written without the
	// second it is over 300 mm, or over 12 in.
	Slope
)

// The names of the tolerances, as they are asked for.
const (
	Clearance     = "clearance"
	Hole          = "hole"
	Locator       = "locator"
	PinLine       = "pin-line"
	FenceLine     = "fence-line"
	Square        = "square"
	Seating       = "seating"
	Size          = "size"
	Corner        = "corner"
	Repeatability = "repeatability"
	Clocking      = "clocking"
	Thickness     = "thickness"
	TouchOff      = "touch-off"
	Touch         = registration.CauseTouch
	Feature       = registration.CauseFeature
	// Turn is a term of the budget but no tolerance: what a touched blank lies turned by
	// within what the touches can tell, and the program is not.
	Turn = registration.CauseTurn
	// Rounding is a term of the budget but no tolerance: that of a program whose moves were
	// written out.
	Rounding = "rounding"
	// Wood is a term of the budget but no tolerance: ‹wood› and ‹moisture› give it.
	Wood = "wood"
)

// Tolerance is one value that a maker can give as NAME=VALUE. All
// are limits: the true value lies within plus or minus the tolerance, or for a
// clearance and a seating between zero and it. The defaults are common practice
// for a router in a small shop.
type Tolerance struct {
	Name    string
	Kind    Kind
	Meaning string
	mm, in  string // default by unit
	better  [2]string
	when    string // what makes better the default: "measured" or "dowels"
}

var tolerances = []Tolerance{
	{Clearance, Length, "hole less dowel, or bore less plug, at its greatest", "0.05", "0.002", [2]string{}, ""},
	{Hole, Length, "a drilled hole's diameter against the hole given", "0.02", "0.001", [2]string{}, ""},
	{Locator, Length, "dowels, plug, fence or stop off their place", "0.05", "0.002",
		[2]string{"0.02", "0.001"}, "dowels"},
	{PinLine, Length, "one dowel off the line of the others", "0.02", "0.001", [2]string{}, ""},
	{FenceLine, Slope, "fence out of parallel with its axis", "0.05", "0.002", [2]string{}, ""},
	{Square, Slope, "Y axis out of square with X", "0.1", "0.004", [2]string{}, ""},
	{Seating, Length, "gap left at a fence or stop by a chip, a burr or a light push", "0.03", "0.001", [2]string{}, ""},
	{Size, Length, "length and width of the blank", "0.2", "0.008", [2]string{"0.05", "0.002"}, "measured"},
	{Corner, Slope, "edge of the blank out of square or out of parallel with another", "0.1", "0.004", [2]string{}, ""},
	{Repeatability, Length, "the machine coming back to a place", "0.02", "0.001", [2]string{}, ""},
	{Clocking, Length, "clearance of the index pin, flat or fence that clocks the blank", "0.1", "0.004", [2]string{}, ""},
	{Thickness, Length, "thickness of the blank", "0.2", "0.008", [2]string{"0.05", "0.002"}, "measured"},
	{TouchOff, Length, "a Z zero against the surface it was touched off on", "0.02", "0.001", [2]string{}, ""},
	{Touch, Length, "a touch of the turned blank: where the spindle stood, along X and along Y", "0.02", "0.001", [2]string{}, ""},
	{Feature, Length, "a touched edge off its line, or a hole made beforehand off its place", "0.05", "0.002", [2]string{}, ""},
}

// All lists the tolerances in the order of the budget.
func All() []Tolerance { return slices.Clone(tolerances) }

// Default gives the tolerance's default value, common practice for a question
// in its unit. Measured blanks and bored pins have closer ones.
func (t Tolerance) Default(q registration.Question) Value {
	s := t.mm
	if q.Unit == transform.Inch {
		s = t.in
	}
	if t.when == "measured" && q.Measured != nil || t.when == "dowels" && q.Register == registration.Dowels {
		s = t.better[0]
		if q.Unit == transform.Inch {
			s = t.better[1]
		}
	}
	v := Value{Amount: decimal.RequireFromString(s)}
	if t.Kind == Slope {
		v.Over = usualRun(q.Unit)
	}
	return v
}

// usualRun is the length over which slopes are stated: 300 mm or 12 in.
func usualRun(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.NewFromInt(12)
	}
	return decimal.NewFromInt(300)
}

// Value is a tolerance's value: a length, or with Over a length over a length.
type Value struct{ Amount, Over decimal.Decimal }

// String writes the value as it is read, for example "0.1/300".
func (v Value) String() string {
	if v.Over.IsZero() {
		return v.Amount.String()
	}
	return v.Amount.String() + "/" + v.Over.String()
}

// number gives the length, or the slope in radians.
func (v Value) number() float64 {
	a := v.Amount.InexactFloat64()
	if v.Over.IsZero() {
		return a
	}
	return a / v.Over.InexactFloat64()
}

// Tolerances are the values that the maker gave, by name.
type Tolerances map[string]Value

// Set reads one NAME=VALUE. length reads a length in the question's unit u; a
// slope may be written AMOUNT/OVER.
func (t Tolerances) Set(arg string, u transform.Unit, length func(string) (decimal.Decimal, error)) error {
	name, value, ok := strings.Cut(arg, "=")
	name = strings.TrimSpace(name)
	i := slices.IndexFunc(tolerances, func(d Tolerance) bool { return d.Name == name })
	switch {
	case !ok:
		return &registration.Error{About: "tolerance", Found: fmt.Sprintf("%q", arg),
			Expected: "NAME=VALUE, such as repeatability=0.02"}
	case i < 0:
		return &registration.Error{About: "tolerance", Found: fmt.Sprintf("name %q", name),
			Expected: "one of " + names()}
	}
	if _, twice := t[name]; twice {
		return &registration.Error{About: "tolerance", Found: name + " given twice", Expected: "each name once"}
	}
	var v Value
	var err error
	amount := strings.TrimSpace(value)
	if tolerances[i].Kind == Slope {
		v.Over = usualRun(u)
		if a, over, ok := strings.Cut(amount, "/"); ok {
			amount = strings.TrimSpace(a)
			if v.Over, err = length(strings.TrimSpace(over)); err != nil {
				return tolErr(name, over, err)
			}
			if !v.Over.IsPositive() {
				return &registration.Error{About: "tolerance " + name, Found: "over " + v.Over.String(),
					Expected: "a length over 0 behind the slash"}
			}
		}
	}
	if v.Amount, err = length(amount); err != nil {
		return tolErr(name, amount, err)
	}
	if v.Amount.IsNegative() {
		return &registration.Error{About: "tolerance " + name, Found: v.Amount.String(), Expected: "0 or more",
			Hint: "a tolerance is a limit to both sides; give it without a sign"}
	}
	t[name] = v
	return nil
}

func tolErr(name, value string, err error) error {
	return &registration.Error{About: "tolerance " + name, Found: fmt.Sprintf("%q (%v)", value, err),
		Expected: "a length"}
}

func names() string {
	var list []string
	for _, d := range tolerances {
		list = append(list, d.Name)
	}
	return strings.Join(list, ", ")
}

// From says where a value comes from.
type From string

// Where values come from.
const (
	Given    From = "given"
	Practice From = "common practice"
	FromFit  From = "fit"
	Sizes    From = "sizes" // hole and pin as given, and the hole's tolerance
	Handbook From = "Wood Handbook"
	Written  From = "moves written out"
)

// of gives the value of a tolerance for a question, and whether it is the
// maker's or common practice.
func (t Tolerances) of(name string, q registration.Question) (Value, From) {
	if v, ok := t[name]; ok {
		return v, Given
	}
	for _, d := range tolerances {
		if d.Name == name {
			return d.Default(q), Practice
		}
	}
	return Value{}, Practice
}
