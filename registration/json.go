package registration

import (
	"encoding/json"

	"github.com/shopspring/decimal"
)

// MarshalText writes the flip as it is asked for.
func (f Flip) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// MarshalText writes the side's name.
func (s Side) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// MarshalText writes the touch as it is given.
func (t Spot) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// Frame names what a place is measured from.
func Frame(machine bool) string {
	if machine {
		return "machine"
	}
	return "face zero"
}

// MarshalJSON writes the zero with what it is measured from.
func (z SecondZero) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Offset string `json:"offset"`
		Position
		From string `json:"from"`
	}{z.Offset, Position{z.X, z.Y, z.Z}, Frame(z.Machine)})
}

// MarshalJSON writes the pin's place and its diameter.
func (p Pin) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Point
		Dia decimal.Decimal `json:"dia,omitzero"`
	}{p.At, p.Dia})
}
