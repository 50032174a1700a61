package report

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"
	"testing"
)

// checked is the marker cut in memory: a pocket in the face, a hole right
// through, a finding at a pin.
func checked() Setup {
	s := drawn()
	c := *s.Check
	c.WebAt = Place{80, 40}
	c.Islands = []Island{{X: 105, Y: 65, Area: 50, Overlap: 1, FaceLine: 9, BackLine: 14}}
	c.Findings = []Finding{
		{Code: "pin-cut", Level: "finding", Hit: true, Side: "face", X: 60, Y: 10, HasPlace: true, FaceLine: 31, Text: "face: the cutter runs 1.5 mm into pin 1, 3 mm below its top"},
		{Code: "broken-through", Level: "finding", Side: "both", X: 105, Y: 65, HasPlace: true, FaceLine: 9, BackLine: 14, Text: "broken through: face and back meet, overlap 1 mm, hole of 50 mm2"},
		{Code: "travel-exceeded", Level: "finding", Side: "back", BackLine: 3, Text: "back: leaves the travel of X by 3 mm at 600 mm"},
	}
	s.Check = &c
	s.Machine.NoGo = append(s.Machine.NoGo, Area{At: pt("90", "95"), W: d("25"), H: d("20"), Name: "clamp"})
	return s
}

func grey(c color.Color) int {
	r, g, b, _ := c.RGBA()
	return int((r + g + b) / 3 >> 8)
}

func TestPictureShowsTheCuts(t *testing.T) {
	s := checked()
	var b bytes.Buffer
	if err := PicturePNG(&b, s); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.picture(pictureWide)
	if err != nil {
		t.Fatal(err)
	}
	at := func(x, y, px, py float64) int { return grey(img.At(int(px+x*p.k), int(py+p.ph-y*p.k))) }
	right := p.views[viewBack].x
	// Uncut is light, a pocket darker, a deep one darker still.
	uncut, shallow, deep := at(10, 60, p.views[viewFace].x, p.views[viewFace].y), at(30, 48, p.views[viewFace].x, p.views[viewFace].y), at(80, 36, p.views[viewFace].x, p.views[viewFace].y)
	if !(uncut > shallow+20 && shallow > deep+20) {
		t.Errorf("greys of uncut, 4 mm and 8 mm deep: %d, %d, %d; want falling by at least 20", uncut, shallow, deep)
	}
	// The back is cut along both ends, where the face isn't.
	if e, m := at(3, 40, right, p.views[viewFace].y), at(40, 40, right, p.views[viewFace].y); e > m-20 {
		t.Errorf("back: cut end %d, middle %d", e, m)
	}
	// The web map keeps its order in grey: every band darker than the thicker one.
	last := -1
	for i, ink := range bandInks {
		g := grey(inkOf(ink))
		if g <= last+15 {
			t.Errorf("band %d has grey %d after %d: too close to tell apart in black and white", i, g, last)
		}
		last = g
	}
	last = 256
	for i, ink := range depthInks {
		g := grey(inkOf(ink))
		if g >= last-15 {
			t.Errorf("depth %d has grey %d after %d", i, g, last)
		}
		last = g
	}
}

// Each finding with a place is marked where it is: on the side whose line it
// names, the back's mirrored, and on the web. Its number stands beside it.
func TestPictureNumbersFindings(t *testing.T) {
	s := checked()
	var b bytes.Buffer
	if err := PictureSVG(&b, s); err != nil {
		t.Fatal(err)
	}
	p, err := s.picture(pictureWide)
	if err != nil {
		t.Fatal(err)
	}
	all := nodes(t, b.String())
	dots, rings := map[[2]int]bool{}, map[[2]int]bool{}
	for _, n := range all {
		at := func() [2]int { return [2]int{int(math.Round(n.f(t, "cx"))), int(math.Round(n.f(t, "cy")))} }
		switch {
		case n.name == "circle" && n.attr["r"] == "4" && n.attr["fill"] == "#000":
			dots[at()] = true
		case n.name == "circle" && n.attr["r"] == "17":
			rings[at()] = true
		}
	}
	right := p.views[viewBack].x
	below := p.views[viewWeb].y
	want := map[string][2]float64{
		"pin on the face":  {p.views[viewFace].x + 60*p.k, p.views[viewFace].y + p.ph - 10*p.k},
		"hole on the face": {p.views[viewFace].x + 105*p.k, p.views[viewFace].y + p.ph - 65*p.k},
		"hole on the back": {right + (120-105)*p.k, p.views[viewFace].y + p.ph - 65*p.k},
		"pin on the web":   {p.views[viewFace].x + 60*p.k, below + p.ph - 10*p.k},
		"hole on the web":  {p.views[viewFace].x + 105*p.k, below + p.ph - 65*p.k},
	}
	for name, w := range want {
		if !dots[[2]int{int(math.Round(w[0])), int(math.Round(w[1]))}] {
			t.Errorf("%s isn't marked at %v; dots: %v", name, w, dots)
		}
	}
	if len(dots) != len(want) || len(rings) != len(want) {
		t.Errorf("%d places are marked with %d numbers, want %d", len(dots), len(rings), len(want))
	}
	if !strings.Contains(b.String(), "leaves the travel") {
		t.Error("a finding without a place isn't in the list")
	}
}

// Numbers of places close together cover neither each other nor the places.
func TestNumbersStandClear(t *testing.T) {
	frame := [4]float64{0, 0, 400, 300}
	taken := [][2]float64{{200, 120}}
	var marks []bubble
	for _, at := range [][2]float64{{200, 150}, {204, 150}, {200, 158}, {215, 140}, {0, 0}, {400, 300}} {
		marks = append(marks, bubble{at: at})
	}
	placeMarks(marks, taken, frame)
	for i, m := range marks {
		for j, o := range marks {
			if d := math.Hypot(m.to[0]-o.to[0], m.to[1]-o.to[1]); i != j && d < 2*markRadius {
				t.Errorf("numbers %d and %d overlap: %v, %v", i, j, m.to, o.to)
			}
			if d := math.Hypot(m.to[0]-o.at[0], m.to[1]-o.at[1]); d < markRadius {
				t.Errorf("number %d covers place %d", i, j)
			}
		}
		if math.Hypot(m.to[0]-200, m.to[1]-120) < 2*markRadius {
			t.Errorf("number %d covers what was taken", i)
		}
		if m.to[0] < 0 || m.to[0] > 400 || m.to[1] < 0 || m.to[1] > 300 {
			t.Errorf("number %d is outside: %v", i, m.to)
		}
	}
}

// A cut that lies elsewhere on the back is marked where it is on each side.
func TestPictureMarksBothPlaces(t *testing.T) {
	s := checked()
	c := *s.Check
	c.Findings = []Finding{{Code: "through-missed", Level: "finding", Side: "both", X: 20, Y: 40, Back: &Place{90, 40}, HasPlace: true, FaceLine: 3, BackLine: 5, Text: "holes miss"}}
	s.Check = &c
	var b bytes.Buffer
	if err := PictureSVG(&b, s); err != nil {
		t.Fatal(err)
	}
	p, err := s.picture(pictureWide)
	if err != nil {
		t.Fatal(err)
	}
	dots := map[[2]int]bool{}
	for _, n := range nodes(t, b.String()) {
		if n.name == "circle" && n.attr["r"] == "4" && n.attr["fill"] == "#000" {
			dots[[2]int{int(math.Round(n.f(t, "cx"))), int(math.Round(n.f(t, "cy")))}] = true
		}
	}
	right, high, low := p.views[viewBack].x, p.views[viewFace].y+p.ph-40*p.k, p.views[viewWeb].y+p.ph-40*p.k
	for _, w := range [][2]float64{{p.views[viewFace].x + 20*p.k, high}, {right + 30*p.k, high}, {p.views[viewFace].x + 20*p.k, low}, {p.views[viewFace].x + 90*p.k, low}} {
		if !dots[[2]int{int(math.Round(w[0])), int(math.Round(w[1]))}] {
			t.Errorf("nothing marked at %v: %v", w, dots)
		}
	}
	if len(dots) != 4 {
		t.Errorf("%d places marked, want 4", len(dots))
	}
}

func TestPictureNeedsACheck(t *testing.T) {
	for name, s := range map[string]Setup{"empty": {}, "unchecked": markerSetup()} {
		if err := PicturePNG(&bytes.Buffer{}, s); !errors.Is(err, ErrNoPicture) {
			t.Errorf("%s: error %v, want ErrNoPicture", name, err)
		}
	}
	s := checked()
	full := errors.New("no room left")
	if err := PicturePNG(brokenWriter{full}, s); !errors.Is(err, full) {
		t.Errorf("error %v, want the writer's own", err)
	}
}

// Every printable character but the blank has strokes, and no two look the same.
func TestLettering(t *testing.T) {
	seen := map[string]byte{}
	for c := byte('!'); c <= '~'; c++ {
		if len(strokes(c)) == 0 {
			t.Errorf("%q has no strokes", c)
		}
		if o, twice := seen[glyphs[c]]; twice && !(o == '0' && c == 'O') {
			t.Errorf("%q looks like %q", c, o)
		}
		seen[glyphs[c]] = c
		for _, s := range strokes(c) {
			for _, p := range s {
				if p[0] < 0 || p[0] > 4 || p[1] < -2 || p[1] > 6 {
					t.Errorf("%q leaves its room at %v", c, p)
				}
			}
		}
	}
}

// A line's ink is its length times its width, to a pixel's fading at the ends.
func TestRasterLineWidth(t *testing.T) {
	r := newRaster(200, 40)
	r.fill(0, 0, 200, 40, "#ffffff")
	r.line(20, 20, 180, 20, 4, false)
	ink := 0.0
	for j := range 40 {
		for i := range 200 {
			ink += float64(255-grey(r.img.At(i, j))) / 255
		}
	}
	if want := 160*4 + math.Pi*4; math.Abs(ink-want) > 8 {
		t.Errorf("a line of 160 x 4 has %.0f pixels of ink, want %.0f", ink, want)
	}
	if !r.img.Bounds().Eq(image.Rect(0, 0, 200, 40)) {
		t.Error("the picture changed its size")
	}
	r.line(-500, -500, 900, 900, 3, true) // off the board: nothing to see, no panic
	r.text(1e6, -1e6, 2, "middle", "far off")
}
