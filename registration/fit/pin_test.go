package fit

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Greatest and least diameter. Source: ASME B18.8.5M and ASME
// B18.8.2-2000 as copies of the standards print them; ISO 8734 m6 and ISO 2338
// h8 from ISO 286 (that these pins are m6 and h8 is a value from memory).
func TestPinSizes(t *testing.T) {
	for _, c := range []struct {
		s               Standard
		nominal         string
		label, max, min string
	}{
		{B18_8_5M, "3", "3", "3.008", "3.003"},
		{B18_8_5M, "4", "4", "4.008", "4.003"},
		{B18_8_5M, "5", "5", "5.008", "5.003"},
		{B18_8_5M, "6", "6", "6.009", "6.003"},
		{B18_8_5M, "8", "8", "8.009", "8.003"},
		{B18_8_5M, "10", "10", "10.009", "10.003"},
		{B18_8_5M, "12", "12", "12.009", "12.003"},
		{B18_8_5M, "16", "16", "16.009", "16.003"},
		{B18_8_5M, "20", "20", "20.009", "20.003"},
		{B18_8_5M, "25", "25", "25.009", "25.003"},
		{B18_8_2, "0.125", "1/8", "0.1253", "0.1251"},
		{B18_8_2, "0.1875", "3/16", "0.1878", "0.1876"},
		{B18_8_2, "0.25", "1/4", "0.2503", "0.2501"},
		{B18_8_2, "0.3125", "5/16", "0.3128", "0.3126"},
		{B18_8_2, "0.375", "3/8", "0.3753", "0.3751"},
		{B18_8_2, "0.4375", "7/16", "0.4378", "0.4376"},
		{B18_8_2, "0.5", "1/2", "0.5003", "0.5001"},
		{B18_8_2, "0.625", "5/8", "0.6253", "0.6251"},
		{B18_8_2, "0.75", "3/4", "0.7503", "0.7501"},
		{B18_8_2, "0.875", "7/8", "0.8753", "0.8751"},
		{B18_8_2, "1", "1", "1.0003", "1.0001"},
		{ISO8734, "6", "6", "6.012", "6.004"},
		{ISO8734, "2.5", "2.5", "2.508", "2.502"},
		{ISO2338h, "8", "8", "8", "7.978"},
	} {
		p, err := Lookup(c.s, dec(t, c.nominal))
		if err != nil {
			t.Errorf("%s %s: %v", c.s, c.nominal, err)
			continue
		}
		if p.Label != c.label || !p.Size.Upper.Equal(dec(t, c.max)) || !p.Size.Lower.Equal(dec(t, c.min)) {
			t.Errorf("%s %s: %q %s / %s, want %q %s / %s", c.s, c.nominal, p.Label, p.Size.Upper, p.Size.Lower, c.label, c.max, c.min)
		}
	}
}

// The diameters of the metric standards, and that all are m6, or h8 of ISO 2338 h8, are
// values from memory; what m6 and h8 are at each is ISO 286. ASME B18.8.5M as a copy of the
// standard prints it.
func TestDiameters(t *testing.T) {
	for s, want := range map[Standard]string{
		ISO8734:  "1 1.5 2 2.5 3 4 5 6 8 10 12 16 20",
		ISO2338:  "0.6 0.8 1 1.2 1.5 2 2.5 3 4 5 6 8 10 12 16 20 25 30 40 50",
		ISO2338h: "0.6 0.8 1 1.2 1.5 2 2.5 3 4 5 6 8 10 12 16 20 25 30 40 50",
		B18_8_5M: "3 4 5 6 8 10 12 16 20 25",
	} {
		var labels []string
		for _, p := range Pins(s) {
			labels = append(labels, p.Label)
			if s == B18_8_5M {
				continue
			}
			class := Class{'m', 6}
			if s == ISO2338h {
				class = Class{'h', 8}
			}
			d, _, err := class.Deviations(p.Nominal)
			if err != nil || !p.Size.Lower.Equal(p.Nominal.Add(d.Lower)) || !p.Size.Upper.Equal(p.Nominal.Add(d.Upper)) || !p.FromMemory {
				t.Errorf("%s %s: %s to %s, %v", s, p.Label, p.Size.Lower, p.Size.Upper, err)
			}
		}
		if got := strings.Join(labels, " "); got != want {
			t.Errorf("%s: %s, want %s", s, got, want)
		}
	}
}

// The series of lengths of ISO 2339, whole: all that ISO 2338 makes; ISO 8734 ends at 100
// (that they share it is a value from memory).
func TestLengthSeries(t *testing.T) {
	const to100 = "2 3 4 5 6 8 10 12 14 16 18 20 22 24 26 28 30 32 35 40 45 50 55 60 65 70 75 80 85 90 95 100"
	for s, want := range map[Standard]string{ISO2338: to100 + " 120 140 160 180 200", ISO8734: to100[len("2 "):]} {
		made := map[string]decimal.Decimal{}
		for _, p := range Pins(s) {
			for _, l := range p.Lengths() {
				made[l.String()] = l
			}
		}
		var series []string
		for _, l := range slices.SortedFunc(maps.Values(made), decimal.Decimal.Cmp) {
			series = append(series, l.String())
		}
		if got := strings.Join(series, " "); got != want {
			t.Errorf("%s: %s, want %s", s, got, want)
		}
	}
}

func TestLookupRefuses(t *testing.T) {
	for _, c := range []struct {
		s             Standard
		nominal, want string
	}{
		{ISO8734, "7", "a dowel of 7 mm, expected a diameter of ISO 8734 m6: 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20"},
		{B18_8_2, "0.26", "a dowel of 0.26 in, expected a diameter of ASME B18.8.2: 1/8, 3/16, 1/4, 5/16, 3/8, 7/16, 1/2, 5/8, 3/4, 7/8, 1"},
		{Standard(9), "6", "unknown standard, expected one of the known standards"},
	} {
		if _, err := Lookup(c.s, dec(t, c.nominal)); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
	if Pins(Standard(9)) != nil || (Pin{Standard: 9}).Lengths() != nil {
		t.Error("an unknown standard has pins")
	}
}

// Lengths: series and length tolerances of ISO 2339; the range of each diameter
// and the inch lengths are values from memory. Every listed range begins and
// ends at a length of the series.
func TestPinLengths(t *testing.T) {
	for s := ISO8734; s <= B18_8_2; s++ {
		for _, p := range Pins(s) {
			l := p.Lengths()
			if len(l) < 2 || !l[0].Equal(p.Shortest) || !l[len(l)-1].Equal(p.Longest) {
				t.Errorf("%s %s: lengths %v, want %s to %s", s, p.Label, l, p.Shortest, p.Longest)
			}
		}
	}
	p, _ := Lookup(ISO8734, dec(t, "6"))
	var got []string
	for _, l := range p.Lengths() {
		got = append(got, p.LengthLabel(l))
	}
	if s := strings.Join(got, " "); s != "14 16 18 20 22 24 26 28 30 32 35 40 45 50 55 60" {
		t.Errorf("6 mm: %s", s)
	}
	q, _ := Lookup(B18_8_2, dec(t, "0.25"))
	got = nil
	for _, l := range q.Lengths() {
		got = append(got, q.LengthLabel(l))
	}
	if s := strings.Join(got, " "); s != "1/2 5/8 3/4 7/8 1 1-1/4 1-1/2 1-3/4 2 2-1/4 2-1/2" {
		t.Errorf("1/4 in: %s", s)
	}
	for _, c := range []struct {
		s         Standard
		len, want string
	}{
		{ISO8734, "2", "0.25"}, {ISO8734, "10", "0.25"}, {ISO8734, "12", "0.5"}, {ISO8734, "50", "0.5"},
		{ISO8734, "55", "0.75"}, {ISO2338, "200", "0.75"}, {B18_8_2, "1", "0.010"},
	} {
		if tol := LengthTolerance(c.s, dec(t, c.len)); !tol.Equal(dec(t, c.want)) {
			t.Errorf("%s, length %s: %s, want %s", c.s, c.len, tol, c.want)
		}
	}
}

// Bore 30 H7 on a stud g6: 30 is in the row 18 to 30, so 7 to 41 um (ISO 286).
// The stud of a 12 mm blank of which 3 are cut over the bore: 2/3 of 9 is 6
// (derived).
func TestForBore(t *testing.T) {
	f, _ := Parse("H7/g6")
	m, err := ForBore(dec(t, "30"), dec(t, "12"), dec(t, "3"), &f, decimal.Decimal{}, transform.MM)
	if err != nil {
		t.Fatal(err)
	}
	if !m.Play.Min.Equal(dec(t, "0.007")) || !m.Play.Max.Equal(dec(t, "0.041")) || !m.Height.Equal(dec(t, "6")) ||
		!m.Shoulder.Equal(dec(t, "45")) || !m.Lead.Equal(dec(t, "1.2")) || !m.Relief.Equal(dec(t, "0.5")) {
		t.Errorf("%+v", m)
	}
	// The stud stays under the cut, and no longer than the bore is wide.
	for _, c := range []struct{ bore, t, over, want string }{
		{"5", "40", "0", "5"}, {"20", "0.8", "0", "0.5"}, {"20", "10", "0", "6.5"}, {"20", "10", "8.5", "1"},
	} {
		m, err := ForBore(dec(t, c.bore), dec(t, c.t), dec(t, c.over), &f, decimal.Decimal{}, transform.MM)
		if err != nil || !m.Height.Equal(dec(t, c.want)) {
			t.Errorf("%+v: height %s, %v", c, m.Height, err)
		}
	}
	m, err = ForBore(dec(t, "1"), dec(t, "0.5"), decimal.Zero, nil, dec(t, "0.998"), transform.Inch)
	if err != nil || !m.Height.Equal(dec(t, "0.328125")) || !m.Play.Min.Equal(dec(t, "0.002")) || !m.Play.Max.Equal(dec(t, "0.002")) ||
		!m.Relief.Equal(dec(t, "0.015625")) || !m.Lead.Equal(dec(t, "0.0656")) || !m.Shoulder.Equal(dec(t, "1.5")) {
		t.Errorf("inch plug: %+v, %v", m, err)
	}
	for _, c := range []struct {
		bore, t, over, stud string
		f                   *Fit
		u                   transform.Unit
		want                string
	}{
		{"0", "12", "0", "", &f, transform.MM, "a bore of 0, thickness 12, cut over the bore 0, expected a bore and a thickness over 0 and a cut less deep than the blank is thick"},
		{"30", "12", "12", "", &f, transform.MM, "a bore of 30, thickness 12, cut over the bore 12, expected a bore and a thickness over 0 and a cut less deep than the blank is thick"},
		{"30", "12", "11.5", "", &f, transform.MM, "only 0.5 mm of the blank left at the bore, expected at least 0.75 mm, for a plug to stand in; hint: register by dowels or by fence and stop"},
		{"30", "12", "0", "30.1", nil, transform.MM, "a plug of 30.1 mm for a bore of 30 mm, expected a plug over 0 and not larger than its bore"},
		{"130", "12", "0", "", &f, transform.MM, "nominal size 130 mm, expected more than 0 and at most 120 mm for an ISO 286 fit; hint: give the hole's own diameter with ‹hole›"},
	} {
		var stud decimal.Decimal
		if c.stud != "" {
			stud = dec(t, c.stud)
		}
		if _, err := ForBore(dec(t, c.bore), dec(t, c.t), dec(t, c.over), c.f, stud, c.u); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
}

func ExampleLookup() {
	p, err := Lookup(B18_8_2, decimal.New(25, -2))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %s in: %s to %s\n", p.Standard, p.Label,
		p.Size.Lower.StringFixed(4), p.Size.Upper.StringFixed(4))
	// Output: ASME B18.8.2 1/4 in: 0.2501 to 0.2503
}

func TestParseStandard(t *testing.T) {
	for name, want := range map[string]Standard{"iso-8734": ISO8734, "ISO-2338": ISO2338, "iso-2338-h8": ISO2338h, "b18.8.5M": B18_8_5M, " b18.8.2": B18_8_2} {
		if got, err := ParseStandard(name); err != nil || got != want {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	if _, err := ParseStandard("8734"); err == nil || err.Error() != `"8734", expected iso-8734, iso-2338, iso-2338-h8, b18.8.5m, b18.8.2` {
		t.Errorf("%v", err)
	}
}

// A rod of 1/4 in is 6.35 mm; its least and greatest diameters are that, since nothing
// else is known of it. Lengths go up in steps of 1 mm from its diameter (derived).
func TestPlain(t *testing.T) {
	p := Plain(ISO8734, dec(t, "6.35"))
	if !p.Plain || p.Label != "6.35" || p.From() != "plain rod" || !p.Size.Lower.Equal(p.Nominal) || !p.Size.Upper.Equal(p.Nominal) {
		t.Errorf("%+v", p)
	}
	l := p.Lengths()
	if !l[0].Equal(dec(t, "7")) || !l[len(l)-1].Equal(dec(t, "64")) || len(l) != 58 {
		t.Errorf("lengths %v", l)
	}
	q := Plain(B18_8_2, dec(t, "0.15625"))
	if l := q.Lengths(); q.Label != "5/32" || !l[0].Equal(dec(t, "0.1875")) || !l[len(l)-1].Equal(dec(t, "2.5")) {
		t.Errorf("%+v, lengths %v", q, l)
	}
	play, err := Drilled(p, dec(t, "6.4"), decimal.Zero)
	if err != nil || !play.Min.Equal(dec(t, "0.05")) || !play.Max.Equal(dec(t, "0.05")) {
		t.Errorf("%+v, %v", play, err)
	}
}
