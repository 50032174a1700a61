package report

import (
	"errors"
	"io"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/draw"
)

// ErrNoPicture says that a setup was not checked, so that there is nothing to show.
var ErrNoPicture = errors.New("report: no cut blank to draw")

// PicturePNG writes the picture of a checked blank: the face, the back as it
// lies, and the web as a map, with pins, no-go areas and numbered findings.
func PicturePNG(w io.Writer, s Setup) error {
	c := draw.CutBlank(s.scene())
	if c == nil {
		return ErrNoPicture
	}
	return c.PNG(w, draw.CutDots(s.scene()))
}

// PictureSVG writes the same picture as SVG.
func PictureSVG(w io.Writer, s Setup) error {
	c := draw.CutBlank(s.scene())
	if c == nil {
		return ErrNoPicture
	}
	_, err := io.WriteString(w, c.SVG(true))
	return err
}

// Alone is one drawing as a file of its own.
type Alone struct {
	Name string // what the file's name ends in: "", "turn", "face", "back", "web" or "overlay"
	What string // what it shows
	SVG  string // "" where the setup has nothing to draw
}

// DrawingsAlone gives every drawing of the sheet on its own, the bed first. A web can be
// drawn only where check ran.
func DrawingsAlone(s Setup) []Alone {
	scene := s.scene()
	return []Alone{
		{"", "the bed", svg(draw.Bed(scene))},
		{"turn", "the turn in three steps", svg(draw.Turn(scene, draw.Wide))},
		{"face", "the face with its tool paths", svg(draw.Side(scene, false))},
		{"back", "the back with its tool paths", svg(draw.Side(scene, true))},
		{"web", "face, back and the web left between them", svg(draw.CutBlank(scene))},
		{"overlay", "both sides at full size, to print and lay on the blank", svg(draw.Overlay(scene))},
	}
}

// OverlayDrawing is both sides at full size over each other, and the least sheet that it is
// printed on; "" where no program is known.
func OverlayDrawing(s Setup) (drawing, sheet string) {
	c := draw.Overlay(s.scene())
	if c == nil {
		return "", ""
	}
	return svg(c), c.Sheet
}

// svg gives a figure that stands alone, "" for none.
func svg(c *draw.Canvas) string {
	if c == nil {
		return ""
	}
	return c.SVG(true)
}

// figure paints one drawing, with letters for a narrow screen too where there is such a
// painter; none where the setup is read without its drawings.
func (s *Setup) figure(paint, slim func(*draw.Scene) *draw.Canvas) Figure {
	if s.undrawn {
		return Figure{}
	}
	c := paint(s.scene())
	if c == nil {
		return Figure{}
	}
	f := Figure{ID: c.ID, Title: c.Title, Desc: c.Desc, SVG: c.SVG(false)}
	if slim != nil {
		if c := slim(s.scene()); c != nil {
			f.Slim = c.SVG(false)
		}
	}
	return f
}

func (s *Setup) bedFigure() Figure  { return s.figure(draw.Bed, nil) }
func (s *Setup) pathFigure() Figure { return s.figure(draw.Sides, nil) }

// placesFigure is where the sides lie; none where the blank lies turned on the bed, since its
// face isn't there any more.
func (s *Setup) placesFigure(high float64) Figure {
	if l := s.Answer.Lie; l != nil && l.Turn.Abs().GreaterThan(drawnStraight) {
		return Figure{}
	}
	return s.figure(func(sc *draw.Scene) *draw.Canvas { return draw.Stations(sc, high) }, nil)
}
func (s *Setup) webFigure() Figure { return s.figure(draw.SheetCutBlank, nil) }

// turnFigure is the turn with letters that read on page one, and with larger ones for a
// narrow screen.
func (s *Setup) turnFigure(high float64) Figure {
	return s.figure(func(sc *draw.Scene) *draw.Canvas { return draw.SheetTurn(sc, high) }, func(sc *draw.Scene) *draw.Canvas { return draw.Turn(sc, draw.Slim) })
}

// drawnStraight is by how many degrees a touched blank may lie turned that is drawn as if it
// lay straight: at 200 mm an edge is then 3.5 mm off. With more its place isn't drawn.
var drawnStraight = decimal.NewFromInt(1)

// scene is what the figures show of the setup.
func (s *Setup) scene() *draw.Scene {
	out := &draw.Scene{Name: s.Name(), Unit: s.Unit, BedUnit: s.bedUnit(), Answer: s.Answer, Fixture: s.Fixture, Touches: s.touchPoints()}
	if m := s.Machine; m != nil {
		out.Bed, out.NoGo, out.Taken = m.Bed, m.NoGo, m.Taken
		if m.travels() {
			out.Travel = &bed.Rect{X: m.Least[0], Y: m.Least[1], W: m.Greatest[0].Sub(m.Least[0]), H: m.Greatest[1].Sub(m.Least[1])}
		}
	}
	if d := s.Drawings; d != nil {
		out.Face, out.Back = d.Face, d.Back
	}
	for _, st := range s.places() {
		if a := s.Answer; st.Side == bed.BackSide && a.Lie != nil && a.Lie.Turn.Abs().GreaterThan(drawnStraight) {
			continue
		}
		out.Stations = append(out.Stations, st)
		out.Reach = append(out.Reach, s.reachRect(st))
	}
	if s.Answer != nil {
		switch c := s.checklist(); {
		case c.bored():
			out.Later = "plug"
		case c.through():
			out.Later = "dowels"
		}
	}
	out.Cut = s.cutBlank()
	return out
}

// cutBlank is what cutting in memory left of the blank, nil where it wasn't done.
func (s *Setup) cutBlank() *draw.Cut {
	if s.Check == nil || s.Drawings == nil {
		return nil
	}
	c := s.Check
	out := &draw.Cut{Web: s.Drawings.Web, FaceTop: s.Drawings.FaceTop, BackTop: s.Drawings.BackTop}
	if c.Least != nil {
		out.Asked = c.Least.InexactFloat64()
	}
	if c.HasWeb {
		out.Least, out.LeastAt = float64(c.WebMin), *c.WebAt.point()
	}
	for _, f := range c.Findings {
		drawn := draw.Finding{Text: f.Text, OnFace: f.FaceLine != 0 || f.BackLine == 0, OnBack: f.BackLine != 0 || f.FaceLine == 0}
		if f.Place != nil {
			drawn.Face = f.point()
			if f.Back != nil {
				drawn.Back = f.Back.point()
			}
		}
		out.Findings = append(out.Findings, drawn)
	}
	return out
}

// point is a place as the figures take it.
func (p *Place) point() *[2]float64 { return &[2]float64{float64(p.X), float64(p.Y)} }

// touchPoints numbers the readings of the first pair in X and Y, station by station; none
// where nothing locates the blank.
func (s *Setup) touchPoints() []draw.Touch {
	if a := s.Answer; a != nil && (a.Question.Register == registration.NoRegister || a.Question.Register == registration.Touched) {
		return nil
	}
	points, _ := s.namedTouches(1)
	return points
}

// namedTouches gives those of a pair, and each of TouchOffs its point's name, "" where it has
// none there.
func (s *Setup) namedTouches(pair int) (points []draw.Touch, names []string) {
	var rows []TouchOff
	if len(s.TouchOffs) > 0 {
		rows = s.touches()
	}
	names = make([]string, len(rows))
	for i, t := range rows {
		axis := strings.Index("XY", t.Axis)
		if t.Pair != pair || axis < 0 || t.Half != 0 {
			continue
		}
		last := len(points) - 1
		if last < 0 || points[last].Offset != t.Offset || points[last].What != t.What || points[last].Reads[axis] != nil {
			points = append(points, draw.Touch{Offset: t.Offset, What: t.What, Centred: t.Centred})
			last++
		}
		points[last].Reads[axis] = t.Reads
		names[i] = points[last].Name(last + 1)
	}
	return points, names
}
