package registration

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/mirror/transform"
)

// quarterMatrix is the matrix of a turn by so many quarters: cosine and sine as the library's
// rows hold them, a second derivation beside Quarter.Point.
func quarterMatrix(k Quarter) *mat.Dense {
	sin, cos := math.Sincos(float64(k) * math.Pi / 2)
	return mat.NewDense(2, 2, []float64{cos, -sin, sin, cos})
}

func rotated(k Quarter, p Point) [2]float64 {
	var out mat.VecDense
	out.MulVec(quarterMatrix(k), mat.NewVecDense(2, []float64{p.X.InexactFloat64(), p.Y.InexactFloat64()}))
	return [2]float64{out.AtVec(0), out.AtVec(1)}
}

func near(p Point, q [2]float64) bool {
	return math.Hypot(p.X.InexactFloat64()-q[0], p.Y.InexactFloat64()-q[1]) < 1e-9
}

// Points, places on a blank, sides and their coordinates turn as the matrix turns them.
func TestQuarter(t *testing.T) {
	b := Blank{W: d("120"), H: d("80"), T: d("12")}
	for k := range Quarter(4) {
		if got := k.Degrees().String(); got != fmt.Sprint(90*int(k)) {
			t.Errorf("%d quarters are %s degrees", k, got)
		}
		lying := k.Blank(b)
		// The least corner of the turned rectangle, about which places on it are measured.
		least := [2]float64{math.Inf(1), math.Inf(1)}
		for _, c := range []Point{{}, {X: b.W}, {Y: b.H}, {X: b.W, Y: b.H}} {
			r := rotated(k, c)
			least[0], least[1] = min(least[0], r[0]), min(least[1], r[1])
		}
		for _, p := range []Point{{d("0"), d("0")}, {d("30"), d("20")}, {d("120"), d("80")}, {d("-5"), d("7.25")}} {
			r := rotated(k, p)
			if got := k.Point(p); !near(got, r) {
				t.Errorf("%d quarters: %s comes to %s, by the matrix %v", k, p, got, r)
			}
			if got := k.On(b, p); !near(got, [2]float64{r[0] - least[0], r[1] - least[1]}) {
				t.Errorf("%d quarters: %s of the blank comes to %s, by the matrix %v less %v", k, p, got, r, least)
			}
			if got := k.Back().Point(k.Point(p)); !got.Equal(p) {
				t.Errorf("%d quarters: %s comes back as %s", k, p, got)
			}
			if got := k.Back().On(lying, k.On(b, p)); !got.Equal(p) {
				t.Errorf("%d quarters: %s of the blank comes back as %s", k, p, got)
			}
		}
		// A side lies where its outward normal points.
		normals := map[Side]Point{Near: {Y: d("-1")}, Far: {Y: d("1")}, Left: {X: d("-1")}, Right: {X: d("1")}}
		for side, normal := range normals {
			if got := k.Side(side); !near(normals[got], rotated(k, normal)) {
				t.Errorf("%d quarters: %s comes to lie %s, its normal %v", k, side, got, rotated(k, normal))
			}
			at := Point{X: d("190"), Y: d("190")}
			stands, coord := k.contact(side, d("190"))
			r := rotated(k, at)
			want := r[1]
			if stands.acrossX() {
				want = r[0]
			}
			if stands != k.Side(side) || math.Abs(coord.InexactFloat64()-want) > 1e-9 {
				t.Errorf("%d quarters: %s@190 comes to %s@%s, by the matrix %g", k, side, stands, coord, want)
			}
		}
		if k.Side(NoSide) != NoSide {
			t.Errorf("%d quarters: no side comes to lie %s", k, k.Side(NoSide))
		}
	}
}

// turnedQuestions are one question a way of locating, with what the flip allows.
func turnedQuestions(t *testing.T) map[string]Question {
	blank, _ := ParseSize("120x80x12", transform.MM)
	bore := mustPin(t, "30,40,12")
	plug := bore.Dia
	clock := Clocking{Kind: ClockPin, Pin: Point{d("30"), d("70")}, Dia: d("5")}
	out := map[string]Question{
		"dowels":             {Register: Dowels, Pins: []Pin{mustPin(t, "60,6,6"), mustPin(t, "60,74,5")}, Flip: FlipY},
		"none":               {},
		"round":              {Register: Plug, Bore: &bore, PlugD: &plug, Round: true},
		"index":              {Register: Plug, Bore: &bore, PlugD: &plug, Clock: clock, Flip: FlipY},
		"flat":               {Register: Plug, Bore: &bore, PlugD: &plug, Clock: Clocking{Kind: ClockFlat, Side: Left}, Flip: FlipX},
		"clocked by a fence": {Register: Plug, Bore: &bore, PlugD: &plug, Clock: Clocking{Kind: ClockFence}, Fence: Contact{Side: Near}},
		"fence":              {Register: FenceStop, Fence: Contact{Side: Near}, Stop: Contact{Side: Left}},
		"other edges":        {Register: FenceStop, Fence: Contact{Side: Far}, Stop: Contact{Side: Left}, BackFence: Contact{Side: Near}, BackStop: Contact{Side: Right}},
	}
	for name, q := range out {
		q.Stock = &blank
		out[name] = q
	}
	return out
}

// Whatever locates the blank, at a pair that is turned every place of the answer is that of
// the straight pair carried by the rotation matrix about the stations, and what is said of the
// blank itself stays.
func TestAtTurned(t *testing.T) {
	z := d("-88")
	for name, q := range turnedQuestions(t) {
		for _, flip := range []Flip{FlipX, FlipY} {
			if q.Flip != FlipUnset && q.Flip != flip {
				continue
			}
			for k := range Quarter(4) {
				t.Run(fmt.Sprintf("%s, flip %s, %s degrees", name, flip, k.Degrees()), func(t *testing.T) {
					q := q
					q.Flip, q.Zero, q.BackZero = flip, Zero{Name: "far-right"}, Zero{Name: "near-left"}
					a, err := Solve(q)
					if err != nil {
						t.Fatal(err)
					}
					b := a.Used
					// Both stations are turned about the machine's zero, and the blank's own
					// near-left corner with them.
					straight := [2]Station{{Offset: "G54", Corner: Point{d("30"), d("35")}}, {Offset: "G56", Corner: Point{d("200.5"), d("35")}}}
					straight[0].Zero, straight[1].Zero = Position{X: d("150"), Y: d("115"), Z: &z}, Position{X: d("200.5"), Y: d("35"), Z: &z}
					s, err := a.At(straight[0], straight[1])
					if err != nil {
						t.Fatal(err)
					}
					stations := straight
					for i := range stations {
						st := &stations[i]
						zero := k.Point(Point{st.Zero.X, st.Zero.Y})
						st.Turn, st.Zero.X, st.Zero.Y = k, zero.X, zero.Y
						far := k.Point(st.Corner.Add(Point{b.W, b.H}))
						own := k.Point(st.Corner)
						st.Corner = Point{decimal.Min(own.X, far.X), decimal.Min(own.Y, far.Y)}
					}
					got, err := a.At(stations[0], stations[1])
					if err != nil {
						t.Fatal(err)
					}
					sameTurned(t, k, s, got, stations)
				})
			}
		}
	}
}

func sameTurned(t *testing.T, k Quarter, s, got *Answer, stations [2]Station) {
	t.Helper()
	place := func(what string, was, is *Point) {
		t.Helper()
		if (was == nil) != (is == nil) || was != nil && !near(*is, rotated(k, *was)) {
			t.Errorf("%s at %v, straight at %v", what, is, was)
		}
	}
	zero := func(z *SecondZero) *Point {
		if z == nil {
			return nil
		}
		return &Point{z.X, z.Y}
	}
	place("second zero", zero(s.Second), zero(got.Second))
	place("plug", s.PlugAt, got.PlugAt)
	place("index pin", s.ClockAt, got.ClockAt)
	place("face zero", &Point{s.FaceAt.X, s.FaceAt.Y}, &Point{got.FaceAt.X, got.FaceAt.Y})
	for i := range s.FacePins {
		place("dowel", &s.FacePins[i].At, &got.FacePins[i].At)
		place("back dowel", &s.BackPins[i].At, &got.BackPins[i].At)
	}
	for _, p := range []Point{{}, {d("30"), d("20")}, {s.Used.W, s.Used.H}} {
		was, is := s.FacePlace(p), got.FacePlace(p)
		place("place "+p.String(), &was, &is)
	}
	if !got.FaceCorner.Equal(stations[0].Corner) || got.BackCorner != nil && !got.BackCorner.Equal(stations[1].Corner) {
		t.Errorf("corners %s and %v, want the stations' %s and %s", got.FaceCorner, got.BackCorner, stations[0].Corner, stations[1].Corner)
	}
	for i, was := range s.Touches {
		is := got.Touches[i]
		for _, c := range []struct {
			was, is Side
			from    decimal.Decimal
			to      decimal.Decimal
		}{{was.Side, is.Side, was.FaceCoord, is.FaceCoord}, {was.BackSide, is.BackSide, was.BackCoord, is.BackCoord}} {
			r := rotated(k, Point{c.from, c.from})
			want := r[1]
			if c.is.acrossX() {
				want = r[0]
			}
			if c.is != k.Side(c.was) || math.Abs(c.to.InexactFloat64()-want) > 1e-9 {
				t.Errorf("%s %s@%s, straight %s@%s", was.Locator, c.is, c.to, c.was, c.from)
			}
		}
		if is.FaceEdge != was.FaceEdge || is.BackEdge != was.BackEdge || is.SameEdge != was.SameEdge {
			t.Errorf("edges of %+v, straight %+v", is, was)
		}
	}
	// The programs are turned with the stations: a place of the back, through both maps.
	p := transform.Box{Any: true}
	p.Least = [3]decimal.Decimal{d("7"), d("-3"), d("0")}
	p.Greatest = p.Least
	was, is := s.Transform.Box(p), got.Transform.Box(p)
	if at := (Point{is.Least[0], is.Least[1]}); !near(at, rotated(k, Point{was.Least[0], was.Least[1]})) || !got.BackTurn.Equal(k.Degrees()) || got.FaceTurn != k {
		t.Errorf("the map %s, straight %s: %v from %v, turns %s %d", got.Transform, s.Transform, is.Least, was.Least, got.BackTurn, got.FaceTurn)
	}
	if len(got.Facts) != len(s.Facts) || got.Foolproof != s.Foolproof || got.SamePlace() != s.SamePlace() || got.Overlies() != s.Overlies() {
		t.Errorf("said of the blank: %v, straight %v", got.Facts, s.Facts)
	}
	if !reflect.DeepEqual(got.Own().Touches, s.Touches) {
		t.Errorf("own %v, straight %v", got.Own().Touches, s.Touches)
	}
	for i, f := range got.Facts { // turned by four quarters every fact is as it was
		back := k.Back().fact(f.Is)
		if fmt.Sprint(back) != fmt.Sprint(s.Facts[i].Is) {
			t.Errorf("fact %v, straight %v", f.Is, s.Facts[i].Is)
		}
	}
}

// What can't stand turned is refused with the reason.
func TestAtTurnedRefused(t *testing.T) {
	blank, _ := ParseSize("120x80x12", transform.MM)
	finder := d("6")
	for _, r := range []struct {
		q          Question
		face, back Quarter
		want       string
	}{
		{Question{}, 1, 0, "a face station turned by 90 degrees and a back station turned by 0, expected a pair that is turned as a whole"},
		{Question{}, 0, 2, "a face station turned by 0 degrees and a back station turned by 180"},
		{Question{Register: Touched, Touched: touches("left@200,120", "left@200,170", "near@260,101"), Finder: &finder}, 2, 2,
			"touched, at stations that are turned, expected dowels, plug or fence; hint: what was touched lies where it lies"},
	} {
		r.q.Stock, r.q.Flip, r.q.At = &blank, FlipY, &Position{X: d("200"), Y: d("100")}
		a, err := Solve(r.q)
		if err != nil {
			t.Fatal(err)
		}
		_, err = a.At(Station{Offset: "G54", Turn: r.face}, Station{Offset: "G55", Turn: r.back})
		var e *Error
		if !errors.As(err, &e) || !e.No || !strings.Contains(err.Error(), r.want) {
			t.Errorf("got  %v\nwant %s", err, r.want)
		}
	}
}
