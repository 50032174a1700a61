package report

import (
	"encoding/base64"
	"fmt"
	"strings"
)

// vector is a board of SVG, with the pixels of the PNG as its unit. Its inks are those of
// paper on every screen: a map's bands are told apart by lightness.
type vector struct {
	w, h        int
	title, desc string
	dense       int // dots of a map per unit
	b           strings.Builder
	err         error
}

// svg closes the picture; it stands alone and in a page.
func (v *vector) svg() (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="cutmap" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="web-title web-desc">`+"\n", v.w, v.h, v.w, v.h)
	fmt.Fprintf(&b, "<title id=\"web-title\">%s</title>\n<desc id=\"web-desc\">%s</desc>\n", esc(v.title), esc(v.desc))
	b.WriteString(`<defs><pattern id="web-hole" patternUnits="userSpaceOnUse" width="5.66" height="5.66" patternTransform="rotate(45)"><path fill="#000" d="M0 0h5.66v5.66h-5.66z"/><path fill="#fff" d="M0 0h1.4v5.66h-1.4z"/></pattern><pattern id="web-nogo" patternUnits="userSpaceOnUse" width="8" height="8" patternTransform="rotate(-45)"><line x1="0" y1="0" x2="0" y2="8" stroke="#000" stroke-width="2.4"/></pattern></defs>` + "\n")
	b.WriteString(`<style>.cutmap text{font-family:ui-monospace,monospace;paint-order:stroke;stroke:#fff;stroke-width:4px;stroke-linejoin:round}</style>` + "\n")
	b.WriteString(v.b.String())
	b.WriteString("</svg>\n")
	return b.String(), v.err
}

// cells sets the map in as a picture in place: a path for each run of cells would be many
// times as large.
func (v *vector) cells(x, y, w, h float64, g *Grid, band func(float64) int, inks []string) {
	img, err := pngOf(inkedMap(g, int(w)*v.dense, int(h)*v.dense, mapRule*v.dense, band, inks))
	if err != nil {
		v.err = err
	}
	fmt.Fprintf(&v.b, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" style="image-rendering:pixelated" href="data:image/png;base64,%s"/>`+"\n",
		rounded(x, 2), rounded(y, 2), rounded(w, 2), rounded(h, 2), base64.StdEncoding.EncodeToString(img))
}

func (v *vector) fill(x, y, w, h float64, ink string) {
	fmt.Fprintf(&v.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n", rounded(x, 2), rounded(y, 2), rounded(w, 2), rounded(h, 2), ink)
}

func (v *vector) hatch(x, y, w, h float64, through bool) {
	fill := "url(#web-nogo)"
	if through {
		fill = "url(#web-hole)"
	}
	v.fill(x, y, w, h, fill)
}

func (v *vector) frame(x, y, w, h, width float64) {
	fmt.Fprintf(&v.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="#000" stroke-width="%s"/>`+"\n", rounded(x, 2), rounded(y, 2), rounded(w, 2), rounded(h, 2), rounded(width, 2))
}

func (v *vector) line(x1, y1, x2, y2, width float64, dashed bool) {
	dash := ` stroke-linecap="square"`
	if dashed {
		dash = ` stroke-dasharray="4 3"`
	}
	fmt.Fprintf(&v.b, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#000" stroke-width="%s"%s/>`+"\n", rounded(x1, 2), rounded(y1, 2), rounded(x2, 2), rounded(y2, 2), rounded(width, 2), dash)
}

func (v *vector) leader(x1, y1, x2, y2 float64) {
	for _, ink := range []struct {
		color     string
		line, dot float64
	}{{"#fff", 7, 6.5}, {"#000", 2.5, 4}} {
		fmt.Fprintf(&v.b, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s"/>`+"\n", rounded(x1, 2), rounded(y1, 2), rounded(x2, 2), rounded(y2, 2), ink.color, rounded(ink.line, 2))
		fmt.Fprintf(&v.b, `<circle cx="%s" cy="%s" r="%s" fill="%s"/>`+"\n", rounded(x1, 2), rounded(y1, 2), rounded(ink.dot, 2), ink.color)
	}
}

func (v *vector) ring(x, y, r, width float64, fill string) {
	if fill == "" {
		fill = "none"
	}
	fmt.Fprintf(&v.b, `<circle cx="%s" cy="%s" r="%s" fill="none" stroke="#fff" stroke-width="%s"/>`+"\n", rounded(x, 2), rounded(y, 2), rounded(r, 2), rounded(width+4, 2))
	fmt.Fprintf(&v.b, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="#000" stroke-width="%s"/>`+"\n", rounded(x, 2), rounded(y, 2), rounded(r, 2), fill, rounded(width, 2))
}

func (v *vector) text(x, y float64, size int, anchor, s string) {
	if s == "" {
		return
	}
	fmt.Fprintf(&v.b, `<text x="%s" y="%s" font-size="%d" text-anchor="%s" xml:space="preserve">%s</text>`+"\n", rounded(x, 2), rounded(y, 2), 11*size, anchor, esc(s))
}
