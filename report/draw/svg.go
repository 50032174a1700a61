package draw

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image/png"
	"strings"

	"flipcalc/report/letters"
)

// num writes a coordinate; six decimals are far below what a drawing can show.
func num(v float64) string { return letters.Rounded(v, 6) }

// pair writes a place as SVG has it: there Y grows downwards.
func pair(x, y float64) string { return num(x) + " " + num(-y) }

// SVG gives the figure for a page that has its Style; alone it brings style, size and
// ground along.
func (c *Canvas) SVG(alone bool) string {
	var b strings.Builder
	view := c.shown()
	w, h := view.x1-view.x0, view.y1-view.y0
	size := ""
	switch {
	case c.scale != "":
		size = ` width="` + num(w) + c.scale + `" height="` + num(h) + c.scale + `"`
	case alone:
		size = ` width="960" height="` + letters.Rounded(960*h/w, 0) + `"`
	}
	if c.paper {
		size += ` style="` + mapInks.css() + `"`
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg"%s class="drawing" viewBox="%s %s %s" role="img" aria-labelledby="%s-title %s-desc">`+"\n",
		size, pair(view.x0, view.y1), num(w), num(h), c.ID, c.ID)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", c.ID, letters.Escaped(c.Title), c.ID, letters.Escaped(c.Desc))
	switch {
	case alone && c.paper:
		b.WriteString("<style>\n" + rules() + "</style>\n")
	case alone:
		b.WriteString("<style>\n" + Style() + "</style>\n")
	}
	if alone || c.paper {
		b.WriteString(c.element(rectangle{"ground", "", view}))
	}
	b.WriteString("<defs>")
	for _, p := range patterns {
		b.WriteString(c.definition(p))
	}
	b.WriteString("</defs>\n")
	for _, s := range c.shapes {
		b.WriteString(c.element(s))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// element writes one shape.
func (c *Canvas) element(s shape) string {
	switch s := s.(type) {
	case segment:
		return fmt.Sprintf(`<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`+"\n", s.class, num(s.from[0]), num(-s.from[1]), num(s.to[0]), num(-s.to[1]))
	case rectangle:
		fill := ""
		if s.pattern != "" {
			fill = ` fill="url(#` + c.ID + "-" + s.pattern + `)"`
		}
		return fmt.Sprintf(`<rect class="%s"%s %s/>`+"\n", s.class, fill, s.attributes())
	case disc:
		return fmt.Sprintf(`<circle class="%s" cx="%s" cy="%s" r="%s"/>`+"\n", s.class, num(s.at[0]), num(-s.at[1]), num(s.r))
	case chain:
		return s.element()
	case curve:
		return fmt.Sprintf(`<path class="%s" d="%s"/>`+"\n", s.class, s.path)
	case dots:
		var img bytes.Buffer
		e := png.Encoder{CompressionLevel: png.BestSpeed}
		if err := e.Encode(&img, s.img); err != nil {
			panic(err) // only an empty picture, or one of 2^31 dots, can't be written
		}
		return fmt.Sprintf(`<image %s preserveAspectRatio="none" style="image-rendering:pixelated" href="data:image/png;base64,%s"/>`+"\n", s.attributes(), base64.StdEncoding.EncodeToString(img.Bytes()))
	case writing:
		return fmt.Sprintf(`<text class="%s" text-anchor="%s" x="%s" y="%s" font-size="%s">%s</text>`+"\n", s.class, s.anchor, num(s.at[0]), num(-s.at[1]), num(s.size), letters.Escaped(s.text))
	case group:
		var data strings.Builder
		for i := 0; i+1 < len(s.data); i += 2 {
			fmt.Fprintf(&data, ` data-%s="%s"`, s.data[i], letters.Escaped(s.data[i+1]))
		}
		return fmt.Sprintf("<g class=%q%s>\n", s.class, data.String())
	case end:
		return "</g>\n"
	}
	panic(fmt.Sprintf("draw: no way to write %T", s))
}

// attributes place a box.
func (b box) attributes() string {
	return fmt.Sprintf(`x="%s" y="%s" width="%s" height="%s"`, num(b.x0), num(-b.y1), num(b.x1-b.x0), num(b.y1-b.y0))
}

func (s chain) element() string {
	name, places := "polyline", s.places
	if s.closed {
		name, places = "polygon", 6
	}
	var points []string
	for _, p := range s.points {
		at := letters.Rounded(p[0], places) + "," + letters.Rounded(-p[1], places)
		if s.closed || len(points) == 0 || at != points[len(points)-1] {
			points = append(points, at)
		}
	}
	return fmt.Sprintf(`<%s class="%s" points="%s"/>`+"\n", name, s.class, strings.Join(points, " "))
}

// definition is a pattern as SVG repeats it.
func (c *Canvas) definition(p pattern) string {
	step := p.step * c.em
	head := fmt.Sprintf(`<pattern id="%s-%s" patternUnits="userSpaceOnUse" width="%s" height="%s"`, c.ID, p.name, num(step), num(step))
	if p.dotty {
		return head + fmt.Sprintf(`><circle class="dot" cx="%s" cy="%s" r="%s"/></pattern>`, num(step/2), num(step/2), num(step*dotRadius))
	}
	return head + fmt.Sprintf(` patternTransform="rotate(%s)"><line class="hatch" x1="0" y1="0" x2="0" y2="%s"/></pattern>`, num(p.angle), num(step))
}
