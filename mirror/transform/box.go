package transform

import "github.com/shopspring/decimal"

// Box is the least and greatest X, Y and Z of something, in program coordinates.
// The Go zero value is empty.
type Box struct {
	Any             bool
	Least, Greatest [3]decimal.Decimal
}

// Join widens b so that it holds o as well.
func (b Box) Join(o Box) Box {
	switch {
	case !o.Any:
		return b
	case !b.Any:
		return o
	}
	for i := range 3 {
		b.Least[i] = decimal.Min(b.Least[i], o.Least[i])
		b.Greatest[i] = decimal.Max(b.Greatest[i], o.Greatest[i])
	}
	return b
}

// Box carries a box through the map.
func (m Map) Box(b Box) Box {
	for i := range 3 {
		l, g := m.Axis(i).Apply(b.Least[i]), m.Axis(i).Apply(b.Greatest[i])
		b.Least[i], b.Greatest[i] = decimal.Min(l, g), decimal.Max(l, g)
	}
	return b
}
