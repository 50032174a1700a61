package landed

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Shims of a board of 140 x 90 whose back landed turned by a sine of 0.002, on a sketch. The
// blank has to turn with the cuts: the shim goes to the contact at which its edge then leaves
// the fence, 0.002 of the contacts' distance thick, half of it where it stays in for both
// sides. Still are the other contact's height and the stop's distance: the blank turns where
// their normals meet, and with a shim in on both sides midway between that place and the
// face's, turned over. There the zero moves by the mismatch, 0.002 across the way from 70,40.
// Contacts that aren't said are at 0.15, 0.85 and the middle.
func TestShimByHand(t *testing.T) {
	const n, f, l, r = registration.Near, registration.Far, registration.Left, registration.Right
	const x, y = registration.FlipX, registration.FlipY
	for _, c := range []struct {
		flip             registration.Flip
		fence, stop      registration.Side
		contacts         string
		ccw              bool
		end              registration.Side
		at, thick        string
		pivot, pivotBoth string
	}{
		{y, n, l, "", true, r, "119,0", "0.196", "21,45", "70,45"},
		{y, n, l, "", false, l, "21,0", "0.196", "119,45", "70,45"},
		{y, f, r, "", true, l, "21,90", "0.196", "119,45", "70,45"},
		{y, l, n, "", true, n, "0,13.5", "0.126", "70,76.5", "70,76.5"},
		{y, n, l, "10,100,30", true, r, "100,0", "0.18", "10,30", "70,30"},
		{x, n, l, "10,100,30", true, r, "100,0", "0.18", "10,30", "10,45"},
		{x, l, f, "10,80,30", true, n, "0,10", "0.14", "30,80", "30,45"},
		{y, l, f, "10,80,30", true, n, "0,10", "0.14", "30,80", "70,80"},
		{y, r, n, "10,80,30", true, f, "140,80", "0.14", "110,10", "70,10"},
		{y, r, n, "10,80,30", false, n, "140,10", "0.14", "110,80", "70,80"},
		{y, f, l, "10,100,30", false, r, "100,90", "0.18", "10,60", "70,60"},
	} {
		q := boards(c.flip, c.fence, c.stop)
		if c.contacts != "" {
			on, err := registration.ParseContacts(c.contacts, transform.MM)
			if err != nil {
				t.Fatal(err)
			}
			q.Contacts = &on
		}
		measured, turn := []Measurement{off("0,-0.1@20,40"), off("0,0.1@120,40")}, dec("0.002")
		if !c.ccw {
			measured, turn = []Measurement{off("0,0.1@20,40"), off("0,-0.1@120,40")}, dec("-0.002")
		}
		a := solve(t, q)
		k, err := Correct(a, measured, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(k.Turn.Cures) != 3 || k.Turn.Best != 1 {
			t.Errorf("%+v: %d cures, best %d", c, len(k.Turn.Cures), k.Turn.Best)
			continue
		}
		for i, pivot := range []string{c.pivot, c.pivotBoth} {
			cure := k.Turn.Cures[i]
			thick := dec(c.thick)
			if i == 1 {
				thick = thick.Div(decimal.NewFromInt(2))
			}
			s := cure.Shim
			if cure.Both != (i == 1) || s.Fence != c.fence || s.End != c.end || s.At.String() != c.at || !s.Thick.Equal(thick) || cure.Pivot.String() != pivot {
				t.Errorf("flip %s, fence %s, stop %s, contacts %q, counter-clockwise %v, both %v: %s thick at the %s end, %s, about %s; want %s at the %s end, %s, about %s",
					c.flip, c.fence, c.stop, c.contacts, c.ccw, cure.Both, s.Thick, s.End, s.At, cure.Pivot, thick, c.end, c.at, pivot)
			}
			// Of the second order: 100 from the middle at most, times the angle squared over 2, and
			// 0.2 of mismatch turned by the angle.
			way := quarter(cure.Pivot.Sub(point("70", "40"))).Times(turn)
			if rest := cure.Shift.Sub(way); rest.Dot(rest).GreaterThan(dec("0.0006").Mul(dec("0.0006"))) || !cure.Zero.X.Equal(a.Second.X.Sub(cure.Shift.X)) {
				t.Errorf("%+v, both %v: the zero is moved for %s, want %s", c, cure.Both, cure.Shift, way)
			}
		}
	}
}
