package cycle

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/testdata/trace"
)

// leavings are programs that leave what they can behind them: feed modes, planes, units,
// cycles, G91, compensation, stops. Each calls tools 1 and 2 with H1 and H2. | ends a block.
var leavings = []struct{ name, text string }{
	{"feed a turn", "G21 G90 G95|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F0.1|X9|G0 Z5|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1|Y7|M30"},
	{"inverse time", "G21 G90 G94|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F80|G93 X9 F2|G2 X11 I1 F4|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1 F3|M30"},
	{"G18 left", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G18 G3 X11 Z5 I5 K0 F90|G2 X1 R-6|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|G2 X8 R4|M30"},
	{"G19 left, G91 tail", "G21 G90|T2 M6|S3000 M3|G43 H2 G0 Z5|X1 Y1|G19 G2 Y11 Z5 J5 K0 F90|T1 M6|S900 M3|G43 H1 G0 Z6|X2 Y2|G91 G3 Y6 R4|G1 X1 Z-1|M2"},
	{"inches, rounded corners", "G20 G90 G64 P0.002|T1 M6|S3000 M3|G43 H1 G0 Z.5|X.1 Y.1|G1 Z-.05 F10|X.5|G0 Z.5|T2 M6|S900 M3|G43 H2 G0 Z.6|X.2 Y.2|G1 Z-.1 F4|Y.4|G0 Z.6|M30"},
	{"a cycle left running", "G21 G90 G99|T1 M6|S3000 M3|G43 H1 G0 Z5|G83 X1 Y1 Z-4 R2 Q1.5 F60|X4|T2 M6|S900 M3|G43 H2 G0 Z6|G98 G82 X2 Y2 R1 Z-3 P0.5|Y8|M30"},
	{"holes counted in G91", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G91 G81 X2 Y1 Z-5 R-3 L3 F60|T2 M6|S900 M3|G90 G43 H2 G0 Z6|X2 Y2|G91 G1 Z-7|X3|M30"},
	{"compensation left on", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G42 D7 X5|Y9|G40 X12|G0 Z5|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1 F50|G41 D2 X8|Y9|M30"},
	{"absolute centres, all coolant, M4", "G21 G90 G90.1 G61|T2 M6|S3000 M4 M7|M8|G43 H2 G0 Z5|X1 Y1|G1 Z-1 F90|G2 X5 Y1 I3 J1|I3 J1|T1 M6|S900 M3|G43 H1 G0 Z6|X2 Y2|G3 X2 Y2 Z-2 I5 J2 F50|M30"},
	{"T ahead of its M6", "G21 G90|T1 M6|T2|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|X5|G0 Z5|M6|T1|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1|Y7|S950|X8|G0 Z9|M30"},
	{"blocks that may be deleted", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|/X7 Y1|/2 X3 Y9|X5 Y5|G0 Z5|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|/M0|G1 Z-1|Y7|G0 Z6|M30"},
	{"% in comments, numbers, its own offset", "%|O0100 (100% OAK)|N1 G21 G90 G57|N2 T1 M6|N3 S3000 M3|N4 G43 H1 G0 Z5 (50%)|N5 X1 Y1|N6 G1 Z-1 F90|N7 G57 X5 T2|N8 G0 Z5|N9 T2 M6|N10 S900 M3|N11 G43 H2 G0 Z6|N12 X2 Y2|N13 G1 Z-1|N14 Y7|N15 G0 Z6 M30|%"},
	{"dwells", "G21 G90|T1 M6|S3000 M3|G4 P2|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G4 P0.5|X5|G0 Z5|M5|G4 P3|T2 M6|S900 M3|G4 X1.5|G43 H2 G0 Z6|X2 Y2|G1 Z-1|Y7|M30"},
	{"home between", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G91 G28 Z0|G90|T2 M6|S900 M3|G0 X2 Y2|G43 H2 Z6|G1 Z-1|G53 G0 Z-1|X7|G43 H2 Z6|G1 Z-1|G91 G28 Z0|M30"},
	{"a stop with the spindle off, to measure", "G21 G90|T1 M6|S3000 M3 M8|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G0 Z5|M5|M9|M60 (MEASURE)|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1|G0 Z6|M9|M5|M1|M30"},
	{"a stop at the change, the spindle not on yet", "G21 G90|T1 M6|M60 (6 MM FLAT)|S3000 M3|M8|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G0 Z5|T2 M6|M1|S900 M3|G43 H2 G0 Z6|X2 Y2|G1 Z-1|G0 Z6|M30"},
	{"stops before the tool, and under one that cuts nothing", "G21 G90|M0 (CLAMPS ON)|T2 M6|S3000 M3|G43 H2 G0 Z5|X1 Y1|G1 Z-1 F90|G0 Z5|M5|T9 M6|M1 (BRUSH)|T1 M6|S900 M3|G43 H1 G0 Z6|X2 Y2|G1 Z-1|G0 Z6|M30"},
	{"G49 on the way home, M3 beside a move", "G21 G90 G40 G80 G49|T1 M6|S3000|M3 G0 X1 Y1 F90|G43 H1|Z5 M8|G1 Z-1|X9 F70|G0 Z5 M9|G91 G28 G49 Z0|T2 M6|G90 G0 X2 Y2 S900 M3|G43 H2 Z6|G1 Z-1|G3 X4 I1|G0 Z6|G49 G53 G0 Z0|M30"},
	{"places in one block, a plunge from above", "G21 G90|T2 M6 S3000 M3|G0 X1 Y1|G43 H2|G1 Z-1 F90|X9|G0 Z5|G40 G17 G80 G98|T1 M6 S900 M3|G0 G43 H1 X2 Y2 Z6|G1 Z-1|M5|S950|M3|X7|G0 Z6|X0 Y0 Z8 M30"},
	{"inches in the middle", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 X1 Y1 Z5|G1 Z-1 F90|X9|G20 G1 Y.5 F4|G21 G0 Z5|T2 M6|S900 M3|G43 H2 G0 X2 Y2 Z6|G1 Z-1 F80|Y7|G0 Z6|G20|G0 X.5|M30"},
	{"one tool called twice, other cuts between", "G21 G90|T1 M6|S3000 M3 M8|G43 H1 G0 X1 Y1 Z5|G1 Z-1 F90|X9|G0 Z5|M9|G64 G4 P1|T2 M6|S900 M4|G43 H2 G0 X2 Y2 Z6|G1 Z-1 F80|Y7|G0 Z6|M5|T1 M6|S2000 M3|X3 Y3|G43 H1 Z5|G1 Z-2|X4|G0 Z5|M5|T1 M6|M3|X6|Z4|G1 Z-1|M30"},
	{"slashes before what switches", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|/M8|X1 Y1|G1 Z-1 F90|X9|/M9|/2 S2000|X12|/S3000|G0 Z5|/M5|T2 M6|S900 M3|G43 H2 G0 Z6|X2 Y2|/M7|G1 Z-1|/M1|G0 Z6|M9|/M0|M30"},
	{"the machine's places first, all off with the end", "G21 G90|T1 M6|G53 G0 Z0|S3000 M3 M8|G0 X1 Y1|G43 H1 Z5|G1 Z-1 F90|X9|G0 Z5|G53 X400 Y5|T2 M6|G28|S900 M3|G43 H2 G0 X2 Y2|Z6|G1 Z-1|M8|Y7|G0 Z6|M5 M9 M30"},
	{"home in X and Y, on with the end", "G21 G90|T1 M6|G91 G28 Z0|G90|S3000 M3 M7|G0 X1 Y1|G43 H1 Z5|G1 Z-1 F90|X9|G0 Z5|G91 G28 X0 Y0|G90 G0 X3 Y3|G1 Z-2|G0 Z5|T2 M6|S900 M3|G43 H2 G0 X2 Y2|Z6|G1 Z-1|Y7|G0 Z6|G30|M4 M8 M2"},
	{"stops between cuts", "G21 G90|T1 M6|S3000 M3|G43 H1 G0 Z5|X1 Y1|G1 Z-1 F90|G0 Z5|M5 M0|S3000 M3|X5|G1 Z-1|G0 Z5 M9|T2 M6|S900 M3 M8|G43 H2 G0 Z6|X2 Y2|G1 Z-1|G0 Z6|M5|M1|M3|X5|G1 Z-1|G0 Z6|M30"},
}

// zeros of four stations, no two at one height, and tool lengths; spindle, mm.
var (
	seamZeros   = map[string][3]float64{"G54": {100, 50, -160}, "G55": {300, 50, -150}, "G56": {100, 250, -172.5}, "G58": {300, 250, -155}}
	seamLengths = map[int]float64{1: 60, 2: 85}
)

// The clear height, and how far it may be rounded up in inches of four decimals.
const seamClear, seamRounding = -5, 0.00254

// TestSeams: each of the leavings beside each of the others, on two pairs. A second reading
// of the text (package trace) finds at each station what the station's program does by
// itself: cuts, holes, dwells and stops, with all that is in force. Between stations the tool is
// up; it is changed, and the program ends, up and with nothing running (common practice).
func TestSeams(t *testing.T) {
	for i, face := range leavings {
		for j, back := range leavings {
			if testing.Short() && (i+j)%3 > 0 {
				continue
			}
			o := one(strings.ReplaceAll(face.text, "|", "\n"), strings.ReplaceAll(back.text, "|", "\n"))
			if o.Order = Order(i / 2 % 2); o.Order == ByStations {
				o.Pause, o.Park = "M0", &Place{X: *d("3.5"), Y: *d("390")}
			}
			o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G56"}, Back: Station{Offset: "G58"}})
			r, err := Merge(o)
			if err != nil {
				t.Errorf("%s, %s: %v", face.name, back.name, err)
				continue
			}
			for k, text := range texts(r) {
				bad := seams(o, text, [2]bool{k < 2, k > 0}, false)
				if bad == "" && strings.Contains(text, "\n/") {
					bad = seams(o, text, [2]bool{k < 2, k > 0}, true)
				}
				if bad != "" {
					t.Errorf("%s, then %s, program %d: %s", face.name, back.name, k, bad)
				}
			}
		}
	}
}

// TestSeamsOfSeveral: a side of three programs, each from its own beginning.
func TestSeamsOfSeveral(t *testing.T) {
	source := func(i int) Source {
		c := leavings[i%len(leavings)]
		return Source{Name: c.name, Text: []byte(strings.ReplaceAll(c.text, "|", "\n"))}
	}
	for i := range leavings {
		o := one("", "")
		o.Face, o.Back = source(i), source(i+1)
		o.Back.Then = []Source{source(i + 2), source(i + 5)}
		r, err := Merge(o)
		if err != nil {
			t.Errorf("%s: %v", leavings[i].name, err)
			continue
		}
		for k, text := range texts(r) {
			if bad := seams(o, text, [2]bool{k < 2, k > 0}, false); bad != "" {
				t.Errorf("from %s on, program %d: %s", leavings[i].name, k, bad)
			}
		}
	}
}

// TestOldNumbers: an opening repeats the feed and the path mode that its piece goes by; a number
// that was given in other units or as another kind of feed is none to repeat, since controls
// differ on what it means (common practice, from memory).
func TestOldNumbers(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"a feed of mm in inches", "X9\n", "G20 X1\n", "face.nc:7:1: a cut at an F that was given under G21 and G94, expected F again under G20 and G94"},
		{"the same over a tool change", "M5\n", "M5\nG20\nT1 M6\nS900 M3\nG43 H1 G0 Z.5\nX1\nG1 Y1\n", "face.nc:15:1: a cut at an F that was given under G21 and G94"},
		{"a feed a minute as one a turn", "X9\n", "G95 X9\n", "face.nc:7:1: a cut at an F that was given under G21 and G94, expected F again under G21 and G95"},
		{"its own feed", "X9\n", "G20 X1 F9\nG95 X2 F.01\nG94 G21 X9 F90\n", ""},
		{"a path of mm in inches", "M5\n", "M5\nG64 P.05\nG20\nT1 M6\nS900 M3\nG43 H1 G0 Z.5\nX1\nG1 Y1 F9\n", "face.nc:14:1: a tolerance of the path that was given under G21, expected G64 with P again"},
		{"a path given again", "M5\n", "M5\nX25.4 Y25.4\nG64 P.05\nG20\nT1 M6\nG64 P.002\nS900 M3\nG43 H1 G0 Z.5\nX1\nG1 Y1 F9\n", ""},
	} {
		_, err := Merge(one(strings.Replace(plate, c.old, c.new, 1), plate))
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.HasPrefix(err.Error(), c.want)) {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
	}
}

// TestToolsByHand: T alone changes no tool on most controls (common practice); M6 does, or stops
// for the hand that does.
func TestToolsByHand(t *testing.T) {
	alone := strings.Replace(plate, "T1 M6", "T1", 1)
	for _, c := range []struct{ face, back, want string }{
		{alone, strings.NewReplacer("T1", "T2", "H1", "H2").Replace(alone), "back.nc:1:1: tool 2 behind another, without M6"},
		{alone, strings.NewReplacer("T1", "T2 M6", "H1", "H2").Replace(alone), ""},
		{alone, alone, ""},
	} {
		r, err := Merge(one(c.face, c.back))
		switch {
		case c.want != "" && (err == nil || !strings.HasPrefix(err.Error(), c.want)), c.want == "" && err != nil:
			t.Errorf("got %v, want %q", err, c.want)
		case err == nil && strings.Contains(c.back, "T2") && (!strings.Contains(string(r.Steady.Text), "T1 M6") || !strings.Contains(string(r.Steady.Text), "T2 M6")):
			t.Errorf("a tool isn't changed:\n%s", r.Steady.Text)
		}
	}
}

// TestStopForATool: hands put in what a stop's comment names, so that tool cuts next.
func TestStopForATool(t *testing.T) {
	second := "S900 M3\nG43 H2 G0 Z5\nX1 Y1\nG1 Z-1 F90\nG0 Z5\nM30\n"
	const want = "face.nc:11:1: a stop beside a comment that names another tool"
	for _, c := range []struct{ name, stop, want string }{
		{"beside M0", "G53 Z0\nM0 (INSERT T2)\nT2 M6\n", want},
		{"beside M1, spelt out", "(CUTTER)\nM1 (tool 02, 3 mm)\nT2 M6\n", want},
		{"over M0", "(INSERT T2)\nM0\nT2 M6\n", want},
		{"behind M6", "G53 Z0\nT2 M6\nM0 (INSERT T2)\n", ""},
		{"of this tool", "G53 Z0\nM0 (BRUSH T1)\nT2 M6\n", ""},
	} {
		r, err := Merge(one(strings.Replace(plate, "M30\n", c.stop+second, 1), plate))
		switch {
		case c.want != "" && (err == nil || !strings.HasPrefix(err.Error(), c.want)), c.want == "" && err != nil:
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		case c.name == "behind M6" && strings.Index(string(r.Steady.Text), "M0 (INSERT T2)") < strings.Index(string(r.Steady.Text), "T2 M6"):
			t.Errorf("%s: the stop stands before the change:\n%s", c.name, r.Steady.Text)
		}
	}
}

// bare are programs of one tool that is put in by hand, without lengths, so that the way
// between stations can be written in work offsets.
var bare = []struct{ name, text string }{
	{"plain", "G21 G90|S3000 M3|G0 Z5|X1 Y1|G1 Z-1 F90|X9|G0 Z5|M5|M30"},
	{"inches", "G20 G90|S900 M3|G0 X.1 Y.1 Z.2|G1 Z-.1 F9|Y.3|G0 Z.2|M2"},
	{"a cycle left running, G91", "G21 G90|S3000 M3 M8|G0 X1 Y1 Z5|G99 G81 X2 Y2 R1 Z-3 F60|G91 X3 R0 Z-4 L2|M30"},
	{"a stop, then inches", "G21 G90|M0 (ON)|S3000 M3|G0 X1 Y1 Z5|G1 Z-1 F90|G0 Z5|M5|M1|M3|G20 X.5|G1 Z-.2 F9|M30"},
	{"G18, compensation left on", "G21 G90|S3000 M3|G0 X1 Y1 Z5|G18 G2 X9 R4 F90|G17 G1 Z-1|G41 D1 X20|Y9|M30"},
}

// TestSeamsWithoutG53: the same without moves in machine coordinates.
func TestSeamsWithoutG53(t *testing.T) {
	for _, face := range bare {
		for _, back := range bare {
			o := one(strings.ReplaceAll(face.text, "|", "\n"), strings.ReplaceAll(back.text, "|", "\n"))
			o.G53, o.Order = false, ByStations
			o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G56"}, Back: Station{Offset: "G58"}})
			for i := range o.Pairs {
				for _, s := range []*Station{&o.Pairs[i].Face, &o.Pairs[i].Back} {
					s.ZeroZ = d(fmt.Sprint(seamZeros[s.Offset][2]))
				}
			}
			r, err := Merge(o)
			if err != nil {
				t.Errorf("%s, %s: %v", face.name, back.name, err)
				continue
			}
			for k, text := range texts(r) {
				if bad := seams(o, text, [2]bool{k < 2, k > 0}, false); bad != "" {
					t.Errorf("%s, then %s, program %d: %s", face.name, back.name, k, bad)
				}
			}
		}
	}
}

// doing are the steps that a station's program is known by.
func doing(steps []trace.Step) (out []trace.Step) {
	for _, s := range steps {
		still := s.Cuts() && s.Machine[0] == s.Machine[1] && s.Code == "G1"
		if (s.Cuts() || s.Code == "G4" || s.Code == "M0" || s.Code == "M1" || s.Code == "M60") && !still {
			out = append(out, s)
		}
	}
	return out
}

// seams says what is wrong with a merged program that cuts the sides that are named.
func seams(o Options, text string, sides [2]bool, skip bool) string {
	read := trace.Options{Zeros: seamZeros, Lengths: seamLengths, Skip: skip}
	all := trace.Run(text, read)
	if o.Pause != "" && sides == [2]bool{true, true} { // where it pauses: aside, up and off
		at := slices.IndexFunc(all, func(s trace.Step) bool { return s.Code == "G53" && s.Machine[1][0] == 3.5 })
		p := &all[at+1]
		if p.Code != "M0" || p.Spindle != 0 || p.Mist || p.Flood || !(math.Abs(all[at].Machine[1][2]-seamClear) < seamRounding) {
			return fmt.Sprintf("line %d: hands go in while not all is up and off\n%s", p.Line, text)
		}
		all = slices.Delete(all, at, at+2)
	}
	for _, pair := range o.Pairs {
		for side, station := range []Station{pair.Face, pair.Back} {
			alone := read
			alone.Zeros = map[string][3]float64{}
			for _, name := range []string{"G54", "G57"} {
				alone.Zeros[name] = seamZeros[station.Offset]
			}
			source := []Source{o.Face, o.Back}[side]
			var want, got []trace.Step
			for _, src := range source.all() {
				if sides[side] {
					want = append(want, doing(trace.Run(string(src.Text), alone))...)
				}
			}
			for _, s := range doing(all) {
				if s.Offset == station.Offset {
					got = append(got, s)
				}
			}
			for i := range max(len(want), len(got)) {
				if i >= len(want) || i >= len(got) {
					return fmt.Sprintf("%s: %d steps, want %d", station.Offset, len(got), len(want))
				}
				if !sameStep(turnedStep(want[i], station.Turn), got[i], station.Turn) {
					return fmt.Sprintf("%s: step %d is\n%v, want\n%v\n%s", station.Offset, i+1, &got[i], &want[i], text)
				}
			}
		}
	}
	var last *trace.Step
	for i := range all {
		s := &all[i]
		up := math.Abs(s.Machine[0][2]-seamClear) < seamRounding
		switch {
		case s.Code == "M6":
			if last == nil || !(math.Abs(last.Machine[1][2]-seamClear) < seamRounding) || s.Mist || s.Flood || s.Spindle != 0 {
				return fmt.Sprintf("line %d: a tool is changed while not all is up and off\n%s", s.Line, text)
			}
		case len(s.Path) == 0 || s.Code == "G53" || s.Code == "G28" || s.Code == "G30":
		case last != nil && last.Offset != s.Offset && !(up && math.Abs(s.Machine[1][2]-s.Machine[0][2]) < 1e-9 && s.Code == "G0"):
			return fmt.Sprintf("line %d: from %s to %s not at the clear height\n%s", s.Line, last.Offset, s.Offset, text)
		}
		if len(s.Path) > 0 {
			last = s
		}
	}
	off := strings.Contains(text, "M5\nM9\nM") || strings.Contains(text, "M5\nM") || o.Park != nil && last.Spindle == 0 && !last.Mist && !last.Flood
	if !off || !(math.Abs(last.Machine[1][2]-seamClear) < seamRounding) {
		return "it doesn't end up and off\n" + text
	}
	return ""
}

// sameStep compares a step of a station's own program with one of the merged; dwells by their
// tool, stops by what runs then. Where the station is turned a curve's path says what it is.
func sameStep(want, got trace.Step, turn int) bool {
	switch {
	case !want.Cuts():
		return want.Code == got.Code && want.Words == got.Words && (want.Code == "G4" && want.Tool == got.Tool ||
			want.Spindle == got.Spindle && want.Mist == got.Mist && want.Flood == got.Flood)
	case turn == 0:
		return want.Same(&got, 1e-9)
	case want.Code == "G2" || want.Code == "G3":
		want.Code = got.Code
	}
	want.Plane = got.Plane
	return want.Same(&got, 0.00216)
}

// TestNoWayIsMissing: the ways across the bed, from the places of a second reading: to where
// tools are changed, home, to a place of the machine, to another station, and from there.
func TestNoWayIsMissing(t *testing.T) {
	change, home, park := [2]float64{10, 390}, [2]float64{5, 7}, [2]float64{0, 400}
	n := 0
	for i, face := range leavings {
		o := one(strings.ReplaceAll(face.text, "|", "\n"), strings.ReplaceAll(leavings[(i+3)%len(leavings)].text, "|", "\n"))
		place := func(p [2]float64) *Place { return &Place{X: *d(fmt.Sprint(p[0])), Y: *d(fmt.Sprint(p[1]))} }
		o.Ways, o.Change, o.Home, o.Park, o.Order = true, place(change), place(home), place(park), Order(i%2)
		for _, s := range []*Station{&o.Pairs[0].Face, &o.Pairs[0].Back} {
			zero := seamZeros[s.Offset]
			s.ZeroX, s.ZeroY, s.ZeroZ = d(fmt.Sprint(zero[0])), d(fmt.Sprint(zero[1])), d(fmt.Sprint(zero[2]))
		}
		r := merge(t, o)
		known := map[string]bool{}
		for _, w := range r.Ways {
			if w.Program == 1 {
				known[fmt.Sprintf("%.4f,%.4f to %.4f,%.4f", w.From[0].InexactFloat64(), w.From[1].InexactFloat64(), w.At[0].InexactFloat64(), w.At[1].InexactFloat64())] = true
			}
		}
		at, offset := [2]float64{math.NaN(), math.NaN()}, "" // "" for a place of the machine
		for _, s := range trace.Run(string(r.Steady.Text), trace.Options{Zeros: seamZeros, Lengths: seamLengths}) {
			to, name := [2]float64{s.Machine[1][0], s.Machine[1][1]}, s.Offset
			switch {
			case s.Code == "M6":
				to, name = change, ""
			case s.Code == "G28" || s.Code == "G30":
				if s.Home[0] || s.Home[1] {
					to, name = home, ""
				}
			case len(s.Path) == 0 || !s.Named[0] && !s.Named[1]:
				continue
			case s.Code == "G53":
				name = ""
			}
			for a, v := range to {
				if math.IsNaN(v) { // the axis isn't named
					to[a] = at[a]
				}
			}
			if to == at {
				continue
			}
			if way := fmt.Sprintf("%.4f,%.4f to %.4f,%.4f", at[0], at[1], to[0], to[1]); at[0] == at[0] && (name == "" || offset != name) {
				if n++; !known[way] {
					t.Errorf("%s: line %d leads from %s, not among %v\n%s", face.name, s.Line, way, known, r.Steady.Text)
					break
				}
			}
			at, offset = to, name
		}
	}
	if n < 100 {
		t.Errorf("only %d ways", n)
	}
}

// TestRestartAfterAnyLine: a program is broken off behind any of its lines and run on from any
// of its restarts, with all that the control then has in force: from there on it does what the
// whole program does.
func TestRestartAfterAnyLine(t *testing.T) {
	read := trace.Options{Zeros: seamZeros, Lengths: seamLengths}
	runs := 0
	for i, face := range leavings {
		o := one(strings.ReplaceAll(face.text, "|", "\n"), strings.ReplaceAll(leavings[(i+7)%len(leavings)].text, "|", "\n"))
		r := merge(t, o)
		lines := strings.SplitAfter(string(r.Steady.Text), "\n")
		whole := trace.Run(string(r.Steady.Text), read)
		for _, at := range r.Steady.Restarts {
			from := slices.IndexFunc(whole, func(s trace.Step) bool { return s.Line >= at.Line })
			for broken := i % 5; broken < len(lines); broken += 5 {
				got := trace.Run(strings.Join(append(slices.Clone(lines[:broken]), lines[at.Line-1:]...), ""), read)
				got = got[max(0, len(got)-len(whole)+from):]
				runs++
				for k, want := range whole[from:] {
					same := len(got) == len(whole)-from && want.Code == got[k].Code
					switch {
					case same && want.Cuts():
						same = want.Same(&got[k], 1e-9)
					case same:
						for a, v := range want.Machine[1] {
							if w := got[k].Machine[1][a]; math.Abs(v-w) > 1e-9 && want.Code != "G53" {
								same = false
							}
						}
					}
					if !same {
						t.Fatalf("%s: broken off behind line %d, on from line %d:\n%v, want\n%v\n%s", face.name, broken, at.Line, &got[k], &want, r.Steady.Text)
					}
				}
			}
		}
	}
	if runs < 500 {
		t.Errorf("only %d runs", runs)
	}
}

// TestTurnedSeams: each of the leavings at stations turned by a quarter, a half and three
// quarters does there what it does by itself, turned about its zero; beside it a station
// that isn't turned. Curves by R may lie off by 0.00085 mm (plain/prove.go), in inches by 25.4/10
// as much.
func TestTurnedSeams(t *testing.T) {
	for i, face := range leavings {
		back := leavings[(i+5)%len(leavings)]
		for quarters := 1; quarters < 4; quarters++ {
			o := one(strings.ReplaceAll(face.text, "|", "\n"), strings.ReplaceAll(back.text, "|", "\n"))
			o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G56", Turn: quarters}, Back: Station{Offset: "G58", Turn: quarters}})
			for _, s := range []*Source{&o.Face, &o.Back} {
				var out bytes.Buffer
				turn := transform.Identity(transform.MM).Turned(*d(fmt.Sprint(90 * quarters)))
				if _, err := mirror.Mirror(bytes.NewReader(s.Text), &out, mirror.Options{Map: turn}); err != nil {
					t.Fatalf("%s: %v", s.Text, err)
				}
				s.Turned[quarters] = out.Bytes()
			}
			r, err := Merge(o)
			if err != nil {
				t.Errorf("%s, then %s, by %d: %v", face.name, back.name, 90*quarters, err)
				continue
			}
			for k, text := range texts(r) {
				bad := seams(o, text, [2]bool{k < 2, k > 0}, false)
				if bad == "" && strings.Contains(text, "\n/") {
					bad = seams(o, text, [2]bool{k < 2, k > 0}, true)
				}
				if bad != "" {
					t.Errorf("%s, then %s, by %d, program %d: %s", face.name, back.name, 90*quarters, k, bad)
				}
			}
		}
	}
}

// turnedStep turns what a step does by quarters, counter-clockwise.
func turnedStep(s trace.Step, quarters int) trace.Step {
	path := slices.Clone(s.Path)
	for i := range path {
		for range quarters {
			path[i][0], path[i][1] = -path[i][1], path[i][0]
		}
	}
	s.Path = path
	return s
}
