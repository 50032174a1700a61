package registration

import (
	"fmt"
	"strings"

	"flipcalc/mirror/transform"
)

// unknown says that a word isn't one of the words expected.
func unknown(s, expected string) error {
	return &Error{Found: fmt.Sprintf("%q", short(s)), Expected: expected}
}

func word(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// ParseUnit reads mm or in.
func ParseUnit(s string) (transform.Unit, error) {
	switch word(s) {
	case "mm":
		return transform.MM, nil
	case "in":
		return transform.Inch, nil
	}
	return transform.MM, unknown(s, "mm or in")
}

// String gives the flag's value, "x" or "y", or "" if unset.
func (f Flip) String() string { return [...]string{"", "x", "y"}[f%3] }

// flipHint says what the two flips are.
const flipHint = "y turns the blank over like a page, left edge to the right; x turns the near edge to the far side"

// ParseFlip reads x or y.
func ParseFlip(s string) (Flip, error) {
	switch word(s) {
	case "x":
		return FlipX, nil
	case "y":
		return FlipY, nil
	}
	e := unknown(s, "x or y").(*Error)
	e.Hint = flipHint
	return FlipUnset, e
}

// Other gives the other flip.
func (f Flip) Other() Flip {
	switch f {
	case FlipX:
		return FlipY
	case FlipY:
		return FlipX
	}
	return FlipUnset
}

// String gives near, far, left, right, or "" if unset.
func (s Side) String() string { return [...]string{"", "near", "far", "left", "right"}[s%5] }

// ParseSide reads near, far, left or right.
func ParseSide(s string) (Side, error) {
	w := word(s)
	for _, side := range []Side{Near, Far, Left, Right} {
		if w == side.String() {
			return side, nil
		}
	}
	return NoSide, unknown(s, "near, far, left or right")
}

// ParseContact reads SIDE or SIDE@COORDINATE, for example right@190.
func ParseContact(s string, u transform.Unit) (Contact, error) {
	name, coord, at := strings.Cut(s, "@")
	side, err := ParseSide(name)
	if err != nil {
		err.(*Error).Expected += ", as SIDE or SIDE@COORDINATE"
		return Contact{}, err
	}
	c := Contact{Side: side}
	if at {
		d, err := ParseLength(coord, u)
		if err != nil {
			return Contact{}, err
		}
		c.Coord = &d
	}
	return c, nil
}

// String writes what ParseContact reads.
func (c Contact) String() string {
	if c.Coord == nil {
		return c.Side.String()
	}
	return c.Side.String() + "@" + c.Coord.String()
}

// String gives top, bed, or "" if unset.
func (z ZZero) String() string { return [...]string{"", "top", "bed"}[z%3] }

// ParseZZero reads top or bed.
func ParseZZero(s string) (ZZero, error) {
	switch word(s) {
	case "top":
		return Top, nil
	case "bed":
		return Bed, nil
	}
	return ZZeroUnset, unknown(s, "top or bed")
}

// String gives the flag's value, or "none".
func (r Register) String() string {
	return [...]string{"none", "dowels", "plug", "fence", "touched"}[r%5]
}

// ParseRegister reads dowels, plug, fence or touched.
func ParseRegister(s string) (Register, error) {
	w := word(s)
	for _, r := range []Register{Dowels, Plug, FenceStop, Touched} {
		if w == r.String() {
			return r, nil
		}
	}
	return NoRegister, unknown(s, "dowels, plug, fence or touched")
}

// String gives each or once.
func (t TouchOff) String() string { return [...]string{"each", "once"}[t%2] }

// ParseTouchOff reads each or once.
func ParseTouchOff(s string) (TouchOff, error) {
	switch word(s) {
	case "each":
		return TouchOffEach, nil
	case "once":
		return TouchOffOnce, nil
	}
	return TouchOffEach, unknown(s, "each or once")
}

// ParseDrilled reads face, the only set-up in which blank and bed are drilled
// together.
func ParseDrilled(s string) (bool, error) {
	if word(s) == "face" {
		return true, nil
	}
	return false, unknown(s, "face")
}

// zeroForm is how a zero is written.
const zeroForm = "near-left, near-right, far-left, far-right, center or X,Y"

// zeroName is a named place, with its X and Y in halves of W and H.
type zeroName struct {
	name string
	x, y int64
}

var zeroNames = []zeroName{
	{"near-left", 0, 0},
	{"near-right", 2, 0},
	{"far-left", 0, 2},
	{"far-right", 2, 2},
	{"center", 1, 1},
}

// ParseZero reads one of the named places or X,Y in the as-laid frame.
func ParseZero(s string, u transform.Unit) (Zero, error) {
	w := word(s)
	if w == "centre" {
		w = "center"
	}
	for _, z := range zeroNames {
		if w == z.name {
			return Zero{Name: w}, nil
		}
	}
	if !strings.Contains(w, ",") {
		return Zero{}, unknown(s, zeroForm)
	}
	p, err := ParsePoint(w, u)
	if err != nil {
		err.(*Error).Expected = zeroForm
		return Zero{}, err
	}
	return Zero{At: &p}, nil
}

// given reports whether z says a place.
func (z Zero) given() bool { return z.Name != "" || z.At != nil }

// String writes what ParseZero reads, or "" if unset.
func (z Zero) String() string {
	if z.At != nil {
		return z.At.String()
	}
	return z.Name
}

// ParseClock reads pin=X,Y or pin=X,Y,DIA, flat=SIDE, fence or none. A flat without its
// side is read and asked for later.
func ParseClock(s string, u transform.Unit) (Clocking, error) {
	w := word(s)
	switch w {
	case ClockFlat, ClockFence, ClockNone:
		return Clocking{Kind: w}, nil
	}
	if side, ok := strings.CutPrefix(w, "flat="); ok {
		s, err := ParseSide(side)
		return Clocking{Kind: ClockFlat, Side: s}, err
	}
	if place, ok := strings.CutPrefix(w, "pin="); ok {
		p, err := parsePin(place, u, 2, "pin=X,Y or pin=X,Y,DIA")
		if err != nil {
			return Clocking{}, err
		}
		return Clocking{Kind: ClockPin, Pin: p.At, Dia: p.Dia}, nil
	}
	return Clocking{}, unknown(s, "pin=X,Y, flat=SIDE, fence or none")
}

// String writes what ParseClock reads.
func (c Clocking) String() string {
	switch {
	case c.Kind == ClockFlat && c.Side != NoSide:
		return c.Kind + "=" + c.Side.String()
	case c.Kind != ClockPin:
		return c.Kind
	}
	return "pin=" + Pin{At: c.Pin, Dia: c.Dia}.String()
}

// String writes X,Y.
func (p Point) String() string { return p.X.String() + "," + p.Y.String() }

// String writes X,Y or X,Y,DIA.
func (p Pin) String() string {
	if p.Dia.IsZero() {
		return p.At.String()
	}
	return p.At.String() + "," + p.Dia.String()
}

// String writes X,Y or X,Y,Z.
func (p Position) String() string {
	s := Point{p.X, p.Y}.String()
	if p.Z != nil {
		s += "," + p.Z.String()
	}
	return s
}

// String writes WxHxT.
func (b Blank) String() string {
	return b.W.String() + "x" + b.H.String() + "x" + b.T.String()
}
