package words

import (
	"strings"
	"testing"

	"flipcalc/mirror"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// Every kind of finding has words of its own and says what to do.
func TestEveryFindingHasWords(t *testing.T) {
	codes := codesIn(t, "../../mirror/cut", func(file, name string) bool { return file == "finding.go" && strings.HasPrefix(name, "Code") })
	if len(codes) < 10 {
		t.Fatalf("only %d codes found", len(codes))
	}
	for name, code := range codes {
		text, do := Finding(cut.Finding{Code: cut.Code(code), Count: 3}, 1, "mm", "pin 1", "30,20")
		if do == "" || strings.HasPrefix(text, strings.ReplaceAll(code, "-", " ")+";") {
			t.Errorf("%s: %q, do %q", name, text, do)
		}
		if !strings.Contains(text, "of 3") {
			t.Errorf("%s: %q doesn't say how many", name, text)
		}
	}
}

// A part under 10 mm wide takes no screw; a groove that falls short is told with both
// readings, of one side or of both.
func TestRemediesFitTheFinding(t *testing.T) {
	for _, c := range []struct {
		f        cut.Finding
		text, do string
		never    string
	}{
		{cut.Finding{Code: cut.CodeLoose, Amount: 5}, "comes loose", "Screw or tape there", "clamp it"},
		{cut.Finding{Code: cut.CodeLoose, Amount: 3.84}, "comes loose", "clamp it: 7.7 mm is too narrow", "Screw or tape"},
		{cut.Finding{Code: cut.CodeUnproven, Amount: 1.2346, Limit: 2}, "web not proven, too many cuts: at least 1.234 mm, 2 mm asked for", "fewer programs at a time", "less deep"},
		{cut.Finding{Code: cut.CodeTravel, Index: 0, Amount: 3}, "travel of X by 3 mm at 0 mm", "if X runs past 0, give its least and greatest", "shorter tool"},
		{cut.Finding{Code: cut.CodeTravel, Index: 1, Amount: 3, Limit: 400}, "travel of Y by 3 mm at 400 mm", "move the station", "least and greatest"},
		{cut.Finding{Code: cut.CodeTravel, Index: 2, Amount: 3, Limit: -110}, "travel of Z by 3 mm at -110 mm", "use a shorter tool", "least and greatest"},
		{cut.Finding{Code: cut.CodeShort, Side: cut.Face, Amount: 0.7, Limit: 2}, "face: the groove around a part isn't through: 0.7 mm left, web of 2 mm asked for", "cut deeper. For a web: cut less deep", "less deep, or move"},
		{cut.Finding{Code: cut.CodeShort, Side: cut.Both, Amount: 0.7}, "don't: 0.7 mm left", "cut one of them deeper. For a web:", "asked for"},
	} {
		text, do := Finding(c.f, 1, "mm", "pin 1", "30,20")
		if !strings.Contains(text, c.text) || !strings.Contains(do, c.do) || strings.Contains(do, c.never) {
			t.Errorf("%+v: %q, do %q", c.f, text, do)
		}
	}
}

// A web of 1/16 in is asked for as 0.0625, not 0.062; controls in inches show four places.
func TestInchesInFourPlaces(t *testing.T) {
	text, _ := Finding(cut.Finding{Code: cut.CodeWeb, Amount: 1.27, Limit: 1.5875}, 1/25.4, "in", "", "")
	if text != "web too thin: 0.05 in left, 0.0625 in asked for" {
		t.Error(text)
	}
}

func TestOneOfAKind(t *testing.T) {
	for n, want := range map[string]string{"1": "1 cutting chain changes between climb and conventional: --reverse-cuts tries to turn it round",
		"3": "3 cutting chains change between climb and conventional: --reverse-cuts tries to turn them round"} {
		if got := Note(mirror.OtherSide, []string{n}, transform.MM); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for what, want := range map[string]string{"12": "a hole of 12 mm can be tight", "H7/m6": "H7/m6 can be tight"} {
		if got := Fact(budget.FitTight{Of: what, Least: d("-0.1"), Most: d("0.1")}, transform.MM); !strings.HasPrefix(got, want+": ") {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The pins of a cut are the dowels, or the plug and what clocks it.
func TestPinNames(t *testing.T) {
	dowels, plug := &registration.Answer{Question: registration.Question{Register: registration.Dowels, Pins: make([]registration.Pin, 2)}}, &registration.Answer{Question: registration.Question{Register: registration.Plug}}
	for i, want := range []string{"dowel 1", "dowel 2"} {
		if got := Pin(dowels, i); got != want {
			t.Errorf("pin %d is %s, want %s", i, got, want)
		}
	}
	for i, want := range []string{"the plug", "the index pin"} {
		if got := Pin(plug, i); got != want {
			t.Errorf("pin %d on a plug is %s, want %s", i, got, want)
		}
	}
}
