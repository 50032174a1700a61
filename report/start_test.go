package report

import (
	"strings"
	"testing"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// A blank of 120 x 80 turned like a page: a tool that stood at the near-left corner
// of the face comes to stand at the near-right one (derived, a sheet of paper
// shows it).
func TestStartOnBlank(t *testing.T) {
	page := func(name string) *registration.Answer {
		return solved(t, func(q *registration.Question) {
			q.Zero = registration.Zero{Name: name}
			q.BackZero = registration.Zero{}
		})
	}
	for _, test := range []struct {
		zero, axis, was, is, unit string
		back                      bool
		want                      string
	}{
		{"near-left", "X", "0", "120", "mm", true, "120 mm to the right of the back zero, over the blank's right edge as it then lies"},
		{"near-left", "Y", "0", "0", "mm", true, "level with the back zero, over the blank's near edge as it then lies"},
		{"near-left", "Y", "80", "80", "mm", true, "80 mm away from you from the back zero, over the blank's far edge as it then lies"},
		{"near-left", "X", "10", "110", "mm", true, "110 mm to the right of the back zero"},
		{"near-left", "X", "60", "60", "mm", true, "60 mm to the right of the back zero, over the middle between the blank's left and right edges"},
		{"near-left", "Z", "5", "5", "mm", true, "5 mm above the back zero"},
		{"center", "X", "60", "-60", "mm", true, "60 mm to the left of the back zero, over the blank's left edge as it then lies"},
		{"center", "Y", "-40", "-40", "mm", true, "40 mm towards you from the back zero, over the blank's near edge as it then lies"},
		// Half of 120 mm is no finite number of inches, so no inch value lies there.
		{"center", "X", "-2.3", "2.3", "in", true, "2.3 in to the right of the back zero"},
		{"near-left", "X", "0", "0", "mm", false, "level with the face zero, over the blank's left edge as it then lies"},
	} {
		a := page(test.zero)
		m := Mirrored{Map: a.Transform, Notes: []Note{{Code: mirror.ZeroHere, Values: []string{test.axis, test.was, test.is, test.unit}}}}
		head := "G92 calls the tool's place " + test.axis + test.was + " on the face, " + test.axis + test.is + " (" + test.unit +
			") on the back: before the back starts, the tool must stand at the mirror image of the face's start, "
		if !test.back {
			m.Map = transform.Identity(transform.MM)
			head = "G92 calls the tool's place " + test.axis + test.is + " (" + test.unit + "): before the start the tool must stand "
		}
		m.StartOn(a, test.back)
		if got := m.Notes[0].Text; got != head+test.want {
			t.Errorf("%s %s%s: %q\nwant %q", test.zero, test.axis, test.was, got, head+test.want)
		}
	}
}

// Wood moves across the grain (Wood Handbook, chapter 4); a locator's error is
// named by the axis along which it acts.
func TestBudgetTermsNameTheirAxis(t *testing.T) {
	for _, test := range []struct {
		term budget.Term
		want string
	}{
		{budget.Term{Name: budget.Wood, Axis: "x"}, " across the grain, along Y"},
		{budget.Term{Name: budget.Wood, Axis: "y"}, " across the grain, along X"},
		{budget.Term{Name: budget.Locator, Axis: "x"}, ", along X"},
		{budget.Term{Name: budget.Locator, Axis: "y"}, ", along Y"},
		{budget.Term{Name: budget.Locator}, ""},
		{budget.Term{Name: budget.Seating, Axis: "fence"}, ", the fence"},
	} {
		if got := axisWords(test.term); got != test.want {
			t.Errorf("%s %s: %q, want %q", test.term.Name, test.term.Axis, got, test.want)
		}
	}
	// A blank of 120 x 80 has its grain along X, so its width moves along Y.
	a := solved(t, nil)
	r, err := budget.Of(a.Question, budget.Options{Wood: "beech"})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range BudgetOf(r, a.Question).Terms {
		if strings.HasPrefix(term.Name, "movement of the wood") && (term.X != 0 || term.Y == 0 || !strings.HasSuffix(term.Name, "along Y")) {
			t.Errorf("%q moves X%g Y%g", term.Name, term.X, term.Y)
		}
	}
}

func TestOneOfAKind(t *testing.T) {
	for n, want := range map[string]string{"1": "1 cutting chain changes between climb and conventional: --reverse-cuts turns it round",
		"3": "3 cutting chains change between climb and conventional: --reverse-cuts turns them round"} {
		if got := NoteWords(Note{Code: mirror.OtherSide, Values: []string{n}}, transform.MM); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for what, want := range map[string]string{"12": "a hole of 12 mm can be tight", "H7/m6": "H7/m6 can be tight"} {
		if got := sayCode(budgetSentences, budget.FactTight, []string{what, "-0.1", "0.1"}, transform.MM); !strings.HasPrefix(got, want+": ") {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
