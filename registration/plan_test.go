package registration

import (
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

// planned is a bread board of which these touches are still to be made.
func planned(t *testing.T, touches ...string) Question {
	t.Helper()
	q := board()
	q.Register, q.Finder, q.Fence, q.Stop = Touched, ptr("6"), Contact{}, Contact{}
	for _, s := range touches {
		spot, err := ParseSpot(s, transform.MM)
		if err != nil {
			t.Fatal(err)
		}
		q.Touched = append(q.Touched, spot)
	}
	return q
}

// Where the turned board is to be touched, worked out by hand: touches of one edge a tenth
// of it from its ends, a single one in its middle, the finder's axis half of 6 mm outside
// the edge; a hole at u comes to 140 - u.
func TestPlannedTouches(t *testing.T) {
	for _, c := range []struct{ touches, want string }{
		{"near near left", "14,-3 126,-3 -3,45"},
		{"far near near near", ""}, // nothing along X
		{"right right far", "143,9 143,81 70,93"},
		{"20,30 100,60", "120,30 40,60"},
		{"20,30 far far far", "120,30 14,93 70,93 126,93"},
	} {
		a, err := Solve(planned(t, strings.Fields(c.touches)...))
		if c.want == "" {
			if err == nil || !strings.HasPrefix(err.Error(), "touched: nothing fixes the blank along X, ") {
				t.Errorf("%s: %v", c.touches, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.touches, err)
			continue
		}
		var got []string
		for i, p := range a.Spots {
			got = append(got, p.On.String())
			if p.Spot.Name() != strings.Fields(c.touches)[i] {
				t.Errorf("%s: touch %d is %s", c.touches, i+1, p.Spot.Name())
			}
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: at %s, want %s", c.touches, s, c.want)
		}
		if !a.ToTouch() || a.Second != nil || a.BackCorner != nil {
			t.Errorf("%s: the turned blank's place is known before it was touched: %+v", c.touches, a.Second)
		}
		last := Fact{}
		for _, f := range a.Facts {
			if _, ok := f.Is.(TouchFirst); ok {
				last = f
			}
		}
		if last.Level != LevelWarning || last.Is != (TouchFirst{len(got)}) {
			t.Errorf("%s: no warning to touch first: %+v", c.touches, a.Facts)
		}
	}
}

func TestBadPlans(t *testing.T) {
	for _, c := range []struct {
		touches string
		change  func(*Question)
		want    string
	}{
		{"near@1,2 near left", nil, "touched: touch 2, near, has no place yet, expected the spindle's place, @X,Y, behind each touch or behind none"},
		{"near near left", func(q *Question) { q.Finder = nil }, "finder: missing, and touch 1 is of an edge, expected the diameter of the finder"},
		{"20,91 100,60", nil, "touched: touch 1: a hole at 20,91 is outside the blank of 140 by 90, expected X 0 to 140, Y 0 to 90; hint: from the near-left corner, face up"},
		// Two holes 2 mm apart along X, each read to 0.02: (0.02 + 0.02) / 2 radians, 1.146
		// degrees. The touch farthest along X from them, at 118 and 120, is the near edge's at 14.
		{"20,30 22,30", func(q *Question) { q.Slack, q.TurnLimit = &Slack{Touch: d("0.02")}, ptr("0.2") }, "touched: the turn is known to 1.146 degrees only, " +
			"expected ‹turn-limit›, 0.2 degrees, or less; hint: touch the near edge too, near its left end"},
	} {
		q := planned(t, strings.Fields(c.touches)...)
		if c.change != nil {
			c.change(&q)
		}
		if _, err := Solve(q); err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.touches, err, c.want)
		}
	}
}
