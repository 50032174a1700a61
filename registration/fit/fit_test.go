package fit

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Least and greatest clearance in micrometres, worked out from the limits of
// ISO 286; 50 mm H7/g6, 9 to 50 um, as a published worked fit has it.
func TestClearances(t *testing.T) {
	fits := []string{"H7/g6", "H7/h6", "H8/f7", "H7/m6", "H7/k6", "H8/h8", "H9/h8", "H8/m6", "H7/h8"}
	small := [9][2]int64{{4, 24}, {0, 20}, {10, 40}, {-12, 8}, {-9, 11}, {0, 36}, {0, 48}, {-12, 14}, {0, 30}}
	mid := [9][2]int64{{5, 29}, {0, 24}, {13, 50}, {-15, 9}, {-10, 14}, {0, 44}, {0, 58}, {-15, 16}, {0, 37}}
	rows := []struct {
		size string
		want [9][2]int64
	}{
		{"3", [9][2]int64{{2, 18}, {0, 16}, {6, 30}, {-8, 8}, {-6, 10}, {0, 28}, {0, 39}, {-8, 12}, {0, 24}}},
		{"4", small}, {"5", small}, {"6", small}, {"8", mid}, {"10", mid},
		{"12", [9][2]int64{{6, 35}, {0, 29}, {16, 61}, {-18, 11}, {-12, 17}, {0, 54}, {0, 70}, {-18, 20}, {0, 45}}},
	}
	check := func(size, name string, min, max int64) {
		t.Helper()
		f, err := Parse(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.At(dec(t, size), transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		if !p.Min.Equal(micrometres(min)) || !p.Max.Equal(micrometres(max)) {
			t.Errorf("%s %s: %s to %s mm, want %d to %d um", size, name, p.Min, p.Max, min, max)
		}
	}
	for _, r := range rows {
		for i, name := range fits {
			check(r.size, name, r.want[i][0], r.want[i][1])
		}
	}
	check("50", "H7/g6", 9, 50)
}

// What can be tight keeps its negative clearance.
func TestTight(t *testing.T) {
	// H5/m6 at 3 mm can be either: hole 0 to +4, pin +2 to +8 um (ISO 286).
	f, _ := Parse("H5/m6")
	if p, err := f.At(dec(t, "3"), transform.MM); err != nil || !p.Min.Equal(dec(t, "-0.008")) || !p.Max.Equal(dec(t, "0.002")) {
		t.Errorf("H5/m6: %s to %s, %v", p.Min, p.Max, err)
	}
}

// The greatest play is 0.2 mm or 0.008 in, and H8/f7, the loosest fit that is advised, stays
// under it up to 120 mm: there 54 and 36 + 35 um make 0.125 (ISO 286).
func TestGreatestPlay(t *testing.T) {
	if v := GreatestPlay(transform.MM); !v.Equal(dec(t, "0.2")) {
		t.Errorf("mm: %s", v)
	}
	if v := GreatestPlay(transform.Inch); !v.Equal(dec(t, "0.008")) {
		t.Errorf("in: %s", v)
	}
	f, _ := Parse("H8/f7")
	for _, s := range steps {
		p, err := f.At(decimal.NewFromInt(s.upTo), transform.MM)
		if err != nil || p.Max.GreaterThan(GreatestPlay(transform.MM)) {
			t.Errorf("H8/f7 at %d mm: up to %s, %v", s.upTo, p.Max, err)
		}
		if s.upTo == 120 && !p.Max.Equal(dec(t, "0.125")) {
			t.Errorf("H8/f7 at 120 mm: up to %s", p.Max)
		}
	}
}

// The holes in which a pin still registers: from its greatest diameter to the greatest play
// over its least, or over the nominal one where the standard makes it thicker (derived from
// the sizes of TestPinSizes).
func TestRegisters(t *testing.T) {
	for _, c := range []struct {
		s                   Standard
		nominal, from, upTo string
	}{
		{ISO8734, "6", "6.012", "6.2"},       // m6: never under 6
		{ISO2338h, "8", "8", "8.178"},        // h8: 7.978 at least
		{B18_8_5M, "16", "16.009", "16.2"},   //
		{B18_8_2, "0.25", "0.2503", "0.258"}, // 0.2501 at least
	} {
		p, err := Lookup(c.s, dec(t, c.nominal))
		if err != nil {
			t.Fatal(err)
		}
		from, upTo := dec(t, c.from), dec(t, c.upTo)
		if l := p.Registers(); !l.Lower.Equal(from) || !l.Upper.Equal(upTo) {
			t.Errorf("%s %s: %s to %s, want %s to %s", c.s, c.nominal, l.Lower, l.Upper, from, upTo)
		}
		hair := decimal.New(1, -6)
		for hole, want := range map[decimal.Decimal]bool{from: true, upTo: true, from.Sub(hair): false, upTo.Add(hair): false} {
			if p.Registers().Holds(hole) != want {
				t.Errorf("%s %s in a hole of %s: %v", c.s, c.nominal, hole, !want)
			}
		}
	}
}

func TestBadFits(t *testing.T) {
	const classes = "H5 to H11 for a hole, or f, g, h, k or m with a grade from 5 to 11 for a shaft"
	for _, c := range []struct{ in, want string }{
		{"", `fit "", expected a hole class, a slash and a shaft class, such as H7/g6`},
		{"H7", `fit "H7", expected a hole class, a slash and a shaft class, such as H7/g6`},
		{"H7/", `tolerance class "", expected ` + classes},
		{"/g6", `tolerance class "", expected ` + classes},
		{"H7/p6", `tolerance class "p6", expected ` + classes},
		{"H12/g6", `tolerance class "H12", expected ` + classes},
		{"H4/g6", `tolerance class "H4", expected ` + classes},
		{"H07/g6", `tolerance class "H07", expected ` + classes},
		{"H7.5/g6", `tolerance class "H7.5", expected ` + classes},
		{"H-7/g6", `tolerance class "H-7", expected ` + classes},
		{"K7/h6", `tolerance class "K7", expected ` + classes},
		{"Ø7/g6", `tolerance class "Ø7", expected ` + classes},
		{"H7/g6/h6", `tolerance class "g6/h6", expected ` + classes},
		{"H7/k8", `tolerance class "k8", expected k5, k6 or k7`},
		{"g6/H7", `fit "g6/H7", expected the hole's class first; hint: write H7/g6`},
		{"h7/h6", `h7 before the slash in fit "h7/h6", expected a hole class there (H5 to H11)`},
		{"H7/H6", `H6 behind the slash in fit "H7/H6", expected a shaft class there (f, g, h, k or m with a grade)`},
	} {
		if _, err := Parse(c.in); err == nil || err.Error() != c.want {
			t.Errorf("Parse(%q)\n got %v\nwant %s", c.in, err, c.want)
		}
	}
	if f, err := Parse(" H7 / m6 "); err != nil || f.String() != "H7/m6" {
		t.Errorf("blanks round a class: %v, %v", f, err)
	}
}

// ISO 286 fits don't name inch holes; a 1/4 in pin is at most 0.2503 and
// at least 0.2501 thick (ASME B18.8.2-2000), which with 0.008 of play is over 0.258.
func TestInchesAskForTheHole(t *testing.T) {
	f, err := Parse("H7/m6")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ size, want string }{
		{"0.25", "fit H7/m6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; " +
			"hint: give ‹hole›; a dowel of 1/4 takes a hole of 0.2503 to 0.258"},
		{"0.26", "fit H7/m6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; hint: give ‹hole›"},
	} {
		if _, err := f.At(dec(t, c.size), transform.Inch); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
}

// A 1/4 in pin (0.2501 to 0.2503, ASME B18.8.2-2000) in a hole of 0.2510 give or
// take 0.0005.
func TestDrilled(t *testing.T) {
	pin, err := Lookup(B18_8_2, dec(t, "0.25"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := Drilled(pin, dec(t, "0.2510"), dec(t, "0.0005"))
	if err != nil || !p.Min.Equal(dec(t, "0.0002")) || !p.Max.Equal(dec(t, "0.0014")) {
		t.Errorf("%+v, %v", p, err)
	}
	for _, hole := range []string{"0", "-1", "0.0005"} {
		if _, err := Drilled(pin, dec(t, hole), dec(t, "0.0005")); err == nil {
			t.Errorf("hole %s accepted", hole)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"H7/m6", "H8/f7", " H9 / h8", "g6/H7", "H7/k8", "H11/h11", "/", "H7//g6", "Ø6/ø6", "H7/m6\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := Parse(s)
		if err != nil {
			return
		}
		again, err := Parse(got.String())
		if err != nil || again != got {
			t.Errorf("%q reads as %v, which reads as %v, %v", s, got, again, err)
		}
		p, err := got.At(decimal.NewFromInt(8), transform.MM)
		if err != nil || p.Min.GreaterThanOrEqual(p.Max) {
			t.Errorf("%v: %+v, %v", got, p, err)
		}
	})
}

func ExampleParse() {
	f, err := Parse("H7/m6")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := f.At(decimal.NewFromInt(6), transform.MM)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %s to %s mm\n", f, p.Min, p.Max)
	// Output: H7/m6: -0.012 to 0.008 mm
}

// A standard pin is what its standard makes it, whatever the fit's shaft class:
// ISO 8734 pins are m6, so in an H7 hole a 6 mm one has 0.000-0.012 to 0.012-0.004
// of clearance (ISO 286), a 6 mm pin of ASME B18.8.5M 0.000-0.009 to 0.012-0.003.
func TestWith(t *testing.T) {
	for _, c := range []struct {
		standard Standard
		fit      string
		min, max string
	}{
		{ISO8734, "H7/g6", "-0.012", "0.008"},
		{ISO8734, "H7/m6", "-0.012", "0.008"},
		{ISO2338h, "H8/f7", "0", "0.036"},
		{B18_8_5M, "H7/h6", "-0.009", "0.009"},
	} {
		p, err := Lookup(c.standard, decimal.NewFromInt(6))
		if err != nil {
			t.Fatal(err)
		}
		f, err := Parse(c.fit)
		if err != nil {
			t.Fatal(err)
		}
		got, err := f.With(p)
		if err != nil || got.Min.String() != c.min || got.Max.String() != c.max {
			t.Errorf("%v %s: %v to %v, %v", c.standard, c.fit, got.Min, got.Max, err)
		}
	}
	p, _ := Lookup(B18_8_2, decimal.New(25, -2))
	if _, err := (Fit{Class{'H', 7}, Class{'m', 6}}).With(p); err == nil {
		t.Error("an ISO 286 fit of an inch pin was accepted")
	}
}
