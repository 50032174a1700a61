package job

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/plain"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
	"flipcalc/report/draw"
	"flipcalc/report/words"
)

// job is a whole job worked out: what prepare writes and the sheet says.
type Job struct {
	Machine *ask.Machine
	Answer  *registration.Answer   // of pair 1, or of the only place
	Pairs   []*registration.Answer // one a pair
	Layout  *bed.Layout            // nil where the bed isn't known
	Setup   report.Setup
	Files   []File

	runs  []toRun
	units []report.Note // what is to be said of the programs' units
}

// File is one file of the job's folder.
type File struct {
	Name    string
	Content []byte
}

// Prepare answers the job's question, places its stations and mirrors its programs.
func (c *Task) Prepare() (*Job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m}
	if j.Answer, err = c.solve(m); err != nil {
		return nil, err
	}
	if err := c.stand(j); err != nil {
		return nil, err
	}
	j.Setup = c.setup(j.Answer, m)
	j.Setup.Checklist = true
	if !c.placing() && !c.Given("pairs") && j.Machine.Known && j.Answer.SamePlace() {
		j.Setup.Notes = append(j.Setup.Notes, report.Note{Code: words.NoteOneStation, Level: registration.LevelAssumed})
	}
	if j.Layout != nil {
		j.Setup.Pairs = j.Pairs
		if err := c.addStations(&j.Setup, m, j.Layout); err != nil {
			return nil, err
		}
	}
	if err := c.addPrograms(j); err != nil {
		return nil, err
	}
	if len(j.Setup.Lines) > 0 {
		content := []byte(strings.Join(j.Setup.Lines, "\n") + "\n")
		j.Files = append(j.Files, File{"offsets.nc", content})
		j.Setup.LinesFile = "offsets.nc"
		j.Setup.Programs = append(j.Setup.Programs, reportProgram("offsets.nc", "offsets", "", "", content))
	}
	if err := c.addTools(&j.Setup); err != nil {
		return nil, err
	}
	if j.Answer.Second != nil {
		if j.Setup.Budget, err = c.budgetOf(j.Answer); err != nil {
			return nil, err
		}
	}
	if err := c.addDrawings(j); err != nil {
		return nil, err
	}
	if err := c.addPins(j); err != nil {
		return nil, err
	}
	if err := c.addPlug(j); err != nil {
		return nil, err
	}
	if j.Layout != nil {
		if !c.inPlace(j.Answer) {
			if err := c.addRun(j); err != nil {
				return nil, err
			}
		}
		if err := c.addTouchOff(&j.Setup, m, j.Answer, j.Layout, j.Pairs); err != nil {
			return nil, err
		}
	}
	return j, c.cutJob(j)
}

// stand places the stations that the job asks for, with the corrections of their second
// zeros.
func (c *Task) stand(j *Job) error {
	if err := c.standUncorrected(j); err != nil {
		return err
	}
	if err := c.clampsPlaced(j); err != nil {
		return err
	}
	return c.correct(j)
}

// clampsPlaced refuses clamps where it isn't known how the blank lies to them: nothing
// keeps a cutter clear of them then. A back that is still to be touched is the exception.
func (c *Task) clampsPlaced(j *Job) error {
	placed := func(a *registration.Answer) bool {
		return a.FaceMachine && (a.ToTouch() || a.Second != nil && a.Second.Machine)
	}
	switch {
	case !c.Given("clamp") || len(j.Pairs) > 0 && !slices.ContainsFunc(j.Pairs, func(a *registration.Answer) bool { return !placed(a) }):
		return nil
	case len(j.Pairs) > 0 && j.Pairs[0].FaceMachine:
		return ask.Wrong(c.Where("clamp"), "the turned blank's place isn't known", "a place, so that cutters keep clear of it", "give register")
	}
	return ask.Wrong(c.Where("clamp"), "the blank's place isn't known", "a place, so that cutters keep clear of it", "give at")
}

// standUncorrected places the stations that the job asks for and asks the question again at
// each pair. Where the job says the place of its face, it stands there alone, and
// the bed, where it is known, must have room for it.
func (c *Task) standUncorrected(j *Job) error {
	j.Pairs = []*registration.Answer{j.Answer}
	a := j.Answer
	fixed := a.Question.At != nil
	if !c.placing() {
		if err := c.turnedInPlace(a); err != nil {
			return err
		}
		if err := c.placeOne(j); err != nil {
			return err
		}
		return c.clearOf(j)
	}
	if fixed && a.SamePlace() {
		return ask.Wrong(c.Where("at"), "a place for the face, and pairs of stations to be placed on the bed as well", "one of the two, or the back station's place too",
			"leave out pairs or at, or say where the back's locators stand")
	}
	l, err := c.place(j.Machine, j.Answer)
	if err != nil {
		return err
	}
	j.Layout, j.Pairs = l, nil
	for i := 0; i < len(l.Stations); i += 2 {
		face, back := l.Stations[i], l.Stations[i+1]
		if i > 0 || !fixed {
			if a, err = j.Answer.At(standing(face), standing(back)); err != nil {
				return err
			}
		}
		j.Pairs = append(j.Pairs, a)
	}
	j.Answer = j.Pairs[0]
	return nil
}

// turnedInPlace refuses pairs = 0, one blank turned over in place, where the job's locators
// lay the turned blank beside its first place.
func (c *Task) turnedInPlace(a *registration.Answer) error {
	if c.Text("pairs") != "0" || c.inPlace(a) || a.Machine != a.FaceMachine {
		return nil
	}
	return ask.Wrong(c.Where("pairs"), fmt.Sprintf("0, one blank turned over in place, and a back that lies apart: its corner at %s, the face's at %s", a.BackCorner, a.FaceCorner),
		"locators on which the turned blank lies over the same place", "leave out pairs where the back has a station of its own")
}

// placeOne places the one station of a job whose machine has a bed and that says no
// place of its own, and asks the question again there.
func (c *Task) placeOne(j *Job) error {
	a, m := j.Answer, j.Machine
	if c.JobFile == "" || !c.Given("machine") || !m.Known || m.Bed == nil || a.BackCorner == nil || a.FaceMachine || a.Machine {
		return nil
	}
	req, stored, err := c.request(m, a)
	if err != nil {
		return err
	}
	corner, err := bed.One(&m.Machine, req, registration.Point{X: a.BackCorner.X.Sub(a.FaceCorner.X), Y: a.BackCorner.Y.Sub(a.FaceCorner.Y)})
	if err != nil {
		return err
	}
	q := a.Question
	q.At = &registration.Position{X: corner.X.Add(a.FaceZero.X), Y: corner.Y.Add(a.FaceZero.Y), Z: stored}
	if j.Answer, err = registration.Solve(q); err != nil {
		return err
	}
	j.Pairs = []*registration.Answer{j.Answer}
	return nil
}

// clearOf lays a job that says its own place on the bed: inside the travel and clear
// of what stands there.
func (c *Task) clearOf(j *Job) error {
	a := j.Answer
	if a.Question.At == nil || !j.Machine.Known || !a.Machine || a.BackCorner == nil {
		return nil
	}
	switch c.Verb.Name {
	case "check": // which finds for itself what leaves the travel or enters a no-go area
		for _, corner := range []registration.Point{a.FaceCorner, *a.BackCorner} {
			w, h := a.LyingSize()
			if u := j.Machine.Under(c.JobName(), corner, w, h, a.Question.Unit); u != nil {
				return ask.No(c.Where("at"), fmt.Sprintf("the blank is over what stands at %s (%s)", u.Offset, u.For), "move it, or take that fixture off the bed and out of the machine file")
			}
		}
		return nil
	case "prepare", "sheet", "pair":
	default:
		return nil
	}
	l, err := c.place(j.Machine, a)
	if err != nil {
		return err
	}
	j.Layout = l
	return nil
}

// inPlace reports whether one blank is turned over at one station: its locators serve both
// sides, or pairs = 0 says so of two that the blank can't leave free at once.
func (c *Task) inPlace(a *registration.Answer) bool {
	return a.SamePlace() || c.Text("pairs") == "0" && a.Overlies()
}

// standing is a station of the bed as registration takes it.
func standing(s bed.Station) registration.Station {
	return registration.Station{Offset: s.Offset, Zero: s.Zero, Corner: s.Corner, Turn: s.Turn}
}

// jobSides are the flags and keys that name a job's programs.
var jobSides = []jobSide{
	{"face", "face"}, {"mirror", "mirrored"}, {"back", "as written"},
}

type jobSide struct{ flag, role string }

// sides gives the keys of a job's programs in the order in which the machine runs them:
// the face, then those of the back in the order in which the job file names them.
func (c *Task) sides() []jobSide {
	s := slices.Clone(jobSides)
	if c.Before("back", "mirror") {
		s[1], s[2] = s[2], s[1]
	}
	return s
}

// outName names a program in the job's folder: face-NAME.nc or back-NAME.nc, mirrored or
// not, NAME the maker's file without its ending. A name that is its side's word, or begins
// with it and a hyphen, doesn't say it twice.
func outName(path, key string) string {
	base := filepath.Base(path)
	stem := strings.TrimSuffix(base, filepath.Ext(base))
	side := "back"
	if key == "face" {
		side = "face"
	}
	if first, _, _ := strings.Cut(strings.ToLower(stem), "-"); first != side {
		stem = side + "-" + stem
	}
	return stem + ".nc"
}

// addPrograms mirrors and proves every program of the job for every pair.
func (c *Task) addPrograms(j *Job) error {
	for i := range j.Pairs {
		prefix := ""
		if len(j.Pairs) > 1 {
			prefix = fmt.Sprintf("pair%d-", i+1)
		}
		for _, side := range c.sides() {
			for _, path := range c.Texts(side.flag) {
				if err := c.addProgram(j, i, path, prefix+outName(path, side.flag), side.role); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// addProgram rewrites one program for its station, proved, and adds it to the job.
func (c *Task) addProgram(j *Job, pair int, path, name, role string) error {
	a := j.Pairs[pair]
	for _, f := range j.Files {
		if strings.EqualFold(f.Name, name) {
			return ask.Wrong(c.Where("mirror"), "two programs would be written as "+name, "programs of different names", "")
		}
	}
	in, err := c.program(path)
	if err != nil {
		return err
	}
	shown := shownInput(path)
	o, err := c.mirrorOptions(a, j.Machine)
	if err != nil {
		return err
	}
	o.Name, o.Stream = shown, false
	o.FaceOffset = j.Pairs[0].Question.Offset // in which the maker's programs are written
	switch role {
	case "mirrored":
		o.Comment = mirrorComment(path, a)
	default:
		o.Map = transform.Identity(a.Question.Unit)
		o.Comment = role + " of " + filepath.Base(path) + ", dry run above the work first"
		if role == "face" {
			o.BackOffset, o.ZerosDiffer = a.Question.Offset, false
			o.Map = o.Map.Turned(a.FaceTurn.Degrees())
			o.Comment = filepath.Base(path) + " for the face, dry run above the work first"
		} else {
			o.Map = o.Map.Turned(a.BackTurn)
			// The program is written in the back's own coordinates.
			zero := a.BackZero
			o.Blank[0] = [2]decimal.Decimal{zero.X.Neg(), zero.Y.Neg()}
			o.Blank[1] = [2]decimal.Decimal{a.Used.W.Sub(zero.X), a.Used.H.Sub(zero.Y)}
			o.Comment = filepath.Base(path) + " for the back as written, dry run above the work first"
		}
		o.ReverseCuts = false
	}
	if c.On("bare") {
		o.Comment = ""
	}
	var written mirror.Spool
	o.Direct = true
	read, done := c.progress(again(in), shown, in.Size())
	r, err := mirror.Mirror(read, &written, o)
	done()
	if err != nil {
		return c.ofSource(path, shown, err)
	}
	if w, u := r.Written, a.Question.Unit; w.Step(u).GreaterThan(c.turned[path].Step(u)) {
		if c.turned == nil {
			c.turned = map[string]*plain.Report{}
		}
		c.turned[path] = w
	}
	out := written.Content()
	run := toRun{pair: pair, back: role != "face", name: name, source: shown, content: out, lines: r.SourceLine}
	if c.plain[path] != nil {
		run.lines = func(n int) int { return c.sourceLine(path, r.SourceLine(n)) }
	}
	j.runs = append(j.runs, run)
	if pair == 0 {
		j.units = append(j.units, unitNotes(shown, &r.Before, a, c.Verb.Name != "check")...)
	}
	if role != "face" && a.ToTouch() { // it is written once the blank was touched
		return nil
	}
	if c.Verb.Name == "check" { // which writes nothing
		j.Files = append(j.Files, File{Name: name})
		return nil
	}
	text, err := io.ReadAll(out)
	if err != nil {
		return err
	}
	j.Files = append(j.Files, File{name, text})
	offset := o.BackOffset
	p := reportProgram(name, role, path, offset, text)
	p.Blocks, p.Moves, p.Seconds, p.Lowest = r.Blocks, r.Moves, report.Estimate(r.After.Seconds), report.LowestOf(&r.After, a.Question.Unit)
	for _, t := range r.After.Tools {
		if t.Number >= 0 {
			p.Tools = append(p.Tools, t.Number)
		}
	}
	reading, err := c.motionOptions(name)
	if err != nil {
		return err
	}
	if p.Stints, err = motion.Stints(bytes.NewReader(text), reading); err != nil {
		return err
	}
	j.Setup.Programs = append(j.Setup.Programs, p)
	res := report.MirroredOf(shown, name, r, a.Question.Unit)
	res.StartOn(a, role != "face")
	res.WrittenOut = c.plain[path] != nil || r.Written != nil
	res.Notes = c.macroNotes(path, shown, res.Notes)
	for i, n := range res.Notes {
		if o, other := n.Is.(mirror.OtherOffset); other && role == "face" {
			o.Own = &mirror.Own{}
			for _, u := range j.Machine.InUse {
				if u.Offset == o.Offset {
					o.Own.For = u.For
				}
			}
			res.Notes[i].Is = o
		}
	}
	if role == "mirrored" {
		j.Setup.Mirrors = append(j.Setup.Mirrors, res)
	} else {
		j.Setup.Notes = append(j.Setup.Notes, res.Notes...)
	}
	return nil
}

// reportProgram is the report on one file.
func reportProgram(name, role, from, offset string, content []byte) report.Program {
	sum := sha256.Sum256(content)
	if from != "" {
		from = filepath.Base(from)
	}
	return report.Program{Name: name, Role: role, From: from, Offset: offset,
		Bytes: int64(len(content)), SHA256: fmt.Sprintf("%x", sum)}
}

// addTools lists the cutters.
func (c *Task) addTools(s *report.Setup) error {
	tools, err := c.tools()
	if err != nil {
		return err
	}
	for _, t := range tools {
		s.Tools = append(s.Tools, report.ToolOf(t, s.Unit))
	}
	return nil
}

// traceStep is how fine the drawings follow the tool, in mm: finer than a pen's
// line on paper at any scale that fits a page.
const traceStep = 0.1

// addDrawings traces the programs of the first pair for the drawings.
func (c *Task) addDrawings(j *Job) error {
	d := &report.Drawings{}
	u := j.Answer.Question.Unit
	for _, p := range j.Setup.Programs {
		if p.Role == "offsets" || strings.HasPrefix(p.Name, "pair") && !strings.HasPrefix(p.Name, "pair1-") {
			continue
		}
		var content []byte
		for _, f := range j.Files {
			if f.Name == p.Name {
				content = f.Content
			}
		}
		o, err := c.motionOptions(p.Name)
		if err != nil {
			return err
		}
		path, err := draw.Trace(bytes.NewReader(content), o, u, traceStep, 0)
		if err != nil {
			return err
		}
		side := &d.Back
		if p.Role == "face" {
			side = &d.Face
		}
		if *side == nil {
			*side = &draw.Path{}
		}
		(*side).Strokes = append((*side).Strokes, path.Strokes...)
		(*side).Plunges = append((*side).Plunges, path.Plunges...)
		(*side).Cut = (*side).Cut || path.Cut
	}
	j.Setup.Drawings = d
	return nil
}

// toRun is a program as the machine runs it at one pair of stations.
type toRun struct {
	pair    int
	back    bool
	name    string // as it is written; "" where it isn't
	source  string // the file that messages name
	content *io.SectionReader
	// From a line of content to one of source, where findings are put right; nil where they
	// are the same.
	lines func(int) int
}

// addAsIs adds a program to the job that is run as it stands.
func (c *Task) addAsIs(j *Job, pair int, path string, back bool) error {
	in, err := c.program(path)
	if err != nil {
		return err
	}
	name := shownInput(path)
	run := toRun{pair: pair, back: back, source: name, content: in}
	if c.plain[path] != nil {
		run.lines = func(n int) int { return c.sourceLine(path, n) }
	}
	j.runs = append(j.runs, run)
	o, err := c.motionOptions(name)
	if err != nil {
		return err
	}
	r, done := c.progress(again(in), name, in.Size())
	s, err := motion.Walk(r, o, nil)
	done()
	if err != nil {
		return c.ofSource(path, name, err)
	}
	j.units = append(j.units, unitNotes(name, s, j.Answer, false)...)
	return nil
}
