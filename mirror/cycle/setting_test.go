package cycle

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

func ExampleStoreOffsets() {
	text, err := StoreOffsets([]Setting{
		{Offset: "G55", X: dec("3.5"), Y: dec("17.2"), Z: d("-40")},
		{Offset: "G59", X: dec("153.50000"), Y: dec("17.23456")},
	}, SettingOptions{Comment: "row markers: offsets G55 and G59. Note the old values first"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(string(text))
	// Output:
	// (row markers: offsets G55 and G59. Note the old values first)
	// G90
	// G21
	// G10 L2 P2 X3.500 Y17.200 Z-40.000
	// G10 L2 P6 X153.500 Y17.23456
	// M2
}

// P1 is G54 and P9 is G59.3; a value is a machine coordinate (NISTIR 6556, 3.5.5:
// G10 L2 P1 x3.5 y17.2 sets the origin of system 1 to (3.5, 17.2)).
func TestProgramNumbers(t *testing.T) {
	var all []Setting
	for _, n := range transform.OffsetNames(true) {
		all = append(all, Setting{Offset: n, X: dec("1.5"), Y: dec("-2")})
	}
	text, err := StoreOffsets(all, SettingOptions{Unit: transform.Inch, Extended: true})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	if lines[0] != "G90" || lines[1] != "G20" {
		t.Errorf("opens with %q", lines[:2])
	}
	for i := range transform.OffsetNames(true) {
		if want := fmt.Sprintf("G10 L2 P%d X1.5000 Y-2.0000", i+1); lines[i+2] != want {
			t.Errorf("%s: %s, want %s", transform.OffsetNames(true)[i], lines[i+2], want)
		}
	}
}

func TestProgramRefuses(t *testing.T) {
	one := func(o string) []Setting { return []Setting{{Offset: o}} }
	rows := []struct {
		settings []Setting
		o        SettingOptions
		want     string
	}{
		{nil, SettingOptions{}, "no offsets to set, expected at least one"},
		{one("G53"), SettingOptions{}, `offset "G53", expected an offset that the control has, G54, G55, G56, G57, G58, G59`},
		{one("G59.1"), SettingOptions{}, `offset "G59.1", expected an offset that the control has, G54, G55, G56, G57, G58, G59`},
		{one("G55"), SettingOptions{Taken: []string{"G54", "G55"}}, "G55, which belongs to something else, expected a free offset"},
		{append(one("G55"), one("G55")...), SettingOptions{}, "G55 a second time, expected each offset once"},
		{one("G55"), SettingOptions{Comment: "a (b"}, "a comment with '(', expected plain characters without parentheses"},
		{one("G55"), SettingOptions{Comment: "a\nG0 Z-5"}, `a comment with '\n', expected plain characters without parentheses`},
		{one("G55"), SettingOptions{Comment: strings.Repeat("a", 255)}, "a comment of 255 characters, expected at most 254"},
	}
	for _, r := range rows {
		text, err := StoreOffsets(r.settings, r.o)
		var f *fault.Error
		if text != nil || !errors.As(err, &f) || err.Error() != r.want {
			t.Errorf("got  %v\nwant %s", err, r.want)
		}
	}
}

func TestCheck(t *testing.T) {
	if got := OverZero("G56", transform.MM, d("-5")); !slices.Equal(got, []string{"G90 G21", "G53 G0 Z-5.000", "G56", "G0 X0. Y0."}) {
		t.Errorf("%q", got)
	}
	if got := OverZero("G54", transform.Inch, nil); !slices.Equal(got, []string{"G90 G20", "G54", "G0 X0. Y0."}) {
		t.Errorf("%q", got)
	}
}

// Every number of a right program is changed, every line is taken out, one at a time. The
// proof catches each, but for G90, in which this control starts.
func TestSettingMutants(t *testing.T) {
	settings := []Setting{{Offset: "G55", X: dec("3.5"), Y: dec("17.2"), Z: d("-40")}, {Offset: "G59", X: dec("153.5"), Y: dec("17.2")}}
	text, err := StoreOffsets(settings, SettingOptions{})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(text), "\n")
	number := regexp.MustCompile(`[0-9]+`)
	made := 0
	try := func(i int, line string) {
		made++
		mutant := strings.Join(lines[:i], "") + line + strings.Join(lines[i+1:], "")
		if err := proveSettings([]byte(mutant), settings, transform.MM); err == nil {
			t.Errorf("not caught: %q for %q", line, lines[i])
		}
	}
	for i, line := range lines[:len(lines)-1] {
		if line != "G90\n" {
			try(i, "")
		}
		try(i, line+"G0 Z-5\n")
		for _, at := range number.FindAllStringIndex(line, -1) {
			if line != "M2\n" {
				try(i, line[:at[0]]+"1"+line[at[0]:])
			}
		}
	}
	t.Logf("%d mutants caught", made)
}
