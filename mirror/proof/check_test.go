package proof

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"

	"github.com/shopspring/decimal"
)

// flipY is the map x' = w - x of a blank turned over like a page.
func flipY(w string) Options {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.RequireFromString(w)}
	return mapped(m)
}

// flipX is the map y' = h - y.
func flipX(h string) Options {
	m := transform.Identity(transform.MM)
	m.Y = transform.Axis{Sign: -1, Offset: decimal.RequireFromString(h)}
	return mapped(m)
}

func mapped(m transform.Map) Options {
	inch, _ := m.In(transform.Inch, 4)
	mm, _ := m.In(transform.MM, 4)
	return Options{Map: mm, InchMap: inch, Unit: transform.MM, Name: "in"}
}

type pairTest struct {
	name    string
	o       Options
	in, out string
}

// right are programs with their mirrors, written by hand from the rules of
// NISTIR 6556 and of reflection: one axis reversed, arcs in planes with that axis
// change sense, left becomes right.
var right = []pairTest{
	{"lines", flipY("120"), "g21 g90 g0 x0 y0 z5\ng1 z-1 f300\nx10 y5\ng0 z5\n", "g21 g90 g0 x120 y0 z5\ng1 z-1 f300\nx110 y5\ng0 z5\n"},
	{"incremental", flipY("120"), "g21 g91 g0 x5 y0 z5\nx-2.5\n", "g21 g91 g0 x-5 y0 z5\nx2.5\n"},
	{"flip x", flipX("80"), "g21 g90 g0 x0 y0 z5\ng1 y10 f300\ng2 x5 y15 i5 j0\n", "g21 g90 g0 x0 y80 z5\ng1 y70 f300\ng3 x5 y65 i5 j0\n"},
	{"hello world n0190 (NISTIR 6556, C.1)", flipY("81"),
		"g21 g0 x16 y2.5 z0\nn0190 g3 x13.5 y0 i-2.5\n", "g21 g0 x65 y2.5 z0\nn0190 g2 x67.5 y0 i2.5\n"},
	{"hello world n0490", flipY("81"), "g21 g0 x64 y4 z0\nn0490 g2 x69 r4\n", "g21 g0 x17 y4 z0\nn0490 g3 x12 r4\n"},
	{"material edge of NISTIR 6556, table 12", flipY("0"),
		"g21 g0 x1 y5\nG41 G1 Y4\nG3 X2 Y3 I1\nG2 X3 Y2 J-1\nG1 Y-1\nG2 X2 Y-2 I-1\nG1 X-2\nG2 X-2.6 Y-0.2 J1\nG1 X1.4 Y2.8\nG2 X2 Y3 I0.6 J-0.8\nG40\n",
		"g21 g0 x-1 y5\nG42 G1 Y4\nG2 X-2 Y3 I-1\nG3 X-3 Y2 J-1\nG1 Y-1\nG3 X-2 Y-2 I1\nG1 X2\nG3 X2.6 Y-0.2 J1\nG1 X-1.4 Y2.8\nG3 X-2 Y3 I-0.6 J-0.8\nG40\n"},
	{"planes", flipY("120"), "g21 g90 g0 x0 y0 z0\ng18 g2 x2 i1 k0 f5\ng19 g2 y2 j1 k0\ng17 g3 x4 i1 j0\n",
		"g21 g90 g0 x120 y0 z0\ng18 g3 x118 i-1 k0 f5\ng19 g2 y2 j1 k0\ng17 g2 x116 i-1 j0\n"},
	{"absolute centres", flipY("120"), "g21 g90 g90.1 g0 x0 y0 z0\ng2 x2 i1 j0 f5\ng91.1\nx4 i1\n",
		"g21 g90 g90.1 g0 x120 y0 z0\ng3 x118 i119 j0 f5\ng91.1\nx116 i-1\n"},
	{"helix", flipY("120"), "g21 g90 g0 x10 y0 z0\ng2 x10 y0 z-1 i5 j0 f5\n", "g21 g90 g0 x110 y0 z0\ng3 x110 y0 z-1 i-5 j0 f5\n"},
	{"cycles", flipY("120"), "g21 g90 g0 x0 y0 z5\ng81 x3 y4 r2 z-1 f90\nx5\ng91 x1 r-3 z-3 l2\ng90 g80 g0 x0\n",
		"g21 g90 g0 x120 y0 z5\ng81 x117 y4 r2 z-1 f90\nx115\ng91 x-1 r-3 z-3 l2\ng90 g80 g0 x120\n"},
	{"back boring", flipY("120"), "g21 g90 g0 x0 y0 z5\ng87 x9 y10 r0.2 z-1.1 i0.231 j-0 k-3 f9\n",
		"g21 g90 g0 x120 y0 z5\ng87 x111 y10 r0.2 z-1.1 i-0.231 j-0 k-3 f9\n"},
	{"G92", flipY("120"), "g21 g90 g92 x0 y0 z0\ng1 x5 f9\ng92 x7\nx9\ng92.1\nx3\n",
		"g21 g90 g92 x120 y0 z0\ng1 x115 f9\ng92 x113\nx111\ng92.1\nx117\n"},
	{"G52 is a shift", flipY("120"), "g21 g90 g0 x5 y5 z5\ng52 x7 y1\nx9\ng52 x0 y0\nx3\n", "g21 g90 g0 x115 y5 z5\ng52 x-7 y1\nx111\ng52 x0 y0\nx117\n"},
	{"G28 through a point", flipY("120"), "g21 g90 g0 x5 y5 z5\ng28 x6 z9\ng0 x1 z1\n", "g21 g90 g0 x115 y5 z5\ng28 x114 z9\ng0 x119 z1\n"},
	{"G28 in G91", flipY("120"), "g21 g90 g0 x5 y5 z5\ng91 g28 x0 y0\ng90 x2\n", "g21 g90 g0 x115 y5 z5\ng91 g28 x0 y0\ng90 x118\n"},
	{"G53 stays", flipY("120"), "g21 g90 g0 x5 y5 z5\ng53 g0 z0\ng53 x300\ng0 x1\n", "g21 g90 g0 x115 y5 z5\ng53 g0 z0\ng53 x300\ng0 x119\n"},
	{"dwell stays", flipY("120"), "g21 g90 g0 x5 y5 z5\ng4 x2\ng4 p2.5\n", "g21 g90 g0 x115 y5 z5\ng4 x2\ng4 p2.5\n"},
	{"bytes stay", flipY("120"), "%\r\nO12 (a X1)\r\nN5 G21g90 G0x +0. 12 y1 (b) ; c x9\r\n\r\n%\r\ntext\r\n",
		"%\r\nO12 (a X1)\r\nN5 G21g90 G0x 119.88 y1 (b) ; c x9\r\n\r\n%\r\ntext\r\n"},
	{"17 decimals", flipY("120"), "g21 g90 g0 x0.12345678901234567\n", "g21 g90 g0 x119.87654321098765433\n"},
	{"inches", flipY("127"), "g20 g90 g0 x1 y0 z0\ng2 x2 i0.5 f9\ng21 g91 x-1 i-.5\n", "g20 g90 g0 x4 y0 z0\ng3 x3 i-0.5 f9\ng21 g91 x1 i.5\n"},
	{"inches, the map rounded", flipY("120"), "g20 g90 g0 x1 y0 z0\ng21 g91 x1\n g90 x5\n", "g20 g90 g0 x3.7244 y0 z0\ng21 g91 x-1\n g90 x115\n"},
	{"radii that differ by 0.01 mm", flipY("120"), "g21 g90 g0 x0 y0 z0\ng2 x2.01 i1 f9\n", "g21 g90 g0 x120 y0 z0\ng3 x117.99 i-1 f9\n"},
	{"a comment added", flipY("120"), "%\nO5\ng21 g90 g0 x5\n%\n", "%\nO5\n(turned over)\ng21 g90 g0 x115\n%\n"},
	{"a comment added before another", flipY("120"), "(a)\ng21 g90 g0 x5\n", "(turned over)\n(a)\ng21 g90 g0 x115\n"},
	{"a comment replaced", flipY("120"), "(a)\ng21 g90 g0 x5\n", "(turned over)\ng21 g90 g0 x115\n"},
	{"a comment added at the end", flipY("120"), "g21 g90 g0 x5\n", "g21 g90 g0 x115\n(turned over)\n"},
	{"offset added", back(flipY("120"), 560), "g21 g90 g0 x5\n", "G56\ng21 g90 g0 x115\n"},
	{"offset added before compensation", back(flipY("120"), 560), "g21 g90\ng41 d1\ng1 x40 y30\n", "g21 g90\nG56\ng42 d1\ng1 x80 y30\n"},
	{"a cut where the tool stands", flipY("120"), "g21 g90\ng0 z5\ng1 z-1 f100\nx20\ny30\nm30\n", "g21 g90\ng0 z5\ng1 z-1 f100\nx100\ny30\nm30\n"},
	{"arcs in G91 from where the tool stands", flipY("120"), "g21 g91\ng2 x10 i5 f9\ng90 i5\ng1 x0 y0\n", "g21 g91\ng3 x-10 i-5 f9\ng90 i-5\ng1 x120 y0\n"},
	{"safe line, look-ahead, clamps, L0", flipY("120"), "g00 g17 g21 g40 g49 g50 g80 g90\nm10 m19\nx1 y2 z3\ng5.1 q1\ng05 p10000\nm64 p1\ng99 g81 x1 y1 z-1 r2 l0 f9\nx2\ng80 g0 x5\nm30\n\x1a\nx",
		"g00 g17 g21 g40 g49 g50 g80 g90\nm10 m19\nx119 y2 z3\ng5.1 q1\ng05 p10000\nm64 p1\ng99 g81 x119 y1 z-1 r2 l0 f9\nx118\ng80 g0 x115\nm30\n\x1a\nx"},
	{"offset changed", back(flipY("120"), 560), "g54 g21 g90 g0 x5\n", "g56 g21 g90 g0 x115\n"},
	{"offsets mapped", offsets(flipY("120"), map[int]int{540: 560, 550: 591}), "g54 g21 g90 g0 x5\ng55 x1\n", "g56 g21 g90 g0 x115\ng59.1 x119\n"},
	{"offset kept", keep(back(flipY("120"), 560)), "g54 g21 g90 g0 x5\n", "g54 g21 g90 g0 x115\n"},
	{"block delete", flipY("120"), "g21 g90 g0 x5\n/x6\n/g91\ny7\ng90 x1\n", "g21 g90 g0 x115\n/x114\n/g91\ny7\ng90 x119\n"},
	{"top to bed", zUp("120", "12"), "g21 g90 g0 x5 z1\ng91 z-1\n", "g21 g90 g0 x115 z13\ng91 z-1\n"},
	{"rotary axis about X", flipY("120"), "g21 g90 g0 x5 y5 z5 a90\ng1 x6 a-10. f9\na0\n", "g21 g90 g0 x115 y5 z5 a90\ng1 x114 a-10. f9\na0\n"},
	{"rotation", flipY("120"), "g21 g90 g0 x5 y5 z5\ng68 x10 y20 r30\ng1 x7 y8 f9\ng91 x1\ng90 x3 y3\ng2 x5 i1\ng69\ng0 x1 y1\ng68 r-45.5\nx2\n",
		"g21 g90 g0 x115 y5 z5\ng68 x110 y20 r-30\ng1 x113 y8 f9\ng91 x-1\ng90 x117 y3\ng3 x115 i-1\ng69\ng0 x119 y1\ng68 r45.5\nx118\n"},
	{"splines", flipY("120"), "g21 g90 g0 x0 y0 z0\ng5 i1 j2 p-1 q3 x9 y9 f9\np1 q1 x12 y3\ng5.1 i1 j1 x15 y6\ng91 i1 j-1 x1 y1\n",
		"g21 g90 g0 x120 y0 z0\ng5 i-1 j2 p1 q3 x111 y9 f9\np-1 q1 x108 y3\ng5.1 i-1 j1 x105 y6\ng91 i-1 j-1 x-1 y1\n"},
	{"circular pocket", flipY("120"), "g21 g90 g0 x5 y5 z5\ng12 i3 k9 q2 z-1 f90\ng13 i2 f90\n", "g21 g90 g0 x115 y5 z5\ng13 i3 k9 q2 z-1 f90\ng12 i2 f90\n"},
	{"a pocket that isn't turned round", zUp("120", "0").unflipped(), "g21 g90 g0 x5 y5 z5\ng12 i3 z-1 f90\ng13 i2\n", "g21 g90 g0 x5 y5 z5\ng12 i3 z-1 f90\ng13 i2\n"},
	{"arcs behind increments", flipY("120"), "g21 g90 g94 g17 g91.1 g0 x10 y0 z5\ng91 g1 x1 f100\nx1 y1\ng90\ng2 x14 i1 j0\n",
		"g21 g90 g94 g17 g91.1 g0 x110 y0 z5\ng91 g1 x-1 f100\nx-1 y1\ng90\ng3 x106 i-1 j0\n"},
	{"subprograms", flipY("120"), "%\nO1\ng21 g90 g0 x0 y0 z5\nm98 p100 l2\ng91\nm98 p200\ng90 g0 x1\nm30\nO100\ng90 g1 z-1 f9\nx5\ng0 z5\nx0\nm99\nO200 (holes)\ng91 x3\nm98 p300\nm99\nO300\ng91 g2 x2 i1 f9\nm99\n%\n", "%\nO1\ng21 g90 g0 x120 y0 z5\nm98 p100 l2\ng91\nm98 p200\ng90 g0 x119\nm30\nO100\ng90 g1 z-1 f9\nx115\ng0 z5\nx120\nm99\nO200 (holes)\ng91 x-3\nm98 p300\nm99\nO300\ng91 g3 x-2 i-1 f9\nm99\n%\n"},
	{"subprogram and comments", flipY("120"), "g21 g90 g0 x0\nm98 p2\nm2\nO2\n(a)\nx1\nm99\n", "g21 g90 g0 x120\nm98 p2\nm2\nO2\n(b)\n(a)\nx119\nm99\n"},
	{"a subprogram that nothing calls", flipY("120"), "%\ng21 g90 g0 x0\nm2\nO2\nm99\n%\n", "%\ng21 g90 g0 x120\nm2\nO2\nm99\n%\n"},
	{"last line cut short", flipY("120"), "g21 g90 g0 x5\nx1", "g21 g90 g0 x115\nx119"},
}

func back(o Options, code int) Options         { o.BackOffset = code; return o }
func keep(o Options) Options                   { o.KeepOffset = true; return o }
func offsets(o Options, m map[int]int) Options { o.OffsetMap = m; return o }
func zUp(w, t string) Options {
	o := flipY(w)
	o.Map.Z.Offset = decimal.RequireFromString(t)
	return mapped(o.Map)
}

// halfTurn is the map of a part turned end for end: x' = w - x, y' = h - y.
func halfTurn(w, h string) Options {
	m := flipY(w).Map
	m.Y = transform.Axis{Sign: -1, Offset: decimal.RequireFromString(h)}
	return mapped(m)
}

// unflipped is o with the part left as it lies.
func (o Options) unflipped() Options {
	o.Map.X = transform.Axis{Sign: 1}
	return mapped(o.Map)
}

// TestShortWay: the blocks that most of a program is made of take the short way, right ones
// alone: each change is refused in as many words as by the long way.
func TestShortWay(t *testing.T) {
	const in = "g21 g90 g94 g17 g91.1\ng0 x0 y0 z5\ng1 z-1 f100\nx10 y5 (ab) f200\nn7 x11.5 s900\ng2 x12.5 y5 i.5 j0\ng2 x20 y0 r6\ng1 x.5;up\n"
	const out = "g21 g90 g94 g17 g91.1\ng0 x120 y0 z5\ng1 z-1 f100\nx110 y5 (ab) f200\nn7 x108.5 s900\ng3 x107.5 y5 i-.5 j0\ng3 x100 y0 r6\ng1 x119.5;up\n"
	r, err := check(in, out, flipY("120"))
	if err != nil || r.Blocks != 8 || r.Plain != 6 {
		t.Fatalf("%v, %+v", err, r)
	}
	for _, c := range [][2]string{
		{"(ab)", "(ac)"}, {";up", ";uq"}, {"f200", "f201"}, {"s900", "s901"}, {"n7", "n8"}, {"x110", "x111"}, {"x110", "x9"}, {"x108.5", "x109"},
		{"i-.5", "i.5"}, {"i-.5", "i-.6"}, {"g3 x107.5", "g2 x107.5"}, {"r6", "r7"}, {"y5 i", "y6 i"}, {"g1 x119.5", "g0 x119.5"}, {"x119.5", "x119.50001"},
	} {
		_, err := check(in, strings.Replace(out, c[0], c[1], 1), flipY("120"))
		_, slow := checkBy(in, strings.Replace(out, c[0], c[1], 1), flipY("120"), true)
		if err == nil || slow == nil || err.Error() != slow.Error() {
			t.Errorf("%s for %s: %v; the long way: %v", c[1], c[0], err, slow)
		}
	}
	// NISTIR 6556, 3.5.3.1: an arc whose end lies further off than its diameter is an error.
	for _, radius := range []string{"5.2", "-5.2", "0.1"} {
		in, out := "g21 g90 g94 g17 g91.1\ng0 x0 y0 z5\ng1 x1 f100\ng2 x11 y5 r"+radius+"\n", "g21 g90 g94 g17 g91.1\ng0 x120 y0 z5\ng1 x119 f100\ng3 x109 y5 r"+radius+"\n"
		if _, err := check(in, out, flipY("120")); err == nil || !strings.HasPrefix(err.Error(), "in:4:") {
			t.Errorf("R%s over a chord of 11.2: %v", radius, err)
		}
	}
}

func TestRight(t *testing.T) {
	for _, tt := range right {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := check(tt.in, tt.out, tt.o); err != nil {
				t.Error(err)
			}
		})
	}
}

const report = "; hint: nothing was handed over: this is a fault of the mirror, please report it"

// TestWrong: outputs that aren't the mirror, with the message each gets.
func TestWrong(t *testing.T) {
	const head = "g21 g90 g0 x0 y0 z5\n"
	const mirrored = "g21 g90 g0 x120 y0 z5\n"
	tests := []struct {
		name    string
		o       Options
		in, out string
		want    string
	}{
		{"unchanged", flipY("120"), "g21 g90 g0 x5\n", "g21 g90 g0 x5\n", "output:1:12: a rapid from X? Y? Z? to X5 Y? Z?, expected the mirror of line 1 of the input, a rapid from X? Y? Z? to X5 Y? Z?, through x' = 120 - x, y' = y, z' = z"},
		{"sense of an arc", flipY("120"), head + "g2 x2 i1\n", mirrored + "g2 x118 i-1\n", "output:2:1: a clockwise arc from X120 Y0 Z5 to X118 Y0 Z5 round X119 Y0 in G17, expected the mirror of line 2 of the input, a clockwise arc from X0 Y0 Z5 to X2 Y0 Z5 round X1 Y0 in G17, through x' = 120 - x, y' = y, z' = z"},
		{"sense of an arc that must stay", flipY("120"), head + "g19 g2 y2 j1\n", mirrored + "g19 g3 y2 j1\n", "output:2:1: a counter-clockwise arc from X120 Y0 Z5 to X120 Y2 Z5 round Y1 Z5 in G19, expected the mirror of line 2 of the input, a clockwise arc from X0 Y0 Z5 to X0 Y2 Z5 round Y1 Z5 in G19, through x' = 120 - x, y' = y, z' = z"},
		{"modal sense after a change of plane", flipY("120"), head + "g2 x2 i1\ng19 y2 j1\n", mirrored + "g3 x118 i-1\ng19 y2 j1\n", "output:3:1: a counter-clockwise arc from X118 Y0 Z5 to X118 Y2 Z5 round Y1 Z5 in G19, expected the mirror of line 3 of the input, a clockwise arc from X2 Y0 Z5 to X2 Y2 Z5 round Y1 Z5 in G19, through x' = 120 - x, y' = y, z' = z"},
		{"centre", flipY("120"), head + "g2 x2 i1 j0\n", mirrored + "g3 x118 i-1.001 j0\n", "output:2:1: a counter-clockwise arc from X120 Y0 Z5 to X118 Y0 Z5 round X118.999 Y0 in G17, expected the mirror of line 2 of the input, a clockwise arc from X0 Y0 Z5 to X2 Y0 Z5 round X1 Y0 in G17, through x' = 120 - x, y' = y, z' = z"},
		{"radius", flipY("120"), head + "g2 x2 r2\n", mirrored + "g3 x118 r-2\n", "output:2:9: r-2, expected r2 as in line 2 of the input"},
		{"offset in G91", flipY("120"), head + "g91 x5\n", mirrored + "g91 x115\n", "output:2:5: a rapid from X120 Y0 Z5 to X235 Y0 Z5, expected the mirror of line 2 of the input, a rapid from X0 Y0 Z5 to X5 Y0 Z5, through x' = 120 - x, y' = y, z' = z"},
		{"compensation not swapped", flipY("120"), head + "g41 g1 x2\n", mirrored + "g41 g1 x118\n", "output:2:1: G41, expected G42 after line 2 of the input"},
		{"feed", flipY("120"), head + "g1 x2 f10\n", mirrored + "g1 x118 f100\n", "output:2:9: f100, expected f10 as in line 2 of the input"},
		{"rapid for feed", flipY("120"), head + "g1 x2 f10\n", mirrored + "g0 x118 f10\n", "output:2:1: g0, expected g1 as in line 2 of the input"},
		{"a lost point", flipY("120"), head + "x2.\n", mirrored + "x118\n", "output:2:1: x118, which lost or won a decimal point, expected a point as in x2."},
		{"a lost word", flipY("120"), head + "x2 y1\n", mirrored + "x118\n", "output:2:1: the block \"x118\", expected the words of line 2 of the input: \"x2 y1\""},
		{"a comment changed", flipY("120"), head + "x2 (a)\n", mirrored + "x118 (b)\n", "output:2:7: the text \" (b)\\n\", expected \" (a)\\n\" as in line 2 of the input"},
		{"line end changed", flipY("120"), head + "x2\r\n", mirrored + "x118\n", "output:2:5: the text \"\\n\", expected \"\\r\\n\" as in line 2 of the input"},
		{"block number changed", flipY("120"), "n1 " + head, "n2 " + mirrored, "output:1:2: the text \"n2 g\", expected \"n1 g\" as in line 1 of the input"},
		{"a block too few", flipY("120"), head + "x2\n", mirrored, "output:2:1: the output's end, expected line 2 of the input: \"x2\""},
		{"a block too many", flipY("120"), head, mirrored + "x2\n", "output:2:1: another block: \"x2\", expected the end"},
		{"two comments added", flipY("120"), head, "(a)\n(b)\n" + mirrored, "output:2:1: the block \"(b)\", expected the words of line 1 of the input: \"g21 g90 g0 x0 y0 z5\""},
		{"text after the end", flipY("120"), "%\n" + head + "%\na\n", "%\n" + mirrored + "%\nb\n", "output:4:1: a line that never runs: \"b\", expected the input's: \"a\""},
		{"G92 without its offset", flipY("120"), "g21 g92 x0\n", "g21 g92 x0\n", "output:1:9: X0, expected X120, the mirror of X0 in line 1 of the input"},
		{"G52 with the offset", flipY("120"), head + "g52 x1\n", mirrored + "g52 x119\n", "output:2:5: X119, expected X-1, the mirror of X1 in line 2 of the input"},
		{"G68 not turned round", flipY("120"), head + "g68 x10 y20 r30\n", mirrored + "g68 x110 y20 r30\n", "output:2:14: R30, expected R-30, the mirror of R30 in line 2 of the input"},
		{"G68 turned round where two axes are reversed", halfTurn("120", "80"), head + "g68 x10 y20 r30\n", "g21 g90 g0 x120 y80 z5\ng68 x110 y60 r-30\n", "output:2:14: R-30, expected R30, the mirror of R30 in line 2 of the input"},
		{"G68 about another centre", flipY("120"), head + "g68 x10 y20 r30\n", mirrored + "g68 x-10 y20 r-30\n", "output:2:5: X-10, expected X110, the mirror of X10 in line 2 of the input"},
		{"G53 mirrored", flipY("120"), head + "g53 x1\n", mirrored + "g53 x119\n", "output:2:5: x119, expected x1 as in line 2 of the input"},
		{"G28 not mirrored", flipY("120"), head + "g28 x1\n", mirrored + "g28 x1\n", "output:2:5: a rapid from X120 Y0 Z5 to X1 Y0 Z5, expected the mirror of line 2 of the input, a rapid from X0 Y0 Z5 to X1 Y0 Z5, through x' = 120 - x, y' = y, z' = z"},
		{"dwell mirrored", flipY("120"), head + "g4 x1\n", mirrored + "g4 x119\n", "output:2:4: x119, expected x1 as in line 2 of the input"},
		{"offset not inserted", back(flipY("120"), 560), head, mirrored, "output:1:1: motion in G54, expected G56"},
		{"offset inserted under compensation", back(flipY("120"), 560), "g21 g90\ng41 d1\ng1 x40 y30\n", "g21 g90\ng42 d1\nG56\ng1 x80 y30\n", "output:3:1: the block \"G56\", expected the words of line 3 of the input: \"g1 x40 y30\""},
		{"offset inserted under a rotation", back(flipY("120"), 560), "g21 g90\ng68 x1 y1 r30\ng1 x40 y30\n", "g21 g90\ng68 x119 y1 r-30\nG56\ng1 x80 y30\n", "output:3:1: the block \"G56\", expected the words of line 3 of the input: \"g1 x40 y30\""},
		{"clamps changed", flipY("120"), head + "m10\n", mirrored + "m11\n", "output:2:1: m11, expected m10 as in line 2 of the input"},
		{"look-ahead changed", flipY("120"), head + "g5.1 q1\n", mirrored + "g5.1 q0\n", "output:2:6: q0, expected q1 as in line 2 of the input"},
		{"a kept cycle not mirrored", flipY("120"), head + "g81 x3 r2 z-1 l0\n", mirrored + "g81 x3 r2 z-1 l0\n", "output:2:5: a rapid from X120 Y0 Z5 to X3 Y0 Z5, expected the mirror of line 2 of the input, a rapid from X0 Y0 Z5 to X3 Y0 Z5, through x' = 120 - x, y' = y, z' = z"},
		{"text behind ^Z changed", flipY("120"), head + "\x1a\na\n", mirrored + "\x1a\nb\n", "output:3:1: a line that never runs: \"b\", expected the input's: \"a\""},
		{"another offset inserted", back(flipY("120"), 560), head, "G57\n" + mirrored, "output:1:1: the block \"G57\", expected the words of line 1 of the input: \"g21 g90 g0 x0 y0 z5\""},
		{"offset inserted too late", back(flipY("120"), 560), head + "x2\n", mirrored + "G56\nx118\n", "output:1:1: motion in G54, expected G56"},
		{"two offsets to one", back(flipY("120"), 560), "g54 " + head + "g55 x2\n", "g56 " + mirrored + "g56 x118\n", "output:2:1: G56 standing for both G54 and G55, expected one offset of the back for each of the face's"},
		{"wrong only with block delete on", flipY("120"), head + "/g91\nx7\n", mirrored + "/g91\nx-7\n", "output:3:1: a rapid from X120 Y0 Z5 to X-7 Y0 Z5, expected the mirror of line 3 of the input, a rapid from X0 Y0 Z5 to X7 Y0 Z5, through x' = 120 - x, y' = y, z' = z"},
		{"output can't be read", flipY("120"), head, mirrored[:9] + "x\n", "output:1:10: G without a number, expected at least one digit"},
		{"output can't be followed", flipY("120"), head, "g21 g31 g0 x120 y0 z5\n", "output:1:5: G31 (a probing move); hint: probe in a program of its own"},
		{"hole", flipY("120"), head + "g81 x3 r2 z-1\n", mirrored + "g81 x117 r2 z-2\n", "output:2:13: a feed from X117 Y0 Z2 to X117 Y0 Z-2, expected the mirror of line 2 of the input, a feed from X3 Y0 Z2 to X3 Y0 Z-1, through x' = 120 - x, y' = y, z' = z"},
		{"a subprogram that is called in G90 and in G91", flipY("120"), head + "m98 p1\ng91\nm98 p1\nm2\nO1\nx1\nm99\n", mirrored + "m98 p1\ng91\nm98 p1\nm2\nO1\nx119\nm99\n", "output:7:1: a rapid from X119 Y0 Z5 to X238 Y0 Z5, expected the mirror of line 7 of the input, a rapid from X1 Y0 Z5 to X2 Y0 Z5, through x' = 120 - x, y' = y, z' = z"},
		{"a line that never runs", flipY("120"), head + "m98 p1\nm2\nO1\nm99\nO2\nx1\nm99\n", mirrored + "m98 p1\nm2\nO1\nm99\nO2\nx119\nm99\n", "output:7:1: a line that never runs: \"x119\", expected the input's: \"x1\""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := check(tt.in, tt.out, tt.o)
			var f *fault.Error
			if !errors.As(err, &f) || !f.No || err.Error() != tt.want+report && err.Error() != tt.want {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
		})
	}
}

// TestRefused: inputs that no output can be the mirror of. These errors aren't No:
// the question is wrong.
func TestRefused(t *testing.T) {
	const head = "g21 g90 g0 x0 y0 z5\n"
	const mirrored = "g21 g90 g0 x120 y0 z5\n"
	tests := []struct {
		name    string
		o       Options
		in, out string
		want    string
	}{
		{"G91 from home", flipY("120"), head + "g28\ng91 x1\n", mirrored + "g28\ng91 x-1\n", "in:3:5: an incremental move along X from a place of the machine (after G28, G30, G53 or another work offset); hint: home doesn't turn over with the blank: give the axis in G90 first"},
		{"arc from home", flipY("120"), head + "g28\ng2 x1 i1 y3\n", mirrored + "g28\ng3 x119 i-1 y3\n", "in:3:4: an arc that starts in X at a place of the machine (after G28, G30, G53 or another work offset); hint: home doesn't turn over with the blank: give the axis in G90 first"},
		{"G91 from a machine place", flipY("120"), head + "g53 x3\ng91 x1\n", mirrored + "g53 x3\ng91 x-1\n", "in:3:5: an incremental move along X from a place of the machine (after G28, G30, G53 or another work offset); hint: home doesn't turn over with the blank: give the axis in G90 first"},
		{"G91 in another offset", flipY("120"), "g54 " + head + "g55 g91 x1\n", "g54 " + mirrored + "g55 g91 x-1\n", "in:2:9: an incremental move along X from a place of the machine (after G28, G30, G53 or another work offset); hint: home doesn't turn over with the blank: give the axis in G90 first"},
		{"G92 at home", flipY("120"), head + "g28\ng92 x0\n", mirrored + "g28\ng92 x120\n", "in:3:5: G92 X where the axis stands at a place of the machine; hint: the machine's own places don't turn over with the blank: give the place in G90 first"},
		{"rotary axis about Y", flipY("120"), head + "g0 b90\n", mirrored + "g0 b90\n", "in:2:4: B (a rotary axis), which turns the other way on the back; hint: cut each face as a program of its own"},
		{"rotary axis about Z", flipX("80"), head + "g0 c90\n", "g21 g90 g0 x0 y80 z5\ng0 c90\n", "in:2:4: C (a rotary axis), which turns the other way on the back; hint: cut each face as a program of its own"},
		{"spline from home", flipY("120"), head + "g28\ng5 i1 j1 p1 q1 x5 y5\n", mirrored + "g28\ng5 i-1 j1 p-1 q1 x115 y5\n", "in:3:16: a spline that starts in X at a place of the machine (after G28, G30, G53 or another work offset); hint: home doesn't turn over with the blank: give the axis in G90 first"},
		{"a call that block delete skips", flipY("120"), head + "/m98 p1\nm2\nO1\nm99\n", mirrored + "/m98 p1\nm2\nO1\nm99\n", "in:2:2: a call or return of a subprogram behind a slash; hint: take the slash out"},
		{"an end that block delete skips", flipY("120"), head + "/m30\nx1\n", mirrored + "/m30\nx119\n", "in:2:2: the program's end behind a slash, so that what follows runs only with block delete on; hint: take the slash out, or write two programs"},
		{"a cut at a machine place", flipY("120"), "g21 g90 g53 g0 x0 y0\ng1 y20 f100\n", "g21 g90 g53 g0 x0 y0\ng1 y20 f100\n", "in:2:1: a cut where X stands at a place of the machine (after G28, G30, G53 or another work offset); hint: the machine's places don't turn over with the blank: give X in G90 before it"},
		{"a hole at home", flipY("120"), head + "g28\ng81 y20 z-5 r1 f100\n", mirrored + "g28\ng81 y20 z-5 r1 f100\n", "in:3:1: a cut where X stands at a place of the machine (after G28, G30, G53 or another work offset); hint: the machine's places don't turn over with the blank: give X in G90 before it"},
		{"a cut in another offset", offsets(flipY("120"), map[int]int{540: 560, 550: 570}), "g54 " + head + "g55 g1 z-1\n", "g56 " + mirrored + "g57 g1 z-1\n", "in:2:1: a cut where X stands at a place of the machine (after G28, G30, G53 or another work offset); hint: the machine's places don't turn over with the blank: give X in G90 before it"},
		{"an arc from the start", flipY("120"), "g21 g90 g0 y0 z0\ng2 x10 i5 f9\n", "g21 g90 g0 y0 z0\ng3 x110 i-5 f9\n", "in:2:4: an arc or a spline from where X stands at the start, which the program doesn't say; hint: give X in G90 before it"},
		{"an arc round a given centre from the start", flipY("120"), "g21 g90 g0 y0 z0\ng91 g90.1 g2 x10 i5 j0 f9\n", "g21 g90 g0 y0 z0\ng91 g90.1 g3 x-10 i115 j0 f9\n", "in:2:14: an arc or a spline from where X stands at the start, which the program doesn't say; hint: give X in G90 before it"},
		{"a spline from the start", flipY("120"), "g21 g90 g0 y0\ng5.1 i1 j1 x5 y5\n", "g21 g90 g0 y0\ng5.1 i-1 j1 x115 y5\n", "in:2:12: an arc or a spline from where X stands at the start, which the program doesn't say; hint: give X in G90 before it"},
		{"a probing move", flipY("120"), head + "g31\n", mirrored + "g31\n", "in:2:1: G31 (a probing move); hint: probe in a program of its own"},
		{"radii that differ by 0.2 mm", flipY("120"), head + "g2 x2.2 i1\n", mirrored + "g3 x117.8 i-1\n", "in:2:1: an arc whose radii at start and end differ by 0.2 mm, expected at most 0.05 mm; hint: check its end and centre, or whether centres are absolute (G90.1)"},
		{"a line too long", flipY("120"), head + strings.Repeat(" ", 2<<20), mirrored, "in:2:1: a line longer than 1048576 bytes; hint: save the program as plain text, one block a line"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := check(tt.in, tt.out, tt.o)
			var f *fault.Error
			if !errors.As(err, &f) || f.No || err.Error() != tt.want {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
		})
	}
}

// TestHome: what is allowed after a place of the machine.
func TestHome(t *testing.T) {
	const head = "g21 g90 g0 x0 y0 z5\n"
	const mirrored = "g21 g90 g0 x120 y0 z5\n"
	for in, out := range map[string]string{
		"g28\ng91 y1 z2\n":            "g28\ng91 y1 z2\n",         // axes that aren't reversed
		"g28\ng91 g28 x0 y0 z0\n":     "g28\ng91 g28 x0 y0 z0\n",  // no way at all
		"g28\ng90 x1\ng91 x1\n":       "g28\ng90 x119\ng91 x-1\n", // given again
		"g53 z0\ng91 x1\n":            "g53 z0\ng91 x-1\n",        // another axis
		"g54\ng91 x1\n":               "g54\ng91 x-1\n",           // no other offset
		"g43 h1 z9\ng91 x1 z1\n":      "g43 h1 z9\ng91 x-1 z1\n",  // a tool's length
		"m6 t2\ng91 x1\n":             "m6 t2\ng91 x-1\n",
		"g92 x3\ng92.1\ng91 x1\n":     "g92 x117\ng92.1\ng91 x-1\n",
		"g92 x3\ng92.2\ng92.3 \nx3\n": "g92 x117\ng92.2\ng92.3 \nx117\n",
	} {
		if _, err := check(head+in, mirrored+out, flipY("120")); err != nil {
			t.Errorf("%q: %v", in, err)
		}
	}
}

// TestResult: what Check says besides yes.
func TestResult(t *testing.T) {
	r, err := check("g91 g0 x1\nx2\ng90 g92 y3\n/m1\nx1 y1 z1\ng2 x2.01 i.5 f5\n", "(c)\nG56\ng91 g0 x-1\nx-2\ng90 g92 y3\n/m1\nx119 y1 z1\ng3 x117.99 i-.5 f5\n", back(flipY("120"), 560))
	if err != nil {
		t.Fatal(err)
	}
	if r.Blocks != 6 || r.Moves != 4 || r.CommentLine != 1 || r.OffsetLine != 2 || r.Mismatches != 1 || r.FirstMismatch != 6 || math.Abs(r.WorstMismatch-0.01) > 1e-9 {
		t.Errorf("got %+v", r)
	}
}

// TestStarts: where a program cuts before a reversed axis is given, by line.
func TestStarts(t *testing.T) {
	for _, c := range []struct {
		in, out string
		line    int
	}{
		{"g90 g21\ng0 y10 z5\ng81 y20 z-5 r1 f100\nx30\n", "g90 g21\ng0 y10 z5\ng81 y20 z-5 r1 f100\nx90\n", 3},
		{"g90 g21\ng0 y10 z5\ng81 x30 y20 z-5 r1 f100\n", "g90 g21\ng0 y10 z5\ng81 x90 y20 z-5 r1 f100\n", 0},
		{"g90 g21\ng0 z5\ng1 z-1 f100\nx20\n", "g90 g21\ng0 z5\ng1 z-1 f100\nx100\n", 3},
		{"g90 g21 g94\ng0 z5\ny1\ny2\ng1 y3 f9\ny4\nx20\n", "g90 g21 g94\ng0 z5\ny1\ny2\ng1 y3 f9\ny4\nx100\n", 5},
		{"g90 g21 g94\ng0 z5\nx1\ny2\ng1 y3 f9\ny4\n", "g90 g21 g94\ng0 z5\nx119\ny2\ng1 y3 f9\ny4\n", 0},
		{"g90 g21\ng1 x5 f100\ng0 z5\n", "g90 g21\ng1 x115 f100\ng0 z5\n", 0},
		{"g90 g21\ng28\ng1 x5 f100\ng0 z5\n", "g90 g21\ng28\ng1 x115 f100\ng0 z5\n", 0},
		{"g90 g21\ng0 z5\ng1 x5 f100\n", "g90 g21\ng0 z5\ng1 x115 f100\n", 3},
		{"g90 g21\ng0 z5\n/g1 z-1 f100\ng0 x20\n", "g90 g21\ng0 z5\n/g1 z-1 f100\ng0 x100\n", 3},
		{"g90 g21\ng0 x1 z5\ng43 h1 z9\ng68 x1 y1 r30\ng1 z-1 f9\n", "g90 g21\ng0 x119 z5\ng43 h1 z9\ng68 x119 y1 r-30\ng1 z-1 f9\n", 0},
	} {
		for _, slow := range []bool{false, true} {
			r, err := checkBy(c.in, c.out, flipY("120"), slow)
			if err != nil || r.Starts != [3]int{c.line, 0, 0} {
				t.Errorf("%q: %v, %+v", c.in, err, r)
			}
		}
	}
}

// TestMismatches: radii that differ are counted on every way, also where only the
// block delete switch leads to the arc, and where R is short of half the chord.
func TestMismatches(t *testing.T) {
	const head, mirrored = "g21 g90 g94 g17 g91.1\ng0 x0 y0 z0\nx0.01\nx0\n", "g21 g90 g94 g17 g91.1\ng0 x120 y0 z0\nx119.99\nx120\n"
	for _, c := range []struct {
		in, out string
		line    int
		worst   float64
	}{
		{"g2 x10 i5 f9\n", "g3 x110 i-5 f9\n", 0, 0},
		{"g2 x10.002 i5 f9\n", "g3 x109.998 i-5 f9\n", 0, 0},
		{"g2 x10.003 i5 f9\n", "g3 x109.997 i-5 f9\n", 5, 0.003},
		{"g2 x10.002 r5 f9\n", "g3 x109.998 r5 f9\n", 0, 0},
		{"g2 x10.003 r5 f9\n", "g3 x109.997 r5 f9\n", 5, 0.003},
		{"/x0.02\ng2 x10 i5 f9\ng0 x0\nx1\n", "/x119.98\ng3 x110 i-5 f9\ng0 x120\nx119\n", 6, 0.02},
		{"/x0.02\nx0\n/x0.03\nx0.03\n/x0\ng2 x10 i5 f9\n", "/x119.98\nx120\n/x119.97\nx119.97\n/x120\ng3 x110 i-5 f9\n", 10, 0.03},
		{"g20 x0\ng2 x1.0003 i.5 f9\n", "g20 x4.7244\ng3 x3.7241 i-.5 f9\n", 6, 0.0003 * 25.4},
	} {
		for _, slow := range []bool{false, true} {
			r, err := checkBy(head+c.in, mirrored+c.out, flipY("120"), slow)
			if err != nil || r.FirstMismatch != c.line || r.Mismatches > 1 || math.Abs(r.WorstMismatch-c.worst) > 1e-9 {
				t.Errorf("%q: %v, %+v", c.in, err, r)
			}
		}
	}
}

// TestPieces: however the two programs arrive, the verdict is the same.
func TestPieces(t *testing.T) {
	in, out := mixedPair(30_000)
	bad := bytes.Replace(out, []byte("J8"), []byte("J7"), 1)
	r := rand.New(rand.NewSource(3))
	for i, o := range [][]byte{out, bad, out[:len(out)-3], out[:len(out)-1000]} {
		whole, err := check(string(in), string(o), flipY("120"))
		for _, most := range []int{1, 2, 30, 999, 999, 999, 20_000} {
			c := Start(flipY("120"))
			a, b := in, o
			var e error
			for (len(a) > 0 || len(b) > 0) && e == nil {
				n, m := r.Intn(min(len(a), most)+1), r.Intn(min(len(b), most)+1)
				// What was fed is the feeder's again: it may write over it.
				x, y := bytes.Clone(a[:n]), bytes.Clone(b[:m])
				e = c.Feed(x, y)
				clear(x)
				clear(y)
				a, b = a[n:], b[m:]
			}
			var got *Result
			if e == nil {
				got, e = c.Finish()
			}
			if fmt.Sprint(e) != fmt.Sprint(err) {
				t.Fatalf("%d: whole %v, in pieces of %d %v", i, err, most, e)
			}
			if err == nil && (got.Blocks != whole.Blocks || got.Moves != whole.Moves) {
				t.Fatalf("%d: whole %+v, in pieces of %d %+v", i, whole, most, got)
			}
		}
	}
}

func ExampleChecker() {
	in := "G21 G90 G0 X10 Y20\nG2 X20 Y20 I5 J0 F300\n"
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromInt(120)}
	inches, _ := m.In(transform.Inch, 4)
	for _, out := range []string{
		"G21 G90 G0 X110 Y20\nG3 X100 Y20 I-5 J0 F300\n",
		"G21 G90 G0 X110 Y20\nG3 X100.01 Y20 I-5 J0 F300\n",
	} {
		c := Start(Options{Map: m, InchMap: inches, OutName: "back.nc"})
		if err := c.Feed([]byte(in), []byte(out)); err != nil {
			fmt.Println(err)
			continue
		}
		r, err := c.Finish()
		fmt.Println(r.Moves, err)
	}
	// Output:
	// 2 <nil>
	// back.nc:2:4: a counter-clockwise arc from X110 Y20 Z? to X100.01 Y20 Z? round X105 Y20 in G17, expected the mirror of line 2 of the input, a clockwise arc from X10 Y20 Z? to X20 Y20 Z? round X15 Y20 in G17, through x' = 120 - x, y' = y, z' = z; hint: nothing was handed over: this is a fault of the mirror, please report it
}
