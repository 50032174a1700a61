package registration

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

func TestParseLength(t *testing.T) {
	const mm, in = transform.MM, transform.Inch
	var tests = []struct {
		text string
		unit transform.Unit
		want string // exact value
	}{
		{"120", mm, "120"},
		{" 120 ", mm, "120"},
		{"-20", mm, "-20"},
		{"+5", mm, "5"},
		{".75", mm, "0.75"},
		{"5.", mm, "5"},
		{"-.5", mm, "-0.5"},
		{"0012.500", mm, "12.5"},
		{"-0", mm, "0"},
		{"12.345678901234567890123", mm, "12.345678901234567890123"},
		{"19mm", mm, "19"},
		{"19 mm", mm, "19"},
		{"19MM", mm, "19"},
		// The inch is 25.4 mm (international inch, 1959).
		{"1in", mm, "25.4"},
		{"3/4in", mm, "19.05"},
		{"4-3/4in", mm, "120.65"},
		{"-4-3/4in", mm, "-120.65"},
		{"1/64in", mm, "0.396875"},
		{"25.4mm", in, "1"},
		{"19.05mm", in, "0.75"},
		{"127mm", in, "5"},
		{"4-3/4", in, "4.75"},
		{"4 3/4", in, "4.75"},
		{"3-1/8", in, "3.125"},
		{"1/2", in, "0.5"},
		{"7/4", in, "1.75"},
		{"31/32", in, "0.96875"},
		{"1/1000", in, "0.001"},
		{"3/6", in, "0.5"},
		{"0/3", in, "0"},
		{"1/127in", mm, "0.2"}, // 25.4/127
	}
	for _, test := range tests {
		got, err := ParseLength(test.text, test.unit)
		if err != nil || !got.Equal(d(test.want)) {
			t.Errorf("%q in %s = %s, %v, want %s", test.text, test.unit, got, err, test.want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	const mm, in = transform.MM, transform.Inch
	const forms = "expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm"
	var tests = []struct {
		text string
		unit transform.Unit
		want string
	}{
		{"", mm, `"" is no length, ` + forms},
		{"mm", mm, `"mm" is no length, ` + forms},
		{".", mm, `"." is no length, ` + forms},
		{"-", mm, `"-" is no length, ` + forms},
		{"--5", mm, `"--5" is no length, ` + forms},
		{"1.2.3", mm, `"1.2.3" is no length, ` + forms},
		{"12cm", mm, `"12cm" is no length, ` + forms},
		{"12 0", mm, `"12 0" is no length, ` + forms},
		{"2,5", mm, `"2,5" is no length, ` + forms + `; hint: write the decimal point as a point`},
		{"1e3", mm, `"1e3" is no length, ` + forms + `; hint: write the number out, without a power of ten`},
		{"1.5E-3", mm, `"1.5E-3" is no length, ` + forms + `; hint: write the number out, without a power of ten`},
		{"wide", mm, `"wide" is no length, ` + forms},
		{"e5", mm, `"e5" is no length, ` + forms},
		{"5e", mm, `"5e" is no length, ` + forms},
		{"\u22125", mm, "\"\u22125\" is no length, " + forms + `; hint: write the minus sign as a plain -`},
		{`3/4"`, in, `"3/4\"" is no length, ` + forms + `; hint: write inches as in: 3/4in`},
		{"0x10", mm, `"0x10" is no length, ` + forms},
		{"1_000", mm, `"1_000" is no length, ` + forms},
		{"Inf", mm, `"Inf" is no length, ` + forms},
		{"NaN", mm, `"NaN" is no length, ` + forms},
		{"1/0", mm, `"1/0" is no length, ` + forms},
		{"1/", mm, `"1/" is no length, ` + forms},
		{"/2", mm, `"/2" is no length, ` + forms},
		{"1/-2", mm, `"1/-2" is no length, ` + forms},
		{"1.5/2", mm, `"1.5/2" is no length, ` + forms},
		{"4.5-3/4", mm, `"4.5-3/4" is no length, ` + forms},
		{"4-5/4", in, `"4-5/4" is no length, ` + forms},
		{"4-4/4", in, `"4-4/4" is no length, ` + forms},
		{"4--3/4", in, `"4--3/4" is no length, ` + forms},
		{"1/3", in, `"1/3" is 0.333333... in inches, with no last digit, expected a length that ends; hint: write it with the decimals that you can set, or choose the other ‹units›`},
		{"1/3in", mm, `"1/3in" is 8.466666... in mm, with no last digit, expected a length that ends; hint: write it with the decimals that you can set, or choose the other ‹units›`},
		{"19mm", in, `"19mm" is 0.748031... in inches, with no last digit, expected a length that ends; hint: write it with the decimals that you can set, or choose the other ‹units›`},
		{strings.Repeat("9", 49), mm, `"` + strings.Repeat("9", 49) + `" is no length, expected at most 48 characters`},
	}
	for _, test := range tests {
		got, err := ParseLength(test.text, test.unit)
		var e *Error
		if !errors.As(err, &e) || err.Error() != test.want {
			t.Errorf("%q in %s = %s\ngot  %v\nwant %s", test.text, test.unit, got, err, test.want)
		}
	}
}

func TestParseSize(t *testing.T) {
	const mm, in = transform.MM, transform.Inch
	var tests = []struct {
		text string
		unit transform.Unit
		want string // size, or the message
	}{
		{"120x80x12", mm, "120x80x12"},
		{"120X80X12.5", mm, "120x80x12.5"},
		{"120 x 80 x 12", mm, "120x80x12"},
		{"120×80×12", mm, "120x80x12"},
		{"4-3/4x3-1/8x1/2", in, "4.75x3.125x0.5"},
		{"4-3/4inx3-1/8inx1/2in", mm, "120.65x79.375x12.7"},
		{"120mmx80mmx1/2in", mm, "120x80x12.7"},
		{"120x80x12mm", mm, "120x80x12"},
		{"6inx4x19.05mm", in, "6x4x0.75"},
		{"120x80", mm, `"120x80" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
		{"120x80x12x3", mm, `"120x80x12x3" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
		{"120xx12", mm, `"120xx12" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
		{"120x80x", mm, `"120x80x" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
		{"", mm, `"" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
		{"120x0x12", mm, `the height H is 0, expected a length greater than 0`},
		{"120x80x-12", mm, `the thickness T is -12, expected a length greater than 0`},
		{"120x8ox12", mm, `"8ox12" is no size`},
		{"120x80x12mm", in, `"120x80x12mm" names mm at the end only, and ‹units› is in, expected a unit behind each length; hint: for example 120mmx80mmx12mm`},
		{"4x3x3/4in", mm, `"4x3x3/4in" names in at the end only, and ‹units› is mm, expected a unit behind each length; hint: for example 4inx3inx3/4in`},
	}
	for _, test := range tests {
		b, err := ParseSize(test.text, test.unit)
		got := b.String()
		if err != nil {
			got = err.Error()
		}
		if test.text == "120x8ox12" {
			if want := `"8o" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm`; got != want {
				t.Errorf("%q: got %s, want %s", test.text, got, want)
			}
			continue
		}
		if got != test.want {
			t.Errorf("%q in %s\ngot  %s\nwant %s", test.text, test.unit, got, test.want)
		}
	}
}

func plain[T fmt.Stringer](parse func(string) (T, error)) func(string) (fmt.Stringer, error) {
	return func(s string) (fmt.Stringer, error) { return parse(s) }
}

func inMM[T fmt.Stringer](parse func(string, transform.Unit) (T, error)) func(string) (fmt.Stringer, error) {
	return func(s string) (fmt.Stringer, error) { return parse(s, transform.MM) }
}

// What is written is read back as the same, and what is read is written as it is
// documented.
func TestWordsReadBack(t *testing.T) {
	var tests = []struct {
		parse func(string) (fmt.Stringer, error)
		text  string
		want  string // "" where it is refused
		err   string
	}{
		{plain(ParseFlip), "Y", "y", ""},
		{plain(ParseFlip), "x", "x", ""},
		{plain(ParseFlip), "z", "",
			`"z", expected x or y; hint: y turns the blank over like a page, left edge to the right; x turns the near edge to the far side`},
		{plain(ParseSide), "near", "near", ""},
		{plain(ParseSide), "top", "", `"top", expected near, far, left or right`},
		{inMM(ParseContact), "right@190", "right@190", ""},
		{inMM(ParseContact), "far@-3/4in", "far@-19.05", ""},
		{inMM(ParseContact), "left", "left", ""},
		{inMM(ParseContact), "190", "", `"190", expected near, far, left or right, as SIDE or SIDE@COORDINATE`},
		{inMM(ParseContact), "left@", "", `"" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm`},
		{inMM(ParsePoint), "20, 40.50", "20,40.5", ""},
		{inMM(ParsePoint), "20", "", `"20", expected X,Y such as 20,40`},
		{inMM(ParsePoint), "20,40,1", "", `"20,40,1", expected X,Y such as 20,40`},
		{inMM(ParsePosition), "50,60,-20", "50,60,-20", ""},
		{inMM(ParsePosition), "50,60", "50,60", ""},
		{inMM(ParsePosition), "50", "", `"50", expected X,Y or X,Y,Z such as 50,60,-20`},
		{inMM(ParsePin), "60,8,6", "60,8,6", ""},
		{inMM(ParsePin), "60,8", "60,8", ""},
		{inMM(ParsePin), "60,8,0", "", `the diameter is 0, expected a length greater than 0`},
		{inMM(ParsePin), "60,8,6,2", "", `"60,8,6,2", expected X,Y or X,Y,DIA such as 60,12,6`},
		{inMM(ParseBore), "35,35,22", "35,35,22", ""},
		{inMM(ParseBore), "35,35", "", `"35,35", expected X,Y,DIA such as 60,60,22`},
		{inMM(ParseZero), "far-right", "far-right", ""},
		{inMM(ParseZero), "centre", "center", ""},
		{inMM(ParseZero), "0,0", "0,0", ""},
		{inMM(ParseZero), "left", "", `"left", expected near-left, near-right, far-left, far-right, center or X,Y`},
		{inMM(ParseZero), "1,a", "", `"a" is no length, expected near-left, near-right, far-left, far-right, center or X,Y`},
		{plain(ParseZZero), "bed", "bed", ""},
		{plain(ParseZZero), "near", "", `"near", expected top or bed`},
		{plain(ParseRegister), "fence", "fence", ""},
		{plain(ParseRegister), "none", "", `"none", expected dowels, plug, fence or touched`},
		{plain(ParseTouchOff), "once", "once", ""},
		{plain(ParseTouchOff), "twice", "", `"twice", expected each or once`},
		{plain(ParseUnit), "in", "in", ""},
		{plain(ParseUnit), "inch", "", `"inch", expected mm or in`},
		{inMM(ParseClock), "pin=35,60", "pin=35,60", ""},
		{inMM(ParseClock), "pin=35,60,5", "pin=35,60,5", ""},
		{inMM(ParseClock), "fence", "fence", ""},
		{inMM(ParseClock), "flat", "flat", ""},
		{inMM(ParseClock), "none", "none", ""},
		{inMM(ParseClock), "35,60", "", `"35,60", expected pin=X,Y, flat=SIDE, fence or none`},
		{inMM(ParseClock), "flat=near", "flat=near", ""},
		{inMM(ParseClock), "pin=35", "", `"35", expected pin=X,Y or pin=X,Y,DIA`},
		{inMM(ParseSize), "120x80x12", "120x80x12", ""},
	}
	for _, test := range tests {
		v, err := test.parse(test.text)
		if test.err != "" {
			if err == nil || err.Error() != test.err {
				t.Errorf("%q: %v, want %s", test.text, err, test.err)
			}
			continue
		}
		if err != nil || v.String() != test.want {
			t.Errorf("%q: %s, %v, want %s", test.text, v, err, test.want)
			continue
		}
		again, err := test.parse(v.String())
		if err != nil || again.String() != test.want {
			t.Errorf("%q reads back as %s, %v", test.want, again, err)
		}
	}
	if on, err := ParseDrilled("face"); !on || err != nil {
		t.Errorf("drilled face: %v, %v", on, err)
	}
	if on, err := ParseDrilled("back"); on || err == nil || err.Error() != `"back", expected face` {
		t.Errorf("drilled back: %v, %v", on, err)
	}
}

func TestAbout(t *testing.T) {
	_, err := ParseLength("x", transform.MM)
	named := About(err, "seat")
	if want := `seat: "x" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm`; named.Error() != want {
		t.Errorf("got %s, want %s", named, want)
	}
	if again := About(named, "at"); again.Error() != named.Error() {
		t.Errorf("named twice: %s", again)
	}
	if other := errors.New("disk full"); About(other, "at") != other || About(nil, "at") != nil {
		t.Error("an error from elsewhere must stay as it is")
	}
}

// Whatever is read, is read exactly: written out and read again it is the same
// length, in both units where both are finite, and no input panics.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"120", "4-3/4", "3/4in", "19mm", "1/3", "-.5", "5.", "4 3/4", "2,5", "1e9", "--1", "0/0", "\u22125", "1/127in"} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, inch bool) {
		u := transform.MM
		if inch {
			u = transform.Inch
		}
		v, err := ParseLength(s, u)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Found == "" || e.Expected == "" {
				t.Fatalf("%q: %#v", s, err)
			}
			return
		}
		again, err := ParseLength(v.String(), u)
		if err != nil && len(v.String()) <= longest || err == nil && !again.Equal(v) {
			t.Fatalf("%q = %s, read again %s, %v", s, v, again, err)
		}
		if neg, err := ParseLength("-"+s, u); err == nil && !neg.Equal(v.Neg()) {
			t.Fatalf("-%s = %s, want %s", s, neg, v.Neg())
		}
	})
}

// A size that is read has three lengths over zero that read back as the same.
func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"120x80x12", "4-3/4x3-1/8x1/2", "120x80x12mm", "120×80×12", "1x2", "xxx", "1x1x0", "-1x1x1", "4inx3inx19.05mm"} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, inch bool) {
		u := transform.MM
		if inch {
			u = transform.Inch
		}
		b, err := ParseSize(s, u)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Found == "" || e.Expected == "" {
				t.Fatalf("%q: %#v", s, err)
			}
			return
		}
		if b.W.Sign() <= 0 || b.H.Sign() <= 0 || b.T.Sign() <= 0 {
			t.Fatalf("%q = %s", s, b)
		}
		again, err := ParseSize(b.String(), u)
		if err == nil && (!again.W.Equal(b.W) || !again.H.Equal(b.H) || !again.T.Equal(b.T)) {
			t.Fatalf("%q = %s, read again %s, %v", s, b, again, err)
		}
	})
}

// Whatever is typed as a place, a locator or a correction, it is refused or reads back as it
// is written, in either unit.
func FuzzPlaces(f *testing.F) {
	for _, s := range []string{"right@190", "60,8,6", "50,60,-20", "far-right", "0,0", "pin=30,70,5", "flat=near", "none", "face=110,10@90,10", "near@210,95", "15,20@",
		"2:-0.12,0.05 turned -0.1", "1:0,0", "3/4in,19mm", "-0,0.0", "@", "=", ":", " turned "} {
		f.Add(s)
	}
	type parser func(string, transform.Unit) (fmt.Stringer, error)
	parsers := map[string]parser{
		"contact":    func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseContact(s, u) },
		"point":      func(s string, u transform.Unit) (fmt.Stringer, error) { return ParsePoint(s, u) },
		"position":   func(s string, u transform.Unit) (fmt.Stringer, error) { return ParsePosition(s, u) },
		"pin":        func(s string, u transform.Unit) (fmt.Stringer, error) { return ParsePin(s, u) },
		"bore":       func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseBore(s, u) },
		"zero":       func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseZero(s, u) },
		"clock":      func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseClock(s, u) },
		"spot":       func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseSpot(s, u) },
		"correction": func(s string, u transform.Unit) (fmt.Stringer, error) { return ParseCorrection(s, u) },
	}
	f.Fuzz(func(t *testing.T, s string) {
		for name, parse := range parsers {
			for _, u := range []transform.Unit{transform.MM, transform.Inch} {
				v, err := parse(s, u)
				if err != nil {
					continue
				}
				// A fraction can be longer written out than what may be read.
				if again, err := parse(v.String(), u); err != nil && len(v.String()) < longest || err == nil && again.String() != v.String() {
					t.Errorf("%s %q in %s: %s, read back %v, %v", name, s, u, v, again, err)
				}
			}
		}
	})
}
