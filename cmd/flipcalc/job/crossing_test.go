package job

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// What is cut at a station goes from the box's least to its greatest corner, each laid from
// that station's zero.
func TestSites(t *testing.T) {
	d := decimal.NewFromInt
	at := func(x, y int64) cycle.Station {
		zx, zy := d(x), d(y)
		return cycle.Station{Offset: "G54", ZeroX: &zx, ZeroY: &zy}
	}
	boxes := [2]transform.Box{
		{Any: true, Least: [3]decimal.Decimal{d(1), d(2)}, Greatest: [3]decimal.Decimal{d(30), d(40)}},
		{Any: true, Least: [3]decimal.Decimal{d(-5), d(-6)}, Greatest: [3]decimal.Decimal{d(7), d(8)}},
	}
	got := sites([]cycle.Pair{{Face: at(10, 20), Back: at(100, 200)}}, boxes)
	want := [2][4]int64{{11, 22, 40, 60}, {95, 194, 107, 208}}
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	for i, w := range got {
		for n, v := range []decimal.Decimal{w.From.X, w.From.Y, w.At.X, w.At.Y} {
			if !v.Equal(d(want[i][n])) {
				t.Errorf("site %d: %v to %v, want %v", i, w.From, w.At, want[i])
			}
		}
	}
}

// A program is doubtful where all of it lies within a twentieth of the blank, on either side of
// its zero: 120 x 80 mm, so 6 and 4.
func TestTinyProgram(t *testing.T) {
	a := &registration.Answer{Used: registration.Blank{W: decimal.NewFromInt(120), H: decimal.NewFromInt(80)}}
	a.Question.Unit = transform.MM
	for _, c := range []struct {
		x, y [2]float64
		want bool
	}{
		{[2]float64{0, 6}, [2]float64{0, 4}, true},
		{[2]float64{-6, 0}, [2]float64{-4, 4}, true},
		{[2]float64{-100, 1}, [2]float64{-4, 4}, false}, // zero at the far right
		{[2]float64{0, 6}, [2]float64{-70, 1}, false},
		{[2]float64{0, 6.1}, [2]float64{0, 4}, false},
	} {
		s := &motion.Summary{}
		s.All[0] = motion.Extent{Any: true, Min: c.x[0], Max: c.x[1]}
		s.All[1] = motion.Extent{Any: true, Min: c.y[0], Max: c.y[1]}
		if tiny(s, a) != c.want {
			t.Errorf("X %v, Y %v: tiny is %v", c.x, c.y, !c.want)
		}
	}
}
