package draw

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// A Scene is what the figures show. Whatever is missing isn't drawn.
type Scene struct {
	Name    string // what is made
	Unit    transform.Unit
	BedUnit transform.Unit // of everything in machine coordinates

	Answer   *registration.Answer
	Stations []bed.Station    // face and back of each pair; one place each where a blank is alone
	Fixture  *decimal.Decimal // how far a fixture plate goes beyond the blank, all round
	Touches  []Touch          // in the order of their numbers, from 1
	Later    string           // what stands at the face only once that is cut, "plug" or "dowels"; "" for nothing

	Bed    *Area
	Travel *bed.Rect // in X and Y; nil is unknown
	NoGo   []Area
	Taken  []Taken

	Reach []bed.Rect // over the stations, what the cutters pass over with their whole width; empty is unknown

	Face, Back *Path // in program coordinates
	Cut        *Cut  // nil: nothing was cut in memory
}

// Area is a rectangle of the bed.
type Area struct {
	bed.Area
	Name string `json:"name,omitempty"`
}

func (a Area) box() box { return rectBox(a.Rect) }

func rectBox(r bed.Rect) box { return box{fl(r.X), fl(r.Y), fl(r.Right()), fl(r.Far())} }

// Taken is an offset in use; Area is nil if it covers no known part of the bed.
type Taken struct {
	Offset string `json:"offset"`
	Area   *Area  `json:"area"`
}

// Touch is one place where the tool is held to a station.
type Touch struct {
	Offset  string
	What    string              // what is touched, for example "left stop"
	Centred bool                // the spindle is centred on it instead of standing beside it
	Reads   [2]*decimal.Decimal // X and Y in the station's own offset, nil where that axis isn't read there
}

// Name is a touch point's name by its number, from 1. The letter keeps it apart from the
// numbers of dowels.
func (t Touch) Name(number int) string { return "P" + itoa(number) }

// Says is a touch's reading with its name: "P1 X60 Y6".
func (t Touch) Says(number int) string {
	text := t.Name(number)
	for axis, v := range t.Reads {
		if v != nil {
			text += " " + "XY"[axis:axis+1] + v.String()
		}
	}
	return text
}

// Cut is a blank that was cut in memory.
type Cut struct {
	Web *Grid // what is left, seen from the face
	// FaceTop and BackTop are the heights over the seating plane of the surface that is
	// being cut, as the blank then lies.
	FaceTop, BackTop *Grid
	Asked            float64   // the least web asked for; 0 is none
	Least            float64   // the least web found; 0 or less is not drawn
	LeastAt          point     // from the face zero
	Findings         []Finding // in the order of their numbers, from 1
}

// Finding is what was found at a place of the cut blank, from the face zero.
type Finding struct {
	Text           string
	Face           *point // where it is on the face
	Back           *point // where it is on the back, seen from the face
	OnFace, OnBack bool   // the sides that it is marked on
}

// Grid is a map of heights or thicknesses over the blank, row 0 the near one,
// X to the right, in an as-laid frame of the blank.
type Grid struct {
	NX, NY int
	Cell   float64
	V      []float32
}

// At gives the value of the cell in column i and row j.
func (g *Grid) At(i, j int) float32 { return g.V[j*g.NX+i] }

// offsetOf is the offset of a side's program, "" where none is known.
func (s *Scene) offsetOf(back bool) string {
	switch {
	case !back:
		return s.Answer.Question.FaceOffset()
	case s.Answer.Second != nil:
		return s.Answer.Second.Offset
	}
	return ""
}

// blank is the blank's size as it is used; nothing is drawn of one that has none.
func (s *Scene) blank() (w, h float64, ok bool) {
	if s.Answer == nil {
		return 0, 0, false
	}
	w, h = fl(s.Answer.Used.W), fl(s.Answer.Used.H)
	return w, h, w > 0 && h > 0
}

func (s *Scene) pathOf(back bool) *Path {
	if back {
		return s.Back
	}
	return s.Face
}

// zeroOf is a side's zero in its as-laid frame.
func (s *Scene) zeroOf(back bool) point {
	z := s.Answer.FaceZero
	if back {
		z = s.Answer.BackZero
	}
	return point{fl(z.X), fl(z.Y)}
}

// turned carries a place on the blank lying with one side up to where it lies with the
// other side up.
func (s *Scene) turned(at point) point {
	w, h, _ := s.blank()
	if s.Answer.Question.Flip == registration.FlipX {
		return point{at[0], h - at[1]}
	}
	return point{w - at[0], at[1]}
}
