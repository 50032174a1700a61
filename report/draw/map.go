package draw

import (
	"image"
	"image/color"
	"math"
	"slices"

	"flipcalc/mirror/transform"
	"flipcalc/report/letters"
)

// bands is the number of steps of the web map where something was cut; uncut is the
// band beyond them.
const (
	bands = 6
	uncut = bands
)

// A map's inks. Bands touch in any order, since a wall steps from any height to any
// other. Black to white is a contrast of 21, so at most three inks, a factor of 3 apart,
// could stand side by side (3 x 3 x 3 > 21). Hence a black line parts bands that touch, and
// every band has a contrast of 3 or more against black. Cut through is black too, hatched
// with white lines, so that it shows without colour.
var (
	holeInk  = color.RGBA{A: 255}
	whiteInk = color.RGBA{255, 255, 255, 255}

	// bandInks run from thin to thick, dark to light, so that they keep their order
	// in black and white and for every kind of colour vision; uncut comes last.
	bandInks = [bands + 1]string{"#5f7199", "#7788a8", "#979fa9", "#b8b5a8", "#d6cfa6", "#efe5a8", "#fdfbf4"}

	// depthInks shade a surface: uncut is light, the deepest cut dark.
	depthInks = []string{"#f6f1e6", "#d8d4ca", "#bbb6ad", "#9d9991", "#807b74", "#625e58"}
)

// top is the greatest finite value of a grid, at least a hair above 0.
func (g *Grid) top() float64 {
	t := 1e-9
	for _, v := range g.V {
		if f := float64(v); !math.IsInf(f, 0) && !math.IsNaN(f) {
			t = max(t, f)
		}
	}
	return t
}

// thinBands is how many of the bands, the darkest, stand for less than the web asked for.
const thinBands = 2

// scale is the bands of the web map: band i goes from scale[i] to scale[i+1]. The web asked
// for is a bound between two, so that thin and sound look different.
type scale [bands + 1]float64

// webScale gives the scale up to top, for a least web that was asked for, 0 for none.
// Where none was, or more than there is anywhere, its bands are equal.
func webScale(least, top float64) (e scale, asked bool) {
	asked = least > 0 && least < top
	for i := range e {
		switch {
		case !asked:
			e[i] = top * float64(i) / bands
		case i <= thinBands:
			e[i] = least * float64(i) / thinBands
		default:
			e[i] = least + (top-least)*float64(i-thinBands)/(bands-thinBands)
		}
	}
	return e, asked
}

// hair is how far a height counts as the same, as a part of the whole: a grid's values
// have 24 bits, one part in 17 million.
const hair = 1e-6

// band is the step of the map in which a web of v lies, known to a millionth of what is
// left at most; -1 is none left.
func (e *scale) band(v float64) int {
	if v <= 0 || math.IsNaN(v) {
		return -1
	}
	b := 0
	for b < bands-1 && v > e[b+1]-hair*e[bands] {
		b++
	}
	return b
}

// key is the words beside band i.
func (e *scale) key(i int, asked bool, u transform.Unit) string {
	bound := func(i int) string {
		if asked && i == thinBands {
			return letters.Rounded(e[i], 6) // the web asked for, as it was
		}
		return letters.Rounded(e[i], letters.Places(u))
	}
	if i == uncut {
		return "uncut"
	}
	k := bound(i) + " to " + bound(i+1)
	if asked && i < thinBands {
		k += ", thin"
	}
	return k
}

// mapRule is the width of the lines between a map's bands, and of those of its hatching,
// in dots.
const mapRule = 2

// inkedMap draws a grid n dots wide and m high, its row 0 at the foot. A dot shows the
// least of the cells under it, so that a thin place never falls through the mesh. Lines
// part the bands, rule dots wide, on the thicker side: they hide nothing thin.
func inkedMap(g *Grid, n, m, rule int, band func(float64) int, inks []string) *image.Paletted {
	palette := color.Palette{holeInk, whiteInk}
	for _, ink := range inks {
		palette = append(palette, inkOf(ink))
	}
	bandOf := make([]int8, len(g.V)) // by cell
	for k, v := range g.V {
		bandOf[k] = int8(min(len(inks)-1, band(float64(v))))
	}
	step := make([]int8, n*m)
	for j := range m {
		j0, j1 := j*g.NY/m, ((j+1)*g.NY+m-1)/m
		row := step[(m-1-j)*n:][:n]
		for i := range row {
			i0, i1 := i*g.NX/n, ((i+1)*g.NX+n-1)/n
			row[i] = bandOf[j0*g.NX+i0]
			for y := j0; y < j1; y++ {
				row[i] = min(row[i], slices.Min(bandOf[y*g.NX+i0:y*g.NX+i1]))
			}
		}
	}
	near := leastNear(step, n, rule)
	img := image.NewPaletted(image.Rect(0, 0, n, m), palette)
	for k, b := range step {
		switch {
		case b < 0 && (k%n+k/n)%(4*rule) < rule:
			img.Pix[k] = 1
		case b < 0 || near[k] < b:
			img.Pix[k] = 0
		default:
			img.Pix[k] = uint8(b + 2)
		}
	}
	return img
}

// leastNear gives the least value within reach of each dot along both axes, of rows n long:
// along the rows first, then across them.
func leastNear(v []int8, n, reach int) []int8 {
	along := slices.Clone(v)
	for k := 0; k < len(v); k += n {
		for d := 1; d <= min(reach, n-1); d++ {
			lower(along[k:k+n-d], v[k+d:k+n])
			lower(along[k+d:k+n], v[k:k+n-d])
		}
	}
	out := slices.Clone(along)
	for d := n; d <= min(reach*n, len(v)-n); d += n {
		lower(out[:len(v)-d], along[d:])
		lower(out[d:], along[:len(v)-d])
	}
	return out
}

// lower puts the lesser of two values in the place of the first.
func lower(to, by []int8) {
	for i, v := range by[:len(to)] {
		to[i] = min(to[i], v)
	}
}
