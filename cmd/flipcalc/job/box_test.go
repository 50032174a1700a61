package job_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// A second derivation that knows none of the formulas: the blank is a rigid box that is
// turned by rotation matrices and laid down, and a program is what a cutter's tip does in
// the machine. Lengths are floats in the job's unit: below 1000 a dozen operations stay
// within 1e-10, and a wrong result is off by a step of the trials, 0.125 or more.

type vec [3]float64

// box is a blank in the machine: its place m, counted from the near-left corner of its
// underside with the face up, lies at turn*m + shift. Z counts from the table.
type box struct {
	size  vec
	turn  *mat.Dense
	shift vec
}

// rotation turns by an angle in degrees about an axis, 0 X, 1 Y, 2 Z (right-hand rule).
func rotation(axis int, degrees float64) *mat.Dense {
	s, c := math.Sincos(degrees * math.Pi / 180)
	r := mat.NewDense(3, 3, nil)
	r.Set(axis, axis, 1)
	u, v := (axis+1)%3, (axis+2)%3
	r.Set(u, u, c)
	r.Set(v, v, c)
	r.Set(u, v, -s)
	r.Set(v, u, s)
	return r
}

// laid is a box turned by matrices, the first one first, its least corner at a place.
func laid(size, corner vec, turns ...*mat.Dense) *box {
	b := &box{size: size, turn: mat.NewDense(3, 3, []float64{1, 0, 0, 0, 1, 0, 0, 0, 1})}
	for _, r := range turns {
		var t mat.Dense
		t.Mul(r, b.turn)
		b.turn = mat.DenseCopyOf(&t)
	}
	least, _ := b.extent()
	for k := range b.shift {
		b.shift[k] = corner[k] - least[k]
	}
	return b
}

// place is where a place of the blank lies.
func (b *box) place(m vec) (p vec) {
	var v mat.VecDense
	v.MulVec(b.turn, mat.NewVecDense(3, m[:]))
	for k := range p {
		p[k] = v.AtVec(k) + b.shift[k]
	}
	return p
}

// under undoes place: the inverse of a rotation is its transpose.
func (b *box) under(p vec) (m vec) {
	for k := range p {
		p[k] -= b.shift[k]
	}
	var v mat.VecDense
	v.MulVec(b.turn.T(), mat.NewVecDense(3, p[:]))
	copy(m[:], v.RawVector().Data)
	return m
}

// extent is the least and the greatest of the eight corners.
func (b *box) extent() (least, greatest vec) {
	for i := range 8 {
		p := b.place(vec{b.size[0] * float64(i&1), b.size[1] * float64(i>>1&1), b.size[2] * float64(i>>2)})
		for k := range p {
			if i == 0 {
				least[k], greatest[k] = p[k], p[k]
			}
			least[k], greatest[k] = min(least[k], p[k]), max(greatest[k], p[k])
		}
	}
	return least, greatest
}

// push moves the box along an axis until its side touches there.
func (b *box) push(side string, at float64) {
	least, greatest := b.extent()
	switch side {
	case "left":
		b.shift[0] += at - least[0]
	case "right":
		b.shift[0] += at - greatest[0]
	case "near":
		b.shift[1] += at - least[1]
	case "far":
		b.shift[1] += at - greatest[1]
	}
}

// side is where a side of the box lies.
func (b *box) side(name string) float64 {
	least, greatest := b.extent()
	return map[string]float64{"left": least[0], "right": greatest[0], "near": least[1], "far": greatest[1]}[name]
}

// zero is the place that a zero names on the side of the box that is up: a corner, the
// center, or X,Y from the near-left corner; its level is the top or what it lies on.
func (b *box) zero(name, level string) vec {
	least, greatest := b.extent()
	p := vec{least[0], least[1], least[2]}
	if level == "top" {
		p[2] = greatest[2]
	}
	if x, y, given := strings.Cut(name, ","); given {
		p[0] += number(x)
		p[1] += number(y)
		return p
	}
	if strings.Contains(name, "right") {
		p[0] = greatest[0]
	}
	if strings.Contains(name, "far") {
		p[1] = greatest[1]
	}
	if name == "center" {
		p[0], p[1] = (least[0]+greatest[0])/2, (least[1]+greatest[1])/2
	}
	return p
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err)
	}
	return v
}

// near says that two places are one, but for the rounding of floats.
func near(a, b vec) bool {
	return math.Abs(a[0]-b[0]) < 1e-6 && math.Abs(a[1]-b[1]) < 1e-6 && math.Abs(a[2]-b[2]) < 1e-6
}

// stroke is one straight move of a program: where its tip goes, from the zero of an offset
// or, with G53, in machine coordinates. What isn't known yet is NaN.
type stroke struct {
	offset string // "G53" is the machine's own
	rapid  bool
	from   vec
	to     vec
}

// tape is what a program of plain G0 and G1 moves in G90 does, in the unit that it begins
// with. It is read here word by word, and by nothing of flipcalc.
func tape(t *testing.T, text string) (strokes []stroke, stored map[string]vec) {
	t.Helper()
	offset, rapid, unit, scale := "", true, 0.0, 1.0
	at := vec{math.NaN(), math.NaN(), math.NaN()}
	stored = map[string]vec{}
	for _, line := range strings.Split(notes.ReplaceAllString(text, ""), "\n") {
		words := map[string]float64{}
		machine, writes := false, false
		for _, w := range word.FindAllStringSubmatch(line, -1) {
			switch v := number(w[2]); {
			case w[1] != "G":
				words[w[1]] = v
			case v == 0 || v == 1:
				rapid = v == 0
			case (v == 20 || v == 21) && (unit == 0 || unit == v):
				unit, scale = v, 1
			case v == 20:
				scale = 25.4
			case v == 21:
				scale = 1 / 25.4
			case v >= 54 && v < 60:
				offset = "G" + w[2]
			case v == 53:
				machine = true
			case v == 10:
				writes = true
			case v == 2 || v == 3 || v == 91 || v > 80 && v < 90:
				t.Fatalf("%q is more than this reading knows", line)
			}
		}
		if writes {
			z, has := words["Z"]
			if !has {
				z = math.NaN()
			}
			stored["G"+strconv.Itoa(53+int(words["P"]))] = vec{words["X"], words["Y"], z}
			continue
		}
		s := stroke{offset: offset, rapid: rapid, from: at, to: at}
		if machine {
			s.offset = "G53"
			s.to = vec{math.NaN(), math.NaN(), math.NaN()}
		}
		moves := false
		for k, letter := range []string{"X", "Y", "Z"} {
			if v, has := words[letter]; has {
				moves = true
				s.to[k] = v * scale
				if at[k] = s.to[k]; machine {
					at[k] = math.NaN()
				}
			}
		}
		if moves {
			strokes = append(strokes, s)
		}
	}
	return strokes, stored
}

var (
	notes = regexp.MustCompile(`\([^)\n]*\)|%`)
	word  = regexp.MustCompile(`([A-Z])([-+]?[0-9.]+)`)
)

// A page is turned like a page: what lay at the left lies at the right, its underside up.
func TestBoxTurnsOver(t *testing.T) {
	b := laid(vec{100, 60, 10}, vec{5, 7, 2}, rotation(1, 180))
	if got := b.place(vec{0, 0, 0}); !near(got, vec{105, 7, 12}) {
		t.Error(got)
	}
	if got := laid(vec{100, 60, 10}, vec{5, 7, 2}, rotation(0, 180), rotation(2, 90)).place(vec{0, 0, 0}); !near(got, vec{5, 7, 12}) {
		t.Error(got)
	}
	if m := (vec{20, 30, 4}); !near(b.under(b.place(m)), m) {
		t.Error(b.under(b.place(m)))
	}
}
