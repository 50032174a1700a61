package motion

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// written is an expression as text, with its value from arithmetic in floating point that
// was done while the text was made: a second evaluator that reads no text.
type written struct {
	text string
	v    float64
}

func truthOf(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// make an expression of some depth; #1 is 2.5, #2 is -7 and #<bore> is 12.
func random(r *rand.Rand, depth int) written {
	if depth == 0 {
		switch r.IntN(5) {
		case 0:
			return written{"#1", 2.5}
		case 1:
			return written{"#[1+1]", -7}
		case 2:
			return written{"#<bore>", 12}
		}
		v := float64(r.IntN(20000)-10000) / 1000
		return written{fmt.Sprintf("%.3f", v), v}
	}
	a, b := random(r, depth-1), random(r, depth-1)
	pick := []func() written{
		func() written { return written{"[" + a.text + " + " + b.text + "]", a.v + b.v} },
		func() written { return written{"[" + a.text + "-" + b.text + "]", a.v - b.v} },
		func() written { return written{"[" + a.text + "*" + b.text + "]", a.v * b.v} },
		func() written { return written{"[" + a.text + " * 2 + " + b.text + " / 4 - 3]", a.v*2 + b.v/4 - 3} },
		func() written { return written{"ABS[" + a.text + "]", math.Abs(a.v)} },
		func() written { return written{"SIN[" + a.text + "]", math.Sin(a.v * math.Pi / 180)} },
		func() written { return written{"cos[" + a.text + "]", math.Cos(a.v * math.Pi / 180)} },
		func() written {
			return written{"SQRT[" + a.text + "*" + a.text + "+1]", math.Sqrt(a.v*a.v + 1)}
		},
		func() written {
			return written{"atan[" + a.text + "]/[" + b.text + "+200]", math.Atan2(a.v+0, b.v+200) * 180 / math.Pi}
		},
		func() written { return written{"[3 ** 2 * " + a.text + "]", 9 * a.v} },
		func() written { return written{"[" + a.text + " GT " + b.text + "]", truthOf(a.v > b.v)} },
		func() written {
			return written{"[" + a.text + " + 1 LE " + b.text + " AND 1 EQ 1]", truthOf(a.v+1 <= b.v)}
		},
		func() written {
			return written{"[" + a.text + " NE " + b.text + " OR " + a.text + " LT 0]", truthOf(a.v != b.v || a.v < 0)}
		},
		func() written { return written{"[-" + "[" + a.text + "]]", -a.v} },
	}
	return pick[r.IntN(len(pick))]()
}

// TestSecondEvaluator: 5,000 expressions against the arithmetic they were made with.
func TestSecondEvaluator(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	p := &parameters{}
	p.put(parameter{number: 1}, exactly(FromNano(2_500_000_000)))
	p.put(parameter{number: 2}, exactly(FromNano(-7_000_000_000)))
	p.put(parameter{name: "bore"}, exactly(FromNano(12_000_000_000)))
	for range 5_000 {
		w := random(r, r.IntN(5))
		tree, end, err := compile([]byte(w.text), 0, false)
		if err != nil || end != len(w.text) {
			t.Fatalf("%s: %v, end %d", w.text, err, end)
		}
		v, err := tree.Value(p)
		if err != nil {
			t.Fatalf("%s: %v", w.text, err)
		}
		// Both round to 53 bits an operation, at most some 60 of them; comparisons of
		// values that close are told apart by neither, and none is drawn.
		if d := math.Abs(v.Float() - w.v); d > 1e-12*math.Max(1, math.Abs(w.v))*100 {
			t.Errorf("%s: %v, want %v", w.text, v.Float(), w.v)
		}
	}
}

// TestCompiledPublished: NISTIR 6556, appendix C.2, through the compiled form, and what
// goes beyond the report (common practice, from memory).
func TestCompiledPublished(t *testing.T) {
	p := &parameters{}
	p.put(parameter{number: 1}, exactly(FromNano(2_000_000_000)))
	for _, tt := range []struct {
		text string
		bare bool
		want float64
	}{
		{"[1 + 2 * 3 - 4 / 5]", false, 6.2}, {"[2 or 2]", false, 1}, {"[15 MOD 4.0]", false, 3}, {"[2 ** 3.0]", false, 8},
		{"sqrt[3**2 + 4**2]", false, 5}, {"atan[1.7321]/[1.0]", false, 60}, {"fix[-0.499]", false, -1}, {"fup[2.444]", false, 3},
		{"atan[1]", false, 45}, {"#1+7 mod 4", true, 5}, // common practice, from memory

		{"round[-0.5001]", false, -1}, {"[2.0 / 3 * 1.5 - 5.5 / 11.0]", false, 0.5},
		{"[1 OR 2 + 3]", false, 4},                         // one group, left to right (3.3.2.3)
		{"[1 AND 0 EQ 0]", false, 1},                       // from memory: comparisons before AND
		{"[2 + 3 EQ 5]", false, 1}, {"[1 LT 2]", false, 1}, // from memory
		{"[1 NE 1 OR 2 GE 3]", false, 0}, {"[1 GT 0 XOR 1 LE 0]", false, 1},
		{"#1+2", true, 4}, {"#1*3-1", true, 5}, {"-#1/4", true, -0.5}, {"2+3*#1", true, 8}, {"#1**2", true, 4},
		{"[1/3+1/3+1/3 EQ 1]", false, 1},
	} {
		tree, end, err := compile([]byte(tt.text), 0, tt.bare)
		if err != nil || end != len(tt.text) {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		// The report prints four decimals.
		if v, err := tree.Value(p); err != nil || math.Abs(v.Float()-tt.want) > 0.001 {
			t.Errorf("%s: %v %v, want %v", tt.text, v.Float(), err, tt.want)
		}
	}
}
