package main

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
	"time"

	"github.com/shopspring/decimal"
	"golang.org/x/term"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report"
)

func runMirror(c *call) error {
	m, a, err := c.answer()
	if err != nil {
		return err
	}
	out := c.Text("output")
	if out == "" {
		out = "-"
	}
	if c.On("json") && out == "-" && !c.On("dry-run") {
		return ask.Wrong("--json", "the program and the JSON both go to standard output", "", "write the program to a file with -o FILE")
	}
	if c.On("stream") && out != "-" {
		return ask.Wrong("--stream", "-o "+out, "-o -", "a file is written whole or not at all, so there is nothing to stream")
	}
	o, err := c.mirrorOptions(a, m)
	if err != nil {
		return err
	}
	path := c.Operands[0]
	for _, written := range c.Texts("back") {
		if path != "-" && sameFile(path, written) {
			return ask.Wrong(path, "a program that the job runs on the back as written", "a program to be mirrored",
				"lettering would be mirror writing; if it must be: flipcalc mirror - --job "+c.JobFile+" < "+path)
		}
	}
	in, name, err := c.open(path)
	if err != nil {
		return err
	}
	o.Name = name
	o.Comment = mirrorComment(path, a)
	if c.On("bare") {
		o.Comment = ""
	}
	var size int64
	if info, err := os.Stat(path); err == nil && path != "-" {
		size = info.Size()
	}
	tick, done := c.ticks(name, size)
	defer done()
	o.Progress = tick
	// A regular file is written beside its target and renamed, so nothing unproved
	// is ever seen and no second copy is needed.
	if out != "-" {
		_, regular, err := target(out)
		o.Direct = err == nil && regular
	}
	var r *mirror.Report
	work := func(w io.Writer) (err error) {
		r, err = mirror.Mirror(in, w, o)
		return err
	}
	switch {
	case c.On("dry-run"):
		o.Direct = true
		err = work(io.Discard)
	case out == "-":
		err = work(c.out)
	default:
		err = c.writeFile(out, work)
	}
	done()
	if err != nil {
		return lathe(path, c.ofSource(path, name, err))
	}
	shown := out
	if out == "-" {
		shown = "standard output"
	}
	result := report.MirroredOf(name, shown, r, a.Question.Unit)
	result.StartOn(a, true)
	result.WrittenOut = c.plain[path] != nil || r.Written != nil
	result.Notes = append(result.Notes, unitNotes(name, &r.Before, a, true)...)
	result.Notes = append(result.Notes, c.offsetNotes(name, &o, m, r.Called)...)
	result.Notes = c.macroNotes(path, name, result.Notes)
	if c.On("json") {
		return report.MirrorJSON(c.out, result)
	}
	if c.On("bare") {
		c.cautions()
	}
	s := report.Setup{Unit: a.Question.Unit, Mirrors: []report.Mirrored{result}}
	if c.On("quiet") {
		return c.quietly(s, "")
	}
	to := c.out
	if out == "-" {
		to = c.err
	}
	return report.Terminal(to, s, c.shows(to))
}

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
func (c *call) offsetNotes(name string, o *mirror.Options, m *ask.Machine, called []string) []report.Note {
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
	taken := append(append(slices.Clone(called), o.FaceOffset), m.Taken(c.jobName())...)
	cure := "--back-offset"
	if free := registration.FirstFree(m.Extended, taken...); free != "" {
		cure += " " + free
	}
	return []report.Note{{Code: "face-offset", Level: "caution", File: name, Text: text + "; set the back's with " + cure + " or map"}}
}

// cautions prints to standard error what a bare program doesn't say itself.
func (c *call) cautions() {
	for _, t := range report.ProgramCautions() {
		fmt.Fprintln(c.err, "flipcalc: caution: "+t)
	}
}

// mirrorOptions says how a program of the job is mirrored for the back.
func (c *call) mirrorOptions(a *registration.Answer, m *ask.Machine) (mirror.Options, error) {
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
			if err := m.Usable(c.jobName(), to); err != nil {
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

// arcTolerance gives the largest difference of an arc's two radii, in mm; 0 where
// none is said.
func (c *call) arcTolerance() (decimal.Decimal, error) {
	r := c.NewReader()
	var d decimal.Decimal
	ask.Read(r, "arc-tolerance", ask.In(r, ask.ParseFigure), &d)
	mm, _ := transform.Convert(d, r.Unit, transform.MM, 12)
	return mm, r.Err
}

// inert gives the M codes that move no axis, as the flag or the machine file says.
func (c *call) inert() ([]int, error) {
	if c.Given("inert") {
		return ask.ParseInert(c.Text("inert"))
	}
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	return m.Inert, nil
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

// progress shows on a terminal how much of a program has been read.
func (c *call) progress(in io.Reader, name string, size int64) (io.Reader, func()) {
	tick, done := c.ticks(name, size)
	if tick == nil {
		return in, done
	}
	return &ticking{in: in, tick: tick}, done
}

// ticking tells how much was read.
type ticking struct {
	in   io.Reader
	n    int64
	tick func(int64)
}

func (t *ticking) Read(b []byte) (int, error) {
	n, err := t.in.Read(b)
	t.n += int64(n)
	t.tick(t.n)
	return n, err
}

// ticks shows on a terminal, after half a second, how many bytes have been read; size is
// 0 where it isn't known. tick is nil where nothing is shown.
func (c *call) ticks(name string, size int64) (tick func(int64), done func()) {
	f, ok := c.err.(*os.File)
	if !ok || c.On("quiet") || !term.IsTerminal(int(f.Fd())) {
		return nil, func() {}
	}
	start, last := time.Now(), time.Now()
	shown := false
	tick = func(n int64) {
		if time.Since(start) < 500*time.Millisecond || time.Since(last) < 100*time.Millisecond {
			return
		}
		last, shown = time.Now(), true
		if size > 0 {
			fmt.Fprintf(f, "\r\x1b[K%s: %d of %d MB", filepath.Base(name), n/1e6, size/1e6)
		} else {
			fmt.Fprintf(f, "\r\x1b[K%d MB", n/1e6)
		}
	}
	return tick, func() {
		if shown {
			fmt.Fprint(f, "\r\x1b[K")
			shown = false
		}
	}
}
