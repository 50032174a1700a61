package cycle

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
)

// A program may end under G41 or G42, since its end takes them off (NISTIR 6556,
// 3.6.1). In the merged program it goes on: no move in machine coordinates and no other
// offset may come with compensation on (3.5.12, appendix B.5), so G40 comes first, and
// the proof finds it missing.
func TestCompensationIsTakenOffBeforeTheWayUp(t *testing.T) {
	const side = "G21 G90 G17\nT1 M6\nS1000 M3\nG0 X0 Y0 Z5\nG1 Z-1 F100\n%s D1 X10 Y0\nX20\nM30\n"
	for _, code := range []string{"G41", "G42"} {
		for _, g53 := range []bool{true, false} {
			o := one(fmt.Sprintf(side, code), fmt.Sprintf(side, "G1"))
			o.G53 = g53
			o.Pairs[0].Face.ZeroZ, o.Pairs[0].Back.ZeroZ = d("-60"), d("-60")
			r := merge(t, o)
			for name, text := range map[string][]byte{"first": r.First.Text, "steady": r.Steady.Text} {
				comp := 40
				if _, err := motion.Walk(bytes.NewReader(text), motion.Options{}, func(m *motion.Move) error {
					if m.Kind == motion.Rapid && m.State.Comp != 40 || m.State.Offset == 550 && m.State.Comp != 40 {
						t.Errorf("%s, %s, G53 %v: line %d runs under G%d", code, name, g53, m.Line, m.State.Comp)
					}
					comp = m.State.Comp
					return nil
				}); err != nil {
					t.Fatal(err)
				}
				if comp != 40 {
					t.Errorf("%s, %s: ends under G%d", code, name, comp)
				}
			}
			if !slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Is == any(CompClosed{}) && n.Line == 8 && n.File == "face.nc" }) {
				t.Errorf("%s: not said: %v", code, r.Notes)
			}
		}
	}
}

// A comment that announces a tool stays with that tool's piece and comes with no other.
func TestCommentsNameThePiecesTool(t *testing.T) {
	face := "(T9 LATER)\n(FLAT 6)\nG21 G90 G17\n(T1 ROUGH)\nT1 M6\nS9000 M3\nG0 X0 Y0 Z5\n(BORDER)\nG1 Z-1 F100\nG0 Z5\n(NEXT: TOOL 02)\nM5\n(T2 FINE)\nT2 M6\nM3\nG0 X1 Y1 Z5\nG1 Z-1 F90\n(TOOL 3 WAS BROKEN)\nG0 Z5\nM30\n"
	for _, length := range []string{"", "G43 H1 "} {
		text := strings.Replace(strings.Replace(face, "G0 X0 Y0 Z5", "G0 "+length+"X0 Y0 Z5", 1), "G0 X1 Y1 Z5", "G0 "+strings.Replace(length, "1", "2", 1)+"X1 Y1 Z5", 1)
		p, err := cutProgram(Source{Name: "face.nc", Text: []byte(text)}, motion.Num{}, false)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range []string{"(T1 ROUGH)|(BORDER)", "(NEXT: TOOL 02)|(T2 FINE)"} {
			var got []string
			for _, l := range p.pieces[i].lines {
				if l[0] == '(' {
					got = append(got, string(l))
				}
			}
			if strings.Join(got, "|") != want {
				t.Errorf("piece %d has %v, want %s", i+1, got, want)
			}
		}
	}
}

// The clear height is met to its rounding in inches, 0.0001 in or 0.00254 mm, and no
// further.
func TestClearHeightIsMet(t *testing.T) {
	m := &merger{o: one(smallFace, smallBack)}
	for s, src := range []Source{m.o.Face, m.o.Back} {
		p, err := cutProgram(src, m.o.ArcTolerance, false)
		if err != nil {
			t.Fatal(err)
		}
		m.sides[s] = p
	}
	if err := m.agree(); err != nil {
		t.Fatal(err)
	}
	w, err := m.write(joinEqual(mergeRuns(m.sides[0].runs(0), m.sides[1].runs(1))), "")
	if err != nil {
		t.Fatal(err)
	}
	for z, right := range map[string]bool{"-5.": true, "-4.99746": true, "-4.99745": false, "-5.00001": false, "-4.98": false} {
		mutant := strings.ReplaceAll(w.text.String(), "G53 G0 Z-5.", "G53 G0 Z"+z)
		if _, err := m.prove([]byte(mutant), w.steps); (err == nil) != right {
			t.Errorf("Z%s: %v", z, err)
		}
	}
}

// Every number of a right program is changed, every line is taken out, one at a
// time. The proof must catch each change but those that change no motion.
func TestMutants(t *testing.T) {
	o := one(smallFace, smallBack)
	o.Pairs = append(o.Pairs, Pair{Face: Station{Offset: "G56"}, Back: Station{Offset: "G57"}})
	o.Park = &Place{X: *d("0"), Y: *d("390.5")}
	m := &merger{o: o}
	for s, src := range []Source{o.Face, o.Back} {
		p, err := cutProgram(src, o.ArcTolerance, false)
		if err != nil {
			t.Fatal(err)
		}
		m.sides[s] = p
	}
	if err := m.agree(); err != nil {
		t.Fatal(err)
	}
	w, err := m.write(joinEqual(mergeRuns(m.sides[0].runs(0), m.sides[1].runs(1))), "")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.prove(w.text.Bytes(), w.steps); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(w.text.String(), "\n")
	word := regexp.MustCompile(`([A-Z])(-?[0-9.]+)`)
	killed, alive := 0, map[string]int{}
	try := func(i int, line string) {
		mutant := strings.Join(lines[:i], "\n") + "\n" + line + "\n" + strings.Join(lines[i+1:], "\n")
		if _, err := m.prove([]byte(mutant), w.steps); err != nil {
			killed++
			return
		}
		alive[lines[i]+" -> "+line]++
	}
	for i, line := range lines {
		if line == "" || line == "%" {
			continue
		}
		try(i, "(GONE)")
		for _, at := range word.FindAllStringSubmatchIndex(line, -1) {
			v, err := strconv.ParseFloat(line[at[4]:at[5]], 64)
			if err != nil {
				t.Fatal(err)
			}
			for _, by := range []float64{1, -1, 10} {
				try(i, line[:at[4]]+strconv.FormatFloat(v+by, 'f', -1, 64)+line[at[5]:])
			}
		}
	}
	// What may go unseen, since it changes no motion: words that a later block says again
	// before anything rests on them, moves to where the tool is, G90, since every piece
	// here ends in it, G40 and G50, since nothing is compensated or scaled, G81 for G80,
	// since no axis word follows before the next motion word.
	harmless := regexp.MustCompile(`^(F\d+ -> .*|S\d+ M3 -> \(GONE\)|X\d\. Y\d\. -> \(GONE\)|` +
		`G21 G17 G90 G94 G40 G80 -> (\(GONE\)|G21 G17 G90 G94 G50 G80|G21 G17 G90 G94 G40 G81)|G90 G80 -> (\(GONE\)|G91 G80|G90 G81))$`)
	for s, n := range alive {
		if !harmless.MatchString(s) {
			t.Errorf("not caught, %d times: %s", n, s)
		}
	}
	t.Logf("%d mutants caught, %d sorts of harmless ones left", killed, len(alive))
	if killed < 800 {
		t.Errorf("only %d mutants", killed)
	}
}
