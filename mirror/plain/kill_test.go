package plain

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
)

// victims are programs that between them hold every kind of line that is written.
var victims = []string{
	"G21 G17 G54\nT1 M6\nS9000 M3\nM8\nG43 H1\nG0 X1 Y2 Z5\n#1=0\nWHILE [#1 LT 3] DO1\nG1 X[#1*7/3] Z-1 F200\nG2 X[#1*7/3+3] Y2 I1.5 J0\nG3 X[#1*7/3+4] Y3 R1\nG2 I1\nG1 Y[2-#1/3]\nG4 P0.5\nG0 Z5\nY2\n#1=#1+1\nEND1\nG41 D3 G1 X40 F90\nY9\nG40 X30\nM9\nM5\nM30\n",
	"G20\nT2 M6\nM3 S500\nG0 X0 Y0 Z0.5\nG98 G81 X1 Y1 Z-.2 R.1 F5\nX[1/3]\nG83 X2 Y1 Z-.3 R.1 Q.07\nG82 X3 Y1 Z-.1 R.05 P2\nG80\nG55\nG0 X1 Y1 Z1\nG91 G28 Z0\nG90\nG53 G0 X0\nM2\n",
	"G18\nG0 X0 Y0 Z0\nG2 X10 Z0 I5 K0 F9\nG17\nG2 X10 Y0 Z-3 I5 J0 P2\nG68 X0 Y0 R30\nG1 X20 Y5\nG69\nG0 X1 Y1\nG52 X5\nG1 X1\nG91 X1 Y1\nG93\nG1 X1 F2\nG94\nG1 X1 F70\nM0\nM2\n",
	"G0 X0 Y0 Z5\nG16 G81 X10 Y30 Z-1 R1 F9\nY90\nG80 G15\nG51 X0 Y0 Z0 P[1/3]\nG0 X10 Y20 Z4\nG2 X20 I5 F9\nG50 G1 Z0\nM2\n",
	"G92 X0 Y5\nG0 X2 Y4 Z5\nG1 X[1/3] F90\nG92 X0\nG5 I1 J2 P-1 Q[1/3] X9 Y0\nG5.1 X15 I[2/3] J1\nG13 I2 K6 Q1 Z-1 L2\nG92.1\nG91 G81 X3 Y2 Z-2 R-1\nG80\nG90 G0 X1 Y1 Z1\nG18 G82 X2 Y[0-1/3] R1 P.5\nG17 G80\nG0 X0 Y0 Z9\nG87 X1 Y2 Z-3 R1 I.5 J[0-1/3] K-2\nG91 X1 R-1 Z-3 I.5 J0 K2\nM2\n",
}

var word = regexp.MustCompile(`[A-Z]-?[0-9.]+`)

// mutants gives a line in several wrong ways.
func mutants(line string) (out []string) {
	out = append(out, "")
	for _, at := range word.FindAllStringIndex(line, -1) {
		put := func(s string) { out = append(out, line[:at[0]]+s+line[at[1]:]) }
		w := line[at[0]:at[1]]
		put("")
		v, _ := strconv.ParseFloat(w[1:], 64)
		if w[0] == 'G' || w[0] == 'M' {
			for _, pair := range []string{"G0 G1", "G1 G0", "G2 G3", "G3 G2", "G90 G91", "G17 G18", "G18 G17", "G81 G82", "G83 G81", "G41 G42", "G98 G99", "G5 G1", "G13 G12", "G92 G52", "G92.1 G92.2", "G54 G55", "G55 G54", "G20 G21", "G21 G20", "M3 M4", "M8 M9", "G1 G2"} {
				if from, to, _ := strings.Cut(pair, " "); from == w {
					put(to)
				}
			}
			continue
		}
		for _, d := range []float64{0.002, -0.002, 1} {
			put(w[:1] + strconv.FormatFloat(v+d, 'f', 6, 64))
		}
		if v != 0 {
			put(w[:1] + strconv.FormatFloat(-v, 'f', 6, 64))
		}
		if strings.IndexByte("XYZ", w[0]) >= 0 {
			put(string("YZX"[w[0]-'X']) + w[1:])
		}
	}
	return out
}

// walked gives what a text does, to half the bound of the finest victim, so that what is
// the same here moves by less than the bound.
func walked(text string) string {
	var s strings.Builder
	_, err := motion.Walk(strings.NewReader(text), motion.Options{Name: "w"}, func(m *motion.Move) error {
		n := *m
		n.Line, n.Frame = 0, nil
		from, to := [3]string{}, [3]string{}
		for i := range 3 {
			from[i], to[i] = m.From[i].String(), m.To[i].String()
		}
		if m.FromOK == m.ToOK && m.From.Equal(m.To) && !m.Circular() && m.Cycle == 0 && !m.Home {
			return nil // moves nothing
		}
		fmt.Fprint(&s, n.Kind, n.State, to, n.ToOK, n.Machine, n.Home, n.Cycle, n.Centre, n.Radius, n.Turns, ";")
		return nil
	})
	return fmt.Sprint(s.String(), err)
}

// Every mutant of the written text that does something else is refused: 100 %, straight
// and under turns.
func TestKill(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	killed, made := 0, 0
	for _, turn := range []string{"0", "90", "-90", "33.3"} {
		for k, text := range victims {
			o := Options{Read: motion.Options{Name: "p.nc"}, Turn: decimal.RequireFromString(turn)}
			if !o.Turn.IsZero() {
				text = strings.NewReplacer("G53 G0 X0", "G53 G0 X0 Y0", "G55\n", "G55 G0 X1 Y1\n", "G92 X0\n", "G92 X0 Y2\n",
					"G18 G82", "(", "G87", "(", "G91 X1 R-1", "(", "P.5\n", ")\n", "K-2\n", ")\n", "K2\n", ")\n").Replace(text)
			}
			if turn == "33.3" {
				text = strings.Replace(text, "G2 X10 Z0 I5 K0 F9", "G1 X10 F9", 1)
			}
			n, all := killAll(t, fmt.Sprintf("victim %d by %s", k, turn), text, o)
			killed, made = killed+n, made+all
		}
	}
	t.Logf("%d of %d mutants refused; the others do the same", killed, made)
	if killed < 1600 {
		t.Errorf("only %d mutants were refused", killed)
	}
}

// TestSwitches: another program number, stop or clamp than the program's own is refused.
func TestSwitches(t *testing.T) {
	for _, c := range [][2]string{{"O100", "O101"}, {"M1", "M0"}, {"M10", "M11"}} {
		o := Options{Read: motion.Options{Name: "p.nc"}}
		o.mutate = func(line []byte) []byte {
			if string(line) == c[0] {
				return []byte(c[1])
			}
			return line
		}
		_, err := Write([]byte("%\nO100\n#1=2\nG0 X#1 Y1 Z1\nM1\nM10\nM2\n%\n"), &bytes.Buffer{}, o)
		if err == nil || !strings.Contains(err.Error(), "other codes") {
			t.Errorf("%s in place of %s: got %v", c[1], c[0], err)
		}
	}
}

// killAll spoils each written line of a program in turn.
func killAll(t *testing.T, name, text string, o Options) (killed, made int) {
	t.Helper()
	var whole bytes.Buffer
	if _, err := Write([]byte(text), &whole, o); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	lines := strings.Split(strings.TrimSuffix(whole.String(), "\n"), "\n")
	plain := walked(whole.String())
	for n := range lines {
		for _, m := range mutants(lines[n]) {
			at := 0
			o.mutate = func(line []byte) []byte {
				if at++; at == n+1 {
					return []byte(m)
				}
				return line
			}
			changed := append(append(append([]string{}, lines[:n]...), m), lines[n+1:]...)
			same := walked(strings.Join(changed, "\n")+"\n") == plain
			_, err := Write([]byte(text), &bytes.Buffer{}, o)
			if made++; err != nil {
				killed++
			} else if !same {
				t.Errorf("%s line %d: %q in place of %q passed", name, n+1, m, lines[n])
			}
		}
	}
	return killed, made
}

// TestReal writes real programs out and back: the moves are proved as they are written.
func TestReal(t *testing.T) {
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = "../../../shared/programs"
	}
	names, _ := filepath.Glob(filepath.Join(dir, "*.*"))
	if len(names) == 0 {
		t.Skip("no real programs here")
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		unit := motion.Options{Name: filepath.Base(name)}
		r, err := Write(text, &out, Options{Read: unit})
		// What isn't a program; a lathe's; a form to be filled in, O[..]; depths of G90
		// carried into G91.
		refused := slices.ContainsFunc([]string{"README", "must-be-refused", "g91-g53", "nist-c3"}, func(s string) bool { return strings.Contains(name, s) })
		if (err != nil) != refused {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if err == nil {
			t.Logf("%s: %d moves, %d dropped", name, r.Moves, r.Dropped)
		}
	}
}
