package job

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report"
)

// latheSigns are what turning programs hold and milling programs each seldom do; two of
// them together tell a lathe's.
var latheSigns = []struct {
	says string
	in   *regexp.Regexp
}{

	{"G50 S", regexp.MustCompile(`(?m)G50[^\n]*S[0-9]`)},
	{"G96", regexp.MustCompile(`G96([^0-9.]|$)`)},
	{"G99 without a cycle", regexp.MustCompile(`(?m)^[N0-9 ]*G99\s*$`)},
	{"G28 U", regexp.MustCompile(`(?m)G28[^\n]*U[-+0-9.]`)},
	{"a tool as T0101", regexp.MustCompile(`T[0-9]{4}([^0-9]|$)`)},
}

// lathe says first that a refused program is a lathe's, where several signs of one stand
// together in it.
func lathe(path string, err error) error {
	var f *fault.Error
	if path == "-" || !errors.As(err, &f) {
		return err
	}
	info, unread := os.Stat(path)
	if unread != nil || !info.Mode().IsRegular() {
		return err
	}
	file, unread := os.Open(path)
	if unread != nil {
		return err
	}
	defer file.Close()
	text, _ := io.ReadAll(io.LimitReader(file, 1<<20))
	text = bytes.ToUpper(noteInProgram.ReplaceAll(text, nil))
	var signs []string
	for _, s := range latheSigns {
		if s.in.Match(text) {
			signs = append(signs, s.says)
		}
	}
	if len(signs) < 2 {
		return err
	}
	said := *f
	said.Found = "a lathe program (" + strings.Join(signs, ", ") + "), at " + f.Found
	return &said
}

// noteInProgram is a comment in a program.
var noteInProgram = regexp.MustCompile(`\([^)\n]*\)`)

// offsetNotes says that a mirrored program runs in the face's offset where nothing was
// said of the back's: it would be cut about the face's zero.
func (c *Task) offsetNotes(name string, o *mirror.Options, m *ask.Machine, called []string) []report.Note {
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
	text := "still calls " + strings.Join(called, ", ") + ", as the face does"
	if len(called) == 0 {
		text = "calls no offset: it runs in the active one"
	}
	taken := append(append(slices.Clone(called), o.FaceOffset), m.Taken(c.JobName())...)
	cure := "--back-offset"
	if free := registration.FirstFree(m.Extended, taken...); free != "" {
		cure += " " + free
	}
	return []report.Note{{Code: "face-offset", Level: "caution", File: name, Text: text + "; set the back's with " + cure + " or map"}}
}

// mirrorOptions says how a program of the job is mirrored for the back.
func (c *Task) mirrorOptions(a *registration.Answer, m *ask.Machine) (mirror.Options, error) {
	read, err := c.motionOptions("")
	o := mirror.Options{
		Map:             a.Transform,
		Unit:            a.Question.Unit,
		AbsoluteCentres: read.AbsoluteCentres,
		Inert:           read.Inert,
		KeepOffset:      c.On("keep-offset"),
		ReverseCuts:     c.On("reverse-cuts"),
		Stream:          c.On("stream"),
	}
	if err != nil {
		return o, err
	}
	if o.ArcTolerance, err = c.arcTolerance(); err != nil {
		return o, err
	}
	o.Rates, _ = rates(m)
	corner := a.FaceZero
	o.Blank = &[2][2]decimal.Decimal{
		{corner.X.Neg(), corner.Y.Neg()},
		{a.Used.W.Sub(corner.X), a.Used.H.Sub(corner.Y)},
	}
	o.Top = new(decimal.Decimal)
	if a.Question.ZZero == registration.Bed {
		o.Top = &a.Used.T
	}
	if a.Second != nil {
		o.BackOffset = a.Second.Offset
		o.ZerosDiffer = true
	} else if c.Given("back-offset") {
		o.BackOffset = cmp.Or(a.Question.BackOffset, c.Text("back-offset"))
	}
	o.FaceOffset = a.Question.Offset
	for _, s := range c.Texts("map") {
		from, to, _ := strings.Cut(strings.ToUpper(s), "=")
		extended := false // the last of the two, to
		for _, name := range []*string{&from, &to} {
			code := transform.ReadOffset(*name)
			if code == 0 {
				return o, ask.Wrong(c.Where("map"), s, "two offsets, such as G54=G56", "")
			}
			*name = transform.OffsetName(code)
			if extended = code > transform.MoreOffsets; extended {
				continue
			}
			if err := registration.Usable(*name, m.Extended, "", nil); err != nil {
				return o, fault.About(err, c.Where("map"))
			}
		}
		if to == o.FaceOffset && o.ZerosDiffer {
			return o, ask.Wrong(c.Where("map"), s+", the face's offset", "another, since the back's zero differs", "")
		}
		if !extended {
			if err := m.Usable(c.JobName(), to); err != nil {
				return o, fault.About(err, c.Where("map"))
			}
		}
		if o.OffsetMap == nil {
			o.OffsetMap = map[string]string{}
		}
		o.OffsetMap[from] = to
	}
	return o, nil
}

// mirrorComment is the one comment line that a mirrored program gets.
func mirrorComment(path string, a *registration.Answer) string {
	name := filepath.Base(path)
	if path == "-" {
		name = "standard input"
	}
	formula := a.Transform.X.Formula("x")
	switch {
	case !a.BackTurn.IsZero():
		formula = a.Transform.String()
	case a.Question.Flip == registration.FlipX:
		formula = a.Transform.Y.Formula("y")
	}
	return fmt.Sprintf("back of %s, flip %s, %s, dry run above the work first", name, a.Question.Flip, formula)
}

// Mirroring is one program on its way to be mirrored for the back.
type Mirroring struct {
	Unit   transform.Unit
	Direct bool // what is written is seen by nobody before it is proved

	task       *Task
	machine    *ask.Machine
	answer     *registration.Answer
	path, name string
	in         io.Reader
	options    mirror.Options
	done       *mirror.Report
}

// Mirror makes a program ready to be mirrored.
func (c *Task) Mirror(path string) (*Mirroring, error) {
	m, a, err := c.answer()
	if err != nil {
		return nil, err
	}
	r := &Mirroring{Unit: a.Question.Unit, task: c, machine: m, answer: a, path: path}
	if r.options, err = c.mirrorOptions(a, m); err != nil {
		return nil, err
	}
	for _, written := range c.Texts("back") {
		if path != "-" && SameFile(path, written) {
			return nil, ask.Wrong(path, "a program that the job runs on the back as written", "a program to be mirrored",
				"lettering would be mirror writing; if it must be: flipcalc mirror - --job "+c.JobFile+" < "+path)
		}
	}
	r.in, r.name, err = c.open(path)
	r.options.Name = r.name
	if !c.On("bare") {
		r.options.Comment = mirrorComment(path, a)
	}
	return r, err
}

// Write writes the mirrored program, proved.
func (r *Mirroring) Write(w io.Writer) (err error) {
	var size int64
	if info, err := os.Stat(r.path); err == nil && r.path != "-" {
		size = info.Size()
	}
	tick, done := r.task.Ticks(r.name, size)
	defer done()
	r.options.Progress, r.options.Direct = tick, r.Direct
	r.done, err = mirror.Mirror(r.in, w, r.options)
	if err != nil {
		return lathe(r.path, r.task.ofSource(r.path, r.name, err))
	}
	return nil
}

// Result is what there is to tell of the program that was written; to is where it went.
func (r *Mirroring) Result(to string) report.Mirrored {
	c, a := r.task, r.answer
	out := report.MirroredOf(r.name, to, r.done, r.Unit)
	out.StartOn(a, true)
	out.WrittenOut = c.plain[r.path] != nil || r.done.Written != nil
	out.Notes = append(out.Notes, unitNotes(r.name, &r.done.Before, a, true)...)
	out.Notes = append(out.Notes, c.offsetNotes(r.name, &r.options, r.machine, r.done.Called)...)
	out.Notes = c.macroNotes(r.path, r.name, out.Notes)
	return out
}
