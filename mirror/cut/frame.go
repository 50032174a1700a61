package cut

import (
	"fmt"
	"math"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
)

// Level names the level that a program calls Z0: Top is the surface being cut,
// Bed the seating plane under the blank.
type Level uint8

// The two levels.
const (
	Top Level = iota
	Bed
)

// MaterialZ gives the height, in the coordinates of the face program, of the
// material at which a back program's z stands: both depths measured into one
// piece of the given thickness from opposite sides.
//
//	face top, back top:  -thickness - z
//	face bed, back bed:   thickness - z
//	one of each:          -z
//
// skimmed is what the face program took off the whole top, so that the turned
// piece rests on a surface that much lower; it counts where the back's zero is
// the bed.
func MaterialZ(face, back Level, thickness, skimmed, z float64) float64 {
	switch {
	case face == Top && back == Top:
		return -thickness - z
	case face == Bed && back == Bed:
		return thickness - skimmed - z
	case back == Bed:
		return -skimmed - z
	}
	return -z
}

// axis maps one coordinate: new = sign*old + offset.
type axis struct{ sign, offset float64 }

func (a axis) apply(v float64) float64 { return a.sign*v + a.offset }

// frame carries a program's coordinates to a side's own: X and Y from the
// blank's near-left corner as it lay face up; Z is 0 at the blank's surface on
// that side and falls into the material.
type frame struct {
	turn    float64 // radians, counter-clockwise about X0 Y0, taken back first
	x, y, z axis
}

// sense is -1 where arcs of the XY plane change sense: one of X and Y is reversed.
func (f frame) sense() float64 { return f.x.sign * f.y.sign }

// angle maps a direction in the XY plane, radians.
func (f frame) angle(a float64) float64 {
	a = f.sense() * (a - f.turn)
	if f.x.sign < 0 {
		a += math.Pi
	}
	return a
}

// point maps a place.
func (f frame) point(p [3]float64) [3]float64 {
	if f.turn != 0 {
		sin, cos := math.Sincos(f.turn)
		p[0], p[1] = p[0]*cos+p[1]*sin, p[1]*cos-p[0]*sin
	}
	return [3]float64{f.x.apply(p[0]), f.y.apply(p[1]), f.z.apply(p[2])}
}

// level is the frame of what is in a side's own coordinates already.
var level = frame{x: axis{sign: 1}, y: axis{sign: 1}, z: axis{sign: 1}}

// back gives the program's X and Y of a place.
func (f frame) back(x, y float64) (float64, float64) {
	x, y = f.x.sign*(x-f.x.offset), f.y.sign*(y-f.y.offset)
	if f.turn != 0 {
		sin, cos := math.Sincos(f.turn)
		x, y = x*cos-y*sin, y*cos+x*sin
	}
	return x, y
}

// under gives the rectangle of the program's coordinates that holds one of the side's own, each
// by its least and greatest X and Y.
func (f frame) under(x0, y0, x1, y1 float64) (float64, float64, float64, float64) {
	x, y := f.back((x0+x1)/2, (y0+y1)/2)
	w, h := (x1-x0)/2, (y1-y0)/2
	if f.turn != 0 {
		sin, cos := math.Sincos(f.turn)
		w, h = w*math.Abs(cos)+h*math.Abs(sin), w*math.Abs(sin)+h*math.Abs(cos)
	}
	return x - w, y - h, x + w, y + h
}

// faceFrame is the frame of the face program. zero is the face zero from the
// blank's near-left corner, turn that of the program in degrees.
func faceFrame(zero [2]float64, level Level, thickness, turn float64) frame {
	f := frame{turn: turn * math.Pi / 180, x: axis{1, zero[0]}, y: axis{1, zero[1]}, z: axis{1, 0}}
	if level == Bed {
		f.z.offset = -thickness
	}
	return f
}

// backFrame is the frame of the back program: X and Y through the inverse of the
// map that carries face coordinates to back coordinates, Z as material.
func backFrame(m transform.Map, zero [2]float64, face, back Level, thickness, skimmed float64) (frame, error) {
	if !m.OneAxis() {
		return frame{}, &fault.Error{
			Found:    fmt.Sprintf("the transform %s reverses both or neither of X and Y", m),
			Expected: "a blank turned over: exactly one of X and Y reversed",
		}
	}
	mm, _ := m.In(transform.MM, 12)
	inv := mm.Straight().Inverse()
	conv := func(a transform.Axis, zero float64) axis {
		return axis{float64(a.Sign), a.Offset.InexactFloat64() + zero}
	}
	f := frame{x: conv(inv.X, zero[0]), y: conv(inv.Y, zero[1]), turn: mm.Turn.InexactFloat64() * math.Pi / 180}
	// The back's own surface, in face coordinates, is the bed side of the blank.
	bottom := -thickness
	if face == Bed {
		bottom = 0
	}
	// depth = bottom - MaterialZ(z), which rises with z: slope 1.
	f.z = axis{1, bottom - MaterialZ(face, back, thickness, skimmed, 0)}
	return f, nil
}
