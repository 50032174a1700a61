package mirror

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
)

func TestOffsets(t *testing.T) {
	for _, c := range []struct {
		name, in, out string
		o             Options
		inserted      string
	}{
		{"left alone", "G54 G0 X1\nM2\n", "G54 G0 X99\nM2\n", Options{}, ""},
		{"mapped", "G54 G0 X1\nG054 X2\nM2\n", "G55 G0 X99\nG055 X98\nM2\n", Options{BackOffset: "G55"}, ""},
		{"mapped to G59.1", "G54 G0 X1\nM2\n", "G59.1 G0 X99\nM2\n", Options{BackOffset: "G59.1"}, ""},
		{"inserted", "G21\r\nT1 M6\r\nG0 X1\r\nX2\r\nM2\r\n", "G21\r\nT1 M6\r\nG57\r\nG0 X99\r\nX98\r\nM2\r\n", Options{BackOffset: "G57"}, "G57"},
		{"inserted before G92", "G92 X0 Y0\nG0 X1\nM2\n", "G55\nG92 X100 Y0\nG0 X99\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted before compensation", "G21 G90\nG41 D1\nG1 X40 Y30 F9\nG40\nM2\n", "G21 G90\nG55\nG42 D1\nG1 X60 Y30 F9\nG40\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted before compensation in the first move", "G21 G90\nG42 D1 G1 X40 Y30 F9\nM2\n", "G21 G90\nG55\nG41 D1 G1 X60 Y30 F9\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted before a rotation", "G21 G90\nG68 X1 Y1 R30\nG0 X40 Y30\nM2\n", "G21 G90\nG55\nG68 X99 Y1 R-30\nG0 X60 Y30\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted, and the face's called later", "G0 X1\nG54 G91 X1\nM2\n", "G55\nG0 X99\nG55 G91 X-1\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted before a rotary move", "G0 A5\nX1\nM2\n", "G55\nG0 A5\nX99\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"inserted before a slash", "/G0 X0\nM2\n", "G55\n/G0 X100\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"machine coordinates before the offset", "G53 G0 Z0.\nG55 G0 X1\nM2\n", "G53 G0 Z0.\nG56 G0 X99\nM2\n", Options{BackOffset: "G56", FaceOffset: "G55", ZerosDiffer: true}, ""},
		{"home before the offset", "G91 G28 Z0.\nG90\nG57 G0 X1\nM2\n", "G91 G28 Z0.\nG90\nG58 G0 X99\nM2\n", Options{OffsetMap: map[string]string{"G57": "G58"}}, ""},
		{"inserted behind machine coordinates", "G53 G0 Z0.\nG0 X1\nM2\n", "G53 G0 Z0.\nG55\nG0 X99\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"a point on the way home is in an offset", "G28 Z5\nM2\n", "G55\nG28 Z5\nM2\n", Options{BackOffset: "G55"}, "G55"},
		{"two, both named", "G54 G0 X1\nG55 X1\nM2\n", "G56 G0 X99\nG57 X99\nM2\n", Options{BackOffset: "G56", OffsetMap: map[string]string{"G54": "G56", "G55": "g57"}}, ""},
		{"an end in the block of the last move", "G54 G0 X1\nG0 X2 M30\n", "G55 G0 X99\nG0 X98 M30\n", Options{BackOffset: "G55"}, ""},
		{"inserted before a move and the end in one block", "G0 X2 M2\n", "G55\nG0 X98 M2\n", Options{BackOffset: "G55"}, "G55"},
		{"kept", "G54 G0 X1\nM2\n", "G54 G0 X99\nM2\n", Options{BackOffset: "G55", KeepOffset: true, ZerosDiffer: true}, ""},
		{"extended, to another", "G54.1 P1\ng54.1p01 G0 X1\nM2\n", "G54.1 P12\ng54.1p12 G0 X99\nM2\n", Options{BackOffset: "G54.1 P12"}, ""},
		{"extended, without the tenth", "G90 G54 P1 G0 X1\nM2\n", "G90 G54 P2 G0 X99\nM2\n", Options{BackOffset: "g54.1p2"}, ""},
		{"extended, to a plain one", "G90 G54.1 P1 (first) G0 X1\nG54P1\nX2\nM2\n", "G90 G57 (first) G0 X99\nG57\nX98\nM2\n", Options{OffsetMap: map[string]string{"G54.1 P1": "G57"}}, ""},
		{"plain, to an extended one", "G54 G0 X1\nX2\nM2\n", "G54.1 P3 G0 X99\nX98\nM2\n", Options{BackOffset: "G54.1 P3"}, ""},
		{"extended, inserted", "G0 X1\nM2\n", "G54.1 P3\nG0 X99\nM2\n", Options{BackOffset: "G54.1 P3"}, "G54.1 P3"},
		{"extended, two", "G54.1 P1 G0 X1\nG54.1 P2 X1\nM2\n", "G54.1 P3 G0 X99\nG55 X99\nM2\n", Options{OffsetMap: map[string]string{"G54.1 P1": "G54.1 P3", "G54.1 P2": "G55"}}, ""},
		{"extended, left alone", "G54.1 P1 G0 X1\nM2\n", "G54.1 P1 G0 X99\nM2\n", Options{}, ""},
		{"a dwell beside an offset", "G54 G4 P1\nG0 X1\nM2\n", "G55 G4 P1\nG0 X99\nM2\n", Options{BackOffset: "G55"}, ""},
	} {
		c.o.Map = flipY("100")
		got, r, err := rewriteText(t, c.in, c.o)
		if err == nil {
			_, err = Mirror(strings.NewReader(c.in), &bytes.Buffer{}, c.o)
		}
		if err != nil || got != c.out || r.InsertedOffset != c.inserted {
			t.Errorf("%s: %v\n%q", c.name, err, got)
		}
	}
}

// TestRounded: an offset in mm that is no finite number of inches is told with what is used for
// it, where a length is in inches; by hand, 120/25.4 = 4.72441 and 10/25.4 = 0.39370.
func TestRounded(t *testing.T) {
	far := flipY("120")
	far.Z.Offset = dec("10")
	inches := flipY("120")
	inches.Unit = transform.Inch
	for _, c := range []struct {
		in   string
		m    transform.Map
		want string
	}{
		{"G20 G0 X1\nM2\n", far, "[X 4.7244 120 Z 0.3937 10]"},
		{"G20 G0 X1.00001\nM2\n", far, "[X 4.72441 120 Z 0.3937 10]"},
		{"G21 G0 X1\nG20 X1\nM2\n", far, "[X 4.7244 120 Z 0.3937 10]"},
		{"G20\nG21 G0 X1\nM2\n", far, "[]"},
		{"G20 G0 X1\nM2\n", flipY("127"), "[]"},
		{"G20 G0 X1\nM2\n", inches, "[]"},
	} {
		_, r, err := rewriteText(t, c.in, Options{Map: c.m})
		if err != nil {
			t.Fatal(err)
		}
		var got []any
		for _, n := range r.Notes {
			if is, ok := n.Is.(InchRounded); ok {
				got = append(got, is.Axis, is.Used, is.Exact)
			}
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%q through %v: %v, want %s", c.in, c.m, got, c.want)
		}
	}
}

// TestReversedWeight: what was reversed is told, what was left is warned of.
func TestReversedWeight(t *testing.T) {
	const loop = "G0 X10 Y10\nG1 Z-1 F50\nX20\nY20\nX10 Y10\nG0 Z5\n"
	for in, want := range map[string]string{loop: fact.Note, loop + "G0 X50 Y50\nG1 X60 Z-1\nG0 Z5\n": fact.Warning} {
		r, err := Mirror(strings.NewReader(reverseStart+in+"M30\n"), &bytes.Buffer{}, Options{Map: flipY("100"), ReverseCuts: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range r.Notes {
			if is, ok := n.Is.(CutsReversed); ok && (n.Level != want || is.Reversed != 1 || is.Left > 0 != (want == fact.Warning)) {
				t.Errorf("%q: %s %+v", in, n.Level, is)
			}
		}
	}
}

// TestOffsetBehindSlash: with the block delete switch on the program calls no offset, so that one
// would have to be put in; with it off, none.
func TestOffsetBehindSlash(t *testing.T) {
	_, err := Mirror(strings.NewReader("/G54\nG0 X1\nM2\n"), &bytes.Buffer{}, Options{Map: flipY("100"), BackOffset: "G55", Name: "p"})
	if err == nil || !strings.HasPrefix(err.Error(), "p:2:1: a block that depends on whether the block with a slash in line 1 runs") {
		t.Errorf("%v", err)
	}
}

// TestOneOffsetForOne: one offset of the back never stands for two of the face's, and
// motion before any offset is motion in G54, which M2 and M30 go back to (NISTIR 6556, 3.6.1).
func TestOneOffsetForOne(t *testing.T) {
	back := Options{BackOffset: "G55"}
	for _, c := range []struct {
		name, in string
		o        Options
		out      string // or
		want     string // the refusal
	}{
		{"one after another", "G54 G0 X1\nG57 X1\nM2\n", back, "",
			"2:1: G57 after G54, two offsets in one program; hint: say what each becomes, for example ‹map G54=G55; G57=...›"},
		{"called, not moved in", "G57\nG54\nG0 X1\nM2\n", back, "",
			"2:1: G54 after G57, two offsets in one program; hint: say what each becomes, for example ‹map G57=G55; G54=...›"},
		{"after motion in none", "G0 X1\nG90 G57 X1\nM2\n", back, "",
			"2:5: G57 after motion before any offset, so in G54; hint: say what each becomes, for example ‹map G54=G55; G57=...›"},
		{"after a rotary move in none", "G0 A5\nG57 A5\nM2\n", back, "",
			"2:1: G57 after motion before any offset, so in G54; hint: say what each becomes, for example ‹map G54=G55; G57=...›"},
		{"motion in none, and called with the switch off", "/G57\nG0 X1\nM2\n", back, "",
			"2:1: motion before any offset, so in G54, and G57 elsewhere (when the blocks with a slash, such as line 1, are skipped); hint: say what each becomes, for example ‹map G57=G55; G54=...›"},
		{"around a call", "M98 P1\nG57\nM98 P1\nM30\nO1\nG0 X1\nM99\n", back, "",
			"2:1: G57 after motion before any offset, so in G54; hint: say what each becomes, for example ‹map G54=G55; G57=...›"},
		{"named to one", "G57 G0 X1\nG54 X1\nM2\n", Options{OffsetMap: map[string]string{"G54": "G55", "G57": "G55"}}, "",
			"2:1: G54 after G57, two offsets in one program; hint: two zeros of the face can't become one of the back: give G57 and G54 different offsets with ‹map›"},
		{"named, but not the one that motion is in", "G0 X1\nG57 X1\nM2\n", Options{OffsetMap: map[string]string{"G57": "G54"}}, "",
			"1:1: motion before any offset, so in G54, which ‹map› doesn't name; hint: add ‹map + G54=...› with one of the back's offsets"},
		{"two extended", "G54.1 P1 G0 X1\nG54.1 P2 X1\nM2\n", back, "",
			"2:1: G54.1 P2 after G54.1 P1, two offsets in one program; hint: say what each becomes, for example ‹map G54.1 P1=G55; G54.1 P2=...›"},
		{"another P beside an offset that gets one", "G54 G4 P1\nG0 X1\nM2\n", Options{BackOffset: "G54.1 P2"}, "",
			"1:1: G54 beside a P of another code; hint: put it into a block of its own: the back's offset needs a P"},
		{"one of two named", "G54 G0 X1\nG57 X1\nM2\n", Options{OffsetMap: map[string]string{"G54": "G56"}}, "",
			"2:1: G57, which ‹map› doesn't name; hint: add ‹map + G57=...› with one of the back's offsets"},
		{"another named", "G54 G0 X1\nM2\n", Options{OffsetMap: map[string]string{"G57": "G58"}}, "",
			"1:1: G54, which ‹map› doesn't name; hint: add ‹map + G54=...› with one of the back's offsets"},
		{"motion in none, each named", "G0 X1\nG57 X1\nM2\n", Options{OffsetMap: map[string]string{"G54": "G56", "G57": "G58"}}, "G56\nG0 X99\nG58 X99\nM2\n", ""},
		{"the named one goes before --back-offset", "G0 X1\nM2\n", Options{BackOffset: "G55", OffsetMap: map[string]string{"G54": "G56"}}, "G56\nG0 X99\nM2\n", ""},
		{"motion in none, the other named", "G0 X1\nG57 X1\nM2\n", Options{BackOffset: "G55", OffsetMap: map[string]string{"G57": "G58"}}, "G55\nG0 X99\nG58 X99\nM2\n", ""},
		{"both kept", "G0 X1\nG57 X1\nM2\n", Options{BackOffset: "G55", KeepOffset: true}, "G0 X99\nG57 X99\nM2\n", ""},
	} {
		c.o.Map = flipY("100")
		var out bytes.Buffer
		_, err := Mirror(strings.NewReader(c.in), &out, c.o)
		if got := fmt.Sprint(err); got != c.want && (err != nil || c.want != "") {
			t.Errorf("%s:\n%s, want\n%s", c.name, got, c.want)
		}
		if out.String() != c.out {
			t.Errorf("%s:\n%q, want\n%q", c.name, out.String(), c.out)
		}
	}
}

// TestFaceOffset: a program that calls another offset than the face's.
func TestFaceOffset(t *testing.T) {
	for _, c := range []struct {
		in   string
		o    Options
		note string // its values
		want string // the refusal
	}{
		{"G54 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G56", ZerosDiffer: true}, "", ""},
		{"G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G56", ZerosDiffer: true}, "", ""},
		{"G55 G0 X1\nG55 X2\nM2\n", Options{FaceOffset: "G54", BackOffset: "G56", ZerosDiffer: true}, "G55 G54 G56", ""},
		{"G55 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G56"}, "G55 G54 G56", ""},
		{"G55 G0 X1\nM2\n", Options{BackOffset: "G56", ZerosDiffer: true}, "", ""},
		{"G55 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G56", ZerosDiffer: true, OffsetMap: map[string]string{"G55": "G57"}}, "", ""},
		{"G55 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G55"}, "G55 G54 G55", ""},
		{"G90\nG55 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G55", ZerosDiffer: true}, "",
			"2:1: G55, which is the back's offset, expected the face's, G54; hint: where the face runs in G55, give ‹offset G55› and the back another; or is the program mirrored already?"},
		{"(flipcalc: back of m.nc)\nG55 G0 X1\nM2\n", Options{FaceOffset: "G54", BackOffset: "G55", ZerosDiffer: true}, "", ""},
	} {
		c.o.Map = flipY("100")
		r, err := Mirror(strings.NewReader(c.in), &bytes.Buffer{}, c.o)
		if c.want != "" || err != nil {
			if err == nil || err.Error() != c.want {
				t.Errorf("%q: %v, want %s", c.in, err, c.want)
			}
			continue
		}
		note := ""
		for _, n := range r.Notes {
			if fact.Code(n.Is) == "other-offset" {
				note += strings.Join(fact.Values(n.Is), " ")
			}
		}
		if note != c.note {
			t.Errorf("%q: noted %q, want %q", c.in, note, c.note)
		}
	}
}

// TestNotes: what is mirrored with a warning or a note, by code, line and values.
func TestNotes(t *testing.T) {
	start := "G21 G90 G94 G17 G91.1\n"
	for _, c := range []struct{ name, in, out, notes string }{
		{"hole before X is given", "G0 Y10 Z5\nG81 Y20 Z-5 R1 F100\nX30\nG80\nM30\n", "G0 Y10 Z5\nG81 Y20 Z-5 R1 F100\nX70\nG80\nM30\n", "cut-at-start 3 X"},
		{"plunge before X is given", "G0 Z5\nG1 Z-1 F100\nX20\nY30\nM30\n", "G0 Z5\nG1 Z-1 F100\nX80\nY30\nM30\n", "cut-at-start 3 X"},
		{"cut from the start", "G0 Z5\nG1 X20 F100\nM30\n", "G0 Z5\nG1 X80 F100\nM30\n", "cut-at-start 3 X"},
		{"led to its first place at feed", "G1 X20 F100\nG0 Z5\nM30\n", "G1 X80 F100\nG0 Z5\nM30\n", ""},
		{"led to its place at feed after home", "G0 X1 Z5\nG91 G28 Z0\nG90\nG1 X20 F100\nG0 Z5\nG1 Z-1\nM30\n", "G0 X99 Z5\nG91 G28 Z0\nG90\nG1 X80 F100\nG0 Z5\nG1 Z-1\nM30\n", "home 3 G28"},
		{"hole at a given place", "G0 Z5\nG81 X3 Y20 Z-5 R1 F100\nM30\n", "G0 Z5\nG81 X97 Y20 Z-5 R1 F100\nM30\n", ""},
		{"circle where the tool stands", "G0 Y1 Z5\nG2 I5 F100\nM30\n", "G0 Y1 Z5\nG3 I-5 F100\nM30\n", "cut-at-start 3 X"},
		{"pocket where the tool stands", "G0 Y1 Z5\nG12 I5 F100\nM30\n", "G0 Y1 Z5\nG13 I5 F100\nM30\n", "cut-at-start 3 X"},
		{"G91 from the start", "G91\nG1 X5 F9\nG2 X10 I5\nM30\n", "G91\nG1 X-5 F9\nG3 X-10 I-5\nM30\n", "incremental-start 3 X"},
		{"after another offset, given anew", "G54 G0 X1\nG55 X1\nG1 Z-1 F9\nM30\n", "G54 G0 X99\nG55 X99\nG1 Z-1 F9\nM30\n", ""},
		{"the first offset changes nothing", "G0 X1\nG54\nG1 Z-1 F9\nM30\n", "G0 X99\nG54\nG1 Z-1 F9\nM30\n", ""},
		{"safe lines", "G00 G17 G21 G40 G49 G80 G90\nG80 G0 Z25\nG0 G80 G90 X10. Y10.\nG17 G40 G49 G50 G80\nG0 X1\nM30\n", "G00 G17 G21 G40 G49 G80 G90\nG80 G0 Z25\nG0 G80 G90 X90. Y10.\nG17 G40 G49 G50 G80\nG0 X99\nM30\n", ""},
		{"G80 ends the cycle beside G0", "G0 X0\nG81 X1 Y1 Z-1 R1 F9\nG80 G0 X2\nX3\nM30\n", "G0 X100\nG81 X99 Y1 Z-1 R1 F9\nG80 G0 X98\nX97\nM30\n", ""},
		{"G80 beside home", "G0 X0\nG91 G80 G28 X0 Z0\nM30\n", "G0 X100\nG91 G80 G28 X0 Z0\nM30\n", "home 3 G28"},
		{"look-ahead", "G5.1 Q1\nG05 P10000\nG08 P1\nG0 X1\nG5.1 Q0\nX2\nM30\n", "G5.1 Q1\nG05 P10000\nG08 P1\nG0 X99\nG5.1 Q0\nX98\nM30\n", "look-ahead 2 G5.1; look-ahead 3 G5; look-ahead 4 G8"},
		{"clamps and outputs", "M19 M10\nM64 P1 M29 S500\nG0 X1 M10\nM30\n", "M19 M10\nM64 P1 M29 S500\nG0 X99 M10\nM30\n", "passed-on 2 M19; passed-on 2 M10; passed-on 3 M64; passed-on 3 M29"},
		{"L0", "G0 Y1 Z5\nG81 X10 Y10 Z-1 R1 L0 F9\nX20\nM30\n", "G0 Y1 Z5\nG81 X90 Y10 Z-1 R1 L0 F9\nX80\nM30\n", "cycle-kept 3 G81"},
		{"L0 doesn't give X", "G0 Y1 Z5\nG81 X10 Y10 Z-1 R1 L0 F9\nY20\nM30\n", "G0 Y1 Z5\nG81 X90 Y10 Z-1 R1 L0 F9\nY20\nM30\n", "cycle-kept 3 G81; cut-at-start 4 X"},
		{"text after %", "G0 X1\n%\n\nO2 X(\n%\n", "G0 X99\n%\n\nO2 X(\n%\n", "text-after-end 5"},
		{"nothing after %", "G0 X1\n%\n\n%\n\x1a", "G0 X99\n%\n\n%\n\x1a", ""},
		{"^Z", "G0 X1\nM30\n\x1a", "G0 X99\nM30\n\x1a", ""},
		{"^Z without an end before it", "G0 X1\n\x1a\x1a\n", "G0 X99\n\x1a\x1a\n", "no-end 3"},
		{"^Z on the last line", "G0 X1\nM30\x1a\n\n", "G0 X99\nM30\x1a\n\n", ""},
		{"text after ^Z", "G0 X1\nM30\n\x1a\nM5 (\n", "G0 X99\nM30\n\x1a\nM5 (\n", "text-after-end 5"},
		{"text after % behind subprograms", "G0 X1\nM98 P2\nM30\nO2\nX2\nM99\n%\nO2 X(\n%\n", "G0 X99\nM98 P2\nM30\nO2\nX98\nM99\n%\nO2 X(\n%\n", "text-after-end 9"},
		{"^Z behind subprograms", "G0 X1\nM98 P2\nM30\nO2\nX2\nM99\n\x1a\nX", "G0 X99\nM98 P2\nM30\nO2\nX98\nM99\n\x1a\nX", "text-after-end 9"},
		{"G52 left on one axis", "G52 X5 Y5\nG0 X1\nG52 Y0\nM30\n", "G52 X-5 Y5\nG0 X99\nG52 Y0\nM30\n", "zero-left 5 G52"},
		{"G52 with its last word 0", "G52 X5 Y0\nG0 X1\nM30\n", "G52 X-5 Y0\nG0 X99\nM30\n", "zero-left 4 G52"},
		{"G52 ended on all axes", "G52 X5 Y5\nG0 X1\nG52 X0 Y0\nM30\n", "G52 X-5 Y5\nG0 X99\nG52 X0 Y0\nM30\n", ""},
		{"G68 left", "G0 X1 Y1\nG68 X1 Y1 R30\nG0 X5 Y2\nM30\n", "G0 X99 Y1\nG68 X99 Y1 R-30\nG0 X95 Y2\nM30\n", "zero-left 5 G68"},
		{"cuts after a tool change that stops the spindle", "T1 M6\nS9 M3\nG0 X1 Y1 Z5\nG1 Z-1 F9\nG0 Z5\nT2 M6\nG0 X2 Y2\nG1 Z2\nG1 Z-1\nX3\nM30\n", "T1 M6\nS9 M3\nG0 X99 Y1 Z5\nG1 Z-1 F9\nG0 Z5\nT2 M6\nG0 X98 Y2\nG1 Z2\nG1 Z-1\nX97\nM30\n", "spindle-stopped 10 2"},
		{"a spindle that is switched by hand", "G0 X1 Y1 Z5\nG1 Z-1 F9\nG0 Z5\nM5\nM30\n", "G0 X99 Y1 Z5\nG1 Z-1 F9\nG0 Z5\nM5\nM30\n", ""},
		{"G92 left", "G0 X1\nG92 X5\nM30\n", "G0 X99\nG92 X95\nM30\n", "zero-left 4 G92"},
	} {
		var out bytes.Buffer
		r, err := Mirror(strings.NewReader(start+c.in), &out, Options{Map: flipY("100")})
		if err != nil || out.String() != start+c.out {
			t.Errorf("%s: %v\n%q, want\n%q", c.name, err, out.String(), start+c.out)
			continue
		}
		var notes []string
		for _, n := range r.Notes {
			if n.Level != fact.Assumed && fact.Code(n.Is) != "other-side" {
				notes = append(notes, strings.TrimSpace(fmt.Sprintf("%s %d %s", fact.Code(n.Is), n.Line, strings.Join(fact.Values(n.Is), " "))))
			}
		}
		if got := strings.Join(notes, "; "); got != c.notes {
			t.Errorf("%s: noted %q, want %q", c.name, got, c.notes)
		}
	}
}

// TestAfterChange: machines may drive to a place of their own to change tools (common
// practice), so that the first move after M6 should give the reversed axis anew.
func TestAfterChange(t *testing.T) {
	const head = "G21 G90 G94 G17\nG0 X10 Y10 Z5\nT2 M6\n"
	for _, c := range []struct {
		in   string
		want string // the note's line and values
	}{
		{"G91 G1 X5 F9\n", "4 [X]"},
		{"G1 Y5 F9\n", "4 [X]"},
		{"G2 X20 Y10 I5 F9\n", "4 [X]"},
		{"G1 X5 F9\n", ""}, // led to its first place at feed
		{"G0 X5\nG1 Y5 F9\nX7\n", ""},
		{"G0 Z3\nX5\nG1 Y5 F9\n", ""},
		{"G91 G0 Z3\nG90 G0 X5\nG91 G1 X5 F9\n", ""},
	} {
		r, err := Mirror(strings.NewReader(head+c.in+"M2\n"), &bytes.Buffer{}, Options{Map: flipY("100")})
		if err != nil {
			t.Errorf("%q: %v", c.in, err)
			continue
		}
		got := ""
		for _, n := range r.Notes {
			if fact.Code(n.Is) == "after-change" {
				got += fmt.Sprint(n.Line, " ", fact.Values(n.Is))
			}
		}
		if got != c.want {
			t.Errorf("%q: noted %q, want %q", c.in, got, c.want)
		}
	}
}
