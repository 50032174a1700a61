package cycle

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// A drilling program: pecks spelled out in plain G0 and G1, which every control runs, or
// G83 cycles. Coordinates are exact decimals in the program's unit, in the frame of the
// work offset in use, Z upwards. After a tool change the drill goes over its first hole
// before it comes down: at the clear height in machine coordinates where that is
// known, else at the height where the change left it. From there on it moves sideways
// at the safe height only, and it never goes below a hole's bottom. Spelled out, no
// rapid move goes below the clearance height: a drill goes back into its hole at
// the feed.

// Hole is one hole: its centre, and the Z of its bottom, which the drill's
// cutting end reaches and doesn't pass.
type Hole struct{ X, Y, Bottom decimal.Decimal }

// Pass is one tool with the holes that it drills, in the order given.
type Pass struct {
	// Tool is the T word's number. Line replaces the whole tool line, such as
	// "T1 M6" or "T1 M6 G43 H1"; "" writes T and M6, and "none" no tool line at all
	// for a machine whose tool is changed by hand, which serves the first pass only.
	Tool int
	Line string
	// Speed is the S word, turns a minute; Feed the F word, lengths a minute.
	Speed, Feed decimal.Decimal
	// Peck is the greatest depth cut before the drill comes up to clear chips.
	Peck  decimal.Decimal
	Holes []Hole
}

// Drilling is one drilling program.
type Drilling struct {
	Unit   transform.Unit
	Offset string // such as "G54"; "" selects none
	// Comment is the program's only comment line, without its parentheses: what it
	// is, from what, and the caution. "" writes none.
	Comment string
	// Surface is the Z at which the material begins, Clear the Z over it down to
	// which a rapid may come, and Safe the Z of moves from hole to hole.
	Surface, Clear, Safe decimal.Decimal
	// Up is the machine Z, written with G53, at which every tool passes over everything
	// on the bed: before and after each tool change and at the end. nil where it isn't
	// known or the control has no G53.
	Up *decimal.Decimal
	// Floor is the Z below which no hole may go.
	Floor  decimal.Decimal
	Passes []Pass
	Cycles bool // G83 instead of plain moves
}

// Write checks the program and writes it.
func Write(w io.Writer, p Drilling) error {
	if err := p.check(); err != nil {
		return err
	}
	o := &writer{w: bufio.NewWriter(w), decimals: 3}
	units := "G21"
	if p.Unit == transform.Inch {
		units, o.decimals = "G20", 4
	}
	if p.Comment != "" {
		o.line("(" + p.Comment + ")")
	}
	o.line(units + " G17 G90 G94 G40 G49 G80")
	if p.Offset != "" {
		o.line(p.Offset)
	}
	called := false // a tool length is
	for i, pass := range p.Passes {
		o.up(p)
		if i > 0 {
			o.line("M5")
		}
		// The length is called with Z, since some controls move as soon as they read it.
		line, length := pass.lines()
		switch {
		case length != "":
			called = true
		case called:
			length = "G49 "
		}
		if line != "" {
			o.line(line)
			o.up(p)
		}
		o.line("S" + pass.Speed.String() + " M3")
		o.over(pass.Holes[0])
		o.line("G0 " + length + "Z" + o.number(p.Safe))
		if p.Cycles {
			o.cycles(p, pass)
			continue
		}
		for k, h := range pass.Holes {
			if k > 0 {
				o.over(h)
			}
			o.pecks(p, pass, h)
		}
	}
	o.up(p)
	o.line("M5")
	o.line("M30")
	return o.w.Flush()
}

// lengthWords are the words of a tool line that call its length.
var lengthWords = regexp.MustCompile(` *G43 *H[0-9]{1,5}`)

// lines gives the block that calls the tool, "" for none, and the words that call its
// length, with a blank behind them.
func (pass *Pass) lines() (line, length string) {
	switch pass.Line {
	case "":
		return fmt.Sprintf("T%d M6", pass.Tool), ""
	case "none":
		return "", ""
	}
	length = strings.TrimSpace(lengthWords.FindString(pass.Line))
	if length != "" {
		length += " "
	}
	return strings.TrimSpace(lengthWords.ReplaceAllString(pass.Line, "")), length
}

type writer struct {
	w        *bufio.Writer
	decimals int32
}

func (o *writer) line(s string) { o.w.WriteString(s + "\n") } // Flush reports what went wrong

// up takes the drill to the clear height, where it is known.
func (o *writer) up(p Drilling) {
	if p.Up != nil {
		o.line("G53 G0 Z" + o.number(*p.Up))
	}
}

// over takes the drill over a hole.
func (o *writer) over(h Hole) { o.line("G0 X" + o.number(h.X) + " Y" + o.number(h.Y)) }

// number writes v exactly, with a point and at least the usual decimals, since
// some controls read X5 and X5.0 differently.
func (o *writer) number(v decimal.Decimal) string {
	return v.StringFixed(max(o.decimals, -v.Exponent()))
}

// feed writes an F value with its point.
func feed(v decimal.Decimal) string { return v.StringFixed(max(1, -v.Exponent())) }

// depths gives the Z of every peck, the last one the bottom itself.
func depths(surface, bottom, peck decimal.Decimal) []decimal.Decimal {
	var list []decimal.Decimal
	for z := surface.Sub(peck); z.GreaterThan(bottom); z = z.Sub(peck) {
		list = append(list, z)
	}
	return append(list, bottom)
}

func (o *writer) pecks(p Drilling, pass Pass, h Hole) {
	o.line("G0 Z" + o.number(p.Clear))
	for i, z := range depths(p.Surface, h.Bottom, pass.Peck) {
		if i > 0 {
			o.line("G0 Z" + o.number(p.Clear))
		}
		o.line("G1 Z" + o.number(z) + " F" + feed(pass.Feed))
	}
	o.line("G0 Z" + o.number(p.Safe))
}

func (o *writer) cycles(p Drilling, pass Pass) {
	for _, h := range pass.Holes {
		o.line(fmt.Sprintf("G98 G83 X%s Y%s Z%s R%s Q%s F%s", o.number(h.X), o.number(h.Y), o.number(h.Bottom),
			o.number(p.Clear), o.number(pass.Peck), feed(pass.Feed)))
	}
	o.line("G80")
	o.line("G0 Z" + o.number(p.Safe))
}

// mostPecks bounds a program: a peck so small that a hole takes more is a slip.
const mostPecks = 1000

var (
	toolLine = regexp.MustCompile(`^ *T[0-9]{1,5}( *M0?6)?( *G43 *H[0-9]{1,5})?( *M0?6)? *$`)
)

// CheckToolLine says whether a tool line is one that a program may have: "", "none", or
// T and M6 with or without G43 H. The error is a *fault.Error.
func CheckToolLine(line string) error {
	if line == "" || line == "none" || toolLine.MatchString(line) {
		return nil
	}
	return &fault.Error{Found: fmt.Sprintf("tool line %q", line),
		Expected: "T and a number, M6, and G43 H and a number where lengths are stored, such as T1 M6"}
}

func (p Drilling) check() error {
	bad := func(found, expected string, args ...any) error {
		return &fault.Error{Found: fmt.Sprintf(found, args...), Expected: expected}
	}
	_, commentError := comment(p.Comment)
	switch {
	case p.Offset != "" && transform.OffsetCode(p.Offset) == 0:
		return bad("work offset %q", "G54 to G59, or G59.1 to G59.3", p.Offset)
	case commentError != nil:
		return commentError
	case !p.Clear.GreaterThan(p.Surface):
		return bad("clearance height Z%s over a surface at Z%s", "a clearance above the surface", p.Clear, p.Surface)
	case !p.Safe.GreaterThanOrEqual(p.Clear):
		return bad("safe height Z%s under the clearance height Z%s", "a safe height at least as high", p.Safe, p.Clear)
	case len(p.Passes) == 0:
		return bad("nothing to drill", "at least one hole")
	}
	type place struct{ x, y string }
	seen := map[place]int{}
	n := 0
	for i, pass := range p.Passes {
		switch {
		case len(pass.Holes) == 0:
			return bad("no hole for tool %d", "at least one hole a tool", pass.Tool)
		case pass.Line == "none" && i > 0:
			return bad("no tool line between tool %d and tool %d", "a tool line, or one program a tool", p.Passes[i-1].Tool, pass.Tool)
		case pass.Line == "" && (pass.Tool < 0 || pass.Tool > 99999):
			return bad("tool %d", "0 to 99999", pass.Tool)
		case CheckToolLine(pass.Line) != nil:
			return CheckToolLine(pass.Line)
		case !pass.Speed.IsPositive():
			return bad("spindle speed %s", "turns a minute over 0", pass.Speed)
		case !pass.Feed.IsPositive():
			return bad("feed %s", "a feed over 0", pass.Feed)
		case !pass.Peck.IsPositive():
			return bad("peck %s", "a depth over 0", pass.Peck)
		}
		for _, h := range pass.Holes {
			n++
			switch {
			case !h.Bottom.LessThan(p.Surface):
				return bad("hole %d ends at Z%s, not below the surface at Z%s", "a bottom below the surface", n, h.Bottom, p.Surface)
			case h.Bottom.LessThan(p.Floor):
				return bad("hole %d ends at Z%s", fmt.Sprintf("nothing below Z%s", p.Floor), n, h.Bottom)
			case p.Surface.Sub(h.Bottom).GreaterThan(pass.Peck.Mul(decimal.NewFromInt(mostPecks))):
				return bad("hole %d takes more than %d pecks of %s", "a larger peck", n, mostPecks, pass.Peck)
			}
			at := place{h.X.String(), h.Y.String()}
			if other := seen[at]; other > 0 {
				return bad("holes %d and %d are both at X%s Y%s", "each hole once", other, n, h.X, h.Y)
			}
			seen[at] = n
		}
	}
	return nil
}
