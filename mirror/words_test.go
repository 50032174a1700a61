package mirror

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// flipY is the map of a part W wide, zero at its near-left corner on both sides.
func flipY(w string) transform.Map {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: dec(w)}
	return m
}

// flipX is the map of a part H high.
func flipX(h string) transform.Map {
	m := transform.Identity(transform.MM)
	m.Y = transform.Axis{Sign: -1, Offset: dec(h)}
	return m
}

func rewriteText(t *testing.T, in string, o Options) (string, *Report, error) {
	t.Helper()
	return rewritten(in, o, false)
}

// rewrite mirrors the program in and writes it to out without proof, so that a test sees what
// the rewriter does by itself; slow without the quick way.
func rewrite(in io.Reader, out io.Writer, o Options, slow bool) (*Report, error) {
	in, free, err := readPasses(in, &o)
	defer free()
	if err != nil {
		return nil, err
	}
	r := block.NewReader(in)
	m, err := newRewriter(r, &o)
	if err != nil {
		return nil, err
	}
	m.slow = slow
	var mirrored []byte
	for {
		var fault error
		_, mirrored, fault = m.next(r, mirrored)
		if _, err := out.Write(mirrored); err != nil {
			return nil, err
		}
		if fault == io.EOF {
			return m.report, nil
		}
		if fault != nil {
			return nil, fault
		}
	}
}

// rewritten is rewrite in memory.
func rewritten(in string, o Options, slow bool) (string, *Report, error) {
	var out bytes.Buffer
	r, err := rewrite(strings.NewReader(in), &out, o, slow)
	if err != nil {
		return "", nil, err
	}
	return out.String(), r, nil
}

// wordRows mirrors word by word. The map is x' = 100 - x, z' = z unless the row's
// name says otherwise; the rules are derived from the viewing convention of arcs in
// NISTIR 6556, 3.5.3.
var wordRows = func() []wordRow {
	y100 := flipY("100")
	deep := y100
	deep.Z.Offset = dec("12")
	half := flipY("100.5")
	return []wordRow{
		{"coordinates", y100, "G1 X30 Y5 Z-1 F200", "G1 X70 Y5 Z-1 F200"},
		{"flip x", flipX("80"), "G1 X30 Y5 Z-1", "G1 X30 Y75 Z-1"},
		{"depth with an offset", deep, "G1 X30 Z-1.5", "G1 X70 Z10.5"},
		{"increments", y100, "G91\nG1 X30 Y5\nX-2.50", "G91\nG1 X-30 Y5\nX2.50"},
		{"distance mode last on the line", y100, "G0 X1 Y1\nG1 X1 G91", "G0 X99 Y1\nG1 X-1 G91"}, // NISTIR 6556, table 8
		{"unit last on the line", y100, "G0 X1 Y1\nG1 X1.0000 G20", "G0 X99 Y1\nG1 X2.9370 G20"},
		{"arc in G17", y100, "G0 X0 Y0\nG2 X10 Y10 I10 J0\nG3 X0 Y0 I-10 J0", "G0 X100 Y0\nG3 X90 Y10 I-10 J0\nG2 X100 Y0 I10 J0"},
		{"arc in G17, flip x", flipX("80"), "G0 X0 Y0\nG2 X-2 Y14 I6 J8", "G0 X0 Y80\nG3 X-2 Y66 I6 J-8"},
		{"arc in G18", y100, "G18\nG0 X0 Z0\nG2 X14 Z-2 I8 K6", "G18\nG0 X100 Z0\nG3 X86 Z-2 I-8 K6"},
		{"arc in G18, flip x", flipX("80"), "G18\nG0 X0 Z0\nG2 X14 Z-2 I8 K6", "G18\nG0 X0 Z0\nG2 X14 Z-2 I8 K6"},
		{"arc in G19", y100, "G19\nG0 Y0 Z0\nG2 Y14 Z-2 J8 K6", "G19\nG0 Y0 Z0\nG2 Y14 Z-2 J8 K6"},
		{"arc in G19, flip x", flipX("80"), "G19\nG0 Y0 Z0\nG2 Y14 Z-2 J8 K6", "G19\nG0 Y80 Z0\nG3 Y66 Z-2 J-8 K6"},
		{"plane last on the line", y100, "G0 X0 Y0 Z0\nG2 Y14 Z-2 J8 K6 G19", "G0 X100 Y0 Z0\nG2 Y14 Z-2 J8 K6 G19"},
		{"plane turned back", y100, "G0 X0 Y0 Z0\nG19 G2 Y10 Z10 J10\nG17 G2 X10 Y10 I5", "G0 X100 Y0 Z0\nG19 G2 Y10 Z10 J10\nG17 G3 X90 Y10 I-5"},
		{"arc by radius", y100, "G0 X0 Y0\nG2 X10 Y0 R10\nG3 X0 Y0 R-10", "G0 X100 Y0\nG3 X90 Y0 R10\nG2 X100 Y0 R-10"},
		{"arc carried on", y100, "G0 X0 Y0\nG2 X10 I5\nX20 I5\nX30 R5", "G0 X100 Y0\nG3 X90 I-5\nX80 I-5\nX70 R5"},
		{"code alone, arc in the next block", y100, "G0 X0 Y0\nG02\nX10 I5", "G0 X100 Y0\nG03\nX90 I-5"},
		{"full circle without an end", y100, "G0 X0 Y0\nG2 I5 J0", "G0 X100 Y0\nG3 I-5 J0"},
		{"absolute centres", y100, "G90.1\nG0 X0 Y0\nG2 X10 Y0 I5 J0\nG91.1\nG2 X20 I5", "G90.1\nG0 X100 Y0\nG3 X90 Y0 I95 J0\nG91.1\nG3 X80 I-5"},
		{"absolute centres in G91", y100, "G0 X0 Y0\nG90.1 G91\nG2 X10 Y0 I5 J0", "G0 X100 Y0\nG90.1 G91\nG3 X-10 Y0 I95 J0"},
		{"helix", y100, "G0 X0 Y0 Z1\nG2 X10 Z-1 I5", "G0 X100 Y0 Z1\nG3 X90 Z-1 I-5"},
		{"compensation", y100, "G0 X0 Y0\nG41 D1 G1 X5\nX10\nG40 X20\nG42.1 X30", "G0 X100 Y0\nG42 D1 G1 X95\nX90\nG40 X80\nG41.1 X70"},
		{"no compensation swap for two axes", turned("100", "80"), "G0 X0 Y0\nG41 D1 G1 X5\nG2 X10 I2.5", "G0 X100 Y80\nG41 D1 G1 X95\nG2 X90 I-2.5"},
		{"dwell with X", y100, "G0 X0\nG4 X1.5\nX5\nG4 P2", "G0 X100\nG4 X1.5\nX95\nG4 P2"},
		{"drilling", y100, "G81 X10 Y10 Z-5 R2\nX20\nG80", "G81 X90 Y10 Z-5 R2\nX80\nG80"},
		{"drilling with a Z offset", deep, "G99 G83 X10 Y10 Z-5 R2 Q1 P0.5\nX20 R3 Q1\nG80", "G99 G83 X90 Y10 Z7 R14 Q1 P0.5\nX80 R15 Q1\nG80"},
		{"drilling in G91", deep, "G0 X0 Y0 Z5\nG91 G81 X10 Y10 Z-5 R2 L3\nG80", "G0 X100 Y0 Z17\nG91 G81 X-10 Y10 Z-5 R2 L3\nG80"},
		{"drilling in G18", y100, "G18 G81 X10 Y-10 Z-5 R2", "G18 G81 X90 Y-10 Z-5 R2"},
		{"drilling in G19 takes X's offset", transform.Map{X: transform.Axis{Sign: 1, Offset: dec("7")}, Y: transform.Axis{Sign: -1, Offset: dec("80")}, Z: transform.Axis{Sign: 1}},
			"G0 X5\nG19 G81 X-10 Y10 Z5 R2", "G0 X12\nG19 G81 X-3 Y70 Z5 R9"},
		{"chip breaking", y100, "G73 X10 Y10 Z-5 R2 Q1", "G73 X90 Y10 Z-5 R2 Q1"},
		{"back boring", deep, "M3\nG0 Z5\nG87 X10 Y10 Z-5 R2 I0.5 J0.25 K-3", "M3\nG0 Z17\nG87 X90 Y10 Z7 R14 I-0.5 J0.25 K9"},
		{"back boring in G91", deep, "M3\nG0 X0 Y0 Z0\nG91 G87 X10 Y10 Z-5 R2 I0.5 J0 K-3", "M3\nG0 X100 Y0 Z12\nG91 G87 X-10 Y10 Z-5 R2 I-0.5 J0 K-3"},
		{"home through a point", y100, "G28 X10 Y5\nG0 X0 Y0", "G28 X90 Y5\nG0 X100 Y0"},
		{"home in G91", y100, "G0 X0 Y0\nG91 G28 X0 Y0 Z5\nG90 G0 X5", "G0 X100 Y0\nG91 G28 X0 Y0 Z5\nG90 G0 X95"},
		{"G30", y100, "G30 X10\nG0 X0", "G30 X90\nG0 X100"},
		{"machine coordinates", y100, "G53 G0 X0 Y0 Z0\nG0 X5 Y5", "G53 G0 X0 Y0 Z0\nG0 X95 Y5"},
		{"machine height in G91", y100, "G91\nG0 G53 Z0", "G91\nG0 G53 Z0"},
		{"zero here", y100, "G92 X0 Y0 Z1\nG1 X5\nG92.1", "G92 X100 Y0 Z1\nG1 X95\nG92.1"},
		{"zero here in G91", y100, "G91 G92 X10\nG90 G1 X5", "G91 G92 X90\nG90 G1 X95"},
		{"local shift", y100, "G52 X10 Y5\nG1 X5\nG52 X0 Y0", "G52 X-10 Y5\nG1 X95\nG52 X0 Y0"},
		{"inches are exact", flipY("127"), "G20\nG1 X1.000 Y1", "G20\nG1 X4.000 Y1"},
		{"inches rounded once to 4 places", y100, "G20\nG1 X1.5 Y1", "G20\nG1 X2.437 Y1"},
		{"inches rounded once to the program's places", y100, "G20\nG1 X1.5\nX0.123456", "G20\nG1 X2.437008\nX3.813552"},
		{"comments", y100, "(X5 G2) G1 X5 (I5)\n; G1 X5\nX6; X7", "(X5 G2) G1 X95 (I5)\n; G1 X5\nX94; X7"},
		{"spaces, case, block numbers", y100, "n0010 g1   x 7\ty5\nN20G1X8Y5", "n0010 g1   x 93\ty5\nN20G1X92Y5"},
		{"spaces inside a number", y100, "g0 x +0. 12 34y 7", "g0 x +99.8766y 7"}, // NISTIR 6556, 3.1
		{"%, program number, end", y100, "%\nO0001 (MARKER)\nG1 X5\nM30\n%", "%\nO0001 (MARKER)\nG1 X95\nM30\n%"},
		{"% and program number on one line", y100, "%O0020\nG1 X5\nM2\n%", "%O0020\nG1 X95\nM2\n%"},
		{"slash that changes nothing", y100, "G0 X1\n/X2 Y3\nX3", "G0 X99\n/X98 Y3\nX97"},
		{"slash whose change is taken back", y100, "G0 X1\n/G91\nG90 X3", "G0 X99\n/G91\nG90 X97"},
		{"switches one after the other", y100, "G0 X1\n/2 G1 X2 F9\nG0 X3\n/3 G1 X4 F9\n/3 X5\nG0 X1", "G0 X99\n/2 G1 X98 F9\nG0 X97\n/3 G1 X96 F9\n/3 X95\nG0 X99"},
		{"a pocket with the cutter's radius in D", y100, "G0 X1 Y2\nG13 I5. K20. Q2. D1 F9", "G0 X99 Y2\nG12 I5. K20. Q2. D1 F9"},
		{"numbered slash", y100, "G0 X1\n/2 X2\nX3", "G0 X99\n/2 X98\nX97"},
		{"words that stay", y100, "T1 M6\nS5000 M3 F20\nG0 G43 H1 Z5 M8\nG0 X1 M7", "T1 M6\nS5000 M3 F20\nG0 G43 H1 Z5 M8\nG0 X99 M7"},

		// common practice beyond NISTIR 6556
		{"rotation", y100, "G68 X10 Y5 R30\nG1 X20 Y5\nG69", "G68 X90 Y5 R-30\nG1 X80 Y5\nG69"},
		{"rotation, turned by 180 degrees", turned("100", "80"), "G68 X10 Y5 R30\nG1 X20 Y5\nG69", "G68 X90 Y75 R30\nG1 X80 Y75\nG69"},
		{"cubic spline", y100, "G0 X0 Y0\nG5 X10 Y5 I1 J2 P-3 Q-4\nX20 Y6 P1 Q2", "G0 X100 Y0\nG5 X90 Y5 I-1 J2 P3 Q-4\nX80 Y6 P-1 Q2"},
		{"cubic spline, flip x", flipX("80"), "G0 X0 Y0\nG5 X10 Y5 I1 J2 P-3 Q-4", "G0 X0 Y80\nG5 X10 Y75 I1 J-2 P-3 Q4"},
		{"quadratic spline", y100, "G0 X0 Y0\nG5.1 X10 Y5 I1 J2", "G0 X100 Y0\nG5.1 X90 Y5 I-1 J2"},
		{"rotary axis that keeps its sense", y100, "G0 A90\nG1 X5 A45.0", "G0 A90\nG1 X95 A45.0"},
		{"rotary axis that keeps its sense, flip x", flipX("80"), "G0 B90 Y1", "G0 B90 Y79"},
		{"circular pocket", y100, "G0 X10 Y10 Z2\nG12 I5 K20 Q2 Z-1 F9\nG13 I5.0 Z-2", "G0 X90 Y10 Z2\nG13 I5 K20 Q2 Z-1 F9\nG12 I5.0 Z-2"},
		{"circular pocket with a Z offset", deep, "G0 X10 Y10 Z2\nG012 I5 Z-1 F9", "G0 X90 Y10 Z14\nG013 I5 Z11 F9"},

		// parameters and expressions

		// numbers
		{"decimals stay", y100, "G1 X1.500\nX0.000\nX5.\nX100.0", "G1 X98.500\nX100.000\nX95.\nX0.0"},
		{"more decimals where the offset needs them", half, "G1 X1\nX1.\nX1.25\nX1.0", "G1 X99.5\nX99.5\nX99.25\nX99.5"},
		{"unchanged value", y100, "G1 X50 Y1\nX+50.\nX050.00\nX 5 0", "G1 X50 Y1\nX+50.\nX050.00\nX 5 0"},
		{"zero has no minus", flipY("0"), "G1 X0\nX-0.00\nX.5\nX-.5\nX5", "G1 X0\nX-0.00\nX-.5\nX.5\nX-5"},
		{"result zero", y100, "G1 X100.\nX+100.0\nX100", "G1 X0.\nX+0.0\nX0"},
		{"plus stays", y100, "G1 X+1.5\nX+101.5", "G1 X+98.5\nX-1.5"},
		{"padding stays", flipY("10"), "G1 X-03.5\nX007\nX0.5", "G1 X13.5\nX003\nX9.5"},
		{"bare point stays", flipY("1"), "G1 X.25\nX-.25\nX1.25", "G1 X.75\nX1.25\nX-0.25"},
		{"17 decimals", flipY("1"), "G1 X0.12345678901234567", "G1 X0.87654321098765433"},
		{"20 decimals", flipY("1"), "G1 X0.12345678901234567890", "G1 X0.87654321098765432110"},
		{"25 digits", y100, "G1 X12345.12345678901234567500", "G1 X-12245.12345678901234567500"},
		{"25 digits, sign alone", flipY("0"), "G91\nG1 X1234567890123456789012.5", "G91\nG1 X-1234567890123456789012.5"},
		{"an offset of 25 digits", flipY("99999.99999999999999999999"), "G1 X1.5", "G1 X99998.49999999999999999999"},
		{"an offset of many decimals", flipY("1.0000000000000000000001"), "G1 X1", "G1 X0.0000000000000000000001"},
		{"big values with a plus and padding", flipY("0"), "G91\nG1 X+00123456789012345678901\nX-.12345678901234567890", "G91\nG1 X-00123456789012345678901\nX.12345678901234567890"},
	}
}()

type wordRow struct {
	name    string
	m       transform.Map
	in, out string
}

// TestWords mirrors each row, with both kinds of line ends, and proves it.
func TestWords(t *testing.T) {
	for _, c := range wordRows {
		for _, eol := range []string{"\n", "\r\n"} {
			in := strings.ReplaceAll(c.in, "\n", eol)
			want := strings.ReplaceAll(c.out, "\n", eol)
			got, _, err := rewriteText(t, in, Options{Map: c.m})
			if err == nil {
				_, err = Mirror(strings.NewReader(in), &bytes.Buffer{}, Options{Map: c.m})
			}
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if got != want {
				t.Errorf("%s:\n%q\n%q, want\n%q", c.name, in, got, want)
			}
			checkTwice(t, c.name, in, got, Options{Map: c.m})
		}
	}
}

// turned is the map of a part turned by 180 degrees.
func turned(w, h string) transform.Map {
	m := flipY(w)
	m.Y = transform.Axis{Sign: -1, Offset: dec(h)}
	return m
}

// checkTwice checks that M(M(M(p))) is M(p).
func checkTwice(t *testing.T, name, in, once string, o Options) {
	t.Helper()
	if o.Map.X.Sign > 0 && !o.Map.X.Offset.IsZero() || !o.Map.Z.Offset.IsZero() {
		return // no involution: a shift twice is twice the shift
	}
	twice, _, err := rewriteText(t, once, o)
	if err != nil {
		t.Errorf("%s, again: %v", name, err)
		return
	}
	thrice, _, err := rewriteText(t, twice, o)
	if err != nil || thrice != once {
		t.Errorf("%s, three times: %v\n%q, once\n%q", name, err, thrice, once)
	}
}

// TestTwiceSameBytes: a plainly written program (no plus sign, a digit before the
// point, no padding, at least the offset's decimals) is itself again.
func TestTwiceSameBytes(t *testing.T) {
	in := "%\nO0001\nN10 G21 G90 G17\n  g0 x 7 y5. (start)\nG1 Z-0.50 F200\nG2 X17.0 Y5 I5. J0\r\nG91 G3 X-10 I-5\nG90 X100.00 R50 ; end\nM30\n%\n"
	once, _, err := rewriteText(t, in, Options{Map: flipY("100")})
	if err != nil {
		t.Fatal(err)
	}
	twice, _, err := rewriteText(t, once, Options{Map: flipY("100")})
	if err != nil || twice != in || once == in {
		t.Errorf("%v\n%q\n%q", err, in, twice)
	}
}

// TestNISTWords mirrors blocks of NISTIR 6556, appendix C.1, by x' = 81 - x. The
// five arcs' results are derived there from the published coordinates.
func TestNISTWords(t *testing.T) {
	in := "n0010 g21 g0 x0 y0 z50 (top of part should be on XY plane)\nn0020 t1 m6 m3 f20 s4000\nn0090 x 7\n" +
		"n0160 g1 x16 y2.5\nn0190 g3 x13.5 y0 i-2.5\nn0300 g0 x32.5\nn0320 g2 x32.5 j2.5\nn0410 g0 x57.5 y0\nn0430 g2 x57.5 j2.5\n" +
		"n0480 g1 x64 y4\nn0490 g2 x69 r4\nn0580 g1 x79.5 y0\nn0590 g2 j2.5 y5\nn0620 m2\n"
	want := "n0010 g21 g0 x81 y0 z50 (top of part should be on XY plane)\nn0020 t1 m6 m3 f20 s4000\nn0090 x 74\n" +
		"n0160 g1 x65 y2.5\nn0190 g2 x67.5 y0 i2.5\nn0300 g0 x48.5\nn0320 g3 x48.5 j2.5\nn0410 g0 x23.5 y0\nn0430 g3 x23.5 j2.5\n" +
		"n0480 g1 x17 y4\nn0490 g3 x12 r4\nn0580 g1 x1.5 y0\nn0590 g3 j2.5 y5\nn0620 m2\n"
	got, _, err := rewriteText(t, in, Options{Map: flipY("81")})
	if err != nil || got != want {
		t.Errorf("%v\n%s", err, got)
	}
}

// TestCompensatedContour mirrors the contours of NISTIR 6556, tables 12 (material
// edge) and 13 (nominal path), in X about 0.
func TestCompensatedContour(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"G0 X1 Y5\nG41 G1 Y4\nG3 X2 Y3 I1\nG2 X3 Y2 J-1\nG1 Y-1\nG2 X2 Y-2 I-1\nG1 X-2\nG2 X-2.6 Y-0.2 J1\nG1 X1.4 Y2.8\nG2 X2 Y3 I0.6 J-0.8\nG40\n",
			"G0 X-1 Y5\nG42 G1 Y4\nG2 X-2 Y3 I-1\nG3 X-3 Y2 J-1\nG1 Y-1\nG3 X-2 Y-2 I1\nG1 X2\nG3 X2.6 Y-0.2 J1\nG1 X-1.4 Y2.8\nG3 X-2 Y3 I-0.6 J-0.8\nG40\n"},
		{"G0 X1.5 Y5\nG41 G1 Y4\nG3 X2 Y3.5 I0.5\nG2 X3.5 Y2 J-1.5\nG1 Y-1\nG2 X2 Y-2.5 I-1.5\nG1 X-2\nG2 X-2.9 Y0.2 J1.5\nG1 X1.1 Y3.2\nG2 X2 Y3.5 I0.9 J-1.2\nG40\n",
			"G0 X-1.5 Y5\nG42 G1 Y4\nG2 X-2 Y3.5 I-0.5\nG3 X-3.5 Y2 J-1.5\nG1 Y-1\nG3 X-2 Y-2.5 I1.5\nG1 X2\nG3 X2.9 Y0.2 J1.5\nG1 X-1.1 Y3.2\nG3 X-2 Y3.5 I-0.9 J-1.2\nG40\n"},
	} {
		got, _, err := rewriteText(t, c.in, Options{Map: flipY("0")})
		if err != nil || got != c.want {
			t.Errorf("%v\n%s", err, got)
		}
	}
}

// bothWays checks that the quick way and the slow way mirror alike, errors included.
func bothWays(t *testing.T, in string, o Options) {
	t.Helper()
	quick, r, err := rewriteText(t, in, o)
	slow, q, slowErr := rewritten(in, o, true)
	switch {
	case fmt.Sprint(err) != fmt.Sprint(slowErr):
		t.Errorf("%q: quick %v, slow %v", in, err, slowErr)
	case quick != slow:
		t.Errorf("%q:\nquick %q\nslow  %q", in, quick, slow)
	case err == nil && fmt.Sprintf("%+v", r) != fmt.Sprintf("%+v", q):
		t.Errorf("%q:\nquick %+v\nslow  %+v", in, r, q)
	}
}

func TestBothWays(t *testing.T) {
	start := "G21 G90 G94 G17 G91.1\nG0 X0 Y0 Z5\nX1.5\n"
	for _, body := range []string{
		"G1 X1.5 Y2 F100\nX2 Y-.5 Z-1\nG2 X3 Y4 I1 J-1\nX5 I1\nG3X-007Y5J2\nG01 X+5\nG0 Z5\nG 1 X 7 Y 1 2\n",
		"G00 X123456789012345678901 Y1\nF500\nG1\nX50\nX50.\nX-.5\nX.5Y.5\nX0.\nX-0.0\nX99.999\nX100.0\nX200\n",
		"G91 G1 X5\nX-5 Y2\nG2 X1 I.5\nG90 X5 Y5 I1\nG20 G1 X1 Y.5\nG21 X5\nG41 D1 G1 X7\nG40 X9\n",
		"N10 G1 X5\nN20X6(a)Y7\n(b)\n\n;c X5\nX8;d\nN30\nN40 (e)\nX5 N50\n", "X5 (a (b))\n", "X5 (a\n", "X5 X6\n", "F-5 X1\n", "G1 G2 X5\n",
		"X1.2.3\n", "X1.. \n", "X1. 2\n", "X1 . 2\n", "X\n", "X-\n", "X.\n", "G4 X5\n", "G02 X5 I2\nG1 2 X5\n", "G2 X5\n", "X5 I1\n", "G2. X5 I2\n",
		"N1 N2 X5\n", "N-1 X5\n", "N1.5 X5\n", "X5\rY5\n", "X5\r\nX6\r\n", "X5 (a\rb)\n", ";a\rb\nX5\n", "X5 (\x00)\n", "/X5\nX6\n", "M3 X5\nX6\nM30\nX7\n", "G28 X0\nX5\nG91 X5\n",
		"X5 G91\nX5\nG90 X5 Y1\n", "G17 X5\nG18 X5\nX6\nG2 X7 Z5 I.5\n", "G90.1 G2 X5 Y5 I3 J5\nG3 X1 I2 J5\n", "G81 X5 Z-1 R2\nX6\nF5\nG80\n", "G93 G1 X5 F1\nX6\n", "X5", "G54 X5\nG0 X6", "G03 X5 I-2.5 Z4\nG3 X5 I0",
	} {
		bothWays(t, start+body, Options{Map: flipY("100")})
		bothWays(t, start+body, Options{Map: flipX("80.25"), Comment: "x"})
		deep := turned("100", "8")
		deep.Z.Offset = dec("-12.5")
		bothWays(t, start+body, Options{Map: deep, BackOffset: "G55"})
		bothWays(t, "G0X1Y1Z1\n"+body, Options{Map: flipY("100")})
	}
}

func TestChunked(t *testing.T) {
	var in bytes.Buffer
	in.WriteString("%\r\nO1\r\nG20 G90\r\n")
	for i := range 3000 {
		in.WriteString("G1 X1.25" + strings.Repeat(" ", i%9) + "Y2 (comment)\r\nG2 X2.25 I.5 \n")
	}
	in.WriteString("M2\n%")
	o := Options{Map: flipY("100"), BackOffset: "G55", Comment: "x"}
	whole, _, err := rewriteText(t, in.String(), o)
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]interface{ Read([]byte) (int, error) }{
		"one byte": iotest.OneByteReader(bytes.NewReader(in.Bytes())),
		"half":     iotest.HalfReader(bytes.NewReader(in.Bytes())),
		"data err": iotest.DataErrReader(bytes.NewReader(in.Bytes())),
	} {
		var out bytes.Buffer
		if _, err := rewrite(r, &out, o, false); err != nil || out.String() != whole {
			t.Errorf("%s: %v, %d bytes of %d", name, err, out.Len(), len(whole))
		}
	}
}

func TestSourceErrors(t *testing.T) {
	broken := errors.New("broken")
	_, err := rewrite(iotest.ErrReader(broken), &bytes.Buffer{}, Options{Map: flipY("100")}, false)
	var f *fault.Error
	if !errors.Is(err, broken) || errors.As(err, &f) {
		t.Errorf("%v, want the source's own error", err)
	}
	_, err = rewrite(strings.NewReader("G1 X1\n"), failing{broken}, Options{Map: flipY("100")}, false)
	if !errors.Is(err, broken) {
		t.Errorf("%v, want the target's own error", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
