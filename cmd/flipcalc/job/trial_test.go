package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/mat"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror"
	"flipcalc/report"
)

// trial is a job drawn at random, as a maker would state it. Every length is a whole number
// of eighths of an inch, 3.175 mm, so that it is exact in either unit with three decimals.
type trial struct {
	rng  *rand.Rand
	inch bool // the job; inchMachine the machine
	inchMachine,
	pairs, // stations are placed on the bed; else one blank is turned over in place
	calls, whole bool // the programs call lengths; Z is stored without the tool
	w, h, thick, skim, nominalW, nominalH  int
	flip, zero, backZero, level, backLevel string
	register                               string
	pins                                   [2][2]int
	fence, stop, backFence, backStop       string
	seat, backSeat, stick, longest, table  int
	bed                                    [2]int // its size
	beside                                 [4]int // travel to the left, right, near and far of it
	beyond, spoilboard, safe               int
	marks                                  [3][2][3]int // of face, mirrored and other program: X, Y, and how deep under the top
	high                                   [3]int       // over the top, at which each goes across
	rise                                   [2]int       // least and greatest of the travel in Z
	offBlank                               int          // warnings of cuts beside the blank that were compared
	through                                bool         // the pins' holes are drilled through blank and bed in one go
	gap, feeler                            int
	fixture                                bool     // the machine file says that none goes beyond the blank
	low                                    [3]bool  // each begins with a rapid an eighth under the top
	corrections                            [][3]int // pair, X, Y
	keys                                   []string // of the job file
}

// in gives so many eighths in a unit.
func in(inch bool, n int) decimal.Decimal {
	step := decimal.RequireFromString("3.175")
	if inch {
		step = decimal.RequireFromString("0.125")
	}
	return step.Mul(decimal.NewFromInt(int64(n)))
}

// length is a length as the job file has it.
func (r *trial) length(n int) string { return in(r.inch, n).String() }

// at is the same as a number.
func (r *trial) at(n int) float64 { return in(r.inch, n).InexactFloat64() }

// lengths are several in one value.
func (r *trial) lengths(n ...int) string {
	var list []string
	for _, v := range n {
		list = append(list, r.length(v))
	}
	return strings.Join(list, ",")
}

func (r *trial) pick(words ...string) string { return words[r.rng.IntN(len(words))] }

// between draws a whole number from least up to and with most.
func (r *trial) between(least, most int) int { return least + r.rng.IntN(most-least+1) }

func (r *trial) key(name, value string) { r.keys = append(r.keys, name+" = "+value) }

// draw makes a trial up.
func draw(rng *rand.Rand, pairs bool) *trial {
	r := &trial{rng: rng, pairs: pairs, inch: rng.IntN(2) == 0, inchMachine: rng.IntN(2) == 0}
	corners := []string{"near-left", "near-right", "far-left", "far-right", "center"}
	r.w, r.h, r.thick = 2*r.between(12, 20), 2*r.between(10, 16), r.between(3, 6)
	r.register = r.pick("dowels", "plug", "fence")
	r.flip, r.level, r.backLevel = r.pick("x", "y"), r.pick("top", "bed"), r.pick("top", "bed")
	r.zero, r.backZero = r.pick(corners...), r.pick(corners...)
	if rng.IntN(3) == 0 {
		r.zero, r.backZero = r.lengths(r.between(-3, 9), r.between(-3, 9)), r.lengths(r.between(-3, 9), r.between(-3, 9))
	}
	r.seat, r.backSeat = r.between(0, 3), r.between(0, 3)
	r.stick, r.table = r.between(10, 14), -r.between(58, 62)
	r.longest = r.stick + r.between(0, 3)
	r.rise, r.feeler, r.fixture = [2]int{r.table + 8, 0}, 1, rng.IntN(2) == 0
	r.bed, r.beside = [2]int{160, 110}, [4]int{40, 40, 40, 40}
	if pairs { // a bed on which a blank may have to lie turned
		r.bed, r.beside = [2]int{r.between(36, 90), r.between(26, 70)}, [4]int{r.between(2, 12), r.between(2, 12), r.between(2, 12), r.between(2, 12)}
	}
	r.calls = rng.IntN(3) == 0
	r.whole = r.calls && rng.IntN(2) == 0
	r.spoilboard, r.beyond, r.safe = r.between(4, 6), r.between(0, 2), r.between(2, 5)
	if rng.IntN(6) == 0 {
		r.beyond = r.spoilboard // as deep as it may go
	}
	for i := range r.marks {
		r.high[i] = r.between(2, 8)
		for k := range r.marks[i] {
			r.marks[i][k] = [3]int{r.between(-2, 12), r.between(-2, 12), r.between(1, 2)}
		}
	}
	if rng.IntN(3) == 0 {
		r.skim = 1
	}
	r.key("units", strconv.Quote(map[bool]string{true: "in", false: "mm"}[r.inch]))
	r.key("stock", fmt.Sprintf(`"%sx%sx%s"`, r.length(r.w), r.length(r.h), r.length(r.thick+r.skim)))
	r.nominalW, r.nominalH = r.w, r.h
	if rng.IntN(3) == 0 && (pairs || r.register != "fence") {
		// The piece in hand, by which all is reckoned.
		r.w, r.h, r.thick = r.w+2*r.between(-1, 1), r.h+2*r.between(-1, 1), r.thick+r.between(0, 1)
		r.key("measured", fmt.Sprintf(`"%sx%sx%s"`, r.length(r.w), r.length(r.h), r.length(r.thick+r.skim)))
	}
	for _, k := range [][2]string{{"flip", r.flip}, {"zero", r.zero}, {"back-zero", r.backZero}, {"z-zero", r.level}, {"back-z-zero", r.backLevel},
		{"face", "face.nc"}, {"mirror", "outline.nc"}, {"back", "lettering.nc"}, {"machine", "machine.toml"}} {
		r.key(k[0], strconv.Quote(k[1]))
	}
	for _, k := range []struct {
		name string
		n    int
	}{{"skimmed", r.skim}, {"seat", r.seat}, {"back-seat", r.backSeat}, {"stick-out", r.stick}} {
		r.key(k.name, strconv.Quote(r.length(k.n)))
	}
	if r.whole {
		r.key("lengths", `"whole"`)
	}
	r.locate()
	if pairs {
		r.key("pairs", strconv.Itoa(r.between(1, 2)))
		if r.gap = rng.IntN(4); r.gap > 0 { // else 30 mm
			r.key("gap", strconv.Quote(r.length(r.gap)))
		}
		r.key("allow-turn", "true")
	}
	return r
}

// locate draws what finds the blank again.
func (r *trial) locate() {
	r.key("register", strconv.Quote(r.register))
	switch r.register {
	case "dowels":
		along := r.between(4, 9) // how far the line that they stand on lies from the left or near edge
		r.pins = [2][2]int{{along, r.between(3, 8)}, {along, r.h - r.between(3, 8)}}
		if r.flip == "x" {
			r.pins = [2][2]int{{r.between(3, 8), along}, {r.w - r.between(3, 8), along}}
		}
		if !r.pairs && r.rng.IntN(2) == 0 {
			r.through, r.beyond = true, 0
			r.key("drilled", `"face"`)
		}
		dia, hole, standard := [2]string{"6", "5"}, `["6.1", "5.1"]`, "iso-2338-h8"
		if r.inch {
			dia, hole, standard = [2]string{"0.25", "0.1875"}, `["0.254", "0.192"]`, "b18.8.2"
		}
		r.key("pin", fmt.Sprintf(`["%s,%s", "%s,%s"]`, r.lengths(r.pins[0][:]...), dia[0], r.lengths(r.pins[1][:]...), dia[1]))
		r.key("hole", hole)
		r.key("standard", strconv.Quote(standard))
		r.drills(strings.NewReplacer("[", "", "]", "", `"`, "").Replace(hole), dia[0], dia[1])
	case "plug":
		r.pins = [2][2]int{{r.w/2 + r.between(-3, 3), r.h/2 + r.between(-3, 3)}, {r.between(3, 5), r.between(3, 5)}}
		dia, clock, hole := "12", "5", "5.1"
		if r.inch {
			dia, clock, hole = "0.5", "0.1875", "0.192"
		}
		if !r.pairs { // in place the pin stands on the line through the bore
			r.pins[1][1] = r.pins[0][1]
			if r.flip == "y" {
				r.pins[1] = [2]int{r.pins[0][0], r.pins[1][1]}
				r.pins[1][1] = r.between(3, 5)
			}
		}
		r.key("bore", fmt.Sprintf(`"%s,%s"`, r.lengths(r.pins[0][:]...), dia))
		r.key("plug", strconv.Quote(dia))
		r.key("clock", fmt.Sprintf(`"pin=%s,%s"`, r.lengths(r.pins[1][:]...), clock))
		r.key("hole", strconv.Quote(hole))
		r.drills(clock)
	case "fence":
		r.fence, r.stop = r.pick("near", "far"), r.pick("left", "right")
		r.backFence, r.backStop = r.pick("near", "far"), r.pick("left", "right")
		for _, k := range [][2]string{{"fence", r.fence}, {"stop", r.stop}, {"back-fence", r.backFence}, {"back-stop", r.backStop}} {
			r.key(k[0], strconv.Quote(k[1]))
		}
	}
}

// drills asks for the programs that drill the pins' holes.
func (r *trial) drills(diameters ...string) {
	r.key("spoilboard", strconv.Quote(r.length(r.spoilboard)))
	r.key("beyond", strconv.Quote(r.length(r.beyond)))
	r.key("safe", strconv.Quote(r.length(r.safe)))
	r.key("speed", "8000")
	r.key("plunge", strconv.Quote(r.length(40)))
	var list []string
	for _, d := range strings.Split(strings.Join(diameters, ","), ",") {
		list = append(list, fmt.Sprintf(`"%d=%s"`, 11+len(list), strings.TrimSpace(d)))
	}
	r.key("drill", "["+strings.Join(list, ", ")+"]")
}

// program is what the maker's CAM writes for a side: a plunge at each mark. Its Z0 is the
// top, or what the blank lies on, so many eighths below.
func (r *trial) program(i int, level string, thick int) string {
	up := thick
	if level == "top" {
		up = 0
	}
	text := "G21"
	if r.inch {
		text = "G20"
	}
	text += " G90 G17\nG54\nT1 M6\n"
	length := ""
	if r.calls {
		length = "G43 H1 "
	}
	text += "S9000 M3\nG0 " + length + "Z" + r.coordinate(up+r.high[i]) + "\n"
	if r.low[i] {
		text += "G0 X" + r.coordinate(r.marks[i][0][0]) + " Y" + r.coordinate(r.marks[i][0][1]) + "\nG0 Z" + r.coordinate(up-1) + "\nG0 Z" + r.coordinate(up+r.high[i]) + "\n"
	}
	for _, m := range r.marks[i] {
		text += fmt.Sprintf("G0 X%s Y%s\nG1 Z%s F100\nG0 Z%s\n", r.coordinate(m[0]), r.coordinate(m[1]), r.coordinate(up-m[2]), r.coordinate(up+r.high[i]))
	}
	return text + "M5\nM30\n"
}

// coordinate is a length as a program has it.
func (r *trial) coordinate(n int) string { return in(r.inch, n).StringFixed(3) }

// machine is the machine's file.
func (r *trial) machine() string {
	l := func(n int) string { return in(r.inchMachine, n).String() }
	unit := "mm"
	if r.inchMachine {
		unit = "in"
	}
	fixture, longest := "", ""
	if r.longest > 0 {
		longest = "longest = " + strconv.Quote(l(r.longest)) + "\n"
	}
	if r.fixture {
		fixture = "fixture = 0\n"
	}
	return fmt.Sprintf("units = %q\nbed = \"%s,%s,%sx%s\"\ntable = %s\ng10 = true\ng53 = true\ntool-line = \"T# M6 G43 H#\"\n%sfeeler = %s\n%spark = [%s, %s]\n[travel]\nx = [%s, %s]\ny = [%s, %s]\nz = [%s, %s]\n[rapid]\nx = %s\ny = %[18]s\nz = %[18]s\n",
		unit, l(8), l(4), l(r.bed[0]), l(r.bed[1]), l(r.table), longest, l(r.feeler), fixture, l(8+r.bed[0]+r.beside[1]), l(4+r.bed[1]+r.beside[3]), l(8-r.beside[0]), l(8+r.bed[0]+r.beside[1]), l(4-r.beside[2]), l(4+r.bed[1]+r.beside[3]), l(r.rise[0]), l(r.rise[1]), l(900))
}

// work asks a verb about the trial and gives what comes of it. more are lines of the job, or
// KEY VALUE for a flag.
func (r *trial) work(t *testing.T, verb string, work func(*job.Job) error, more ...string) (*job.Job, error) {
	t.Helper()
	dir := t.TempDir()
	a := ask.New(ask.FindVerb(verb))
	lines := slices.Clone(r.keys)
	for _, m := range more {
		if key, value, flag := strings.Cut(m, " "); flag && value[0] != '=' {
			a.Put(key, key, []string{value})
		} else {
			lines = append(lines, m)
		}
	}
	for name, text := range map[string]string{"job.toml": strings.Join(lines, "\n") + "\n", "machine.toml": r.machine(),
		"face.nc": r.program(0, r.level, r.thick+r.skim), "outline.nc": r.program(1, r.level, r.thick), "lettering.nc": r.program(2, r.backLevel, r.thick)} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(dir, "job.toml")
	if a.Verb.TakesJob() {
		a.Operands = []string{path}
	} else {
		a.Put("job", "", []string{path})
	}
	if err := a.ReadValues(); err != nil {
		return nil, err
	}
	j := job.New(a, strings.NewReader(""), "")
	return j, work(j)
}

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

// texts are the programs of a prepared job by their names.
func texts(j *job.Job) map[string]string {
	m := map[string]string{}
	for _, f := range j.Files {
		m[f.Name] = string(f.Content)
	}
	return m
}

// holds compares everything that a prepared job writes with what a cutter would do to the box.
func (r *trial) holds(t *testing.T, j *job.Job) {
	t.Helper()
	files := texts(j)
	_, stored := tape(t, files["offsets.nc"])
	cut := map[string][]vec{} // what is cut in each offset, in its coordinates
	for pair := range j.Pairs {
		face, back := r.lies(j, pair)
		prefix := ""
		if len(j.Pairs) > 1 {
			prefix = fmt.Sprintf("pair%d-", pair+1)
		}
		zeros := [2]vec{face.place(r.faceZero(face, r.level)), back.zeroOf(r.backZero, r.backLevel, laid(back.size, vec{}, r.over()))}
		moved := r.corrected(pair)
		if l := j.Layout; l != nil {
			for side, s := range l.Stations[2*pair : 2*pair+2] {
				want := r.stored(zeros[side])
				if side == 1 {
					want[0] += moved[0]
					want[1] += moved[1]
				}
				if got := stored[s.Offset]; !same(got, want) {
					t.Errorf("pair %d: %s is stored as %v, the box has it at %v", pair+1, s.Offset, got, want)
				}
			}
		}
		r.zerosSaid(t, j, pair, zeros, moved)
		lettering := laid(back.size, vec{}, r.over())
		for i, name := range []string{"face.nc", "back-outline.nc", "back-lettering.nc"} {
			lies, zero, shift := back, zeros[1], moved
			if i == 0 {
				lies, zero, shift = face, zeros[0], vec{}
			}
			for k, m := range r.marks[i] {
				// Where the tip stands in the blank, by the program as the maker has it.
				mark := vec{r.at(m[0]), r.at(m[1]), 0}
				var in vec
				switch i {
				case 0:
					in = plus(r.faceZero(face, "top"), mark, vec{0, 0, -r.at(m[2])})
				case 1: // as deep from the other side
					in = plus(r.faceZero(face, "bed"), mark, vec{0, 0, r.at(m[2])})
				default:
					in = lettering.under(plus(lettering.zero(r.backZero, "top"), mark, vec{0, 0, -r.at(m[2])}))
				}
				want := plus(lies.place(in), shift)
				got := plunges(t, files[prefix+name])
				if len(got) != len(r.marks[i]) {
					t.Fatalf("%s: %d plunges", prefix+name, len(got))
				}
				if is := plus(zero, shift, got[k]); !near(is, want) {
					t.Errorf("%s: plunge %d goes to %v, in the box it is %v", prefix+name, k+1, is, want)
				}
				if j.Layout != nil {
					offset := j.Layout.Stations[2*pair+min(i, 1)].Offset
					cut[offset] = append(cut[offset], got[k])
				}
			}
		}
		offsets := [2]string{j.Pairs[pair].Question.FaceOffset(), j.Pairs[pair].Second.Offset}
		for side, names := range [2][]string{{"face.nc", "pins-bed.nc", "pins-through.nc"}, {"back-outline.nc", "back-lettering.nc", "pins-back-bed.nc"}} {
			for _, name := range names {
				strokes, _ := tape(t, files[prefix+name])
				for _, s := range strokes {
					if s.offset != "G53" && s.offset != "" && s.offset != offsets[side] {
						t.Fatalf("%s moves in %s, its station has %s", prefix+name, s.offset, offsets[side])
					}
				}
			}
		}
		r.drilled(t, files, prefix, face, back, zeros, moved)
	}
	if r.register == "plug" {
		// Two thirds of what the skim leaves, and no more than the bore, in whole steps of 0.5 mm
		// or 1/64 in (common practice).
		bore, step := map[bool]float64{false: 12, true: 0.5}[r.inch], map[bool]float64{false: 0.5, true: 1.0 / 64}[r.inch]
		want := math.Floor(min(r.at(r.thick)*2/3, bore)/step+1e-9) * step
		if got := j.Setup.Pins.Stud.Height.InexactFloat64(); math.Abs(got-want) > 1e-9 {
			t.Errorf("a plug of %v over its shoulder, want %v", got, want)
		}
	}
	r.rapids(t, j)
	r.stands(t, j, files)
	r.passes(t, j, files)
	r.cycles(t, j, files, cut)
	r.touches(t, j)
}

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
	const slack = 0.001 // of lengths that are rounded in inches, each to 0.0001 or finer
	ends := [2]vec{{r.at(8 - r.beside[0]), r.at(4 - r.beside[2]), math.Inf(-1)}, {r.at(8 + r.bed[0] + r.beside[1]), r.at(4 + r.bed[1] + r.beside[3]), math.Inf(1)}}
	var lie []*box
	for pair := range j.Pairs {
		face, back := r.lies(j, pair)
		zeros := [2]vec{face.place(r.faceZero(face, r.level)), back.zeroOf(r.backZero, r.backLevel, laid(back.size, vec{}, r.over()))}
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
			zero = laid(back.size, vec{}, r.over()).zero(r.backZero, "top")
		}
		axis := strings.Index("XY", off.Axis)
		want := [2]float64{-zero[axis] * r.mm(), (size[axis] - zero[axis]) * r.mm()}
		if got := [2]float64{off.Left.InexactFloat64(), off.Right.InexactFloat64()}; math.Abs(got[0]-want[0]) > 1e-6 || math.Abs(got[1]-want[1]) > 1e-6 {
			t.Errorf("%s: the blank is said to go from %s%v, the box goes from %v", n.File, off.Axis, got, want)
		}
		r.offBlank++
	}
}

// cycles compares the merged programs: the first cuts what the faces' programs cut, the last
// what the backs' do, and a steady one both, each in its offset.
func (r *trial) cycles(t *testing.T, j *job.Job, files map[string]string, cut map[string][]vec) {
	if !r.pairs {
		return
	}
	for i, name := range []string{"first.nc", "steady.nc", "last.nc"} {
		merged, parked := map[string][]vec{}, 0
		strokes, _ := tape(t, files[name])
		for _, s := range strokes {
			if !s.rapid {
				merged[s.offset] = append(merged[s.offset], s.to)
			}
			// The one way in machine coordinates beside the way up is to the far right end of the travel.
			park := vec{r.at(8 + r.bed[0] + r.beside[1]), r.at(4 + r.bed[1] + r.beside[3])}
			if s.offset == "G53" && !math.IsNaN(s.to[0]) && math.Hypot(s.to[0]-park[0], s.to[1]-park[1]) > 1e-3 {
				t.Errorf("%s parks at %v, want %v", name, s.to, park)
			} else if s.offset == "G53" && !math.IsNaN(s.to[0]) {
				parked++
			}
		}
		if parked == 0 {
			t.Errorf("%s doesn't park", name)
		}
		for n, s := range j.Layout.Stations {
			var want []vec
			if n%2 == 0 && i < 2 || n%2 == 1 && i > 0 {
				want = cut[s.Offset]
			}
			if !slices.EqualFunc(merged[s.Offset], want, near) {
				t.Errorf("%s cuts %v in %s, the programs %v", name, merged[s.Offset], s.Offset, want)
			}
		}
	}
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

// plunges are the ends of a program's feed moves.
func plunges(t *testing.T, text string) (list []vec) {
	t.Helper()
	strokes, _ := tape(t, text)
	for _, s := range strokes {
		if !s.rapid {
			list = append(list, s.to)
		}
	}
	return list
}

// drilled compares the drilling programs: the holes of the bed lie under those of the blank,
// on either side, wherever the zero was corrected to.
func (r *trial) drilled(t *testing.T, files map[string]string, prefix string, face, back *box, zeros [2]vec, moved vec) {
	if r.register == "fence" {
		return
	}
	pins := r.pins[:]
	if r.register == "plug" {
		pins = pins[1:]
	}
	for _, f := range []struct {
		name string
		lies *box
		zero vec
		seat int
		deep func(float64) bool // under the seating plane
		from float64            // over it, where the material begins
	}{
		{"pins-blank.nc", face, zeros[0], r.seat, func(z float64) bool { return math.Abs(z+r.at(r.beyond)) < 1e-6 }, r.at(r.thick + r.skim)},
		{prefix + "pins-bed.nc", face, zeros[0], r.seat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, 0},
		{prefix + "pins-back-bed.nc", back, plus(zeros[1], moved), r.backSeat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, 0},
		{"pins-through.nc", face, zeros[0], r.seat, func(z float64) bool { return z < -0.1 && z > -r.at(r.spoilboard)-1e-6 }, r.at(r.thick + r.skim)},
	} {
		text, has := files[f.name]
		wanted := r.pairs || !strings.Contains(f.name, "back")
		if strings.HasSuffix(f.name, "blank.nc") { // at the first pair's face station, once
			if prefix > "pair1-" {
				continue
			}
			wanted = r.register == "dowels"
		}
		if through := strings.HasSuffix(f.name, "through.nc"); through || r.through {
			wanted = through && r.through
		}
		if has != wanted {
			t.Errorf("%s is written: %v", f.name, has)
		}
		if !wanted || !has {
			continue
		}
		strokes, _ := tape(t, text)
		lowest, deepest, clear := map[[2]float64]float64{}, math.Inf(1), math.Inf(1)
		for _, s := range strokes {
			p := plus(f.zero, s.to)
			over := p[2] - r.at(f.seat)
			switch at := [2]float64{s.to[0], s.to[1]}; {
			case s.offset == "G53" || math.IsNaN(s.to[2]):
			case s.rapid && (s.from[0] != s.to[0] || s.from[1] != s.to[1] || math.IsNaN(s.from[2])):
				// It goes across over a blank's top, whether one lies there or not, and comes
				// down to there from the clear height.
				if top := f.lies.size[2] + r.at(r.safe); math.Abs(over-top) > 1e-6 {
					t.Errorf("%s goes across %v over the seat, want %v", f.name, over, top)
				}
			case s.rapid:
				clear = min(clear, over-f.from)
			default:
				lowest[at] = min(lowest[at], over)
				deepest = min(deepest, s.to[2])
			}
		}
		// At rapid it comes down to 1 mm or 0.04 in over what it drills (common practice).
		if want := map[bool]float64{false: 1, true: 0.04}[r.inch]; math.Abs(clear-want) > 1e-6 {
			t.Errorf("%s comes down at rapid to %v over what it drills, want %v", f.name, clear, want)
		}
		if said := regexp.MustCompile(`down to Z(-?[0-9.]+)`).FindStringSubmatch(text); said == nil || math.Abs(number(said[1])-deepest) > 1e-3 {
			t.Errorf("%s says %q, it drills to Z%v", f.name, said, deepest)
		}
		if len(lowest) != len(pins) {
			t.Errorf("%s drills %v", f.name, lowest)
		}
		for _, p := range pins {
			hole := f.lies.place(vec{r.at(p[0]), r.at(p[1]), 0})
			found := false
			for at, z := range lowest {
				found = found || math.Hypot(f.zero[0]+at[0]-hole[0], f.zero[1]+at[1]-hole[1]) < 1e-6 && f.deep(z)
			}
			if !found {
				t.Errorf("%s: no hole at %v: zero %v, %v", f.name, hole, f.zero, lowest)
			}
		}
	}
}

// mm is one of the job's unit.
func (r *trial) mm() float64 {
	if r.inch {
		return 25.4
	}
	return 1
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
			zeros[s.Offset] = plus(back.zeroOf(r.backZero, r.backLevel, laid(back.size, vec{}, r.over())), r.corrected(pair))
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

// TestJobsAgainstBoxes works jobs out that are drawn at random and lays boxes down for them:
// pairs of stations, straight and turned, and one blank turned over in place, where the job
// says it lies or where the bed has room.
func TestJobsAgainstBoxes(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 30
	}
	seen := map[string]int{}
	for seed := range n {
		rng := rand.New(rand.NewPCG(7, uint64(seed)))
		for tries := 0; !t.Failed(); tries++ {
			r := draw(rng, seed%4 > 1)
			switch seed % 4 {
			case 0:
				r.key("at", strconv.Quote(r.lengths(r.between(60, 80), r.between(50, 60))))
			case 1: // the bed has room for it
				r.key("pairs", "0")
			}
			r.correct()
			r.low = [3]bool{rng.IntN(4) == 0 || r.skim > 0, rng.IntN(4) == 0, rng.IntN(4) == 0}
			j, err := r.work(t, "prepare", (*job.Job).Prepare)
			if err != nil && r.pairs && tries < 50 && strings.Contains(err.Error(), "pairs: ") {
				continue // no room on this bed
			}
			if err != nil {
				t.Fatalf("%v\n%s", err, strings.Join(r.keys, "\n"))
			}
			r.holds(t, j)
			if t.Failed() {
				t.Fatalf("trial %d:\n%s", seed, strings.Join(r.keys, "\n"))
			}
			for _, a := range j.Pairs {
				seen[fmt.Sprintf("turned %s", a.FaceTurn.Degrees())]++
			}
			seen[r.register]++
			seen["cuts beside the blank"] += r.offBlank
			seen[fmt.Sprintf("inch %v, its machine %v", r.inch, r.inchMachine)]++
			break
		}
	}
	t.Log(seen)
	for _, want := range []string{"turned 0", "turned 90", "turned 180", "dowels", "plug", "fence", "cuts beside the blank"} {
		if !testing.Short() && seen[want] < 2 {
			t.Errorf("%d trials with %s", seen[want], want)
		}
	}
}

// correct draws rounds of corrections.
func (r *trial) correct() {
	var rounds []string
	for range r.rng.IntN(4) {
		c := [3]int{1, r.between(-2, 2), r.between(-2, 2)}
		if slices.Contains(r.keys, "pairs = 2") {
			c[0] = r.between(1, 2)
		}
		r.corrections = append(r.corrections, c)
		rounds = append(rounds, strconv.Quote(fmt.Sprintf("%d:%s", c[0], r.lengths(c[1], c[2]))))
	}
	r.key("corrections", "["+strings.Join(rounds, ", ")+"]")
}

// TestCorrectedJobs measures where a back landed and works the line that correct gives into
// the job: the zero then lies where the cut would have been right, and another round starts
// from there.
func TestCorrectedJobs(t *testing.T) {
	for seed := range 24 {
		rng := rand.New(rand.NewPCG(11, uint64(seed)))
		r := draw(rng, seed%2 == 0)
		if r.pairs {
			r.bed = [2]int{160, 110}
		} else {
			r.key("at", strconv.Quote(r.lengths(r.between(60, 80), r.between(50, 60))))
		}
		pair := 1
		if slices.Contains(r.keys, "pairs = 2") {
			pair = r.between(1, 2)
		}
		var sum vec // of all rounds, each the negative of what was measured
		rounds := ""
		for round := range 3 {
			off := [2]int{r.between(-2, 2), r.between(-2, 2)}
			sum = plus(sum, vec{-r.at(off[0]), -r.at(off[1])})
			from, measured := "", fmt.Sprintf("landed = %q", fmt.Sprintf("%d:%s", pair, r.lengths(off[:]...)))
			if round == 1 { // cut from another zero than the job's: what counts is where it is then
				off := [2]int{r.between(-1, 1), r.between(-1, 1)}
				sum = plus(sum, vec{r.at(off[0]), r.at(off[1])})
				j, err := r.work(t, "correct", (*job.Job).Correct, rounds, measured)
				if err != nil {
					t.Fatal(err)
				}
				was := j.Pairs[pair-1].Second
				x, y := was.X.Add(in(r.inch, off[0])), was.Y.Add(in(r.inch, off[1]))
				from = "from " + x.String() + "," + y.String()
			}
			j, err := r.work(t, "correct", (*job.Job).Correct, rounds, measured, from)
			if err != nil {
				t.Fatalf("%v\n%s\n%s", err, measured, strings.Join(r.keys, "\n"))
			}
			_, back := r.lies(j, pair-1)
			want := plus(back.zeroOf(r.backZero, r.backLevel, laid(back.size, vec{}, r.over())), sum)
			l := j.Setup.Landed
			if got := (vec{l.After.X.InexactFloat64(), l.After.Y.InexactFloat64()}); !near(got, vec{want[0], want[1]}) {
				t.Fatalf("trial %d, round %d: corrected to %v, want %v\n%s\n%s", seed, round+1, got, want, measured, strings.Join(r.keys, "\n"))
			}
			rounds = l.Ways[0].Keep
		}
		j, err := r.work(t, "prepare", (*job.Job).Prepare, rounds)
		if err != nil {
			t.Fatal(err)
		}
		for i := range j.Pairs {
			_, back := r.lies(j, i)
			want := back.zeroOf(r.backZero, r.backLevel, laid(back.size, vec{}, r.over()))
			if i == pair-1 {
				want = plus(want, sum)
			}
			s := j.Pairs[i].Second
			if got := (vec{s.X.InexactFloat64(), s.Y.InexactFloat64()}); !near(got, vec{want[0], want[1]}) {
				t.Errorf("trial %d: %s puts pair %d's zero at %v, want %v", seed, rounds, i+1, got, want)
			}
		}
	}
}

// TestTimesInEitherUnit: a machine whose file is in inches runs as long as the same one in mm.
func TestTimesInEitherUnit(t *testing.T) {
	for seed := range 6 {
		r := draw(rand.New(rand.NewPCG(29, uint64(seed))), true)
		r.bed, r.beside = [2]int{160, 110}, [4]int{40, 40, 40, 40}
		var seconds [2]float64
		for i := range seconds {
			r.inchMachine = i == 1
			j, err := r.work(t, "prepare", (*job.Job).Prepare)
			if err != nil {
				t.Fatal(err)
			}
			seconds[i] = float64(j.Setup.Plan.Seconds)
		}
		// Places are rounded in either unit, which a way between stations shows: 1 in 100.
		if math.Abs(seconds[0]/seconds[1]-1) > 0.01 || seconds[0] < 1 {
			t.Errorf("trial %d: %v s a cycle in mm, %v in inches\n%s", seed, seconds[0], seconds[1], strings.Join(r.keys, "\n"))
		}
	}
}
