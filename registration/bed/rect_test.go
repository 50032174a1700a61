package bed

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// cells are the middles of the whole cells of a rectangle with whole corners.
func cells(r Rect) map[[2]int]bool {
	out := map[[2]int]bool{}
	for x := r.X.IntPart(); x < r.Right().IntPart(); x++ {
		for y := r.Y.IntPart(); y < r.Far().IntPart(); y++ {
			out[[2]int{int(x), int(y)}] = true
		}
	}
	return out
}

// Two rectangles with whole corners overlap where they share a cell, and one holds another
// where it has all its cells: by brute force on 2,000 pairs.
func TestRectBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	draw := func() Rect { return rect(rng.IntN(6), rng.IntN(6), 1+rng.IntN(4), 1+rng.IntN(4)) }
	overlaps, holds := 0, 0
	for range 2000 {
		a, b := draw(), draw()
		in, shared := true, false
		ca := cells(a)
		for c := range cells(b) {
			in, shared = in && ca[c], shared || ca[c]
		}
		if a.Overlaps(b) != shared || b.Overlaps(a) != shared {
			t.Errorf("%s and %s overlap: %v, want %v", a, b, a.Overlaps(b), shared)
		}
		if a.Holds(b) != in {
			t.Errorf("%s holds %s: %v, want %v", a, b, a.Holds(b), in)
		}
		if got := len(cells(a.Grow(n(2)))); got != (int(a.W.IntPart())+4)*(int(a.H.IntPart())+4) {
			t.Errorf("%s grown by 2 has %d cells", a, got)
		}
		overlaps, holds = overlaps+b2i(shared), holds+b2i(in)
	}
	if overlaps < 500 || holds < 50 {
		t.Errorf("only %d overlap and %d hold", overlaps, holds)
	}
}

// A rectangle of a blank turns with it: cell by cell, a cell's middle (x+1/2, y+1/2) of a blank
// of W x H comes to (H-y-1/2, x+1/2) by a quarter counter-clockwise (derived).
func TestRectTurnedBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 4))
	for range 500 {
		b := registration.Blank{W: n(8 + rng.IntN(5)), H: n(8 + rng.IntN(5))}
		r := rect(rng.IntN(6)-2, rng.IntN(6)-2, 1+rng.IntN(4), 1+rng.IntN(4))
		for k := range registration.Quarter(4) {
			want := cells(r)
			lying := b
			for range k {
				next := map[[2]int]bool{}
				for c := range want {
					next[[2]int{int(lying.H.IntPart()) - 1 - c[1], c[0]}] = true
				}
				want, lying.W, lying.H = next, lying.H, lying.W
			}
			got := cells(r.Turned(k, b))
			for c := range want {
				if !got[c] || len(got) != len(want) {
					t.Fatalf("%s of %s x %s by %s degrees: %s", r, b.W, b.H, k.Degrees(), r.Turned(k, b))
				}
			}
			if back := r.Turned(k, b).Turned(k.Back(), lying); back.String() != r.String() {
				t.Errorf("%s by %s degrees and back: %s", r, k.Degrees(), back)
			}
		}
	}
}

// An area in another unit: 25.4 mm to the inch (international yard and pound, 1959).
func TestAreaIn(t *testing.T) {
	high := d("2")
	for _, r := range []struct {
		from, to transform.Unit
		area     Area
		want     string
	}{
		{transform.Inch, transform.MM, Area{Rect: rect(1, 2, 3, 4), Height: &high}, "25.4,50.8,76.2x101.6,50.8"},
		{transform.Inch, transform.MM, Area{Rect: rect(1, 2, 3, 4)}, "25.4,50.8,76.2x101.6"},
		{transform.MM, transform.Inch, Area{Rect: Rect{d("25.4"), d("0"), d("12.7"), d("1")}}, "1,0,0.5x0.039370079"},
		{transform.MM, transform.MM, Area{Rect: rect(1, 2, 3, 4), Height: &high}, "1,2,3x4,2"},
	} {
		if got := r.area.In(r.from, r.to).String(); got != r.want {
			t.Errorf("%s in %s: %s, want %s", r.area, r.to, got, r.want)
		}
	}
	if high.String() != "2" {
		t.Errorf("the height that was given became %s", high)
	}
}

// How far a program reaches beyond its blank, from how far it goes from its zero: the zero of
// a blank of 120 x 80 at 60,40 and moves from -65,-40 to 58,47 go 5 beyond its left edge, 0
// beyond the near one, stay 2 inside the right one and go 7 beyond the far one (derived).
func TestProgramTake(t *testing.T) {
	p := Program{Zero: at(60, 40)}
	blank := registration.Blank{W: n(120), H: n(80)}
	p.Take(transform.Box{}, blank)
	if p.Reach != nil || p.Depths != nil {
		t.Errorf("a program without a move reaches %+v", p.Reach)
	}
	p.Take(transform.Box{Any: true, Least: [3]decimal.Decimal{n(-65), n(-40), n(-3)}, Greatest: [3]decimal.Decimal{n(58), n(47), n(20)}}, blank)
	if got := fmt.Sprint(*p.Reach, *p.Depths); got != "{5 -2 0 7} {-3 20}" {
		t.Errorf("reach and depths %s", got)
	}
	// By a quarter counter-clockwise what was left is near, right far, near right, far left.
	for k, want := range []string{"{5 -2 0 7}", "{7 0 5 -2}", "{-2 5 7 0}", "{0 7 -2 5}"} {
		if got := fmt.Sprint(p.Reach.turned(registration.Quarter(k))); got != want {
			t.Errorf("turned by %d degrees it reaches %s, want %s", 90*k, got, want)
		}
	}
}
