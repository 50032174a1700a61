package draw

import (
	"bytes"
	"errors"
	"image/color"
	"image/png"
	"math"
	"strings"
	"testing"
)

func grey(c color.Color) int {
	r, g, b, _ := c.RGBA()
	return int((r + g + b) / 3 >> 8)
}

// discs gives the middles of the discs of a class, rounded to a hundredth.
func discs(c *Canvas, class string) map[point]bool {
	c.settle()
	out := map[point]bool{}
	for _, s := range c.shapes {
		if d, ok := s.(disc); ok && d.class == class {
			out[hundredth(d.at)] = true
		}
	}
	return out
}

func hundredth(p point) point { return point{math.Round(p[0] * 100), math.Round(p[1] * 100)} }

// The letters of the edges and the words of the least web stand off the maps, whose lines
// they would be read with.
func TestNoWordsOverTheMaps(t *testing.T) {
	c := CutBlank(checked(t))
	c.settle()
	letters := 0
	for _, w := range c.words {
		least := strings.HasPrefix(w.lines[0], "least")
		if w.class != "letter" && !least || w.gone {
			continue
		}
		letters++
		for _, m := range mapsOf(c)[:3] {
			if c.boxAt(w, w.placed).meets(m.box) {
				t.Errorf("%q stands on a map", w.lines[0])
			}
		}
	}
	if letters != 13 { // four a view, and the least web
		t.Errorf("%d words, want 13", letters)
	}
}

func TestCutBlankShowsTheCuts(t *testing.T) {
	s := checked(t)
	c := CutBlank(s)
	var b bytes.Buffer
	if err := c.PNG(&b, CutDots(s)); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	maps, view := mapsOf(c), c.shown()
	at := func(m dots, x, y float64) int {
		return grey(img.At(int((m.x0+x-view.x0)*CutDots(s)), int((view.y1-m.y0-y)*CutDots(s))))
	}
	// Uncut is light, a pocket darker, a deep one darker still.
	uncut, shallow, deep := at(maps[0], 10, 60), at(maps[0], 30, 48), at(maps[0], 80, 36)
	if !(uncut > shallow+20 && shallow > deep+20) {
		t.Errorf("greys of uncut, 4 mm and 8 mm deep: %d, %d, %d; want falling by at least 20", uncut, shallow, deep)
	}
	// The back is cut along both ends, where the face isn't.
	if e, m := at(maps[1], 3, 30), at(maps[1], 40, 40); e > m-20 {
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
// names, the back's mirrored, and on the web. Its number stands beside it. A cut that lies
// elsewhere on the back is marked where it is on each side.
func TestCutBlankNumbersFindings(t *testing.T) {
	s := checked(t)
	both := checked(t)
	both.Cut.Findings = []Finding{{Text: "holes miss", Face: &point{20, 40}, Back: &point{90, 40}, OnFace: true, OnBack: true}}
	for _, c := range []struct {
		name  string
		s     *Scene
		marks [][3]float64 // view, place from its corner; a turned page has x at 120 - x
	}{
		{"sides", s, [][3]float64{{viewFace, 60, 10}, {viewFace, 105, 65}, {viewBack, 120 - 105, 65}, {viewWeb, 60, 10}, {viewWeb, 105, 65}}},
		{"two places", both, [][3]float64{{viewFace, 20, 40}, {viewBack, 120 - 90, 40}, {viewWeb, 20, 40}, {viewWeb, 90, 40}}},
	} {
		drawn := CutBlank(c.s)
		marked, rings, maps := discs(drawn, "find-dot"), discs(drawn, "find"), mapsOf(drawn)
		for _, m := range c.marks {
			at := point{maps[int(m[0])].x0 + m[1], maps[int(m[0])].y0 + m[2]}
			if !marked[hundredth(at)] {
				t.Errorf("%s: nothing marked at %v of view %v; marks at %v", c.name, at, m[0], marked)
			}
		}
		if len(marked) != len(c.marks) || len(rings) != len(c.marks) {
			t.Errorf("%s: %d places are marked with %d numbers, want %d", c.name, len(marked), len(rings), len(c.marks))
		}
	}
	var all []string
	for _, l := range CutBlank(s).lines() {
		all = append(all, l.text)
	}
	if text := strings.Join(all, " "); !strings.Contains(text, "leaves the travel") || !strings.Contains(text, "least 3.4") {
		t.Errorf("a finding without a place isn't in the list, or the least web isn't named: %s", text)
	}
}

// Numbers of places close together cover neither each other nor the places, and their
// lines don't cross.
func TestNumbersStandClear(t *testing.T) {
	c := open("test", 22)
	frame := box{0, 0, 400, 300}
	c.growBox(frame)
	for i, at := range []point{{200, 150}, {204, 150}, {200, 142}, {215, 160}, {0, 300}, {400, 0}} {
		c.number(itoa(i+1), spot{x: at[0], y: at[1]}, frame, 1)
	}
	c.settle()
	r := ringRadius * 22
	for i, w := range c.words {
		if w.gone {
			t.Fatalf("number %d isn't there", i+1)
		}
		for j, o := range c.words {
			if d := math.Hypot(w.placed.x-o.placed.x, w.placed.y-o.placed.y); i != j && d < 2*r {
				t.Errorf("numbers %d and %d overlap", i+1, j+1)
			}
			if d := math.Hypot(w.placed.x-o.home.x, w.placed.y-o.home.y); d < r {
				t.Errorf("number %d covers place %d", i+1, j+1)
			}
			if i < j && crossing(c.leaders[i], c.leaders[j]) {
				t.Errorf("the lines of %d and %d cross", i+1, j+1)
			}
		}
		if b := c.boxAt(w, w.placed); !b.within(frame) {
			t.Errorf("number %d is outside: %v", i+1, b)
		}
	}
}

// No words of the figure stand on others, whatever is found where.
func TestCutBlankWordsKeepApart(t *testing.T) {
	few, none := checked(t), checked(t)
	none.Cut.Findings = nil
	for name, c := range map[string]*Canvas{"alone": CutBlank(few), "sheet": SheetCutBlank(few), "nothing found": CutBlank(none)} {
		for _, fault := range c.clashes() {
			t.Errorf("%s: %s", name, fault)
		}
	}
}

func TestNothingIsDrawnOfNothing(t *testing.T) {
	s := &Scene{}
	for name, c := range map[string]*Canvas{"bed": Bed(s), "stations": Stations(s, 52), "turn": Turn(s, Wide), "sheet's turn": SheetTurn(s, 52), "sides": Sides(s), "side": Side(s, true),
		"overlay": Overlay(s), "cut": CutBlank(s), "sheet's cut": SheetCutBlank(s), "not cut": CutBlank(marker(t))} {
		if c != nil {
			t.Errorf("%s: something is drawn", name)
		}
	}
}

type brokenWriter struct{ err error }

func (b brokenWriter) Write([]byte) (int, error) { return 0, b.err }

func TestPNGGivesTheWritersError(t *testing.T) {
	s := checked(t)
	full := errors.New("no room left")
	if err := CutBlank(s).PNG(brokenWriter{full}, CutDots(s)); !errors.Is(err, full) {
		t.Errorf("error %v, want the writer's own", err)
	}
}
