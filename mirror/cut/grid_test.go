package cut

import "math"

// Volume gives how much was cut off a side, mm^3: the sum over the cells of depth,
// counted to the other surface of the blank and no further, times area.
func (g *Grid) Volume(back bool) float64 {
	s := faceSide
	if back {
		s = backSide
	}
	sum := 0.0
	for j := range g.NY {
		for i := range g.NX {
			sum += math.Min(g.T, -g.depth(s, i, j))
		}
	}
	return sum * g.Cell * g.Cell
}

// Bytes gives the memory that the grid's cells take.
func (g *Grid) Bytes() int64 {
	n := int64(len(g.tiles)) * 8
	for _, t := range g.tiles {
		if t != nil {
			n += 16 * tileSize * tileSize
		}
	}
	return n
}
