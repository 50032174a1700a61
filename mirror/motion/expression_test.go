package motion

import (
	"errors"
	"math"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
)

// evaluate reads and evaluates the value that text begins with.
func evaluate(text string, p *parameters) (n amount, end int, err error) {
	t, end, err := compile([]byte(text), 0, false)
	if err == nil {
		n, err = t.Value(p)
	}
	return n, end, err
}

// set sets numbered parameters from #1 on, in thousandths.
func set(values ...int64) *parameters {
	p := &parameters{}
	for i, v := range values {
		p.put(parameter{number: i + 1}, exactly(FromNano(v*1_000_000)))
	}
	return p
}

// TestPublished: NISTIR 6556, appendix C.2, left the expression, right the value
// printed there.
func TestPublished(t *testing.T) {
	tests := []struct {
		text string
		want float64
	}{
		{"[1 + 2]", 3}, {"[1 - 2]", -1}, {"[1 --3]", 4}, {"[2/5]", 0.40}, {"[3.0 * 5]", 15},
		{"[0 OR 0]", 0}, {"[0 OR 1]", 1}, {"[2 or 2]", 1}, {"[0 AND 0]", 0}, {"[0 AND 1]", 0},
		{"[2 and 2]", 1}, {"[0 XOR 0]", 0}, {"[0 XOR 1]", 1}, {"[2 xor 2]", 0}, {"[15 MOD 4.0]", 3},
		{"[1 + 2 * 3 - 4 / 5]", 6.2}, {"sin[30]", 0.5}, {"cos[0.0]", 1}, {"tan[60.0]", 1.7321},
		{"sqrt[3]", 1.7321}, {"atan[1.7321]/[1.0]", 60.0}, {"asin[1.0]", 90}, {"acos[0.707107]", 45.0000},
		{"abs[-1.23]", 1.23}, {"round[-0.499]", 0}, {"round[-0.5001]", -1}, {"round[2.444]", 2},
		{"round[9.975]", 10}, {"fix[-0.499]", -1}, {"fix[-0.5001]", -1}, {"fix[2.444]", 2},
		{"fix[9.975]", 9}, {"fup[-0.499]", 0}, {"fup[-0.5001]", 0}, {"fup[2.444]", 3}, {"fup[9.975]", 10},
		{"exp[2.3026]", 10}, {"ln[10.0]", 2.3026}, {"[2 ** 3.0]", 8}, {"sqrt[3**2 + 4**2]", 5},
		// 3.3.2.3 and 3.3.2.4 of the same report.
		{"[2.0 / 3 * 1.5 - 5.5 / 11.0]", 0.5},
		{"FIX[2.8]", 2}, {"FIX[-2.8]", -3}, {"FUP[2.8]", 3}, {"FUP[-2.8]", -2},
		// The long line n0460 there has no printed value; derived with atan2.
		{"[2 + asin[1/2.1+-0.345] / [atan[fix[4.4] * 2.1 * sqrt[16.8]] /[-18]]**2]", 2.000545078},
	}
	for _, tt := range tests {
		v, end, err := evaluate(tt.text, &parameters{})
		if err != nil {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		// The report prints four decimals, and its inputs have no more: 1.7321 for
		// tan 60 is off by 5e-5, which is 7e-4 degrees there.
		tol := 0.001
		if got := v.Float(); math.Abs(got-tt.want) > tol || end != len(tt.text) {
			t.Errorf("%s: got %v (%d bytes), want %v", tt.text, got, end, tt.want)
		}
	}
}

// TestExact: values that are fractions come out exactly (arithmetic), in the
// report's order of operations, blanks anywhere.
func TestExact(t *testing.T) {
	p := set(2_000, 375, 15_000)
	tests := []struct{ text, want string }{
		{"[1/3+1/3+1/3]", "1"},
		{"##1", "3/8"}, // C.2: ##1 with #1=2 is #2
		{"#1", "2"},
		{"[#1+2]", "4"}, // 3.3.2.2: # binds tighter than +
		{"#[1+2]", "15"},
		{"# 3", "15"},
		{"[2**3**2]", "64"}, // from left to right inside a group
		{"[-2**2]", "4"},    // the sign belongs to the number
		{"[2**-1]", "1/2"},
		{"[8-3-2]", "3"},
		{"[-15 MOD 4]", "1"},
		{"[ 1 2 . 5 * 2 ]", "25"},
		{"[1 o r 0]", "1"},
		{"s i n [0]", "0"},
		{"[120-[#1*2.5]]", "115"},
		{"-#1", "-2"},
		{"sqrt[2.25]", "3/2"},
		{"round[2.5]", "3"},
		{"round[-2.5]", "-3"},
		{".5", "1/2"},
		{"+5.", "5"},
		{"0.12345678901234567", "12345678901234567/100000000000000000"},
	}
	for _, tt := range tests {
		v, _, err := evaluate(tt.text, p)
		if err != nil || v.Rat().RatString() != tt.want {
			t.Errorf("%s: got %v %v, want %s", tt.text, v, err, tt.want)
		}
	}
}

func TestSettingOfParameters(t *testing.T) {
	p := &parameters{}
	s, end, err := compileSetting([]byte("x#[1+2] = [4/8] y"), 1)
	if err != nil || end != 15 {
		t.Fatalf("end %d, %v", end, err)
	}
	set, err := s.evaluate(p)
	if err != nil {
		t.Fatal(err)
	}
	set.apply(p)
	if v, ok := p.set[parameter{number: 3}]; !ok || v.Rat().RatString() != "1/2" {
		t.Errorf("got %v %v", v, ok)
	}
}

// TestRefused: one row a message.
func TestRefusedExpressions(t *testing.T) {
	tests := []struct {
		text, want string
		at         int
	}{
		{"[1+2", "a [ that isn't closed, expected ]", 0},
		{"[1 2 a]", `'A', expected an operator or ]`, 5},
		{"[1.2.3]", "a number with two decimal points", 4},
		{"[]", `']', expected a number`, 1},
		{"[1/0]", "a division by 0", 2},
		{"[1 mod 0]", "a division by 0", 3},
		{"#5400", "parameter number 5400, expected a whole number from 1 to 5399", 1},
		{"#0", "parameter number 0, expected a whole number from 1 to 5399", 1},
		{"#1.5", "parameter number 3/2, expected a whole number from 1 to 5399", 1},
		{"#4", "parameter #4, which the program hasn't set, expected a block that sets it first", 0},
		{"#<depth>", "parameter #<depth>, which the program hasn't set, expected a block that sets it first", 0},
		{"asim[0.5]", `"ASIM", expected a number or a function of NISTIR 6556, 3.3.2.4`, 0}, // NISTIR 6556, table 10
		{"sin 30", "a function without brackets, expected [", 4},
		{"atan[1]/2", "a function without brackets, expected [", 8},
		{"atan[0]/[0]", "ATAN[0]/[0]", 0},
		{"sqrt[-1]", "the square root of a negative number", 0},
		{"ln[0]", "the logarithm of 0 or less", 0},
		{"asin[1.1]", "ASIN of a number beyond 1", 0},
		{"exp[9999]", "EXP of a number that is too large", 0},
		{"[0**-1]", "0 to a negative power", 2},
		{"[-2]**0.5", "", 0},
		{"[[-2]**0.5]", "a negative number to a power that isn't whole", 5},
		{"[--1]", "two signs, expected a number", 2},
		{"", "the end of the line, expected a number", 0},
		{".", "a point without a digit, expected at least one digit", 0},
		{strings.Repeat("[", 200), "brackets nested more than 100 deep, expected a simpler expression", 100},
		{"[9**99999]", "a power that is too large", 2},
	}
	for _, tt := range tests {
		_, _, err := evaluate(tt.text, &parameters{})
		if tt.want == "" {
			if err != nil {
				t.Errorf("%s: %v", tt.text, err)
			}
			continue
		}
		var e *fault.Error
		if !errors.As(err, &e) || err.Error() != tt.want || e.Col-1 != tt.at {
			t.Errorf("%s: got %v, want %s at %d", tt.text, err, tt.want, tt.at)
		}
	}
	for text, want := range map[string]string{
		"#5221=3": "a setting of parameter #5221, which belongs to the control, expected a parameter below #5061",
		"#3":      "a parameter alone, expected = and a value",
	} {
		s, _, err := compileSetting([]byte(text), 0)
		if err == nil {
			_, err = s.evaluate(&parameters{})
		}
		if err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}

func FuzzCompile(f *testing.F) {
	for _, s := range []string{"[1+2*3]", "#[1+#2]", "atan[1]/[2]", "[2**0.5]", "sqrt[3]", "[9**9**9]", "[1 mod 2 or 3]", "-#1", "[[[["} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		_, end, err := evaluate(string(text), set(333, 3_500))
		if err != nil {
			var e *fault.Error
			if !errors.As(err, &e) || e.Col < 1 || e.Col > len(text)+1 {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		if end < 1 || end > len(text) {
			t.Fatalf("%q: end %d", text, end)
		}
	})
}
