package cut

import "math"

// Slack of the checks on material, mm. Depths are held to 24 bits (under 0.00001
// mm for 100 mm) and helices run within maxSag of their chords, so that a cutter
// that goes back the way it came stays within a few thousandths.
const clashSlack = 0.01

// check looks at the material that stroke k is about to meet in one tile: a rapid
// must meet none, and nothing may reach the shank. The outermost half cell of the
// reach is left out, since a wall's place is known no better.
func (w *worker) check(t *tile, x0, y0 float64, k *stroke, a act) {
	if a.rapid {
		w.meet(t, x0, y0, k, CodeRapid)
	}
	if a.shank != nil {
		above := *k
		above.p = a.shank
		above.z += a.flute
		w.meet(t, x0, y0, &above, CodeShank)
	}
}

// meet records the place in the tile where the material stands highest over the
// surface of k.
func (w *worker) meet(t *tile, x0, y0 float64, k *stroke, code Code) {
	if k.bottom() >= 0 {
		return
	}
	cell := w.g.Cell
	reach := k.p.R - cell/2
	xa, ya, xb, yb := k.box()
	span := func(lo, hi float64) (int, int) {
		return int(math.Max(0, math.Floor((lo-k.p.R)/cell))), int(math.Min(tileSize-1, math.Floor((hi+k.p.R)/cell)))
	}
	i0, i1 := span(xa-x0, xb-x0)
	j0, j1 := span(ya-y0, yb-y0)
	found := hit{}
	for j := j0; j <= j1; j++ {
		y := y0 + (float64(j)+0.5)*cell
		if y > w.g.H {
			break
		}
		for i := i0; i <= i1; i++ {
			x := x0 + (float64(i)+0.5)*cell
			if x > w.g.W {
				break
			}
			h := float64(t.h[w.side][j*tileSize+i])
			// The wood ends at the bed, and for the back at what the face has cut.
			under := -w.g.T
			if w.side == backSide {
				under -= float64(t.h[faceSide][j*tileSize+i])
			}
			if h <= under+throughSlack {
				continue // cut through already
			}
			if d, _, _ := k.near(x, y); d > reach {
				continue
			}
			s, ok := k.surface(x, y)
			if !ok || s >= h-clashSlack {
				continue
			}
			if n := (hit{depth: h - max(s, under), x: x, y: y}); n.worse(found) {
				found = n
			}
		}
	}
	if found.depth > 0 {
		w.hits = append(w.hits, keyedHit{hitKey{code, int(k.line)}, found})
	}
}
