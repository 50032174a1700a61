package draw

import (
	"image"
	"image/color"
	"math"
	"testing"
)

// white is an empty plate of a size, a dot to the unit.
func white(w, h int) *plate {
	p := &plate{img: image.NewRGBA(image.Rect(0, 0, w, h)), inks: mapInks, scale: 1, top: float64(h), em: 10}
	p.fill(image.White, []point{{0, 0}, {float64(w), 0}, {float64(w), float64(h)}, {0, float64(h)}})
	return p
}

// inkOn is how much of a plate is inked, in dots.
func inkOn(p *plate) (ink float64) {
	for j := range p.img.Bounds().Dy() {
		for i := range p.img.Bounds().Dx() {
			ink += float64(255-grey(p.img.At(i, j))) / 255
		}
	}
	return ink
}

// The ink of a shape is its area (elementary geometry): a line's length times its width,
// half of it where it is dashed evenly, a ring's circumference times its width, and of two
// pieces that meet each dot once.
func TestInkIsTheArea(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(p *plate)
		want float64
	}{
		{"line", func(p *plate) { p.stroke(image.Black, []point{{20, 20}, {180, 20}}, 4) }, 160 * 4},
		{"slanting", func(p *plate) { p.stroke(image.Black, []point{{20, 20}, {140, 110}}, 4) }, 150 * 4},
		{"there and back", func(p *plate) { p.stroke(image.Black, []point{{20, 20}, {180, 20}, {20, 20}}, 4) }, 160*4 + math.Pi*4/2},
		{"dashed", func(p *plate) {
			for _, piece := range dashed([]point{{20, 20}, {100, 20}, {180, 20}}, []float64{8, 8}) {
				p.stroke(image.Black, piece, 4)
			}
		}, 80 * 4},
		{"ring", func(p *plate) {
			p.stroke(image.Black, append(round(point{100, 60}, 40, pieces(40)), point{140, 60}), 3)
		}, 2 * math.Pi * 40 * 3},
		{"disc", func(p *plate) { p.fill(image.Black, round(point{100, 60}, 40, pieces(40))) }, math.Pi * 40 * 40},
		{"off the plate", func(p *plate) { p.stroke(image.Black, []point{{-500, 20}, {900, 20}}, 4) }, 200 * 4},
		{"far off", func(p *plate) { p.stroke(image.Black, []point{{-500, -500}, {-900, 900}}, 4) }, 0},
	} {
		p := white(200, 120)
		c.draw(p)
		if got := inkOn(p); math.Abs(got-c.want) > 0.02*c.want+2 {
			t.Errorf("%s: %.0f dots of ink, want %.0f", c.name, got, c.want)
		}
	}
}

// Hatching covers its line's share of an area, and dots their own area in a square of
// their step.
func TestPatternsCoverTheirShare(t *testing.T) {
	for _, f := range patterns {
		p := white(400, 400)
		p.fill(p.pattern(f), []point{{0, 0}, {400, 0}, {400, 400}, {0, 400}})
		want := 1 / (f.step * 10)
		if f.dotty {
			want = math.Pi * dotRadius * dotRadius
		}
		if got := inkOn(p) / 160000; math.Abs(got-want) > 0.02 {
			t.Errorf("%s: %.3f of the area is inked, want %.3f", f.name, got, want)
		}
	}
}

// Letters have ink between their anchor and their width, a rim of paper round them on any
// ground, and no two letters look the same.
func TestLettersOnPaper(t *testing.T) {
	seen := map[string]rune{}
	for r := '!'; r <= '~'; r++ {
		p := white(40, 40)
		if err := p.text(writing{class: "", anchor: "middle", text: string(r), at: point{20, 12}, size: 24}); err != nil {
			t.Fatal(err)
		}
		if inkOn(p) < 5 {
			t.Errorf("%q leaves no ink", r)
		}
		if o, twice := seen[string(p.img.Pix)]; twice {
			t.Errorf("%q looks like %q", r, o)
		}
		seen[string(p.img.Pix)] = r
	}
	for _, anchor := range []string{"start", "middle", "end"} {
		p := white(200, 40)
		p.fill(image.Black, []point{{0, 0}, {200, 0}, {200, 40}, {0, 40}})
		if err := p.text(writing{class: "label", anchor: anchor, text: "HHHH", at: point{100, 12}, size: 20}); err != nil {
			t.Fatal(err)
		}
		least, most := 200, 0
		for i := range 200 {
			for j := range 40 {
				if p.img.RGBAAt(i, j) == (color.RGBA{255, 255, 255, 255}) {
					least, most = min(least, i), max(most, i)
				}
			}
		}
		wide := textWidth("label", "HHHH") * 20
		from := map[string]float64{"start": 100, "middle": 100 - wide/2, "end": 100 - wide}[anchor]
		if float64(least) < from-3 || float64(most) > from+wide+3 || most-least < 30 {
			t.Errorf("%s: letters from %d to %d, room from %.0f to %.0f", anchor, least, most, from, from+wide)
		}
	}
	if err := white(10, 10).text(writing{text: "far off", at: point{1e6, -1e6}, size: 20}); err != nil {
		t.Error(err)
	}
}

// No letter of a drawing is wider than the room that its words are given.
func TestLettersFitTheirRoom(t *testing.T) {
	p := white(10, 10)
	for _, class := range []string{"", "label", "small"} {
		face, err := p.face(faceKey{bold(class), 100})
		if err != nil {
			t.Fatal(err)
		}
		for r := ' '; r <= '~'; r++ {
			if w, _ := face.GlyphAdvance(r); float64(w)/6400 > textWidth(class, string(r)) {
				t.Errorf("%q of class %q is %.2f wide, more than %.2f", r, class, float64(w)/6400, textWidth(class, string(r)))
			}
		}
	}
}
