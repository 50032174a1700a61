package registration

import (
	"fmt"
	"slices"
	"testing"

	"flipcalc/mirror/transform"
)

func TestParseOffset(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"G54", "G54"}, {" g59.2 ", "G59.2"}, {"G59", "G59"},
	} {
		if got, err := ParseOffset(test.text); err != nil || got != test.want {
			t.Errorf("%q: %s, %v", test.text, got, err)
		}
	}
	for _, text := range []string{"", "54", "G53", "G59.4", "G540", "G54.1"} {
		if got, err := ParseOffset(text); err == nil {
			t.Errorf("%q: %s", text, got)
		}
	}
}

func TestFirstFree(t *testing.T) {
	six := transform.OffsetNames(false)
	for i := range six {
		if got := FirstFree(false, six[:i]...); got != six[i] {
			t.Errorf("after %v: %s", six[:i], got)
		}
	}
	if got := FirstFree(false, six...); got != "" {
		t.Errorf("all taken: %s", got)
	}
	if got := FirstFree(true, six...); got != "G59.1" {
		t.Errorf("extended: %s", got)
	}
	// Whatever is taken, the two offsets of an answer are free and differ.
	for mask := range 1 << 6 {
		var taken []string
		for i, o := range six {
			if mask>>i&1 == 1 {
				taken = append(taken, o)
			}
		}
		q := board()
		q.Taken, q.Offset = taken, FirstFree(false, taken...)
		if q.Offset == "" {
			continue
		}
		a, err := Solve(q)
		if len(taken) == 5 {
			if err == nil {
				t.Errorf("taken %v: %s", taken, a.Second.Offset)
			}
			continue
		}
		if err != nil {
			t.Errorf("taken %v: %v", taken, err)
			continue
		}
		if o := a.Second.Offset; o == a.Question.Offset || slices.Contains(taken, o) || slices.Contains(taken, a.Question.Offset) {
			t.Errorf("taken %v: %s and %s", taken, a.Question.Offset, o)
		}
	}
}

// An offset that the control hasn't, or that is taken, is refused, with those that are left
// but for the job's own.
func TestUsable(t *testing.T) {
	for _, c := range []struct {
		name     string
		extended bool
		taken    []string
		want     string
	}{
		{"G54", false, nil, ""},
		{"G59.1", true, []string{"G54"}, ""},
		{"G59.1", false, nil, "G59.1 is an offset that not every control has, expected G54 to G59; hint: if the control has G59.1 to G59.3: extended = true in the machine file"},
		{"G55", false, []string{"G54", "G55", "G58"}, "G55 is taken for plates, expected a free offset; hint: free: G57, G59"},
		{"G54", false, transform.OffsetNames(false), "G54 is taken for plates, expected a free offset; hint: none is free"},
	} {
		err := Usable(c.name, c.extended, " for plates", c.taken, "G56")
		if got := fmt.Sprint(err); err == nil && c.want != "" || err != nil && got != c.want {
			t.Errorf("%s of %v: %s\nwant %s", c.name, c.taken, got, c.want)
		}
	}
}
