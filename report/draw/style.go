package draw

import (
	"slices"
	"strings"
)

// inks are the colours of a drawing by their names, in the form #rrggbb.
type inks map[string]string

// screens are the inks for a light and a dark ground and for paper. Nothing is said by a
// colour alone: every line kind has its own weight or dash, every area its pattern and
// label.
var screens = []struct {
	media string
	inks  inks
}{
	{"", inks{"ink": "#16202b", "soft": "#5a6672", "paper": "#ffffff", "tint": "#eef3f6", "mark": "#9a3412", "route": "#0b5c8a"}},
	{"(prefers-color-scheme:dark)", inks{"ink": "#e7ecf0", "soft": "#a3afba", "paper": "#14191e", "tint": "#232c35", "mark": "#f4a261", "route": "#7cc4ee"}},
	{"print", inks{"ink": "#000000", "soft": "#444444", "paper": "#ffffff", "tint": "#f1f4f6", "mark": "#7a2a0d", "route": "#0b4a70"}},
}

// mapInks are those of a figure with a map, on every ground: black, which stands out
// from every band.
var mapInks = inks{"ink": "#000000", "soft": "#000000", "paper": "#ffffff", "tint": "#ffffff", "mark": "#000000", "route": "#000000"}

// inkNames are the inks in the order in which a style sheet lists them.
var inkNames = []string{"ink", "soft", "paper", "tint", "mark", "route"}

// css lists the inks as custom properties.
func (k inks) css() string {
	var list []string
	for _, name := range inkNames {
		list = append(list, "--"+name+":"+k[name])
	}
	return strings.Join(list, ";")
}

// A style is how shapes of a class are inked; of a shape with several classes all styles
// whose classes it has, the later one winning. Widths and dashes are in points of the
// screen, whatever the scale.
type style struct {
	classes string // joined by full stops
	stroke  string // name of an ink, "none", or "" for what an earlier style says
	width   float64
	dash    []float64
	fill    string
	bold    int    // weight of letters, 0 for the usual one
	css     string // what has no meaning on paper
}

// styles gives the line kinds of drafting practice: thick outlines, thin
// dimension lines, dashes for what is hidden, chains for centre lines.
var styles = []style{
	{classes: "ground", fill: "paper"},
	{classes: "thin", stroke: "soft", width: 0.8, fill: "none"},
	{classes: "thick", stroke: "ink", width: 2, fill: "none"},
	{classes: "blank", stroke: "ink", width: 2, fill: "tint"},
	{classes: "over", stroke: "none"},
	{classes: "bed", stroke: "ink", width: 1.2, fill: "none"},
	{classes: "travel", stroke: "soft", width: 1, dash: []float64{12, 3, 2, 3, 2, 3}, fill: "none"},
	{classes: "area", stroke: "soft", width: 1.2},
	{classes: "taken", dash: []float64{5, 3}},
	{classes: "hatch", stroke: "soft", width: 0.7},
	{classes: "dot", fill: "soft"},
	{classes: "centre", stroke: "soft", width: 0.7, dash: []float64{7, 2, 1.5, 2}, fill: "none"},
	{classes: "clear", fill: "tint", stroke: "none"},
	{classes: "hidden", stroke: "ink", width: 0.9, dash: []float64{4, 2.5}, fill: "none"},
	{classes: "pin", stroke: "ink", width: 1.4, fill: "paper"},
	{classes: "contact", fill: "ink", stroke: "none"},
	{classes: "fence", stroke: "ink", width: 3.2, fill: "none"},
	{classes: "zero-arrow", stroke: "mark", width: 1.4, fill: "none"},
	{classes: "zero-arrow.solid", fill: "mark", stroke: "none"},
	{classes: "zero-ring", stroke: "mark", width: 1.4, fill: "paper"},
	{classes: "zero-fill", fill: "mark", stroke: "none"},
	{classes: "turn", stroke: "ink", width: 1.4, fill: "none"},
	{classes: "turn.solid", fill: "ink", stroke: "none"},
	{classes: "cut", stroke: "route", width: 1.3, fill: "none", css: "stroke-linecap:round"},
	{classes: "cut.through-back", stroke: "mark", dash: []float64{5, 2.5}},
	{classes: "cut.faint", width: 0.7, css: "opacity:.75"},
	{classes: "rapid", stroke: "soft", width: 0.7, dash: []float64{2, 3}, fill: "none"},
	{classes: "rim", stroke: "paper", width: 4, fill: "none"},
	{classes: "find", stroke: "ink", width: 2, fill: "paper"},
	{classes: "find-dot", stroke: "paper", width: 1.6, fill: "ink"},
}

// lettering is how letters of a class are inked, besides their rim of paper.
var lettering = []style{
	{fill: "ink", stroke: "paper", width: 3},
	{classes: "small", fill: "soft"},
	{classes: "axis", fill: "mark", bold: 600},
	{classes: "letter", bold: 700},
	{classes: "label", bold: 600},
	{classes: "found", stroke: "none"}, // in a ring, which a rim would break
}

// styled gives the style of a class out of a table.
func styled(table []style, class string) style {
	has := " " + class + " "
	var out style
	for _, s := range table {
		matches := true
		for part := range strings.SplitSeq(s.classes, ".") {
			matches = matches && (part == "" || strings.Contains(has, " "+part+" "))
		}
		if !matches {
			continue
		}
		if s.stroke != "" {
			out.stroke = s.stroke
		}
		if s.width != 0 {
			out.width = s.width
		}
		if s.dash != nil {
			out.dash = s.dash
		}
		if s.fill != "" {
			out.fill = s.fill
		}
		out.bold = max(out.bold, s.bold)
	}
	return out
}

// bold reports whether words of a class are set in heavy letters.
func bold(class string) bool {
	return slices.ContainsFunc(lettering, func(s style) bool { return s.classes == class && s.bold > 0 })
}

// Style is the style sheet of all drawings, with the inks of a page.
func Style() string { return colors() + rules() }

// colors are the inks, for light and dark grounds and for print.
func colors() string {
	var b strings.Builder
	for _, s := range screens {
		root := ":root{" + s.inks.css() + "}"
		if s.media != "" {
			root = "@media " + s.media + "{" + root + "}"
		}
		b.WriteString(root + "\n")
	}
	return b.String()
}

// rules are the style sheet without the inks.
func rules() string {
	var b strings.Builder
	b.WriteString(".drawing{font-family:Arial,\"Liberation Sans\",Helvetica,sans-serif}\n" +
		".drawing line,.drawing polyline,.drawing rect,.drawing circle,.drawing polygon,.drawing path{vector-effect:non-scaling-stroke;stroke-linejoin:round}\n")
	for _, s := range styles {
		b.WriteString(s.rule(""))
	}
	for _, s := range lettering {
		if s.classes == "" {
			s.css = "paint-order:stroke;stroke-linejoin:round;vector-effect:non-scaling-stroke"
		}
		b.WriteString(s.rule("text"))
	}
	return b.String()
}

// rule is the style's line in a style sheet, for one kind of element or for all.
func (s style) rule(element string) string {
	var list []string
	add := func(name, value string) { list = append(list, name+":"+value) }
	ink := func(name string) string {
		if name == "none" {
			return name
		}
		return "var(--" + name + ")"
	}
	if s.fill != "" {
		add("fill", ink(s.fill))
	}
	if s.stroke != "" {
		add("stroke", ink(s.stroke))
	}
	if s.width != 0 {
		add("stroke-width", num(s.width))
	}
	if s.dash != nil {
		var dashes []string
		for _, d := range s.dash {
			dashes = append(dashes, num(d))
		}
		add("stroke-dasharray", strings.Join(dashes, " "))
	}
	if s.bold != 0 {
		add("font-weight", num(float64(s.bold)))
	}
	if s.css != "" {
		list = append(list, s.css)
	}
	selector := ".drawing " + element
	if s.classes != "" {
		selector += "." + s.classes
	}
	return selector + "{" + strings.Join(list, ";") + "}\n"
}

// A pattern fills an area with lines at an angle in degrees, or with dots. step is the
// distance of both in parts of the letters' height.
type pattern struct {
	name  string
	step  float64
	angle float64
	dotty bool
}

var patterns = []pattern{{name: "nogo", step: 0.5, angle: 45}, {name: "taken", step: 0.5, angle: -45}, {name: "back", step: 0.8, dotty: true}}

// dotRadius is a dot's radius in parts of its pattern's step.
const dotRadius = 0.14
