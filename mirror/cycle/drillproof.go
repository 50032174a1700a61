package cycle

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// Text writes the program, proves the text and gives it. What can't be proved is
// not given.
func Text(p Drilling) ([]byte, error) {
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		return nil, err
	}
	if err := Prove(b.Bytes(), p); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Prove interprets text and says whether it drills just what p asks for: every hole
// at its place, with its tool, speed and feed, to its bottom exactly and no
// deeper, no bite deeper than the peck, and nothing else. It must be over a hole before
// it moves in Z. Sideways it may move at the safe height only or, after a tool change,
// where the change left it: at the clear height, if that is known, to which it must have
// gone before and after each change and at the end. It may go rapidly down no farther than the clearance height or,
// in a cycle, than the hole is drilled already. Write's own arithmetic has no part in it.
// The error is a *fault.Error with No set.
func Prove(text []byte, p Drilling) error {
	v := newDrillProver(p)
	s, err := motion.Walk(bytes.NewReader(text), motion.Options{Unit: p.Unit}, v.move)
	if err != nil {
		return err
	}
	for i := range v.holes {
		h := &v.holes[i]
		if h.deepest == nil || !h.deepest.Equal(h.bottom) {
			got := "isn't drilled"
			if h.deepest != nil {
				got = "ends at Z" + h.deepest.String()
			}
			return unproved(0, fmt.Sprintf("hole %d at X%s Y%s %s", i+1, h.x, h.y, got), "Z"+h.bottom.String())
		}
	}
	if p.Up != nil && !v.high {
		return unproved(0, "an end below the clear height", "machine Z"+p.Up.String()+" last")
	}
	if len(s.Offsets) != 1 || s.Offsets[0] != transform.OffsetCode(p.Offset) {
		return unproved(0, "moves in several work offsets", fmt.Sprintf("%q alone", p.Offset))
	}
	return nil
}

func unproved(line int, found, expected string) error {
	return &fault.Error{Line: line, Found: "the drilling program isn't proved: " + found, Expected: expected, No: true,
		Hint: "this is a defect of flipcalc, nothing was written"}
}

// told is a hole as it must be drilled.
type told struct {
	x, y, bottom      motion.Num
	tool, length      int // tool -1: any; length -1: none
	speed, feed, peck motion.Num
	deepest           *motion.Num
}

// drillProver follows the moves of one program.
type drillProver struct {
	p                    Drilling
	surface, clear, safe motion.Num
	offset               int
	holes                []told
	high                 bool // at the clear height
	tool                 int  // of the last move
}

var (
	toolNumber   = regexp.MustCompile(`T([0-9]+)`)
	lengthNumber = regexp.MustCompile(`H([0-9]+)`)
)

func newDrillProver(p Drilling) *drillProver {
	num := func(d decimal.Decimal) motion.Num { return motion.FromDecimal(d) }
	v := &drillProver{p: p, surface: num(p.Surface), clear: num(p.Clear), safe: num(p.Safe), offset: transform.OffsetCode(p.Offset), tool: -1}
	for _, pass := range p.Passes {
		tool := pass.Tool
		if pass.Line == "none" {
			tool = -1
		} else if m := toolNumber.FindStringSubmatch(pass.Line); m != nil {
			tool, _ = strconv.Atoi(m[1]) // digits; Write has looked at their number
		}
		length := -1
		if m := lengthNumber.FindStringSubmatch(pass.Line); m != nil {
			length, _ = strconv.Atoi(m[1])
		}
		for _, h := range pass.Holes {
			v.holes = append(v.holes, told{x: num(h.X), y: num(h.Y), bottom: num(h.Bottom), tool: tool, length: length,
				speed: num(pass.Speed), feed: num(pass.Feed), peck: num(pass.Peck)})
		}
	}
	return v
}

// hole finds the hole in which a move goes straight up or down.
func (v *drillProver) hole(m *motion.Move) *told {
	for i := range v.holes {
		if h := &v.holes[i]; m.ToOK[0] && m.ToOK[1] && h.x.Equal(m.To[0]) && h.y.Equal(m.To[1]) {
			return h
		}
	}
	return nil
}

// move looks at one move.
func (v *drillProver) move(m *motion.Move) error {
	bad := func(found, expected string, args ...any) error {
		return unproved(m.Line, fmt.Sprintf(found, args...), expected)
	}
	if up := v.p.Up; up != nil {
		if m.State.Tool != v.tool {
			if !v.high {
				return bad("tool %d called below the clear height", "machine Z"+up.String()+" first", m.State.Tool)
			}
			v.tool, v.high = m.State.Tool, false
		}
		if m.Machine && m.Kind == motion.Rapid && m.State.Unit == v.p.Unit && m.ToOK == [3]bool{false, false, true} && m.To[2].Equal(motion.FromDecimal(*up)) {
			v.high = true
			return nil
		}
	}
	switch {
	case m.Machine || m.Home:
		return bad("a move in machine coordinates", "moves in the work offset, or up to the clear height")
	case m.Kind != motion.Rapid && m.Kind != motion.Feed:
		return bad("an arc", "straight moves")
	case m.State.Unit != v.p.Unit:
		return bad("lengths in %s", v.p.Unit.String(), m.State.Unit)
	case m.State.Offset != v.offset:
		return bad("a move in another work offset", fmt.Sprintf("%q", v.p.Offset))
	}
	sideways := false
	for i := range 2 {
		sideways = sideways || m.ToOK[i] && !(m.FromOK[i] && m.From[i].Equal(m.To[i]))
	}
	if !m.ToOK[2] {
		switch {
		case m.Kind != motion.Rapid:
			return bad("a cut at an unknown height", "the safe height first")
		case v.p.Up != nil && !v.high:
			return bad("a move at an unknown height", "the clear height first")
		}
		return nil // across, where the tool change left it or at the clear height
	}
	v.high = false
	if sideways && (m.Kind != motion.Rapid || !m.FromOK[2] || !m.From[2].Equal(v.safe) || !m.To[2].Equal(v.safe)) {
		return bad("a sideways move at Z%s", "sideways at Z"+v.safe.String()+" only", m.To[2])
	}
	if m.Kind == motion.Rapid {
		return v.rapid(m)
	}
	h := v.hole(m)
	switch {
	case h == nil:
		return bad("a cut at X%s Y%s, where no hole is", "holes where they were asked for", m.To[0], m.To[1])
	case h.tool >= 0 && m.State.Tool != h.tool:
		return bad("tool %d", fmt.Sprintf("tool %d", h.tool), m.State.Tool)
	case m.State.Length != h.length:
		return bad("tool length %d", fmt.Sprint(h.length), m.State.Length)
	case m.State.Spindle != 1 || !m.State.Speed.Equal(h.speed):
		return bad("a cut with spindle %d at S%s", "M3 and S"+h.speed.String(), m.State.Spindle, m.State.Speed)
	case m.State.FeedMode != 94 || !m.State.Feed.Equal(h.feed):
		return bad("a cut at F%s", "F"+h.feed.String(), m.State.Feed)
	case m.To[2].Cmp(h.bottom) < 0:
		return bad("a cut down to Z%s", "no deeper than Z"+h.bottom.String(), m.To[2])
	}
	from := v.surface
	if h.deepest != nil {
		from = *h.deepest
	}
	if from.Sub(m.To[2]).Cmp(h.peck) > 0 {
		return bad("a bite from Z%s to Z%s", "at most "+h.peck.String(), from, m.To[2])
	}
	if h.deepest == nil || m.To[2].Cmp(*h.deepest) < 0 {
		z := m.To[2]
		h.deepest = &z
	}
	return nil
}

// rapid looks at a rapid move, straight up, straight down or at the safe height.
func (v *drillProver) rapid(m *motion.Move) error {
	if m.FromOK[2] && m.To[2].Cmp(m.From[2]) >= 0 {
		return nil // up, or level
	}
	if v.hole(m) == nil {
		return unproved(m.Line, "a rapid down away from the holes", "X and Y of a hole first")
	}
	low := v.clear
	if !m.FromOK[2] {
		low = v.safe
	} else if h := v.hole(m); m.Cycle != 0 && h != nil && h.deepest != nil {
		low = *h.deepest
	}
	if m.To[2].Cmp(low) < 0 {
		return unproved(m.Line, "a rapid down to Z"+m.To[2].String(), "no lower than Z"+low.String())
	}
	return nil
}
