package registration

import (
	"slices"
	"testing"
)

// G10 L2 P1 to P9 set G54 to G59.3 (NISTIR 6556, 3.5.5).
func TestOffsetNumbers(t *testing.T) {
	for n, name := range []string{"", "G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"} {
		if got := OffsetNumber(name); got != n {
			t.Errorf("%q is P%d, want %d", name, got, n)
		}
	}
	if got := Offsets(false); len(got) != 6 || got[5] != "G59" {
		t.Errorf("%v", got)
	}
	all := Offsets(true)
	if len(all) != 9 || all[8] != "G59.3" {
		t.Errorf("%v", all)
	}
	all[0] = "changed" // a copy
	if Offsets(false)[0] != "G54" {
		t.Error("the list of offsets can be changed from outside")
	}
}

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
	six := Offsets(false)
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
