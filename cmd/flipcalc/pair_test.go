package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror/motion"
)

// toldStation is a station as 'flipcalc stations --json' tells it.
type toldStation struct {
	Offset string
	Side   string
	Zero   struct{ X, Y, Z float64 }
	Corner struct{ X, Y float64 }
	W, H   float64
}

// flipcalc runs a command that must succeed and gives what it prints.
func flipcalc(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(args, strings.NewReader(""), &out, &errs); code != exitDone {
		t.Fatalf("flipcalc %s: exit %d\n%s", strings.Join(args, " "), code, errs.String())
	}
	return out.String()
}

// orchard is the demo job's folder.
func orchard(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../../testdata/orchard")
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// stationsOf asks for the stations of the demo job.
func stationsOf(t *testing.T, args ...string) map[string]toldStation {
	t.Helper()
	var answer struct{ Stations []toldStation }
	if err := json.Unmarshal([]byte(flipcalc(t, append([]string{"stations", "--job", orchard(t) + "/job.toml", "--json"}, args...)...)), &answer); err != nil {
		t.Fatal(err)
	}
	out := map[string]toldStation{}
	for _, s := range answer.Stations {
		out[s.Offset] = s
	}
	return out
}

// radius of each of the demo's cutters, as its job file has them.
var radius = map[int]float64{1: 3, 2: 2, 3: 3}

// offsetWord names a State.Offset.
func offsetWord(code int) string {
	if code%10 == 0 {
		return fmt.Sprintf("G%d", code/10)
	}
	return fmt.Sprintf("G%d.%d", code/10, code%10)
}

// points gives the places that a move touches in X and Y of its offset; arcs at every
// degree and at their ends.
func points(m *motion.Move) (out [][2]float64) {
	if m.FromOK[0] && m.FromOK[1] {
		out = append(out, [2]float64{m.From[0].Float(), m.From[1].Float()})
	}
	if m.ToOK[0] && m.ToOK[1] {
		out = append(out, [2]float64{m.To[0].Float(), m.To[1].Float()})
	}
	if centre, r, sweep, ok := m.Arc(); m.Circular() && ok {
		start := math.Atan2(m.From[1].Float()-centre[1], m.From[0].Float()-centre[0])
		for i := range 361 {
			a := start + sweep*float64(i)/360
			out = append(out, [2]float64{centre[0] + r*math.Cos(a), centre[1] + r*math.Sin(a)})
		}
	}
	return out
}

// The demo job's first, steady and last program, on one pair and on two, in both
// orders: each cut of the cutter's whole width, and every other move, lies inside the
// blank at its own station; every station is cut that should be; and the tool goes
// from one to another only at the clear height, machine Z-51. The row marker's programs keep inside the blank.
func TestCutsStayAtTheirStation(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, pairs := range []string{"1", "2"} {
		for _, order := range []string{"tools", "stations"} {
			dir := t.TempDir()
			flipcalc(t, "prepare", orchard(t)+"/job.toml", "-o", dir, "--set", "cell=1", "--pairs", pairs, "--order", order, "--quiet")
			stations := stationsOf(t, "--pairs", pairs)
			for _, name := range job.RunFiles {
				text, err := os.ReadFile(filepath.Join(dir, name))
				if err != nil {
					t.Fatal(err)
				}
				cuts := map[string]int{}
				high, offset := false, 0
				_, err = motion.Walk(bytes.NewReader(text), motion.Options{Name: name}, func(m *motion.Move) error {
					if m.Machine {
						high = m.To[2].Float() == -51
						return nil
					}
					if m.State.Offset != offset && !high {
						return fmt.Errorf("line %d: another station below the clear height", m.Line)
					}
					offset = m.State.Offset
					high = high && !m.ToOK[2]
					s, ok := stations[offsetWord(m.State.Offset)]
					if !ok {
						return fmt.Errorf("line %d moves in %s, which is no station", m.Line, offsetWord(m.State.Offset))
					}
					r := 0.0
					if m.Kind != motion.Rapid {
						r = radius[m.State.Tool]
						cuts[s.Offset]++
					}
					for _, p := range points(m) {
						x, y := s.Zero.X+p[0], s.Zero.Y+p[1]
						if x-r < s.Corner.X-1e-9 || x+r > s.Corner.X+s.W+1e-9 || y-r < s.Corner.Y-1e-9 || y+r > s.Corner.Y+s.H+1e-9 {
							return fmt.Errorf("line %d: T%d reaches from X%g Y%g by %g, outside %s's blank", m.Line, m.State.Tool, x, y, r, s.Offset)
						}
					}
					return nil
				})
				if err != nil {
					t.Errorf("%s pairs by %s: %v", pairs, order, err)
				}
				for offset, s := range stations {
					want := s.Side == "face" && name != "last.nc" || s.Side == "back" && name != "first.nc"
					if cuts[offset] > 0 != want {
						t.Errorf("%s pairs by %s, %s: %d cuts at %s, a %s", pairs, order, name, cuts[offset], offset, s.Side)
					}
				}
			}
		}
	}
}

// The demo's tool sequences are 3 2 1 on the face and 3, then 3 2 1, on the back, so
// one order holds both. Where the back is cut 2 1 3 and then 3, as the spoiled job with
// the short outline has it, against 3 2 1 on the face, by hand: any order that holds
// both needs 3 2 1 3 or longer, four changes; three tools in three changes would have
// to put 3 both first and last.
func TestDemoChangesTools(t *testing.T) {
	dir := t.TempDir()
	flipcalc(t, "prepare", orchard(t)+"/job.toml", "-o", dir, "--set", "cell=1", "--quiet")
	short := filepath.Join(t.TempDir(), "short.nc") // mirrored, for the back
	flipcalc(t, "mirror", filepath.Join(orchard(t), "..", "spoiled", "outline-short.nc"), "--job", orchard(t)+"/job.toml", "-o", short, "--quiet")
	merged := t.TempDir()
	flipcalc(t, "pair", dir+"/face.nc", short, dir+"/back-lettering.nc", "--job", orchard(t)+"/job.toml", "-o", merged, "--quiet")
	for path, want := range map[string]int{dir + "/first.nc": 3, dir + "/steady.nc": 3, dir + "/last.nc": 3, merged + "/steady.nc": 4} {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := bytes.Count(text, []byte(" M6\n")); got != want {
			t.Errorf("%s: %d tool changes, want %d", path, got, want)
		}
	}
}

// The programs of the cycles are not cut in memory; what check cuts are the programs of
// the two sides, as prepare writes them. So each station must see the same cuts in the
// same order, with the same tool, feed and speed, from either. pairing proves it as it
// merges; here it is compared once more, on the files, by the interpreter alone.
func TestMergedCutsAreThoseThatWereChecked(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	cuts := func(path string) map[int][]string {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		out := map[int][]string{}
		_, err = motion.Walk(bytes.NewReader(text), motion.Options{Name: path}, func(m *motion.Move) error {
			if m.Kind != motion.Rapid {
				s := m.State
				out[s.Offset] = append(out[s.Offset], fmt.Sprint(m.Kind, m.To, m.ToOK, m.Centre, m.ByRadius, m.Radius, s.Tool, s.Length, s.Feed, s.Speed, s.Spindle, s.Comp))
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for _, order := range []string{"tools", "stations"} {
		dir := t.TempDir()
		flipcalc(t, "prepare", orchard(t)+"/job.toml", "-o", dir, "--set", "cell=1", "--pairs", "2", "--order", order, "--quiet")
		want := map[int][]string{}
		for _, name := range []string{"face", "back-lettering", "back-outline"} {
			for _, pair := range []string{"pair1-", "pair2-"} {
				for offset, list := range cuts(filepath.Join(dir, pair+name+".nc")) {
					want[offset] = append(want[offset], list...)
				}
			}
		}
		if len(want) != 4 {
			t.Fatalf("%d stations", len(want))
		}
		seen := map[int]bool{}
		for _, name := range job.RunFiles {
			for offset, list := range cuts(filepath.Join(dir, name)) {
				seen[offset] = true
				if !slices.Equal(list, want[offset]) {
					t.Errorf("%s by %s, %s: %d cuts differ from the %d that were checked", name, order, offsetWord(offset), len(list), len(want[offset]))
				}
			}
		}
		if len(seen) != 4 {
			t.Errorf("by %s: cuts at %d stations, want 4", order, len(seen))
		}
	}
}

// The programs of the back run in the order in which the job file names them.
func TestOrderOfTheBacks(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	job, err := os.ReadFile(filepath.Join(orchard(t), "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var lines, backs []string
	for _, l := range strings.Split(string(job), "\n") {
		if strings.HasPrefix(l, "mirror =") || strings.HasPrefix(l, "back =") {
			backs = append([]string{l}, backs...) // the other way round
		} else {
			lines = append(lines, strings.Replace(l, `"face.nc"`, `"`+filepath.Join(orchard(t), "face.nc")+`"`, 1))
		}
	}
	if len(backs) != 2 {
		t.Fatal(backs)
	}
	for _, order := range [][]string{backs, {backs[1], backs[0]}} {
		dir := t.TempDir()
		text := strings.Join(append(lines, order...), "\n")
		for _, name := range []string{"outline.nc", "lettering.nc", "machine.toml"} {
			text = strings.Replace(text, `"`+name+`"`, `"`+filepath.Join(orchard(t), name)+`"`, 1)
		}
		path := filepath.Join(dir, "job.toml")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		got := flipcalc(t, "prepare", path, "-o", dir, "--dry-run", "--why")
		want := "(back-lettering.nc and back-outline.nc)"
		if strings.HasPrefix(order[0], "mirror") {
			want = "(back-outline.nc and back-lettering.nc)"
		}
		if !strings.Contains(got, want) {
			t.Errorf("%s first: no %s", order[0], want)
		}
	}
}

// What any machinist knows of work offsets (common practice), on programs as flipcalc
// writes them.
func TestOffsetsOfTheTrade(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	type cut struct {
		kind   motion.Kind
		offset int
		points [2]motion.Point
		centre [2]motion.Num
	}
	follow := func(text []byte) (moves []cut, lines map[int]bool) {
		lines = map[int]bool{}
		_, err := motion.Walk(bytes.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			lines[m.Line] = true
			if !m.Machine {
				moves = append(moves, cut{m.Kind, m.State.Offset, [2]motion.Point{m.From, m.To}, m.Centre})
			}
			return nil
		})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		return moves, lines
	}
	shape := "G21 G90 G17\nS9000 M3\nG0 Z20.\nX10. Y10.\nG1 Z-1. F300\nX30. F900\nG2 X40. Y20. I0. J10.\nG1 Y30.\nG0 Z20.\nM5\nM30\n"
	face, back := write("face.nc", shape), write("back.nc", strings.ReplaceAll(shape, "Y30.", "Y35."))

	// There are six, G54 to G59, and the control is in one of them at a time.
	offsets := []string{"G54", "G55", "G56", "G57", "G58", "G59"}
	var first []cut
	for i, offset := range offsets {
		other := offsets[(i+1)%6]
		out := filepath.Join(dir, offset)
		flipcalc(t, "pair", face, back, "--set", "clear=-5", "--offset", offset, "--back-offset", other, "-o", out, "-q")
		text, err := os.ReadFile(filepath.Join(out, "steady.nc"))
		if err != nil {
			t.Fatal(err)
		}
		moves, lines := follow(text)
		selected := map[string]int{}
		for n, line := range strings.Split(string(text), "\n") {
			for _, o := range append(offsets, "G59.1", "G59.2", "G59.3") {
				if line == o {
					selected[o]++
					// A change of offset moves nothing by itself.
					if lines[n+1] {
						t.Errorf("line %d, %s alone, moves", n+1, line)
					}
				}
			}
		}
		if len(selected) != 2 || selected[offset] != 1 || selected[other] != 1 {
			t.Errorf("%s and %s: selected %v", offset, other, selected)
		}
		var here []cut
		for _, m := range moves {
			if offsetWord(m.offset) == offset {
				m.offset = 0
				here = append(here, m)
			}
		}
		// The same program under another offset cuts the same shape, elsewhere: every
		// move in its own coordinates is the same one, and G0 and G1 stay G0 and G1.
		if first == nil {
			first = here
		}
		if len(here) < 8 || len(here) != len(first) {
			t.Fatalf("%s: %d moves, in G54 %d", offset, len(here), len(first))
		}
		for k := range here {
			if here[k].kind != first[k].kind || !here[k].points[1].Equal(first[k].points[1]) || here[k].centre != first[k].centre {
				t.Errorf("%s: move %d is another one than in G54", offset, k)
			}
		}
	}
	// A seventh one needs a control that has it.
	if code := run([]string{"pair", face, back, "--set", "clear=-5", "--back-offset", "G59.1"}, nil, io.Discard, io.Discard); code != exitWrong {
		t.Errorf("G59.1 on an ordinary control: exit %d", code)
	}
	if code := run([]string{"pair", face, back, "--set", "clear=-5", "--back-offset", "G60"}, nil, io.Discard, io.Discard); code != exitWrong {
		t.Errorf("G60: exit %d", code)
	}
}
