package mirror

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
)

// realRows are what programs that strangers wrote hold, with what becomes of it by
// x' = 100 - x, and near misses that stay refused. Unless a section of NISTIR 6556 is
// named, what the words mean is common practice.
var realRows = []struct {
	name, in, out string
	notes         string // codes of warnings and of what is kept
	misses        []string
}{
	{"K of 0 in G17 (3.5.3 has I and J there)", "G0 X0 Y0\nG2 X10 Y10 I10 J0 K0.\nG3 X0 Y0 R10 K0", "G0 X100 Y0\nG3 X90 Y10 I-10 J0 K0.\nG2 X100 Y0 R10 K0", "",
		[]string{"G0 X0 Y0\nG2 X10 Y10 I10 J0 K0.165", "G18 G0 X0 Z0\nG2 X10 Z0 I5 J1", "G0 X0 Y0\nG2 X10 Y10 K0"}},
	{"J of 0 in G18", "G18 G0 X0 Z0\nG2 X10 Z0 I5 J0", "G18 G0 X100 Z0\nG3 X90 Z0 I-5 J0", "", nil},
	{"axis words before any motion word", "G43 H1 Z50\nX5 Y6\nG0 X7", "G43 H1 Z50\nX95 Y6\nG0 X93", "assumed-straight 2", []string{"Z5 I2", "X5 R2"}},
	{"axis words after G80", "G0 X1 Y1 Z5\nG81 X5 Z-1 R1\nG80\nZ5\nX7", "G0 X99 Y1 Z5\nG81 X95 Z-1 R1\nG80\nZ5\nX93", "assumed-straight 5",
		[]string{"G0 X1 Y1 Z5\nG2 X3 I1\nG81 X5 Z-1 R1\nG80\nX7", "G0 X1\nG2 X3 I1\nG80 X7"}},
	{"D and H anywhere", "D1 G0 X5\nX6 D2\nH3 X7\nG0 Z5 H4", "D1 G0 X95\nX94 D2\nH3 X93\nG0 Z5 H4", "", []string{"G0 X5 D-1", "G0 X5 H-1"}},
	{"cancels in a safety line", "G0 G15 G17 G40 G49 G50 G50.1 G69 G80 G90 G97 X5 Y5", "G0 G15 G17 G40 G49 G50 G50.1 G69 G80 G90 G97 X95 Y5", "",
		[]string{"G50 S2000", "G50 X5", "G50.1 X0", "G0 X1 Y1\nG68 X1 Y1 R30\nG69 G0 X5"}},
	{"rotary words of 0", "G0 B0. C0 X5\nG91 G28 X0 A0 B0", "G0 B0. C0 X95\nG91 G28 X0 A0 B0", "home 3", []string{"G0 B5 X5", "G0 C0.1", "G0 X1\nG91 G28 X0 B5"}},
	{"rotary words beside G53", "G53 G0 Z0 B90\nX5", "G53 G0 Z0 B90\nX95", "machine-move 2", nil},
	{"G53 without a motion word", "G53 Z0\nG0 X5", "G53 Z0\nG0 X95", "machine-move 2", nil},
	{"G53 under an arc and a cycle", "G0 X0 Y0 Z5\nG2 X10 I5 F9\nG53 Z0\nG0 X1 Y1 Z5\nG81 X5 Z-1 R1\nG53 Z0\nG80", "G0 X100 Y0 Z5\nG3 X90 I-5 F9\nG53 Z0\nG0 X99 Y1 Z5\nG81 X95 Z-1 R1\nG53 Z0\nG80", "machine-move 4", []string{"G53 G81 X5 Z-1 R1", "G53"}},
	{"G53 with 0 in G91", "G0 X1\nG91 G53 X0 Y0\nG90 X5", "G0 X99\nG91 G53 X0 Y0\nG90 X95", "machine-counts 3; machine-move 3", []string{"G0 X1\nG91 G53 X5"}},
	{"a cycle without R", "G0 X1 Y1 Z5\nG81 X5 Z-1 F9\nX7\nG80", "G0 X99 Y1 Z5\nG81 X95 Z-1 F9\nX93\nG80", "cycle-level 3", []string{"G0 X1 Y1 Z5\nG81 X5 R1", "G0 X1 Y1 Z5\nG83 X5 Z-1"}},
	{"levels of G90 under G91", "G0 X1 Y1 Z9\nG81 X5 R2 Z-1 F9\nG91 X3 L2\nG80", "G0 X99 Y1 Z9\nG81 X95 R2 Z-1 F9\nG91 X-3 L2\nG80", "cycle-carried 4", []string{"G0 X1 Y1 Z9\nG81 X5 R2 Z-1 F9\nG91 X3 R-20"}},
	{"look-ahead by number", "G103 P1\nG0 X1 Y1 Z5\nG103\nX5", "G103 P1\nG0 X99 Y1 Z5\nG103\nX95", "look-ahead 2", []string{"G0 X1 Y1\nG5 I0 J1 G8 P0 Q0 X9", "G0 X1 Y1\nG5 I0 J1 G64 P1 Q1 X9", "G0 X1 Y1\nG5 I0 J1 G187 P1 Q1 X9", "G103 X5\nG0 X1", "G103 P1 M8\nG0 X1", "G103 G0\nX5"}},
	{"a cycle code that is cancelled", "G0 X1 Y1 Z5\nG98 G81\nG80\nG0 X5", "G0 X99 Y1 Z5\nG98 G81\nG80\nG0 X95", "cycle-bare 3", []string{"G0 X1 Y1 Z5\nG81\nX5 Z-1 R1", "G81 R1"}},
	{"G84 with the spindle stopped", "M5\nG0 X1 Y1 Z5\nG84 X5 Z-1 R1 F9", "M5\nG0 X99 Y1 Z5\nG84 X95 Z-1 R1 F9", "stopped-tap 4", []string{"M4\nG0 X1 Y1 Z5\nG84 X5 Z-1 R1"}},
	{"G71 where lengths are in mm", "G71\nG71 G90\nG0 X5", "G71\nG71 G90\nG0 X95", "", []string{"G70\nG0 X5", "G71 P10 Q20\nG0 X5", "G71 X5", "G20\nG71\nG0 X5"}},
	{"a parenthesis inside a comment", "G0 X5 (6 (mm) cutter) Y7\n(a ((b)) c)\n(tool (6 mm)\nX6", "G0 X95 (6 (mm) cutter) Y7\n(a ((b)) c)\n(tool (6 mm)\nX94", "text-kept 2", []string{"G0 X5 (a (b) X7)", "(a (b) G0 X5 (c)", "(a (b"}},
	{"prose", "ROW MARKER, oak\nMade by hand: M.\n//\n// first side\nG0 X5\nthe end", "ROW MARKER, oak\nMade by hand: M.\n//\n// first side\nG0 X95\nthe end", "text-kept 2",
		[]string{"//G0 X1\nG0 X1", "ROW 5\nG0 X1", "X\nG0 X1", "ENDIF\nG0 X1", "else\nG0 X1", "GOTO\nG0 X1", "Row = marker\nG0 X1", "pocket to X5\nG0 X1"}},
	{"N without a number", "N G0 X5\nN\nNX6\nn (x)", "N G0 X95\nN\nNX94\nn (x)", "", []string{"N- X5", "N.5 X5", "X5 N"}},
	{"G187", "G187 P2\nG0 X5\nG187 P1 E0.05\nX6", "G187 P2\nG0 X95\nG187 P1 E0.05\nX94", "", []string{"G0 X5 E1", "G187 E1 E2\nG0 X5"}},
	{"G4 U", "G0 X5\nG4 U1.5\nX6", "G0 X95\nG4 U1.5\nX94", "", []string{"G0 X5 U2", "G4 V1\nG0 X5"}},
	{"M13 and M14", "M13 S9000\nG0 X5\nM14\nX6", "M13 S9000\nG0 X95\nM14\nX94", "", []string{"M13 M3\nG0 X5", "M15\nG0 X5"}},
	{"M62 to M65", "M62 P1\nM65 P2\nG0 X5", "M62 P1\nM65 P2\nG0 X95", "passed-on 2; passed-on 3", []string{"M66 P1\nG0 X5"}},
	{"printing", "POPEN\nDPRNT[PART*X#100[42]*DONE]\nN10 DPRNT[]\nPCLOS\nG0 X5", "POPEN\nDPRNT[PART*X#100[42]*DONE]\nN10 DPRNT[]\nPCLOS\nG0 X95", "text-kept 2", []string{"DPRNT[X#1\nG0 X5", "DPRNT[A] X5", "POPEN X5\nG0 X5"}},
	{"M codes that the maker declares", "M25\nM51 G0 X5", "M25\nM51 G0 X95", "passed-on 2; passed-on 3", []string{"M26\nG0 X5"}},
}

// TestRealRows: with both switches of the mirror's proof, and read by the interpreter alone.
func TestRealRows(t *testing.T) {
	const start = "G21 G90 G94 G17 G91.1\n"
	o := Options{Map: flipY("100"), Inert: []int{25, 51}}
	for _, c := range realRows {
		if c.out != "" {
			var out bytes.Buffer
			r, err := Mirror(strings.NewReader(start+c.in+"\nM30\n"), &out, o)
			if err != nil || out.String() != start+c.out+"\nM30\n" {
				t.Errorf("%s: %v\n%q, want\n%q", c.name, err, out.String(), start+c.out+"\nM30\n")
				continue
			}
			var notes []string
			for _, n := range r.Notes {
				switch fact.Code(n.Is) {
				case "other-side", "cut-at-start", "low-rapids", "spindle-stopped":
				default:
					if n.Level != fact.Assumed {
						notes = append(notes, fmt.Sprint(fact.Code(n.Is), " ", n.Line))
					}
				}
			}
			if got := strings.Join(notes, "; "); got != c.notes {
				t.Errorf("%s: noted %q, want %q", c.name, got, c.notes)
			}
		}
		for _, miss := range c.misses {
			var out bytes.Buffer
			if _, err := Mirror(strings.NewReader(start+miss+"\nM30\n"), &out, o); err == nil {
				t.Errorf("%s: %q is mirrored: %q", c.name, miss, out.String())
			}
		}
	}
}

// TestProgramNames: text behind a program number is its name (common practice).
func TestProgramNames(t *testing.T) {
	for in, want := range map[string]string{
		"O1000 ROW MARKER\nG0 X5\nM30\n":      "O1000 ROW MARKER\nG0 X95\nM30\n",
		"%\no7 oak, by hand\nG0 X5\nM30\n%\n": "%\no7 oak, by hand\nG0 X95\nM30\n%\n",
		"O1000 ROW X5\nG0 X5\nM30\n":          "",
		"O1000 T5\nG0 X5\nM30\n":              "",
		"O1 O2\nG0 X5\nM30\n":                 "",
		"G0 X5\nO1000 ROW MARKER\nM30\n":      "",
	} {
		var out bytes.Buffer
		if _, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("100")}); (err == nil) != (want != "") || out.String() != want {
			t.Errorf("%q: %v, %q", in, err, out.String())
		}
	}
}

// TestByteOrderMark: the mark of UTF-8 is dropped (Unicode, chapter 23.8: it is no part of
// the text), in whatever pieces the program arrives; that of UTF-16 is refused.
func TestByteOrderMark(t *testing.T) {
	const in = "\xef\xbb\xbfG0 X5\nM30\n"
	r, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, Options{Map: flipY("100")})
	if err != nil || len(r.Notes) == 0 || fact.Code(r.Notes[0].Is) != "mark-dropped" && fact.Code(r.Notes[1].Is) != "mark-dropped" {
		t.Errorf("%v, %+v", err, r)
	}
	checkPieces(t, in, "G0 X95\nM30\n")
	if _, err := motion.Walk(strings.NewReader(in), motion.Options{}, nil); err != nil {
		t.Error(err)
	}
	for _, in := range []string{"G0 X1\n\xef\xbb\xbfG0 X5\nM30\n", "G\n\xef\xbb\xbfG0 X5\nM30\n", "\xef\xbb\xbf\xef\xbb\xbfG0 X5\nM30\n"} {
		if _, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, Options{Map: flipY("100")}); err == nil {
			t.Errorf("%q is mirrored", in)
		}
	}
}

// TestCycleWithoutRDeep: where the level would have to change, R must be said.
func TestCycleWithoutRDeep(t *testing.T) {
	o := Options{Map: flipY("100")}
	o.Map.Z.Offset = dec("12")
	_, err := Mirror(strings.NewReader("G0 X1 Y1 Z5\nG81 X5 Z-1 F9\nM30\n"), &bytes.Buffer{}, o)
	if err == nil || !strings.Contains(err.Error(), "2:1: G81 without R") {
		t.Error(err)
	}
}

func checkPieces(t *testing.T, in, want string) {
	t.Helper()
	for _, read := range []io.Reader{strings.NewReader(in), iotest.OneByteReader(strings.NewReader(in)), iotest.HalfReader(strings.NewReader(in))} {
		var out bytes.Buffer
		if _, err := Mirror(read, &out, Options{Map: flipY("100")}); err != nil || out.String() != want {
			t.Errorf("%v\n%q, want\n%q", err, out.String(), want)
		}
	}
}
