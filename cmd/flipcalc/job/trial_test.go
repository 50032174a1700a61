package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
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
	if rng.IntN(3) == 0 { // the piece in hand
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
		zeros := [2]vec{face.place(r.faceZero(face, r.level)), back.place(r.backZeroOn(back, r.backLevel))}
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
					up := laid(back.size, vec{}, r.over())
					in = up.under(plus(up.place(r.backZeroOn(back, "top")), mark, vec{0, 0, -r.at(m[2])}))
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
