package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror"
	"flipcalc/report"
)

// stands looks whether the stations have the room that they are promised: the blanks lie on the
// bed, as far apart as asked, 30 mm where nothing is said, with 20 mm for a fence and stop
// about each (common practice), and whatever its programs do stays in the travel.
func (r *trial) stands(t *testing.T, j *job.Job, files map[string]string) {
	if l := j.Setup.Level; l != nil {
		sum := plus(vec{l.Table.InexactFloat64()}, vec{l.StickOut.InexactFloat64()}, vec{l.Seat.InexactFloat64()})
		if l.Thick != nil {
			sum[0] += l.Thick.InexactFloat64()
		}
		if z := j.Setup.Reading[0].InexactFloat64(); math.Abs(sum[0]-z) > 1e-9 {
			t.Errorf("Z is said to be made of %+v, which is %v; it is %v", l, sum[0], z)
		}
	}
	if !r.pairs {
		return
	}
	gap, margin := 30/r.mm(), 0.0
	if r.gap > 0 {
		gap = r.at(r.gap)
	}
	if r.register == "fence" && !r.fixture {
		margin = 20 / r.mm()
	}
	// Lengths are rounded in inches, each to 0.0001 or finer. Room is kept for the nominal blank:
	// the piece in hand goes beyond it by what it is larger, and so may its neighbour.
	slack := 0.001 + 2*r.at(max(r.w-r.nominalW, r.h-r.nominalH, 0))
	ends := [2]vec{{r.at(8 - r.beside[0]), r.at(4 - r.beside[2]), math.Inf(-1)}, {r.at(8 + r.bed[0] + r.beside[1]), r.at(4 + r.bed[1] + r.beside[3]), math.Inf(1)}}
	var lie []*box
	for pair := range j.Pairs {
		face, back := r.lies(j, pair)
		zeros := [2]vec{face.place(r.faceZero(face, r.level)), back.place(r.backZeroOn(back, r.backLevel))}
		prefix := ""
		if len(j.Pairs) > 1 {
			prefix = fmt.Sprintf("pair%d-", pair+1)
		}
		for i, name := range []string{"face.nc", "back-outline.nc", "back-lettering.nc"} {
			strokes, _ := tape(t, files[prefix+name])
			for _, s := range strokes {
				p := plus(zeros[min(i, 1)], s.to)
				for axis := range 2 {
					if s.offset != "G53" && (p[axis] < ends[0][axis]-slack || p[axis] > ends[1][axis]+slack) {
						t.Errorf("%s goes to %v, beyond the travel %v", prefix+name, p, ends)
					}
				}
			}
		}
		lie = append(lie, face, back)
	}
	for i, b := range lie {
		least, greatest := b.extent()
		if least[0]-margin < r.at(8)-slack || least[1]-margin < r.at(4)-slack || greatest[0]+margin > r.at(8+r.bed[0])+slack || greatest[1]+margin > r.at(4+r.bed[1])+slack {
			t.Errorf("a blank lies from %v to %v, not on the bed", least, greatest)
		}
		for _, other := range lie[:i] {
			from, to := other.extent()
			if apart := max(least[0]-to[0], from[0]-greatest[0], least[1]-to[1], from[1]-greatest[1]); apart < gap+2*margin-slack {
				t.Errorf("two blanks lie %v apart, asked are %v and %v about each", apart, gap, margin)
			}
		}
	}
}

// TestTravelInZ: stations are placed where what the programs of either side do stays in the
// travel in Z, and nowhere where it leaves it by an eighth.
func TestTravelInZ(t *testing.T) {
	for seed := range 12 {
		rng := rand.New(rand.NewPCG(17, uint64(seed)))
		r := draw(rng, true)
		r.bed, r.beside, r.longest = [2]int{160, 110}, [4]int{40, 40, 40, 40}, 0
		tops := [3]int{r.seat + r.thick + r.skim, r.backSeat + r.thick, r.backSeat + r.thick}
		least, greatest := 1000, -1000
		for i, top := range tops {
			z := r.table + r.stick + top
			greatest = max(greatest, z+r.high[i])
			for _, m := range r.marks[i] {
				least = min(least, z-m[2])
			}
		}
		for _, c := range []struct {
			by   [2]int
			fits bool
		}{{[2]int{0, 0}, true}, {[2]int{1, 0}, false}, {[2]int{0, -1}, false}} {
			r.rise = [2]int{least + c.by[0], greatest + c.by[1]}
			_, err := r.work(t, "stations", (*job.Job).Stations)
			if (err == nil) != c.fits {
				t.Fatalf("trial %d: travel in Z %v where %d to %d is used: %v\n%s", seed, r.rise, least, greatest, err, strings.Join(r.keys, "\n"))
			}
		}
	}
}

// TestRoomToTouchOff: without a register a flat cutter of 2 eighths touches the left and the
// near edge, an eighth of feeler between: it stands 2 beside the blank, which the travel lets
// it or the station isn't placed.
func TestRoomToTouchOff(t *testing.T) {
	for seed := range 16 {
		rng := rand.New(rand.NewPCG(19, uint64(seed)))
		r := draw(rng, false)
		r.inch, r.inchMachine = true, true // in which eighths are steps of the search
		r.zero, r.backZero, r.calls, r.whole, r.bed = "center", "center", false, false, [2]int{62, 20}
		r.keys = nil
		r.w, r.h = 20, 20
		for _, k := range [][2]string{{"units", "in"}, {"stock", fmt.Sprintf("%sx%sx%s", r.length(r.w), r.length(r.h), r.length(r.thick))}, {"flip", r.flip}, {"zero", "center"},
			{"machine", "machine.toml"}, {"tool", "1=flat," + r.length(2)}, {"gap", r.length(20)}} {
			r.key(k[0], strconv.Quote(k[1]))
		}
		r.key("pairs", "1")
		for _, c := range []struct {
			beside [4]int
			fits   bool
		}{{[4]int{2, 1, 2, 1}, true}, {[4]int{1, 9, 2, 9}, false}, {[4]int{2, 9, 1, 9}, false}} {
			r.beside = c.beside
			_, err := r.work(t, "stations", (*job.Job).Stations)
			if (err == nil) != c.fits {
				t.Fatalf("trial %d: travel beside the bed %v: %v\n%s\n%s", seed, r.beside, err, strings.Join(r.keys, "\n"), r.machine())
			}
		}
	}
}

// rapids compares the warnings of rapids into the blank: each program is warned of that has one.
func (r *trial) rapids(t *testing.T, j *job.Job) {
	list := slices.Clone(j.Setup.Notes)
	for _, m := range j.Setup.Mirrors {
		list = append(list, m.Notes...)
	}
	for i, name := range []string{"face.nc", "outline.nc", "lettering.nc"} {
		told := slices.ContainsFunc(list, func(n report.Note) bool {
			_, low := n.Is.(mirror.LowRapids)
			return low && filepath.Base(n.File) == name
		})
		if told != r.low[i] {
			t.Errorf("%s: warned of rapids into the blank: %v, in the box it is %v", name, told, r.low[i])
		}
	}
	// Where cuts lie beside the blank the warning says where that ends, in mm.
	for _, n := range list {
		off, is := n.Is.(mirror.OffBlank)
		if !is {
			continue
		}
		face, back := r.lies(j, 0)
		size, zero := face.size, r.faceZero(face, "top")
		if filepath.Base(n.File) == "lettering.nc" {
			zero = laid(back.size, vec{}, r.over()).place(r.backZeroOn(back, "top"))
		}
		axis := strings.Index("XY", off.Axis)
		want := [2]float64{-zero[axis] * r.mm(), (size[axis] - zero[axis]) * r.mm()}
		if got := [2]float64{off.Left.InexactFloat64(), off.Right.InexactFloat64()}; math.Abs(got[0]-want[0]) > 1e-6 || math.Abs(got[1]-want[1]) > 1e-6 {
			t.Errorf("%s: the blank is said to go from %s%v, the box goes from %v", n.File, off.Axis, got, want)
		}
		r.offBlank++
	}
}

// passes compares the clear height: the longest tool goes over each blank with 25 mm of room
// (common practice), or where a program goes across higher, at that level.
func (r *trial) passes(t *testing.T, j *job.Job, files map[string]string) {
	if !r.pairs {
		return
	}
	room := 25 / r.mm()
	tops := []float64{r.at(r.seat+r.thick+r.skim) + room, r.at(r.backSeat+r.thick) + room, r.at(r.seat + r.thick + r.skim + r.high[0])}
	for i := 1; i < 3; i++ {
		tops = append(tops, r.at(r.backSeat+r.thick+r.high[i]))
	}
	want := slices.Max(tops) + r.at(r.table+r.longest)
	if z := j.Setup.ClearZ; z == nil || z.InexactFloat64() < want-1e-6 || z.InexactFloat64() > want+1e-4+1e-6 {
		t.Errorf("clear height %v, over the boxes it is %v", z, want)
	}
	seen := 0
	for _, name := range []string{"first.nc", "steady.nc", "last.nc"} {
		strokes, _ := tape(t, files[name])
		for _, s := range strokes {
			if s.offset == "G53" && !math.IsNaN(s.to[2]) {
				seen++
				if math.Abs(s.to[2]-want) > 1e-3 {
					t.Errorf("%s goes across at %v, clear is %v", name, s.to[2], want)
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no cycle goes up to the clear height")
	}
}

// touches compares the readings by which an offset is set: where the axis stands, less the
// zero, is what it reads.
func (r *trial) touches(t *testing.T, j *job.Job) {
	if j.Layout == nil {
		return
	}
	zeros := map[string]vec{}
	for pair := range j.Pairs {
		face, back := r.lies(j, pair)
		for side, s := range j.Layout.Stations[2*pair : 2*pair+2] {
			if side == 0 {
				zeros[s.Offset] = face.place(r.faceZero(face, r.level))
				continue
			}
			zeros[s.Offset] = plus(back.place(r.backZeroOn(back, r.backLevel)), r.corrected(pair))
		}
	}
	axes := map[string]int{"X": 0, "Y": 1, "Z": 2}
	for _, row := range j.Setup.TouchOffs {
		if row.Machine == nil || row.Reads == nil {
			continue
		}
		zero := zeros[row.Offset][axes[row.Axis]]
		if row.Axis == "Z" {
			zero += r.at(r.table + r.stick)
		}
		if got := row.Machine.Sub(*row.Reads).InexactFloat64(); math.Abs(got-zero) > 1e-6 {
			t.Errorf("%s: %s touched at %s reads %s, which puts its zero at %v, not %v", row.Offset, row.What, row.Machine, row.Reads, got, zero)
		}
	}
}
