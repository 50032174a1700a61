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

// Box carries a box through the map; through a turn it is the least box that holds it, to
// 1e-9 of the unit.
func (m Map) Box(b Box) Box {
	for i := range 3 {
		l, g := m.Axis(i).Apply(b.Least[i]), m.Axis(i).Apply(b.Greatest[i])
		b.Least[i], b.Greatest[i] = decimal.Min(l, g), decimal.Max(l, g)
	}
	if m.Turn.IsZero() || !b.Any {
		return b
	}
	var turned Box
	for i, x := range [2]decimal.Decimal{b.Least[0], b.Greatest[0]} {
		for k, y := range [2]decimal.Decimal{b.Least[1], b.Greatest[1]} {
			x, y := m.turned(x, y)
			corner := [3]decimal.Decimal{x, y, b.Least[2]}
			if i == k {
				corner[2] = b.Greatest[2]
			}
			turned = turned.Join(Box{Any: true, Least: corner, Greatest: corner})
		}
	}
	return turned
}
