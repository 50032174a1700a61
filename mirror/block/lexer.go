// Package block reads the text of part programs for those who rewrite them: lines, blocks
// and words as byte spans, comments and prose among them, and what is wrong with a text
// that is none.
//
// The grammar is that of NISTIR 6556, 3.1 to 3.3 and appendix E, with comments
// after a semicolon and O words added, since real programs have both. Spaces and
// tabs may stand anywhere outside comments, even inside numbers; case doesn't matter.
package block

import (
	"fmt"
	"io"
)

// MaxWords is the largest number of words in a block: every letter once, and as
// many G and M words as there are groups of them, fit many times.
const MaxWords = 64

// maxDigits is the number of decimal digits that always fits an int64.
const maxDigits = 18

// mostDigits is the longest number that is read. Anything near it is no part program.
// Interpreters read up to 1000 digits: what a mirror adds stays within that.
const mostDigits = 900

// Word flags.
const (
	Point  uint8 = 1 << iota // the number has a decimal point
	Signed                   // the number has a sign
	Spaced                   // spaces stand inside the number
	Big                      // more than 18 digits: Value is not set, Places is
)

// Word is a letter and its number. Offsets count bytes of the chunk.
type Word struct {
	Letter byte  // upper case
	Flags  uint8 // Point, Signed, ...
	Places uint8 // digits after the point, at most 255
	Start  int32 // of the letter
	Num    int32 // of the number's first byte
	End    int32 // after the number's last byte
	Value  int64 // the number without its point, sign included
}

// Code gives ten times the value of a G or M word, for example 591 for G59.1, or
// -1 where the word holds no such code.
func (w *Word) Code() int {
	if w.Flags&Big != 0 || w.Value < 0 || w.Value > 1e9 {
		return -1
	}
	v, places := int(w.Value), w.Places
	for places > 1 {
		if v%10 != 0 {
			return -1
		}
		v /= 10
		places--
	}
	if places == 0 {
		v *= 10
	}
	return v
}

// Int gives the word's value as a whole number; ok is false where it isn't one.
func (w *Word) Int() (v int64, ok bool) {
	if w.Flags&Big != 0 {
		return 0, false
	}
	v = w.Value
	for range w.Places {
		if v%10 != 0 {
			return 0, false
		}
		v /= 10
	}
	return v, true
}

// Bit gives the bit of a letter, A to Z in either case, in a set of letters.
func Bit(letter byte) uint32 { return 1 << (letter & 31) }

// Block is one line of a program.
type Block struct {
	Line  int // from 1
	Start int // of the line in the chunk
	End   int // before its line end
	Next  int // of the following line

	N       int            // how many words
	W       [MaxWords]Word // the words, N words left out
	Letters uint32         // which letters occur
	Twice   uint32         // which occur more than once
	At      [32]uint8      // index of the last word with a letter (letter & 31), where it occurs

	Deleted  bool // starts with '/'
	Percent  bool // starts with '%'
	Last     bool // ends with ^Z: what follows in the line and after it is no program
	Comments bool // has a comment
	Number   bool // has an N word
	Text     bool // holds text that controls read in several ways, with no word in it
	Fault    Kind // what is wrong with the text, where Next gave an error
}

// Words gives the block's words in the order in which they stand.
func (b *Block) Words() []Word { return b.W[:b.N] }

// Find gives the first word with the given upper-case letter, or nil.
func (b *Block) Find(letter byte) *Word {
	if b.Letters&Bit(letter) == 0 {
		return nil
	}
	if b.Twice&Bit(letter) == 0 {
		return &b.W[b.At[letter&31]]
	}
	for i := range b.W[:b.N] {
		if b.W[i].Letter == letter {
			return &b.W[i]
		}
	}
	return nil
}

// Empty reports a line with neither words nor marks; it may hold comments.
func (b *Block) Empty() bool {
	return b.N == 0 && !b.Percent
}

// Lexer cuts a chunk of whole lines into blocks.
type Lexer struct {
	buf  []byte
	pos  int
	line int
}

// Reset gives the lexer the next chunk, which must end in a line feed. Lines are
// counted on from the chunks before.
func (l *Lexer) Reset(chunk []byte) {
	if len(chunk) > 0 && chunk[len(chunk)-1] != '\n' {
		panic("block: chunk without a line end")
	}
	l.buf, l.pos = chunk, 0
}

// Chunk gives what Reset was given.
func (l *Lexer) Chunk() []byte { return l.buf }

// Line gives the number of the last line that was read, from 1.
func (l *Lexer) Line() int { return l.line }

// Pos gives the offset in the chunk where the next block starts.
func (l *Lexer) Pos() int { return l.pos }

// Seek goes on at offset pos of the chunk, where a line starts that has so many lines
// of the program before it.
func (l *Lexer) Seek(pos, lines int) { l.pos, l.line = pos, lines }

// Character classes.
const (
	cBad = iota
	cLetter
	cSpace
	cLF
	cCR
	cOpen
	cSemi
	cSlash
	cPercent
	cHash
	cClose
	cLast
)

// A byte less '0', so that one comparison tells digits from the rest.
const (
	dPoint = 0x100 + '.' - '0'
	dSpace = 0x100 + ' ' - '0'
	dTab   = 0x100 + '\t' - '0'
	dMinus = 0x100 + '-' - '0'
)

var class = func() (t [256]uint8) {
	for c := 'A'; c <= 'Z'; c++ {
		t[c], t[c+'a'-'A'] = cLetter, cLetter
	}
	t[' '], t['\t'] = cSpace, cSpace
	t['\n'], t['\r'] = cLF, cCR
	t['('], t[';'], t['/'], t['%'], t['#'] = cOpen, cSemi, cSlash, cPercent, cHash
	t[')'], t[']'] = cClose, cClose
	t[0x1a] = cLast
	return t
}()

// Next reads one block into b. It returns nil, io.EOF at the end of the chunk, or
// a *fault.Error; after an error the lexer goes on with the following line.
func (l *Lexer) Next(b *Block) error {
	err := l.next(b)
	if err != nil && err != io.EOF && l.text(b) {
		return nil
	}
	return err
}

func (l *Lexer) next(b *Block) error {
	buf, p := l.buf, l.pos
	if p >= len(buf) {
		return io.EOF
	}
	l.line++
	b.Line, b.Start = l.line, p
	b.Deleted, b.Percent, b.Last, b.Comments, b.Number, b.Text = false, false, false, false, false, false
	n := 0
	var letters, twice uint32
	for {
		c := buf[p]
		for class[c] == cLetter {
			if n == MaxWords {
				return l.fail(b, TooManyWords, p)
			}
			w := &b.W[n&(MaxWords-1)]
			w.Letter, w.Start = c&^0x20, int32(p)
			p++
			first := p
			var flags uint8
			d := buf[p] - '0'
			neg := d == dMinus
			if neg {
				flags = Signed
				p++
				d = buf[p] - '0'
			}
			digits := p
			var v uint64
			for d <= 9 {
				v = v*10 + uint64(d)
				p++
				d = buf[p] - '0'
			}
			count := p - digits
			places := 0
			if d == dPoint {
				flags |= Point
				p++
				point := p
				d = buf[p] - '0'
				for d <= 9 {
					v = v*10 + uint64(d)
					p++
					d = buf[p] - '0'
				}
				places = p - point
				count += places
			}
			if uint(count-1) >= maxDigits || d == dPoint || (d == dSpace || d == dTab) && continues(buf, p) {
				end, err := l.number(b, w, first)
				if err != nil {
					return err
				}
				p = end
			} else {
				w.Num, w.End = int32(first), int32(p)
				w.Places, w.Flags = uint8(places), flags
				w.Value = int64(v)
				if neg {
					w.Value = -w.Value
				}
			}
			if c|0x20 == 'n' {
				if n > 0 || b.Number || w.Flags&^Spaced != 0 {
					return l.failAt(b, BadBlockNumber, int(w.Start), "")
				}
				b.Number = true
			} else {
				bit := Bit(c)
				twice |= letters & bit
				letters |= bit
				b.At[c&31] = uint8(n)
				n++
			}
			if c = buf[p]; c == ' ' {
				p++
				c = buf[p]
			}
		}
		switch class[c] {
		case cSpace:
			p++
		case cLF:
			return l.end(b, p, p+1, n, letters, twice)
		case cCR:
			if buf[p+1] != '\n' {
				return l.fail(b, BareCR, p)
			}
			return l.end(b, p, p+2, n, letters, twice)
		case cOpen:
			end, err := l.comment(b, p)
			if err != nil {
				return err
			}
			p = end
			b.Comments = true
		case cSemi:
			for ; buf[p] >= ' ' || buf[p] == '\t'; p++ {
			}
			if c := buf[p]; c != '\n' && (c != '\r' || buf[p+1] != '\n') {
				return l.byteFault(b, p)
			}
			b.Comments = true
		case cSlash:
			switch {
			case buf[p+1] == '/' && n == 0 && !b.Deleted:
				return l.fail(b, DoubleSlash, p)
			case n > 0 || b.Deleted || b.Number || b.Comments:
				return l.fail(b, StraySlash, p)
			}
			b.Deleted = true
			if p++; buf[p]-'1' < 9 { // one of several switches
				p++
			}
		case cPercent:
			if n > 0 || b.Deleted || b.Number || b.Percent || b.Comments {
				return l.fail(b, StrayPercent, p)
			}
			b.Percent = true
			if p = skipSpace(buf, p+1); !mayFollowPercent(buf, p) {
				return l.fail(b, PercentText, p)
			}
		case cHash:
			return l.fail(b, Symbol, p)
		case cLast:
			b.Last = true
			for buf[p] != '\n' {
				p++
			}
			return l.end(b, p, p+1, n, letters, twice)
		case cClose:
			return l.failAt(b, StrayClose, p, fmt.Sprintf("%q", rune(c)))
		default:
			return l.byteFault(b, p)
		}
	}
}

// end closes a block that ends at end, with the following line at next.
func (l *Lexer) end(b *Block, end, next, n int, letters, twice uint32) error {
	b.End, b.Next = end, next
	b.N, b.Letters, b.Twice = n, letters, twice
	l.pos = next
	return nil
}

// comment gives the offset behind a comment that opens at open.
func (l *Lexer) comment(b *Block, open int) (end int, err error) {
	buf, p := l.buf, open+1
	for ; buf[p] != ')'; p++ {
		switch c := buf[p]; {
		case c == '\n' || c == '\r' && buf[p+1] == '\n':
			return 0, l.fail(b, OpenComment, open)
		case c == '(':
			if end = nestedEnd(buf, open); end == 0 {
				return 0, l.fail(b, NestedComment, p)
			}
			b.Text = true
			return end, nil
		case c < ' ' && c != '\t':
			return 0, l.byteFault(b, p)
		}
	}
	return p + 1, nil
}

// mayFollowPercent reports what may stand behind %: nothing, a comment, a program number.
func mayFollowPercent(buf []byte, p int) bool {
	switch c := buf[p]; class[c] {
	case cLF, cCR, cOpen, cSemi, cPercent, cLast:
		return true
	default:
		return c|0x20 == 'o' && buf[skipSpace(buf, p+1)]-'0' <= 9
	}
}

// continues reports that the spaces at p are spaces inside a number: a digit or
// a point follows them.
func continues(buf []byte, p int) bool {
	if class[buf[p+1]] == cLetter {
		return false
	}
	p = skipSpace(buf, p)
	return buf[p]-'0' <= 9 || buf[p] == '.'
}

func skipSpace(buf []byte, p int) int {
	for buf[p] == ' ' || buf[p] == '\t' {
		p++
	}
	return p
}

// number reads a word's number where the short way doesn't do: spaces, a plus
// sign, many digits, or no number at all. p is the offset after the letter.
func (l *Lexer) number(b *Block, w *Word, p int) (end int, err error) {
	buf := l.buf
	p = skipSpace(buf, p)
	w.Num, w.Flags, w.Places, w.Value = int32(p), 0, 0, 0
	neg := buf[p] == '-'
	if neg || buf[p] == '+' {
		w.Flags |= Signed
		p++
	}
	var v uint64
	end = p // after the last digit or point
	digits, places, significant := 0, 0, 0
	for ; ; p++ {
		c := buf[p]
		switch {
		case c == ' ' || c == '\t':
			continue
		case c == '.' && w.Flags&Point == 0:
			w.Flags |= Point
		case c == '.':
			return 0, l.failAt(b, TwoPoints, p, "")
		case c-'0' <= 9:
			digits++
			if v > 0 || c != '0' {
				significant++
			}
			if w.Flags&Point != 0 {
				places++
			}
			if significant <= maxDigits {
				v = v*10 + uint64(c-'0')
			}
		default:
			return l.numberEnd(b, w, p, end, v, digits, places, significant, neg)
		}
		if p > end {
			w.Flags |= Spaced
		}
		end = p + 1
	}
}

func (l *Lexer) numberEnd(b *Block, w *Word, p, end int, v uint64, digits, places, significant int, neg bool) (int, error) {
	if digits > mostDigits {
		return 0, l.failAt(b, LongNumber, int(w.Num), "")
	}
	if digits == 0 {
		next := l.buf[p]
		if w.Letter == 'N' && w.Flags == 0 && (class[next] == cLetter || next == '\n' || next == '\r' || next == '(' || next == ';') {
			w.End = int32(w.Num)
			return int(w.Num), nil
		}
		if w.Flags&Point == 0 {
			return 0, l.noNumber(b, w)
		}
		return 0, l.failAt(b, NoNumber, int(w.Start), string(w.Letter))
	}
	w.End = int32(end)
	w.Places = uint8(min(places, 255))
	if significant > maxDigits || places > 255 {
		w.Flags |= Big
	}
	w.Value = int64(v)
	if neg {
		w.Value = -w.Value
	}
	return end, nil
}

// fail gives up on the block with the fault at p.
func (l *Lexer) fail(b *Block, k Kind, p int) error { return l.failAt(b, k, p, "") }

func (l *Lexer) failAt(b *Block, k Kind, p int, text string) error {
	end := p
	for l.buf[end] != '\n' {
		end++
	}
	b.End, b.Next, b.N, b.Letters, b.Twice = end, end+1, 0, 0, 0
	l.pos = end + 1
	b.Fault = k
	return k.refusal(b.Line, p-b.Start+1, text)
}

// byteFault is the error for a byte that no block may hold.
func (l *Lexer) byteFault(b *Block, p int) error {
	c := l.buf[p]
	if l.line == 1 && p == 0 {
		switch {
		case c == 0xef && l.buf[1] == 0xbb, c == 0xfe && l.buf[1] == 0xff, c == 0xff && l.buf[1] == 0xfe:
			name := "UTF-16"
			if c == 0xef {
				name = "UTF-8"
			}
			return l.failAt(b, ByteOrderMark, p, name)
		}
	}
	if c == '\r' {
		return l.fail(b, BareCR, p)
	}
	if next := l.buf[skipSpace(l.buf, p+1)] &^ 0x20; c == ',' && (next == 'R' || next == 'C') {
		return l.failAt(b, CornerWord, p, ","+string(rune(next)))
	}
	text := fmt.Sprintf("0x%02X", c)
	if c >= ' ' && c < 0x7f {
		text = fmt.Sprintf("%q", rune(c))
	}
	return l.failAt(b, BadByte, p, text)
}
