package draw

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/report/internal/readback"
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
		img := inkedMap(g, g.NX*12, 40, mapRule, func(v float64) int { return int(v) }, m.inks)
		worst := map[string]float64{"colour": 21, "grey": 21}
		box := img.Bounds()
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x+1 < box.Max.X; x++ {
				p, q := img.At(x, y), img.At(x+1, y)
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

// The figure brings its own inks and ground, so that a dark screen changes none of them.
func TestMapInksAreThoseOfPaper(t *testing.T) {
	s := checked(t)
	named := regexp.MustCompile(`var\(--(\w+)\)`)
	for name, svg := range map[string]string{"alone": CutBlank(s).SVG(true), "sheet": SheetCutBlank(s).SVG(false)} {
		all := readback.Nodes(t, svg)
		if strings.Contains(svg, "prefers-color-scheme") || strings.Contains(svg, ":root") {
			t.Errorf("%s: its inks change with the screen", name)
		}
		for _, ink := range named.FindAllStringSubmatch(rules(), -1) {
			if !strings.Contains(all[0].Attr["style"], "--"+ink[1]+":#") {
				t.Errorf("%s: the ink %s is the screen's", name, ink[1])
			}
		}
		view := readback.View(t, svg)
		ground := false
		for _, n := range all {
			ground = ground || n.Class == "ground" && n.Number(t, "width") == view[2] && n.Number(t, "height") == view[3]
		}
		if !ground {
			t.Errorf("%s: no ground as large as the figure", name)
		}
	}
}

// mapsOf gives the maps of a figure, in the order face, back, web.
func mapsOf(c *Canvas) (maps []dots) {
	for _, s := range c.shapes {
		if m, ok := s.(dots); ok && len(maps) < 3 {
			maps = append(maps, m)
		}
	}
	return maps
}

// Every cell of the grid has at least its own dot in the figure, uncut and cut through
// each in its own ink: a cut of a single cell is seen.
func TestMapIsDrawnCellByCell(t *testing.T) {
	s := checked(t)
	g := &Grid{NX: 740, NY: 493, Cell: 120.0 / 740, V: make([]float32, 740*493)}
	for i := range g.V {
		g.V[i] = 12
	}
	g.V[100*740+300] = 0.1
	g.V[200*740+500] = -0.1
	s.Cut.Web = g
	for name, c := range map[string]*Canvas{"alone": CutBlank(s), "sheet": SheetCutBlank(s)} {
		web := mapsOf(c)[2].img
		size := web.Bounds().Size()
		if size.X < g.NX || size.Y < g.NY {
			t.Errorf("%s: %d x %d cells are shown in %v dots", name, g.NX, g.NY, size)
		}
		at := func(i, j int) color.Color {
			return web.At((2*i+1)*size.X/(2*g.NX), size.Y-1-(2*j+1)*size.Y/(2*g.NY))
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
	// Both ways out show the very same dots, where no mark covers them.
	c := CutBlank(s)
	var b bytes.Buffer
	if err := c.PNG(&b, CutDots(s)); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	web := mapsOf(c)[2]
	var inPage []image.Image
	for _, n := range readback.Nodes(t, c.SVG(true)) {
		if text, ok := strings.CutPrefix(n.Attr["href"], "data:image/png;base64,"); n.Name == "image" && ok && strings.Contains(n.Attr["style"], "image-rendering:pixelated") {
			raw, err := base64.StdEncoding.DecodeString(text)
			if err != nil {
				t.Fatal(err)
			}
			m, err := png.Decode(bytes.NewReader(raw))
			if err != nil {
				t.Fatal(err)
			}
			inPage = append(inPage, m)
		}
	}
	view := c.shown()
	x0, y0 := int(math.Round((web.x0-view.x0)*CutDots(s))), int(math.Round((view.y1-web.y1)*CutDots(s)))
	for _, at := range [][2]int{{300, 60}, {301, 390}, {700, 470}, {20, 100}} {
		want := web.img.At(at[0], at[1])
		if got := img.At(x0+at[0], y0+at[1]); contrast(got, want) > 1.001 {
			t.Errorf("at %v the PNG is %v, the map %v", at, got, want)
		}
		if got := inPage[2].At(at[0], at[1]); contrast(got, want) > 1.001 {
			t.Errorf("at %v the SVG is %v, the map %v", at, got, want)
		}
	}
}

// The map keeps the thinnest place when cells are put together, and its bands
// are in order.
func TestWebMapKeepsThinPlaces(t *testing.T) {
	g := &Grid{NX: 1000, NY: 700, Cell: 0.1, V: make([]float32, 700_000)}
	for i := range g.V {
		g.V[i] = 12
	}
	g.V[350*1000+501] = 0.4
	inks := []string{"#000000", "#ffffff"}
	img := inkedMap(g, 160, 112, 1, func(v float64) int { return min(int(v), 1) }, inks)
	if !slices.Contains(img.Pix, 2) {
		t.Error("the least web left isn't on the map")
	}
	e, asked := webScale(0.125, 0.5)
	if got := e.key(1, asked, transform.Inch); got != "0.062 to 0.125, thin" || !asked {
		t.Errorf("the key says %q", got)
	}
	// Without a web asked for six equal bands of 12: 0, 2, 4 ... With 2 asked for of 32 the
	// bounds are 0, 1, 2 and 9.5, 17, 24.5, 32 (derived).
	for _, b := range []struct {
		asked, v, top float64
		want          int
	}{
		{0, -1, 12, -1}, {0, 0, 12, -1}, {0, 0.1, 12, 0}, {0, 2, 12, 1}, {0, 11.99, 12, 5}, {0, 12, 12, 5},
		{2, 0.99, 32, 0}, {2, 1.99, 32, 1}, {2, 2, 32, 2}, {2, 9.4, 32, 2}, {2, 9.6, 32, 3}, {2, 24.4, 32, 4}, {2, 31, 32, 5},
		{2, 1.5, 1.8, 5},
	} {
		e, _ := webScale(b.asked, b.top)
		if got := e.band(b.v); got != b.want {
			t.Errorf("a web of %g of %g lies in band %d, want %d", b.v, b.top, got, b.want)
		}
	}
}
