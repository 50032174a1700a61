package pattern

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

func bores(t *testing.T, p *Pattern, where Where, beyond string) string {
	t.Helper()
	list, err := p.Bores(where, dec(beyond))
	if err != nil {
		return err.Error()
	}
	var s []string
	for _, b := range list {
		// Where a blank is, its top is where its holes begin; over the bare bed it
		// is its thickness higher.
		if high := b.Top.Sub(b.Surface); where == Blank && !high.IsZero() || where == Bed && !high.Equal(dec("12")) || where == BackBed && !high.Equal(dec("11")) {
			t.Errorf("the top is %s over the surface", high)
		}
		s = append(s, fmt.Sprintf("%s at %s,%s from %s to %s", b.Dia, b.X, b.Y, b.Surface, b.Bottom))
	}
	return strings.Join(s, "; ")
}

// Where the holes lie and how deep they go, worked out by hand: a 12 mm marker
// with its zero in the middle, pins of 8 and 6 that stand 9 and 7 in the bed.
func TestBores(t *testing.T) {
	q := registration.Question{
		Stock: blank("120", "80", "12"), Flip: registration.FlipY, Fit: "H7/g6",
		Zero: registration.Zero{Name: "center"}, At: &registration.Position{X: dec("200"), Y: dec("100"), Z: decp("-30")},
	}
	o := Options{Margin: decp("12"), Spoilboard: dec("18"), Over: dec("2")}
	p, err := Propose(q, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		where  Where
		beyond string
		want   string
	}{
		{Blank, "0", "8 at 0,-32 from 0 to -12; 6 at 0,34 from 0 to -12"},
		{Blank, "0.4", "8 at 0,-32 from 0 to -12.4; 6 at 0,34 from 0 to -12.4"},
		{Bed, "0.4", "8 at 0,-32 from -12 to -21; 6 at 0,34 from -12 to -19"},
		{Through, "0", "8 at 0,-32 from 0 to -21; 6 at 0,34 from 0 to -19"},
		{BackBed, "0", "back-pin: no second station, expected ‹back-pin X,Y›; hint: the same dowels serve both sides"},
		{Blank, "-1", "beyond: -1, expected 0 or more"},
		{Where(9), "0", "drill: 9, expected blank, bed, through or back-bed"},
	} {
		if got := bores(t, p, c.where, c.beyond); got != c.want {
			t.Errorf("%d: %s, want %s", c.where, got, c.want)
		}
	}
	// Zero on the bed: the blank's top is at its thickness.
	q.ZZero, q.BackZZero = registration.Bed, registration.Bed
	if p, err = Propose(q, o); err != nil {
		t.Fatal(err)
	}
	if got := bores(t, p, Through, "0"); got != "8 at 0,-32 from 12 to -9; 6 at 0,34 from 12 to -7" {
		t.Error(got)
	}
	if got := bores(t, p, Bed, "0"); got != "8 at 0,-32 from 0 to -9; 6 at 0,34 from 0 to -7" {
		t.Error(got)
	}
	// A second station: the turned pins in the frame of the second zero. The blank
	// turned by flip y has its pins at (60, 8) and (60, 74) again, the zero in the
	// middle. The blank was skimmed by 1 before it came there.
	q.ZZero, q.BackZZero, q.Skimmed = registration.Top, registration.Top, dec("1")
	at := registration.Point{X: dec("500"), Y: dec("108")}
	q.BackPin = &at
	if p, err = Propose(q, o); err != nil {
		t.Fatal(err)
	}
	if got := bores(t, p, BackBed, "0"); got != "8 at 0,-32 from -11 to -20; 6 at 0,34 from -11 to -18" {
		t.Error(got)
	}
	if got := bores(t, p, Blank, "0"); got != "8 at 0,-32 from 0 to -12; 6 at 0,34 from 0 to -12" {
		t.Error(got)
	}
	// The machine places agree with where the second station's first pin was put.
	if !p.Answer.Second.X.Equal(dec("500")) || !p.Answer.Second.Y.Equal(dec("140")) {
		t.Errorf("second zero %+v", p.Answer.Second)
	}
	// A correction moves the zero that the offset holds; the bed's holes stay where they are.
	moved := p.Answer.Corrected(1, []registration.Correction{{Pair: 1, Shift: registration.Point{X: dec("-0.3"), Y: dec("0.4")}}})
	if p, err = At(moved, o); err != nil {
		t.Fatal(err)
	}
	if got := bores(t, p, BackBed, "0"); got != "8 at 0.3,-32.4 from -11 to -20; 6 at 0.3,33.6 from -11 to -18" {
		t.Error(got)
	}
	// Without a depth for the bed there is nothing to drill there.
	o.Spoilboard = decimal.Zero
	if p, err = Propose(q, o); err != nil {
		t.Fatal(err)
	}
	if got := bores(t, p, Bed, "0"); got != "spoilboard: dowel 1 has no depth in the bed, expected how deep it may go into the bed" {
		t.Error(got)
	}
}
