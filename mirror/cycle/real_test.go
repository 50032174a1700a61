package cycle

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
)

// programs lists real programs where they are at hand.
func programs(t testing.TB) map[string][]byte {
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "programs")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) == 0 {
		t.Skip("no real programs at hand")
	}
	out := map[string][]byte{}
	for _, f := range files {
		if strings.HasSuffix(f, ".md") {
			continue
		}
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(f)] = b
	}
	return out
}

// Every real program is merged with itself and proved, or refused at a place.
func TestRealPrograms(t *testing.T) {
	merged := 0
	for name, text := range programs(t) {
		o := one(string(text), string(text))
		o.Face.Name, o.Back.Name = name, name
		r, err := Merge(o)
		var f *fault.Error
		switch {
		case err == nil:
			merged++
			sameCuts(t, o, r)
			t.Logf("%s: tools %v", name, r.Steady.Tools)
		case !errors.As(err, &f) || f.No || f.Found == "":
			t.Errorf("%s: %v", name, err)
		default:
			t.Log(err)
		}
	}
	if merged == 0 {
		t.Error("none merged")
	}
}

// Whatever the two programs are, Merge doesn't panic, and never writes what it
// can't prove.
func FuzzMerge(f *testing.F) {
	f.Add(smallFace, smallBack, true)
	f.Add("G21 G90 G0 Z5\nX0 Y0\nG81 X1 R2 Z-1 F9\nX2\nM2\n", "G20 G91.1 T1 M6\n(hi)\nG90 G0 X1 Y1\nZ1\n/G1 X2 F3\nG93 G1 X1 F2\nG94\nM30", false)
	f.Add("%\nO1\nT1\nM6\nT2\nG0 X1 Y1 Z1\nM6\nG90.1 G2 X3 Y1 I2 J1 F1\nG0 G53 Z0\nG91 G28 Z0\nM30\n%\n", "G0 X0 Y0 Z0\nG1 X[1+2] F[3]\nG18 G3 X0 R2\nM2\n", true)
	f.Fuzz(func(t *testing.T, face, back string, stations bool) {
		o := one(face, back)
		o.Order = Order(b2i(stations))
		r, err := Merge(o)
		var e *fault.Error
		if err != nil {
			if !errors.As(err, &e) {
				t.Fatalf("%T: %v", err, err)
			}
			if e.No {
				t.Fatalf("could not be proved: %v\n%q\n%q", err, face, back)
			}
			return
		}
		sameCuts(t, o, r)
	})
}
