package budget

import (
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

func TestSet(t *testing.T) {
	tol := Tolerances{}
	for _, arg := range []string{"clearance=0.024", " square = 0.1/300 ", "corner=0.2", "size=0"} {
		if err := tol.Set(arg, transform.MM, plain); err != nil {
			t.Fatal(err)
		}
	}
	for name, want := range map[string]string{Clearance: "0.024", Square: "0.1/300", Corner: "0.2/300", Size: "0"} {
		if got := tol[name].String(); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	inch := Tolerances{}
	if err := inch.Set("square=0.004", transform.Inch, plain); err != nil || inch[Square].String() != "0.004/12" {
		t.Errorf("%v %v", inch, err)
	}
	for _, c := range []struct{ arg, want string }{
		{"clearance", `tolerance: "clearance", expected NAME=VALUE, such as repeatability=0.02`},
		{"pins=0.1", `tolerance: name "pins", expected one of clearance, hole, locator, pin-line, fence-line, square, seating, size, corner, repeatability, clocking, thickness, touch-off, touch, feature`},
		{"clearance=0.1", `tolerance: clearance given twice, expected each name once`},
		{"hole=-0.1", `tolerance hole: -0.1, expected 0 or more; hint: a tolerance is a limit to both sides; give it without a sign`},
		{"hole=", `tolerance hole: "" (can't convert  to decimal), expected a length`},
		{"hole=0.1/300", `tolerance hole: "0.1/300" (can't convert 0.1/300 to decimal), expected a length`},
		{"fence-line=0.1/0", `tolerance fence-line: over 0, expected a length over 0 behind the slash`},
		{"fence-line=0.1/x", `tolerance fence-line: "x" (can't convert x to decimal), expected a length`},
		{"=1", `tolerance: name "", expected one of clearance, hole, locator, pin-line, fence-line, square, seating, size, corner, repeatability, clocking, thickness, touch-off, touch, feature`},
	} {
		if err := tol.Set(c.arg, transform.MM, plain); err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.arg, err, c.want)
		}
	}
}

// Every tolerance has a default in both units, closer for a measured blank and
// for bored pins (common practice); inch values are mm values in whole thousandths.
func TestDefaults(t *testing.T) {
	q := markers()
	fence := q
	fence.Register = registration.FenceStop
	measured := q
	measured.Measured = q.Stock
	inch := q
	inch.Unit = transform.Inch
	byName := map[string]Tolerance{}
	for _, d := range All() {
		byName[d.Name] = d
		mm, in := d.Default(fence), d.Default(inch)
		if !mm.Amount.IsPositive() || !in.Amount.IsPositive() || d.Meaning == "" {
			t.Errorf("%s: %v, %v", d.Name, mm, in)
		}
		if ratio := mm.number() / in.number(); d.Name != Locator && d.Kind == Length && (ratio < 15 || ratio > 35) {
			t.Errorf("%s: %v mm and %v in are too far apart", d.Name, mm, in)
		}
	}
	for _, c := range []struct {
		name string
		q    registration.Question
		want string
	}{
		{Locator, q, "0.02"}, {Locator, fence, "0.05"}, {Size, q, "0.2"}, {Size, measured, "0.05"},
		{Thickness, measured, "0.05"}, {Square, q, "0.1/300"}, {Square, inch, "0.004/12"}, {Locator, inch, "0.001"},
	} {
		if got := byName[c.name].Default(c.q).String(); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
