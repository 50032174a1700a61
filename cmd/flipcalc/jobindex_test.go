package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The bed is drilled for the index pin where the blank's hole comes to lie. Derived a
// second time from a box in space: its corners, the bore and the hole are turned by a
// rotation matrix (gonum), then the box is moved until the bore is over the plug and its
// underside on the seating plane. Nothing of the package's formulas is used. Lengths are
// multiples of 0.01 below 1000, so that 1e-9 parts right from wrong.
func TestDrillsIndexWhereTheHoleLies(t *testing.T) {
	const w, h, thick = 60., 50., 12.
	bore, hole := [3]float64{30, 20}, [3]float64{51.5, 41.25}
	const plane, inBed = -50., 5.
	cases := 0
	for _, flip := range []string{"x", "y"} {
		for _, zero := range []string{"near-left", "far-right", "center"} {
			for _, z := range []string{"top", "bed"} {
				for _, plugAt := range []string{"", "333,222.5"} {
					z1 := -38.
					if z == "bed" {
						z1 = plane
					}
					line := fmt.Sprintf("pins --stock %vx%vx%v --register plug --bore 30,20,12 --plug 11.95 --clock pin=51.5,41.25,4 --hole 4.02 --spoilboard 18 "+
						"--set drill=7=4 --set speed=9000 --set plunge=250 --json --flip %s --zero %s --z-zero %s --at 100,50,%v", w, h, thick, flip, zero, z, z1)
					face := newBox(w, h, thick, "")
					zeroOf := func(b *box) [3]float64 {
						low, high := b.extent()
						p := map[string][3]float64{"near-left": low, "far-right": high,
							"center": {(low[0] + high[0]) / 2, (low[1] + high[1]) / 2}}[zero]
						p[2] = low[2]
						if z == "top" {
							p[2] = high[2]
						}
						return p
					}
					a := zeroOf(face)
					face.move([3]float64{100 - a[0], 50 - a[1], z1 - a[2]})
					plug := face.at(bore)
					if plugAt != "" {
						line += " --set plug-at=" + plugAt
						plug[0], plug[1] = 333, 222.5
					}
					back := newBox(w, h, thick, flip)
					low, _ := back.extent()
					from := back.at(bore)
					back.move([3]float64{plug[0] - from[0], plug[1] - from[1], plane - low[2]})
					want := map[string][3]float64{}
					for name, b := range map[string]*box{"pins-bed.nc": face, "pins-back-bed.nc": back} {
						zero, p := zeroOf(b), b.at(hole)
						want[name] = [3]float64{p[0] - zero[0], p[1] - zero[1], plane - inBed - zero[2]}
					}

					dir := filepath.Join(t.TempDir(), "out")
					var out, errw bytes.Buffer
					if code := run(append(strings.Fields(line), "-o", dir), strings.NewReader(""), &out, &errw); code != exitDone {
						t.Fatalf("%s: %d, %s", line, code, errw.String())
					}
					var said pinsSaid
					if err := json.Unmarshal(out.Bytes(), &said); err != nil {
						t.Fatal(err)
					}
					if len(said.Fit.Drilling) != 2 {
						t.Fatalf("%s: %d programs, want 2", line, len(said.Fit.Drilling))
					}
					for _, p := range said.Fit.Drilling {
						cases++
						holes := follow(t, filepath.Join(dir, p.Name), p.Safe)
						if len(holes) != 1 {
							t.Fatalf("%s: %s drills %v, want one hole", line, p.Name, holes)
						}
						for place, bottom := range holes {
							var x, y, zz float64
							var tool int
							if _, err := fmt.Sscanf(place+" "+bottom, "T%d X%g Y%g %g", &tool, &x, &y, &zz); err != nil {
								t.Fatal(err)
							}
							for k, got := range [3]float64{x, y, zz} {
								if tool != 7 || math.Abs(got-want[p.Name][k]) > 1e-9 {
									t.Errorf("%s: %s drills %s to Z%s, want %v", line, p.Name, place, bottom, want[p.Name])
								}
							}
						}
					}
				}
			}
		}
	}
	if cases != 2*3*2*2*2 {
		t.Errorf("%d programs", cases)
	}
}

// box is a blank in space: turned about an axis of the machine, then moved.
type box struct {
	size [3]float64
	r    *mat.Dense
	t    [3]float64
}

// newBox gives a blank that lies with its face up, or turned half round about the axis
// that the flip is named after.
func newBox(w, h, thick float64, flip string) *box {
	b := &box{size: [3]float64{w, h, thick}, r: mat.NewDense(3, 3, []float64{1, 0, 0, 0, 1, 0, 0, 0, 1})}
	sin, cos := math.Sincos(math.Pi)
	switch flip {
	case "x":
		b.r = mat.NewDense(3, 3, []float64{1, 0, 0, 0, cos, -sin, 0, sin, cos})
	case "y":
		b.r = mat.NewDense(3, 3, []float64{cos, 0, sin, 0, 1, 0, -sin, 0, cos})
	}
	return b
}

func (b *box) at(m [3]float64) [3]float64 {
	var v mat.VecDense
	v.MulVec(b.r, mat.NewVecDense(3, m[:]))
	return [3]float64{v.AtVec(0) + b.t[0], v.AtVec(1) + b.t[1], v.AtVec(2) + b.t[2]}
}

func (b *box) move(by [3]float64) {
	for k := range by {
		b.t[k] += by[k]
	}
}

// extent gives the least and greatest coordinates of the corners.
func (b *box) extent() (low, high [3]float64) {
	low, high = b.at([3]float64{}), b.at([3]float64{})
	for i := range 8 {
		c := b.at([3]float64{b.size[0] * float64(i&1), b.size[1] * float64(i>>1&1), b.size[2] * float64(i>>2&1)})
		for k := range c {
			low[k], high[k] = min(low[k], c[k]), max(high[k], c[k])
		}
	}
	return low, high
}
