package draw

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/report/internal/readback"
)

// A point of the face program at p lies, face up, at p + a; a back program that
// is the mirrored face (x' = 120 - x) must draw the same feature mirrored.
func TestPathDrawingIsInPlace(t *testing.T) {
	s := marker(t)
	s.Answer.FaceZero = pt("10", "5")
	s.Face = &Path{Strokes: []Stroke{{Points: []point{{0, 0}, {30, 20}}}}}
	s.Back = &Path{Strokes: []Stroke{{Points: []point{{0, 0}, {50, 20}}}}}
	all := readback.Nodes(t, Sides(s).SVG(true))
	var blanks, cuts []readback.Node
	for _, n := range all {
		if n.Name == "rect" && n.Class == "blank" {
			blanks = append(blanks, n)
		}
		if n.Name == "polyline" && n.Class == "cut" {
			cuts = append(cuts, n)
		}
	}
	if len(blanks) != 2 || len(cuts) != 2 {
		t.Fatalf("%d blanks and %d cuts, want 2 and 2", len(blanks), len(cuts))
	}
	for i, want := range [][4]float64{{10, 5, 40, 25}, {0, 0, 50, 20}} {
		left, near0 := blanks[i].Number(t, "x"), blanks[i].Number(t, "y")+blanks[i].Number(t, "height")
		var got [4]float64
		for k, p := range strings.Fields(cuts[i].Attr["points"]) {
			xs, ys, _ := strings.Cut(p, ",")
			x, _ := strconv.ParseFloat(xs, 64)
			y, _ := strconv.ParseFloat(ys, 64)
			got[2*k], got[2*k+1] = x-left, near0-y
		}
		for k := range want {
			if math.Abs(got[k]-want[k]) > 0.006 {
				t.Errorf("panel %d: from and to %v, want %v", i, got, want)
				break
			}
		}
	}
}

// The letters in the drawing of the turn: near, right, far and left of the last
// panel show how the lettered blank lies after the turn.
func TestTurnDrawingLetters(t *testing.T) {
	for _, c := range []struct {
		flip registration.Flip
		want string
	}{{registration.FlipY, "ABCDADCB"}, {registration.FlipX, "ABCDCBAD"}} {
		s := marker(t)
		s.Answer.Question.Flip = c.flip
		svg := Turn(s, Wide).SVG(true)
		var got strings.Builder
		for _, l := range readback.Lines(t, svg) {
			if l.Class == "letter" {
				got.WriteString(l.Text)
			}
		}
		// The half-turned blank's letters stand in between.
		if g := got.String()[:4] + got.String()[got.Len()-4:]; g != c.want {
			t.Errorf("flip %v: letters %s, want %s", c.flip, g, c.want)
		}
	}
}
