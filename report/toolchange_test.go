package report

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/registration"
)

// Z that was touched off with one tool holds for another only where lengths are called
// (NISTIR 6556, 3.5.11: without G43 the offset alone counts). Where a program goes on
// with one for which it doesn't, the steps have Z touched off anew before it is tried and
// run, behind what went before, or at its stop, or forbid the program, and a caution at the top forbids it too.
func TestToolChanges(t *testing.T) {
	bare := func(tool, line int) motion.Stint { return motion.Stint{Tool: tool, Line: line} }
	long := func(tool, line int) motion.Stint { return motion.Stint{Tool: tool, Line: line, Length: true} }
	stop := func(tool, line int) motion.Stint { return motion.Stint{Tool: tool, Line: line, Stop: line + 1} }
	optional := func(tool, line int) motion.Stint {
		return motion.Stint{Tool: tool, Line: line, Stop: line + 1, Optional: true}
	}
	program := func(name string, stints ...motion.Stint) Program {
		role, offset := "mirrored", "G55"
		if strings.HasPrefix(name, "face") {
			role, offset = "face", "G54"
		}
		return Program{Name: name, Role: role, Offset: offset, Stints: stints}
	}
	const top, forbid = "Don't run as written: ", "Don't run "
	for _, r := range []struct {
		name     string
		once     bool
		programs []Program
		order    []string
		lack     []string
	}{
		{"one tool", false, []Program{program("face.nc", bare(1, 3)), program("back.nc", bare(1, 3))},
			[]string{"Touch off G54 in Z alone with T1 (its first tool)", "touch off G54 in Z alone on it with T1"}, []string{top, forbid, "anew", "settle the change"}},
		{"lengths", false, []Program{program("face.nc", long(1, 3), long(2, 9)), program("back.nc", long(3, 3), long(2, 9))},
			[]string{"Touch off G54 in Z alone with G43 active"}, []string{top, forbid, "anew", "settle the change"}},
		{"no stop", false, []Program{program("face.nc", bare(1, 3), bare(2, 13)), program("back.nc", bare(1, 3))},
			[]string{"Touch off G54 in Z alone with T1", "Face: hold, touch off, dry run: Don't run face.nc as it is: at line 13 Z is wrong for T2", top + "face.nc changes to T2 at line 13", "Dry run the face",
				"Run the face program (face.nc): settle the change to T2 in face.nc first.", "Run: ", "settle the change to T2 in face.nc first"}, []string{"Don't run back.nc"}},
		{"a stop", false, []Program{program("face.nc", bare(1, 3), stop(2, 13)), program("back.nc", bare(1, 3))},
			[]string{"At line 13 face.nc changes to T2", "At the stop, line 14 (M0), touch off G54 in Z anew with T2, on uncut top. Raise the tool", "On the next blank touch off with T1 first", "Dry run the face",
				"Run the face program (face.nc): Z anew with T1, tool raised, before face.nc; Z anew with T2 at the stop, line 14 of face.nc.", "Run: ", "touch off G54 in Z alone on it with T1", "Z anew with T2 at the stop, line 14"}, []string{top, forbid}},
		{"a stop, touched off once", true, []Program{program("face.nc", bare(1, 3), stop(2, 13)), program("back.nc", bare(1, 3))},
			[]string{"Z is touched off once", "At line 13 face.nc changes to T2", "Run: ", "touch off G54 in Z alone on it with T1", "run the face program", "run the back program"}, []string{top, forbid, "touch off Z of G55"}},
		{"an optional stop", false, []Program{program("face.nc", bare(1, 3), optional(2, 13))}, []string{"At the stop, line 14 (M1: switch the optional stop on)"}, []string{top, forbid}},
		{"a length for the second alone", false, []Program{program("face.nc", bare(1, 3), long(2, 13))},
			[]string{"Don't run face.nc as it is", "It was touched off without the length that is called"}, nil},
		{"the back", false, []Program{program("face.nc", bare(1, 3)), program("back.nc", bare(1, 3), bare(2, 20))},
			[]string{"Touch off G55 in Z alone with T1", "Turn over: Don't run back.nc as it is: at line 20", top, "Dry run the back", "Cut the back of one piece (back.nc): settle", "Run: "}, []string{"Don't run face.nc"}},
		{"two programs on the back", false, []Program{program("face.nc", bare(1, 3)), program("back-a.nc", bare(3, 3)), program("back-b.nc", bare(2, 3))},
			[]string{"Touch off G55 in Z alone with T3", "Dry run the back program (back-a.nc) above", "Before back-b.nc: touch off G55 in Z anew with T2", "Z is for T3 so far", "Dry run the back program (back-b.nc) above",
				"Cut the back of one piece (back-a.nc and back-b.nc): Z anew with T3, tool raised, before back-a.nc; Z anew with T2, tool raised, before back-b.nc.", "Cut a second piece and measure it. Touch off Z anew for each tool", "touch off G55 in Z alone on it with T3"}, []string{top, forbid}},
		{"two programs on the face of two pairs", false, []Program{program("face-1a.nc", bare(1, 3)), program("face-1b.nc", bare(2, 3)), {Name: "face-2a.nc", Role: "face", Offset: "G57", Stints: []motion.Stint{bare(1, 3)}}, {Name: "face-2b.nc", Role: "face", Offset: "G57", Stints: []motion.Stint{bare(2, 3)}}},
			[]string{"Dry run the face program (face-1a.nc and face-2a.nc)", "Before face-1b.nc and face-2b.nc: touch off each one's offset in Z anew with T2", "Dry run the face program (face-1b.nc and face-2b.nc)",
				"Run the face program (face-1a.nc, face-1b.nc, face-2a.nc and face-2b.nc): Z anew with T1, tool raised, before face-1a.nc and face-2a.nc; Z anew with T2, tool raised, before face-1b.nc and face-2b.nc."}, []string{top, forbid}},
		{"one tool in two programs", false, []Program{program("face.nc", bare(1, 3)), program("back-a.nc", bare(2, 3)), program("back-b.nc", bare(2, 3))},
			[]string{"Dry run the back program (back-a.nc and back-b.nc)", "Cut the back of one piece (back-a.nc and back-b.nc)."}, []string{top, forbid, "anew"}},
		{"touched off once, another tool on the back", true, []Program{program("face.nc", bare(1, 3)), program("back.nc", bare(2, 3))},
			[]string{"Z is touched off once", "Before back.nc: touch off G55 in Z anew with T2", "Dry run the back"}, []string{top}},
		{"pairs", false, []Program{program("face-1.nc", bare(1, 3), bare(2, 13)), {Name: "face-2.nc", Role: "face", Offset: "G57", Stints: []motion.Stint{bare(1, 3), bare(2, 13)}}},
			[]string{"Don't run face-1.nc and face-2.nc as they are: at line 13 Z is wrong for T2", top + "face-1.nc and face-2.nc change to T2 at line 13."}, []string{"Before face-2.nc"}},
		{"no tool named", false, []Program{program("face.nc", bare(-1, 3)), program("back.nc", bare(-1, 3))}, []string{"Touch off G54 in Z alone"}, []string{top, forbid, "anew"}},
	} {
		s := Setup{Checklist: true, Programs: r.programs, Answer: solved(t, func(q *registration.Question) {
			if r.once {
				q.TouchOff = registration.TouchOffOnce
			}
		})}
		got := text(s.Steps())
		inOrder(t, r.name, got, r.order...)
		for _, w := range r.lack {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q in\n%s", r.name, w, got)
			}
		}
		forbidden := strings.Contains(got, forbid)
		if first := s.Cautions()[0]; (first.Code == "tool-change") != forbidden {
			t.Errorf("%s: forbidden %v, and the first caution is %q", r.name, forbidden, first.Text)
		}
	}
}

// Each drill whose length isn't called has its own touch-off, dry run and drilling, in
// the bed and in the blank; those whose lengths are called share one.
func TestDrillsAreTouchedOff(t *testing.T) {
	s := drilledSetup()
	two := func(where, name, z string) {
		for i, dia := range []string{"6", "5"} {
			d := Drilling{Name: name + dia + ".nc", Where: where, Offset: "G54", Holes: []Drilled{{Pin: i + 1, From: d(z), Bottom: d("-19"), Dia: d(dia), Tool: drill(i + 1)}}}
			s.Pins.Drilling = append(s.Pins.Drilling, d)
			s.Programs = append(s.Programs, Program{Name: d.Name, Role: "drilling", Lowest: dp("-19"), Stints: []motion.Stint{{Tool: i + 1, Line: 3}}})
		}
	}
	s.Pins.Drilling = nil
	two("blank", "pins-blank-", "0")
	two("bed", "pins-bed-", "-12")
	inOrder(t, "no lengths", text(s.Steps()), "Touch the bare bed with the drill of 6 mm (T1), spindle stopped. Set Z", "Drill the bed bare", "Dry run the drilling of the bed", "Drill the bed: pins-bed-6.nc (G54).",
		"Touch the bare bed with the drill of 5 mm (T2), spindle stopped. Set Z", "Dry run the drilling of the bed", "Drill the bed: pins-bed-5.nc (G54).", "Lay a blank flat",
		"on this blank's top with the drill of 6 mm (T1). Set 0", "Drill the blank: pins-blank-6.nc", "on this blank's top with the drill of 5 mm (T2). Set 0", "Drill the blank: pins-blank-5.nc", "Fit dowel 1", "Touch off G54")
	for i := range s.Programs {
		for k := range s.Programs[i].Stints {
			s.Programs[i].Stints[k].Length = true
		}
	}
	got := text(s.Steps())
	inOrder(t, "lengths", got, "Touch the bare bed with the drill, spindle stopped. Set Z", "Drill the bed: pins-bed-6.nc (G54) and pins-bed-5.nc (G54).", "Drill the blank: pins-blank-6.nc (G54) and pins-blank-5.nc (G54).")
	if n := strings.Count(got, "Touch the bare bed"); n != 1 {
		t.Errorf("touched %d times:\n%s", n, got)
	}
}

// The machine Z that was reckoned is that of the tool of the face: another one, whose
// length nothing calls, touches off at another Z, so that none is expected of it.
func TestExpectedZIsOfOneTool(t *testing.T) {
	for _, c := range []struct {
		name       string
		face, back motion.Stint
		want       int // expectations in the steps
		second     string
	}{
		{"one tool", motion.Stint{Tool: 1, Line: 3}, motion.Stint{Tool: 1, Line: 3}, 2, "(expect Z-80)"},
		{"another tool", motion.Stint{Tool: 1, Line: 3}, motion.Stint{Tool: 2, Line: 3}, 1, ""},
		{"lengths called", motion.Stint{Tool: 1, Line: 3, Length: true}, motion.Stint{Tool: 2, Line: 3, Length: true}, 2, "(expect Z-80)"},
	} {
		s := Setup{Checklist: true, StickOut: true, Reading: [2]*decimal.Decimal{dp("-80"), dp("-80")}, Answer: markerAnswer(), Programs: []Program{
			{Name: "face.nc", Role: "face", Offset: "G54", Stints: []motion.Stint{c.face}},
			{Name: "back.nc", Role: "mirrored", Offset: "G55", Stints: []motion.Stint{c.back}}}}
		if n := strings.Count(text(s.Steps()), "Expect machine Z-80 mm at Z0. If more than 1.2 mm off, stop"); n != c.want {
			t.Errorf("%s: expected %d times", c.name, n)
		}
		_, plan := s.inShort()
		if seat := strings.Join(plan, "\n"); strings.Contains(seat, "Z-80") != (c.second != "") || !strings.Contains(seat, c.second) {
			t.Errorf("%s: page one: %q", c.name, seat)
		}
	}
}
