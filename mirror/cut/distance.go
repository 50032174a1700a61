package cut

import "math"

// distances holds, for each cell of a box around a region, the square of how far the nearest
// cell outside the region lies, in cells; 0 outside.
type distances struct {
	i0, j0, w, h int
	square       []int32
}

// at gives that of a cell, 0 outside.
func (d *distances) at(i, j int) int32 {
	if i, j = i-d.i0, j-d.j0; i < 0 || j < 0 || i >= d.w || j >= d.h {
		return 0
	}
	return d.square[j*d.w+i]
}

// distances measures regions, with a cell of rim all around: exact, column by column and
// then row by row, as the lower envelope of parabolas (Felzenszwalb and Huttenlocher, Distance
// Transforms of Sampled Functions, Theory of Computing 8, 2012; from memory). Squares hold up to
// regions of 46,000 cells.
func (g *Grid) distances(spans []span) distances {
	b := box(spans)
	d := distances{i0: b.i0 - 1, j0: b.j0 - 1, w: b.i1 - b.i0 + 3, h: b.j1 - b.j0 + 3}
	d.square = make([]int32, d.w*d.h)
	const in = math.MaxInt32
	for i, j := range cells(spans) {
		d.square[(j-d.j0)*d.w+i-d.i0] = in
	}
	for i := range d.w { // up and down each column
		for _, up := range [2]bool{true, false} {
			away := int32(0)
			for n := range d.h {
				j := n
				if !up {
					j = d.h - 1 - n
				}
				k := j*d.w + i
				if away++; d.square[k] == 0 {
					away = 0
				}
				d.square[k] = min(d.square[k], away*away)
			}
		}
	}
	f := make([]float64, d.w)
	at := make([]int, d.w)       // the parabolas of the envelope
	from := make([]float64, d.w) // where each begins to be the lowest
	for j := range d.h {
		row := d.square[j*d.w : (j+1)*d.w]
		n := 0
		for i, v := range row {
			f[i] = float64(v)
			for n > 0 {
				p := at[n-1]
				from[n] = ((f[i] + float64(i*i)) - (f[p] + float64(p*p))) / float64(2*(i-p))
				if n == 1 || from[n] > from[n-1] {
					break
				}
				n--
			}
			at[n] = i
			n++
		}
		k := 0
		for i := range row {
			for k+1 < n && from[k+1] < float64(i) {
				k++
			}
			row[i] = int32((i-at[k])*(i-at[k])) + int32(f[at[k]])
		}
	}
	return d
}

// widest gives the radius of the widest disc that lies in a region, mm.
func (s *study) widest(spans []span) float64 {
	_, _, clear := innermost(s.g, spans)
	return clear
}
