package report

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"
	"testing"
)

// luminance is the relative luminance of a colour (WCAG 2.2, definition of relative
// luminance; sRGB as in IEC 61966-2-1).
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	lin := func(v uint32) float64 {
		f := float64(v) / 0xffff
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
}

// contrast is the contrast ratio of WCAG 2.2: 21 for black on white (its own example).
func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// greyInk is a colour as a grey printer shows it: luma of ITU-R BT.601.
func greyInk(c color.Color) color.Color { return color.GrayModel.Convert(c) }

// Wherever two inks of a map touch, the contrast is 3 or more (WCAG 2.2, 1.4.11), in
// colour and in grey. Every band touches every other one, uncut and cut through too.
func TestMapBandsContrast(t *testing.T) {
	if c := contrast(color.White, color.Black); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white has a contrast of %g, want 21", c)
	}
	for _, m := range []struct {
		name string
		inks []string
	}{{"web", bandInks[:]}, {"depth", depthInks}} {
		// Rows and columns of bands, -1 for cut through, so that each lies beside each other.
		n := len(m.inks) + 1
		g := &Grid{NX: n * n * 2, NY: 1, Cell: 1}
		for a := range n {
			for b := range n {
				g.V = append(g.V, float32(a-1), float32(b-1))
			}
		}
		r := newRaster(g.NX*12, 40)
		r.cells(0, 0, float64(g.NX*12), 40, g, func(v float64) int { return int(v) }, m.inks)
		worst := map[string]float64{"colour": 21, "grey": 21}
		box := r.img.Bounds()
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x+1 < box.Max.X; x++ {
				p, q := r.img.RGBAAt(x, y), r.img.RGBAAt(x+1, y)
				if p != q {
					worst["colour"] = min(worst["colour"], contrast(p, q))
					worst["grey"] = min(worst["grey"], contrast(greyInk(p), greyInk(q)))
				}
			}
		}
		for how, c := range worst {
			if c < 3 {
				t.Errorf("%s: two inks that touch have a contrast of %.2f in %s, want at least 3", m.name, c, how)
			}
		}
		// Cut through is black with white lines: its ground against every band.
		for i, ink := range m.inks {
			if c := contrast(holeInk, inkOf(ink)); c < 3 {
				t.Errorf("%s: cut through against band %d has a contrast of %.2f", m.name, i, c)
			}
		}
	}
}

// The figure has a ground of its own, so that a dark screen changes none of its inks.
func TestMapInksAreThoseOfPaper(t *testing.T) {
	s := checked()
	for name, svg := range map[string]string{"alone": webAlone(t, s), "sheet": s.webFigure().SVG} {
		if strings.Contains(svg, "prefers-color-scheme") || strings.Contains(svg, "var(") {
			t.Errorf("%s: its inks change with the screen", name)
		}
		all := nodes(t, svg)
		ground := false
		for _, n := range all {
			ground = ground || n.name == "rect" && n.attr["fill"] == "#ffffff" && n.attr["width"] == all[0].attr["width"] && n.attr["height"] == all[0].attr["height"]
		}
		if !ground {
			t.Errorf("%s: no white ground as large as the figure", name)
		}
	}
}

func webAlone(t *testing.T, s Setup) string {
	t.Helper()
	var b bytes.Buffer
	if err := PictureSVG(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// mapsOf reads the maps out of a figure, in the order face, back, web.
func mapsOf(t *testing.T, svg string) (maps []image.Image) {
	t.Helper()
	for _, n := range nodes(t, svg) {
		if n.name != "image" {
			continue
		}
		text, ok := strings.CutPrefix(n.attr["href"], "data:image/png;base64,")
		if !ok || !strings.Contains(n.attr["style"], "image-rendering:pixelated") {
			t.Errorf("a map is no crisp PNG in place: %.40s, %s", n.attr["href"], n.attr["style"])
			continue
		}
		b, err := base64.StdEncoding.DecodeString(text)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		maps = append(maps, img)
	}
	return maps
}

// Every cell of the grid has at least its own dot in the figure, uncut and cut through
// each in its own ink: a cut of a single cell is seen.
func TestMapIsDrawnCellByCell(t *testing.T) {
	s := checked()
	d := *s.Drawings
	d.Web = &Grid{NX: 740, NY: 493, Cell: 120.0 / 740, V: make([]float32, 740*493)}
	for i := range d.Web.V {
		d.Web.V[i] = 12
	}
	d.Web.V[100*740+300] = 0.1
	d.Web.V[200*740+500] = -0.1
	s.Drawings = &d
	for name, svg := range map[string]string{"alone": webAlone(t, s), "sheet": s.webFigure().SVG} {
		maps := mapsOf(t, svg)
		if len(maps) != 3 {
			t.Fatalf("%s: %d maps, want face, back and web", name, len(maps))
		}
		web := maps[2]
		size := web.Bounds().Size()
		if size.X < d.Web.NX || size.Y < d.Web.NY {
			t.Errorf("%s: %d x %d cells are shown in %v dots", name, d.Web.NX, d.Web.NY, size)
		}
		at := func(i, j int) color.Color {
			return web.At((2*i+1)*size.X/(2*d.Web.NX), size.Y-1-(2*j+1)*size.Y/(2*d.Web.NY))
		}
		for _, c := range []struct {
			i, j int
			want color.Color
		}{{300, 100, inkOf(bandInks[0])}, {10, 10, inkOf(bandInks[uncut])}} {
			if got := at(c.i, c.j); contrast(got, c.want) > 1.001 {
				t.Errorf("%s: the cell at %d, %d is %v, want %v", name, c.i, c.j, got, c.want)
			}
		}
		if got := at(500, 200); contrast(got, holeInk) > 1.001 && contrast(got, color.White) > 1.001 {
			t.Errorf("%s: the hole is %v", name, got)
		}
	}
	var b bytes.Buffer
	if err := PicturePNG(&b, s); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	// The picture in pixels shows the very dots of the SVG, where no mark covers them.
	p, err := s.picture(pictureWide)
	if err != nil {
		t.Fatal(err)
	}
	web := mapsOf(t, webAlone(t, s))[2]
	x0, y0 := int(p.views[viewWeb].x), int(p.views[viewWeb].y)
	for _, at := range [][2]int{{300, 60}, {301, 390}, {700, 470}, {20, 100}} {
		if got, want := img.At(x0+at[0], y0+at[1]), web.At(at[0], at[1]); contrast(got, want) > 1.001 {
			t.Errorf("at %v the PNG is %v, the SVG %v", at, got, want)
		}
	}
}
