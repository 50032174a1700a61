package block

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"flipcalc/mirror/fault"
)

// show writes a block's words as letter, value, places and flags.
func show(b *Block) string {
	var s []string
	if b.Deleted {
		s = append(s, "/")
	}
	if b.Percent {
		s = append(s, "%")
	}
	for _, w := range b.Words() {
		t := fmt.Sprintf("%c%de-%d", w.Letter, w.Value, w.Places)
		switch {
		case w.Flags&Big != 0:
			t = string(w.Letter) + "big"
		}
		if w.Flags&Point != 0 {
			t += "."
		}
		if w.Flags&Spaced != 0 {
			t += "_"
		}
		s = append(s, t)
	}
	if b.Comments {
		s = append(s, "()")
	}
	if b.Last {
		s = append(s, "^Z")
	}
	return strings.Join(s, " ")
}

func TestNext(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"G1 X53.874 Y23.287 F1427\n", "G1e-0 X53874e-3. Y23287e-3. F1427e-0"},
		{"g0x +0. 12 34y 7\n", "G0e-0 X1234e-4._ Y7e-0"}, // NISTIR 6556, 3.1: the same as g0 x+0.1234 y7
		{"n0090 x 7\r\n", "X7e-0"},                       // NISTIR 6556, appendix C.1
		{"x.5y5.z-.5i+0.5\n", "X5e-1. Y5e-0. Z-5e-1. I5e-1."},
		{"(G1 X5) G2;X7\n", "G2e-0 ()"},
		{"/N10 G59.1 M30\n", "/ G591e-1. M30e-0"},
		{"/2 X1\n", "/ X1e-0"},
		{"%\n", "%"},
		{"% O0020\n", "% O20e-0"},
		{"\n", ""},
		{" \t \r\n", ""},
		{"X-0.\tY-03\n", "X0e-0. Y-3e-0"},
		{"X 1 2 . 3 4 Y\t5\n", "X1234e-2._ Y5e-0"},
		{"X- 5 Y-\t.5\n", "X-5e-0_ Y-5e-1._"},
		{"X123456789012345678\n", "X123456789012345678e-0"},
		{"X0000000000000000000005.5\n", "X55e-1."},
		{"X1234567890123456789\n", "Xbig"},
		{"X0.12345678901234567\n", "X12345678901234567e-17."},
		{"\x1a\n", "^Z"},
		{"M30\x1a (\x1a X\n", "M30e-0 ^Z"},
		{"%\x1ano\r\n", "% ^Z"},
	} {
		var l Lexer
		var b Block
		l.Reset([]byte(c.in))
		if err := l.Next(&b); err != nil {
			t.Errorf("%q: %v", c.in, err)
			continue
		}
		if got := show(&b); got != c.want {
			t.Errorf("%q: %s, want %s", c.in, got, c.want)
		}
		if err := l.Next(&b); err != io.EOF {
			t.Errorf("%q: a second block: %v", c.in, err)
		}
	}
}

func TestNextErrors(t *testing.T) {
	for _, c := range []struct {
		in     string
		kind   Kind
		offset int
	}{
		{"\xff1\n", BadByte, 0}, // half of a mark of UTF-16 is none
		{"\xfe1\n", BadByte, 0},
		{"\xff\xfe1\n", ByteOrderMark, 0},
		{"\xfe\xff1\n", ByteOrderMark, 0},
		{"G1 X\n", NoNumber, 3},
		{"G1 XY5\n", NoNumber, 3},
		{"G1 X-\n", NoNumber, 3},
		{"G1 X.\n", NoNumber, 3},
		{"G1 X-sin[1]\n", NoNumber, 3},
		{"X1.2.3\n", TwoPoints, 4},
		{"X1..\n", TwoPoints, 3},
		{"X1 . 2 .\n", TwoPoints, 7},
		{"G1 (open\n", OpenComment, 3},
		{"(a (b) x5)\n", NestedComment, 3},
		{"G1 )\n", StrayClose, 3},
		{"G1 ]\n", StrayClose, 3},
		{"G1 / X5\n", StraySlash, 3},
		{"N5 /X5\n", StraySlash, 3},
		{"// G1\n", DoubleSlash, 0},
		{"G1 %\n", StrayPercent, 3},
		{"%%\n", StrayPercent, 1},
		{"% row marker\n", PercentText, 2},
		{"%G1 X5\n", PercentText, 1},
		{"G1\rX5\n", BareCR, 2},
		{"(a\rb)\n", BareCR, 2},
		{"\xef\xbb\xbfG1\n", ByteOrderMark, 0},
		{"\xff\xfeG\x00\n", ByteOrderMark, 0},
		{"G1 \x00\n", BadByte, 3},
		{"(\x00)\n", BadByte, 1},
		{"; \x00\n", BadByte, 2},
		{"(a) 5\n", BadByte, 4},
		{"G1 X5 = 3\n", BadByte, 6},
		{"G1 N5\n", BadBlockNumber, 3},
		{"N1 N2\n", BadBlockNumber, 3},
		{"N-5\n", BadBlockNumber, 0},
		{"N1.5\n", BadBlockNumber, 0},
		{"G1 X[1+2\n", Symbol, 3},
		{"G[2*5] L[1+1]\n", Symbol, 0},
		{"Y5 X- #1\n", Symbol, 3},
		{"G1 X asin[0.5]\n", Symbol, 3},
		{"g1 x asim[0.5]\n", UnknownName, 5}, // NISTIR 6556, table 10: unknown word starting with a
		{"G1 #4 = [1 + 2]\n", Symbol, 3},
		{"#<a>=5\n", Symbol, 0},
		{"N#1\n", NoNumber, 0},
		{"x sin 3\n", UnknownName, 2},
		{"GO Z20\n", LetterO, 1},
		{"G1 XO.5\n", LetterO, 4},
		{"GOTO 10\n", ControlFlow, 0},
		{"IF [#1 EQ 2] THEN\n", ControlFlow, 0},
		{"o100 while [#1 lt 2]\n", ControlFlow, 5},
		{"ENDIF\n", ControlFlow, 0},
		{"G1 X5 ,R2\n", CornerWord, 6},
		{"G1 X5, c2\n", CornerWord, 5},
		{"G1 X5,\n", BadByte, 5},
		{strings.Repeat("G1", 65) + "\n", TooManyWords, 128},
	} {
		var l Lexer
		var b Block
		l.Reset([]byte(c.in + "G1 X2\n"))
		err := l.Next(&b)
		var e *fault.Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v, want kind %d", c.in, err, c.kind)
			continue
		}
		if b.Fault != c.kind || e.Line != 1 || e.Col != c.offset+1 {
			t.Errorf("%q: %v, kind %d, want kind %d at %d", c.in, err, b.Fault, c.kind, c.offset)
		}
		if e.Found == "unreadable text" {
			t.Errorf("%q: no words for kind %d", c.in, b.Fault)
		}
		if err := l.Next(&b); err != nil || show(&b) != "G1e-0 X2e-0" || b.Line != 2 {
			t.Errorf("%q: after the error: %v %s in line %d", c.in, err, show(&b), b.Line)
		}
	}
}

// TestTwice: which letters stand more than once in a block, and which word is found then.
func TestTwice(t *testing.T) {
	for _, c := range []struct {
		in    string
		twice uint32
		g     int
	}{
		{"G1 X5 G90 Y1\n", Bit('G'), 10}, {"X1 X2 Y3 Y4 G2\n", Bit('X') | Bit('Y'), 20}, {"G3 X1 Y2\n", 0, 30}, {"G1 g2 m3\n", Bit('G'), 10},
	} {
		var l Lexer
		var b Block
		l.Reset([]byte(c.in))
		if err := l.Next(&b); err != nil || b.Twice != c.twice || b.Find('G').Code() != c.g {
			t.Errorf("%q: %v, %x", c.in, err, b.Twice)
		}
	}
}

// TestNamedNumber: a program number with a name behind it, as long as it may be.
func TestNamedNumber(t *testing.T) {
	for in, want := range map[string]string{
		"O100 ROW MARKER\n": "O100e-0", "O123456789012345678 ROW\n": "O123456789012345678e-0", "O1234567890123456789 ROW\n": "Obig",
	} {
		var l Lexer
		var b Block
		l.Reset([]byte(in))
		if err := l.Next(&b); err != nil || show(&b) != want || !b.Text {
			t.Errorf("%q: %v, %s", in, err, show(&b))
		}
	}
}

func TestCode(t *testing.T) {
	for _, c := range []struct {
		in   string
		want int
	}{
		{"G1", 10}, {"G01", 10}, {"G59.1", 591}, {"G59.10", 591}, {"G1.0", 10}, {"G1.", 10}, {"G0", 0},
		{"G92.11", -1}, {"G-1", -1}, {"G99999999999999999999", -1},
	} {
		var l Lexer
		var b Block
		l.Reset([]byte(c.in + "\n"))
		if err := l.Next(&b); err != nil {
			t.Fatal(err)
		}
		if got := b.W[0].Code(); got != c.want {
			t.Errorf("%s: %d, want %d", c.in, got, c.want)
		}
	}
}

func TestReaderWholeLines(t *testing.T) {
	in := "G1 X1\n" + strings.Repeat("Y", 100) + "\r\n\nlast"
	for _, size := range []int{2, 3, 7, 64, 1000} {
		r := newReader(iotest.OneByteReader(strings.NewReader(in)), size, 1000)
		var got bytes.Buffer
		for {
			chunk, err := r.Next()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(size, err)
			}
			if chunk[len(chunk)-1] != '\n' {
				t.Fatalf("size %d: chunk %q has no line end", size, chunk)
			}
			got.Write(chunk)
		}
		if got.String() != in+"\n" || !r.Added() {
			t.Errorf("size %d: %q", size, got.String())
		}
	}
}

func TestReaderErrors(t *testing.T) {
	r := newReader(strings.NewReader(strings.Repeat("x", 101)), 8, 100)
	_, err := r.Next()
	var e *fault.Error
	if !errors.As(err, &e) || e.Found != LineTooLong.found("") {
		t.Errorf("a long line: %v", err)
	}
	broken := errors.New("broken")
	r = newReader(io.MultiReader(strings.NewReader("G1\nG2"), iotest.ErrReader(broken)), 8, 100)
	if chunk, err := r.Next(); string(chunk) != "G1\n" || err != nil {
		t.Errorf("%q %v", chunk, err)
	}
	if _, err := r.Next(); err != broken {
		t.Errorf("%v, want the source's own error", err)
	}
}

// FuzzNext: no text makes the lexer panic or loop, spans lie inside their block,
// and the text outside words holds no letter unless it is comment or setting.
func FuzzNext(f *testing.F) {
	for _, s := range []string{"G1 X53.874 Y23.287 F1427\n", "g0x +0. 12 34y 7\n", "%\nO1(a)\r\n#1=2\nX#1\n", "X[1+[2]]\n/G1", "\xef\xbb\xbf"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		text = append(text, '\n')
		var l Lexer
		var b Block
		l.Reset(text)
		at, lines := 0, 0
		for {
			err := l.Next(&b)
			if err == io.EOF {
				break
			}
			lines++
			if b.Start != at || b.End < b.Start || b.Next <= b.End || text[b.Next-1] != '\n' || b.Line != lines {
				t.Fatalf("block %+v at %d", b, at)
			}
			at = b.Next
			end := b.Start
			for _, w := range b.Words() {
				if int(w.Start) < end || w.Num <= w.Start || w.End <= w.Num || int(w.End) > b.End {
					t.Fatalf("word %+v after %d in %q", w, end, text[b.Start:b.End])
				}
				end = int(w.End)
			}
		}
		if at != len(text) || lines != bytes.Count(text, []byte{'\n'}) {
			t.Fatalf("%d of %d bytes in %d lines", at, len(text), lines)
		}
	})
}
