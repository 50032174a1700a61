package report

import (
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"
	"strconv"
)

// raster is a board of pixels.
type raster struct{ img *image.RGBA }

func newRaster(w, h int) *raster { return &raster{image.NewRGBA(image.Rect(0, 0, w, h))} }

func (r *raster) write(w io.Writer) error {
	b, err := pngOf(r.img)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

var (
	black = color.RGBA{A: 255}
	white = color.RGBA{255, 255, 255, 255}
)

// inkOf reads "#rrggbb".
func inkOf(s string) color.RGBA {
	v, err := strconv.ParseUint(s[1:], 16, 32)
	if err != nil {
		return black
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

// mapRule is the width of the lines between a map's bands, and those of its hatching.
const mapRule = 2

func (r *raster) cells(x, y, w, h float64, g *Grid, band func(float64) int, inks []string) {
	img := inkedMap(g, int(w), int(h), mapRule, band, inks)
	draw.Draw(r.img, img.Bounds().Add(image.Pt(int(x), int(y))), img, image.Point{}, draw.Src)
}

func (r *raster) fill(x, y, w, h float64, ink string) {
	draw.Draw(r.img, image.Rect(int(x), int(y), int(x+w), int(y+h)), image.NewUniform(inkOf(ink)), image.Point{}, draw.Src)
}

func (r *raster) hatch(x, y, w, h float64, through bool) {
	const period = 4 * mapRule
	for j := int(y); j < int(y+h); j++ {
		for i := int(x); i < int(x+w); i++ {
			switch {
			case !through && (i-j+1<<20)%period < mapRule:
				r.img.SetRGBA(i, j, black)
			case through && (i+j)%period < mapRule:
				r.img.SetRGBA(i, j, white)
			case through:
				r.img.SetRGBA(i, j, holeInk)
			}
		}
	}
}

func (r *raster) frame(x, y, w, h, width float64) {
	for _, l := range [][4]float64{{x, y, x + w, y}, {x, y + h, x + w, y + h}, {x, y, x, y + h}, {x + w, y, x + w, y + h}} {
		r.line(l[0], l[1], l[2], l[3], width, false)
	}
}

// paint inks every pixel of a rectangle by how far its middle lies inside a
// shape: inside gives the distance to the edge, above 0 within. The last half
// pixel fades, so that edges are smooth.
func (r *raster) paint(x0, y0, x1, y1 float64, c color.RGBA, inside func(x, y float64) float64) {
	area := image.Rect(int(math.Floor(x0))-1, int(math.Floor(y0))-1, int(math.Ceil(x1))+2, int(math.Ceil(y1))+2).Intersect(r.img.Bounds())
	for j := area.Min.Y; j < area.Max.Y; j++ {
		for i := area.Min.X; i < area.Max.X; i++ {
			a := inside(float64(i)+0.5, float64(j)+0.5) + 0.5
			if a <= 0 {
				continue
			}
			a = min(a, 1)
			o := r.img.RGBAAt(i, j)
			mix := func(under, over uint8) uint8 { return uint8(float64(under)*(1-a) + float64(over)*a + 0.5) }
			r.img.SetRGBA(i, j, color.RGBA{mix(o.R, c.R), mix(o.G, c.G), mix(o.B, c.B), 255})
		}
	}
}

// stroke draws a straight line with round ends.
func (r *raster) stroke(x1, y1, x2, y2, width float64, c color.RGBA) {
	h := width / 2
	dx, dy := x2-x1, y2-y1
	n := dx*dx + dy*dy
	r.paint(min(x1, x2)-h, min(y1, y2)-h, max(x1, x2)+h, max(y1, y2)+h, c, func(x, y float64) float64 {
		t := 0.0
		if n > 0 {
			t = min(max(((x-x1)*dx+(y-y1)*dy)/n, 0), 1)
		}
		return h - math.Hypot(x-x1-t*dx, y-y1-t*dy)
	})
}

func (r *raster) line(x1, y1, x2, y2, width float64, dashed bool) {
	n := math.Hypot(x2-x1, y2-y1)
	if !dashed || n == 0 {
		r.stroke(x1, y1, x2, y2, width, black)
		return
	}
	dx, dy := (x2-x1)/n, (y2-y1)/n
	for a := 0.0; a < n; a += 7 {
		b := min(a+3.5, n)
		r.stroke(x1+dx*a, y1+dy*a, x1+dx*b, y1+dy*b, width, black)
	}
}

func (r *raster) leader(x1, y1, x2, y2 float64) {
	r.stroke(x1, y1, x2, y2, 7, white)
	r.stroke(x1, y1, x1, y1, 13, white)
	r.stroke(x1, y1, x2, y2, 2.5, black)
	r.stroke(x1, y1, x1, y1, 8, black)
}

func (r *raster) ring(x, y, radius, width float64, fill string) {
	band := func(c color.RGBA, width float64) {
		out := radius + width/2
		r.paint(x-out, y-out, x+out, y+out, c, func(px, py float64) float64 {
			return width/2 - math.Abs(math.Hypot(px-x, py-y)-radius)
		})
	}
	band(white, width+4) // keeps the ring apart from a dark ground
	if fill != "" {
		r.paint(x-radius, y-radius, x+radius, y+radius, inkOf(fill), func(px, py float64) float64 { return radius - math.Hypot(px-x, py-y) })
	}
	band(black, width)
}

func (r *raster) text(x, y float64, size int, anchor, s string) {
	s = ascii(plain(s))
	unit := float64(letterWide*size) / 6 // 4 for the letter, 2 between letters
	wide := float64(letterWide * size * len(s))
	switch anchor {
	case "middle":
		x -= (wide - 2*unit) / 2
	case "end":
		x -= wide - 2*unit
	}
	width := max(unit*0.95, 1.2)
	// A white edge first, so that letters read on any ground.
	for _, pass := range []struct {
		ink   color.RGBA
		width float64
	}{{white, width + 4}, {black, width}} {
		for i := range len(s) {
			left := x + float64(i*letterWide*size)
			for _, pts := range strokes(s[i]) {
				for k := range pts {
					p, q := pts[max(k-1, 0)], pts[k]
					if k == 0 && len(pts) > 1 {
						continue
					}
					r.stroke(left+p[0]*unit, y-p[1]*unit, left+q[0]*unit, y-q[1]*unit, pass.width, pass.ink)
				}
			}
		}
	}
}
