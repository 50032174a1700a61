package cut

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"
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
			if i < len(again.Findings) && !reflect.DeepEqual(r.Findings[i], again.Findings[i]) {
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

// A whole bed of 1200 x 800 mm in cells of 0.1 mm, faced all over on both sides with a few
// moves of a 40 mm cutter, which is the most memory that it can take: under 1.5 GiB
// resident at its peak. It takes some 1.5 GiB and a minute, so it runs when asked for.
func TestWholeBed(t *testing.T) {
	if os.Getenv("FLIPCALC_WHOLE_BED") == "" || testing.Short() {
		t.Skip("FLIPCALC_WHOLE_BED=1 runs it")
	}
	var face, back []Segment
	at := [3]float64{0, 0, 5}
	for n, y := 0, 15.0; y < 815; n, y = n+1, y+30 {
		from, to := 0.0, 1200.0
		if n%2 == 1 {
			from, to = to, from
		}
		for _, p := range [][3]float64{{from, y, -2}, {to, y, -2}} {
			face = append(face, Straight(len(face)+1, 1, at, p))
			back = append(back, Straight(len(back)+1, 1, at, p))
			at = p
		}
	}
	start := time.Now()
	r, err := Check(Request{W: 1200, H: 800, T: 18, Cell: 0.1, Map: turned("y", 1200, 800), Web: 10, Misalignment: 0.2, HeldAll: true, Skimmed: 2,
		Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 40}}, Face: Program{Segments: face}, Back: Program{Segments: back}})
	if err != nil || !r.OK() || math.Abs(r.Web.Min-14) > 1e-6 {
		t.Fatal(err, r.Findings, r.Web)
	}
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Skip(err)
	}
	_, line, _ := strings.Cut(string(status), "VmHWM:")
	kib, err := strconv.Atoi(strings.Fields(line)[0])
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d cells, %d moves a side: %.2f GiB resident, %.1f s", r.Grid.NX*r.Grid.NY, len(face), float64(kib)/(1<<20), time.Since(start).Seconds())
	// 16 bytes a cell are 1.43 GiB; labels and the runtime came to 0.07 to 0.08.
	if kib > 31<<20/20 {
		t.Errorf("%d KiB resident, want at most 1.55 GiB", kib)
	}
}

// Nothing that moves may stand behind M2, M30 or a closing % (NISTIR 6556, 3.1 and 3.6.1):
// what isn't cut there some controls would cut.
func TestLinesAfterTheEnd(t *testing.T) {
	const before = "%\nT1 M6\nG0 Z5\nG0 X20 Y20\nG1 Z-2 F300\nG1 X60\nG0 Z5\n"
	const after = "(spare)\n\nG0 X20 Y40\nG1 Z-6 F300\nG1 X60\nG0 Z5\n"
	for _, c := range []struct {
		name, text string
		line       int // where it is refused; 0 where it is cut
		web        float64
	}{
		{"nothing", before + "M30\n%\n", 0, 10},
		{"a comment alone", before + "M30\n(the end)\n%\n", 0, 10},
		{"more moves", before + "M30\n" + after + "%\n", 11, 0},
		{"more moves behind M2", before + "M2\n" + after + "%\n", 11, 0},
		{"no end before them", before + after + "M30\n%\n", 0, 6},
		{"what isn't a block", before + "M30\nhello\n%\n", 0, 10},
		{"behind the closing %", before + "M30\n%\n" + after, 12, 0},
	} {
		q := plain()
		q.Face = Program{Name: "face.nc", Read: strings.NewReader(c.text)}
		r, err := Check(q)
		var f *fault.Error
		switch {
		case c.line == 0 && err == nil:
			near(t, c.name, r.Web.Min, c.web, 1e-5)
		case c.line == 0 || !errors.As(err, &f) || f.Line != c.line:
			t.Errorf("%s: %v, want a fault in line %d", c.name, err, c.line)
		}
	}
}

// An axis word without G0 or G1 in force moves at feed on some controls and at rapid on
// others (common practice): it cuts, and it mustn't meet stock.
func TestMovesAtRapidOrFeed(t *testing.T) {
	q := plain()
	q.Face = Program{Name: "face.nc", Read: strings.NewReader("G21 G90 G17\nT1 M6\nS9000 M3\nG0 X20 Y20 Z5\nG81 X20 Y20 Z-3 R1 F100\nG80\nZ-4\nG0 Z5\nM30\n")}
	r, err := Check(q)
	if err != nil || codes(r) != "rapid-in-stock" || len(r.Findings) != 1 || r.Findings[0].At().FaceLine != 7 {
		t.Fatalf("%v, %+v", err, r)
	}
	near(t, "web", r.Web.Min, 12-4, 1e-5)
}
