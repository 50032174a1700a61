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

// production is a run worked out.
type production struct {
	files  []File
	run    report.Run
	clearZ decimal.Decimal
	setup  report.Setup // what is added to the job's
}

// batch is what the flags say of a run.
type batch struct {
	order                  cycle.Order
	loading                cycle.Loading
	pause                  string
	parts                  int
	load, change, addSetup float64
}

// askRun reads the flags of a run.
func (c *Task) askRun() (a batch, err error) {
	if c.Text("order") == "stations" {
		a.order = cycle.ByStations
	}
	if c.Text("load") == "guarded" {
		a.loading = cycle.Guarded
	}
	a.pause = strings.ToUpper(c.Text("pause"))
	if a.pause == "" && a.loading == cycle.Guarded && a.order == cycle.ByStations {
		a.pause = "M0" // the backs begin only when hands are away
	}
	r := c.NewReader()
	ask.Read(r, "parts", ask.ParseCount, &a.parts)
	for name, to := range map[string]*float64{"load-time": &a.load, "change-time": &a.change, "setup-time": &a.addSetup} {
		if *to, err = ask.ParseSeconds(c.Text(name)); err != nil {
			return a, c.At(name, err)
		}
	}
	return a, r.Err
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

// stationPairs gives the pairs of stations as the merge takes them: those placed on
// the bed, or the one pair of the answer, or of the offsets alone.
func (c *Task) stationPairs(m *ask.Machine, a *registration.Answer, l *bed.Layout) ([]cycle.Pair, error) {
	readings, err := c.readings(m, a)
	if err != nil {
		return nil, err
	}
	if l != nil {
		var out []cycle.Pair
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
	p := cycle.Pair{Face: cycle.Station{Offset: strings.ToUpper(c.Text("offset"))}, Back: cycle.Station{Offset: strings.ToUpper(c.Text("back-offset"))}}
	if a != nil {
		if at := a.FaceAt; at != nil {
			p.Face.ZeroX, p.Face.ZeroY, p.Face.ZeroZ = &at.X, &at.Y, readings[0]
		}
		if z := a.Second; z != nil {
			p.Back.Offset = z.Offset
			if z.Machine {
				p.Back.ZeroX, p.Back.ZeroY, p.Back.ZeroZ = &z.X, &z.Y, readings[1]
			}
		}
	}
	free := m.Free(c.JobName())
	if p.Back.Offset == "" {
		i := slices.IndexFunc(free, func(o string) bool { return o != p.Face.Offset })
		if i < 0 {
			return nil, ask.No(c.Where("back-offset"), "no offset is free for the back", "the machine file lists those in use")
		}
		p.Back.Offset = free[i]
	}
	for _, s := range []struct{ flag, offset string }{{"offset", p.Face.Offset}, {"back-offset", p.Back.Offset}} {
		if err := m.Usable(c.JobName(), s.offset); err != nil {
			return nil, fault.About(err, c.Where(s.flag))
		}
	}
	if p.Face.Offset == p.Back.Offset {
		return nil, ask.Wrong(c.Where("back-offset"), p.Back.Offset+" for the face and the back", "two different offsets", "")
	}
	return []cycle.Pair{p}, nil
}

// clearHeight gives the machine Z between stations, in the call's unit: the one that
// is given, or one reckoned from the machine file. how is nil where it is given.
func (c *Task) clearHeight(m *ask.Machine, a *registration.Answer, levels [2]*decimal.Decimal, tools int) (z decimal.Decimal, how *bed.Clear, err error) {
	r := c.NewReader()
	longest := c.longest(r, tools)
	given := ask.Read(r, "clear", r.Length, &z)
	if r.Err != nil {
		return z, nil, r.Err
	}
	if given {
		if m.Known {
			err = c.Placed(m.Fits(a, z, r.Unit, longest))
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
		return z, nil, missing("the blank isn't known", "give clear Z, or --stock and --flip")
	case longest == nil && tools > 1:
		return z, nil, missing(fmt.Sprintf("%d tools, and how far the longest one sticks out isn't known", tools), "give longest LENGTH, from the spindle nose to the tip, or clear Z")
	case longest == nil:
		return z, nil, missing("the tool's stick-out isn't known", "give longest LENGTH, from the spindle nose to the tip, or clear Z")
	}
	areas, err := c.Standing(m)
	if err != nil {
		return z, nil, err
	}
	how, err = m.ClearOver(a, levels, *longest, areas)
	if err != nil {
		return z, nil, &noClear{c.Placed(err)}
	}
	return how.Z, how, nil
}

// longest is the longest stick-out; where one tool does all, that of touching off. nil
// is unknown.
func (c *Task) longest(r *ask.Reader, tools int) (l *decimal.Decimal) {
	ask.Optional(r, "longest", r.Length, &l)
	if l == nil && tools <= 1 {
		ask.Optional(r, "stick-out", r.Length, &l)
	}
	return l
}

// noClear says that there is no clear height.
type noClear struct{ error }

// Unwrap gives the reason, which has the exit code.
func (e *noClear) Unwrap() error { return e.error }

// produce merges a face with its backs over all pairs, proves the programs, and plans
// the run. Names in comments are those of the files that the maker knows.
func (c *Task) produce(m *ask.Machine, a *registration.Answer, l *bed.Layout, face, back cycle.Source) (*production, error) {
	want, err := c.askRun()
	if err != nil {
		return nil, err
	}
	pairs, err := c.stationPairs(m, a, l)
	if err != nil {
		return nil, err
	}
	reading, err := c.motionOptions("")
	if err != nil {
		return nil, err
	}
	unit := reading.Unit
	if err := c.turnSources(pairs, &face, &back); err != nil {
		return nil, err
	}
	boxes, tools, err := c.boxesOf(face, back)
	if err != nil {
		return nil, err
	}
	var levels [2]*decimal.Decimal
	for i := range boxes {
		if boxes[i].Any {
			levels[i] = &boxes[i].Greatest[2]
		}
	}
	crossing, err := c.crossing(m)
	if err != nil {
		return nil, err
	}
	p := &production{}
	var how *bed.Clear
	if p.clearZ, how, err = c.clearHeight(m, a, levels, tools); err != nil {
		return nil, err
	}
	o := cycle.Options{Face: face, Back: back, Pairs: pairs, Unit: unit, Clear: &p.clearZ, G53: m.G53, Marks: !c.On("bare"), ArcTolerance: reading.ArcTolerance}
	r := report.Run{Chosen: want.order, Pairs: pairs, Names: RunFiles, Pause: want.pause, Clear: how, G53Assumed: m.G53 && m.Path == ""}
	o.Rates, r.RatesAssumed = rates(m)
	if o.Park, err = c.parkAt(m, l, crossing); err != nil {
		return nil, err
	}
	o.Ways, o.Change, o.Home = len(crossing.Areas) > 0, placeOf(m, m.Change), placeOf(m, m.Home)
	r.Park, r.Touched = o.Park, touchedSides(a)
	if l != nil {
		r.Placed, r.Left, r.Extended = true, l.Left, m.Extended
	}
	r.LoadAssumed, r.ChangeAssumed = !c.Given("load-time"), !c.Given("change-time")
	for order := range 2 {
		o.Order, o.Pause = cycle.Order(order), ""
		if order == int(want.order) {
			o.Pause = want.pause
			if !c.On("bare") {
				o.Comments = runComments(pairs, face, back)
			}
		}
		merged, err := cycle.Merge(o)
		if err != nil {
			return nil, err
		}
		r.Merged[order] = merged
		q := cycle.Batch{Parts: want.parts, Pairs: len(pairs), Order: cycle.Order(order), Loading: want.loading, Load: want.load, Turn: want.load, Setup: want.addSetup}
		times := report.TimesOf(merged, want.change)
		times.Fill(&q)
		if r.Plans[order], err = q.Plan(); err != nil {
			return nil, c.Placed(err)
		}
		if cycle.Order(order) == want.order {
			r.Times = times
		}
	}
	crossing.Ways = append(sites(pairs, boxes), ways(r.Merged[want.order].Ways, unit)...)
	r.ChangesHere = len(crossing.Areas) > 0 && tools > 1 && m.Change == nil
	if err := c.crosses(m, crossing, p.clearZ, how, tools); err != nil {
		return nil, err
	}
	p.run = r
	p.report(unit)
	return p, nil
}

// parkAt is where the tool is taken out of the way: as the flag or the machine file has
// it; nil where neither does. l is where the stations lie, nil where that isn't known.
func (c *Task) parkAt(m *ask.Machine, l *bed.Layout, crossing *bed.Crossing) (*cycle.Place, error) {
	r := c.NewReader()
	var at registration.Point
	unit := r.Unit
	given := ask.Read(r, "park", ask.In(r, registration.ParsePoint), &at)
	switch {
	case r.Err != nil || !given && m.Park == nil:
		return nil, r.Err
	case !given:
		at, unit = *m.Park, m.Unit
	}
	as := func(to transform.Unit) registration.Point {
		x, _ := transform.Convert(at.X, unit, to, 9)
		y, _ := transform.Convert(at.Y, unit, to, 9)
		return registration.Point{X: x, Y: y}
	}
	blame := func(f *registration.Error) error {
		if given {
			return c.At("park", f)
		}
		f.About = "park"
		return m.PlacedFault(f)
	}
	if !m.G53 || m.Known {
		if f := m.ParkFault(as(m.Unit)); f != nil {
			return nil, blame(f)
		}
	}
	if l != nil {
		if f := l.ParkFault(as(l.Unit)); f != nil {
			return nil, blame(f)
		}
	}
	if f := crossing.ParkFault(as(crossing.Unit)); f != nil {
		return nil, blame(f)
	}
	return &cycle.Place{X: at.X, Y: at.Y, Unit: unit}, nil
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
func (c *Task) addRun(j *Job) error {
	if _, err := c.askRun(); err != nil {
		return err
	}
	face, back, turn, err := c.runSources(j)
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
	p, err := c.produce(j.Machine, j.Answer, layout, *face, *back)
	if err != nil {
		var merge *fault.Error
		var none *noClear
		if !errors.As(err, &none) && (!errors.As(err, &merge) || merge.No || merge.About != "") {
			return err
		}
		j.Setup.Notes = append(j.Setup.Notes, report.Note{Level: fact.Warning, Is: words.NotMerged{Programs: RunFiles[:], Why: ask.Message(c.Worded(err))}})
		for _, name := range RunFiles {
			if dir := c.Text("output"); dir != "" {
				if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
					j.Setup.Notes = append(j.Setup.Notes, report.Note{Level: fact.Caution, File: filepath.Join(dir, name), Is: words.StaleProgram{}})
				}
			}
		}
		return nil
	}
	j.Files = append(j.Files, p.files...)
	j.Setup.Programs = append(j.Setup.Programs, p.setup.Programs...)
	j.Setup.Plan, j.Setup.ClearZ, j.Setup.Guarded = p.setup.Plan, p.setup.ClearZ, p.setup.Guarded
	return nil
}

// turnSources turns the programs for the stations that are turned.
func (c *Task) turnSources(pairs []cycle.Pair, sides ...*cycle.Source) error {
	for _, side := range sides {
		side.Then = slices.Clone(side.Then)
		for _, p := range pairs {
			if err := c.turnSource(side, p.Face.Turn); err != nil {
				return err
			}
			for i := range side.Then {
				if err := c.turnSource(&side.Then[i], p.Face.Turn); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// turnSource turns a program for stations that are turned by so many quarters: by half a
// turn word by word, else written out.
func (c *Task) turnSource(src *cycle.Source, quarters int) error {
	if quarters == 0 || src.Turned[quarters] != nil {
		return nil
	}
	read, err := c.motionOptions(src.Name)
	if err != nil {
		return err
	}
	o := mirror.Options{Name: src.Name, Map: transform.Identity(read.Unit).Turned(registration.Quarter(quarters).Degrees()), Unit: read.Unit,
		AbsoluteCentres: read.AbsoluteCentres, Inert: read.Inert, Direct: true}
	if o.ArcTolerance, err = c.arcTolerance(); err != nil {
		return err
	}
	var out bytes.Buffer
	_, err = mirror.Mirror(bytes.NewReader(src.Text), &out, o)
	src.Turned[quarters] = out.Bytes()
	return err
}

// runSources gives the job's programs as they are written for the first pair that isn't
// turned: they differ from those of other pairs in the offset alone, which the merge
// replaces, and by the turn of their stations. Where every pair is turned they are those of
// the first, turned as it is. Several backs follow one another in the order in which the
// job runs them.
func (c *Task) runSources(j *Job) (face, back *cycle.Source, turn registration.Quarter, err error) {
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
		src, err := c.sourceOf(run.name, text)
		if err != nil {
			return nil, nil, 0, err
		}
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
func (c *Task) boxesOf(sides ...cycle.Source) (boxes [2]transform.Box, tools int, err error) {
	seen := map[int]bool{}
	for i, s := range sides {
		for _, src := range append([]cycle.Source{s}, s.Then...) {
			o, err := c.motionOptions(src.Name)
			if err != nil {
				return boxes, 0, err
			}
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

// runComments are the comment lines of the three programs.
func runComments(pairs []cycle.Pair, face, back cycle.Source) (out [3]string) {
	names := func(s cycle.Source) string {
		list := []string{trimPair(s.Name)}
		for _, t := range s.Then {
			list = append(list, trimPair(t.Name))
		}
		return strings.Join(list, " and ")
	}
	var faces, backs []string
	for _, p := range pairs {
		faces, backs = append(faces, p.Face.Offset), append(backs, p.Back.Offset)
	}
	f, b := strings.Join(faces, " ")+" from "+names(face), strings.Join(backs, " ")+" from "+names(back)
	for i, s := range []string{"first cycle, faces at " + f, "steady cycle, faces at " + f + ", backs at " + b, "last cycle, backs at " + b} {
		out[i] = block.CommentText("flipcalc: "+s+", dry run above the work first", 254)
	}
	return out
}

// report fills in what the run adds to a sheet.
func (p *production) report(unit transform.Unit) {
	r := &p.run
	merged := r.Merged[r.Chosen]
	s := &p.setup
	s.Unit, s.ClearZ, s.Plan = unit, &p.clearZ, report.PlanOf(*r)
	s.Guarded = s.Plan.Hidden
	for _, pair := range r.Pairs {
		s.Offsets = append(s.Offsets, [2]string{pair.Face.Offset, pair.Back.Offset})
	}
	for i, m := range []*cycle.Program{&merged.First, &merged.Steady, &merged.Last} {
		p.files = append(p.files, File{RunFiles[i], m.Text})
		f := reportProgram(RunFiles[i], runRoles[i], "", "", m.Text)
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
		s.Programs = append(s.Programs, f)
	}
}

// ownOffsets takes the offsets that the programs name where none is said, each free and
// the back's not the face's.
func (c *Task) ownOffsets(m *ask.Machine, sources []cycle.Source) error {
	tolerance, err := c.arcTolerance()
	if err != nil {
		return err
	}
	free := m.Free(c.JobName())
	for i, flag := range []string{"offset", "back-offset"} {
		if c.Given(flag) {
			continue
		}
		name, line := sources[i].Offset(motion.FromDecimal(tolerance))
		face := strings.ToUpper(c.Text("offset"))
		if !slices.Contains(free, face) && !c.Given("offset") && len(free) > 0 {
			face = free[0]
		}
		if slices.Contains(free, name) && (i == 0 || name != face) {
			c.Put(flag, fmt.Sprintf("%s:%d", sources[i].Name, line), []string{name})
		}
	}
	return nil
}

// source reads a program to be merged.
func (c *Task) source(path string) (cycle.Source, error) {
	in, name, err := c.open(path)
	if err != nil {
		return cycle.Source{}, err
	}
	text, err := io.ReadAll(in)
	if err != nil {
		return cycle.Source{}, fmt.Errorf("%s: %w", name, err)
	}
	return c.sourceOf(name, text)
}

// sourceOf is a text to be merged, read as the flags say.
func (c *Task) sourceOf(name string, text []byte) (cycle.Source, error) {
	o, err := c.motionOptions(name)
	return cycle.Source{Name: name, Text: text, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Inert: o.Inert}, err
}

// Pair merges a face with its backs into the programs of a run.
func (c *Task) Pair() (*Job, error) {
	var sources []cycle.Source
	var asRun []cycle.Source // backs that nothing says are ready
	for i, path := range c.Operands {
		if path == "-" && slices.Contains(c.Operands[:i], "-") {
			return nil, ask.Wrong("-", "standard input named twice", "one program from standard input", "")
		}
		if i > 0 {
			for _, drawn := range c.Texts("mirror") {
				if path != "-" && SameFile(path, drawn) {
					return nil, ask.Wrong(path, "a program that the job file says is to be mirrored", "the mirrored program", "prepare writes it, as "+outName(path, "mirror")+", or flipcalc mirror does")
				}
			}
		}
		src, err := c.source(path)
		if err != nil {
			return nil, err
		}
		sources = append(sources, src)
		if i > 0 && !slices.ContainsFunc(c.Texts("back"), func(b string) bool { return path != "-" && SameFile(path, b) }) {
			asRun = append(asRun, src)
		}
	}
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	if err := c.ownOffsets(m, sources); err != nil {
		return nil, err
	}
	j := &Job{Machine: m}
	if c.Given("stock") || c.Given("measured") || c.Given("pairs") {
		// Stations are placed for the programs that are merged, and for the job's
		// own, so that they lie where the job's other files have them.
		c.Put("face", "", append(slices.Clone(c.Texts("face")), c.Operands[0]))
		c.Put("back", "", append(slices.Clone(c.Texts("back")), c.Operands[1:]...))
		if j.Answer, err = c.solve(m); err != nil {
			return nil, err
		}
		if m.Known || c.Given("pairs") {
			if err := c.stand(j); err != nil {
				return nil, err
			}
		}
		if a := j.Answer; a.BackCorner != nil && a.FaceMachine == a.Machine && a.SamePlace() {
			return nil, ask.Wrong("", "face and back lie at one and the same place", "two stations, since each cycle cuts a face and a back",
				"place pairs with --pairs, or say where the back's locators stand")
		}
	}
	if err := c.clampsPlaced(j); err != nil {
		return nil, err
	}
	back := sources[1]
	back.Then = sources[2:]
	p, err := c.produce(m, j.Answer, j.Layout, sources[0], back)
	if err != nil {
		for i, path := range c.Operands {
			err = c.ofSource(path, sources[i].Name, err)
		}
		return nil, err
	}
	j.Files, j.Setup = p.files, p.setup
	j.Setup.Notes = append(c.setup(j.Answer, m).Notes, report.AsRun(asRun)...)
	for _, path := range c.Operands {
		j.Setup.Notes = append(j.Setup.Notes, c.macroNotes(path, path, nil)...)
	}
	return j, nil
}
