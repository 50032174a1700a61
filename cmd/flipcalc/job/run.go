package job

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/block"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
	"flipcalc/report/words"
)

// The production run: one program for the first cycle, one for every steady one, one
// for the last, and the plan by which they are run.

// RunFiles are the files of the first, the steady and the last cycle, with their
// roles in the sheet.
var (
	RunFiles = [3]string{"first.nc", "steady.nc", "last.nc"}
	runRoles = [3]string{"first cycle", "cycle", "last cycle"}
)

// batch is what the flags say of the run, and the block at which its programs wait.
func (j *Job) batch() (b cycle.Batch, pause string) {
	load := ask.Value[float64](j.Ask, "load-time")
	b = cycle.Batch{Parts: ask.Value[int](j.Ask, "parts"), Load: load, Turn: load, Setup: ask.Value[float64](j.Ask, "setup-time")}
	if j.Text("order") == "stations" {
		b.Order = cycle.ByStations
	}
	if j.Text("load") == "guarded" {
		b.Loading = cycle.Guarded
	}
	pause = ask.Value[string](j.Ask, "pause")
	if pause == "" && b.Loading == cycle.Guarded && b.Order == cycle.ByStations {
		pause = "M0" // the backs begin only when hands are away
	}
	return b, pause
}

// rates are the machine's for the times of moves; nil where none is given. assumed
// says that some weren't.
func rates(m *ask.Machine) (r *motion.Rates, assumed bool) {
	all := motion.DefaultRates
	given := false
	for axis := range 3 {
		for _, v := range []struct {
			from *decimal.Decimal
			to   *float64
		}{{m.Rapid[axis], &all.Rapid[axis]}, {m.Acceleration[axis], &all.Acceleration[axis]}} {
			if v.from == nil {
				assumed = true
				continue
			}
			given = true
			d, _ := transform.Convert(*v.from, m.Unit, transform.MM, 9)
			*v.to = d.InexactFloat64()
		}
	}
	if !given {
		return nil, true
	}
	return &all, assumed
}

// stationPairs gives the pairs of stations as the merge takes them: those of a layout, or
// the one pair of the answer, or of the offsets alone.
func (j *Job) stationPairs(l *bed.Layout) (out []cycle.Pair, err error) {
	if l == nil {
		p, err := j.stationPair()
		return []cycle.Pair{p}, err
	}
	readings := j.readings()
	for i := 0; i+1 < len(l.Stations); i += 2 {
		var p cycle.Pair
		for side, to := range []*cycle.Station{&p.Face, &p.Back} {
			s := l.Stations[i+side]
			*to = cycle.Station{Offset: s.Offset, ZeroX: &s.Zero.X, ZeroY: &s.Zero.Y, ZeroZ: readings[side], Turn: int(s.Turn)}
		}
		out = append(out, p)
	}
	return out, nil
}

// stationPair is the one pair of the answer, or of the offsets alone.
func (j *Job) stationPair() (p cycle.Pair, err error) {
	a, readings := j.Answer, j.readings()
	p.Face.Offset, p.Back.Offset = strings.ToUpper(j.Text("offset")), strings.ToUpper(j.Text("back-offset"))
	if a != nil && a.FaceAt != nil {
		p.Face.ZeroX, p.Face.ZeroY, p.Face.ZeroZ = &a.FaceAt.X, &a.FaceAt.Y, readings[0]
	}
	if a != nil && a.Second != nil {
		p.Back.Offset = a.Second.Offset
		if z := a.Second; z.Machine {
			p.Back.ZeroX, p.Back.ZeroY, p.Back.ZeroZ = &z.X, &z.Y, readings[1]
		}
	}
	if p.Back.Offset == "" {
		p.Back.Offset = registration.FirstFree(j.Machine.Extended, append(j.Machine.Taken(j.Name()), p.Face.Offset)...)
		if p.Back.Offset == "" {
			return p, ask.No(j.Where("back-offset"), "no offset is free for the back", "the machine file lists those in use")
		}
	}
	for _, s := range []struct{ flag, offset string }{{"offset", p.Face.Offset}, {"back-offset", p.Back.Offset}} {
		if err := j.Machine.Usable(j.Name(), s.offset); err != nil {
			return p, fault.About(err, j.Where(s.flag))
		}
	}
	if p.Face.Offset == p.Back.Offset {
		return p, ask.Wrong(j.Where("back-offset"), p.Back.Offset+" for the face and the back", "two different offsets", "")
	}
	return p, nil
}

// clearHeight gives the machine Z between stations, in the call's unit: the one that
// is given, or one reckoned from the machine file. how is nil where it is given.
func (j *Job) clearHeight(levels [2]*decimal.Decimal, tools int) (z decimal.Decimal, how *bed.Clear, err error) {
	a, m := j.Answer, j.Machine
	longest, err := j.longest(tools)
	if err != nil {
		return z, nil, err
	}
	stands, err := j.stands()
	if err != nil {
		return z, nil, err
	}
	if j.Given("clear") {
		z = j.Length("clear")
		if m.Known {
			err = j.Placed(m.Fits(a, z, j.Unit(), stands, longest))
		}
		return z, nil, err
	}
	const expected = "one machine Z above everything on the bed with the longest tool"
	missing := func(what, hint string) error {
		return &noClear{ask.Wrong("clear", "no clear height between stations: "+what, expected, hint)}
	}
	switch {
	case !m.Known:
		return z, nil, missing("the machine isn't known", "give clear Z, or a machine file with table, and longest")
	case m.Table == nil:
		return z, nil, missing("the table's height isn't known", "give clear Z, or table in the machine file")
	case a == nil:
		return z, nil, missing("the blank isn't known", "give clear Z, or ‹stock› and ‹flip›")
	case longest == nil && tools > 1:
		return z, nil, missing(fmt.Sprintf("%d tools, and how far the longest one sticks out isn't known", tools), "give longest LENGTH, from the spindle nose to the tip, or clear Z")
	case longest == nil:
		return z, nil, missing("the tool's stick-out isn't known", "give longest LENGTH, from the spindle nose to the tip, or clear Z")
	}
	how, err = m.ClearOver(a, levels, stands, *longest, j.Standing(m))
	if err != nil {
		return z, nil, &noClear{j.Placed(err)}
	}
	return how.Z, how, nil
}

// longest is the longest stick-out; where one tool does all, that of touching off. nil
// is unknown.
func (j *Job) longest(tools int) (*decimal.Decimal, error) {
	l, stick := j.OptionalLength("longest"), j.OptionalLength("stick-out")
	switch {
	case l == nil && tools <= 1:
		return stick, nil
	case l != nil && stick != nil && l.LessThan(*stick):
		return nil, ask.Wrong(j.Where("longest"), l.String()+", less than stick-out "+stick.String(), "the stick-out of the longest tool", "")
	}
	return l, nil
}

// stands is how high over the seats the highest of what locates the blank reaches, as far
// as its height is given or follows from the dowels' lengths; 0 otherwise: level with the
// blank, or lower.
func (j *Job) stands() (decimal.Decimal, error) {
	var tops []decimal.Decimal
	if j.Answer != nil && !j.Given("pin-height") {
		var err error
		if tops, err = j.pinTops(); err != nil {
			return decimal.Zero, err
		}
	}
	for _, key := range []string{"pin-height", "fence-height"} {
		if v := j.OptionalLength(key); v != nil {
			tops = append(tops, *v)
		}
	}
	return decimal.Max(decimal.Zero, tops...), nil
}

// noClear says that there is no clear height.
type noClear struct{ error }

// Unwrap gives the reason, which has the exit code.
func (e *noClear) Unwrap() error { return e.error }

// produce merges a face with its backs over the pairs of a layout, proves the programs, and
// adds them and the plan of the run. Names in comments are those of the files that the maker
// knows.
func (j *Job) produce(l *bed.Layout, face, back cycle.Source) error {
	m, reading := j.Machine, j.reading("")
	batch, pause := j.batch()
	pairs, err := j.stationPairs(l)
	if err != nil {
		return err
	}
	if err := j.turnSources(pairs, &face, &back); err != nil {
		return err
	}
	boxes, tools, err := j.boxesOf(face, back)
	if err != nil {
		return err
	}
	clear, how, err := j.clearHeight(levels(boxes), tools)
	if err != nil {
		return err
	}
	crossing := j.crossing()
	park, err := j.parkAt(l, crossing)
	if err != nil {
		return err
	}
	o := cycle.Options{Face: face, Back: back, Pairs: pairs, Unit: reading.Unit, Clear: &clear, G53: m.G53, Marks: !j.On("bare"), ArcTolerance: reading.ArcTolerance,
		Park: park, Ways: len(crossing.Areas) > 0, Change: placeOf(m, m.Change), Home: placeOf(m, m.Home)}
	r := &report.Run{Chosen: batch.Order, Pairs: pairs, Names: RunFiles, Pause: pause, Clear: how, G53Assumed: m.G53 && m.Path == "",
		Park: park, Touched: touchedSides(j.Answer), LoadAssumed: !j.Given("load-time"), ChangeAssumed: !j.Given("change-time")}
	o.Rates, r.RatesAssumed = rates(m)
	if l != nil {
		r.Placed, r.Left, r.Extended = true, l.Left, m.Extended
	}
	if err := j.plan(o, r, batch); err != nil {
		return err
	}
	crossing.Ways = append(sites(pairs, boxes), ways(r.Merged[batch.Order].Ways, reading.Unit)...)
	r.ChangesHere = len(crossing.Areas) > 0 && tools > 1 && m.Change == nil
	if err := j.crosses(crossing, clear, how, tools); err != nil {
		return err
	}
	j.addMerged(r, clear)
	return nil
}

// plan merges the programs in either order, the chosen one with its pause and comments, and
// plans the run.
func (j *Job) plan(o cycle.Options, r *report.Run, batch cycle.Batch) (err error) {
	batch.Pairs = len(o.Pairs)
	for order := range 2 {
		chosen := cycle.Order(order) == r.Chosen
		o.Order, o.Pause, o.Comments = cycle.Order(order), "", [3]string{}
		if chosen {
			o.Pause = r.Pause
		}
		if chosen && !j.On("bare") {
			o.Comments = cycleComments(o)
		}
		if r.Merged[order], err = cycle.Merge(o); err != nil {
			return err
		}
		q := batch
		q.Order = o.Order
		times := report.TimesOf(r.Merged[order], ask.Value[float64](j.Ask, "change-time"))
		times.Fill(&q)
		if r.Plans[order], err = q.Plan(); err != nil {
			return j.Placed(err)
		}
		if chosen {
			r.Times = times
		}
	}
	return nil
}

// parkAt is where the tool is taken out of the way: as the flag or the machine file has
// it; nil where neither does. l is where the stations lie, nil where that isn't known.
func (j *Job) parkAt(l *bed.Layout, crossing *bed.Crossing) (*cycle.Place, error) {
	m, given := j.Machine, j.Given("park")
	at, unit := ask.Value[registration.Point](j.Ask, "park"), j.Unit()
	switch {
	case !given && m.Park == nil:
		return nil, nil
	case !given:
		at, unit = *m.Park, m.Unit
	}
	as := func(to transform.Unit) registration.Point {
		x, _ := transform.Convert(at.X, unit, to, 9)
		y, _ := transform.Convert(at.Y, unit, to, 9)
		return registration.Point{X: x, Y: y}
	}
	var faults []*registration.Error
	if !m.G53 || m.Known {
		faults = append(faults, m.ParkFault(as(m.Unit)))
	}
	if l != nil {
		faults = append(faults, l.ParkFault(as(l.Unit)))
	}
	faults = append(faults, crossing.ParkFault(as(crossing.Unit)))
	i := slices.IndexFunc(faults, func(f *registration.Error) bool { return f != nil })
	switch {
	case i < 0:
		return &cycle.Place{X: at.X, Y: at.Y, Unit: unit}, nil
	case given:
		return nil, j.At("park", faults[i])
	}
	faults[i].About = "park"
	return nil, m.PlacedFault(faults[i])
}

// touchedSides is on which sides of each part, face and back, Z is touched off anew.
func touchedSides(a *registration.Answer) (sides [2]bool) {
	if a == nil || a.Question.TouchOff != registration.TouchOffEach {
		return sides
	}
	return [2]bool{a.Question.ZZero != registration.Bed, a.Question.BackZZero != registration.Bed}
}

// addRun adds the three programs of the run and its plan to a job that has a face
// and a back. Where they can't be merged, the job is none the worse for it: the sheet
// then says why there are none.
func (j *Job) addRun() error {
	face, back, turn, err := j.runSources()
	if err != nil || face == nil || back == nil {
		return err
	}
	layout := j.Layout
	if turn != 0 { // the sources are turned as they are
		l := *layout
		l.Stations = slices.Clone(l.Stations)
		for i := range l.Stations {
			l.Stations[i].Turn = (l.Stations[i].Turn + turn.Back()) % 4
		}
		layout = &l
	}
	err = j.produce(layout, *face, *back)
	var merge *fault.Error
	var none *noClear
	if err == nil || !errors.As(err, &none) && (!errors.As(err, &merge) || merge.No || merge.About != "") {
		return err
	}
	j.Setup.Notes = append(j.Setup.Notes, report.Note{Level: fact.Warning, Is: words.NotMerged{Programs: RunFiles[:], Why: ask.Message(j.Worded(err))}})
	for _, name := range RunFiles {
		if dir := j.Text("output"); dir != "" {
			if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
				j.Setup.Notes = append(j.Setup.Notes, report.Note{Level: fact.Caution, File: filepath.Join(dir, name), Is: words.StaleProgram{}})
			}
		}
	}
	return nil
}

// turnSources turns the programs for the stations that are turned.
func (j *Job) turnSources(pairs []cycle.Pair, sides ...*cycle.Source) error {
	for _, side := range sides {
		side.Then = slices.Clone(side.Then)
		for _, p := range pairs {
			if err := j.turnSource(side, p.Face.Turn); err != nil {
				return err
			}
			for i := range side.Then {
				if err := j.turnSource(&side.Then[i], p.Face.Turn); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// turnSource turns a program for stations that are turned by so many quarters: by half a
// turn word by word, else written out.
func (j *Job) turnSource(src *cycle.Source, quarters int) error {
	if quarters == 0 || src.Turned[quarters] != nil {
		return nil
	}
	o := j.through(src.Name, transform.Identity(j.Unit()).Turned(registration.Quarter(quarters).Degrees()))
	o.Direct = true
	var out bytes.Buffer
	_, err := mirror.Mirror(bytes.NewReader(src.Text), &out, o)
	src.Turned[quarters] = out.Bytes()
	return err
}

// runSources gives the job's programs as they are written for the first pair that isn't
// turned: they differ from those of other pairs in the offset alone, which the merge
// replaces, and by the turn of their stations. Where every pair is turned they are those of
// the first, turned as it is. Several backs follow one another in the order in which the
// job runs them.
func (j *Job) runSources() (face, back *cycle.Source, turn registration.Quarter, err error) {
	first := max(0, slices.IndexFunc(j.Pairs, func(a *registration.Answer) bool { return a.FaceTurn == 0 }))
	turn = j.Pairs[first].FaceTurn
	for _, run := range j.runs {
		if run.pair != first {
			continue
		}
		text, err := io.ReadAll(again(run.content))
		if err != nil {
			return nil, nil, 0, err
		}
		src := j.sourceOf(run.name, text)
		src.From, src.Lines = run.source, run.lines
		to := &face
		if run.back {
			to = &back
		}
		if *to == nil {
			*to = &src
		} else {
			(*to).Then = append((*to).Then, src)
		}
	}
	return face, back, turn, nil
}

// boxesOf gives how far either side's programs go, from their zeros, and how many tools
// they call together.
func (j *Job) boxesOf(sides ...cycle.Source) (boxes [2]transform.Box, tools int, err error) {
	seen := map[int]bool{}
	for i, s := range sides {
		for _, src := range append([]cycle.Source{s}, s.Then...) {
			o := j.reading(src.Name)
			sum, err := motion.Walk(bytes.NewReader(src.Text), o, nil)
			if err != nil {
				return boxes, 0, err
			}
			for _, t := range sum.Tools {
				if t.Number >= 0 {
					seen[t.Number] = true
				}
			}
			boxes[i] = boxes[i].Join(sum.All.Box(o.Unit))
		}
	}
	return boxes, len(seen), nil
}

// trimPair takes the number of its pair off a program's name.
func trimPair(name string) string {
	name = filepath.Base(name)
	if rest, ok := strings.CutPrefix(name, "pair"); ok {
		if number, after, ok := strings.Cut(rest, "-"); ok && strings.Trim(number, "0123456789") == "" {
			return after
		}
	}
	return name
}

// cycleComments are the comment lines of the three programs.
func cycleComments(o cycle.Options) (out [3]string) {
	names := func(s cycle.Source) (list []string) {
		for _, t := range append([]cycle.Source{s}, s.Then...) {
			list = append(list, trimPair(t.Name))
		}
		return list
	}
	for i, text := range words.CycleComments(o.Pairs, names(o.Face), names(o.Back)) {
		out[i] = block.CommentText("flipcalc: "+text, 254)
	}
	return out
}

// addMerged adds the programs of a run, and its plan.
func (j *Job) addMerged(r *report.Run, clear decimal.Decimal) {
	merged, s := r.Merged[r.Chosen], &j.Setup
	s.ClearZ, s.Plan = &clear, report.PlanOf(*r)
	s.Guarded = s.Plan.Hidden
	for i, m := range []*cycle.Program{&merged.First, &merged.Steady, &merged.Last} {
		f := j.addFile(RunFiles[i], runRoles[i], "", "", m.Text)
		f.Blocks, f.Moves = m.Summary.Blocks, m.Summary.Moves
		// As the plan has them, from the tool that was left in the spindle.
		q := r.Plans[r.Chosen].Batch
		f.Seconds = report.Estimate([3]float64{q.First, q.Steady, q.Last}[i])
		f.Changes = [3]int{s.Plan.FirstChanges, s.Plan.Changes, s.Plan.LastChanges}[i]
		for _, t := range m.Tools {
			if t >= 0 {
				f.Tools = append(f.Tools, t)
			}
		}
	}
	s.Offsets = nil
	for _, pair := range r.Pairs {
		s.Offsets = append(s.Offsets, [2]string{pair.Face.Offset, pair.Back.Offset})
	}
}

// ownOffsets takes the offsets that the programs name where none is said, each free and
// the back's not the face's.
func (j *Job) ownOffsets(sources []cycle.Source) {
	free := j.Machine.Free(j.Name())
	for i, flag := range []string{"offset", "back-offset"} {
		if j.Given(flag) {
			continue
		}
		name, line := sources[i].Offset(motion.FromDecimal(j.arcTolerance()))
		face := strings.ToUpper(j.Text("offset"))
		if !slices.Contains(free, face) && !j.Given("offset") && len(free) > 0 {
			face = free[0]
		}
		if slices.Contains(free, name) && (i == 0 || name != face) {
			j.Put(flag, fmt.Sprintf("%s:%d", sources[i].Name, line), []string{name})
		}
	}
}

// source reads a program to be merged.
func (j *Job) source(path string) (cycle.Source, error) {
	in, name, err := j.open(path)
	if err != nil {
		return cycle.Source{}, err
	}
	text, err := io.ReadAll(in)
	if err != nil {
		return cycle.Source{}, fmt.Errorf("%s: %w", name, err)
	}
	return j.sourceOf(name, text), nil
}

// sourceOf is a text to be merged, read as the flags say.
func (j *Job) sourceOf(name string, text []byte) cycle.Source {
	o := j.reading(name)
	return cycle.Source{Name: name, Text: text, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Inert: o.Inert}
}

// Pair merges a face with its backs into the programs of a run.
func (j *Job) Pair() error {
	if err := j.start(); err != nil {
		return err
	}
	sources, asRun, err := j.sources()
	if err != nil {
		return err
	}
	j.ownOffsets(sources)
	if j.Given("stock") || j.Given("measured") || j.Given("pairs") {
		if err := j.standPair(); err != nil {
			return err
		}
	}
	if err := j.clamps(); err != nil {
		return err
	}
	j.setup()
	j.Setup = report.Setup{Unit: j.Unit(), Notes: append(j.Setup.Notes, report.AsRun(asRun)...)}
	for _, path := range j.Operands {
		j.Setup.Notes = append(j.Setup.Notes, j.macroNotes(path, path, nil)...)
	}
	back := sources[1]
	back.Then = sources[2:]
	err = j.produce(j.Layout, sources[0], back)
	for i, path := range j.Operands {
		err = j.ofSource(path, sources[i].Name, err)
	}
	return err
}

// sources reads the programs to be merged. asRun are backs that nothing says are ready.
func (j *Job) sources() (list, asRun []cycle.Source, err error) {
	for i, path := range j.Operands {
		same := func(other string) bool { return path != "-" && SameFile(path, other) }
		switch {
		case path == "-" && slices.Contains(j.Operands[:i], "-"):
			return nil, nil, ask.Wrong("-", "standard input named twice", "one program from standard input", "")
		case i > 0 && slices.ContainsFunc(j.Texts("mirror"), same):
			return nil, nil, ask.Wrong(path, "a program that the job file says is to be mirrored", "the mirrored program", "prepare writes it, as "+outName(path, "mirror")+", or flipcalc mirror does")
		}
		src, err := j.source(path)
		if err != nil {
			return nil, nil, err
		}
		list = append(list, src)
		if i > 0 && !slices.ContainsFunc(j.Texts("back"), same) {
			asRun = append(asRun, src)
		}
	}
	return list, asRun, nil
}

// standPair answers the question of a merge, and places its stations for the programs that
// are merged, and for the job's own, so that they lie where the job's other files have them.
func (j *Job) standPair() error {
	j.Put("face", "", append(slices.Clone(j.Texts("face")), j.Operands[0]))
	j.Put("back", "", append(slices.Clone(j.Texts("back")), j.Operands[1:]...))
	if err := j.solve(); err != nil {
		return err
	}
	if j.Machine.Known || j.Given("pairs") {
		if err := j.stand(); err != nil {
			return err
		}
	}
	if a := j.Answer; a.BackCorner != nil && a.FaceMachine == a.Machine && a.SamePlace() {
		return ask.Wrong("pairs", "face and back lie at one and the same place", "two stations, since each cycle cuts a face and a back",
			"place pairs with ‹pairs›, or say where the back's locators stand")
	}
	return nil
}
