package report

import (
	"math"
	"strings"

	"flipcalc/mirror/transform"
)

// WebDrawing draws the web left between face and back as a map of bands.
func WebDrawing(s Setup) string {
	c, title, desc := s.web()
	if c == nil {
		return ""
	}
	return c.svg(title, desc, true)
}

func (s *Setup) webFigure() Figure {
	c, title, desc := s.web()
	if c == nil {
		return Figure{}
	}
	return Figure{ID: "web", Title: title, Desc: desc, SVG: c.svg(title, desc, false)}
}

// bands is the number of steps of the web map.
const bands = 6

// bandInks run from thin to thick, dark to light, so that they keep their order
// in black and white and for every kind of colour vision.
var bandInks = [bands]string{"#1b2a4e", "#3b4d72", "#626f86", "#8f938c", "#c2ba83", "#f0e7a3"}

// coarse gives the least value of each block of cells, with at most most columns
// and rows, so that a thin place never falls through the mesh.
func (g *Grid) coarse(most int) *Grid {
	k := max((g.NX+most-1)/most, (g.NY+most-1)/most, 1)
	out := &Grid{NX: (g.NX + k - 1) / k, NY: (g.NY + k - 1) / k, Cell: g.Cell * float64(k), X0: g.X0, Y0: g.Y0}
	out.V = make([]float32, out.NX*out.NY)
	for i := range out.V {
		out.V[i] = float32(math.Inf(1))
	}
	for j := range g.NY {
		for i := range g.NX {
			p := &out.V[j/k*out.NX+i/k]
			*p = min(*p, g.At(i, j))
		}
	}
	return out
}

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

// webScale gives the scale up to top. Where no web was asked for, or more than there is
// anywhere, its bands are equal.
func (s *Setup) webScale(top float64) (e scale, asked bool) {
	least := 0.0
	if s.Check != nil && s.Check.Least != nil {
		least = fl(*s.Check.Least)
	}
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

// band is the step of the map in which a web of v lies, known to a millionth of what is
// left at most; -1 is none left.
func (e *scale) band(v float64) int {
	if v <= 0 || math.IsNaN(v) {
		return -1
	}
	b := 0
	for b < bands-1 && v > e[b+1]-1e-6*e[bands] {
		b++
	}
	return b
}

// key is the words beside band i, with the unit behind its bounds.
func (e *scale) key(i int, asked bool, u transform.Unit, unit string) string {
	bound := func(i int) string {
		if asked && i == thinBands {
			return rounded(e[i], 6) // the web asked for, as it was
		}
		return rounded(e[i], drawnPlaces(u))
	}
	k := bound(i) + " to " + bound(i+1) + unit
	if asked && i < thinBands {
		k += ", thin"
	}
	return k
}

// faceZero is the face zero in the blank's frame: what leads from a place of the
// face program to a place on the blank.
func (s *Setup) faceZero() (x, y float64) {
	if s.Answer == nil {
		return 0, 0
	}
	return fl(s.Answer.FaceZero.X), fl(s.Answer.FaceZero.Y)
}

func (s *Setup) web() (c *canvas, title, desc string) {
	if s.Drawings == nil || s.Drawings.Web == nil || s.Drawings.Web.NX == 0 || s.Drawings.Web.NY == 0 {
		return nil, "", ""
	}
	g := s.Drawings.Web.coarse(160)
	top := g.top()
	scale, asked := s.webScale(top)
	w, h := float64(g.NX)*g.Cell, float64(g.NY)*g.Cell
	if s.Answer != nil && s.Answer.Used.W.Sign() > 0 {
		w, h = fl(s.Answer.Used.W), fl(s.Answer.Used.H)
	}
	const share = 0.028
	em := w * 1.5 * share
	// The key's words stand right of its boxes, all of them in sight.
	key := make([]string, bands)
	longest := len("cut through")
	for i := range key {
		key[i] = scale.key(i, asked, s.Unit, " "+s.Unit.String())
		longest = max(longest, len(key[i]))
	}
	kx, kw := w*1.07, w*0.07
	c = newCanvas("web", -w*0.06, -2.6*em, kx+kw*1.2+em*letterShare*float64(longest), h+1.2*em, share)
	c.em = em
	runs := make([]strings.Builder, bands+1)
	for j := range g.NY {
		for i := 0; i < g.NX; {
			b := scale.band(float64(g.At(i, j)))
			k := i + 1
			for k < g.NX && scale.band(float64(g.At(k, j))) == b {
				k++
			}
			x := g.X0 + float64(i)*g.Cell
			x2 := min(g.X0+float64(k)*g.Cell, w)
			y2 := min(g.Y0+float64(j+1)*g.Cell, h)
			y := g.Y0 + float64(j)*g.Cell
			r := &runs[b+1]
			r.WriteString("M" + rounded(x, 3) + " " + rounded(c.y(y2), 3) + "h" + rounded(x2-x, 3) + "v" + rounded(y2-y, 3) + "h" + rounded(x-x2, 3) + "z")
			i = k
		}
	}
	for i := range runs {
		if runs[i].Len() == 0 {
			continue
		}
		if i == 0 {
			c.raw(`<path class="gone" fill="var(--paper)" stroke="none" d="%s"/>`+"\n", runs[i].String())
			c.raw(`<path class="gone" fill="url(#web-hole)" stroke="none" d="%s"/>`+"\n", runs[i].String())
			continue
		}
		c.raw(`<path data-band="%d" fill="%s" stroke="none" shape-rendering="crispEdges" d="%s"/>`+"\n", i, bandInks[i-1], runs[i].String())
	}
	c.rect("thick", 0, 0, w, h)
	// Key, thick at the far end.
	step := h / (bands + 1)
	c.fillRect("area", "hole", kx, 0, kw, step)
	c.text("", "start", kx+kw*1.2, step*0.5-c.em*0.3, 0.85, "cut through")
	for i := range bands {
		y := step * float64(i+1)
		c.raw(`<rect class="thin" style="fill:%s" x="%s" y="%s" width="%s" height="%s"/>`+"\n", bandInks[i], num(kx), num(c.y(y+step)), num(kw), num(step))
		c.text("", "start", kx+kw*1.2, y+step*0.5-c.em*0.3, 0.85, key[i])
	}
	zx, zy := s.faceZero()
	if ck := s.Check; ck != nil {
		if ck.HasWeb {
			x, y := ck.WebAt.X+zx, ck.WebAt.Y+zy
			c.line("zero-ring", x-c.em*0.9, y, x+c.em*0.9, y)
			c.line("zero-ring", x, y-c.em*0.9, x, y+c.em*0.9)
			c.text("label", "middle", x, y+c.em*1.1, 0.95, "least "+down(ck.WebMin, drawnPlaces(s.Unit)))
		}
		for i, f := range ck.Findings {
			if f.HasPlace {
				c.circle("find", f.X+zx, f.Y+zy, c.em*0.7)
				c.middled("label", f.X+zx, f.Y+zy, 0.9, itoa(i+1))
			}
		}
	}
	c.text("small", "start", 0, -1.8*em, 0.85, "face up; X to the right, Y away from the operator")
	title = "Web left between face and back"
	desc = "Map of the material left, face up, in " + itoa(bands) + " bands from 0 to " + rounded(top, drawnPlaces(s.Unit)) + " " + s.Unit.String() + "; darker is thinner."
	if asked {
		desc += " The " + itoa(thinBands) + " darkest are thinner than the " + s.Check.Least.String() + " asked for."
	}
	if s.Check != nil && s.Check.HasWeb {
		desc += " The least, " + down(s.Check.WebMin, 3) + ", lies at X" + rounded(s.Check.WebAt.X, 2) + " Y" + rounded(s.Check.WebAt.Y, 2) + "."
	}
	return c, title, desc
}
