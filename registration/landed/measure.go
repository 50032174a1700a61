// Package landed corrects a job after a test piece was cut and measured: from how far the back
// landed off its face, at places on it, to the moved second zero, the moved locator, or the
// shim, pin or turned program that takes out a turn.
//
// Look at the back as it lay on the machine: X to the right, Y away from you. A
// mismatch is where the back's cut lies minus where it should lie against the
// face. Its place is in the back's as-laid frame, from the blank's near-left
// corner as the back lay. Lengths are decimals in the question's unit, a turn is
// counter-clockwise in the same view.
package landed

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Measurement is how far the back landed from where it should, at one place.
type Measurement struct {
	Pair int                 // of stations on which the piece was cut, from 1
	Off  registration.Point  // DX, DY
	At   *registration.Point // where, in the back's as-laid frame; nil if not said
}

// Parse reads [PAIR:]DX,DY[@X,Y], lengths as registration reads them.
func Parse(s string, u transform.Unit) (Measurement, error) {
	var m Measurement
	pair, rest, err := registration.CutPair(s)
	if err != nil {
		return Measurement{}, reword(err)
	}
	m.Pair = pair
	off, place, placed := strings.Cut(rest, "@")
	if m.Off, err = registration.ParsePoint(off, u); err != nil {
		return Measurement{}, reword(err)
	}
	if placed {
		at, err := registration.ParsePoint(place, u)
		if err != nil {
			return Measurement{}, reword(err)
		}
		m.At = &at
	}
	return m, nil
}

func reword(err error) error {
	if e, ok := registration.About(err, "landed").(*registration.Error); ok {
		e.Expected = "DX,DY or DX,DY@X,Y, such as 0.3,-0.1@20,40"
		return e
	}
	return err
}

// check refuses measurements that don't belong together and says whether they
// tell a turn, which needs two places.
func check(list []Measurement) (turn bool, err error) {
	if len(list) == 0 {
		return false, &registration.Error{About: "landed", Found: "nothing measured", Expected: "at least one DX,DY"}
	}
	placed := 0
	for _, m := range list {
		if m.At != nil {
			placed++
		}
	}
	if placed > 0 && placed < len(list) {
		return false, &registration.Error{About: "landed",
			Found:    fmt.Sprintf("%d measurements, %d of them with a place", len(list), placed),
			Expected: "a place at each, DX,DY@X,Y, or at none"}
	}
	for _, m := range list[1:] {
		if m.Pair != list[0].Pair {
			return false, &registration.Error{About: "landed", Found: fmt.Sprintf("pieces of pairs %d and %d", list[0].Pair, m.Pair),
				Expected: "those of one pair at a time", Hint: "each pair's back has a zero of its own"}
		}
		if placed > 0 && (!m.At.X.Equal(list[0].At.X) || !m.At.Y.Equal(list[0].At.Y)) {
			turn = true
		}
	}
	return turn, nil
}

// places is how many decimals a mean, an angle or a move is rounded to, half away
// from zero, where it isn't exact.
const places = 9

func quotient(a, b decimal.Decimal) decimal.Decimal { return a.DivRound(b, places) }

// quarter turns p counter-clockwise by 90 degrees.
func quarter(p registration.Point) registration.Point { return registration.Quarter(1).Point(p) }

// length is the length of p, in float64 since it needs a root.
func length(p registration.Point) float64 {
	return math.Hypot(p.X.InexactFloat64(), p.Y.InexactFloat64())
}
