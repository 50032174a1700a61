package transform

import "testing"

// Names, P numbers and codes name the same nine offsets (NISTIR 6556, 3.5.13).
func TestOffsets(t *testing.T) {
	for i, code := range []int{540, 550, 560, 570, 580, 590, 591, 592, 593} {
		name := OffsetNames(true)[i]
		if OffsetCode(name) != code || OffsetName(code) != name || OffsetNumber(name) != i+1 {
			t.Errorf("%s: code %d, name of %d %s, P%d", name, OffsetCode(name), code, OffsetName(code), OffsetNumber(name))
		}
	}
	for _, name := range []string{"", "G53", "G60", "g54", "G59.4", "G54.1 P2", "G054"} {
		if OffsetCode(name) != 0 || OffsetNumber(name) != 0 {
			t.Errorf("%q: code %d, P%d", name, OffsetCode(name), OffsetNumber(name))
		}
	}
	for text, code := range map[string]int{"G54": 540, " g59.2 ": 592, "G54.1 P2": 541_002, "g54p12": 541_012, "G54.1 P999": 541_999,
		"": 0, "54": 0, "G53": 0, "G54.1": 0, "G54.1 P0": 0, "G54 P1000": 0, "G55 P1": 0, "G54 P": 0, "G54 P1.5": 0} {
		if got := ReadOffset(text); got != code {
			t.Errorf("%q: %d, want %d", text, got, code)
		}
	}
	if n := len(OffsetNames(false)); n != 6 {
		t.Errorf("%d offsets on a plain control", n)
	}
	OffsetNames(true)[0] = "changed"
	if OffsetNames(false)[0] != "G54" {
		t.Error("the list of offsets can be changed from outside")
	}
	if got := OffsetName(MoreOffsets + 12); got != "G54.1 P12" {
		t.Error(got)
	}
}
