package job

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/plain"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
	"flipcalc/report/words"
)

// Job is a question, and what comes of it: what prepare writes and the sheet says. Each
// verb has a method, which works out as much as that verb needs.
type Job struct {
	*ask.Ask
	In      io.Reader // standard input
	Version string    // of the build, for the record
	// Ticks shows how many bytes of a program have been read; size is 0 where it isn't
	// known. tick is nil where nothing is shown.
	Ticks func(name string, size int64) (tick func(int64), done func())

	Machine *ask.Machine
	Answer  *registration.Answer   // of pair 1, or of the only place
	Pairs   []*registration.Answer // one a pair
	Layout  *bed.Layout            // nil where the bed isn't known
	Setup   report.Setup
	Files   []File

	runs   []toRun
	units  []report.Note                // what is to be said of the programs' units
	kept   map[string]*io.SectionReader // programs that are read more than once
	plain  map[string]*plain.Report     // those that were written out
	turned map[string]*plain.Report     // those that were turned, and rounded for it
	// numbers are the differences of H and D from the tool's number that were told.
	numbers map[[2]int]bool
}

// New is a question of which nothing is worked out yet.
func New(a *ask.Ask, in io.Reader, version string) *Job {
	return &Job{Ask: a, In: in, Version: version, kept: map[string]*io.SectionReader{}, plain: map[string]*plain.Report{}, turned: map[string]*plain.Report{}, numbers: map[[2]int]bool{},
		Ticks: func(string, int64) (func(int64), func()) { return nil, func() {} }}
}

// File is one file of the job's folder.
type File struct {
	Name    string
	Content []byte
}

// Prepare answers the job's question, places its stations, mirrors its programs and cuts
// them in memory.
func (j *Job) Prepare() error {
	if err := j.find(); err != nil {
		return err
	}
	j.setup()
	j.Setup.Notes = append(j.Setup.Notes, farCorrections(j.Pairs[1:])...) // the answer tells those of the first
	j.Setup.Checklist = true
	if !j.placing() && !j.Given("pairs") && j.Machine.Known && j.Answer.SamePlace() {
		j.note(fact.Assumed, words.OneStation{})
	}
	placed := j.Layout != nil
	if placed {
		j.Setup.Pairs = j.Pairs
	}
	for _, step := range []struct {
		needed bool
		does   func() error
	}{
		{placed, j.addStations}, {true, j.addPrograms}, {true, j.addOffsets}, {j.Answer.Second != nil, j.addBudget}, {true, j.addDrawings},
		{true, j.addPins}, {true, j.addPlug}, {placed && !j.inPlace(), j.addRun}, {placed, j.addTouchOff}, {true, j.cutJob},
	} {
		if !step.needed {
			continue
		}
		if err := step.does(); err != nil {
			return err
		}
	}
	return nil
}

// addOffsets adds the program that sets the stations' offsets, and lists the cutters.
func (j *Job) addOffsets() error {
	if len(j.Setup.Lines) > 0 {
		j.Setup.LinesFile = "offsets.nc"
		j.addFile(j.Setup.LinesFile, "offsets", "", "", []byte(strings.Join(j.Setup.Lines, "\n")+"\n"))
	}
	for _, t := range j.tools() {
		j.Setup.Tools = append(j.Setup.Tools, report.ToolOf(t, j.Setup.Unit))
	}
	return nil
}

// stand places the stations that the job asks for, with the corrections of their second
// zeros.
func (j *Job) stand() error {
	if err := j.standUncorrected(); err != nil {
		return err
	}
	if err := j.clamps(); err != nil {
		return err
	}
	return j.correct()
}

// clamps refuses those which a cutter wouldn't be kept clear of: lower than the blank that
// they hold, or where it isn't known how the blank lies to them. A back that is still to be
// touched is the exception.
func (j *Job) clamps() error {
	placed := func(a *registration.Answer) bool {
		return a.FaceMachine && (a.ToTouch() || a.Second != nil && a.Second.Machine)
	}
	switch {
	case !j.Given("clamp"):
		return nil
	case len(j.Pairs) > 0 && !slices.ContainsFunc(j.Pairs, func(a *registration.Answer) bool { return !placed(a) }):
		return j.clampHeights()
	case len(j.Pairs) > 0 && j.Pairs[0].FaceMachine:
		return ask.Wrong(j.Where("clamp"), "the turned blank's place isn't known", "a place, so that cutters keep clear of it", "give register")
	}
	return ask.Wrong(j.Where("clamp"), "the blank's place isn't known", "a place, so that cutters keep clear of it", "give at")
}

// clampHeights refuses a clamp that lies over a blank and ends under its top.
func (j *Job) clampHeights() error {
	for _, a := range j.Pairs {
		if low := bed.LowClamps(a, j.Clamps()); len(low) > 0 {
			return ask.Wrong(j.Where("clamp"), low[0].String()+" lies over the blank and ends at its top or lower", "a height of more than "+low[0].Top.String()+", from the bed",
				"without a height it reaches up to the spindle")
		}
	}
	return nil
}

// standUncorrected places the stations that the job asks for and asks the question again at
// each pair. Where the job says the place of its face, it stands there alone, and
// the bed, where it is known, must have room for it.
func (j *Job) standUncorrected() error {
	j.Pairs = []*registration.Answer{j.Answer}
	if !j.placing() {
		if err := j.turnedInPlace(); err != nil {
			return err
		}
		if err := j.placeOne(); err != nil {
			return err
		}
		return j.clearOf()
	}
	if err := j.place(); err != nil {
		return err
	}
	if err := j.pairUp(); err != nil {
		return err
	}
	j.Answer = j.Pairs[0]
	return nil
}

// turnedInPlace refuses pairs = 0, one blank turned over in place, where the job's locators
// lay the turned blank beside its first place.
func (j *Job) turnedInPlace() error {
	a := j.Answer
	if j.Text("pairs") != "0" || j.inPlace() || a.Machine != a.FaceMachine {
		return nil
	}
	return ask.Wrong(j.Where("pairs"), fmt.Sprintf("0, one blank turned over in place, and a back that lies apart: its corner at %s, the face's at %s", a.BackCorner, a.FaceCorner),
		"locators on which the turned blank lies over the same place", "leave out pairs where the back has a station of its own")
}

// placeOne places the one station of a job whose machine has a bed and that says no
// place of its own, and asks the question again there.
func (j *Job) placeOne() error {
	a, m := j.Answer, j.Machine
	if j.JobFile == "" || !j.Given("machine") || !m.Known || m.Bed == nil || a.BackCorner == nil || a.FaceMachine || a.Machine {
		return nil
	}
	a, err := a.Bedded()
	if err != nil {
		return err
	}
	req, stored, err := j.request(a)
	if err != nil {
		return err
	}
	corner, err := bed.One(&m.Machine, req, registration.Point{X: a.BackCorner.X.Sub(a.FaceCorner.X), Y: a.BackCorner.Y.Sub(a.FaceCorner.Y)})
	if err != nil {
		return err
	}
	q := j.Answer.Question
	q.At = &registration.Position{X: corner.X.Add(a.FaceZero.X), Y: corner.Y.Add(a.FaceZero.Y), Z: stored}
	if j.Answer, err = registration.Solve(q); err != nil {
		return err
	}
	j.Pairs = []*registration.Answer{j.Answer}
	return nil
}

// clearOf lays a job that says its own place on the bed: inside the travel and clear
// of what stands there.
func (j *Job) clearOf() error {
	a := j.Answer
	if a.Question.At == nil || !j.Machine.Known || !a.Machine || a.BackCorner == nil {
		return nil
	}
	switch j.Verb.Name {
	case "check": // which finds for itself what leaves the travel or enters a no-go area
		for _, back := range []bool{false, true} {
			if u := j.Machine.Under(j.Name(), a.Outline(back), a.Question.Unit); u != nil {
				return ask.No(j.Where("at"), fmt.Sprintf("the blank is over what stands at %s (%s)", u.Offset, u.For), "move it, or take that fixture off the bed and out of the machine file")
			}
		}
	case "prepare", "sheet", "pair":
		if err := j.place(); err != nil {
			return err
		}
		return j.pairUp()
	}
	return nil
}

// inPlace reports whether one blank is turned over at one station: its locators serve both
// sides, or pairs = 0 says so of two that the blank can't leave free at once.
func (j *Job) inPlace() bool {
	a := j.Answer
	return a.SamePlace() || j.Text("pairs") == "0" && a.Overlies()
}

// pairUp asks the question again at each pair of stations, and lays the piece in hand onto
// its locators there. The error says why it can't be asked at one: a locator's place was
// given, or can't be turned with its station.
func (j *Job) pairUp() error {
	a := j.Answer
	standing := func(s bed.Station) registration.Station {
		return registration.Station{Offset: s.Offset, Zero: s.Zero, Corner: s.Corner, Turn: s.Turn}
	}
	j.Pairs = nil
	for l := j.Layout.Stations; len(l) > 1; l = l[2:] {
		at := a
		if a.Question.At == nil || len(j.Pairs) > 0 {
			var err error
			if at, err = a.At(standing(l[0]), standing(l[1])); err != nil {
				return err
			}
		}
		j.Pairs = append(j.Pairs, at)
		w, h := at.LyingSize()
		l[0].Lay(at.FaceCorner, w, h)
		if at.BackCorner != nil {
			l[1].Lay(at.BackLies())
			l[1].Zero.X, l[1].Zero.Y = at.Second.X, at.Second.Y
		}
	}
	return nil
}

// jobSides are the flags and keys that name a job's programs.
var jobSides = []jobSide{
	{"face", "face"}, {"mirror", "mirrored"}, {"back", "as written"},
}

type jobSide struct{ flag, role string }

// sides gives the keys of a job's programs in the order in which the machine runs them:
// the face, then those of the back in the order in which the job file names them.
func (j *Job) sides() []jobSide {
	s := slices.Clone(jobSides)
	if j.Before("back", "mirror") {
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
