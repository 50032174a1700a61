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
// fewer pairs, and on some it places more.
func TestMorePairsWithTurnedStations(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 6))
	more := 0
	for i := range 10 {
		w, h := int64(200+r.IntN(250)), int64(150+r.IntN(250))
		m := &bed.Machine{Name: "m"}
		m.X.Greatest, m.Y.Greatest, m.Z.Least = decimal.New(w, 0), decimal.New(h, 0), decimal.New(-100, 0)
		count := func(turn bool) int {
			l, err := bed.Place(m, bed.Request{Blank: registration.Blank{W: decimal.New(120, 0), H: decimal.New(80, 0), T: decimal.New(12, 0)}, Flip: registration.FlipY,
				Gap: decimal.New(8, 0), AllowTurn: turn})
			if err != nil {
				return 0
			}
			return l.Pairs
		}
		without, with := count(false), count(true)
		t.Logf("bed %d, %d x %d: %d pairs, %d with turned stations", i+1, w, h, without, with)
		if with < without {
			t.Errorf("bed of %d x %d: %d pairs with turned stations, %d without", w, h, with, without)
		}
		if with > without {
			more++
		}
	}
	if more < 2 {
		t.Errorf("more pairs on %d of 10 beds", more)
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
	// The zeros as offsets.nc stores them.
	offsets, err := os.ReadFile(filepath.Join(out, "offsets.nc"))
	if err != nil {
		t.Fatal(err)
	}
	zeros := map[string][2]float64{}
	for _, m := range regexp.MustCompile(`G10 L2 P(\d) X(\S+) Y(\S+)`).FindAllStringSubmatch(string(offsets), -1) {
		x, y := decimal.RequireFromString(m[2]).InexactFloat64(), decimal.RequireFromString(m[3]).InexactFloat64()
		zeros[fmt.Sprintf("G%d", 53+int(m[1][0]-'0'))] = [2]float64{x, y}
	}
	quarter := mat.NewDense(2, 2, []float64{0, -1, 1, 0})
	// Places of a program on its blank, from the zero, which is the blank's own corner.
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
			// The corner about which the turned blank stands is where its zero was stored.
			p.SubVec(p, mat.NewVecDense(2, zero[:]))
			if turned {
				var back mat.VecDense
				back.MulVec(quarter.T(), p)
				p = &back
			}
			all = append(all, [3]float64{p.AtVec(0), p.AtVec(1), m.To[2].Float()})
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return all
	}
	// The blanks of both pairs lie on the bed, where the stations have them.
	for _, z := range []struct {
		offset string
		x, y   float64
	}{{"G56", 220, 4}, {"G57", 220, 140}} {
		if zeros[z.offset] != [2]float64{z.x, z.y} {
			t.Errorf("%s at %v, want X%v Y%v: the near-left corner of a turned blank of 80 x 120 is its zero's right one", z.offset, zeros[z.offset], z.x, z.y)
		}
	}
	for _, name := range []string{"face.nc", "back-outline.nc", "back-lettering.nc", "pins-bed.nc", "pins-back-bed.nc"} {
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
	for _, name := range []string{"first.nc", "steady.nc", "last.nc"} {
		if _, err := os.Stat(filepath.Join(out, name)); err != nil {
			t.Error(err)
		}
	}
}
