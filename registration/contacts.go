package registration

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Contacts are where fence and stop touch a blank, as it lies, on either side: the
// fence's two along its edge, from the blank's left or near end, and the stop's along
// its own, from the edge at the fence. Lengths in the question's unit.
type Contacts struct {
	Fence [2]decimal.Decimal
	Stop  decimal.Decimal
}

// What contacts are taken to be where nobody said: the fence's a seventh of the edge,
// nearly, from its ends and the stop's in the middle, as contacts stand clear of corners
// that chip (common practice).
var (
	contactEnd = decimal.New(15, -2)
	contactFar = decimal.New(85, -2)
)

// ContactsOn gives the contacts on a blank that lies against a fence at a side; Question
// has them where the maker said.
func (q *Question) ContactsOn(b Blank, fence Side) Contacts {
	if q.Contacts != nil {
		return *q.Contacts
	}
	l := fence.length(b)
	return Contacts{Fence: [2]decimal.Decimal{l.Mul(contactEnd), l.Mul(contactFar)}, Stop: fence.across(b).Mul(half)}
}

// Points gives the places of the fence's contacts, the one at the left or near end first,
// and of the stop's, in the frame of the blank as it lies.
func (c Contacts) Points(b Blank, fence, stop Side) (f [2]Point, s Point) {
	on := func(edge Side, along decimal.Decimal) Point {
		p := Point{X: along, Y: edge.edge(decimal.Zero, b)}
		if edge.acrossX() {
			p.X, p.Y = p.Y, p.X
		}
		return p
	}
	for i := range f {
		f[i] = on(fence, c.Fence[i])
	}
	from := c.Stop // the edge at the fence may lie at the far or right end
	if fence.upper() {
		from = fence.across(b).Sub(from)
	}
	return f, on(stop, from)
}

// check refuses contacts that aren't on the edges of a blank against a fence.
func (c Contacts) check(b Blank, fence Side) error {
	l, w := fence.length(b), fence.across(b)
	bad := func(v, most decimal.Decimal) bool { return v.IsNegative() || v.GreaterThan(most) }
	if c.Fence[0].GreaterThanOrEqual(c.Fence[1]) || bad(c.Fence[0], l) || bad(c.Fence[1], l) || bad(c.Stop, w) {
		return &Error{About: "contacts", Found: c.Fence[0].String() + "," + c.Fence[1].String() + "," + c.Stop.String(),
			Expected: "two places along the fence, 0 to " + l.String() + ", the lesser first, and the stop's from the fence, 0 to " + w.String()}
	}
	return nil
}

// ParseContacts reads A,B,S: the fence's contacts from the blank's left or near end, and
// the stop's from the fence.
func ParseContacts(s string, u transform.Unit) (Contacts, error) {
	var v [3]decimal.Decimal
	parts := strings.Split(s, ",")
	if len(parts) != len(v) {
		return Contacts{}, unknown(s, "A,B,S: the fence's contacts from the blank's left or near end, and the stop's from the fence, such as 20,120,45")
	}
	for i, p := range parts {
		var err error
		if v[i], err = ParseLength(p, u); err != nil {
			return Contacts{}, err
		}
	}
	return Contacts{Fence: [2]decimal.Decimal{v[0], v[1]}, Stop: v[2]}, nil
}
