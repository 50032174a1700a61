package cut

import "math"

// Hollow says whether the face has a hole or a pocket about a place from the blank's near-left
// corner whose walls stand equally far off on opposite sides, so that its center can be found
// there with a finder, and whether it goes through to the back. Each wall is known to within a
// cell's diagonal: two differ by under 3 cells.
func (g *Grid) Hollow(x, y float64) (centred, through bool) {
	i, j := g.cellAt(x, y)
	if !g.inside(i, j) || g.Face(i, j)+throughSlack >= g.T {
		return false, false
	}
	floor := g.Face(i, j) + throughSlack
	wall := func(sin, cos float64) float64 {
		for d := 0.0; ; d += g.Cell / 2 {
			if i, j := g.cellAt(x+d*cos, y+d*sin); !g.inside(i, j) {
				return math.Inf(1)
			} else if g.Face(i, j) > floor {
				return d
			}
		}
	}
	const ways = 36
	for n := range ways {
		sin, cos := math.Sincos(float64(n) * math.Pi / ways)
		if off := math.Abs(wall(sin, cos) - wall(-sin, -cos)); !(off < 3*g.Cell) {
			return false, false
		}
	}
	return true, g.Face(i, j) <= throughSlack
}
