package mirror

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"testing/iotest"

	"flipcalc/mirror/fault"
)

// fuzzSeeds are whole programs in miniature.
var fuzzSeeds = []string{
	"%\nO1 (marker)\nG21 G90 G17\nG0 X7 Y5.\nG1 Z-0.5 F200\nG2 X17 Y5 I5 J0\nM30\n%\n",
	"n10 g20 g0 x 7y+0. 12 34\r\n/g91\r\ng90 x-.5\r\nm2",
	"G41 D1 G1 X5 F9\nG40 X6\nG81 X1 Z-1 R1 L2\nG80\nG92 X0\nG28 X1\nG53 G0 Z0\n",
	"G18 G2 X1 Z1 I1 K0\nG19 G3 Y1 Z1 J1\nG90.1 G2 X1 Y1 I0 J1\nG4 X1\nG54 X2 G91\n",
	"G0 X1\nM98 P1 L2\nG90 X5\nM30\nO1\nG91 X2\nG68 X1 Y1 R30\nG69\nM98 P2\nM99\nO2\nG5 X1 Y1 I1 J1 P1 Q1\nM99\n",
	"G0 X1234567890123456789012.5 Y-00.0\n(flipcalc: old)\nX-0.\n",
	"(flipcalc: back of x)\nG00 G17 G21 G40 G49 G50 G80 G90\nM10 M19\nG81 X1 Z-1 R1 L0\nG80 G0 X2\nG5.1 Q1\nG8 P1\nM30\n\x1a\nX(\n",
	"O1\n(flipcalc: mirrored again, as on the face: back of x)\nG0 Y1 Z1\nG81 Y1 Z-1 R1\nG1 Z-1 F9\nG52 X1 Y0\nG53 G0 X0\nG1 X5\n%\nX (\n",
}

// FuzzMirror: no text makes the mirror panic; what it hands over is proved, is the
// same whatever pieces it arrives in, and mirrored twice more is itself. A refusal
// has a place and words.
func FuzzMirror(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add([]byte(s), "100", false)
		f.Add([]byte(s), "12.75", true)
	}
	for _, c := range wordRows {
		f.Add([]byte(c.in), "81", false)
	}
	f.Fuzz(func(t *testing.T, text []byte, offset string, along bool) {
		if len(offset) > 12 || strings.Trim(offset, "0123456789.") != "" {
			offset = "100"
		}
		if offset == "" || offset == "." || strings.Count(offset, ".") > 1 {
			offset = "100"
		}
		o := Options{Map: flipY(offset)}
		if along {
			o = Options{Map: flipX(offset), Comment: "back of fuzz", BackOffset: "G55"}
		}
		var once, pieces, twice, thrice bytes.Buffer
		_, err := Mirror(bytes.NewReader(text), &once, o)
		if err != nil {
			var e *fault.Error
			if !errors.As(err, &e) || e.Found == "" {
				t.Fatalf("%v", err)
			}
			if e.No {
				t.Fatalf("the proof says no: %v\n%q", err, text)
			}
			if once.Len() > 0 {
				t.Fatalf("%d bytes beside the error %v", once.Len(), err)
			}
			return
		}
		if _, err := Mirror(iotest.HalfReader(iotest.DataErrReader(bytes.NewReader(text))), &pieces, o); err != nil || !bytes.Equal(pieces.Bytes(), once.Bytes()) {
			t.Fatalf("in pieces: %v\n%q\n%q", err, pieces.Bytes(), once.Bytes())
		}
		if _, err := Mirror(bytes.NewReader(once.Bytes()), &twice, o); err != nil {
			t.Fatalf("again: %v\n%q", err, once.Bytes())
		}
		if _, err := Mirror(bytes.NewReader(twice.Bytes()), &thrice, o); err != nil || !bytes.Equal(once.Bytes(), thrice.Bytes()) {
			t.Fatalf("three times: %v\n%q\n%q", err, once.Bytes(), thrice.Bytes())
		}
	})
}

// FuzzBothWays: whatever the text, the quick way does what the slow way does.
func FuzzBothWays(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add([]byte(s), true)
	}
	for _, c := range wordRows {
		f.Add([]byte(c.in), false)
	}
	f.Fuzz(func(t *testing.T, text []byte, said bool) {
		in := string(text)
		if said {
			in = "G21 G90 G94 G17 G91.1\nG0 X0 Y0 Z0\nX1.5\n" + in
		}
		m := flipY("12.25")
		m.Z.Offset = dec("-0.5")
		bothWays(t, in, Options{Map: m})
		bothWays(t, in, Options{Map: flipX("100")})
	})
}
