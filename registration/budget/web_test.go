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
				w, f, b := factors(face, back, touch)
				if float64(f)*extra != faceDepth-depth || float64(b)*extra != backDepth-depth ||
					float64(w)*extra != web-(T-2*depth) {
					t.Errorf("zeros %v %v, touch off %v: web %d t, depths %d t and %d t; want %v, %v, %v mm of %v", face, back, touch,
						w, f, b, web-(T-2*depth), faceDepth-depth, backDepth-depth, extra)
				}
			}
		}
	}
}

// Each zero is off its surface by 0.02; the error of 0.3 comes in where the web takes it,
// with zeros of one name (derived).
func TestWebOff(t *testing.T) {
	const top, bed = registration.Top, registration.Bed
	const each, once = registration.TouchOffEach, registration.TouchOffOnce
	for _, c := range []struct {
		face, back registration.ZZero
		touch      registration.TouchOff
		want       string
	}{{top, top, each, "0.34"}, {top, bed, each, "0.04"}, {bed, top, each, "0.04"}, {bed, bed, each, "0.34"}, {top, top, once, "0.34"}, {top, bed, once, "0.34"}} {
		q := markers()
		q.ZZero, q.BackZZero, q.TouchOff = c.face, c.back, c.touch
		r, err := of(q, Options{Tolerances: only(t, transform.MM, "thickness=0.3", "touch-off=0.02")})
		if err != nil || !r.Web.Off.Equal(dec(c.want)) {
			t.Errorf("%+v: %s, want %s; %v", c, r.Web.Off, c.want, err)
		}
	}
}
