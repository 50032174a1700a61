package cut

import (
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// A through hole and two blind pockets for each pair of Z zeros and both flips. The
// programs are written from the drawing (depth below the surface being cut), so the
// heights expected are the drawing's, not the formula's.
func TestHoleAndPocketsForEachPairOfZeros(t *testing.T) {
	const W, H, T = 60.0, 40.0, 12.0
	const holeF, holeB, pocketF, pocketB = 7.0, 6.0, 3.0, 4.5
	for _, faceLevel := range []Level{Top, Bed} {
		for _, backLevel := range []Level{Top, Bed} {
			for _, flip := range []string{"x", "y"} {
				z := func(l Level, depth float64) float64 {
					if l == Bed {
						return T - depth // the bed is T under the surface being cut
					}
					return -depth
				}
				zero, line := [2]float64{10, 5}, 0
				// Back zero near-left as it lies; face zero at (10, 5).
				m := turned(flip, W, H)
				m.X.Offset, m.Y.Offset = decimal.NewFromFloat(-10), decimal.NewFromFloat(-5)
				if flip == "x" {
					m.X.Offset, m.Y.Offset = decimal.NewFromFloat(10), decimal.NewFromFloat(H-5)
				} else {
					m.X.Offset, m.Y.Offset = decimal.NewFromFloat(W-10), decimal.NewFromFloat(5)
				}
				face := func(x, y, d float64) Segment {
					line++
					return Straight(line, 1, [3]float64{x - 10, y - 5, z(faceLevel, 0)}, [3]float64{x - 10, y - 5, z(faceLevel, d)})
				}
				back := func(x, y, d float64) Segment {
					// The drawing's place as the turned blank lies.
					if flip == "x" {
						y = H - y
					} else {
						x = W - x
					}
					line++
					return Straight(line, 1, [3]float64{x, y, z(backLevel, 0)}, [3]float64{x, y, z(backLevel, d)})
				}
				q := Request{W: W, H: H, T: T, Cell: 0.2, Map: m, FaceZero: zero, FaceLevel: faceLevel, BackLevel: backLevel,
					Tools: []Tool{{Number: 1, Shape: Flat, Diameter: 5}}}
				q.Face.Segments = []Segment{face(20, 10, holeF), face(40, 12, pocketF)}
				q.Back.Segments = []Segment{back(20, 10, holeB), back(33, 28, pocketB)}
				r, err := Check(q)
				if err != nil {
					t.Fatal(err)
				}
				name := fmt.Sprintf("levels %d/%d flip %s", faceLevel, backLevel, flip)
				if len(r.Findings) != 0 || len(r.Through) != 1 || r.Through[0].Kind != "hole" {
					t.Fatalf("%s: %+v, through %+v", name, r.Findings, r.Through)
				}
				near(t, name+" overlap", r.Through[0].Overlap, holeF+holeB-T, 1e-5)
				near(t, name+" hole x", r.Through[0].X, 20-10, 2.6)
				near(t, name+" hole y", r.Through[0].Y, 10-5, 2.6)
				at := func(x, y float64) (i, j int) { return r.Grid.cellAt(x, y) }
				i, j := at(40, 12)
				near(t, name+" face pocket", r.Grid.Face(i, j), T-pocketF, 1e-5)
				near(t, name+" under it", r.Grid.Back(i, j), 0, 0)
				i, j = at(33, 28)
				near(t, name+" back pocket", r.Grid.Back(i, j), pocketB, 1e-5)
				near(t, name+" over it", r.Grid.Face(i, j), T, 0)
				near(t, name+" web", r.Web.Min, T-pocketB, 1e-5)
				near(t, name+" web x", r.Web.X, 33-10, 2.6)
				near(t, name+" web y", r.Web.Y, 28-5, 2.6)

				// The back as it lies: the pocket shows at its turned place.
				v := r.Grid.View(1000, 1000, r.FlipX)
				bx, by := W-33, 28.0
				if flip == "x" {
					bx, by = 33, H-28
				}
				k := int(by/v.Cell)*v.Width + int(bx/v.Cell)
				near(t, name+" view", float64(v.Back[k]), T-pocketB, 1e-5)
			}
		}
	}
}

func TestMaterialZ(t *testing.T) {
	for _, c := range []struct {
		face, back       Level
		t, skim, z, want float64
	}{
		{Top, Top, 12, 0, -4, -8},
		{Bed, Bed, 12, 0, 8, 4},
		{Top, Bed, 12, 0, 8, -8},
		{Bed, Top, 12, 0, -4, 4},
		{Top, Bed, 12, 1, 7, -8}, // rests on a top lowered by 1
		{Bed, Bed, 12, 1, 7, 4},
		{Top, Top, 12, 1, -4, -8},
	} {
		if got := MaterialZ(c.face, c.back, c.t, c.skim, c.z); got != c.want {
			t.Errorf("%v/%v %g: %g, want %g", c.face, c.back, c.z, got, c.want)
		}
	}
}

func TestFrameWantsATurnedBlank(t *testing.T) {
	m := transform.Identity(transform.MM)
	if _, err := backFrame(m, [2]float64{}, Top, Top, 12, 0); err == nil {
		t.Error("no flip was taken for one")
	}
	m.X.Sign, m.Y.Sign = -1, -1
	if _, err := backFrame(m, [2]float64{}, Top, Top, 12, 0); err == nil {
		t.Error("half a turn was taken for a flip")
	}
	// An inch map is the same map in millimetres.
	m = transform.Identity(transform.Inch)
	m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromInt(4)}
	f, err := backFrame(m, [2]float64{}, Top, Top, 12, 0)
	if err != nil || math.Abs(f.x.apply(25.4)-3*25.4) > 1e-9 {
		t.Errorf("%+v %v", f, err)
	}
}

// An upright arc, derived: the centre of a ball of radius R whose tip follows the
// lower half of a circle of radius r runs on a circle of radius r about a point R
// higher, so its surface along the axis is a circle of radius r + R about that.
func TestUprightArc(t *testing.T) {
	const r, R = 8.0, 1.5
	for _, plane := range []transform.Plane{transform.ZX, transform.YZ} {
		from, to, centre := [3]float64{20 - r, 15, 2}, [3]float64{20 + r, 15, 2}, [2]float64{2, 20}
		if plane == transform.YZ {
			from, to, centre = [3]float64{20, 15 - r, 2}, [3]float64{20, 15 + r, 2}, [2]float64{15, 2}
		}
		s := Circular(1, 1, from, to, centre, false)
		// From the low end of the axis over -Z: from Z to X this turns clockwise, from
		// Y to Z counter-clockwise.
		s.Plane, s.CCW = plane, plane == transform.YZ
		q := Request{W: 40, H: 30, T: 20, Cell: 0.1, Map: turned("y", 40, 30), Tools: []Tool{{Number: 1, Shape: Ball, Diameter: 2 * R}}}
		q.Face.Segments = []Segment{s}
		res, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range []float64{-5, -2, 0, 3, 6} {
			x, y := 20+d, 15.0
			if plane == transform.YZ {
				x, y = 20, 15+d
			}
			i, j := res.Grid.cellAt(x+0.01, y+0.01)
			cx, cy := res.Grid.Centre(i, j)
			u, v := cx-20, cy-15
			if plane == transform.YZ {
				u, v = v, u
			}
			// Across the axis the ball's circle of the section.
			want := 2 + R - math.Sqrt((r+math.Sqrt(R*R-v*v))*(r+math.Sqrt(R*R-v*v))-u*u)
			near(t, plane.String(), res.Grid.depth(faceSide, i, j), want, 2*maxSag)
		}
	}
}
