package words

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// thin is a web of 0.7 mm where 2 mm were asked for.
var thin = cut.Thin{Where: cut.Where{Side: cut.Both}, Left: 0.7, Asked: 2}

// findings are one of each kind, its words and what to do; "" where only their length is tested.
var findings = []struct {
	is       cut.Finding
	text, do string
}{
	{&cut.PinCut{Where: cut.Where{Depth: 3}, Into: 1}, "face: the cutter runs 1 mm into the index pin, 3 mm below its top", ""},
	{&cut.FenceCut{Where: cut.Where{Side: cut.Back, Depth: 3}, Into: 1}, "back: the cutter runs 1 mm into the near fence, 3 mm below its top", ""},
	{&cut.NoGoEntered{Into: 1}, "face: the cutter enters no-go area 1 by 1 mm", ""},
	{&cut.BedCut{Into: 0.8, Allowed: 0.5}, "face: cut 0.8 mm into the bed, 0.5 mm allowed", ""},
	{&cut.RapidInStock{Where: cut.Where{Depth: 3.5}}, "face: a rapid move runs 3.5 mm deep through stock", ""},
	{&cut.ShankInStock{Where: cut.Where{Depth: 3}, Flute: 5}, "face: stock stands 3 mm above the flutes, which are 5 mm long", ""},
	{&cut.VeeOverCone{Where: cut.Where{Depth: 1.8}, Cone: 5.196}, "face: a vee goes 1.8 mm deeper than its cone, 5.196 mm high", ""},
	{&cut.SpindleStopped{}, "", ""},
	{&cut.TravelExceeded{Axis: 0, By: 3}, "face: leaves the travel of X by 3 mm at 0 mm", "move the station; if X runs past 0, give its least and greatest [at, machine]"},
	{&cut.TravelExceeded{Axis: 0, By: 3, Moved: -12.5}, "face: leaves the travel of X by 3 mm at 0 mm", "check corrections: in all they move the zero by -12.5 mm in X; else move the station [corrections, at]"},
	{&cut.TravelExceeded{Axis: 1, By: 3, End: 400}, "face: leaves the travel of Y by 3 mm at 400 mm", "move the station [at]"},
	{&cut.TravelExceeded{Axis: 2, By: 3, End: -110}, "face: leaves the travel of Z by 3 mm at -110 mm", "move the station, or use a shorter tool [at, stick-out]"},
	{&cut.WrongOffset{Offset: 550}, "face: a move under G55, which isn't its station's offset", ""},
	{&cut.NotFollowed{Why: cut.NotRotated}, "face: G68 without X and Y, so this move is left out: controls differ", ""},
	{&cut.PlaceUnknown{}, "", ""},
	{&cut.Compensated{Why: cut.CompTight, Radius: 3}, "face: cutter compensation not followed: an inside corner or arc is tighter than 3 mm", ""},
	{&cut.OffBlank{By: 12, Axis: 1}, "face: a cut runs 12 mm off the blank in Y", ""},
	{&cut.MostlyOffBlank{By: 12}, "face: most cuts run off the blank, up to 12 mm in X", ""},
	{&cut.SkimShort{Off: 0.5, Said: 3}, "face: a place of the top is only 0.5 mm lower, not 3 mm", ""},
	{&cut.SkimUnsaid{Off: 0.5}, "face: all of the top is 0.5 mm lower or more, not 0 mm", ""},
	{&cut.CellsCoarse{Tool: 7, Diameter: 0.5, Cell: 0.5, Shown: 0.20713}, "cells of 0.5 mm are too large for tool 7, 0.5 mm wide: some cuts go unseen", "check a smaller blank, or with cell 0.207 mm if memory allows"},
	{&cut.BrokenThrough{Overlap: 2, Area: 36}, "broken through: face and back overlap 2 mm, hole of 36 mm2", "cut one side less deep, or move one of the two. If meant: through = [\"30,20\"]"},
	{&cut.BrokenOut{By: cut.Face, Overlap: 2, Area: 36}, "broken through: the face comes out on the bed side by 2 mm, hole of 36 mm2", ""},
	{&cut.BrokenOut{By: cut.Back, Overlap: 2, Area: 36}, "broken through: the back comes out on the face by 2 mm, hole of 36 mm2", ""},
	{&cut.ScantOverlap{Overlap: 0.2, Asked: 0.5}, "face and back overlap 0.2 mm, at least 0.5 mm asked for", ""},
	{&cut.OutlineCount{Number: cut.Number{Found: 1, Declared: 2}}, "1 outline cut through, 2 expected", ""},
	{&cut.OutlineCount{Number: cut.Number{Found: 0, Declared: 1, Left: 0.38}}, "0 outlines cut through, 1 expected: the deepest blind cut leaves 0.38 mm", "cut deeper where it should go through, or correct the number [through]"},
	{&cut.OpeningCount{Number: cut.Number{Found: 5, Declared: 4}}, "5 openings cut through, 4 expected", "find the wrong one, or correct the number [through]"},
	{&cut.OutlinesMissed{Apart: 60}, "outlines of one size on face and back are 60 mm apart and miss", ""},
	{&cut.HolesMissed{Apart: 60}, "holes of one size on face and back are 60 mm apart and miss", ""},
	{&cut.WallStep{Step: 0.5, Allowed: 0.1}, "step of 0.5 mm in the wall of a through cut, 0.1 mm allowed", ""},
	{&cut.BoresApart{Apart: 0.5, Allowed: 0.1}, "the bores of a stepped hole are 0.5 mm apart, 0.1 mm allowed", ""},
	{&cut.GroovesShort{Thin: thin}, "cuts that should meet don't: 0.7 mm left between face and back", "cut one of them deeper. For a web: cut less deep, or take a thicker blank [stock, measured, web]"},
	{&cut.StretchShort{Left: 0.3, Length: 29}, "a through cut falls short by 0.3 mm along 29 mm, more than a tab", ""},
	{&cut.PlaceShort{Left: 0.7}, "not cut through where it should be: 0.7 mm left", ""},
	{&cut.ShortAtTolerance{Left: 0.4, Tolerance: 0.5}, "face and back meet by 0.1 mm, but at worst 0.4 mm is left", ""},
	{&cut.JustMeets{}, "", ""},
	{&cut.LedgeLeft{Height: 0.8}, "face: a ledge of up to 0.8 mm is left at the bottom of a helix", ""},
	{&cut.TabLow{Height: 0.5, Least: 0.6}, "tab of 0.5 mm is too low, at least 0.6 mm", ""},
	{&cut.TabDoubtful{Height: 0.8, Off: 0.9}, "tab of 0.8 mm may not be there: at worst 0.9 mm missing", ""},
	{&cut.TabHangs{Width: 0.4, Least: 3}, "tab hangs on loose waste 0.4 mm wide, at least 3 mm", ""},
	{&cut.WebThin{Thin: thin}, "web too thin: 0.7 mm left, 2 mm asked for", ""},
	{&cut.WebThinAtTolerance{Thin: thin}, "worst-case web too thin: 0.7 mm left, 2 mm asked for", ""},
	{&cut.WebThinAtTolerance{}, "at worst the two sides meet", "cut less deep, measure the blank, or take a closer fit [measured, fit, tolerance, web]; deeper where it should go through"},
	{&cut.WebUnproven{Thin: cut.Thin{Left: 1.2346, Asked: 2}}, "web not proven, too many cuts: at least 1.234 mm, 2 mm asked for", "check fewer programs at a time"},
	{&cut.WallThin{Thin: thin}, "wall between face and back too thin: 0.7 mm left, 2 mm asked for", ""},
	{&cut.WallThinAtTolerance{Thin: thin}, "worst-case wall too thin: 0.7 mm left, 2 mm asked for", ""},
	{&cut.WallThinAtTolerance{}, "at worst a cut of the back meets one of the face beside it", ""},
	{&cut.TurnedWeb{Thin: thin}, "web of the freely turning part too thin: 0.7 mm left, 2 mm asked for", ""},
	{&cut.TurnedHole{Off: 15}, "a hole from both sides is 15 mm off the plug's center. The part turns freely, so its halves miss", ""},
	// A part under 10 mm wide takes no screw.
	{&cut.PartLoose{Area: 100, Clear: 5}, "face: a part of 100 mm2 comes loose", "leave tabs, or hold it. Screw or tape there: held = [\"30,20\"]. Vacuum: held = \"all\""},
	{&cut.PartLoose{Area: 100, Clear: 5, Also: [][2]float64{{2.504, 40}}}, "face: a part of 100 mm2 comes loose", "leave tabs, or hold it. Screw or tape there: held = [\"30,20\", \"2.5,40\"]. Vacuum: held = \"all\""},
	{&cut.PartLoose{Area: 100, Clear: 3.84}, "face: a part of 100 mm2 comes loose", "leave tabs, or clamp it: 7.7 mm is too narrow for a screw. Clamp or tape there: held = [\"30,20\"]. Vacuum: held = \"all\""},
	{&cut.CutOnTabs{}, "", ""},
	{&cut.MarginSevered{}, "the face cuts off the margin with the index pin, which the back needs", ""},
	{&cut.BoreBroken{Where: cut.Where{Depth: 5}}, "the face cuts 5 mm deep into the wall of the bore", ""},
	{&cut.HoleBroken{Where: cut.Where{Depth: 5}}, "the face cuts 5 mm deep into the wall of the hole of the index pin", ""},
	{&cut.EdgeMachined{Where: cut.Where{Depth: 6}, Edge: cut.NearEdge, Along: 35.5}, "the face cuts 6 mm into the near edge, along 35.5 mm: the back touches there", ""},
}

// TestEveryFindingHasWords: each struct of the findings has a sentence of its own and says what
// to do, how many there are, and that in no more than 15 words.
func TestEveryFindingHasWords(t *testing.T) {
	tree, err := parser.ParseFile(token.NewFileSet(), "../../mirror/cut/kind.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var missing []string
	ast.Inspect(tree, func(n ast.Node) bool {
		if ts, ok := n.(*ast.TypeSpec); ok && !slices.Contains([]string{"Unfollowed", "CompFault", "Thin", "Number"}, ts.Name.Name) {
			missing = append(missing, "*cut."+ts.Name.Name)
		}
		return true
	})
	if len(missing) < 47 {
		t.Fatalf("only %d kinds found", len(missing))
	}
	met := map[string]string{"fence-cut": "the near fence", "no-go-entered": "no-go area 1"}
	said := map[string]string{}
	for _, f := range findings {
		kind := reflect.TypeOf(f.is).String()
		missing = slices.DeleteFunc(missing, func(name string) bool { return name == kind })
		text, do := Finding(f.is, 1, "mm", cmp.Or(met[f.is.Code()], "the index pin"), "30,20")
		if text == "" || do == "" || f.text != "" && text != f.text || f.do != "" && do != f.do {
			t.Errorf("%s: %q, do %q, want %q, do %q", kind, text, do, f.text, f.do)
		}
		if other := said[text]; other != "" && other != kind {
			t.Errorf("%s says what %s says: %q", kind, other, text)
		}
		said[text] = kind
		f.is.At().Count = 3
		if text, _ = Finding(f.is, 1, "mm", "", ""); !strings.HasSuffix(text, " of 3") {
			t.Errorf("%s: %q doesn't say how many", kind, text)
		}
		for _, s := range append(long(text), long(do)...) {
			t.Errorf("%s: %s", kind, s)
		}
	}
	if len(missing) > 0 {
		t.Errorf("no words are tested for %s", strings.Join(missing, ", "))
	}
}

// Each reason has words of its own, and what has no name has none.
func TestReasonsHaveWords(t *testing.T) {
	seen := map[string]bool{}
	for why := range cut.CompPlace + 2 {
		text, do := uncompensated(why, "3 mm")
		if (text != "" && do != "") != (why <= cut.CompPlace) || text != "" && seen[text] || len(long(text))+len(long(do)) > 0 {
			t.Errorf("compensation %d: %q, do %q", why, text, do)
		}
		seen[text] = true
	}
	for why := range cut.NotCounted + 2 {
		text, do := unfollowed(why)
		if (text != "" && do != "") != (why <= cut.NotCounted) || text != "" && seen[text] || len(long(text))+len(long(do)) > 0 {
			t.Errorf("not followed %d: %q, do %q", why, text, do)
		}
		seen[text] = true
	}
}

// What the maker may decide is told with a lower weight; all else stops the job. A web that
// isn't proven is a warning where what is left at least is more than was asked for, and more
// than nothing; a step where the back may be off by as much.
func TestWeights(t *testing.T) {
	web := func(left, asked float64) cut.Finding {
		return &cut.WebUnproven{Thin: cut.Thin{Left: left, Asked: asked}}
	}
	for _, c := range []struct {
		is   cut.Finding
		want cut.Weight
	}{
		{web(1.2, 2), cut.Stop}, {web(0, 0), cut.Stop}, {web(0.1, 0), cut.Warn}, {web(2.1, 2), cut.Warn},
		{&cut.WallStep{Step: 0.11, Allowed: 0.1}, cut.Stop}, {&cut.WallStep{Step: 0.1, Allowed: 0.1}, cut.Warn},
		{&cut.BoresApart{Apart: 0.11, Allowed: 0.1}, cut.Stop}, {&cut.BoresApart{Apart: 0.1, Allowed: 0.1}, cut.Warn},
		{&cut.SkimShort{Off: 0.485, Said: 0.5, Ridge: 0.05}, cut.Warn}, {&cut.SkimShort{Off: 0.44, Said: 0.5, Ridge: 0.05}, cut.Stop},
	} {
		if got := c.is.Weight(); got != c.want {
			t.Errorf("%+v: %d, want %d", c.is, got, c.want)
		}
	}
	warn := []string{"cut-on-tabs", "through-just-meets", "skim-unsaid", "vee-over-cone"}
	for _, f := range findings {
		if got := f.is.Weight(); (got == cut.Warn) != slices.Contains(warn, f.is.Code()) {
			t.Errorf("%T weighs %d", f.is, got)
		}
	}
}

// A web of 1/16 in is asked for as 0.0625, not 0.062; controls in inches show four places.
func TestInchesInFourPlaces(t *testing.T) {
	text, _ := Finding(&cut.WebThin{Thin: cut.Thin{Left: 1.27, Asked: 1.5875}}, 1/25.4, "in", "", "")
	if text != "web too thin: 0.05 in left, 0.0625 in asked for" {
		t.Error(text)
	}
}

func TestOneOfAKind(t *testing.T) {
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
