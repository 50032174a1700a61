package job

import (
	"bytes"
	"cmp"
	"crypto/sha256"
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
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report"
	"flipcalc/report/words"
)

// addPrograms mirrors and proves every program of the job for every pair.
func (j *Job) addPrograms() error {
	for i := range j.Pairs {
		prefix := ""
		if len(j.Pairs) > 1 {
			prefix = fmt.Sprintf("pair%d-", i+1)
		}
		for _, side := range j.sides() {
			for _, path := range j.Texts(side.flag) {
				if err := j.addProgram(i, path, prefix+outName(path, side.flag), side.role); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// blankFrom is the blank from one of its zeros, least corner first.
func blankFrom(a *registration.Answer, zero registration.Point) *[2][2]decimal.Decimal {
	return &[2][2]decimal.Decimal{{zero.X.Neg(), zero.Y.Neg()}, {a.Used.W.Sub(zero.X), a.Used.H.Sub(zero.Y)}}
}

// topFrom is the top of a blank from the level of one of its zeros.
func topFrom(zero registration.ZZero, thick decimal.Decimal) *decimal.Decimal {
	if zero != registration.Bed {
		thick = decimal.Zero
	}
	return &thick
}

// topOf is the top of the blank from a side's own zero, before that side is cut.
func topOf(a *registration.Answer, back bool) *decimal.Decimal {
	thick := a.Uncut()
	if back {
		thick = a.Used.T
	}
	return topFrom(a.Question.ZLevel(back), thick)
}

// addProgram rewrites one program for its station, proved, and adds it to the job.
func (j *Job) addProgram(pair int, path, name, role string) error {
	a, back := j.Pairs[pair], role != "face"
	if slices.ContainsFunc(j.Files, func(f File) bool { return strings.EqualFold(f.Name, name) }) {
		return ask.Wrong(j.Where("mirror"), "two programs would be written as "+name, "programs of different names", "")
	}
	m, err := j.mirroring(a, path, role)
	if err != nil {
		return err
	}
	m.Direct = true
	var written mirror.Spool
	if err := m.Write(&written); err != nil {
		return err
	}
	o, r := m.options, m.done
	if w, u := r.Written, a.Question.Unit; w.Step(u).GreaterThan(j.turned[path].Step(u)) {
		j.turned[path] = w
	}
	run := toRun{pair: pair, back: back, name: name, source: o.Name, content: written.Content(),
		lines: func(n int) int { return j.sourceLine(path, r.SourceLine(n)) }}
	j.runs = append(j.runs, run)
	if pair == 0 {
		j.units = append(j.units, unitNotes(o.Name, &r.Before, a, j.Verb.Name != "check")...)
		j.units = append(j.units, j.settingNotes(o.Name, &r.Before, o.Top, func(n int) int { return j.sourceLine(path, n) })...)
	}
	switch {
	case back && a.ToTouch(): // it is written once the blank was touched
		return nil
	case j.Verb.Name == "check": // which writes nothing
		j.Files = append(j.Files, File{Name: name})
		return nil
	}
	return j.addWritten(a, run, path, role, o.BackOffset, r)
}

// addWritten adds a program that was rewritten to the files, and to the report.
func (j *Job) addWritten(a *registration.Answer, run toRun, path, role, offset string, r *mirror.Report) error {
	text, err := io.ReadAll(again(run.content))
	if err != nil {
		return err
	}
	p := j.addFile(run.name, role, path, offset, text)
	p.Blocks, p.Moves = r.Blocks, r.Moves
	p.TakeMoves(&r.After, a.Question.Unit)
	for _, t := range r.After.Tools {
		if t.Number >= 0 {
			p.Tools = append(p.Tools, t.Number)
		}
	}
	if p.Stints, err = motion.Stints(bytes.NewReader(text), j.reading(run.name)); err != nil {
		return err
	}
	res := j.rewritten(a, path, run.name, run.back, r)
	if role == "mirrored" {
		j.Setup.Mirrors = append(j.Setup.Mirrors, res)
		return nil
	}
	for i, n := range res.Notes {
		o, other := n.Is.(mirror.OtherOffset)
		if !other || role != "face" {
			continue
		}
		o.Own = &mirror.Own{}
		for _, u := range j.Machine.InUse {
			if u.Offset == o.Offset {
				o.Own.For = u.For
			}
		}
		res.Notes[i].Is = o
	}
	j.Setup.Notes = append(j.Setup.Notes, res.Notes...)
	return nil
}

// rewritten is what there is to tell of a program that was rewritten; to is where it went.
func (j *Job) rewritten(a *registration.Answer, path, to string, back bool, r *mirror.Report, more ...report.Note) report.Mirrored {
	name := shownInput(path)
	out := report.MirroredOf(name, to, r, a.Question.Unit)
	out.StartOn(a, back)
	out.WrittenOut = j.plain[path] != nil || r.Written != nil
	out.Notes = j.macroNotes(path, name, append(out.Notes, more...))
	return out
}

// addFile adds a program to the files, and to the report, where more can be said of it.
func (j *Job) addFile(name, role, from, offset string, content []byte) *report.Program {
	j.Files = append(j.Files, File{name, content})
	if from != "" {
		from = filepath.Base(from)
	}
	j.Setup.Programs = append(j.Setup.Programs, report.Program{Name: name, Role: role, From: from, Offset: offset,
		Bytes: int64(len(content)), SHA256: fmt.Sprintf("%x", sha256.Sum256(content))})
	return &j.Setup.Programs[len(j.Setup.Programs)-1]
}

// Mirroring is one program on its way to the station where it is cut.
type Mirroring struct {
	Unit   transform.Unit
	Direct bool // what is written is seen by nobody before it is proved

	job     *Job
	path    string
	in      io.Reader
	options mirror.Options
	done    *mirror.Report
}

// Mirror makes a program ready to be mirrored.
func (j *Job) Mirror(path string) (*Mirroring, error) {
	if err := j.find(); err != nil {
		return nil, err
	}
	for _, written := range j.Texts("back") {
		if path != "-" && SameFile(path, written) {
			return nil, ask.Wrong(path, "a program that the job runs on the back as written", "a program to be mirrored",
				fmt.Sprintf("lettering would be mirror writing; if it must be: flipcalc mirror - ‹job %s› < %s", j.JobFile, path))
		}
	}
	return j.mirroring(j.Answer, path, "mirrored")
}

// mirroring makes a program of a role ready for the station of an answer.
func (j *Job) mirroring(a *registration.Answer, path, role string) (*Mirroring, error) {
	o, err := j.mirrorOptions(a, role)
	if err != nil {
		return nil, err
	}
	o.Name, o.Comment = shownInput(path), j.comment(words.ProgramComment(path, role, a))
	in, _, err := j.open(path)
	return &Mirroring{Unit: a.Question.Unit, job: j, path: path, in: in, options: o}, err
}

// Write writes the program for its station, proved.
func (r *Mirroring) Write(w io.Writer) (err error) {
	var size int64
	if info, err := os.Stat(r.path); err == nil && r.path != "-" {
		size = info.Size()
	}
	tick, done := r.job.Ticks(r.options.Name, size)
	defer done()
	r.options.Progress, r.options.Direct = tick, r.Direct
	if r.done, err = mirror.Mirror(r.in, w, r.options); err != nil {
		return r.lathe(r.job.ofSource(r.path, r.options.Name, err))
	}
	return nil
}

// lathe says first that a refused program is a lathe's, where several signs of one stand
// together in it.
func (r *Mirroring) lathe(err error) error {
	var f *fault.Error
	text := r.job.kept[r.path]
	if text == nil || !errors.As(err, &f) {
		return err
	}
	begin, _ := io.ReadAll(io.LimitReader(again(text), 1<<20))
	signs := mirror.LatheSigns(begin)
	if signs == nil {
		return err
	}
	said := *f
	said.Found = "a lathe program (" + strings.Join(signs, ", ") + "), at " + f.Found
	return &said
}

// Result is what there is to tell of the program that was written; to is where it went.
func (r *Mirroring) Result(to string) report.Mirrored {
	notes := unitNotes(r.options.Name, &r.done.Before, r.job.Answer, true)
	notes = append(notes, r.job.settingNotes(r.options.Name, &r.done.Before, r.options.Top, func(n int) int { return n })...)
	notes = append(notes, r.job.offsetNotes(&r.options, r.done.Called)...)
	return r.job.rewritten(r.job.Answer, r.path, to, true, r.done, notes...)
}

// offsetNotes says that a mirrored program runs in the face's offset where nothing was
// said of the back's: it would be cut about the face's zero.
func (j *Job) offsetNotes(o *mirror.Options, called []string) []report.Note {
	if o.BackOffset != "" || o.KeepOffset {
		return nil
	}
	if len(o.OffsetMap) > 0 {
		// Only those that map leaves as they are.
		called = slices.DeleteFunc(slices.Clone(called), func(name string) bool { return o.OffsetMap[name] != name })
		if len(called) == 0 {
			return nil
		}
	}
	taken := append(append(slices.Clone(called), o.FaceOffset), j.Machine.Taken(j.Name())...)
	cure := j.Spelt("‹back-offset›")
	if free := registration.FirstFree(j.Machine.Extended, taken...); free != "" {
		cure = j.Spelt(fmt.Sprintf("‹back-offset %s›", free))
	}
	return []report.Note{{Level: fact.Caution, File: o.Name, Is: words.FaceOffset{Called: called, Key: cure}}}
}

// through says how a program is rewritten through a map, no matter for which side.
func (j *Job) through(name string, m transform.Map) mirror.Options {
	read := j.reading(name)
	return mirror.Options{Name: name, Map: m, Unit: read.Unit, AbsoluteCentres: read.AbsoluteCentres, Inert: read.Inert, ArcTolerance: j.arcTolerance()}
}

// mirrorOptions says how a program of a role is rewritten for the station of an answer.
func (j *Job) mirrorOptions(a *registration.Answer, role string) (mirror.Options, error) {
	o := j.through("", a.Transform)
	o.KeepOffset, o.Stream = j.On("keep-offset"), j.On("stream")
	o.Blank, o.Top = blankFrom(a, a.FaceZero), topFrom(a.Question.ZZero, a.Used.T)
	o.Rates, _ = rates(j.Machine)
	o.FaceOffset = a.Question.Offset
	if a.Second != nil {
		o.BackOffset = a.Second.Offset
		o.ZerosDiffer = true
	} else if j.Given("back-offset") {
		o.BackOffset = cmp.Or(a.Question.BackOffset, j.Text("back-offset"))
	}
	if err := j.mapOffsets(&o); err != nil {
		return o, err
	}
	o.FaceOffset = j.Pairs[0].Question.Offset // in which the maker's programs are written
	switch role {
	case "mirrored":
		o.ReverseCuts = j.On("reverse-cuts")
	case "face":
		o.BackOffset, o.ZerosDiffer = a.Question.Offset, false
		o.Top = topOf(a, false)
		o.Map = transform.Identity(a.Question.Unit).Turned(a.FaceTurn.Degrees())
	default: // written in the back's own coordinates
		o.Map = transform.Identity(a.Question.Unit).Turned(a.BackTurn)
		o.Blank, o.Top = blankFrom(a, a.BackZero), topOf(a, true)
	}
	return o, nil
}

// mapOffsets adds which offset takes the place of which.
func (j *Job) mapOffsets(o *mirror.Options) error {
	m, where := j.Machine, j.Where("map")
	more := func(name string) bool { return transform.ReadOffset(name) > transform.MoreOffsets }
	for _, w := range ask.Values[ask.Swap](j.Ask, "map") {
		if !more(w.From) {
			if err := registration.Usable(w.From, m.Extended, "", nil); err != nil {
				return fault.About(err, where)
			}
		}
		if w.To == o.FaceOffset && o.ZerosDiffer {
			return ask.Wrong(where, w.From+"="+w.To+", the face's offset", "another, since the back's zero differs", "")
		}
		if !more(w.To) {
			if err := m.Usable(j.Name(), w.To); err != nil {
				return fault.About(err, where)
			}
		}
		if to, had := o.OffsetMap[w.From]; had {
			return ask.Wrong(where, w.From+"="+w.To+" after "+w.From+"="+to, "each offset once", "")
		}
		if o.OffsetMap == nil {
			o.OffsetMap = map[string]string{}
		}
		o.OffsetMap[w.From] = w.To
	}
	return nil
}
