package cycle

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
)

// codes looks at the block's G, M, T and O words: which call a tool, which belong
// to the program as a whole and are dropped, and which can't be merged.
func (c *cutter) codes() (change *block.Word, drop []*block.Word, err error) {
	b := &c.b
	for i := range b.Words() {
		w := &b.W[i]
		whole, err := c.word(w, w.Code())
		switch {
		case err != nil:
			return nil, nil, err
		case !whole:
			continue
		case b.Deleted:
			return nil, nil, c.refuse(w, c.string(w)+" in a block that may be deleted", "it in a block that always runs", "take the slash away, or the block")
		case w.Letter == 'M' && w.Code() == 60:
			change = w
		}
		drop = append(drop, w)
	}
	return change, drop, nil
}

// word looks at one word; whole says that it belongs to the program as a whole.
func (c *cutter) word(w *block.Word, code int) (whole bool, err error) {
	if err := c.known(w, code); err != nil {
		return false, err
	}
	switch w.Letter {
	case 'O':
		if c.words {
			return false, c.refuse(w, c.string(w)+" (a subprogram)", "one program", "write the subprogram's moves out")
		}
		return true, nil
	case 'T':
		return true, nil
	case 'H':
		c.p.named |= lengthWord
	case 'S':
		c.p.named |= speedWord
	case 'M':
		switch code {
		case 60:
			return true, nil
		case 20, 300:
			c.ended = true
			c.p.end = "M" + fmt.Sprint(code/10)
			return true, nil
		case 30, 40, 50:
			c.p.named |= spindleWord
		case 70, 80, 90:
			c.p.named |= coolantWord
		}
	case 'G':
		return c.preparatory(w, code)
	}
	return false, nil
}

// preparatory does so for a G word.
func (c *cutter) preparatory(w *block.Word, code int) (whole bool, err error) {
	b := &c.b
	switch code {
	case 540, 550, 560, 570, 580, 590, 591, 592, 593:
		if c.p.offset != 0 && c.p.offset != code {
			return false, c.refuse(w, "a second work offset", "one offset in each program", "a station has one offset")
		}
		if c.p.offset == 0 {
			c.p.offset, c.p.offsetLine = code, b.Line
		}
		return true, nil
	case 920, 921, 922, 923, 520:
		name := motion.CodeName('G', code)
		return false, c.refuse(w, name+", which shifts the zero of every offset", "a zero that is stored in its offset",
			"put the shift into the work offset and take "+name+" out")
	case 440:
		return false, c.refuse(w, "G44 (a tool length counted the other way)", "G43", "store the length with its other sign")
	case 901, 911:
		c.p.named |= centreWord
	case 430, 490:
		c.p.named |= lengthWord
	case 980, 990:
		c.p.named |= returnWord
		c.returns = code / 10
		if b.Deleted {
			return false, c.refuse(w, "G98 or G99 in a block that may be deleted", "it in a block of its own", "")
		}
	case 610, 611, 640:
		c.p.named |= pathWord
		c.path = strings.ToUpper(c.string(w))
		for _, l := range []byte{'P', 'Q'} {
			if v := b.Find(l); v != nil && !c.gives(40) { // else a dwell's
				c.path += " " + strings.ToUpper(c.string(v))
			}
		}
		if b.Deleted {
			return false, c.refuse(w, "a path mode in a block that may be deleted", "it in a block of its own", "")
		}
	case 280, 300:
		c.p.notes = append(c.p.notes, Note{Level: fact.Warning, File: c.src.Name, Line: b.Line, Is: HomeInPiece{}})
	}
	return false, nil
}

// known refuses words that set something which the opening of a piece doesn't.
func (c *cutter) known(w *block.Word, code int) error {
	ok := true
	switch w.Letter {
	case 'A', 'B', 'C', 'U', 'V', 'W', 'E':
		ok = false
	case 'G':
		ok = slices.Contains([]int{0, 10, 20, 30, 40, 90, 170, 180, 190, 200, 210, 280, 300, 400, 410, 420, 411, 421, 430, 440, 490,
			520, 530, 540, 550, 560, 570, 580, 590, 591, 592, 593, 610, 611, 640, 730, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890,
			900, 910, 901, 911, 920, 921, 922, 923, 930, 940, 950, 970, 980, 990}, code)
	case 'M':
		ok = slices.Contains([]int{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 300, 600}, code)
	}
	if ok {
		return nil
	}
	return c.refuse(w, strings.ToUpper(c.string(w))+", which can't be merged", "G and M words of plain milling in X, Y and Z",
		"what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other")
}

// string gives a word as it was written.
func (c *cutter) string(w *block.Word) string { return string(c.text[w.Start:w.End]) }

// Codes of canned cycles run from 730 to 890.
func isCycle(code int) bool { return code == 730 || code >= 810 && code <= 890 }

// prefix gives the motion words that a block relies on from before its piece, for
// the first block that does. before is the motion mode ahead of the block.
func (c *cutter) prefix(before int) string {
	b := &c.b
	mode, other := -1, false
	for i := range b.Words() {
		w := &b.W[i]
		if w.Letter != 'G' {
			continue
		}
		switch code := w.Code(); {
		case code >= 0 && code <= 30, code == 800, isCycle(code):
			mode = code
		case code == 40, code == 280, code == 300:
			other = true
		}
	}
	now := c.m.Motion()
	if isCycle(now) {
		if mode == now && before != now {
			clear(c.sticky)
		}
		for _, l := range []byte("RZXYQPIJK") {
			if w := b.Find(l); w != nil && c.keeps(l) {
				c.sticky[l] = strings.ToUpper(c.string(w))
			}
		}
	}
	if c.stated || other {
		return ""
	}
	if mode >= 0 {
		c.stated = !b.Deleted
		return ""
	}
	if b.Letters&(block.Bit('X')|block.Bit('Y')|block.Bit('Z')|block.Bit('I')|block.Bit('J')|block.Bit('K')|block.Bit('R')) == 0 {
		return ""
	}
	c.stated = !b.Deleted
	if before == 0 {
		return "" // the opening ends in G0
	}
	words := []string{motion.CodeName('G', before)}
	if isCycle(before) {
		for _, l := range []byte("RZXYQPIJK") {
			if s, ok := c.sticky[l]; ok && b.Find(l) == nil {
				words = append(words, s)
			}
		}
	}
	return strings.Join(words, " ") + " "
}

// keeps tells whether a cycle keeps a letter's word for its next holes: R, the
// depth along the drilling axis, the peck, the dwell and the words of G87
// (NISTIR 6556, 3.5.16).
func (c *cutter) keeps(letter byte) bool {
	_, _, normal := c.m.State().Plane.Axes()
	switch letter {
	case 'X', 'Y', 'Z':
		return letter == "XYZ"[normal]
	case 'I', 'J', 'K':
		return c.m.Motion() == 870
	}
	return true
}

// switching looks at the words that switch spindle, coolant and tool length: whether
// the block, less what is dropped of it, does nothing but switch off, and whether it
// switches at all. M0, M1 and M60 count as switching: hands go in, so what was off stays
// off.
func (c *cutter) switching(drop []*block.Word) (stops, switches bool) {
	stops = !c.b.Deleted && !c.b.Comments
	for i := range c.b.Words() {
		w := &c.b.W[i]
		code := w.Code()
		off := w.Letter == 'M' && (code == 50 || code == 90)
		switches = switches || off || w.Letter == 'S' || w.Letter == 'M' && slices.Contains([]int{0, 10, 600, 30, 40, 70, 80}, code)
		stops = stops && (off || slices.Contains(drop, w))
		if w.Letter == 'G' && (code == 430 || code == 490) && !c.b.Deleted {
			c.now.lengthNamed = true
		}
	}
	return stops && switches, switches
}

// halt gives the line for a block's M0, M1 or M60 alone, nil where it has none.
func (c *cutter) halt() []byte {
	for i := range c.b.Words() {
		w := &c.b.W[i]
		if w.Letter != 'M' || !slices.Contains([]int{0, 10, 600}, w.Code()) {
			continue
		}
		line := fmt.Appendf(nil, "M%d %s", w.Code()/10, remark.Find(c.text[c.b.Start:c.b.End]))
		if c.b.Deleted {
			line = append([]byte("/"), line...)
		}
		return bytes.TrimSpace(line)
	}
	return nil
}

var remark = regexp.MustCompile(`\([^()]*\)`)

// gives reports a block with one of some G codes.
func (c *cutter) gives(codes ...int) bool {
	return slices.ContainsFunc(c.b.Words(), func(w block.Word) bool { return w.Letter == 'G' && slices.Contains(codes, w.Code()) })
}
