package mirror

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// passRows are passes over paths: derived from what a groove needs, that all its passes are
// cut the same way.
var passRows = []struct {
	name, in string
	reversed int64
	left     []string
}{
	{"an outline, the last pass with a tab", "G0 X10 Y10\nG1 Z-1 F50\nX50\nY30\nX10\nY10\nZ-2\nX20\nZ-1\nX30\nX35 Z-2\nX50\nY30\nX10\nY10\nG0 Z5\n", 0,
		[]string{"6 9 another pass over its path can't be reversed, so all stay alike: nothing to do", "11 11 a feed leads on from its end", "13 18 a ramp"}},
	{"its first pass with a ramp", "G0 X10 Y10\nX50 Y10\nG1 X10 Z-1 F50\nX50\nY30\nX10\nY10\nG0 Z5\nX10 Y10\nG1 Z-2\nX50\nY30\nX10\nY10\nG0 Z5\n", 0,
		[]string{"6 10 a ramp", "14 17 another pass over its path can't be reversed, so all stay alike: nothing to do"}},
	{"another path beside it", "G0 X10 Y10\nX50 Y10\nG1 X10 Z-1 F50\nX50\nY30\nX10\nY10\nG0 Z5\nX10 Y10\nG1 Z-2\nX0\nY0\nX10\nY10\nG0 Z5\n", 1,
		[]string{"6 10 a ramp"}},
	{"circles, one entered by a helix", "G0 X10 Y10\nG1 Z-1 F50\nG2 X10 I5\nG0 Z5\nX10 Y10\nG2 X10 I5 Z-2\nG2 X20 I5\nG2 X10 I-5\nG0 Z5\n", 0,
		[]string{"6 6 another pass over its path can't be reversed, so all stay alike: nothing to do", "9 11 a helix"}},
	{"circles of one centre", "G0 X10 Y10\nG1 Z-1 F50\nG2 X10 I5\nG0 Z5\nX5 Y10\nG2 X5 I10 Z-2\nG2 X25 I10\nG2 X5 I-10\nG0 Z5\n", 1,
		[]string{"9 11 a helix"}},
	{"a loop that is the rest of a chain that is left", "G0 X10 Y10\nG1 Z-1 F50\nX20 M3\nX30\nY20\nX20 Y10\nG0 Z5\nX60 Y60\nG1 Z-1\nX70\nY70\nX60 Y60\nG0 Z5\n", 1,
		[]string{"6 9 other words in its block"}},
	{"passes that are related by a third", "G0 X0 Y0\nG1 Z-1 F50\nX10\nY10\nX0 Y0\nG0 Z5\nX10 Y0\nG1 Z-1\nY10\nX20\nY0\nX10\nG0 Z5\nX20 Y10\nG1 Z-1 F50\nX30 Z-2\nX20\nY0\nG0 Z5\n", 0,
		[]string{"6 8 another pass over its path can't be reversed, so all stay alike: nothing to do", "12 15 another pass over its path can't be reversed, so all stay alike: nothing to do", "19 21 a ramp"}},
}

func TestPasses(t *testing.T) {
	for _, c := range passRows {
		r, err := Mirror(strings.NewReader(reverseStart+c.in+"M30\n"), &bytes.Buffer{}, Options{Map: flipY("100"), ReverseCuts: true})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var left []string
		for _, l := range r.Left {
			left = append(left, fmt.Sprintf("%d %d %s", l.First, l.Last, l.Why))
		}
		if r.Reversed != c.reversed || fmt.Sprint(left) != fmt.Sprint(c.left) {
			t.Errorf("%s: %d reversed, left %q; want %d, %q", c.name, r.Reversed, left, c.reversed, c.left)
		}
	}
}

// TestSpokes: of many chains that share a point and nothing else, all are left with one.
func TestSpokes(t *testing.T) {
	for n, want := range map[int]int64{manyShare: manyShare - 1, manyShare + 1: 0} {
		var in strings.Builder
		for i := range n {
			fmt.Fprintf(&in, "G0 X10 Y10\nG1 Z-1 F50\nX20 Y%d\nG0 Z5\n", i)
			if i == n-1 {
				in.WriteString("X5\n") // which leaves the last
			}
		}
		r, err := Mirror(strings.NewReader(reverseStart+in.String()+"M30\n"), &bytes.Buffer{}, Options{Map: flipY("100"), ReverseCuts: true})
		if err != nil || r.Reversed != want {
			t.Errorf("%d spokes: %v, %d reversed, want %d", n, err, r.Reversed, want)
		}
	}
}

// TestClearance: where the top of the work isn't known, the rapids of an open chain must
// run as high as the highest of the program, wherever that is.
func TestClearance(t *testing.T) {
	const chain = "G0 X10 Y10\nG1 Z-1 F50\nX50\nG0 Z5\n"
	for _, c := range []struct {
		in  string
		top *decimal.Decimal
		n   int64
	}{
		{chain + "X0 Y0\n", nil, 1},
		{chain + "X0 Y0\nZ6\n", nil, 1},
		{chain + "X0 Y0\nZ6\nX1\n", nil, 0},
		{chain + "X0 Y0\nZ6\nX1\n", &decimal.Zero, 1},
		{chain + "X0 Y0\nX1 Z6\n", nil, 1},
	} {
		r, err := Mirror(strings.NewReader(reverseStart+c.in+"M30\n"), &bytes.Buffer{}, Options{Map: flipY("100"), ReverseCuts: true, Top: c.top})
		if err != nil || r.Reversed != c.n {
			t.Errorf("%q: %v, %d reversed, want %d", c.in, err, r.Reversed, c.n)
		}
	}
}

// TestReadTwice: a program is read twice from wherever it comes, and the same comes of it.
func TestReadTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	long := reverseStart + strings.Repeat("G0 X10 Y10\nG1 Z-1 F50\nX50 (and a comment that makes the program long)\nG0 Z5\n", 20_000) + "M30\n"
	for _, in := range []string{reverseStart + passRows[0].in + "M30\n", long} {
		file, err := os.CreateTemp(t.TempDir(), "")
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		file.WriteString(in)
		file.Seek(0, io.SeekStart)
		var want bytes.Buffer
		o := Options{Map: flipY("100"), ReverseCuts: true}
		if _, err := Mirror(strings.NewReader(in), &want, o); err != nil {
			t.Fatal(err)
		}
		for name, r := range map[string]io.Reader{"a file": file, "no seeker": io.MultiReader(strings.NewReader(in))} {
			var out bytes.Buffer
			if _, err := Mirror(r, &out, o); err != nil || out.String() != want.String() {
				t.Errorf("%s: %v, another program", name, err)
			}
		}
	}
}
