package registration

import (
	"fmt"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/transform"
)

// This file derives the second zero a second time, from rigid bodies: the blank
// is a box in space whose corners are turned by a rotation matrix (Rodrigues'
// formula, on a general linear-algebra library) and then moved until they touch
// the locators. None of the package's formulas is used. Results are compared
// within 1e-9: with lengths below 1000 and a dozen float64 operations the
// rounding error stays under 1e-11, and every length in the tests is a multiple
// of 0.01, so a wrong result is off by 0.01 or more.
const near0 = 1e-9

type vec [3]float64

func (a vec) plus(b vec) vec  { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) minus(b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// rotation by angle (radians) about a unit axis: I + sin K + (1-cos) K K.
func rotation(axis vec, angle float64) *mat.Dense {
	k := mat.NewDense(3, 3, []float64{0, -axis[2], axis[1], axis[2], 0, -axis[0], -axis[1], axis[0], 0})
	var kk, r mat.Dense
	kk.Mul(k, k)
	kk.Scale(1-math.Cos(angle), &kk)
	r.Scale(math.Sin(angle), k)
	r.Add(&r, &kk)
	for i := range 3 {
		r.Set(i, i, r.At(i, i)+1)
	}
	return &r
}

// body is the blank somewhere in the machine: a material point m lies at r*m + t.
// Material coordinates are those of the face as it lies, Z up from its underside.
type body struct {
	r       [3]vec // rows of the rotation matrix
	t       vec
	size    vec    // of the box
	corners [8]vec // the box's corners, turned, without t
}

// orient turns the body as r says: its corners are the columns of a matrix that
// r multiplies.
func (b *body) orient(r *mat.Dense) {
	box := mat.NewDense(3, 8, nil)
	for i := range 8 {
		for k := range 3 {
			box.Set(k, i, b.size[k]*float64(i>>k&1))
		}
	}
	var turned mat.Dense
	turned.Mul(r, box)
	for k := range 3 {
		for i := range 8 {
			b.corners[i][k] = turned.At(k, i)
		}
		copy(b.r[k][:], r.RawRowView(k))
	}
}

func (b *body) at(m vec) vec {
	v := b.t
	for k := range 3 {
		for i := range 3 {
			v[k] += b.r[k][i] * m[i]
		}
	}
	return v
}

// material undoes at: a rotation's inverse is its transpose.
func (b *body) material(p vec) vec {
	d := p.minus(b.t)
	var v vec
	for k := range 3 {
		for i := range 3 {
			v[i] += b.r[k][i] * d[k]
		}
	}
	return v
}

// extent gives the least and greatest coordinates of the eight corners.
func (b *body) extent() (low, high vec) {
	low, high = b.corners[0], b.corners[0]
	for _, c := range b.corners[1:] {
		for k := range 3 {
			low[k], high[k] = min(low[k], c[k]), max(high[k], c[k])
		}
	}
	return low.plus(b.t), high.plus(b.t)
}

// seat moves the body down onto a plane.
func (b *body) seat(z float64) {
	low, _ := b.extent()
	b.t[2] += z - low[2]
}

// push moves the body along one axis until it touches a locator.
func (b *body) push(s Side, at float64) {
	low, high := b.extent()
	switch s {
	case Left:
		b.t[0] += at - low[0]
	case Right:
		b.t[0] += at - high[0]
	case Near:
		b.t[1] += at - low[1]
	case Far:
		b.t[1] += at - high[1]
	}
}

// edge gives where the edge at side s lies.
func (b *body) edge(s Side) float64 {
	low, high := b.extent()
	return map[Side]float64{Left: low[0], Right: high[0], Near: low[1], Far: high[1]}[s]
}

// zeroAt gives the machine place of a zero on the body as it lies.
func (b *body) zeroAt(z Zero, level ZZero) vec {
	low, high := b.extent()
	p := low // near-left, and what isn't said
	if z.At != nil {
		p[0], p[1] = low[0]+f(z.At.X), low[1]+f(z.At.Y)
	}
	switch z.Name {
	case "near-right":
		p[0], p[1] = high[0], low[1]
	case "far-left":
		p[0], p[1] = low[0], high[1]
	case "far-right":
		p[0], p[1] = high[0], high[1]
	case "center":
		p[0], p[1] = (low[0]+high[0])/2, (low[1]+high[1])/2
	}
	if level == Top {
		p[2] = high[2]
	}
	return p
}

func f(d decimal.Decimal) float64 { return d.InexactFloat64() }

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func ptr(s string) *decimal.Decimal { v := d(s); return &v }

// holes are hole diameters in the order of the pins.
func holes(list ...string) (out []decimal.Decimal) {
	for _, s := range list {
		out = append(out, d(s))
	}
	return out
}

func newBody(b Blank) *body {
	box := &body{size: vec{f(b.W), f(b.H), f(b.T)}}
	box.orient(flat)
	return box
}

// turnOver turns the body by 180 degrees about a line parallel to Y or X.
func (b *body) turnOver(flip Flip) {
	b.orient(map[Flip]*mat.Dense{FlipX: aboutX, FlipY: aboutY}[flip])
}

var (
	flat   = rotation(vec{0, 0, 1}, 0)
	aboutX = rotation(vec{1, 0, 0}, math.Pi)
	aboutY = rotation(vec{0, 1, 0}, math.Pi)
)

// rig is one job as it stands on the machine: both poses of the blank and both zeros.
type rig struct {
	face, back   *body
	zero, second vec
}

const bedZ = -85.5 // of the bed under the face station's seat, arbitrary

// build sets the job up. Levels: the face zero's Z is that of the blank's top or
// of the seat; thickness at the turn is less by what was skimmed.
//
// Locators stand in the bed, where a box of nominal size shows them. A fence's edges and
// the zeros that are named by them are the piece's. Holes lie in every piece as far from its
// near-left corner with the face up, so on dowels and plug it is brought over them by a
// hole; the zeros stay where the nominal box on the same pins has them (common practice: a
// zero that is taken from a dowel is a distance from the dowel).
func build(q Question) rig {
	nominal := *q.Stock
	used := nominal
	if q.Measured != nil {
		used = *q.Measured
	}
	var g rig
	var at vec
	if q.At != nil {
		at = vec{f(q.At.X), f(q.At.Y)}
	}

	// The nominal blank shows where locators without coordinates stand.
	model := newBody(nominal)
	model.seat(bedZ + f(q.Seat))
	if q.At != nil || q.Fence.Coord == nil {
		off := model.zeroAt(q.Zero, q.ZZero)
		model.t[0] += at[0] - off[0]
		model.t[1] += at[1] - off[1]
	}
	for _, c := range []Contact{q.Fence, q.Stop} {
		if c.Coord != nil {
			model.push(c.Side, f(*c.Coord))
		}
	}

	g.face = newBody(used)
	g.face.seat(bedZ + f(q.Seat))
	if q.Register == FenceStop {
		g.zero = model.zeroAt(q.Zero, q.ZZero)
		for _, c := range []Contact{q.Fence, q.Stop} {
			g.face.push(c.Side, model.edge(c.Side))
		}
		g.zero[2] = g.face.zeroAt(q.Zero, q.ZZero)[2]
	} else {
		g.face.over(vec{}, model.at(vec{}))
		g.zero = model.zeroAt(q.Zero, q.ZZero)
		g.zero[2] = g.face.zeroAt(q.Zero, q.ZZero)[2]
	}

	turned := func(b Blank) *body {
		b.T = used.T.Sub(q.Skimmed)
		o := newBody(b)
		o.turnOver(q.Flip)
		o.seat(bedZ + f(q.BackSeat))
		return o
	}
	g.back = turned(used)
	named := g.back
	if q.Register != FenceStop {
		named = turned(nominal)
	}
	for _, o := range []*body{g.back, named} {
		o.locate(q, model)
	}
	g.second = named.zeroAt(q.BackZero, q.BackZZero)
	if !q.BackZero.given() {
		g.second = named.zeroAt(q.Zero, q.BackZZero)
	}
	return g
}

// over shifts the body along the bed until a place of it is over a place of the machine.
func (b *body) over(material, to vec) {
	from := b.at(material)
	b.t[0] += to[0] - from[0]
	b.t[1] += to[1] - from[1]
}

// locate brings a turned body onto the back's locators. face is the nominal box as it lay.
func (b *body) locate(q Question, face *body) {
	switch q.Register {
	case FenceStop:
		for _, c := range [][2]Contact{{q.Fence, q.BackFence}, {q.Stop, q.BackStop}} {
			side := c[1].Side
			if side == NoSide {
				side = c[0].Side
			}
			place := face.edge(side)
			if c[1].Coord != nil {
				place = f(*c[1].Coord)
			}
			b.push(side, place)
		}
	case Dowels:
		if q.BackPin != nil {
			b.over(vec{f(q.Pins[0].At.X), f(q.Pins[0].At.Y)}, vec{f(q.BackPin.X), f(q.BackPin.Y)})
			break
		}
		// Holes over pins: the centroid of the holes comes over that of the pins.
		var hole, pin vec
		for _, p := range q.Pins {
			m := vec{f(p.At.X), f(p.At.Y)}
			n := float64(len(q.Pins))
			h, s := b.at(m), face.at(m)
			for k := range 2 {
				hole[k] += h[k] / n
				pin[k] += s[k] / n
			}
		}
		b.t[0] += pin[0] - hole[0]
		b.t[1] += pin[1] - hole[1]
	case Plug:
		m := vec{f(q.Bore.At.X), f(q.Bore.At.Y)}
		to := face.at(m)
		if q.PlugAt != nil {
			to = vec{f(q.PlugAt.X), f(q.PlugAt.Y)}
		}
		b.over(m, to)
	}
}

// agree compares an answer with the rig, or says what differs.
func agree(q Question, a *Answer, g rig) error {
	want := g.second
	got := vec{f(a.Second.X), f(a.Second.Y)}
	if !a.Machine {
		// From the face zero: the rig then has it at X0 Y0.
		want[0], want[1] = want[0]-g.zero[0], want[1]-g.zero[1]
	}
	for k, axis := range "XY" {
		if math.Abs(got[k]-want[k]) > near0 {
			return fmt.Errorf("second zero %c = %g, the rig has %g", axis, got[k], want[k])
		}
	}
	rise := g.second[2] - g.zero[2]
	if math.Abs(f(a.Rise)-rise) > near0 {
		return fmt.Errorf("rise = %s, the rig has %g", a.Rise, rise)
	}

	// Features: a point of the face program and its image in the back program
	// must lie at the same X and Y of the material and at the same depth under
	// the surface that is being cut.
	second := g.second
	faceTop, backTop := top(g.face), top(g.back)
	for _, p := range [...]vec{{0, 0, 0}, {12.5, -3.25, -4}, {-7, 41.75, -1.5}, {88, 2, 3}} {
		image := vec{
			f(a.Transform.X.Apply(decimal.NewFromFloat(p[0]))),
			f(a.Transform.Y.Apply(decimal.NewFromFloat(p[1]))),
			f(a.Transform.Z.Apply(decimal.NewFromFloat(p[2]))),
		}
		m := g.face.material(g.zero.plus(p))
		n := g.back.material(second.plus(image))
		for k, axis := range "XY" {
			if math.Abs(m[k]-n[k]) > near0 {
				return fmt.Errorf("%v goes to %v: material %c = %g on the face, %g on the back", p, image, axis, m[k], n[k])
			}
		}
		if !q.Skimmed.IsZero() {
			continue
		}
		faceDepth := faceTop - g.zero[2] - p[2]
		backDepth := backTop - second[2] - image[2]
		if math.Abs(faceDepth-backDepth) > near0 {
			return fmt.Errorf("%v goes to %v: %g deep on the face, %g on the back", p, image, faceDepth, backDepth)
		}
	}

	// The corners, as they lie.
	low, _ := g.back.extent()
	from := vec{}
	if !a.Machine {
		from = g.zero
	}
	if math.Abs(low[0]-from[0]-f(a.BackCorner.X)) > near0 || math.Abs(low[1]-from[1]-f(a.BackCorner.Y)) > near0 {
		return fmt.Errorf("L2 = %s, the rig has %v", a.BackCorner, low)
	}
	low, _ = g.face.extent()
	from = vec{}
	if !a.FaceMachine {
		from = g.zero
	}
	if q.At != nil || q.BackPin == nil && q.PlugAt == nil {
		if math.Abs(low[0]-from[0]-f(a.FaceCorner.X)) > near0 || math.Abs(low[1]-from[1]-f(a.FaceCorner.Y)) > near0 {
			return fmt.Errorf("L1 = %s, the rig has %v", a.FaceCorner, low)
		}
	}
	return agreeEdges(a, g)
}

func top(b *body) float64 {
	_, high := b.extent()
	return high[2]
}

// agreeEdges takes the middle of each edge of the blank in the material and
// looks which of them lies where each locator stands, on both sides.
func agreeEdges(a *Answer, g rig) error {
	size := g.face.size
	middles := map[Side]vec{
		Left: {0, size[1] / 2}, Right: {size[0], size[1] / 2},
		Near: {size[0] / 2, 0}, Far: {size[0] / 2, size[1]},
	}
	lying := func(b *body, s Side) Side {
		k := 1
		if s == Left || s == Right {
			k = 0
		}
		for name, m := range middles {
			if p := b.at(m); math.Abs(p[k]-b.edge(s)) < near0 {
				return name
			}
		}
		return NoSide
	}
	for _, t := range a.Touches {
		face, back := lying(g.face, t.Side), lying(g.back, t.BackSide)
		if t.FaceEdge != face || t.BackEdge != back || t.SameEdge != (face == back) {
			return fmt.Errorf("%s touches %s then %s, the rig has %s then %s", t.Locator, t.FaceEdge, t.BackEdge, face, back)
		}
		if lying(g.back, t.KeepSide) != face {
			return fmt.Errorf("%s at %s would not keep the %s edge", t.Locator, t.KeepSide, face)
		}
		other := *g.back
		other.turnOver(a.Question.Flip.Other())
		keeps := !t.SameEdge && lying(&other, t.BackSide) == face
		if (t.KeepFlip != FlipUnset) != keeps {
			return fmt.Errorf("%s at %s: KeepFlip %q, the rig says %v", t.Locator, t.BackSide, t.KeepFlip, keeps)
		}
	}
	return nil
}

// combinations calls f with every combination of flip, register, zero, Z zero,
// locators, and with or without a measured size and machine coordinates.
func combinations(visit func(name string, q Question)) {
	explicit := Zero{At: &Point{d("17.25"), d("33.5")}}
	zeros := []Zero{{Name: "near-left"}, {Name: "near-right"}, {Name: "far-left"}, {Name: "far-right"}, {Name: "center"}, explicit}
	backZeros := []Zero{{}, {Name: "far-right"}, {At: &Point{d("-4.5"), d("61.25")}}}
	sides := []Side{Near, Far, Left, Right}
	x, y := []Side{Left, Right}, []Side{Near, Far}

	var registers []func(*Question) string
	for _, fence := range sides {
		stops := x
		if fence == Left || fence == Right {
			stops = y
		}
		for _, stop := range stops {
			for _, backFence := range append([]Side{NoSide}, sides...) {
				backStops := append([]Side{NoSide}, stops...)
				if backFence != NoSide && (backFence == Left || backFence == Right) != (fence == Left || fence == Right) {
					backStops = map[bool][]Side{true: x, false: y}[fence == Left || fence == Right]
				}
				for _, backStop := range backStops {
					for _, coords := range []string{"", "face", "back"} {
						registers = append(registers, func(q *Question) string {
							q.Register = FenceStop
							q.Fence.Side, q.Stop.Side, q.BackFence.Side, q.BackStop.Side = fence, stop, backFence, backStop
							switch coords {
							case "face":
								if q.At != nil {
									return ""
								}
								q.Fence.Coord, q.Stop.Coord = ptr("210.5"), ptr("-12.25")
							case "back":
								if backFence == NoSide || backStop == NoSide {
									return ""
								}
								q.BackFence.Coord, q.BackStop.Coord = ptr("310.5"), ptr("402.75")
							}
							return fmt.Sprintf("fence %s stop %s back %s %s, coordinates %q", fence, stop, backFence, backStop, coords)
						})
					}
				}
			}
		}
	}
	for _, second := range []bool{false, true} {
		registers = append(registers, func(q *Question) string {
			q.Register = Dowels
			q.Pins = []Pin{{At: Point{d("41.5"), d("8")}, Dia: d("6")}, {At: Point{d("41.5"), d("77.75")}, Dia: d("8")}}
			if q.Flip == FlipX {
				q.Pins = []Pin{{At: Point{d("8"), d("41.5")}, Dia: d("6")}, {At: Point{d("91.25"), d("41.5")}, Dia: d("8")}}
			}
			if second {
				q.Pins = append(q.Pins, Pin{At: Point{d("100"), d("11")}, Dia: d("6")})
				q.BackPin = &Point{d("333"), d("44.5")}
			}
			return fmt.Sprintf("dowels, second station %v", second)
		}, func(q *Question) string {
			q.Register = Plug
			q.Bore = &Pin{At: Point{d("52.25"), d("40")}, Dia: d("22")}
			q.Round = true
			if second {
				q.PlugAt = &Point{d("333"), d("44.5")}
			}
			return fmt.Sprintf("plug, at a second place %v", second)
		})
	}

	for _, flip := range []Flip{FlipX, FlipY} {
		for _, register := range registers {
			for i, zero := range zeros {
				for j, backZero := range backZeros {
					if !backZero.given() && zero.Name == "" {
						continue
					}
					for k, levels := range [][2]ZZero{{Top, Top}, {Bed, Bed}, {Top, Bed}, {Bed, Top}} {
						// One back zero in turn meets all four pairs of levels.
						if j != i%3 && k != (i+j)%4 && zero.Name != "" {
							continue
						}
						for _, at := range []*Position{nil, {X: d("50"), Y: d("60.75")}} {
							for _, measured := range []*Blank{nil, {d("139.7"), d("90.45"), d("18.8")}} {
								q := Question{
									Stock: &Blank{d("140"), d("90"), d("19")}, Measured: measured, Flip: flip,
									Zero: zero, BackZero: backZero, ZZero: levels[0], BackZZero: levels[1], At: at,
									Seat: d("3"), BackSeat: d("4.25"),
								}
								name := register(&q)
								if name == "" {
									continue
								}
								visit(fmt.Sprintf("flip %s, %s, zero %s %s, %s %s, at %v, measured %v",
									flip, name, zero, backZero, levels[0], levels[1], at, measured), q)
							}
						}
					}
				}
			}
		}
	}
}

func TestSecondZeroAgreesWithTurnedBox(t *testing.T) {
	t.Parallel()
	n, bad := 0, 0
	combinations(func(name string, q Question) {
		n++
		a, err := Solve(q)
		if err == nil {
			err = agree(q, a, build(q))
		}
		if err != nil {
			if bad++; bad <= 20 {
				t.Errorf("%s: %v", name, err)
			}
		}
	})
	t.Logf("%d combinations, %d differ", n, bad)
	if n < 10000 {
		t.Errorf("only %d combinations", n)
	}
}

// A blank skimmed on the face is thinner at the turn; the seats stay.
func TestSkimmedBlankAgreesWithTurnedBox(t *testing.T) {
	for _, levels := range [][2]ZZero{{Top, Top}, {Bed, Bed}, {Top, Bed}, {Bed, Top}} {
		q := Question{Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Skimmed: d("0.75"),
			ZZero: levels[0], BackZZero: levels[1], Seat: d("2"), BackSeat: d("-1.5"),
			At: &Position{X: d("50"), Y: d("60")}, Register: Plug, Round: true,
			Bore: &Pin{At: Point{d("52.25"), d("40")}, Dia: d("22")}}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if err := agree(q, a, build(q)); err != nil {
			t.Errorf("%s to %s: %v", levels[0], levels[1], err)
		}
	}
}

// A back program mirrored with the nominal size, run from NominalZero, cuts the
// piece in hand where the one mirrored with its measured size would.
func TestNominalZeroAgreesWithTurnedBox(t *testing.T) {
	t.Parallel()
	n := 0
	combinations(func(name string, q Question) {
		if q.Measured == nil {
			return
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(name, err)
		}
		plain := q
		plain.Measured = nil
		nominal, err := Solve(plain)
		if err != nil {
			t.Fatal(name, err)
		}
		zero := a.NominalZero
		if zero == nil {
			zero = a.Second
		} else {
			n++
		}
		for _, p := range []string{"0", "12.5", "-31.25"} {
			v := d(p)
			if got, want := zero.X.Add(nominal.Transform.X.Apply(v)), a.Second.X.Add(a.Transform.X.Apply(v)); !got.Equal(want) {
				t.Fatalf("%s: X%s cut at %s, want %s", name, p, got, want)
			}
			if got, want := zero.Y.Add(nominal.Transform.Y.Apply(v)), a.Second.Y.Add(a.Transform.Y.Apply(v)); !got.Equal(want) {
				t.Fatalf("%s: Y%s cut at %s, want %s", name, p, got, want)
			}
			if zero.Z != nil {
				if got, want := zero.Z.Add(nominal.Transform.Z.Apply(v)), a.Second.Z.Add(a.Transform.Z.Apply(v)); !got.Equal(want) {
					t.Fatalf("%s: Z%s cut at %s, want %s", name, p, got, want)
				}
			}
		}
	})
	if n == 0 {
		t.Error("no combination has a nominal zero of its own")
	}
}

// The map doubles as a check of transform.Unit: offsets are in the question's unit.
func TestTransformKeepsUnit(t *testing.T) {
	b, err := ParseSize("4-3/4x3-1/8x1/2", transform.Inch)
	if err != nil {
		t.Fatal(err)
	}
	m, err := mapping(Question{Unit: transform.Inch, Stock: &b, Flip: FlipY})
	if err != nil {
		t.Fatal(err)
	}
	if m.Unit != transform.Inch || m.String() != "x' = 4.75 - x, y' = y, z' = z" {
		t.Errorf("%s in %s", m, m.Unit)
	}
	m, err = mapping(Question{Unit: transform.Inch, Stock: &b, Flip: FlipX, ZZero: Top, BackZZero: Bed})
	if err != nil || m.String() != "x' = x, y' = 3.125 - y, z' = z + 0.5" {
		t.Errorf("%s, %v", m, err)
	}
}
