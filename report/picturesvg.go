package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// vector is a board of SVG, with the pixels of the PNG as its unit.
type vector struct {
	w, h        int
	title, desc string
	b           strings.Builder
}

func (v *vector) write(w io.Writer) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="picture-title picture-desc">`+"\n", v.w, v.h, v.w, v.h)
	fmt.Fprintf(&b, "<title id=\"picture-title\">%s</title>\n<desc id=\"picture-desc\">%s</desc>\n", esc(v.title), esc(v.desc))
	b.WriteString(`<defs><pattern id="gone" patternUnits="userSpaceOnUse" width="8" height="8" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="8" stroke="#000" stroke-width="2.4"/></pattern><pattern id="nogo" patternUnits="userSpaceOnUse" width="8" height="8" patternTransform="rotate(-45)"><line x1="0" y1="0" x2="0" y2="8" stroke="#000" stroke-width="2.4"/></pattern></defs>` + "\n")
	b.WriteString(`<style>text{font-family:ui-monospace,monospace;paint-order:stroke;stroke:#fff;stroke-width:4px;stroke-linejoin:round}</style>` + "\n")
	b.WriteString(v.b.String())
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

func (v *vector) cells(x, y, w, h float64, g *Grid, band func(float64) int, inks []string) {
	// A map of at most 240 cells a side keeps the file small; the least value of
	// each block of cells is kept.
	g = g.coarse(240)
	cw, ch := w/float64(g.NX), h/float64(g.NY)
	runs := make([]strings.Builder, len(inks)+1)
	for j := range g.NY {
		top := y + h - ch*float64(j+1)
		for i := 0; i < g.NX; {
			b := band(float64(g.At(i, j)))
			k := i + 1
			for k < g.NX && band(float64(g.At(k, j))) == b {
				k++
			}
			r := &runs[min(b, len(inks)-1)+1]
			fmt.Fprintf(r, "M%s %sh%sv%sh-%sz", rounded(x+cw*float64(i), 2), rounded(top, 2), rounded(cw*float64(k-i), 2), rounded(ch, 2), rounded(cw*float64(k-i), 2))
			i = k
		}
	}
	for i := range runs {
		if runs[i].Len() == 0 {
			continue
		}
		fill := "url(#gone)"
		if i > 0 {
			fill = inks[i-1]
		}
		fmt.Fprintf(&v.b, `<path fill="%s" shape-rendering="crispEdges" d="%s"/>`+"\n", fill, runs[i].String())
	}
}

func (v *vector) fill(x, y, w, h float64, ink string) {
	fmt.Fprintf(&v.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n", rounded(x, 2), rounded(y, 2), rounded(w, 2), rounded(h, 2), ink)
}

func (v *vector) hatch(x, y, w, h float64, through bool) {
	fill := "url(#nogo)"
	if through {
		fill = "url(#gone)"
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
