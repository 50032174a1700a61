package cut

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unsafe"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// realPrograms finds programs that strangers wrote; the tests that want them are
// skipped where there are none.
func realPrograms(t *testing.T) []string {
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "programs")
	}
	var out []string
	for _, pattern := range []string{"*.nc", "*.ngc", "*.gcode"} {
		m, _ := filepath.Glob(filepath.Join(dir, pattern))
		out = append(out, m...)
	}
	if len(out) == 0 {
		t.Skip("no real programs here")
	}
	return out
}

// Every real program is either cut or refused with a line, and the same twice.
func TestRealPrograms(t *testing.T) {
	for _, name := range realPrograms(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		unit := transform.MM
		if strings.Contains(name, "inch") {
			unit = transform.Inch
		}
		// The blank around all that it cuts.
		sum, err := motion.Walk(strings.NewReader(string(text)), motion.Options{Unit: unit}, nil)
		if err != nil {
			var f *fault.Error
			if !errors.As(err, &f) || f.Line == 0 {
				t.Errorf("%s: %v", filepath.Base(name), err)
			}
			continue
		}
		if !sum.Cut[0].Any || !sum.Cut[1].Any || !sum.Cut[2].Any {
			t.Logf("%s: no place known", filepath.Base(name))
			continue
		}
		w, h := sum.Cut[0].Max-sum.Cut[0].Min+10, sum.Cut[1].Max-sum.Cut[1].Min+10
		q := Request{W: w, H: h, T: 20, Map: turned("y", w, h), FaceZero: [2]float64{5 - sum.Cut[0].Min, 5 - sum.Cut[1].Min}}
		for n := range 100 {
			q.Tools = append(q.Tools, Tool{Number: n, Shape: Flat, Diameter: 3})
		}
		check := func() *Result {
			q.Face = Program{Name: filepath.Base(name), Read: strings.NewReader(string(text)), Options: motion.Options{Unit: unit}}
			r, err := Check(q)
			if err != nil {
				t.Fatalf("%s: %v", filepath.Base(name), err)
			}
			return r
		}
		r, again := check(), check()
		t.Logf("%s: %.0f x %.0f, cell %g, %.1f mm3, web %.3f: %s", filepath.Base(name), w, h, r.Grid.Cell, r.Grid.Volume(false), r.Web.Min, codes(r))
		if len(r.Findings) != len(again.Findings) || r.Grid.Volume(false) != again.Grid.Volume(false) {
			t.Errorf("%s: not the same twice", filepath.Base(name))
		}
		for i := range r.Findings {
			if i < len(again.Findings) && r.Findings[i] != again.Findings[i] {
				t.Errorf("%s: %+v, then %+v", filepath.Base(name), r.Findings[i], again.Findings[i])
			}
		}
		if sum.Deepest < 0 && r.Grid.Volume(false) == 0 && !sum.PresetLeft {
			t.Errorf("%s: cuts to %g and leaves no trace", filepath.Base(name), sum.Deepest)
		}
	}
}

// A grid takes 16 bytes a cell where it is cut and nothing where it isn't; a whole
// bed of 1200 x 800 mm in cells of 0.1 mm stays under 1.5 GiB.
func TestMemory(t *testing.T) {
	g, err := newGrid(1200, 800, 12, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if got := g.Bytes(); got > 1<<20 {
		t.Errorf("an uncut bed takes %d bytes", got)
	}
	full := int64(len(g.tiles)) * (16*tileSize*tileSize + 8)
	if full > 3<<29 {
		t.Errorf("a bed cut all over takes %d bytes", full)
	}
	if size := unsafe.Sizeof(tile{}); size != 16*tileSize*tileSize {
		t.Errorf("%d bytes a tile, want 16 a cell", size)
	}
	t.Logf("a bed cut all over: %.3f GiB", float64(full)/(1<<30))
}
