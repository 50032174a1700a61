package proof

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
)

// reversed are programs whose mirror runs chains backwards, written by hand: the
// cuts in the other order and direction, arcs therefore with the letter of the input.
var reversed = []pairTest{
	{"open chain enters at the other end", chains(flipY("120"), Chain{2, 6}),
		"g21 g90 g17 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20 f300\ng2 x30 y20 i0 j10\ng0 z5\nx50 y50\n",
		"g21 g90 g17 g0 x120 y0 z5\ng0 x90 y20\ng1 z-1 f100\ng2 x100 y10 i10 j0 f300\ng1 x110 f300\ng0 z5\nx70 y50\n"},
	{"closed chain keeps its entry", chains(flipY("120"), Chain{2, 7}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20 f300\ny20 f200\nx10 y10 f300\ng0 z5\nx50 y50\n",
		"g21 g90 g0 x120 y0 z5\ng0 x110 y10\ng1 z-1 f100\nx100 y20 f300\ny10 f200\nx110 f300\ng0 z5\nx70 y50\n"},
	{"a full circle", chains(flipX("80"), Chain{2, 5}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\ng3 x10 y10 i5 j0\ng0 z5\n",
		"g21 g90 g0 x0 y80 z5\ng0 x10 y70\ng1 z-1 f100\ng3 x10 y70 i5 j0\ng0 z5\n"},
	{"compensation keeps its side", chains(flipY("120"), Chain{2, 7}), compensatedIn, compensatedOut},
	{"compensation on lines of its own; the lead-in of NISTIR 6556, table 12, and the same out", chains(flipX("80"), Chain{2, 11}),
		"g21 g90 g0 x0 y0 z5\ng0 x1 y5\ng1 z-1 f100\ng41 d3 (on)\ny4\ng3 x2 y3 i1\ng1 x5\ng3 x6 y4 j1\ng40\ng1 y5\ng0 z5\nx9 y9\n",
		"g21 g90 g0 x0 y80 z5\ng0 x6 y75\ng1 z-1 f100\ng41 d3 (on)\ny76\ng3 x5 y77 i-1\ng1 x2\ng3 x1 y76 j-1\ng40\ng1 y75\ng0 z5\nx9 y71\n"},
	{"compensation with leads at 45 degrees, alike", chains(flipY("120"), Chain{2, 7}), leanIn, leanOut},
	{"comments go with their lines", chains(flipY("120"), Chain{2, 6}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20 (second)\ny20 (first)\ng0 z5\nx50 y50\n",
		"g21 g90 g0 x120 y0 z5\ng0 x100 y20\ng1 z-1 f100\ny10 (second)\nx110 (first)\ng0 z5\nx70 y50\n"},
	{"straight up after the chain", chains(flipY("120"), Chain{2, 5}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20\ng0 z5\nz50\nm5\ng28\nm30\n",
		"g21 g90 g0 x120 y0 z5\ng0 x100 y10\ng1 z-1 f100\nx110\ng0 z5\nz50\nm5\ng28\nm30\n"},
	{"plain blocks between chains", chains(flipY("120"), Chain{2, 5}, Chain{9, 12}),
		"g21 g90 g94 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20\ng0 z5\nx1 y1\nx2 y2\nx3 y3\ng0 x10 y10\ng1 z-1 f100\nx20\ng0 z5\nx1 y1\n",
		"g21 g90 g94 g0 x120 y0 z5\ng0 x100 y10\ng1 z-1 f100\nx110\ng0 z5\nx119 y1\nx118 y2\nx117 y3\ng0 x100 y10\ng1 z-1 f100\nx110\ng0 z5\nx119 y1\n"},
	{"rapids that rise as they go, up in two feeds", chains(flipY("120"), Chain{2, 5}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10 z6\ng1 z-1 f100\nx20\ng1 z2\nz5\ng0 x50 y50 z7\ng1 x60\n",
		"g21 g90 g0 x120 y0 z5\ng0 x100 y10 z6\ng1 z-1 f100\nx110\ng1 z2\nz5\ng0 x70 y50 z7\ng1 x60\n"},
	{"a rapid that leads nowhere in the input", chains(flipY("120"), Chain{2, 5}),
		"g21 g90 g0 x10 y10 z5\ng0 x10\ng1 z-1 f100\nx20\ng0 z5\ng0 x50 y50\n",
		"g21 g90 g0 x110 y10 z5\ng0 x100 y10\ng1 z-1 f100\nx110\ng0 z5\ng0 x70 y50\n"},
	{"feeds alone and coolant", chains(flipY("120"), Chain{2, 11}),
		"g21 g90 g0 x0 y0 z5\ng0 x10 y10\nm8\ng1 z-1 f100\nf200\nx20\nf300\ny20\nf400\nm9\ng0 z5\nx50 y50\n",
		"g21 g90 g0 x120 y0 z5\ng0 x100 y20\nm8\ng1 z-1 f100\nf300\ny10\nf200\nx110\nf400\nm9\ng0 z5\nx70 y50\n"},
	{"a feed from before the chain", chains(flipY("120"), Chain{7, 11}),
		"g21 g90 g94 g17 g0 x0 y0 z5 f100\ng1 x1\nx2\nx3 f200\nx4\nx5\ng0 x10 y10\ng1 z-1\nx20\ny20 f300\ng0 z5\nx50 y50\n",
		"g21 g90 g94 g17 g0 x120 y0 z5 f100\ng1 x119\nx118\nx117 f200\nx116\nx115\ng0 x100 y20\ng1 z-1\ny10 f300\nx110 f200\ng0 z5 f300\nx70 y50\n"},
}

// A chain under compensation: led in along X, round two corners to the left, out along X.
const compensatedIn = "g21 g90 g17 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\ng41 d1 x20\ny30\ng40 x10\ng0 z5\nx50 y50\n"
const compensatedOut = "g21 g90 g17 g0 x120 y0 z5\ng0 x110 y30\ng1 z-1 f100\ng41 d1 x100\ny10\ng40 x110\ng0 z5\nx70 y50\n"

// The same led in and out aslant: from (10, 0) to (20, 10), up to (20, 30), and, turned as far to
// the left again, out to (10, 40).
const leanIn = "g21 g90 g17 g0 x0 y0 z5\ng0 x10 y0\ng1 z-1 f100\ng41 d1 x20 y10\ny30\ng40 x10 y40\ng0 z5\nx50 y50\n"
const leanOut = "g21 g90 g17 g0 x120 y0 z5\ng0 x110 y40\ng1 z-1 f100\ng41 d1 x100 y30\ny10\ng40 x110 y0\ng0 z5\nx70 y50\n"

func chains(o Options, c ...Chain) Options { o.Reversed = c; return o }

func TestReversed(t *testing.T) {
	for _, tt := range reversed {
		r, err := check(tt.in, tt.out, tt.o)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if int(r.Reversed) != len(tt.o.Reversed) {
			t.Errorf("%s: %d chains compared, want %d", tt.name, r.Reversed, len(tt.o.Reversed))
		}
	}
}

// TestReversedWrong: chains that aren't the input's run backwards.
func TestReversedWrong(t *testing.T) {
	const in = "g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20 f300\ny20 f200\ng0 z5\nx50 y50\n"
	const out = "g21 g90 g0 x120 y0 z5\ng0 x100 y20\ng1 z-1 f100\ny10 f200\nx110 f300\ng0 z5 f200\nx70 y50\n"
	o := chains(flipY("120"), Chain{2, 6})
	if _, err := check(in, out, o); err != nil {
		t.Fatal(err)
	}
	tests := []struct{ old, new, want string }{
		{"y10 f200", "y10 f300", "4:1: a feed from X100 Y20 Z-1 to X100 Y10 Z-1, expected the mirror of line 5"},
		{"f200\nx110", "f200\nx111", "5:1: a feed from X100 Y10 Z-1 to X111 Y10 Z-1, expected the mirror of line 4"},
		{"x100 y20", "x101 y20", "4:1: a feed from X101 Y20 Z-1 to X101 Y10 Z-1, expected the mirror of line 5"},
		{"x100 y20", "x110 y20", "4:1: a feed from X110 Y20 Z-1 to X110 Y10 Z-1, expected the mirror of line 5"},
		{"z-1", "z-2", "4:1: "},
		{"g0 z5 f200\n", "g1 z5 f200\n", "6:1: a feed from X110 Y10 Z-1 to X110 Y10 Z5 on the way to or from a reversed chain, expected heights and feed"},
		{"g0 z5 f200\n", "g0 z5\n", "6:1: a rapid from X110 Y10 Z-1 to X110 Y10 Z5 on the way to or from a reversed chain, expected heights and feed"},
		{"g0 z5 f200\n", "g0 z4 f200\n", "6:1: "},
		{"g0 z5 f200\n", "g0 z5 f200 g91\n", "6:12: g91 in a reversed chain"},
		{"y10 f200", "g2 y10 j-5 f200", "5:1: an arc without a centre"},
		{"y10 f200", "g2 y10 j-5 f200 g1", "4:17: G1 after G2 in one block, expected one of them; hint: put them into two blocks"},
		{"x110 f300", "x110 f300 (a)", "2:1: other comments"},
		{"x100 y20\ng1 z-1 f100\n", "x110 y10\ng1 z-1 x100 y20 f100\n", "2:"},
		{"g1 z-1", "m3 g1 z-1", "3:1: m3 in a reversed chain"},
		{"x70 y50", "x70", "7:1: "},
		{"x110 f300", "", "2:1: a reversed chain of 1 cuts, expected 2 cuts"},
	}
	for _, tt := range tests {
		_, err := check(in, strings.Replace(out, tt.old, tt.new, 1), o)
		if err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want) {
			t.Errorf("%q for %q: got %v, want %s", tt.new, tt.old, err, tt.want)
		}
	}
	// A rapid to the other end below the height of the way out is refused.
	low := strings.Replace(in, "g0 z5\n", "g0 z9\n", 1)
	lowOut := strings.Replace(out, "g0 z5 f200", "g0 z9 f200", 1)
	if _, err := check(low, lowOut, o); err == nil || !strings.Contains(err.Error(), "low height") {
		t.Errorf("a low rapid: %v", err)
	}
	// And one that goes down on its way, where the input goes down straight.
	down := strings.Replace(in, "g1 z-1 f100\n", "g0 z-1 f100\ng1 ", 1)
	downOut := strings.Replace(out, "x100 y20\ng1 z-1 f100\n", "x110 y10\ng0 x100 y20 z-1 f100\ng1 ", 1)
	if _, err := check(down, downOut, o); err == nil || !strings.Contains(err.Error(), "low height") {
		t.Errorf("a rapid aside and down: %v", err)
	}
	// A feed from before the chain, which the short way wouldn't have followed.
	before := reversed[len(reversed)-1]
	wrong := strings.Replace(before.out, "x110 f200", "x110 f100", 1)
	if _, err := check(before.in, wrong, before.o); err == nil || !strings.HasPrefix(err.Error(), "output:10:1: a feed from X100 Y10 Z-1") {
		t.Errorf("a feed that was in force before: %v", err)
	}
	// A chain that is announced when the short way may have passed a feed.
	late := Start(flipY("120"))
	defer late.Abandon()
	if err := late.Feed([]byte(before.in[:44]), []byte(before.out[:46])); err != nil {
		t.Fatal(err)
	}
	late.Reverse(before.o.Reversed[0])
	if err := late.Feed([]byte(before.in[44:]), []byte(before.out[46:])); err == nil || !strings.Contains(err.Error(), "no reversed chain here") {
		t.Errorf("a chain announced late: %v", err)
	}
	// And what isn't announced as reversed must not be.
	if _, err := check(in, out, flipY("120")); err == nil {
		t.Error("a reversed chain that wasn't announced passes")
	}
}

// TestReversedCompensation: what must not be run backwards under compensation, and what
// isn't the input's.
func TestReversedCompensation(t *testing.T) {
	alike := [2]string{"", ""}
	for _, tt := range []struct {
		in, out [2]string // replaced by
		want    string
	}{
		{alike, alike, ""},
		{alike, [2]string{"g41", "g42"}, "4:1: a cut under G42, expected G41 as on cut 1"},
		{alike, [2]string{"g41 d1 ", ""}, "2:1: other comments"},
		{alike, [2]string{"d1", "d2"}, "2:1: other comments"},
		{alike, [2]string{"g41 d1 x100\ny10", "g41 x100\nd1 y10"}, "2:1: other comments"},
		{alike, [2]string{"g40 ", ""}, "6:1: a cut under G41, expected G40 as on cut 3"},
		{alike, [2]string{"y10\ng40", "g40 y10\n"}, "5:1: a cut under G40, expected G41 as on cut 2"},
		// On before the plunge, or after the last cut.
		{[2]string{"g1 z-1 f100\ng41 d1", "g41 d1 g1 z-1 f100\n"}, [2]string{"g1 z-1 f100\ng41 d1", "g41 d1 g1 z-1 f100\n"}, "2:1: cutter compensation on the way"},
		{[2]string{"g40 x10\n", "x10\ng40 "}, [2]string{"g40 x110\n", "x110\ng40 "}, "2:1: cutter compensation that isn't on"},
		// The lead-out longer, by more and by less than words are written to; aslant; straight back.
		{[2]string{"g40 x10", "g40 x9.99"}, [2]string{"x110 y30", "x110.01 y30"}, "2:1: leads of different length"},
		{[2]string{"g40 x10", "g40 x9.9975"}, [2]string{"x110 y30", "x110.0025 y30"}, ""},
		{[2]string{"g40 x10", "g40 x12 y36"}, [2]string{"x110 y30\ng1 z-1 f100\ng41 d1 x100", "x108 y36\ng1 z-1 f100\ng41 d1 x100 y30"}, "2:1: leads at different angles"},
		{[2]string{"g40 x10", "g40 x30"}, [2]string{"x110 y30", "x90 y30"}, "2:1: leads at different angles"},
		// An arc for a lead-out, and one by radius beside it.
		{[2]string{"g40 x10", "g40 g3 x10 i-5"}, [2]string{"x100\ny10", "g3 x100 i-5\ng1 y10"}, "2:1: a reversed chain under cutter compensation that isn't led"},
		{[2]string{"y30\ng40 ", "g3 y30 r10\ng40 g1 "}, [2]string{"y10\ng40 ", "g3 y10 r10\ng40 g1 "}, "2:1: a reversed chain under cutter compensation that isn't led"},
		// Nothing between the leads.
		{[2]string{"y30\ng40 x10", "g40 y20\nf100"}, [2]string{"x110 y30\ng1 z-1 f100\ng41 d1 x100\ny10", "x100 y20\ng1 z-1 f100\ng41 d1 y10\nf100"}, "2:1: a reversed chain of nothing but"},
	} {
		in, out := compensatedIn, compensatedOut
		if tt.in != alike {
			in = strings.Replace(in, tt.in[0], tt.in[1], 1)
		}
		if tt.out != alike {
			out = strings.Replace(out, tt.out[0], tt.out[1], 1)
		}
		_, err := check(in, out, chains(flipY("120"), Chain{2, 7}))
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want)) {
			t.Errorf("%q, %q: got %v, want %q", tt.in, tt.out, err, tt.want)
		}
	}
}

// TestReversedLeads: a lead that leans to the other side is no lead alike.
func TestReversedLeads(t *testing.T) {
	in, out := strings.Replace(leanIn, "x10 y40", "x30 y40", 1), strings.Replace(leanOut, "x110 y40", "x90 y40", 1)
	if _, err := check(in, out, chains(flipY("120"), Chain{2, 7})); err == nil || !strings.HasPrefix(err.Error(), "output:2:1: leads at different angles") {
		t.Errorf("%v", err)
	}
}

// TestReversedSettings: a speed goes with its cut; coolant and a dwell keep their place in
// the order of the moves.
func TestReversedSettings(t *testing.T) {
	const in = "g21 g90 s900 m3 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\ng4 p0.5\nx20\nm8\ns800\ny20\nx10 y10\ng0 z5\n"
	const out = "g21 g90 s900 m3 g0 x120 y0 z5\ng0 x110 y10\ng1 z-1 f100\ng4 p0.5\nx100 y20 s800\nm8\ns800\ny10\nx110 s900\ng0 z5 s800\n"
	for _, tt := range []struct{ old, new, want string }{
		{"", "", ""},
		{"y20 s800", "y20", "5:1: a feed from X110"},
		{"x110 s900", "x110", "9:1: a feed from X100"},
		{"x110 s900", "x110 s901", "9:1: a feed from X100"},
		{"g0 z5 s800", "g0 z5", "10:1: "},
		{"p0.5", "p0.6", "3:1: other comments"},
		{"p0.5", "u0.5", "4:1: g4 in a reversed chain"},
		{"g4 p0.5\nx100 y20 s800", "x100 y20 s800\ng4 p0.5", "3:1: other comments"},
		{"m8\ns800\ny10\n", "s800\ny10\nm8\n", "3:1: other comments"},
		{"m8", "m7", "3:1: other comments"},
		{"g1 z-1 f100\ng4 p0.5", "g4 g1 z-1 f100\n(p0.5)", "3:"},
	} {
		_, err := check(in, strings.Replace(out, tt.old, tt.new, 1), chains(flipY("120"), Chain{3, 10}))
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want)) {
			t.Errorf("%q for %q: got %v, want %s", tt.new, tt.old, err, tt.want)
		}
	}
}

// TestReversedIncrements: a chain in G91 is run backwards only where it comes back to its
// start.
func TestReversedIncrements(t *testing.T) {
	for _, tt := range []struct{ in, out, want string }{
		{"x20\ny5\nx-20 y-5", "x-20 y5\ny-5\nx20", ""},
		{"x20\ny5\nx-20 y-5", "x-20 y5\ny-5\nx19", "6:1: a feed from X90"},
		{"x20\ny5\nx-20 y-5", "x-20 y5\ng90 y10\ng91 x20", "6:1: g91 in"},
		{"x20\ny5\nx-20", "x-20\ny-5\nx20", "3:1: a reversed chain in G91 that doesn't come back"},
	} {
		in, out := "g21 g90 g0 x10 y10 z5\ng91\ng1 z-6 f100\n"+tt.in+"\ng0 z6\n", "g21 g90 g0 x110 y10 z5\ng91\ng1 z-6 f100\n"+tt.out+"\ng0 z6\n"
		_, err := check(in, out, chains(flipY("120"), Chain{3, 7}))
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want)) {
			t.Errorf("%q: got %v, want %q", tt.out, err, tt.want)
		}
	}
}

// TestOtherEnd: from the other end of an open chain the programs run apart until a rapid
// gives both axes, which must not come down.
func TestOtherEnd(t *testing.T) {
	const in, out = "g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-1 f100\nx20 y20\ng0 z5\n", "g21 g90 g0 x120 y0 z5\ng0 x100 y20\ng1 z-1 f100\nx110 y10\ng0 z5\n"
	for _, tt := range []struct {
		in, out string
		want    string // the output's line
		last    Chain  // one more
	}{
		{"x50 y50", "x70 y50", "", Chain{}},
		{"x50 y50 z5", "x70 y50 z5", "", Chain{}},
		{"x50 y50 z4", "x70 y50 z4", "6", Chain{}},
		{"z6\nx50 y50 z4", "z6\nx70 y50 z4", "7", Chain{}},
		{"g1 z7\ng0 z8\nx50 y50", "g1 z7\ng0 z8\nx70 y50", "", Chain{}},
		{"z4", "z4", "6", Chain{}},
		{"g1 z4", "g1 z4", "6", Chain{}},
		{"y50", "y50", "6", Chain{}},
		{"x50", "x70", "6", Chain{}},
		{"g91 x0 y0", "g91 x0 y0", "", Chain{}},
		{"x20 y20", "x100 y20", "", Chain{}},
		{"x20 y20", "x110 y10", "6", Chain{}},
		{"g91 x30 y30", "g91 x-30 y30", "6", Chain{}},
		{"g1 x50 y50", "g1 x70 y50", "6", Chain{}},
		{"g2 x50 y50 r90", "g3 x70 y50 r90", "6", Chain{}},
		{"g81 x50 y50 z-1 r6", "g81 x70 y50 z-1 r6", "", Chain{}},
		{"g81 x50 y50 z-1 r2", "g81 x70 y50 z-1 r2", "", Chain{}},
		// The next chain's way in: it must not come down either.
		{"x50 y50\ng1 z-1\nx60\ng0 z5\nx0 y0", "x60 y50\ng1 z-1\nx70\ng0 z5\nx120 y0", "", Chain{6, 9}},
		{"x50 y50 z4\ng1 z-1\nx60\ng0 z4\nx0 y0", "x60 y50 z4\ng1 z-1\nx70\ng0 z4\nx120 y0", "6", Chain{6, 9}},
		{"x50 y50 z3\ng1 z-1\nx60\ng0 z4\nx0 y0", "x60 y50 z3\ng1 z-1\nx70\ng0 z4\nx120 y0", "6", Chain{6, 9}},
	} {
		o := chains(flipY("120"), Chain{2, 5})
		if tt.last.First > 0 {
			o = chains(o, Chain{2, 5}, tt.last)
		}
		_, err := check(in+tt.in+"\n", out+tt.out+"\n", o)
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want+":")) {
			t.Errorf("%q: got %v, want a fault in line %q", tt.in, err, tt.want)
		}
	}
}

// TestOtherEndSafe: at the other end of an open chain the tool meets stock that it hadn't
// met in the input, so that it must go down at no more than the feed of the cuts and
// cross above the work. The top lies at Z0 where it is known, in mm; inches below.
func TestOtherEndSafe(t *testing.T) {
	for _, tt := range []struct {
		in, out string
		known   bool
		want    string
	}{
		{"g1 z-1 f300", "g1 z-1 f300", true, ""},
		{"g1 z-1 f300", "g1 z-1 f300", false, ""},
		{"g1 z-1 f301", "g1 z-1 f301", true, "3:1: a feed of 301 down at the other end of a reversed chain, expected at most that of its cuts, 300"},
		{"g1 z-1 f301", "g1 z-1 f301", false, "3:1: a feed of 301 down"},
		{"g0 z-1 f300", "g0 z-1 f300", true, "3:1: a rapid down at the other end"},
		{"g0 z-1 f300", "g0 z-1 f300", false, "3:1: a rapid down at the other end"},
		{"g0 z1\ng1 z-1 f300", "g0 z1\ng1 z-1 f300", true, ""},
		{"g0 z1\ng1 z-1 f300", "g0 z1\ng1 z-1 f300", false, "3:1: a rapid down at the other end"},
		{"g0 z0\ng1 z-1 f300", "g0 z0\ng1 z-1 f300", true, "3:1: a rapid down at the other end"},
		{"g1 z1 f999\nz-1 f300", "g1 z1 f999\nz-1 f300", true, ""},
		{"g1 z1 f999\nz-1 f300", "g1 z1 f999\nz-1 f300", false, "3:1: a feed of 999 down"},
	} {
		n := strings.Count(tt.in, "\n")
		in := "g21 g90 g0 x0 y0 z5\ng0 x10 y10\n" + tt.in + "\ng1 x20 f400\ny20 f300\ng0 z5\nx50 y50\n"
		out := "g21 g90 g0 x120 y0 z5\ng0 x100 y20\n" + tt.out + "\ng1 y10 f300\nx110 f400\ng0 z5 f300\nx70 y50\n"
		o := chains(flipY("120"), Chain{2, 6 + n})
		if tt.known {
			o.Top = new(motion.Num)
		}
		_, err := check(in, out, o)
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want)) {
			t.Errorf("%q, top known %t: got %v, want %q", tt.in, tt.known, err, tt.want)
		}
	}
	for _, tt := range []struct{ z, top, unit, want string }{
		{"1", "0", "g21", ""},
		{"1", "1", "g21", "2:1: a reversed chain whose other end is reached through the work"},
		{"1", "25", "g20", ""},
		{"1", "25.4", "g20", "2:1: a reversed chain whose other end is reached through the work"},
	} {
		in := tt.unit + " g90 g0 x0 y0 z" + tt.z + "\ng0 x1 y1\ng1 z-1 f3\nx2\ng0 z" + tt.z + "\n"
		out := tt.unit + " g90 g0 x0 y0 z" + tt.z + "\ng0 x-2 y1\ng1 z-1 f3\nx-1\ng0 z" + tt.z + "\n"
		o := chains(flipY("0"), Chain{2, 5})
		top, _ := decimal.NewFromString(tt.top)
		n := motion.FromDecimal(top)
		o.Top = &n
		_, err := check(in, out, o)
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), "output:"+tt.want)) {
			t.Errorf("%+v: got %v", tt, err)
		}
	}
	// The rapid after the chain runs through the work; the one to it doesn't.
	in := "g21 g90 g0 x0 y0 z5\ng0 x10 y10\ng1 z-2 f100\nx20\ng0 z-1\nx50 y50 z0\n"
	out := "g21 g90 g0 x120 y0 z5\ng0 x100 y10\ng1 z-2 f100\nx110\ng0 z-1\nx70 y50 z0\n"
	o := chains(flipY("120"), Chain{2, 5})
	if _, err := check(in, out, o); err != nil {
		t.Fatal(err)
	}
	o.Top = new(motion.Num)
	if _, err := check(in, out, o); err == nil || !strings.HasPrefix(err.Error(), "output:6:1: ") {
		t.Errorf("a rapid through the work: %v", err)
	}
}
