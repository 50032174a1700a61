package job_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"flipcalc/cmd/flipcalc/job"
)

// lies are the blank's two places at a pair of stations: on the bed where the layout has its
// corners, or turned over in place on the same locators.
func (r *trial) lies(j *job.Job, pair int) (face, back *box) {
	axis := 0
	if r.flip == "y" {
		axis = 1
	}
	whole, skimmed := vec{r.at(r.w), r.at(r.h), r.at(r.thick + r.skim)}, vec{r.at(r.w), r.at(r.h), r.at(r.thick)}
	over := rotation(axis, 180)
	seat, backSeat := r.at(r.seat), r.at(r.backSeat)
	if l := j.Layout; l != nil {
		var boxes [2]*box
		for i, s := range l.Stations[2*pair : 2*pair+2] {
			corner := vec{s.Corner.X.InexactFloat64(), s.Corner.Y.InexactFloat64(), [2]float64{seat, backSeat}[i]}
			turn := rotation(2, 90*float64(s.Turn))
			if i == 0 {
				boxes[i] = laid(whole, corner, turn)
			} else {
				boxes[i] = laid(skimmed, corner, over, turn)
			}
		}
		return boxes[0], boxes[1]
	}
	at := j.Answer.FaceAt
	face = laid(whole, vec{0, 0, seat})
	zero := face.zero(r.zero, r.level)
	face.shift[0] += at.X.InexactFloat64() - zero[0]
	face.shift[1] += at.Y.InexactFloat64() - zero[1]
	back = laid(skimmed, vec{0, 0, backSeat}, over)
	if r.register == "fence" {
		for _, push := range [][2]string{{r.fence, r.backFence}, {r.stop, r.backStop}} {
			// What the maker moves to another side stands where that side's edge lay.
			back.push(push[1], face.side(push[1]))
		}
		return face, back
	}
	hole := vec{r.at(r.pins[0][0]), r.at(r.pins[0][1]), 0}
	on, lies := face.place(hole), back.place(hole)
	back.shift[0] += on[0] - lies[0]
	back.shift[1] += on[1] - lies[1]
	return face, back
}

// corrected is by how much the rounds of a pair moved its second zero.
func (r *trial) corrected(pair int) (sum vec) {
	for _, c := range r.corrections {
		if c[0] == pair+1 {
			sum[0] += r.at(c[1])
			sum[1] += r.at(c[2])
		}
	}
	return sum
}

// over is the turn about the flip's axis.
func (r *trial) over() *mat.Dense {
	if r.flip == "y" {
		return rotation(1, 180)
	}
	return rotation(0, 180)
}

// faceZero is the face's zero on the blank. One that is set from fence and stop is that of
// the nominal blank against them, whatever the piece in hand measures.
func (r *trial) faceZero(face *box, level string) vec {
	straight := laid(face.size, vec{})
	if r.register != "fence" {
		return straight.zero(r.zero, level)
	}
	nominal := laid(vec{r.at(r.nominalW), r.at(r.nominalH), face.size[2]}, vec{})
	for _, side := range []string{r.fence, r.stop} {
		nominal.push(side, straight.side(side))
	}
	return nominal.zero(r.zero, level)
}

// zeroOf is where a zero lies that is named while the box lies straight, before its station
// is turned.
func (b *box) zeroOf(name, level string, straight *box) vec {
	return b.place(straight.under(straight.zero(name, level)))
}

func plus(list ...vec) (sum vec) {
	for _, v := range list {
		for k := range sum {
			sum[k] += v[k]
		}
	}
	return sum
}

// same is near, where a coordinate that isn't known has to be unknown on both sides.
func same(a, b vec) bool {
	for k := range a {
		if math.IsNaN(a[k]) != math.IsNaN(b[k]) {
			return false
		}
		if math.IsNaN(a[k]) {
			a[k], b[k] = 0, 0
		}
	}
	return near(a, b)
}

// stored is what an offset holds for a place over the table: the machine's Z with the tool
// that touches it, which sticks out so far, or with none where lengths are stored whole.
func (r *trial) stored(zero vec) vec {
	switch {
	case r.whole:
		zero[2] += r.at(r.table)
	case r.calls:
		zero[2] = math.NaN() // nothing says how it is stored
	default:
		zero[2] += r.at(r.table + r.stick)
	}
	return zero
}

// zerosSaid compares the zeros of the answer.
func (r *trial) zerosSaid(t *testing.T, j *job.Job, pair int, zeros [2]vec, moved vec) {
	a := j.Pairs[pair]
	if at := a.FaceAt; at == nil || !near(vec{at.X.InexactFloat64(), at.Y.InexactFloat64()}, vec{zeros[0][0], zeros[0][1]}) {
		t.Errorf("pair %d: face zero at %v, the box has it at %v", pair+1, at, zeros[0])
	}
	s, want := a.Second, plus(zeros[1], moved)
	if s == nil || !s.Machine || !near(vec{s.X.InexactFloat64(), s.Y.InexactFloat64()}, vec{want[0], want[1]}) {
		t.Errorf("pair %d: second zero at %+v, the box has it at %v", pair+1, s, want)
	}
	if rise := zeros[1][2] - zeros[0][2]; math.Abs(a.Rise.InexactFloat64()-rise) > 1e-9 {
		t.Errorf("pair %d: second zero %s higher, in the box %v", pair+1, a.Rise, rise)
	}
	for side, z := range j.Setup.Reading {
		if want := zeros[side][2] + r.at(r.table+r.stick); pair == 0 && (z == nil || math.Abs(z.InexactFloat64()-want) > 1e-9) {
			t.Errorf("the machine reads %v on side %d's zero, from table and stick-out it is %v", z, side, want)
		}
	}
}
