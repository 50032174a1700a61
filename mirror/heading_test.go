package mirror

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/fact"
)

func TestComment(t *testing.T) {
	o := Options{Map: flipY("100"), Comment: "flip y (x' = 100 - x)\nµ; dry run first"}
	line := "(flipcalc: flip y [x' = 100 - x]  ; dry run first)"
	for _, c := range []struct{ in, out string }{
		{"G0 X1\nM2\n", line + "\nG0 X99\nM2\n"},
		{"%\nO1 (marker)\n(by hand)\nG0 X1\nM2\n%\n", "%\nO1 (marker)\n" + line + "\n(by hand)\nG0 X99\nM2\n%\n"},
		{"%\r\n\r\n(by hand)\r\nG0 X1\r\nM2\r\n", "%\r\n" + line + "\r\n\r\n(by hand)\r\nG0 X99\r\nM2\r\n"},
		{"(by hand)\n\nG0 X1\nM2\n", line + "\n(by hand)\n\nG0 X99\nM2\n"},
		{"(by hand)\nO7\n(more)\nG0 X1\nM2\n", "(by hand)\nO7\n" + line + "\n(more)\nG0 X99\nM2\n"},
		{"%O1\nG0 X1\nM2\n%\n", "%O1\n" + line + "\nG0 X99\nM2\n%\n"},
	} {
		got, _, err := rewriteText(t, c.in, o)
		if err != nil || got != c.out {
			t.Errorf("%q: %v\n%q", c.in, err, got)
		}
		o2 := o
		o2.Comment = "another"
		again, _, err := rewriteText(t, got, o2)
		if want := strings.Replace(c.in, "G0 X1", "(flipcalc: another)\nG0 X1", 1); err != nil || strings.Count(again, "flipcalc") != 1 ||
			strings.Count(again, "\n") != strings.Count(want, "\n") {
			t.Errorf("%q again: %v\n%q", c.in, err, again)
		}
	}
	if n := len(commentLine(strings.Repeat("x", 400))); n != 256 { // NISTIR 6556, 3.1: a line holds at most 256 characters
		t.Errorf("a comment of %d characters", n)
	}
}

// TestMirroredAgain: a program that was mirrored before says so on the next pass, in a
// warning and in its comment; the third pass is the first.
func TestMirroredAgain(t *testing.T) {
	in := "O1\nG21 G90\nG0 X1 Y1\nM30\n"
	o := Options{Map: flipY("100"), Comment: "back of m.nc, flip y"}
	for _, bare := range []bool{false, true} {
		texts := []string{in}
		for pass := range 4 {
			var out bytes.Buffer
			r, err := Mirror(strings.NewReader(texts[pass]), &out, o)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, out.String())
			var noted []string
			for _, n := range r.Notes {
				if fact.Code(n.Is) == "already-mirrored" {
					noted = append(noted, fmt.Sprint(n.Level, n.Line))
				}
			}
			if want := map[bool]string{false: "[]", true: "[warning2]"}[pass%2 == 1]; fmt.Sprint(noted) != want {
				t.Errorf("bare %v, pass %d: notes %v, want %s", bare, pass+1, noted, want)
			}
			if bare {
				o.Comment = ""
			}
		}
		if want := "O1\n(flipcalc: back of m.nc, flip y)\nG21 G90\nG0 X99 Y1\nM30\n"; texts[1] != want || texts[3] != want {
			t.Errorf("bare %v: once %q, three times %q, want %q", bare, texts[1], texts[3], want)
		}
		if want := "O1\n(flipcalc: mirrored again, as on the face: back of m.nc, flip y)\nG21 G90\nG0 X1 Y1\nM30\n"; texts[2] != want || texts[4] != want {
			t.Errorf("bare %v: twice %q, want %q", bare, texts[2], want)
		}
	}
	// Another program's comment is replaced, without a word, where one is asked for.
	if got, r, err := rewriteText(t, "(by hand)\n(flipcalc: drilling)\nG0 X1\nM2\n", Options{Map: flipY("100"), Comment: "x"}); err != nil ||
		got != "(by hand)\n(flipcalc: x)\nG0 X99\nM2\n" || len(r.Notes) != 3 {
		t.Errorf("%v %q %v", err, got, r)
	}
	// Another program's comment is left alone where none is asked for.
	if got, _, err := rewriteText(t, "  (flipcalc: drilling \xb5) \nG0 X1\n", Options{Map: flipY("100")}); err != nil || got != "  (flipcalc: drilling \xb5) \nG0 X99\n" {
		t.Errorf("%v %q", err, got)
	}
}
