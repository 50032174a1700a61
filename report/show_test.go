package report

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"flipcalc/report/draw"
)

// drawn is the marker's setup with tool paths and a web map.
func drawn() Setup {
	s := markerSetup()
	ring := func(cx, cy, r float64) (pts [][2]float64) {
		for i := 0; i <= 48; i++ {
			a := 2 * math.Pi * float64(i) / 48
			pts = append(pts, [2]float64{cx + r*math.Cos(a), cy + r*math.Sin(a)})
		}
		return pts
	}
	face := &draw.Path{Strokes: []draw.Stroke{
		{Rapid: true, Points: [][2]float64{{0, 0}, {20, 25}}},
		{Points: [][2]float64{{20, 25}, {20, 55}, {38, 25}, {38, 55}}},
		{Rapid: true, Points: [][2]float64{{38, 55}, {92, 40}}},
		{Points: ring(80, 40, 12)},
	}}
	back := &draw.Path{Strokes: []draw.Stroke{
		{Rapid: true, Points: [][2]float64{{0, 0}, {4, 4}}},
		{Points: [][2]float64{{4, 4}, {116, 4}, {116, 76}, {4, 76}, {4, 4}}},
		{Points: ring(40, 40, 12)},
	}}
	g := &draw.Grid{NX: 240, NY: 160, Cell: 0.5}
	for j := range g.NY {
		for i := range g.NX {
			x, y := (float64(i)+.5)*.5, (float64(j)+.5)*.5
			v := 12.0
			if math.Hypot(x-80, y-40) < 15 {
				v = 3.4 + math.Hypot(x-80, y-40)/4
			}
			if math.Abs(x-30) < 10 && math.Abs(y-40) < 16 {
				v = 8
			}
			if math.Hypot(x-105, y-65) < 4 {
				v = 0
			}
			g.V = append(g.V, float32(v))
		}
	}
	web := g
	faceTop := &draw.Grid{NX: web.NX, NY: web.NY, Cell: web.Cell, V: make([]float32, len(web.V))}
	backTop := &draw.Grid{NX: web.NX, NY: web.NY, Cell: web.Cell, V: make([]float32, len(web.V))}
	for j := range web.NY {
		for i := range web.NX {
			faceTop.V[j*web.NX+i] = web.At(i, j)
			v := float32(12)
			if x := (float64(i) + 0.5) * web.Cell; x < 6 || x > 114 {
				v = 6
			}
			backTop.V[j*web.NX+i] = v
		}
	}
	s.Drawings = &Drawings{Face: face, Back: back, Web: g, FaceTop: faceTop, BackTop: backTop}
	return s
}

// checked is the marker cut in memory: a pocket in the face, a hole right
// through, a finding at a pin.
func checked() Setup {
	s := drawn()
	c := *s.Check
	c.WebAt = Place{80, 40}
	c.Islands = []Island{{X: 105, Y: 65, Area: 50, Overlap: 1, Cuts: Cuts{FaceLine: 9, BackLine: 14}}}
	c.Findings = []Finding{
		{Code: "pin-cut", Level: "finding", Hit: true, Side: "face", Place: &Place{60, 10}, Cuts: Cuts{FaceLine: 31}, Text: "face: the cutter runs 1.5 mm into pin 1, 3 mm below its top"},
		{Code: "broken-through", Level: "finding", Side: "both", Place: &Place{105, 65}, Cuts: Cuts{FaceLine: 9, BackLine: 14}, Text: "broken through: face and back meet, overlap 1 mm, hole of 50 mm2"},
		{Code: "travel-exceeded", Level: "finding", Side: "back", Cuts: Cuts{BackLine: 3}, Text: "back: leaves the travel of X by 3 mm at 600 mm"},
	}
	s.Check = &c
	s.Machine.NoGo = append(s.Machine.NoGo, area("clamp", "90", "95", "25", "20"))
	return s
}

func bedDrawing(s Setup) string  { return svg(draw.Bed(s.scene())) }
func turnDrawing(s Setup) string { return svg(draw.Turn(s.scene(), draw.Wide)) }
func pathDrawing(s Setup) string { return svg(draw.Sides(s.scene())) }
func webDrawing(s Setup) string  { return svg(draw.CutBlank(s.scene())) }

// TestWriteSamples leaves the outputs in a folder to be looked at.
func TestWriteSamples(t *testing.T) {
	dir := os.Getenv("REPORT_SAMPLES")
	if dir == "" {
		t.Skip("set REPORT_SAMPLES to a folder to look at the outputs")
	}
	s := drawn()
	var page bytes.Buffer
	if err := HTML(&page, s); err != nil {
		t.Fatal(err)
	}
	var png, svg bytes.Buffer
	if err := errors.Join(PicturePNG(&png, checked()), PictureSVG(&svg, checked())); err != nil {
		t.Fatal(err)
	}
	stop := Setup{Answer: stopAnswer(1 + 3), Checklist: true}
	var page2 bytes.Buffer
	if err := HTML(&page2, stop); err != nil {
		t.Fatal(err)
	}
	plug := Setup{Answer: plugAnswer(t, false), Checklist: true, Title: "Bobbin end"}
	for name, b := range map[string][]byte{
		"plugturn.svg": []byte(turnDrawing(plug)), "plugbed.svg": []byte(bedDrawing(plug)),
		"check.png": png.Bytes(), "check.svg": svg.Bytes(), "sheet.html": page.Bytes(), "stop.html": page2.Bytes(), "bed.svg": []byte(bedDrawing(s)), "turn.svg": []byte(turnDrawing(s)),
		"paths.svg": []byte(pathDrawing(s)), "web.svg": []byte(webDrawing(s)), "stopbed.svg": []byte(bedDrawing(stop)),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
