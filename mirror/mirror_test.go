package mirror

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/testdata/draws"
)

// Thousands of small texts in one process would be collected for half of the time.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	m.Run()
}

// programs gives the real programs of strangers, where they are at hand.
func programs(t *testing.T) map[string][]byte {
	t.Helper()
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = filepath.Join("..", "..", "shared", "programs")
	}
	found := map[string][]byte{}
	names, _ := filepath.Glob(filepath.Join(dir, "*.*c*"))
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		found[filepath.Base(name)] = text
	}
	if len(found) == 0 {
		t.Skip("no programs at hand; name their folder in FLIPCALC_PROGRAMS")
	}
	return found
}

// TestRealPrograms: each is mirrored and proved, or refused for a stated reason; and
// M(M(M(p))) is M(p).
func TestRealPrograms(t *testing.T) {
	refused := map[string]string{
		"turning-must-be-refused.nc": "5:4: G50 (scaling off, or the speed limit of a lathe)",
		"teaching-g91-g53.nc":        "2:1: a parameter or an expression", // a form to be filled in
	}
	for name, text := range programs(t) {
		for _, o := range []Options{{Map: flipY("120.5")}, {Map: flipX("80")}, {Map: flipY("100"), BackOffset: "G55", Comment: "flip y", ZerosDiffer: true}} {
			var once, twice, thrice bytes.Buffer
			_, err := Mirror(bytes.NewReader(text), &once, o)
			if want, no := refused[name]; no {
				if err == nil || !strings.Contains(err.Error(), want) || once.Len() > 0 {
					t.Errorf("%s: %v, %d bytes; want %s", name, err, once.Len(), want)
				}
				continue
			}
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if _, err := Mirror(bytes.NewReader(once.Bytes()), &twice, o); err != nil {
				t.Errorf("%s, again: %v", name, err)
			}
			if _, err := Mirror(bytes.NewReader(twice.Bytes()), &thrice, o); err != nil || !bytes.Equal(once.Bytes(), thrice.Bytes()) {
				t.Errorf("%s, three times: %v", name, err)
			}
			if name == "nist-c1.ngc" && o.BackOffset == "" && !bytes.Equal(twice.Bytes(), text) && o.Map.X.Offset.Equal(dec("81")) {
				t.Errorf("%s, twice: not the same bytes", name)
			}
		}
	}
}

// engraved are blocks of NISTIR 6556, appendix C.1: the letters e, o, o, r and d.
const engraved = "n0010 g21 g0 x0 y0 z2\nn0090 x 7\nn0150 x11 y2.5\nn0160 g1 z-0.5 f20\nn0170 x16\nn0190 g3 x13.5 y0 i-2.5\nn0200 g1 x16\n" +
	"n0290 g0 z2\nn0300 x32.5 y0\nn0310 g1 z-0.5\nn0320 g2 x32.5 j2.5\nn0400 g0 z2\nn0410 x57.5 y0\nn0420 g1 z-0.5\nn0430 g2 x57.5 j2.5\n" +
	"n0440 g0 z2\nn0450 x64\nn0460 g1 z-0.5\nn0470 y5\nn0480 y4\nn0490 g2 x69 r4\n" +
	"n0500 g0 z2\nn0550 x81 y0\nn0560 g1 z-0.5\nn0580 x79.5\nn0590 g2 j2.5 y5\nn0600 g1 x81\nn0610 g0 z50\nn0620 m2\n"

// TestNISTProgram mirrors blocks of NISTIR 6556, appendix C.1, by x' = 81 - x and back
// again.
func TestNISTProgram(t *testing.T) {
	var once, twice bytes.Buffer
	if _, err := Mirror(strings.NewReader(engraved), &once, Options{Map: flipY("81")}); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"n0090 x 74", "n0190 g2 x67.5 y0 i2.5", "n0320 g3 x48.5 j2.5", "n0430 g3 x23.5 j2.5", "n0490 g3 x12 r4", "n0590 g3 j2.5 y5", "n0610 g0 z50"} {
		if !strings.Contains(once.String(), "\n"+line+"\n") {
			t.Errorf("no line %q", line)
		}
	}
	if _, err := Mirror(&once, &twice, Options{Map: flipY("81")}); err != nil || twice.String() != engraved {
		t.Errorf("twice: %v", err)
	}
}

// TestSmallPieces: a source that gives a byte at a time leaves rewrite and proof
// waiting for nothing but each other's next step.
func TestSmallPieces(t *testing.T) {
	in := strings.Repeat("G1 X1 Y1 F1\n", 30_000)
	var out bytes.Buffer
	if _, err := Mirror(iotest.OneByteReader(strings.NewReader(in)), &out, Options{Map: flipY("10")}); err != nil || out.Len() != len(in) {
		t.Errorf("%v, %d of %d", err, out.Len(), len(in))
	}
}

// TestNothingUnproved: a proof that says no leaves nothing behind.
func TestNothingUnproved(t *testing.T) {
	var out bytes.Buffer
	in := strings.Repeat("G1 X1 Y1 F1\n", 200_000) + "G16\n"
	_, err := Mirror(strings.NewReader("G90 G21 G94\n"+in), &out, Options{Map: flipY("10"), Name: "p.nc"})
	if err == nil || !strings.HasPrefix(err.Error(), "p.nc:200002:1: G16 (polar coordinates)") || out.Len() > 0 {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
}

func TestProgress(t *testing.T) {
	in := strings.Repeat("G1 X1 Y1 F1\n", 100_000)
	var last int64
	_, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, Options{Map: flipY("10"), Progress: func(n int64) {
		if n <= last {
			t.Errorf("%d after %d", n, last)
		}
		last = n
	}})
	if err != nil || last != int64(len(in)) {
		t.Errorf("%v, %d of %d", err, last, len(in))
	}
}

// TestLongProgramProved goes beyond what waits in memory.
func TestLongProgramProved(t *testing.T) {
	var in strings.Builder
	in.WriteString("%\nO7\nG21 G90 G94 G17 G91.1\nM3 S9000\nG0 X0 Y0 Z5\n")
	rounds := 60_000
	if testing.Short() {
		rounds = 10_000
	}
	for range rounds {
		in.WriteString("G1 X1.25 Y2 F100\nG2 X2.25 Y2 I0.5 J0\nG0 Z5 (up)\n")
	}
	in.WriteString("M30\n%\n")
	for _, direct := range []bool{false, true} {
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(in.String()), &out, Options{Map: flipX("10"), Direct: direct})
		if err != nil || r.Moves != int64(3*rounds+1) || !strings.Contains(out.String(), "G3 X2.25 Y8 I0.5 J0\n") {
			t.Errorf("direct %v: %v, %d moves", direct, err, r.Moves)
		}
	}
}

// TestSummary: only the mirrored axis changes. Feed path derived from the coordinates of
// NISTIR 6556, appendix C.1: five plunges of 2.5, straight 5 + 2.5 + 6 + 3, arcs of 2.5
// through 270, 360, 360 and 180 degrees and of 4 through 77.3640: 85.4520 mm.
func TestSummary(t *testing.T) {
	r, err := Mirror(strings.NewReader(engraved), &bytes.Buffer{}, Options{Map: flipY("90")})
	if err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]struct {
		got  *motion.Summary
		x, w float64
	}{"before": {&r.Before, 11, 81}, "after": {&r.After, 9, 79}} {
		if math.Abs(s.got.CutLength-85.4520) > 1e-4 || s.got.Cut[0].Min != s.x || s.got.Cut[0].Max != s.w || s.got.Cut[1].Min != 0 || s.got.Cut[1].Max != 5 || s.got.Deepest != 0.5 {
			t.Errorf("%s: %+v", name, s.got)
		}
	}
}

// TestSummaryLimit: a longer program is mirrored and proved all the same.
func TestSummaryLimit(t *testing.T) {
	in := strings.Repeat("G1 X1 Y1 F1\n", 50_000)
	for _, c := range []struct {
		limit int64
		want  bool
	}{{0, true}, {-1, false}, {int64(len(in)), true}, {int64(len(in)) - 1, false}, {1000, false}} {
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("2"), longest: c.limit})
		if err != nil || r.Summarised != c.want || r.After.Blocks > 0 != c.want || out.Len() != len(in) {
			t.Errorf("limit %d: %v, %v", c.limit, err, r)
		}
		told := slices.ContainsFunc(r.Notes, func(n Note) bool { return fact.Code(n.Is) == "not-summarised" })
		if told != (!c.want && c.limit > 0) {
			t.Errorf("limit %d: that nothing was looked through is told: %v", c.limit, told)
		}
	}
}

// TestLengthKnown: nothing is kept of a program whose length says that no summary is made.
func TestLengthKnown(t *testing.T) {
	in := strings.Repeat("G1 X1 Y1 F1\n", 50_000)
	taken := func(r io.Reader, limit int64) uint64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := Mirror(r, io.Discard, Options{Map: flipY("2"), Direct: true, longest: limit}); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	most, none := int64(len(in))-1, taken(strings.NewReader(in), -1)
	if known := taken(strings.NewReader(in), most); known > none+uint64(most)/2 {
		t.Errorf("%d bytes, %d where no summary is wanted", known, none)
	}
	if unknown := taken(struct{ io.Reader }{strings.NewReader(in)}, most); unknown < none+uint64(most) {
		t.Errorf("%d bytes of a program of unknown length, %d where no summary is wanted", unknown, none)
	}
}

func TestOffBlank(t *testing.T) {
	square := "G0 X%s Y0\nG1 X%s F9\nY20\nM2\n"
	for _, c := range []struct {
		from, to string
		want     int
	}{
		{"0", "100", 0},
		{"-3", "103", 0},  // an outline with a 6 mm cutter
		{"-3", "50", 1},   // would fit if it were moved
		{"-1", "50", 0},   // within what a cutter needs
		{"-50", "50", 1},  // zero in the middle
		{"10", "60", 0},   // half of the blank
		{"-100", "0", 1},  // mirrored already
		{"300", "310", 1}, // beside the blank
		{"-60", "200", 1}, // far beyond
		{"-15", "110", 0}, // leads in from outside
	} {
		in := fmt.Sprintf(square, c.from, c.to)
		b := [2][2]decimal.Decimal{{dec("0"), dec("0")}, {dec("100"), dec("20")}}
		r, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, Options{Map: flipY("100"), Blank: &b})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, note := range r.Notes {
			if fact.Code(note.Is) == "off-blank" {
				n++
			}
		}
		if n != c.want {
			t.Errorf("X%s to X%s: %d warnings, want %d", c.from, c.to, n, c.want)
		}
	}
}

// TestStream: proved blocks are passed on while the program is still coming, and
// nothing from a fault on.
func TestStream(t *testing.T) {
	in, feed := io.Pipe()
	out, taken := io.Pipe()
	done := make(chan error)
	go func() {
		_, err := Mirror(in, taken, Options{Map: flipY("100"), Stream: true})
		taken.CloseWithError(io.EOF)
		done <- err
	}()
	lines := bufio.NewReader(out)
	for i := range 3 {
		fmt.Fprintf(feed, "G1 X%d F9\n", i)
		if got, err := lines.ReadString('\n'); err != nil || got != fmt.Sprintf("G1 X%d F9\n", 100-i) {
			t.Fatalf("%q, %v", got, err)
		}
	}
	go func() {
		fmt.Fprint(feed, "X7\nG16\nX8\n")
		feed.Close()
	}()
	rest, _ := io.ReadAll(lines)
	if err := <-done; err == nil || !strings.HasPrefix(err.Error(), "5:1: G16") || strings.Contains(string(rest), "G16") {
		t.Errorf("%v, %q", err, rest)
	}
}

// TestStreamWhole: a stream is the same bytes in the end.
func TestStreamWhole(t *testing.T) {
	long := draws.Of(50_000)
	for _, in := range []string{string(mixedProgram(long)), "G0 X1\nM98 P1\nM2\nO1\nX2\nM99", "G0 X1\n/X2\nX3", string(plainProgram(long))} {
		for _, o := range []Options{{Map: flipY("100")}, {Map: flipX("8"), BackOffset: "G55", Comment: "x"}, {Map: flipY("100"), ReverseCuts: true}} {
			var whole, streamed bytes.Buffer
			if _, err := Mirror(strings.NewReader(in), &whole, o); err != nil {
				t.Fatal(err)
			}
			o.Stream = true
			if _, err := Mirror(strings.NewReader(in), &streamed, o); err != nil || !bytes.Equal(whole.Bytes(), streamed.Bytes()) {
				t.Errorf("%v, %d of %d bytes", err, streamed.Len(), whole.Len())
			}
		}
	}
}

// TestArcMismatch: a difference of radii above 0.002 mm is a warning (NISTIR 6556,
// 3.5.3.2, makes it an error), above the tolerance a refusal.
func TestArcMismatch(t *testing.T) {
	for _, c := range []struct {
		end, tolerance string
		notes          int
		refused        bool
	}{{"10", "0", 0, false}, {"10.002", "0", 0, false}, {"10.003", "0", 1, false}, {"10.05", "0", 1, false}, {"10.051", "0", 0, true}, {"10.051", "0.1", 1, false}} {
		r, err := Mirror(strings.NewReader("G0 X0 Y0\nG2 X"+c.end+" I5 F9\nM2\n"), &bytes.Buffer{}, Options{Map: flipY("100"), ArcTolerance: dec(c.tolerance)})
		if c.refused {
			if err == nil || !strings.Contains(err.Error(), "radii at start and end differ by 0.051 mm") {
				t.Errorf("%s: %v", c.end, err)
			}
			continue
		}
		n := 0
		for _, note := range r.Notes {
			if fact.Code(note.Is) == "arc-mismatch" {
				n++
			}
		}
		if err != nil || n != c.notes {
			t.Errorf("%s: %v, %d notes", c.end, err, n)
		}
	}
}

// TestLowRapids: rapids count below the surface, wherever Z0 is. The work is 12 thick.
func TestLowRapids(t *testing.T) {
	bed, mixed := flipY("100"), flipY("100")
	mixed.Z.Offset = dec("-12") // face from the bed, back from the top
	top := dec("12")
	for _, c := range []struct {
		name    string
		in      string
		o       Options
		rapids  int64
		deepest float64
	}{
		{"from the top", "G1 Z-1 F9\nX50\nG0 X60\nZ5\n", Options{Map: flipY("100")}, 1, 1},
		{"above it", "G1 Z-1 F9\nX50\nG0 Z5\nX60\n", Options{Map: flipY("100")}, 0, 1},
		{"from the bed, 7 deep", "G1 Z5 F9\nX50\nG0 X90\nZ20\n", Options{Map: bed, Top: &top}, 1, 7},
		{"from the bed to the top", "G1 Z5 F9\nX50\nG0 X90\nZ20\n", Options{Map: mixed, Top: &top}, 1, 7},
		{"between pecks", "G83 X20 Y20 Z-9 R1 Q2 F9\nX30\nG80\n", Options{Map: flipY("100")}, 0, 9},
		{"pecks from R below", "G83 X20 Y20 Z-9 R-1 Q2 F9\nX30\nG80\n", Options{Map: flipY("100")}, 2, 9},
		{"sideways in the hole's line", "G83 X20 Y20 Z-9 R-1 Q5 F9\nG99 X30\nX40\nG80\nG0 Z9\n", Options{Map: flipY("100")}, 3, 9},
		{"in inches, 1/4 deep", "G20\nG0 Z1\nG1 Z-.25 F9\nX2\nG0 X3\nZ1\n", Options{Map: flipY("100")}, 1, 6.35},
	} {
		r, err := Mirror(strings.NewReader("G90\nG0 X10 Y10 Z20\n"+c.in+"M2\n"), io.Discard, c.o)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		told := slices.ContainsFunc(r.Notes, func(n Note) bool { return fact.Code(n.Is) == "low-rapids" })
		for _, s := range []*motion.Summary{&r.Before, &r.After} {
			if s.Rapids != c.rapids || math.Abs(s.Deepest-c.deepest) > 1e-9 || told != (c.rapids > 0) {
				t.Errorf("%s: %d rapids below, %g deep, told %v", c.name, s.Rapids, s.Deepest, told)
			}
		}
	}
}
