package cycle

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

func d(s string) *decimal.Decimal { v := decimal.RequireFromString(s); return &v }

// one gives the options for one pair, G54 and G55, on a machine with G53.
func one(face, back string) Options {
	return Options{Face: Source{Name: "face.nc", Text: []byte(face)}, Back: Source{Name: "back.nc", Text: []byte(back)},
		Pairs: []Pair{{Face: Station{Offset: "G54"}, Back: Station{Offset: "G55"}}}, Clear: d("-5"), G53: true}
}

func merge(t *testing.T, o Options) *Result {
	t.Helper()
	r, err := Merge(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A face with tools 1 and 2, a back with tools 2 and 3: tool 2 is called once.
const smallFace = `%
O100 (TAG, FACE)
N10 G21 G17 G90 G54
N20 T1 M6
N30 S12000 M3
N40 G0 G43 H1 Z20.
N50 X5. Y5.
N60 G1 Z-1. F200
N70 X15. F600
N80 G0 Z20.
N90 M5
N100 T2 M6
N110 S15000 M3
N120 G0 G43 H2 Z20.
N130 X10. Y8.
N140 G1 Z-2. F150
N150 G0 Z20.
N160 M5
N170 M30
%
`

const smallBack = `G21 G90 G17
T2 M6
S15000 M3
G0 G43 H2 Z20.
X2. Y2.
G1 Z-2. F150
G0 Z20.
T3 M6
S9000 M3
G0 G43 H3 Z20.
X1. Y1.
G1 Z-0.5 F100
Y6.
G0 Z20.
M5
M30
`

func ExampleMerge() {
	o := one(smallFace, smallBack)
	o.Comment, o.Marks = "tag: steady cycle, dry run first", true
	r, err := Merge(o)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(string(r.Steady.Text))
	fmt.Printf("tools %v: %d changes\n", r.Steady.Tools, r.Steady.Changes)
	// Output:
	// %
	// (tag: steady cycle, dry run first)
	// (PAIR 1 FACE, T1)
	// G21 G17 G90 G94 G40 G80
	// G53 G0 Z-5.
	// M5
	// T1 M6
	// G53 G0 Z-5.
	// G54
	// S12000 M3
	// G0 X5. Y5.
	// S12000 M3
	// G0 G43 H1 Z20.
	// X5. Y5.
	// G1 Z-1. F200
	// X15. F600
	// G0 Z20.
	// G90 G80
	// G53 G0 Z-5.
	// (PAIR 1 FACE, T2, RESTART HERE)
	// G21 G17 G90 G94 G40 G80
	// G53 G0 Z-5.
	// M5
	// T2 M6
	// G53 G0 Z-5.
	// G54
	// S15000 M3
	// G0 X15. Y5.
	// F600
	// S15000 M3
	// G0 G43 H2 Z20.
	// X10. Y8.
	// G1 Z-2. F150
	// G0 Z20.
	// G90 G80
	// G53 G0 Z-5.
	// (PAIR 1 BACK, T2)
	// G21 G17 G90 G94 G40 G80
	// G53 G0 Z-5.
	// G55
	// G0 X2. Y2.
	// S15000 M3
	// G0 G43 H2 Z20.
	// X2. Y2.
	// G1 Z-2. F150
	// G0 Z20.
	// G90 G80
	// G53 G0 Z-5.
	// (PAIR 1 BACK, T3, RESTART HERE)
	// G21 G17 G90 G94 G40 G80
	// G53 G0 Z-5.
	// M5
	// T3 M6
	// G53 G0 Z-5.
	// G55
	// S9000 M3
	// G0 X2. Y2.
	// F150
	// S9000 M3
	// G0 G43 H3 Z20.
	// X1. Y1.
	// G1 Z-0.5 F100
	// Y6.
	// G0 Z20.
	// G90 G80
	// G53 G0 Z-5.
	// M5
	// M30
	// %
	// tools [1 2 3]: 3 changes
}

// cuts interprets a program on its own and gives its cutting moves, in program
// coordinates: all of them, and those of each offset.
func cuts(t *testing.T, text []byte, o motion.Options) (all []string, got map[int][]string) {
	t.Helper()
	got = map[int][]string{}
	_, err := motion.Walk(bytes.NewReader(text), o, func(m *motion.Move) error {
		// A feed from an unknown place only brings the tool to its first one.
		still := !m.Circular() && m.FromOK == m.ToOK && m.From.Equal(m.To)
		if m.Kind != motion.Rapid && m.FromOK[0] && m.FromOK[1] && !still {
			all = append(all, show(m))
			got[m.State.Offset] = append(got[m.State.Offset], show(m))
		}
		return nil
	})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return all, got
}

// show writes everything that matters of a cutting move but the offset. A spindle that
// stands still has no speed.
func show(m *motion.Move) string {
	s := m.State
	if s.Spindle == 0 {
		s.Speed = motion.Num{}
	}
	return fmt.Sprintf("%d T%d H%d %s %s S%s%+d F%s/%d %v>%v c%v r%v %v n%d comp%d cool%d cyc%d", m.Kind, s.Tool, s.Length, s.Unit, s.Plane, s.Speed, s.Spindle,
		s.Feed, s.FeedMode, m.From[:2], m.To, m.Centre, m.Radius, m.ByRadius, m.Turns, s.Comp, s.Coolant, m.Cycle)
}

// sameCuts checks that each station's cuts are those of its program run alone.
func sameCuts(t *testing.T, o Options, r *Result) {
	t.Helper()
	alone := [2][]string{}
	for s, src := range []Source{o.Face, o.Back} {
		alone[s], _ = cuts(t, src.Text, motion.Options{Unit: src.Unit, AbsoluteCentres: src.AbsoluteCentres})
	}
	for _, w := range []struct {
		name       string
		p          Program
		face, back bool
	}{{"first", r.First, true, false}, {"steady", r.Steady, true, true}, {"last", r.Last, false, true}} {
		_, got := cuts(t, w.p.Text, motion.Options{AbsoluteCentres: o.Face.AbsoluteCentres})
		for i, pair := range o.Pairs {
			for s, station := range []Station{pair.Face, pair.Back} {
				var want []string
				if s == 0 && w.face || s == 1 && w.back {
					want = alone[s]
				}
				have := got[transform.OffsetCode(station.Offset)]
				for k := range max(len(have), len(want)) {
					if k >= len(have) || k >= len(want) || have[k] != want[k] {
						t.Errorf("%s program, pair %d, %s: %d cuts, want %d; cut %d differs:\n%s\n%s", w.name, i+1, sideNames[s],
							len(have), len(want), k, strings.Join(have[min(k, len(have)):min(k+1, len(have))], ""), strings.Join(want[min(k, len(want)):min(k+1, len(want))], ""))
						break
					}
				}
			}
		}
	}
}

// What a program leaves to the state before a tool change must hold where the
// merge has put other pieces in between.
func TestState(t *testing.T) {
	const back = "G21 G90 G91.1 G99 G64 T2 M6\nS1000 M4 M8\nG43 H2 G0 Z30\nX0 Y0\nG18 G3 X4 Z30 I2 K0 F70\nG91 G17 G81 Z-5 R-10 X1 Y1 F30\nG80 G90 G0 Z30\nM2\n"
	rows := []struct{ name, face string }{
		{"modal feed and motion carried over a change", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F100\nX5\nZ5\nT2 M6\nS5000 M3\nG43 H2\nZ6\nX7 Y8\nZ-1\nM30\n"},
		{"a cycle carried over a change", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nG81 X0 Y0 R2 Z-3 F80\nX5\nT2 M6\nS5000 M3\nG43 H2\nG0 Z5\nT1 M6\nS1 M3\nG43 H1 G0 Z9\nG83 X1 Y1 R2 Z-4 Q2\nT2 M6\nG43 H2 M3\nX9 Q2\nG80\nM30\n"},
		{"increments over a change", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG91 G1 Z-6 F100\nX5\nG0 Z6\nT3 M6\nS5000 M3\nG90 G43 H3 G0 Z5\nG91\nG1 X1 Z-6\nY1\nG90 G0 Z5\nM30\n"},
		{"inches on one side", "G20 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z.5\nX0 Y0\nG1 Z-.05 F10.5\nX1.25\nG0 Z.5\nM30\n"},
		{"mist, inverse time, absolute centres, exact path", "G21 G90 G61\nT1 M6\nM7 S5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG93 G1 Z-1 F2\nG90.1 G2 X2 Y0 I1 J0 F3\nG94 G0 Z5\nM9 M30\n"},
		{"home before each change", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F100\nG0 Z5 M5\nG91 G28 Z0\nG90\nT2 M6\nS5000 M3\nG0 X3 Y3\nG43 H2 Z5\nG1 Z-1\nG0 G53 Z0\nM30\n"},
		{"T ahead of its M6, and back to the first tool at the end", "G21 G90\nT1 M6\nT2\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F100\nG0 Z5\nM6\nT1\nS100 M3\nG0 X1 Y1\nG43 H2 Z5\nG1 Z-2\nG0 Z5\nM6\nM30\n"},
		{"cutter compensation within a piece", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F100\nG41 D1 X5\nY5\nG40 X0\nG0 Z5\nM30\n"},
		{"blocks that may be deleted", "G21 G90\nT1 M6\nS5000 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F100\n/X9\n/2 Y9\nX5\nG0 Z5\nX0 Y0\nM30\n"},
		{"lower case and comments", "g21 g90 (units)\nn1 t1 m6 (tool)\ns5000 m3; start\ng43 h1 g0 z5\nn2 x0 y0\ng1 z-1 f100\n(end)\nm30\n"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			for _, order := range []Order{ByTools, ByStations} {
				o := one(row.face, back)
				o.Order = order
				o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G59"}, Back: Station{Offset: "G56"}})
				sameCuts(t, o, merge(t, o))
			}
		})
	}
}

// Without G53 the clear height is written per offset, as clear minus the zero's Z.
func TestWithoutG53(t *testing.T) {
	face := "G21 G90 G0 Z5\nX0 Y0\nG1 Z-1 F100\nX5\nG0 Z5\nM2\n"
	back := "G20 G90 G0 Z.2\nX0 Y0\nG1 Z-.1 F5\nX.5\nG0 Z.2\nM2\n"
	o := one(face, back)
	o.G53 = false
	o.Pairs[0].Face.ZeroZ, o.Pairs[0].Back.ZeroZ = d("-62.5"), d("-60")
	r := merge(t, o)
	want := "G21 G17 G90 G94 G40 G80\nG54\nG0 Z57.5\nG0 X0. Y0.\nG21 G90 G0 Z5\nX0 Y0\nG1 Z-1 F100\nX5\nG0 Z5\nG90 G80\nG0 Z57.5\n" +
		// 55 mm are 2.16535... in, rounded up.
		"G20 G17 G90 G94 G40 G80\nG55\nG0 X0. Y0.\nG20 G90 G0 Z.2\nX0 Y0\nG1 Z-.1 F5\nX.5\nG0 Z.2\nG90 G80\nG0 Z2.1654\nM2\n"
	if got := string(r.Steady.Text); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	sameCuts(t, o, r)
}

func TestPause(t *testing.T) {
	o := one(smallFace, smallBack)
	o.Order, o.Pause = ByStations, "M0"
	r := merge(t, o)
	if n := strings.Count(string(r.Steady.Text), "G53 G0 Z-5.\nM5\nM0\nG21"); n != 1 {
		t.Errorf("%d pauses\n%s", n, r.Steady.Text)
	}
	if strings.Contains(string(r.First.Text)+string(r.Last.Text), "M0\n") {
		t.Error("a pause in a program of one side")
	}
	o.Order = ByTools
	if r = merge(t, o); strings.Contains(string(r.Steady.Text), "M0\n") {
		t.Error("a pause where both stations are busy")
	}
	// Whole faces first: 1 2, then 2 3 with tool 2 still in the spindle.
	o.Order = ByStations
	if r = merge(t, o); r.Steady.Changes != 3 || fmt.Sprint(r.Steady.Tools) != "[1 2 3]" {
		t.Errorf("%d changes, tools %v", r.Steady.Changes, r.Steady.Tools)
	}
}

// The row marker's programs, three tools a side, on two pairs: proved, with the
// tools called as seldom as can be, and every cut inside its station's rectangle.
func TestDemo(t *testing.T) {
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "orchard", name))
		if err != nil {
			t.Skip(err)
		}
		return string(b)
	}
	face := read("face.nc")
	back := "" // lettering and outline in one program
	for _, name := range []string{"lettering.nc", "outline.nc"} {
		for _, l := range strings.Split(read(name), "\n") {
			l = strings.TrimSpace(l)
			if !strings.HasPrefix(l, "%") && !strings.HasPrefix(l, "O") && !strings.HasSuffix(l, "M30") {
				back += l + "\n"
			}
		}
	}
	back += "M30\n"
	o := one(face, back)
	o.Pairs = []Pair{{Face: Station{Offset: "G54"}, Back: Station{Offset: "G56"}}, {Face: Station{Offset: "G58"}, Back: Station{Offset: "G59"}}}
	r := merge(t, o)
	sameCuts(t, o, r)
	t.Logf("tools %v", r.Steady.Tools)
	if want := fewest(toolsOf(t, face), toolsOf(t, back)); r.Steady.Changes != want {
		t.Errorf("%d changes, the fewest are %d", r.Steady.Changes, want)
	}
	// Zeros 160 mm apart in X and 110 in Y, each cut within 6 mm of its blank.
	zero := map[int][2]float64{540: {20, 20}, 560: {180, 20}, 580: {20, 130}, 590: {180, 130}}
	for name, p := range map[string]Program{"first": r.First, "steady": r.Steady, "last": r.Last} {
		n := 0
		_, err := motion.Walk(bytes.NewReader(p.Text), motion.Options{}, func(m *motion.Move) error {
			if m.Kind == motion.Rapid {
				return nil
			}
			n++
			z, ok := zero[m.State.Offset]
			if !ok {
				return fmt.Errorf("line %d cuts in offset %d", m.Line, m.State.Offset)
			}
			for a, size := range []float64{120, 80} {
				at := z[a] + m.To[a].Float()
				if at < z[a]-6 || at > z[a]+size+6 {
					return fmt.Errorf("line %d leaves its station: %g", m.Line, at)
				}
			}
			return nil
		})
		if err != nil || n == 0 {
			t.Errorf("%s: %v, %d cuts", name, err, n)
		}
	}
}

// toolsOf lists the tools of a program's cuts, repeats left out.
func toolsOf(t *testing.T, text string) (tools []int) {
	t.Helper()
	_, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
		if m.Kind != motion.Rapid && (len(tools) == 0 || tools[len(tools)-1] != m.State.Tool) {
			tools = append(tools, m.State.Tool)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return tools
}

// What any machinist knows of work offsets (common practice), seen through the
// interpreter that proves the merge.
func TestOffsetFacts(t *testing.T) {
	walk := func(text string) (moves []motion.Move) {
		_, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			moves = append(moves, *m)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return moves
	}
	const shape = "G0 X1 Y2\nG1 X5 F100\nG2 X7 Y4 I2 J0\nG0 X0\n"
	base := walk("G21 G90 G54\n" + shape)
	for _, offset := range []string{"G54", "G55", "G56", "G57", "G58", "G59"} {
		if n := len(walk("G21 G90 G54\nG0 X0\n"+offset+"\n")) - 1; n != 0 {
			t.Errorf("changing to %s makes %d moves, want none", offset, n)
		}
		for i, m := range walk("G21 G90 " + offset + "\n" + shape) {
			if m.State.Offset != transform.OffsetCode(offset) {
				t.Errorf("%s: move %d in offset %d: one offset is active at a time", offset, i, m.State.Offset)
			}
			if m.Kind != base[i].Kind || !m.To.Equal(base[i].To) || m.Centre != base[i].Centre {
				t.Errorf("%s: move %d is another one than in G54", offset, i)
			}
		}
	}
}

func TestRefuses(t *testing.T) {
	ok := "G21 G90\nT1 M6\nS1 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nM30\n"
	plain := "G21 G90\nT1 M6\nS1 M3\nG0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nM30\n"
	rows := []struct {
		name, face, back string
		o                func(*Options)
		want             string
	}{
		{"G92", strings.Replace(ok, "X0 Y0", "G92 X0", 1), ok, nil,
			"face.nc:5:1: G92, which shifts the zero of every offset, expected a zero that is stored in its offset; hint: put the shift into the work offset and take G92 out"},
		{"G52", ok, strings.Replace(ok, "X0 Y0", "G52 X0", 1), nil,
			"back.nc:5:1: G52, which shifts the zero of every offset, expected a zero that is stored in its offset; hint: put the shift into the work offset and take G52 out"},
		{"G92.1", strings.Replace(ok, "M30", "G92.1\nM30", 1), ok, nil,
			"face.nc:8:1: G92.1, which shifts the zero of every offset, expected a zero that is stored in its offset; hint: put the shift into the work offset and take G92.1 out"},
		{"two tools on one touch-off", plain, strings.Replace(plain, "T1", "T2", 1), nil,
			"face.nc:6:1: tool 1 cuts without G43, and so does or may another on the same touch-off, expected G43 H for every tool, since all stations are touched off with one; hint: store the tool lengths and call G43 H after each M6, or keep to one tool"},
		{"one tool without G43 beside one with it", ok, strings.Replace(plain, "T1", "T2", 1), nil,
			"back.nc:6:1: tool 2 cuts without G43, and so does or may another on the same touch-off, expected G43 H for every tool, since all stations are touched off with one; hint: store the tool lengths and call G43 H after each M6, or keep to one tool"},
		{"G44", strings.Replace(ok, "G43", "G44", 1), ok, nil,
			"face.nc:4:1: G44 (a tool length counted the other way), expected G43; hint: store the length with its other sign"},
		{"overrides switched off", strings.Replace(ok, "X0 Y0", "M49\nX0 Y0", 1), ok, nil,
			"face.nc:5:1: M49, which can't be merged, expected G and M words of plain milling in X, Y and Z; hint: what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other"},
		{"a rotation", ok, strings.Replace(ok, "X0 Y0", "G68 X0 Y0 R30\nX0 Y0", 1), nil,
			"back.nc:5:1: G68, which can't be merged, expected G and M words of plain milling in X, Y and Z; hint: what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other"},
		{"a rotary axis", ok, strings.Replace(ok, "X0 Y0", "X0 Y0 A90", 1), nil,
			"back.nc:5:7: A90, which can't be merged, expected G and M words of plain milling in X, Y and Z; hint: what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other"},
		{"a subprogram", ok, strings.Replace(ok, "X0 Y0", "X0 Y0\nM98 P100", 1), nil,
			"back.nc:6:1: M98, which can't be merged, expected G and M words of plain milling in X, Y and Z; hint: what it sets would reach into the other program's pieces: write its effect out in plain moves, or run the programs one after the other"},
		{"a subprogram's number", ok, strings.Replace(ok, "X0 Y0", "X0 Y0\nO100", 1), nil,
			"back.nc:6:1: O100 (a subprogram), expected one program; hint: write the subprogram's moves out"},
		{"two offsets", strings.Replace(ok, "X0 Y0", "G54 X0 Y0\nG55 X1 Y1", 1), ok, nil,
			"face.nc:6:1: a second work offset, expected one offset in each program; hint: a station has one offset"},
		{"M6 with a move", strings.Replace(ok, "T1 M6", "T1 M6 G0 Z5", 1), ok, nil,
			"face.nc:2:4: M6 in a block with moves, expected M6 in a block of its own; hint: controls differ on which comes first"},
		{"M6 without T", strings.Replace(ok, "T1 M6", "M6", 1), ok, nil, "face.nc:2:1: M6 without a tool, expected a T word with it or before it"},
		{"T alone as a change", "G21 G90 T1\nS1 M3\nG0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nT2\nX1\nM30\n", ok, nil,
			"face.nc:7:1: another tool without M6, expected M6 at every tool change; hint: some controls change at T alone: write M6 beside it"},
		{"M6 after a cut", "G21 G90\nS1 M3\nG0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nT1 M6\nM30\n", ok, nil,
			"face.nc:7:4: the first M6 after cuts, expected M6 before the first cut; hint: say which tool cuts first"},
		{"no tool on one side", ok, strings.Replace(plain, "T1 M6\n", "", 1), nil, "back.nc:1:1: a cut without a tool number, expected T and M6, as in face.nc"},
		{"no spindle on one side", ok, strings.Replace(ok, "S1 M3\n", "", 1), nil,
			"back.nc:2:1: a cut without M3 or M4 anywhere in the program, expected a started spindle, as in face.nc; hint: if the spindle is switched by hand for one side, it must be for the other"},
		{"spindle stopped over a tool change", strings.Replace(ok, "G0 Z5\nM30", "G0 Z5\nT2 M6\nS12000\nG43 H2 G0 Z5\nX5 Y5\nG1 Z-1 F9\nX9\nG0 Z5\nM30", 1), ok, nil,
			"face.nc:12:1: a cut with the spindle stopped, expected M3 or M4 before it; hint: for a tool that cuts without turning, run the programs one after the other"},
		{"spindle switched off", ok, strings.Replace(ok, "G1 Z-1", "M5\nG1 Z-1", 1), nil,
			"back.nc:7:1: a cut with the spindle stopped, expected M3 or M4 before it; hint: for a tool that cuts without turning, run the programs one after the other"},
		{"no speed on one side", ok, strings.Replace(ok, "S1 M3", "M3", 1), nil,
			"back.nc:4:1: a started spindle without S, expected S with M3 or M4, since S is used elsewhere; hint: it would turn at the speed of the piece before it"},
		{"no feed", strings.Replace(ok, " F9", "", 1), ok, nil,
			"face.nc:6:1: a cut without a feed, expected F before the first cut; hint: it would run at the feed of the piece before it"},
		{"compensation over a change", strings.Replace(ok, "G0 Z5\nM30", "G41 D1 X9\nT2 M6\nG43 H2 G0 Z5\nM30", 1), ok, nil,
			"face.nc:8:1: cutter compensation still on at a tool change or the end, expected G40 before"},
		{"start unknown", strings.Replace(ok, "X0 Y0", "G91 X1 Y1\nG90", 1), ok, nil,
			"face.nc:5:1: a program that relies on where the tool stands in X at the start, expected X, Y and Z given in G90 first; hint: at a station the tool comes from somewhere else in each cycle"},
		{"a cut before X is known", strings.Replace(ok, "X0 Y0\n", "Y0\n", 1), ok, nil,
			"face.nc:6:1: a cut while X isn't known, expected X, Y and Z given in G90 after a tool change, home or a tool length; hint: at a station the tool comes down from the clear height"},
		{"a cut before Z is known", strings.Replace(ok, "X0 Y0\nG1 Z-1 F9", "X0 Y0\nG1 Z-1 F9\nG43 H3\nX5", 1), ok, nil,
			"face.nc:8:1: a cut while Z isn't known, expected X, Y and Z given in G90 after a tool change, home or a tool length; hint: at a station the tool comes down from the clear height"},
		{"a deleted tool change", strings.Replace(ok, "T1 M6", "T1 M6\n/T2 M6", 1), ok, nil,
			"face.nc:3:2: T2 in a block that may be deleted, expected it in a block that always runs; hint: take the slash away, or the block"},
		{"a deleted block that changes the state", strings.Replace(ok, "G0 Z5\nM30", "G0 Z5\n/X9\nT2 M6\nG43 H2 G0 Z5\nX1 Y1\nG1 Z-1\nM30", 1), ok, nil,
			"face.nc:9:1: blocks that may be deleted and change what the rest relies on, expected the same state after them with the switch on and off; hint: take the slashes away, or the blocks"},
		{"blocks after the end", ok + "G0 X5\n", ok, nil,
			"face.nc:9:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
		{"nothing cut", "G21 G90 G0 X5 Y5\nM30\n", ok, nil, "face.nc:1:1: no cut, expected a program that cuts"},
		{"a line of a fault", "G21 G90\nG1 Xa\n", ok, nil, "face.nc:2:4: X without a number, expected at least one digit"},
		{"no clear height", ok, ok, func(o *Options) { o.Clear = nil },
			"no clear height, expected one machine Z above everything on the bed with the longest tool; hint: give the table's height in the machine file and the tools' stick-outs, or the clear height itself"},
		{"no zero without G53", ok, ok, func(o *Options) { o.G53 = false },
			"pair 1: no machine Z for G54, expected the Z of its zero, since without G53 the clear height is written from it"},
		{"lengths without G53", ok, ok, func(o *Options) {
			o.G53, o.Pairs[0].Face.ZeroZ, o.Pairs[0].Back.ZeroZ = false, d("-50"), d("-50")
		}, "face.nc:1:1: G43 on a machine without G53, expected moves in machine coordinates (g53 = true); hint: with tool lengths active the clear height can't be written in work coordinates"},
		{"a turned station", ok, ok, func(o *Options) { o.Pairs[0].Back.Turn = 1 },
			"pair 1: a station turned by 90 degrees, expected the programs turned for it as well"},
		{"one offset twice", ok, ok, func(o *Options) { o.Pairs[0].Back.Offset = "G54" }, "pair 1: G54 a second time, expected an offset of its own for each station"},
		{"an offset that isn't", ok, ok, func(o *Options) { o.Pairs[0].Back.Offset = "G60" }, `pair 1: offset "G60", expected G54 to G59, G59.1 to G59.3`},
		{"no pairs", ok, ok, func(o *Options) { o.Pairs = nil }, "no pairs of stations, expected at least one"},
		{"a wrong pause", ok, ok, func(o *Options) { o.Pause = "M2" }, `pause "M2", expected M0 or M1`},
		{"a comment that ends early", ok, ok, func(o *Options) { o.Comment = "a) G0 Z-9" }, "a comment with ')', expected plain characters without parentheses"},
	}
	for _, row := range rows {
		o := one(row.face, row.back)
		if row.o != nil {
			row.o(&o)
		}
		_, err := Merge(o)
		if err == nil || err.Error() != row.want {
			t.Errorf("%s:\ngot  %v\nwant %s", row.name, err, row.want)
			continue
		}
		var f *fault.Error
		if !errors.As(err, &f) || f.No {
			t.Errorf("%s: not a refusal", row.name)
		}
	}
	if _, err := Merge(one(ok, ok)); err != nil {
		t.Error(err)
	}
	// A spindle that no program starts is switched by hand, M5 at the end or not.
	hand := strings.Replace(ok, "S1 M3\n", "", 1)
	if _, err := Merge(one(strings.Replace(hand, "M30", "M5\nM30", 1), hand)); err != nil {
		t.Error(err)
	}
	// One tool throughout needs no lengths.
	if _, err := Merge(one(plain, plain)); err != nil {
		t.Error(err)
	}
}

func TestNotes(t *testing.T) {
	face := "G21 G90 G61\nT1 M6\nS1 M3\nG43 H1 G0 Z5\nX0 Y0\nG1 Z-1 F9\nG0 Z5\nG91 G28 Z0\nT2 M6\nM30\n"
	r := merge(t, one(face, smallBack))
	var got []string
	for _, n := range r.Notes {
		got = append(got, fmt.Sprintf("%s%s|%d%v", n.File, fact.Code(n.Is), n.Line, fact.Values(n.Is)))
	}
	want := []string{"face.nchome-in-piece|8[]", "face.ncdropped|9[2 9]", "assumed-state|2[G64]"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

func TestInchClear(t *testing.T) {
	o := one(strings.Replace(smallFace, "G21", "G20", 1), smallBack)
	o.Unit = transform.Inch
	o.Clear = d("-.25")
	r := merge(t, o)
	text := string(r.Steady.Text)
	// A quarter inch is 6.35 mm exactly.
	if !strings.Contains(text, "G53 G0 Z-0.25\n") || !strings.Contains(text, "G53 G0 Z-6.35\n") {
		t.Errorf("clear heights missing:\n%s", text)
	}
}
