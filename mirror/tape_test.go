package mirror

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// tapeRows: where the useful text of a program begins and ends. NISTIR 6556, 3.1, has a
// % first and last, or M2 or M30; what controls do with words outside of them differs, and
// those that are fed block by block run all of it (common practice). Where at is given
// both readings refuse the program there.
var tapeRows = []struct{ name, in, out, at string }{
	{"start state before %", "G17 G40 G90\nM5 M9\n%\nG0 X1\nM30\n%\n", "G17 G40 G90\nM5 M9\n%\nG0 X99\nM30\n%\n", ""},
	{"a program number before %", "O1000\n%\nG0 X1\nM30\n%\n", "O1000\n%\nG0 X99\nM30\n%\n", ""},
	{"a comment before %", "(marker)\n\n%\nG0 X1\nM30\n%\n", "(marker)\n\n%\nG0 X99\nM30\n%\n", ""},
	{"no closing % behind M30", "%\nG0 X1\nM30\n", "%\nG0 X99\nM30\n", ""},
	{"no closing % behind M2, and Ctrl-Z", "%\nG0 X1\nM2\n\x1a", "%\nG0 X99\nM2\n\x1a", ""},
	{"no opening %", "G0 X1\nM30\n%\n", "G0 X99\nM30\n%\n", ""},
	{"a third %", "%\nG0 X1\nM30\n%\n%\n", "%\nG0 X99\nM30\n%\n%\n", ""},
	{"words without an axis behind M30", "G0 X1\nM30\nM5\nG90 F100\n", "G0 X99\nM30\nM5\nG90 F100\n", ""},
	{"prose behind %", "%\nG0 X1\nM30\n%\nmade by hand (oak\n", "%\nG0 X99\nM30\n%\nmade by hand (oak\n", ""},
	{"a coordinate in a comment behind %", "%\nG0 X1\n%\n(at X5)\n;X5\n", "%\nG0 X99\n%\n(at X5)\n;X5\n", ""},
	{"the body of a called subprogram", "%\nM98 P7\nM30\nO7\nG0 X1\nM99\n%\n", "%\nM98 P7\nM30\nO7\nG0 X99\nM99\n%\n", ""},
	{"words behind the end of a program with calls", "M98 P7\nM30\nO7\nG0 X1\nM99\n%\nM5\n", "M98 P7\nM30\nO7\nG0 X99\nM99\n%\nM5\n", ""},

	{"another state before %", "G91\n%\nG0 X1\nM30\n%\n", "", "1:1"},
	{"another unit before %", "G17 G20\n%\nG0 X1\nM30\n%\n", "", "1:5"},
	{"a spindle before %", "M3 S9000\n%\nG0 X1\nM30\n%\n", "", "1:1"},
	{"motion before and behind %", "G0 X1\n%\nG0 X2\nM30\n%\n", "", "3:4"},
	{"motion behind a closing %", "%\nG0 X1\n%\nG0 X2\n", "", "4:4"},
	{"motion behind Ctrl-Z", "G0 X1\nM30\n\x1a\nX5\n", "", "4:1"},
	{"motion behind Ctrl-Z in its line", "G0 X1\nM30\n\x1a X5\n", "", "3:3"},
	{"motion behind Ctrl-Z in mid-file", "G0 X1\n\x1a\nG1 X2 F9\nM30\n", "", "3:4"},
	{"motion behind M2", "G0 X1\nM2\nG1 Z-5 F9\n", "", "3:4"},
	{"motion behind M30 in what is no block", "G0 X1\nM30\ncut to X5 (\n", "", "3:8"},
	{"a circle behind M30", "G0 X1\nM30\nG2 I5\n", "", "3:4"},
	{"a rotary axis behind M30", "G0 X1\nM30\nA90\n", "", "3:1"},
	{"a parameter's motion behind M30", "G0 X1\nM30\nX#1\n", "", "3:1"},
	{"a subprogram that nothing calls", "G0 X1\nM30\nO7\nG0 X5\nM99\n", "", "4:4"},
	{"one that nothing calls beside one that is called", "M98 P7\nM30\nO7\nG0 X1\nM99\nO8\nG0 X5\nM99\n", "", "7:4"},
	{"motion behind the end of a program with calls", "M98 P7\nM30\nO7\nG0 X1\nM99\n%\nG0 X5\n", "", "7:4"},
}

func TestTapeMarks(t *testing.T) {
	for _, c := range tapeRows {
		var out bytes.Buffer
		_, err := Mirror(strings.NewReader(c.in), &out, Options{Map: flipY("100")})
		_, read := motion.Walk(strings.NewReader(c.in), motion.Options{}, nil)
		if c.at == "" {
			if err != nil || read != nil || out.String() != c.out {
				t.Errorf("%s: %v, %v\n%q, want\n%q", c.name, err, read, out.String(), c.out)
			}
			continue
		}
		for by, err := range map[string]error{"mirror": err, "motion": read} {
			var f *fault.Error
			if !errors.As(err, &f) || f.No || fmt.Sprintf("%d:%d", f.Line, f.Col) != c.at {
				t.Errorf("%s: %s says %v, want a fault at %s", c.name, by, err, c.at)
			}
		}
		if out.Len() > 0 {
			t.Errorf("%s: written: %q", c.name, out.String())
		}
	}
}

// TestNoMotion: a program that moves nothing is no program to mirror, and nothing that
// was looked through.
func TestNoMotion(t *testing.T) {
	const want = "no motion found, expected a part program; hint: is this the right file?"
	for _, in := range []string{"", "\n", "(only a comment)\n", "%\n%\n", "G21 G90\nM30\n", "O1\nM3 S9000\nG4 P1\nM5\nM30\n", "G92 X0\nM2\n"} {
		var out bytes.Buffer
		_, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("100")})
		_, read := motion.Walk(strings.NewReader(in), motion.Options{}, nil)
		for by, err := range map[string]error{"mirror": err, "motion": read} {
			if err == nil || err.Error() != want {
				t.Errorf("%q: %s says %v", in, by, err)
			}
		}
		if out.Len() > 0 {
			t.Errorf("%q: written: %q", in, out.String())
		}
	}
}
