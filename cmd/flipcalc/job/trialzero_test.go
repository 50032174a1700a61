package job_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/cmd/flipcalc/job"
	"flipcalc/registration"
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
	face, back = laid(whole, vec{0, 0, seat}), laid(skimmed, vec{0, 0, backSeat}, over)
	// What locates the blank stands in the bed, where the nominal one needs it.
	nominal := laid(vec{r.at(r.nominalW), r.at(r.nominalH), whole[2]}, vec{0, 0, seat})
	zero := nominal.zero(r.zero, r.level)
	nominal.shift[0] += at.X.InexactFloat64() - zero[0]
	nominal.shift[1] += at.Y.InexactFloat64() - zero[1]
	if r.register == "fence" {
		for _, side := range []string{r.fence, r.stop} {
			face.push(side, nominal.side(side))
		}
		for _, side := range []string{r.backFence, r.backStop} {
			// What the maker moves to another side stands where that side's edge lay.
			back.push(side, nominal.side(side))
		}
		return face, back
	}
	r.peg(face, nominal)
	r.peg(back, nominal)
	return face, back
}

// peg brings a box's hole over the same hole of another.
func (r *trial) peg(b, over *box) {
	hole := vec{r.at(r.pins[0][0]), r.at(r.pins[0][1]), 0}
	on, lies := over.place(hole), b.place(hole)
	b.shift[0] += on[0] - lies[0]
	b.shift[1] += on[1] - lies[1]
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

// faceZero is the face's zero on the blank: that of the nominal blank against fence and
// stop, or on the same pins, whatever the piece in hand measures.
func (r *trial) faceZero(face *box, level string) vec {
	straight := laid(face.size, vec{})
	nominal := laid(vec{r.at(r.nominalW), r.at(r.nominalH), face.size[2]}, vec{})
	if r.register != "fence" {
		return nominal.zero(r.zero, level)
	}
	for _, side := range []string{r.fence, r.stop} {
		nominal.push(side, straight.side(side))
	}
	return nominal.zero(r.zero, level)
}

// backZeroOn is the back's zero on the blank: that of the nominal blank on the same pins, or
// the one that the piece in hand has itself at fence and stop.
func (r *trial) backZeroOn(back *box, level string) vec {
	straight := laid(back.size, vec{}, r.over())
	if r.register == "fence" {
		return straight.under(straight.zero(r.backZero, level))
	}
	nominal := laid(vec{r.at(r.nominalW), r.at(r.nominalH), back.size[2]}, vec{}, r.over())
	r.peg(nominal, straight)
	return straight.under(nominal.zero(r.backZero, level))
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

// TestMeasuredMovesNoPin: dowels and plug stand in the bed, so whatever the piece in hand
// measures, they, both zeros and what is written for them in X and Y are those of the job that
// doesn't say it (common practice). Z follows the piece's thickness.
func TestMeasuredMovesNoPin(t *testing.T) {
	n := 0
	for seed := range 60 {
		rng := rand.New(rand.NewPCG(29, uint64(seed)))
		r := draw(rng, seed%2 == 0)
		at := slices.IndexFunc(r.keys, func(k string) bool { return strings.HasPrefix(k, "measured") })
		if r.register == "fence" || at < 0 {
			continue
		}
		if !r.pairs {
			r.key("at", strconv.Quote(r.lengths(90, 60)))
		} else {
			r.bed = [2]int{160, 110}
		}
		n++
		for verb, work := range map[string]func(*job.Job) error{"origin": func(j *job.Job) error { return j.Origin(false) }, "stations": (*job.Job).Stations, "prepare": (*job.Job).Prepare} {
			sized, err := r.work(t, verb, work)
			if err != nil {
				t.Fatalf("%v\n%s", err, strings.Join(r.keys, "\n"))
			}
			keys := r.keys
			r.keys = slices.Delete(slices.Clone(keys), at, at+1)
			nominal, err := r.work(t, verb, work)
			r.keys = keys
			if err != nil {
				t.Fatal(err)
			}
			for i, a := range sized.Pairs {
				if is, was := inBed(a), inBed(nominal.Pairs[i]); !slices.EqualFunc(is, was, near) {
					t.Errorf("%s, pair %d: zeros and pins at %v, in the nominal job at %v\n%s", verb, i+1, is, was, strings.Join(keys, "\n"))
				}
			}
			for _, name := range []string{"offsets.nc", "pins-bed.nc", "pins-through.nc", "pins-back-bed.nc", "pins-blank.nc"} {
				if is, was := ways(t, texts(sized)[name]), ways(t, texts(nominal)[name]); !slices.EqualFunc(is, was, same) {
					t.Errorf("%s goes elsewhere than in the nominal job\n%s", name, strings.Join(keys, "\n"))
				}
			}
		}
	}
	if n < 8 {
		t.Errorf("%d jobs with a measured piece on pins", n)
	}
}

// ways are the places over which a program goes, one after the other, however deep.
func ways(t *testing.T, text string) (list []vec) {
	strokes, _ := tape(t, text)
	for _, s := range strokes {
		if p := (vec{s.to[0], s.to[1]}); len(list) == 0 || !same(list[len(list)-1], p) {
			list = append(list, p)
		}
	}
	return list
}

// inBed lists both zeros, and what stands in holes on both sides.
func inBed(a *registration.Answer) (list []vec) {
	add := func(x, y decimal.Decimal) { list = append(list, vec{x.InexactFloat64(), y.InexactFloat64()}) }
	add(a.FaceAt.X, a.FaceAt.Y)
	add(a.Second.X, a.Second.Y)
	for _, back := range []bool{false, true} {
		for _, s := range a.Stands(back) {
			add(s.At.X, s.At.Y)
		}
	}
	return list
}
