package cut

import (
	"fmt"
	"iter"
	"math"

	"flipcalc/mirror/fault"
)

// tileSize is how many cells a tile has along X and along Y.
const tileSize = 64

// tile holds a square of cells, 16 bytes for each: for both sides how far the
// surface lies below that side's own top (0 or less) and the program line that
// cut it there.
type tile struct {
	h    [2][tileSize * tileSize]float32
	line [2][tileSize * tileSize]uint32
}

// The two sides.
const (
	faceSide = 0
	backSide = 1
)

// Grid is a blank as both programs left it, in cells seen from the face: cell
// (0, 0) lies at the near-left corner, i grows to the right and j away from the
// operator. A height is exact at the centre of its cell (see ErrorBound) and
// stored to 24 bits. A tile that nothing has cut takes no memory.
type Grid struct {
	W, H, T float64 // size of the blank, mm
	Cell    float64 // side of a cell, mm
	NX, NY  int     // cells along X and along Y

	tx, ty int
	tiles  []*tile
}

// maxCells bounds a grid: 16 bytes for each come to 3.2 GB.
const maxCells = 200_000_000

// newGrid lays a grid of the given cell over an uncut blank.
func newGrid(w, h, t, cell float64) (*Grid, error) {
	for _, v := range []struct {
		name string
		v    float64
	}{{"width", w}, {"height", h}, {"thickness", t}, {"cell", cell}} {
		if !(v.v > 0) || math.IsInf(v.v, 0) {
			return nil, &fault.Error{Found: v.name + " " + fault.Number(v.v) + " mm", Expected: "a length over 0"}
		}
	}
	nx, ny := math.Ceil(w/cell-1e-9), math.Ceil(h/cell-1e-9)
	if nx*ny > maxCells {
		return nil, &fault.Error{
			About:    "cell",
			Found:    fmt.Sprintf("cells of %s mm make %s of them", fault.Number(cell), fault.Number(nx*ny)),
			Expected: fmt.Sprintf("at most %d", maxCells),
			Hint:     "take a cell of at least " + fault.Number(math.Ceil(math.Sqrt(w*h/maxCells)*1e3)/1e3) + " mm",
		}
	}
	g := &Grid{W: w, H: h, T: t, Cell: cell, NX: max(1, int(nx)), NY: max(1, int(ny))}
	g.tx, g.ty = (g.NX+tileSize-1)/tileSize, (g.NY+tileSize-1)/tileSize
	g.tiles = make([]*tile, g.tx*g.ty)
	return g, nil
}

// at gives a cell's tile, nil where nothing was cut, and its place in it.
func (g *Grid) at(i, j int) (*tile, int) {
	return g.tiles[(j/tileSize)*g.tx+i/tileSize], (j%tileSize)*tileSize + i%tileSize
}

// cut goes over the cells that either side cuts.
func (g *Grid) cut() iter.Seq2[int, int] {
	return func(yield func(i, j int) bool) {
		for n, c := range g.tiles {
			if c == nil {
				continue
			}
			for k := range c.h[0] {
				i, j := n%g.tx*tileSize+k%tileSize, n/g.tx*tileSize+k/tileSize
				if (c.h[faceSide][k] < 0 || c.h[backSide][k] < 0) && i < g.NX && j < g.NY && !yield(i, j) {
					return
				}
			}
		}
	}
}

// depth gives how far side s lies below its own top at a cell: 0 or less.
func (g *Grid) depth(s, i, j int) float64 {
	if t, k := g.at(i, j); t != nil {
		return float64(t.h[s][k])
	}
	return 0
}

// cutLine gives the line that cut side s at a cell; 0 where it is uncut.
func (g *Grid) cutLine(s, i, j int) int {
	if t, k := g.at(i, j); t != nil {
		return int(t.line[s][k])
	}
	return 0
}

// Face gives the height of the face at cell (i, j) above the blank's bed side, mm.
// It is below 0 where the cut goes into the bed.
func (g *Grid) Face(i, j int) float64 { return g.T + g.depth(faceSide, i, j) }

// Back gives the height of the back's surface at cell (i, j) above the blank's bed
// side as it lay face up, mm: 0 where it is uncut.
func (g *Grid) Back(i, j int) float64 { return -g.depth(backSide, i, j) }

// Web gives what is left between face and back at cell (i, j), mm; below 0 by how
// far the two cuts overlap.
func (g *Grid) Web(i, j int) float64 {
	if t, k := g.at(i, j); t != nil {
		return g.T + float64(t.h[faceSide][k]) + float64(t.h[backSide][k])
	}
	return g.T
}

// Centre gives the centre of cell (i, j) from the blank's near-left corner, mm.
func (g *Grid) Centre(i, j int) (x, y float64) {
	return (float64(i) + 0.5) * g.Cell, (float64(j) + 0.5) * g.Cell
}

// spot gives a cell's centre and the lines that cut it.
func (g *Grid) spot(i, j int) (at Spot) {
	at.X, at.Y = g.Centre(i, j)
	at.FaceLine, at.BackLine = g.cutLine(faceSide, i, j), g.cutLine(backSide, i, j)
	return at
}

// inside says whether a cell is on the grid.
func (g *Grid) inside(i, j int) bool { return i >= 0 && j >= 0 && i < g.NX && j < g.NY }

// cellAt gives the cell that holds a place, which may lie off the grid.
func (g *Grid) cellAt(x, y float64) (i, j int) {
	return int(math.Floor(x / g.Cell)), int(math.Floor(y / g.Cell))
}

// View is a grid for the eye: heights over the blank's bed side in rows from near
// to far, each from left to right.
type View struct {
	Width, Height int
	Cell          float64   // side of one pixel, mm
	Face          []float32 // height of the face, seen from above with the face up
	Back          []float32 // height of the back over the seating plane as the turned blank lies, seen from above; 0 where the face cut through
	Web           []float32 // least thickness left, seen from the face; 0 or less is through
}

// View gives the grid in at most maxWidth x maxHeight pixels, each the deepest cut
// and the least web of its cells. flipX says that the blank is turned about a
// line parallel to X (near edge goes far) and not like a page.
func (g *Grid) View(maxWidth, maxHeight int, flipX bool) View {
	n := 1
	for (g.NX+n-1)/n > max(1, maxWidth) || (g.NY+n-1)/n > max(1, maxHeight) {
		n++
	}
	v := View{Width: (g.NX + n - 1) / n, Height: (g.NY + n - 1) / n, Cell: g.Cell * float64(n)}
	size := v.Width * v.Height
	v.Face, v.Back, v.Web = make([]float32, size), make([]float32, size), make([]float32, size)
	top := float32(g.T)
	for k := range size {
		v.Face[k], v.Back[k], v.Web[k] = top, top, top
	}
	for j := range g.NY {
		for i := range g.NX {
			t, c := g.at(i, j)
			if t == nil {
				continue
			}
			f, b := t.h[faceSide][c], t.h[backSide][c]
			x, y := i/n, j/n
			k := y*v.Width + x
			v.Face[k] = min(v.Face[k], top+f)
			v.Web[k] = min(v.Web[k], top+f+b)
			if flipX {
				y = v.Height - 1 - y
			} else {
				x = v.Width - 1 - x
			}
			k = y*v.Width + x
			if top+f <= throughSlack {
				v.Back[k] = 0 // a hole that the face left
			}
			v.Back[k] = min(v.Back[k], top+b)
		}
	}
	return v
}
