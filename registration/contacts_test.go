package registration

import (
	"testing"

	"flipcalc/mirror/transform"
)

// Contacts on a board of 140 x 90, worked out by hand: the fence's lie along its edge from
// the left or near end, the stop's is measured from the fence.
func TestContactPoints(t *testing.T) {
	b := *board().Stock
	for _, c := range []struct {
		in          string
		fence, stop Side
		want        [3]string
	}{
		{"20,120,45", Near, Left, [3]string{"20,0", "120,0", "0,45"}},
		{"20,120,30", Far, Right, [3]string{"20,90", "120,90", "140,60"}},
		{"10,80,30", Left, Far, [3]string{"0,10", "0,80", "30,90"}},
		{"10,80,30", Right, Near, [3]string{"140,10", "140,80", "110,0"}},
		{"", Near, Left, [3]string{"21,0", "119,0", "0,45"}}, // 0.15 and 0.85 of 140, half of 90
	} {
		q := board()
		if c.in != "" {
			on, err := ParseContacts(c.in, transform.MM)
			if err != nil {
				t.Fatal(err)
			}
			q.Contacts = &on
		}
		f, s := q.ContactsOn(b, c.fence).Points(b, c.fence, c.stop)
		if got := [3]string{f[0].String(), f[1].String(), s.String()}; got != c.want {
			t.Errorf("%s on %v and %v: %v, want %v", c.in, c.fence, c.stop, got, c.want)
		}
	}
}

func TestBadContacts(t *testing.T) {
	const form = ", expected A,B,S: the fence's contacts from the blank's left or near end, and the stop's from the fence, such as 20,120,45"
	const on = ", expected two places along the fence, 0 to 140, the lesser first, and the stop's from the fence, 0 to 90"
	for in, want := range map[string]string{
		"20,120":     `"20,120"` + form,
		"20,120,4,5": `"20,120,4,5"` + form,
		"20,b,45":    `"b" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm`,
		"120,20,45":  "contacts: 120,20,45" + on,
		"20,20,45":   "contacts: 20,20,45" + on,
		"-1,120,45":  "contacts: -1,120,45" + on,
		"20,141,45":  "contacts: 20,141,45" + on,
		"20,120,91":  "contacts: 20,120,91" + on,
		"20,120,-1":  "contacts: 20,120,-1" + on,
	} {
		c, err := ParseContacts(in, transform.MM)
		if err == nil {
			q := board()
			q.Contacts = &c
			_, err = Solve(q)
		}
		if err == nil || err.Error() != want {
			t.Errorf("%s:\n got %v\nwant %s", in, err, want)
		}
	}
}
