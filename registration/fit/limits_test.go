package fit

import (
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

func dec(t *testing.T, s string) decimal.Decimal {
	t.Helper()
	v, err := decimal.NewFromString(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Limits of the common pin diameters, upper and lower in micrometres. Source:
// ISO 286 as a table of m6, h6, h8, H7, H8, H9 prints it and JIS B 0401:1999
// for f7, g6 and k6.
func TestLimitsOfPinSizes(t *testing.T) {
	classes := []string{"h6", "h8", "m6", "k6", "g6", "f7", "H7", "H8", "H9"}
	rows := []struct {
		size string
		want [9][2]int64 // upper, lower
	}{
		{"3", [9][2]int64{{0, -6}, {0, -14}, {8, 2}, {6, 0}, {-2, -8}, {-6, -16}, {10, 0}, {14, 0}, {25, 0}}},
		{"4", [9][2]int64{{0, -8}, {0, -18}, {12, 4}, {9, 1}, {-4, -12}, {-10, -22}, {12, 0}, {18, 0}, {30, 0}}},
		{"5", [9][2]int64{{0, -8}, {0, -18}, {12, 4}, {9, 1}, {-4, -12}, {-10, -22}, {12, 0}, {18, 0}, {30, 0}}},
		{"6", [9][2]int64{{0, -8}, {0, -18}, {12, 4}, {9, 1}, {-4, -12}, {-10, -22}, {12, 0}, {18, 0}, {30, 0}}},
		{"8", [9][2]int64{{0, -9}, {0, -22}, {15, 6}, {10, 1}, {-5, -14}, {-13, -28}, {15, 0}, {22, 0}, {36, 0}}},
		{"10", [9][2]int64{{0, -9}, {0, -22}, {15, 6}, {10, 1}, {-5, -14}, {-13, -28}, {15, 0}, {22, 0}, {36, 0}}},
		{"12", [9][2]int64{{0, -11}, {0, -27}, {18, 7}, {12, 1}, {-6, -17}, {-16, -34}, {18, 0}, {27, 0}, {43, 0}}},
	}
	for _, r := range rows {
		for i, name := range classes {
			c, err := ParseClass(name)
			if err != nil {
				t.Fatal(err)
			}
			d, mem, err := c.Deviations(dec(t, r.size))
			if err != nil {
				t.Fatal(err)
			}
			if !d.Upper.Equal(micrometres(r.want[i][0])) || !d.Lower.Equal(micrometres(r.want[i][1])) || mem {
				t.Errorf("%s %s: %s / %s mm, from memory %v; want %d / %d um", r.size, name, d.Upper, d.Lower, mem,
					r.want[i][0], r.want[i][1])
			}
		}
	}
}

// Standard tolerance grades in micrometres, all rows. Source: two independent
// copies of the ISO 286-1 table. Each is asked at the row's own limit, which
// belongs to it, and just over the limit below.
func TestGrades(t *testing.T) {
	rows := []struct {
		over, upTo string
		want       [7]int64 // IT5 to IT11
	}{
		{"0.001", "3", [7]int64{4, 6, 10, 14, 25, 40, 60}},
		{"3.001", "6", [7]int64{5, 8, 12, 18, 30, 48, 75}},
		{"6.001", "10", [7]int64{6, 9, 15, 22, 36, 58, 90}},
		{"10.001", "18", [7]int64{8, 11, 18, 27, 43, 70, 110}},
		{"18.001", "30", [7]int64{9, 13, 21, 33, 52, 84, 130}},
		{"30.001", "50", [7]int64{11, 16, 25, 39, 62, 100, 160}},
		{"50.001", "80", [7]int64{13, 19, 30, 46, 74, 120, 190}},
		{"80.001", "120", [7]int64{15, 22, 35, 54, 87, 140, 220}},
	}
	for _, r := range rows {
		for _, size := range []string{r.over, r.upTo} {
			for g, want := range r.want {
				d, _, err := Class{'H', g + 5}.Deviations(dec(t, size))
				if err != nil || !d.Upper.Equal(micrometres(want)) || !d.Lower.IsZero() {
					t.Errorf("H%d at %s mm: %v, %v; want 0 to %d um", g+5, size, d, err, want)
				}
			}
		}
	}
}

// Fundamental deviations in micrometres, all rows: the upper one of f, g and h, the lower
// one of k and m, with the same row's grade at the other end. Source: JIS B 0401:1999, which
// gives the values of ISO 286-1, to 80 mm; the row to 120 mm is from memory.
func TestFundamentalDeviations(t *testing.T) {
	for _, r := range []struct {
		over, upTo    string
		f, g, h, k, m int64
		it6, it7      int64 // of TestGrades
	}{
		{"0.001", "3", -6, -2, 0, 0, 2, 6, 10},
		{"3.001", "6", -10, -4, 0, 1, 4, 8, 12},
		{"6.001", "10", -13, -5, 0, 1, 6, 9, 15},
		{"10.001", "18", -16, -6, 0, 1, 7, 11, 18},
		{"18.001", "30", -20, -7, 0, 2, 8, 13, 21},
		{"30.001", "50", -25, -9, 0, 2, 9, 16, 25},
		{"50.001", "80", -30, -10, 0, 2, 11, 19, 30},
		{"80.001", "120", -36, -12, 0, 3, 13, 22, 35},
	} {
		for _, size := range []string{r.over, r.upTo} {
			for name, want := range map[string][2]int64{"f7": {r.f - r.it7, r.f}, "g6": {r.g - r.it6, r.g}, "h6": {r.h - r.it6, r.h},
				"k6": {r.k, r.k + r.it6}, "m6": {r.m, r.m + r.it6}} {
				c, err := ParseClass(name)
				if err != nil {
					t.Fatal(err)
				}
				d, _, err := c.Deviations(dec(t, size))
				if err != nil || !d.Lower.Equal(micrometres(want[0])) || !d.Upper.Equal(micrometres(want[1])) {
					t.Errorf("%s at %s mm: %s to %s, %v; want %d to %d um", name, size, d.Lower, d.Upper, err, want[0], want[1])
				}
			}
		}
	}
}

// The row to 120 mm of f, g, k and m couldn't be checked; that of H and h could.
func TestFromMemory(t *testing.T) {
	for name, want := range map[string]bool{"f7": true, "g6": true, "k6": true, "m6": true, "h6": false, "H7": false} {
		c, err := ParseClass(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, mem, err := c.Deviations(dec(t, "100")); mem != want || err != nil {
			t.Errorf("%s at 100 mm: from memory %v, %v; want %v", name, mem, err, want)
		}
		if _, mem, err := c.Deviations(dec(t, "80")); mem || err != nil {
			t.Errorf("%s at 80 mm: from memory %v, %v; want false", name, mem, err)
		}
	}
}

func TestSizesOutOfTable(t *testing.T) {
	for _, size := range []string{"0", "-3", "120.0001", "500"} {
		_, _, err := Class{'H', 7}.Deviations(dec(t, size))
		if err == nil || !strings.Contains(err.Error(), "nominal size "+dec(t, size).String()+" mm, expected more than 0 and at most 120 mm") {
			t.Errorf("size %s: %v", size, err)
		}
	}
	if _, _, err := (Class{'p', 6}).Deviations(dec(t, "10")); err == nil {
		t.Error("a class that isn't in the table has deviations")
	}
}

// The tables a second time, from the formulas behind them (values from memory; the printed
// table is the reference and its first row, to 3 mm, doesn't follow them). With D the geometric
// mean of a row's ends in mm, in micrometres: i = 0.45 D^(1/3) + 0.001 D, of which IT5 to IT11
// are 7, 10, 16, 25, 40, 64 and 100; f is 5.5 D^0.41 under the nominal size, g 2.5 D^0.34, k
// 0.6 D^(1/3) over it and m IT7 - IT6. Deviations are rounded to the micrometre, so within
// 0.5; grades to handy numbers, here within 0.75 or 3 %. It is the one hold on the row to 120
// mm of f, g, k and m.
func TestFormulas(t *testing.T) {
	ends := []float64{3, 6, 10, 18, 30, 50, 80, 120}
	um := func(class string, size float64) (lower, upper float64) {
		c, err := ParseClass(class)
		if err != nil {
			t.Fatal(err)
		}
		d, _, err := c.Deviations(decimal.NewFromFloat(size))
		if err != nil {
			t.Fatal(err)
		}
		return d.Lower.Shift(3).InexactFloat64(), d.Upper.Shift(3).InexactFloat64()
	}
	for row := 1; row < len(ends); row++ {
		size := ends[row]
		mean := math.Sqrt(ends[row-1] * size)
		i := 0.45*math.Cbrt(mean) + 0.001*mean
		for g, times := range []float64{7, 10, 16, 25, 40, 64, 100} {
			_, it := um(Class{'H', leastGrade + g}.String(), size)
			if off := math.Abs(it - times*i); off > max(0.75, 0.03*times*i) {
				t.Errorf("H%d to %g mm: %g, by the formula %.2f", leastGrade+g, size, it, times*i)
			}
		}
		_, it6 := um("H6", size)
		_, it7 := um("H7", size)
		for _, c := range []struct {
			class string
			upper bool
			want  float64
		}{
			{"f7", true, -5.5 * math.Pow(mean, 0.41)}, {"g6", true, -2.5 * math.Pow(mean, 0.34)},
			{"k6", false, 0.6 * math.Cbrt(mean)}, {"m6", false, it7 - it6},
		} {
			got, upper := um(c.class, size)
			if c.upper {
				got = upper
			}
			if math.Abs(got-c.want) > 0.5 {
				t.Errorf("%s to %g mm: %g, by the formula %.2f", c.class, size, got, c.want)
			}
		}
	}
}
