package budget

import (
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// A blank thicker by t, by the Z zeros of the two sides: worked out by laying the
// surfaces up one by one. The bed is at 0, the blank's top at T + t; a zero on
// the top follows it when touched off on each blank, and stays at T if stored.
func TestFactors(t *testing.T) {
	const T, extra, depth = 12.0, 0.5, 4.0
	surface := func(z registration.ZZero, touch registration.TouchOff) float64 {
		if z == registration.Top && touch == registration.TouchOffEach {
			return T + extra - depth
		}
		return T - depth // from the bed, or from a stored top: a fixed height
	}
	for _, face := range []registration.ZZero{registration.Top, registration.Bed} {
		for _, back := range []registration.ZZero{registration.Top, registration.Bed} {
			for _, touch := range []registration.TouchOff{registration.TouchOffEach, registration.TouchOffOnce} {
				faceFloor, backFloor := surface(face, touch), surface(back, touch)
				faceDepth, backDepth := T+extra-faceFloor, T+extra-backFloor
				web := faceFloor - (T + extra - backFloor)
				w, f, b := Factors(face, back, touch)
				if float64(f)*extra != faceDepth-depth || float64(b)*extra != backDepth-depth ||
					float64(w)*extra != web-(T-2*depth) {
					t.Errorf("zeros %v %v, touch off %v: web %d t, depths %d t and %d t; want %v, %v, %v mm of %v", face, back, touch,
						w, f, b, web-(T-2*depth), faceDepth-depth, backDepth-depth, extra)
				}
			}
		}
	}
}

func TestWeb(t *testing.T) {
	q := markers()
	o := Options{FaceDepth: decp("4"), BackDepth: decp("5"), Tolerances: only(t, transform.MM, "thickness=0.3", "touch-off=0.02")}
	r, err := of(q, o)
	if err != nil {
		t.Fatal(err)
	}
	w := r.Web
	if !w.Nominal.Equal(dec("3")) || !w.Least.Equal(dec("2.66")) || !w.Greatest.Equal(dec("3.34")) || w.Through || !w.Enough {
		t.Errorf("%+v", w)
	}
	// One zero on the bed: the thickness leaves the web alone.
	q.BackZZero = registration.Bed
	if r, err = of(q, o); err != nil || !r.Web.Least.Equal(dec("2.96")) {
		t.Errorf("%+v, %v", r.Web, err)
	}
	// Through cuts with 0.5 of overlap, 0.2 asked: 0.5 - 0.3 - 0.04 is not enough.
	q.BackZZero = registration.Top
	o.FaceDepth, o.BackDepth, o.Overlap = decp("6.5"), decp("6"), decp("0.2")
	if r, err = of(q, o); err != nil {
		t.Fatal(err)
	}
	if w := r.Web; !w.Through || !w.Nominal.Equal(dec("-0.5")) || !w.Greatest.Equal(dec("-0.16")) || w.Enough {
		t.Errorf("%+v", w)
	}
	o.Overlap = decp("0.16")
	if r, _ = of(q, o); !r.Web.Enough {
		t.Errorf("%+v", r.Web)
	}
	// Without depths there is still the table.
	if r, err = of(q, Options{}); err != nil || r.Web.WebFactor != 1 || r.Web.FaceDepth != nil {
		t.Errorf("%+v, %v", r.Web, err)
	}
}
