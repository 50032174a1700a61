package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/motion"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// TestMorePairsWithTurnedStations: on ten random beds allowing turned stations never places
// fewer pairs, and on some it places more: by quarter turns of long blanks, by half turns
// where the programs come in from one edge, on a bed with travel beside it.
func TestMorePairsWithTurnedStations(t *testing.T) {
	whole := func(v int) decimal.Decimal { return decimal.NewFromInt(int64(v)) }
	in := &bed.Reach{Left: whole(-10), Right: whole(-10), Near: whole(30), Far: whole(-10)}
	for _, r := range []struct {
		name  string
		reach *bed.Reach
		least [2]int // of the beds
		turn  registration.Quarter
	}{{"cuts over the blank", nil, [2]int{200, 150}, 1}, {"cuts from the near edge", in, [2]int{250, 160}, 2}} {
		rng := rand.New(rand.NewPCG(16, 6))
		more, used := 0, map[registration.Quarter]int{}
		for i := range 10 {
			w, h := r.least[0]+rng.IntN(250), r.least[1]+rng.IntN(r.least[1])
			m := &bed.Machine{Name: "m", Bed: &bed.Rect{W: whole(w), H: whole(h)}, X: bed.Range{Least: whole(-60), Greatest: whole(w + 60)},
				Y: bed.Range{Least: whole(-60), Greatest: whole(h + 60)}, Z: bed.Range{Least: whole(-100)}}
			count := func(turn bool) int {
				l, err := bed.Place(m, bed.Request{Blank: registration.Blank{W: whole(120), H: whole(80), T: whole(12)}, Flip: registration.FlipY,
					Face: bed.Program{Reach: r.reach}, Back: bed.Program{Reach: r.reach}, Gap: whole(8), AllowTurn: turn})
				if err != nil {
					return 0
				}
				for _, s := range l.Stations {
					used[s.Turn]++
				}
				return l.Pairs
			}
			without, with := count(false), count(true)
			t.Logf("%s, bed %d, %d x %d: %d pairs, %d with turned stations", r.name, i+1, w, h, without, with)
			if with < without {
				t.Errorf("bed of %d x %d: %d pairs with turned stations, %d without", w, h, with, without)
			}
			more += max(0, min(1, with-without))
		}
		if more < 2 {
			t.Errorf("%s: more pairs on %d of 10 beds", r.name, more)
		}
		if used[r.turn] == 0 {
			t.Errorf("%s: no station turned by %s degrees: %v", r.name, r.turn.Degrees(), used)
		}
		t.Log(r.name, more, used)
	}
}

// storedZeros are the zeros as offsets.nc stores them.
func storedZeros(t *testing.T, out string) map[string][2]float64 {
	t.Helper()
	offsets, err := os.ReadFile(filepath.Join(out, "offsets.nc"))
	if err != nil {
		t.Fatal(err)
	}
	zeros := map[string][2]float64{}
	for _, m := range regexp.MustCompile(`G10 L2 P(\d) X(\S+) Y(\S+)`).FindAllStringSubmatch(string(offsets), -1) {
		x, y := decimal.RequireFromString(m[2]).InexactFloat64(), decimal.RequireFromString(m[3]).InexactFloat64()
		zeros[fmt.Sprintf("G%d", 53+int(m[1][0]-'0'))] = [2]float64{x, y}
	}
	return zeros
}

// sameOnTheBlank holds the programs of pair 2, which stands turned by so many quarters,
// against those of pair 1: place by place, carried from the machine to the blank, from the
// zero about which the station is turned.
func sameOnTheBlank(t *testing.T, out string, zeros map[string][2]float64, quarters int, names ...string) {
	t.Helper()
	sin, cos := math.Sincos(float64(quarters) * math.Pi / 2)
	turn := mat.NewDense(2, 2, []float64{cos, -sin, sin, cos})
	places := func(name string, turned bool) (all [][3]float64) {
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		offset := regexp.MustCompile(`\bG5[4-9]\b`).FindString(string(text))
		zero, ok := zeros[offset]
		if !ok {
			t.Fatalf("%s: offset %q of %v", name, offset, zeros)
		}
		if _, err := motion.Walk(bytes.NewReader(text), motion.Options{}, func(m *motion.Move) error {
			if m.Machine || m.Home || !m.ToOK[0] || !m.ToOK[1] || m.From.Equal(m.To) && !m.Circular() {
				return nil
			}
			p := mat.NewVecDense(2, []float64{zero[0] + m.To[0].Float(), zero[1] + m.To[1].Float()})
			p.SubVec(p, mat.NewVecDense(2, zero[:]))
			if turned {
				var back mat.VecDense
				back.MulVec(turn.T(), p)
				p = &back
			}
			all = append(all, [3]float64{p.AtVec(0), p.AtVec(1), m.To[2].Float()})
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return all
	}
	for _, name := range names {
		straight, turned := places("pair1-"+name, false), places("pair2-"+name, true)
		if len(straight) == 0 || len(straight) != len(turned) {
			t.Errorf("%s: %d places, %d at the turned pair", name, len(straight), len(turned))
			continue
		}
		for i, p := range straight {
			q := turned[i]
			if math.Hypot(p[0]-q[0], p[1]-q[1]) > 1e-9 || p[2] != q[2] {
				t.Errorf("%s: place %d at %v, at the turned pair %v", name, i+1, p, q)
				break
			}
		}
	}
}

// TestTurnedPair: every program of a pair that stands turned cuts its blank where that of
// the straight pair cuts its own: second derivation, a rotation matrix carries places of
// the machine to the blank. So do the drilling programs and, piece by piece, the merged
// programs of the cycles, which Merge has proved against these.
func TestTurnedPair(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	for _, name := range []string{"face.nc", "outline.nc", "lettering.nc", "job.toml", "machine.toml"} {
		text, err := os.ReadFile(filepath.Join(orchard(t), name))
		if err != nil {
			t.Fatal(err)
		}
		for _, change := range [][2]string{ // a bed for one straight pair and one turned pair
			{`(?m)^bed = .*`, `bed = "0,0,230x270"`}, {`(?m)^park = .*`, `park = [240, 280]`}, {`(?m)^x = \[0, 700\]`, `x = [-10, 240]`}, {`(?m)^y = \[0, 400\]`, `y = [-10, 280]`},
			{`(?s)# Two offsets belong.*`, ``}, {`(?m)^pairs *=.*`, "pairs = 2\nallow-turn = true"}, {`(?m)^gap *=.*`, `gap = "8"`}, {`(?m)^fixture *=.*`, `fixture = "4"`},
		} {
			if strings.HasSuffix(name, ".toml") {
				text = regexp.MustCompile(change[0]).ReplaceAll(text, []byte(change[1]))
			}
		}
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "out")
	var said bytes.Buffer
	if code := run([]string{"prepare", filepath.Join(dir, "job.toml"), "-o", out, "--set", "cell=1"}, strings.NewReader(""), io.Discard, &said); code != 0 {
		t.Fatalf("exit %d: %s", code, said.String())
	}
	zeros := storedZeros(t, out)
	// The blanks of both pairs lie on the bed, where the stations have them.
	for _, z := range []struct {
		offset string
		x, y   float64
	}{{"G56", 220, 4}, {"G57", 220, 140}} {
		if zeros[z.offset] != [2]float64{z.x, z.y} {
			t.Errorf("%s at %v, want X%v Y%v: the near-left corner of a turned blank of 80 x 120 is its zero's right one", z.offset, zeros[z.offset], z.x, z.y)
		}
	}
	sameOnTheBlank(t, out, zeros, 1, "face.nc", "back-outline.nc", "back-lettering.nc", "pins-bed.nc", "pins-back-bed.nc")
	for _, name := range []string{"first.nc", "steady.nc", "last.nc"} {
		if _, err := os.Stat(filepath.Join(out, name)); err != nil {
			t.Error(err)
		}
	}
}

// halfTurned is a job on whose bed a second pair fits turned end for end alone: its cuts come
// in from the near edge, and beside the bed there is travel.
const halfTurned = `stock = "120x80x12"
flip = "y"
zero = "near-left"
pairs = 2
allow-turn = true
gap = "10"
face = "face.nc"
mirror = ["outline.nc"]
tool = ["1=flat,6", "4=flat,5"]
speed = 8000
plunge = 300
machine = "machine.toml"
stick-out = "40"
parts = 4
`

const halfTurnedMachine = `units = "mm"
bed = "0,0,250x170"
table = -140
g10 = true
g53 = true
tool-line = "T# M6 G43 H#"
longest = 45
fixture = 0
park = [260, -40]
[travel]
x = [-10, 270]
y = [-50, 220]
z = [-110, 0]
`

// Each way of locating, at a pair that is turned end for end: its programs cut the same
// places of the blank, and every byte of them but their numbers, the offset and the sense of
// no arc is that of the straight pair.
func TestHalfTurnedPair(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	const program = "%%\nO1 (%s)\nG21 G17 G90 G94\nG54\nT1 M6\nS12000 M3\nG0 G43 H1 Z20.\nX20. Y-30.\nZ2.\nY12.\nG1 Z-1. F200\nY20.5 F600\nG2 X30. Y30.5 I10. J0.\nG3 X40. Y20.5 R10.\nG1 X100.25\nG0 Z20.\nM5\nM30\n%%\n"
	for _, r := range []struct{ name, register, drills, step string }{
		{"dowels", `register = "dowels"` + "\n" + `pin = ["60,6,6", "60,74,5"]` + "\n" + `fit = "H11/h8"` + "\n" + `standard = "iso-2338-h8"` + "\n" + `spoilboard = "18"` + "\n", "pins-bed.nc pins-back-bed.nc", ""},
		{"fence", `register = "fence"` + "\n" + `fence = "far"` + "\n" + `stop = "left"` + "\n", "",
			"Set the fence on the near side at Y90 for G56 and G57"},
		{"plug", `register = "plug"` + "\n" + `bore = "60,50,12"` + "\n" + `plug = "12"` + "\n" + `clock = "pin=100,50,5"` + "\n" + `hole = "5.1"` + "\n" + `spoilboard = "18"` + "\n", "pins-bed.nc pins-back-bed.nc", ""},
	} {
		t.Run(r.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range map[string]string{"job.toml": r.register + halfTurned, "machine.toml": halfTurnedMachine,
				"face.nc": fmt.Sprintf(program, "FACE"), "outline.nc": fmt.Sprintf(program, "OUTLINE")} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			out := filepath.Join(dir, "out")
			var said bytes.Buffer
			if code := run([]string{"prepare", filepath.Join(dir, "job.toml"), "-o", out, "--set", "cell=1"}, strings.NewReader(""), io.Discard, &said); code != 0 {
				t.Fatalf("exit %d: %s", code, said.String())
			}
			names := []string{"face.nc", "back-outline.nc"}
			sameOnTheBlank(t, out, storedZeros(t, out), 2, append(names, strings.Fields(r.drills)...)...)
			for _, name := range names {
				var kept [2]string
				for i := range kept {
					text, err := os.ReadFile(filepath.Join(out, fmt.Sprintf("pair%d-%s", i+1, name)))
					if err != nil {
						t.Fatal(err)
					}
					_, program, _ := strings.Cut(string(text), "G21")
					program = regexp.MustCompile(`G5[4-7]`).ReplaceAllString(program, "G5-")
					kept[i] = regexp.MustCompile(`([XYIJ])-?[0-9.]+`).ReplaceAllString(program, "$1")
				}
				if kept[0] != kept[1] {
					t.Errorf("%s: %q, at the turned pair %q", name, kept[0], kept[1])
				}
			}
			var run string
			for _, name := range []string{"first.nc", "steady.nc", "last.nc", "index.html"} {
				text, err := os.ReadFile(filepath.Join(out, name))
				if err != nil {
					t.Error(err)
				}
				run += string(text)
			}
			if !strings.Contains(run, r.step) || !strings.Contains(run, "turned end for end, edge A far") {
				t.Errorf("no step %q, or none for the turned blank", r.step)
			}
		})
	}
}

// A pair that stands turned is drawn on its blank as a straight one is: both sides at full
// size show the same cuts, wherever the blank lies.
func TestTurnedPairIsDrawnOnItsBlank(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var cuts [2]string
	for i, size := range []string{"700x400", "260x150"} { // the second has room for turned blanks alone
		dir := t.TempDir()
		w, h, _ := strings.Cut(size, "x")
		for _, name := range []string{"face.nc", "outline.nc", "lettering.nc", "job.toml", "machine.toml"} {
			text, err := os.ReadFile(filepath.Join(orchard(t), name))
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(name, ".toml") {
				for _, change := range [][2]string{{`(?m)^bed = .*`, `bed = "0,0,` + size + `"`}, {`(?m)^park = .*`, `park = [` + w + `, ` + h + `]`},
					{`(?m)^x = \[0, 700\]`, `x = [0, ` + w + `]`}, {`(?m)^y = \[0, 400\]`, `y = [0, ` + h + `]`}, {`(?s)# Two offsets belong.*`, ``}, {`(?m)^pairs *=.*`, "pairs = 1\nallow-turn = true"}} {
					text = regexp.MustCompile(change[0]).ReplaceAll(text, []byte(change[1]))
				}
			}
			if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		out := filepath.Join(dir, "out")
		var said bytes.Buffer
		if code := run([]string{"prepare", filepath.Join(dir, "job.toml"), "-o", out, "--set", "cell=1"}, strings.NewReader(""), io.Discard, &said); code != 0 {
			t.Fatalf("exit %d: %s", code, said.String())
		}
		sheet, err := os.ReadFile(filepath.Join(out, "sheet.txt"))
		if err != nil || strings.Contains(string(sheet), "a quarter turn counter-clockwise") != (i == 1) {
			t.Fatalf("bed %s: %v, or turned where it should be straight", size, err)
		}
		drawing, err := os.ReadFile(filepath.Join(out, "overlay.svg"))
		if err != nil {
			t.Fatal(err)
		}
		cuts[i] = strings.Join(regexp.MustCompile(` points="[^"]*"`).FindAllString(string(drawing), -1), "\n")
	}
	if len(cuts[0]) < 1000 || cuts[0] != cuts[1] {
		t.Errorf("drawn otherwise on the turned blank: %d and %d letters of points", len(cuts[0]), len(cuts[1]))
	}
}
