package proof

import (
	"errors"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
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

// right are programs with their mirrors, written by hand from the rules of
// NISTIR 6556 and of reflection: one axis reversed, arcs in planes with that axis
// change sense, left becomes right.
var right = []struct {
	name    string
	o       Options
	in, out string
}{
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
	{"offset changed", back(flipY("120"), 560), "g54 g21 g90 g0 x5\n", "g56 g21 g90 g0 x115\n"},
	{"offsets mapped", offsets(flipY("120"), map[int]int{540: 560, 550: 591}), "g54 g21 g90 g0 x5\ng55 x1\n", "g56 g21 g90 g0 x115\ng59.1 x119\n"},
	{"offset kept", keep(back(flipY("120"), 560)), "g54 g21 g90 g0 x5\n", "g54 g21 g90 g0 x115\n"},
	{"block delete", flipY("120"), "g21 g90 g0 x5\n/x6\n/g91\ny7\ng90 x1\n", "g21 g90 g0 x115\n/x114\n/g91\ny7\ng90 x119\n"},
	{"top to bed", zUp("120", "12"), "g21 g90 g0 x5 z1\ng91 z-1\n", "g21 g90 g0 x115 z13\ng91 z-1\n"},
	{"expressions wrapped", flipY("120"), "#1=[4*5]\ng21 g90 g0 x#1 y#1\ng1 x[#1/3] f9\ng91 x[sin[33]]\ng90 g2 x[#1+1] i[1/2*[#1+1-#1/3-sin[33]]]\n",
		"#1=[4*5]\ng21 g90 g0 x[120-#1] y#1\ng1 x[120-[#1/3]] f9\ng91 x-[sin[33]]\ng90 g3 x[120-[#1+1]] i[0-[1/2*[#1+1-#1/3-sin[33]]]]\n"},
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

func TestRight(t *testing.T) {
	for _, tt := range right {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Check(strings.NewReader(tt.in), strings.NewReader(tt.out), tt.o); err != nil {
				t.Error(err)
			}
		})
	}
}

// TestWrong: outputs that aren't the mirror, with the message each gets.
func TestWrong(t *testing.T) {
	_ = motion.Num{}
	tests := []struct {
		name    string
		o       Options
		in, out string
		want    string
	}{
		{"unchanged", flipY("120"), "g21 g90 g0 x5\n", "g21 g90 g0 x5\n",
			"output:1:12: a rapid from X[0] Y[0] Z[0] to X5 Y[0] Z[0], expected the mirror of line 1 of the input, a rapid from X[0] Y[0] Z[0] to X5 Y[0] Z[0], through x' = 120 - x, y' = y, z' = z"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Check(strings.NewReader(tt.in), strings.NewReader(tt.out), tt.o)
			var f *fault.Error
			if !errors.As(err, &f) || !f.No || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
		})
	}
}
