package transform

import (
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// An arc keeps its sense under a linear map if its plane's axes and the normal's
// viewing side keep their orientation. For axis mirrors that is the determinant of
// the map, taken in the order first axis, second axis, normal, divided by the sign
// of the normal: computed here by gonum, not by counting reversed axes.
func TestSwapsArcsAgainstDeterminant(t *testing.T) {
	for _, sx := range []int{1, -1} {
		for _, sy := range []int{1, -1} {
			for _, sz := range []int{1, -1} {
				m := Map{X: Axis{Sign: sx}, Y: Axis{Sign: sy}, Z: Axis{Sign: sz}}
				whole := mat.NewDiagDense(3, []float64{float64(sx), float64(sy), float64(sz)})
				for _, p := range []Plane{XY, ZX, YZ} {
					_, _, n := p.Axes()
					want := mat.Det(whole)*whole.At(n, n) < 0
					if got := m.SwapsArcs(p); got != want {
						t.Errorf("%v %v: swaps %v, want %v", m, p, got, want)
					}
				}
			}
		}
	}
}

func TestInverse(t *testing.T) {
	m := Map{X: Axis{-1, dec("140")}, Y: Axis{1, dec("-2.5")}, Z: Axis{1, dec("19")}}
	for _, v := range []string{"0", "3.75", "-1000.000001"} {
		for i := range 3 {
			if got := m.Inverse().Axis(i).Apply(m.Axis(i).Apply(dec(v))); !got.Equal(dec(v)) {
				t.Errorf("axis %d: %s came back as %s", i, v, got)
			}
		}
	}
}

func TestConvert(t *testing.T) {
	for _, c := range []struct {
		v        string
		from, to Unit
		want     string
		exact    bool
	}{
		{"1", Inch, MM, "25.4", true},
		{"25.4", MM, Inch, "1", true},
		{"12.7", MM, Inch, "0.5", true},
		{"0.0254", MM, Inch, "0.001", true},
		{"120", MM, Inch, "4.7244", false},
		{"-120", MM, Inch, "-4.7244", false},
		{"0", MM, Inch, "0", true},
		{"1270000000000000000000.127", MM, Inch, "50000000000000000000.005", true},
		{"7", MM, MM, "7", true},
	} {
		got, exact := Convert(dec(c.v), c.from, c.to, 4)
		if !got.Equal(dec(c.want)) || exact != c.exact {
			t.Errorf("%s %v in %v: %s, %v; want %s, %v", c.v, c.from, c.to, got, exact, c.want, c.exact)
		}
	}
}

// TestIn: an offset that is no finite number of inches says so, in any axis; the
// international inch is 25.4 mm exactly.
func TestIn(t *testing.T) {
	for _, c := range []struct {
		x, y  string
		to    Unit
		want  string
		exact bool
	}{
		{"127", "-25.4", Inch, "x' = 5 - x, y' = y - 1, z' = z", true},
		{"127", "1", Inch, "x' = 5 - x, y' = y + 0.0394, z' = z", false},
		{"1", "127", Inch, "x' = 0.0394 - x, y' = y + 5, z' = z", false},
		{"1", "2", MM, "x' = 1 - x, y' = y + 2, z' = z", true},
	} {
		m := Map{X: Axis{-1, dec(c.x)}, Y: Axis{1, dec(c.y)}, Z: Axis{Sign: 1}}
		if got, exact := m.In(c.to, 4); got.String() != c.want || exact != c.exact {
			t.Errorf("%s, %s in %v: %v, %v", c.x, c.y, c.to, got, exact)
		}
	}
}

// TestTurned: a turn is kept over -180 to under 180 degrees, half a turn as two signs; by
// hand, since turns of 360 degrees are none.
func TestTurned(t *testing.T) {
	for _, c := range []struct {
		by   []string
		want string
	}{
		{[]string{"-190"}, "170"}, {[]string{"190"}, "-170"}, {[]string{"-100", "-100"}, "160"}, {[]string{"359"}, "-1"}, {[]string{"-720"}, "0"},
		{[]string{"180"}, "0"}, {[]string{"-180"}, "0"}, {[]string{"90", "90"}, "0"}, {[]string{"540"}, "0"},
	} {
		m, sign := Identity(MM), 1
		for _, by := range c.by {
			m = m.Turned(dec(by))
		}
		if half := c.want == "0" && c.by[0] != "-720"; half {
			sign = -1
		}
		if m.Turn.String() != c.want || m.X.Sign != sign || m.Y.Sign != sign || m.Z.Sign != 1 {
			t.Errorf("by %v: %v", c.by, m)
		}
	}
}

func TestBox(t *testing.T) {
	m := Map{X: Axis{-1, dec("120")}, Y: Axis{1, dec("1")}, Z: Axis{Sign: 1}}
	b := Box{Any: true, Least: [3]decimal.Decimal{dec("5"), dec("13"), dec("-6")}, Greatest: [3]decimal.Decimal{dec("100"), dec("67"), dec("25")}}
	got := m.Box(b)
	if fmt.Sprint(got.Least, got.Greatest) != "[20 14 -6] [115 68 25]" {
		t.Errorf("box %v", got)
	}
	if j := (Box{}).Join(got); !j.Any || !j.Least[0].Equal(dec("20")) {
		t.Errorf("joined to nothing: %v", j)
	}
	if j := got.Join(b); !j.Least[0].Equal(dec("5")) || !j.Greatest[0].Equal(dec("115")) || !j.Greatest[1].Equal(dec("68")) {
		t.Errorf("joined: %v", j)
	}
}

// A box away from X0 Y0 stays away from it as it is turned: (5..100, 13..67) comes to
// (-67..-13, 5..100) by a quarter, by hand, and its corners through rotation matrices.
func TestBoxTurned(t *testing.T) {
	b := Box{Any: true, Least: [3]decimal.Decimal{dec("5"), dec("13"), dec("-6")}, Greatest: [3]decimal.Decimal{dec("100"), dec("67"), dec("25")}}
	if got := Identity(MM).Turned(dec("90")).Box(b); fmt.Sprint(got.Least, got.Greatest) != "[-67 5 -6] [-13 100 25]" {
		t.Errorf("box %v", got)
	}
	for _, degrees := range []string{"30", "-12.5", "90", "180", "270"} {
		got := Identity(MM).Turned(dec(degrees)).Box(b)
		sin, cos := math.Sincos(dec(degrees).InexactFloat64() * math.Pi / 180)
		turn := mat.NewDense(2, 2, []float64{cos, -sin, sin, cos})
		corners := mat.NewDense(2, 4, []float64{5, 100, 5, 100, 13, 13, 67, 67})
		var at mat.Dense
		at.Mul(turn, corners)
		for axis := range 2 {
			row := mat.NewVecDense(4, mat.Row(nil, axis, &at))
			if math.Abs(got.Least[axis].InexactFloat64()-mat.Min(row)) > 1e-8 || math.Abs(got.Greatest[axis].InexactFloat64()-mat.Max(row)) > 1e-8 {
				t.Errorf("by %s degrees: %v, want %g to %g", degrees, got, mat.Min(row), mat.Max(row))
			}
		}
	}
}

func ExampleMap_String() {
	m := Map{X: Axis{-1, dec("140")}, Y: Axis{Sign: 1}, Z: Axis{1, dec("-19")}}
	fmt.Println(m)
	// Output: x' = 140 - x, y' = y, z' = z - 19
}
