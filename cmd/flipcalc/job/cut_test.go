package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
)

// solid is what a cutter may run into, in the machine: a round pin or a rectangle, up to a
// height over the table.
type solid struct {
	code   string
	x, y   float64 // of a pin's center, of a rectangle's near-left corner
	radius float64 // of a pin
	w, h   float64 // of a rectangle
	high   float64
}

// from is how far a place lies from it in plan, 0 inside.
func (s solid) from(p vec) float64 {
	if s.w == 0 {
		return max(0, math.Hypot(p[0]-s.x, p[1]-s.y)-s.radius)
	}
	return math.Hypot(max(0, s.x-p[0], p[0]-s.x-s.w), max(0, s.y-p[1], p[1]-s.y-s.h))
}

// met is how deep in plan the widest bite of a cutter goes into it, below 0 where it stays
// clear. Moves begin where X and Y are both known.
func (s solid) met(strokes []stroke, zero vec, radius float64) float64 {
	deepest := math.Inf(-1)
	for _, k := range strokes {
		from, to := plus(zero, k.from), plus(zero, k.to)
		for i := range 201 {
			var p vec
			for a := range p {
				p[a] = from[a] + (to[a]-from[a])*float64(i)/200
			}
			if !math.IsNaN(p[0]+p[1]+p[2]) && p[2] < s.high {
				deepest = max(deepest, radius-s.from(p))
			}
		}
	}
	return deepest
}

// TestCutsAgainstBoxes cuts jobs that are drawn at random, with pins, a no-go area and a clamp
// of whatever height in reach: what check finds, the boxes have. So is the room that the
// travel leaves.
func TestCutsAgainstBoxes(t *testing.T) {
	n := 30
	if testing.Short() {
		n = 15
	}
	found := map[string]int{}
	for seed := range n {
		rng := rand.New(rand.NewPCG(13, uint64(seed)))
		r := draw(rng, seed%3 == 0)
		tool := r.between(2, 3)
		r.key("tool", strconv.Quote("1=flat,"+r.length(tool)))
		r.key("cell", strconv.Quote(in(r.inch, 1).Div(in(true, 16)).String())) // 1.5875 mm
		if r.register != "fence" && rng.IntN(2) == 0 {                         // a mark beside or on each pin
			zero := r.faceZero(laid(vec{r.at(r.w), r.at(r.h), r.at(r.thick)}, vec{}), "top")
			for k, p := range r.pins {
				r.marks[0][k][0] = p[0] - int(math.Round(zero[0]/r.at(1))) + r.between(-3, 3)
				r.marks[1][k][1] = p[1] - int(math.Round(zero[1]/r.at(1))) + r.between(-3, 3)
				r.marks[0][k][1], r.marks[1][k][0] = p[1]-int(math.Round(zero[1]/r.at(1))), p[0]-int(math.Round(zero[0]/r.at(1)))
			}
		}
		var areas []solid
		if r.pairs {
			r.bed = [2]int{160, 110}
		} else {
			r.backSeat = r.seat // an area's height counts from the lower seat
			i := slices.IndexFunc(r.keys, func(k string) bool { return strings.HasPrefix(k, "back-seat") })
			r.keys[i] = "back-seat = " + strconv.Quote(r.length(r.seat))
			at := [2]int{r.between(60, 80), r.between(50, 60)}
			r.key("at", strconv.Quote(fmt.Sprintf("%s,%s", r.lengths(at[:]...), in(r.inch, r.zeroZ()))))
			for _, key := range []string{"no-go", "clamp"} {
				w, h, high := r.between(2, 12), r.between(2, 12), r.between(1, 12)
				if key == "clamp" { // over the blank none is lower than its top
					high = max(high, r.seat+r.thick+r.skim)
				}
				x, y := at[0]+r.marks[0][0][0]-r.between(0, 12), at[1]+r.marks[0][0][1]-r.between(0, 12)
				over := in(r.inch, 2*high+1).Mul(in(true, 4)) // half way between eighths
				r.key(key, fmt.Sprintf(`"%s,%sx%s,%s"`, r.lengths(x, y), r.length(w), r.length(h), over))
				areas = append(areas, solid{code: "no-go-entered", x: r.at(x), y: r.at(y), w: r.at(w), h: r.at(h), high: over.InexactFloat64()})
			}
		}
		pinHigh := r.between(0, r.thick)
		if r.register != "fence" {
			r.key("pin-height", strconv.Quote(in(r.inch, 2*pinHigh+1).Mul(in(true, 4)).String()))
		}
		j, err := r.work(t, "check", (*job.Job).Check)
		if err != nil {
			t.Fatalf("%v\n%s", err, strings.Join(r.keys, "\n"))
		}
		r.met(t, j, areas, pinHigh, r.at(tool)/2, found)
		r.travels(t, j)
		if t.Failed() {
			t.Fatalf("trial %d:\n%s", seed, strings.Join(r.keys, "\n"))
		}
	}
	t.Log(found)
	for _, want := range []string{"face no-go-entered", "back no-go-entered", "face pin-cut", "back pin-cut"} {
		if !testing.Short() && (found[want] < 2 || found["no "+want] < 2) {
			t.Errorf("%s: %d times, %d times not", want, found[want], found["no "+want])
		}
	}
}

// zeroZ is the machine's Z on the face's zero, in eighths.
func (r *trial) zeroZ() int {
	z := r.table + r.seat
	if r.level == "top" {
		z += r.thick + r.skim
	}
	if !r.whole {
		z += r.stick
	}
	return z
}

// sides are the moves of either side's programs at a pair, with the zero that they go from.
func (r *trial) sides(t *testing.T, j *job.Job, pair int) (strokes [2][]stroke, zeros [2]vec, boxes [2]*box) {
	t.Helper()
	bare := *r // prepare wouldn't write what runs into something
	bare.keys = slices.DeleteFunc(slices.Clone(r.keys), func(k string) bool {
		return strings.HasPrefix(k, "no-go") || strings.HasPrefix(k, "clamp") || strings.HasPrefix(k, "tool")
	})
	c, err := bare.work(t, "prepare", (*job.Job).Prepare)
	if err != nil {
		t.Fatal(err)
	}
	files := texts(c)
	prefix := ""
	if len(j.Pairs) > 1 {
		prefix = fmt.Sprintf("pair%d-", pair+1)
	}
	for i, name := range []string{"face.nc", "back-outline.nc", "back-lettering.nc"} {
		list, _ := tape(t, files[prefix+name])
		strokes[min(i, 1)] = append(strokes[min(i, 1)], list...)
	}
	boxes[0], boxes[1] = r.lies(j, pair)
	zeros = [2]vec{boxes[0].place(r.faceZero(boxes[0], r.level)), boxes[1].place(r.backZeroOn(boxes[1], r.backLevel))}
	return strokes, zeros, boxes
}

// met compares what the first pair's cuts run into. What lies within a cell of the rim may be
// found or not.
func (r *trial) met(t *testing.T, j *job.Job, areas []solid, pinHigh int, radius float64, found map[string]int) {
	strokes, zeros, boxes := r.sides(t, j, 0)
	seats := [2]float64{r.at(r.seat), r.at(r.backSeat)}
	for side, name := range []string{"face", "back"} {
		solids := slices.Clone(areas)
		if r.register != "fence" {
			for i, p := range r.pins {
				at := boxes[side].place(vec{r.at(p[0]), r.at(p[1]), 0})
				solids = append(solids, solid{code: "pin-cut", x: at[0], y: at[1], radius: r.pinRadius(i), high: seats[side] + r.at(2*pinHigh+1)/2})
			}
		}
		worst := map[string]float64{}
		for _, s := range solids {
			depth := s.met(strokes[side], zeros[side], radius)
			if was, has := worst[s.code]; !has || depth > was {
				worst[s.code] = depth
			}
		}
		for code, depth := range worst {
			if math.Abs(depth) < r.at(1)/8 {
				continue
			}
			is := false
			for _, f := range j.Setup.Check.Findings {
				is = is || f.Code == code && f.Side == name && !strings.HasPrefix(f.Text, "pair 2")
			}
			if is != (depth > 0) {
				t.Errorf("%s on the %s: found is %v, between the boxes it goes %v deep", code, name, is, depth)
			}
			if key := name + " " + code; is {
				found[key]++
			} else {
				found["no "+key]++
			}
		}
	}
}

// pinRadius is half of what stands in the blank.
func (r *trial) pinRadius(i int) float64 {
	dia := map[string][2]float64{"dowels": {6, 5}, "plug": {12, 5}}[r.register]
	if r.inch {
		dia = map[string][2]float64{"dowels": {0.25, 0.1875}, "plug": {0.5, 0.1875}}[r.register]
	}
	return dia[i] / 2
}

// travels compares the room that each station's moves leave to the ends of the travel.
func (r *trial) travels(t *testing.T, j *job.Job) {
	ends := [3][2]int{{8 - r.beside[0], 8 + r.bed[0] + r.beside[1]}, {4 - r.beside[2], 4 + r.bed[1] + r.beside[3]}, {r.table + 8, 0}}
	rows := map[string][2]float64{}
	for _, row := range j.Setup.Check.Travel {
		rows[row.Station+row.Axis] = [2]float64{float64(row.Low), float64(row.High)}
	}
	for pair, a := range j.Pairs {
		strokes, zeros, _ := r.sides(t, j, pair)
		for side, offset := range []string{a.Question.FaceOffset(), a.Second.Offset} {
			for axis, letter := range []string{"X", "Y", "Z"} {
				zero := zeros[side][axis]
				if axis == 2 {
					zero += r.at(r.table + r.stick)
				}
				least, greatest := math.Inf(1), math.Inf(-1)
				for _, s := range strokes[side] {
					if v := zero + s.to[axis]; s.offset != "G53" && !math.IsNaN(v) {
						least, greatest = min(least, v), max(greatest, v)
					}
				}
				want := [2]float64{least - r.at(ends[axis][0]), r.at(ends[axis][1]) - greatest}
				got, has := rows[offset+letter]
				if !has || math.Abs(got[0]-want[0]) > 1e-6 || math.Abs(got[1]-want[1]) > 1e-6 {
					t.Errorf("pair %d, %s: room %v in %s (%v), the boxes leave %v", pair+1, offset, got, letter, has, want)
				}
			}
		}
	}
}

// TestDowelsOfEitherSize: dowels whose length follows from the blank stay as they are when a
// piece turns out thinner or thicker, so check has the higher of what the two sizes ask for.
func TestDowelsOfEitherSize(t *testing.T) {
	compared := 0
	for seed := range 40 {
		r := draw(rand.New(rand.NewPCG(23, uint64(seed))), false)
		if r.register != "dowels" || r.through {
			continue
		}
		keys := slices.DeleteFunc(r.keys, func(k string) bool { return strings.HasPrefix(k, "stock") || strings.HasPrefix(k, "measured") })
		r.key("at", strconv.Quote(r.lengths(70, 55)))
		r.key("tool", strconv.Quote("1=flat,"+r.length(2)))
		keys = append(keys, r.keys[len(r.keys)-2:]...)
		size := func(key string, thick int) string {
			return fmt.Sprintf(`%s = "%sx%sx%s"`, key, r.length(r.w), r.length(r.h), r.length(thick))
		}
		heights := func(more ...string) (high [2]float64) {
			r.keys = slices.Concat(keys, more)
			j, err := r.work(t, "check", (*job.Job).Check)
			if err != nil {
				t.Fatalf("%v\n%s", err, strings.Join(r.keys, "\n"))
			}
			for i, s := range j.Setup.Check.Standing {
				high[i] = s.Height.InexactFloat64()
			}
			return high
		}
		// Two eighths apart, so that most take dowels of another length.
		thin, thick := 4+r.skim, 6+r.skim
		a, b := heights(size("stock", thin)), heights(size("stock", thick))
		for _, both := range [][2]float64{heights(size("stock", thin), size("measured", thick)), heights(size("stock", thick), size("measured", thin))} {
			for i, is := range both {
				if is != max(a[i], b[i]) {
					t.Errorf("trial %d: dowel %d is %v high, for either size alone %v and %v", seed, i+1, is, a[i], b[i])
				}
			}
		}
		if a != b {
			compared++
		}
	}
	if compared < 2 {
		t.Errorf("%d trials with dowels of two lengths", compared)
	}
}
