package motion

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"flipcalc/mirror/fault"
)

// Word is a letter and its number in a block.
type Word struct {
	Letter byte // upper case
	Plain  bool // a number was written, no expression
	Start  int  // the word is Text[Start:End], blanks inside included
	Number int  // its number is Text[Number:End]
	End    int
	Value  Num
}

// Block is one line of a program, taken apart.
type Block struct {
	File    string
	Line    int    // from 1
	Text    []byte // without its line end; valid until the next block is read
	Deleted bool   // begins with a slash (block delete)
	Switch  uint8  // of the slash: 1 to 9
	Tape    bool   // a line with nothing but %
	Unread  bool   // holds no word: prose, or what is printed to a port (prose.go)
	Last    bool   // ends with ^Z, the end of a text on some systems: nothing follows
	Words   []Word // in the order written, the N word left out
	Number  Num    // the N word's

	sums     []sum         // words whose numbers are to be worked out
	settings []*assignment // of parameters, once all of the block was read (NISTIR 6556, 3.3.3)
	worked   bool          // the numbers are there
	stops    bool          // one of the settings is a stop: the block has an M0 of its own

	// Foreign is a parameter that the block sets and that is part of many controls, 0 for
	// none: the setting does more there than any move shows.
	Foreign int
	// Vacant is a word of a macro's body whose argument wasn't given, "" for none: it is left
	// out of Words.
	Vacant string
	// Differs is what was worked out on the way to this block that controls round in different
	// ways, "" for nothing.
	Differs string
	all     []Word // with it
}

// sum is what stands in place of a word's number: a parameter, an expression or a
// function.
type sum struct {
	word int // index into Words
	tree *tree
}

// Comment reports whether the block has no words at all: blank, comment or %.
func (b *Block) Comment() bool { return len(b.Words) == 0 && !b.Tape && !b.Last }

// fault makes an error at byte i of the block.
func (b *Block) fault(i int, found, expected, hint string) *fault.Error {
	return &fault.Error{File: b.File, Line: b.Line, Col: i + 1, Found: found, Expected: expected, Hint: hint}
}

// Column gives the place of the first word of a letter, from 1; 1 where there is none.
func (b *Block) Column(letter byte) int {
	i := slices.IndexFunc(b.Words, func(w Word) bool { return w.Letter == letter })
	if i < 0 {
		return 1
	}
	return b.Words[i].Start + 1
}

// endOfText is ^Z.
const endOfText = 0x1a

// blank reports whether c is a space or a tab.
func blank(c byte) bool { return c == ' ' || c == '\t' }

// upper gives a letter's upper case.
func upper(c byte) byte {
	if c >= 'a' && c <= 'z' {
		return c - 32
	}
	return c
}

// trimEnd cuts the line end off: LF or CR LF.
func trimEnd(text []byte) []byte {
	if n := len(text); n > 0 && text[n-1] == '\n' {
		text = text[:n-1]
		if n > 1 && text[n-2] == '\r' {
			text = text[:n-2]
		}
	}
	return text
}

// Read takes text, a line with or without its line end, apart into b. What b held
// before is overwritten.
// An error is a *fault.Error with the place of the first byte that can't be
// understood.
func (b *Block) Read(text []byte, line int) error {
	err := b.read(text, line)
	if err != nil && b.unread() {
		b.Number, b.sums, b.settings = Num{}, b.sums[:0], b.settings[:0]
		b.Unread = true
		return nil
	}
	return err
}

func (b *Block) read(text []byte, line int) error {
	text = trimEnd(text)
	b.Line, b.Text, b.Words, b.sums, b.settings = line, text, b.Words[:0], b.sums[:0], b.settings[:0]
	b.Deleted, b.Tape, b.Last, b.Unread, b.worked, b.stops, b.Number = false, false, false, false, false, false, Num{}
	b.Vacant, b.all = "", nil
	i := skipBlanks(text, 0)
	if i == len(text) {
		return nil
	}
	switch text[i] {
	case '%':
		return b.readTape(i)
	case '/':
		b.Deleted, b.Switch = true, 1
		i++
		if i < len(text) && text[i] == '/' {
			return b.fault(i, "a line that starts with //", "", "some controls run such a line: write the comment in parentheses")
		}
		if i < len(text) && text[i]-'0' <= 9 { // one of several
			b.Switch = max(text[i]-'0', 1)
			i++
		}
	}
	first := true
	for i < len(text) {
		c := text[i]
		if blank(c) {
			i++
			continue
		}
		var err error
		switch {
		case c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z':
			i, err = b.readWord(i, first)
			first = false
		case c == '(':
			i, err = b.skipComment(i)
		case c == ';':
			return b.checkComment(i + 1)
		case c == '#':
			i, err = b.readSetting(i)
			first = false
		case c == endOfText:
			b.Last = true
			return nil
		default:
			err = b.badByte(i)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// readSetting reads a parameter setting such as #3=15.
func (b *Block) readSetting(i int) (int, error) {
	s, end, err := compileSetting(b.Text, i)
	if err != nil {
		return end, b.wrong(err)
	}
	b.settings = append(b.settings, s)
	if s.number() == stopped {
		b.stops = true
		b.Words = append(b.Words, Word{Letter: 'M', Start: i, Number: i, End: end})
	}
	return end, nil
}

// wrong gives an expression's error its place.
func (b *Block) wrong(err error) error {
	if f, ok := err.(*fault.Error); ok {
		f.File, f.Line = b.File, b.Line
	}
	return err
}

// readTape reads a line whose first byte is %. A program number and comments may
// follow it.
func (b *Block) readTape(i int) error {
	b.Tape = true
	for j := i + 1; j < len(b.Text); {
		var err error
		switch c := b.Text[j]; {
		case blank(c):
			j++
		case c == endOfText:
			b.Last = true
			return nil
		case c == '(':
			j, err = b.skipComment(j)
		case c == ';':
			return b.checkComment(j + 1)
		case upper(c) == 'O' && len(b.Words) == 0:
			j, err = b.readWord(j, false)
		default:
			return b.fault(j, "text after '%'", "'%' alone on its line",
				"some controls take such a line as a comment, others run it: write the comment in parentheses")
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// skipComment gives the place after the comment that opens at i.
func (b *Block) skipComment(i int) (int, error) {
	for j := i + 1; j < len(b.Text); j++ {
		switch c := b.Text[j]; {
		case c == ')':
			return j + 1, nil
		case c == '(':
			if end, ok := nested(b.Text, i); ok {
				return end, nil
			}
			return j, b.fault(j, "'(' inside a comment", "", "controls differ on where such a comment ends: keep one pair of parentheses")
		case c < ' ' && c != '\t':
			return j, b.badByte(j)
		}
	}
	return i, b.fault(i, "a comment that isn't closed", "')' before the end of the line", "")
}

// Comments gives the comments of a line, up to one of which controls differ on where it ends.
func Comments(text []byte) (all []string) {
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case ';':
			return append(all, string(text[i:]))
		case '(':
			end := bytes.IndexByte(text[i:], ')')
			if end < 0 || bytes.IndexByte(text[i+1:i+end], '(') >= 0 {
				return all
			}
			all = append(all, string(text[i:i+end+1]))
			i += end
		}
	}
	return all
}

// checkComment looks through the rest of a line after a semicolon.
func (b *Block) checkComment(i int) error {
	for ; i < len(b.Text); i++ {
		if c := b.Text[i]; c < ' ' && c != '\t' {
			return b.badByte(i)
		}
	}
	return nil
}

// code reports whether the block has a G word of the given number, times ten.
func (b *Block) code(number int) bool {
	return slices.ContainsFunc(b.Words, func(w Word) bool {
		c, ok := codeOf(w.Value)
		return w.Letter == 'G' && ok && c == number
	})
}

// badByte says what is wrong with byte i.
func (b *Block) badByte(i int) error {
	switch c := b.Text[i]; {
	case c == '\r':
		return b.fault(i, "a carriage return without a line feed", "", "give the program LF or CRLF line ends")
	case c == 0:
		return b.fault(i, "a zero byte", "plain text", "is this a part program, and isn't it UTF-16?")
	case c == '/':
		return b.fault(i, "'/' in the middle of a block", "", "controls differ on what a slash there deletes: put it first in a block of its own")
	case c == ')':
		return b.fault(i, "')' without its partner", "", "")
	case c == ',':
		return b.fault(i, "character ','", "", "write a decimal point, or put it into a comment in parentheses")
	case c == ':':
		return b.fault(i, "character ':'", "the letter O or N", "write O where it numbers the program, N where it numbers a block")
	case c == '%':
		return b.fault(i, "'%' in the middle of a block", "", "keep % on a line of its own")
	case c-'0' <= 9 || c == '.' || c == '-' || c == '+':
		return b.fault(i, "a number without a letter", "a word such as X1.5", "")
	case c < ' ' || c >= 127:
		return b.fault(i, fmt.Sprintf("the byte %#02x", c), "", "take it out or put it into a comment in parentheses")
	default:
		return b.fault(i, fmt.Sprintf("character %q", c), "", "take it out or put it into a comment in parentheses")
	}
}

// readWord reads the word at i and gives the place after it. first says that the
// N word may stand here.
func (b *Block) readWord(i int, first bool) (int, error) {
	letter := upper(b.Text[i])
	j := skipBlanks(b.Text, i+1)
	value, end, ok := scanNum(b.Text, j)
	plain := true
	if !ok {
		if letter == 'N' && first && (j == len(b.Text) || upper(b.Text[j]) >= 'A' && upper(b.Text[j]) <= 'Z' || b.Text[j] == '(' || b.Text[j] == ';') {
			return j, nil // N alone numbers nothing (common practice)
		}
		if letter == 'N' || !b.symbolic(j) {
			return end, b.badNumber(letter, j, end)
		}
		t, e, err := compile(b.Text, j, true)
		if err != nil {
			return j, b.wrong(err)
		}
		b.sums = append(b.sums, sum{len(b.Words), t})
		plain, end = false, e
	}
	if letter == 'N' {
		if !first {
			return i, b.fault(i, badBlockNumber, "", badBlockNumberHint)
		}
		n, whole := value.Int()
		if !whole || n < 0 || b.Text[j] == '-' || b.Text[j] == '+' {
			return j, b.fault(j, badBlockNumber, "", badBlockNumberHint)
		}
		b.Number = value
		return end, nil
	}
	b.Words = append(b.Words, Word{Letter: letter, Plain: plain, Start: i, Number: j, End: end, Value: value})
	return end, nil
}

// symbolic reports whether a parameter, an expression or a function begins at
// Text[j], a sign in front allowed.
func (b *Block) symbolic(j int) bool {
	for ; j < len(b.Text); j++ {
		switch c := upper(b.Text[j]); {
		case c == '#' || c == '[':
			return true
		case c >= 'A' && c <= 'Z':
			// A function's name has at least two letters; a word's letter is
			// followed by a number, # or [.
			j = skipBlanks(b.Text, j+1)
			return j < len(b.Text) && upper(b.Text[j]) >= 'A' && upper(b.Text[j]) <= 'Z'
		case !blank(c) && c != '-' && c != '+':
			return false
		}
	}
	return false
}

// symbol refuses a block whose numbers only a control knows that runs the program.
func (b *Block) symbol() error {
	at := bytes.IndexAny(b.Text, "#[")
	if len(b.sums) > 0 {
		at = b.Words[b.sums[0].word].Start
	}
	return b.fault(at, "a parameter or an expression", "", fault.MovesOut)
}

// What is said of an N word that isn't first in its block, or whose number isn't whole and
// without a sign.
const (
	badBlockNumber     = "a block number that isn't first in its block or isn't a plain whole number"
	badBlockNumberHint = "write N and up to nine digits at the start of the block"
)

// badNumber says why no number stands at Text[j:].
func (b *Block) badNumber(letter byte, j, end int) error {
	at, found, expected := noNumber(b.Text, j, end)
	return b.fault(at, cmp.Or(found, fmt.Sprintf("%c without a number", letter)), expected, "")
}

// noNumber says where scanNum, which began at j and stopped at end, met something else than a
// number; found is "" where there is no digit.
func noNumber(text []byte, j, end int) (at int, found, expected string) {
	switch {
	case end < len(text) && text[end] == '.':
		return end, "a number with two decimal points", ""
	case end-j > maxDigits:
		return j, fmt.Sprintf("a number of more than %d digits", maxDigits), "a shorter number"
	}
	return j, "", "at least one digit"
}
