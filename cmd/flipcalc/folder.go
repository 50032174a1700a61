package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
)

// A set of files whose names flipcalc chose. Each is written whole beside its place, and
// only when all are do they take their places, with signals held. A record beside them
// has the check sum of each and the job that it is of. It is put there before the first
// rename, with the sums from before and those to come, and once more after the last with
// one sum each: so a run that is stopped in between is seen, and what it wrote is known.

// recordName is the name of the record in a folder.
const recordName = ".flipcalc.json"

// record says what flipcalc wrote into a folder.
type record struct {
	Files map[string]recorded `json:"files"`
}

// recorded is one file of a record.
type recorded struct {
	Sums []string `json:"sha256"` // what a run wrote; two where it was stopped before it was done
	Verb string   `json:"verb"`
	Job  owner    `json:"job"`
}

// owner is the job that a file is of.
type owner struct {
	Title    string     `json:"title,omitempty"`
	File     location   `json:"file"`
	Programs []location `json:"programs,omitempty"`
}

// location is a file by its path from the folder, and from the root: a folder that is moved
// keeps one of the two.
type location struct {
	Near string `json:"path,omitempty"`
	Full string `json:"whole_path,omitempty"`
}

func (p location) is(q location) bool { return p.Near == q.Near || p.Full == q.Full }

// locate gives the location of a file, seen from a folder.
func locate(dir, path string) location {
	if path == "" || path == "-" {
		return location{path, path}
	}
	full := resolved(path)
	near, err := filepath.Rel(resolved(dir), full)
	if err != nil {
		near = full
	}
	return location{filepath.ToSlash(near), full}
}

// resolved is a path from the root with its links followed, where it is there.
func resolved(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

// owner is the job of this run, seen from a folder.
func (c *call) owner(dir string) owner {
	o := owner{Title: c.Text("title"), File: locate(dir, c.JobFile)}
	programs := c.Programs()
	if !c.Verb.TakesJob() {
		programs = append(programs, c.Operands...)
	}
	for _, path := range programs {
		if p := locate(dir, path); !slices.Contains(o.Programs, p) {
			o.Programs = append(o.Programs, p)
		}
	}
	return o
}

// same reports whether two are one job: of one file, with a program in common where both
// have programs, and not under two titles.
func (o owner) same(p owner) bool {
	if o.Title != p.Title && o.Title != "" && p.Title != "" || !o.File.is(p.File) {
		return false
	}
	return len(o.Programs) == 0 || len(p.Programs) == 0 ||
		slices.ContainsFunc(o.Programs, func(a location) bool { return slices.ContainsFunc(p.Programs, a.is) })
}

// unlike says what tells a folder's job from p, the job of this run.
func (o owner) unlike(p owner, dir string) string {
	file := func(l location) string {
		if l.Near == "" || l.Near == "-" || filepath.IsAbs(l.Near) {
			return cmp.Or(l.Near, "none")
		}
		return filepath.Join(dir, l.Near)
	}
	switch {
	case !o.File.is(p.File):
		return fmt.Sprintf("its job file was %s, this one is %s", file(o.File), file(p.File))
	case o.Title != p.Title:
		return fmt.Sprintf("its title was %q, this one is %q", o.Title, p.Title)
	}
	return "of the same job file, yet none of its programs is in this one"
}

// readRecord reads the record of a folder; an empty one where there is none.
func readRecord(dir string) *record {
	r := &record{}
	path := filepath.Join(dir, recordName)
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		if text, err := os.ReadFile(path); err != nil || json.Unmarshal(text, r) != nil {
			r = &record{}
		}
	}
	if r.Files == nil {
		r.Files = map[string]recorded{}
	}
	return r
}

// stopped names the files of a run that was stopped before it was done.
func (r *record) stopped() (names []string) {
	for name, f := range r.Files {
		if len(f.Sums) > 1 {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// text is the record as it is written.
func (r *record) text() []byte {
	text, _ := json.MarshalIndent(r, "", "  ")
	return append(text, '\n')
}

// sumOf is the check sum of a file's content.
func sumOf(text []byte) string { return fmt.Sprintf("%x", sha256.Sum256(text)) }

// A set is files that go into a folder together.
type set struct {
	dir   string
	files []job.File
	named string // the one file whose name the maker gave: it is written over unasked
	loose bool   // files beside others: their folder isn't made
}

// put is a file of a set on its way to its place.
type put struct {
	job.File
	path, real string
	old        []byte // what stands there
	there      bool
	staged     *pending
}

// write writes a set, all of its files or none. What is there already and equal stays.
// It refuses to write over what isn't as an earlier run of this job wrote it.
func (c *call) write(s set) (out []change, err error) {
	if len(s.files) == 0 {
		return nil, nil
	}
	puts, err := s.look()
	if err != nil {
		return nil, err
	}
	before := readRecord(s.dir)
	if err := c.guard(s, puts, before); err != nil {
		return nil, err
	}
	if names := before.stopped(); len(names) > 0 {
		c.warning(fmt.Sprintf("%s: a run was stopped while it wrote %s: they are of two runs until they are written again", filepath.Clean(s.dir), strings.Join(names, ", ")))
	}
	for _, p := range puts {
		what := "new"
		switch {
		case p.there && bytes.Equal(p.old, p.Content):
			what = "as it was"
		case p.there:
			what = "changed"
		}
		out = append(out, change{p.path, what})
	}
	c.clearStrays(s.dir)
	if c.On("dry-run") {
		return out, nil
	}
	made := false
	if _, err := os.Stat(s.dir); errors.Is(err, os.ErrNotExist) && !s.loose {
		made = true
		if err := onDisk("make", s.dir); err != nil {
			return nil, ask.Wrong(s.dir, "can't write: "+unwrapped(err), "", "")
		}
		if err := os.MkdirAll(s.dir, 0o777); err != nil {
			return nil, err
		}
	}
	if err := c.commit(s, puts, before); err != nil {
		if made {
			remove(s.dir) // only if it is still empty
		}
		return nil, err
	}
	return out, nil
}

// writeProgram writes a verb's one program, to standard output or beside other files. named
// is its name where the maker may have one of that name written over.
func (c *call) writeProgram(out, named string, text []byte) ([]change, error) {
	fill := func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}
	if out == "-" {
		return nil, fill(c.out)
	}
	if _, regular, err := target(out); err == nil && !regular && !c.On("dry-run") {
		return nil, c.writeFile(out, fill)
	}
	return c.write(set{dir: filepath.Dir(out), files: []job.File{{Name: filepath.Base(out), Content: text}}, named: named, loose: true})
}

// look finds what stands where a set goes. A pipe or device there is refused, and not
// opened.
func (s set) look() (puts []*put, err error) {
	if info, err := os.Stat(s.dir); err == nil && !info.IsDir() {
		return nil, ask.Wrong(s.dir, "a file", "a folder", "")
	}
	if path := filepath.Join(s.dir, recordName); notFile(path) {
		return nil, ask.Wrong(path, "a device, pipe or folder", "a file", "")
	}
	for _, f := range s.files {
		p := &put{File: f, path: filepath.Join(s.dir, f.Name)}
		var regular bool
		if p.real, regular, err = target(p.path); err != nil {
			return nil, err
		}
		if !regular {
			return nil, ask.Wrong(p.path, "a device or pipe", "a file", "")
		}
		switch p.old, err = os.ReadFile(p.real); {
		case err == nil:
			p.there = true
		case !errors.Is(err, os.ErrNotExist):
			return nil, err
		}
		puts = append(puts, p)
	}
	return puts, nil
}

// notFile reports whether something stands at a path that is no file.
func notFile(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && !info.Mode().IsRegular()
}

// guard refuses to write over an input of the run, a file that was changed by hand (such
// as the offsets with the correction of a test cut in them), a file of another job, and
// one of somebody's own.
func (c *call) guard(s set, puts []*put, before *record) error {
	owner := c.owner(s.dir)
	for _, p := range puts {
		if !p.there || bytes.Equal(p.old, p.Content) {
			continue
		}
		if err := c.overInput("-o", p.path); err != nil {
			return err
		}
		if p.Name == s.named {
			continue
		}
		was, ours := before.Files[p.Name]
		another := "another folder with -o"
		if s.loose {
			another = "another name"
		}
		switch {
		case !ours:
			return ask.Wrong("-o", p.path+" was not written by an earlier run", "a folder in which nothing is overwritten",
				"give "+another+", or rename that file if it may stay, or delete it")
		case len(was.Sums) == 1 && !was.Job.same(owner):
			return ask.Wrong("-o", filepath.Clean(s.dir)+" holds the files of another job: "+was.Job.unlike(owner, s.dir), "a folder of this job's own",
				"its programs would be replaced by others of the same names: give "+another+", or remove or rename that one")
		case !slices.Contains(was.Sums, sumOf(p.old)):
			return ask.Wrong("-o", p.path+" was changed by hand since it was written", "it as the last run left it",
				"writing it anew would lose the change, such as a corrected zero: put that into the job as corrections and delete the file, or rename it to keep it")
		}
	}
	return nil
}

// commit writes what differs beside its place, then lets all of it take its places with
// signals held, between two records. Where one of these fails, what stood there before
// comes back.
func (c *call) commit(s set, puts []*put, before *record) (err error) {
	var staged []*put
	defer func() {
		for _, p := range staged {
			p.staged.discard()
		}
	}()
	add := func(p *put) error {
		var err error
		p.staged, err = stage(p.path, p.real, func(w io.Writer) error { _, err := w.Write(p.Content); return err })
		if err == nil {
			staged = append(staged, p)
		}
		return err
	}
	during, after := &record{map[string]recorded{}}, &record{map[string]recorded{}}
	for name, f := range before.Files {
		if _, err := os.Lstat(filepath.Join(s.dir, name)); err == nil {
			during.Files[name], after.Files[name] = f, f
		}
	}
	owner := c.owner(s.dir)
	for _, p := range puts {
		f := recorded{[]string{sumOf(p.Content)}, c.Verb.Name, owner}
		after.Files[p.Name], during.Files[p.Name] = f, f
		if p.there && bytes.Equal(p.old, p.Content) {
			continue
		}
		was := ""
		if p.there {
			was = sumOf(p.old)
		}
		f.Sums = []string{was, f.Sums[0]}
		during.Files[p.Name] = f
		if err := add(p); err != nil {
			return err
		}
	}
	files := slices.Clone(staged)
	path := filepath.Join(s.dir, recordName)
	old, err := os.ReadFile(path)
	there := err == nil
	begins := &put{job.File{Name: recordName, Content: during.text()}, path, path, old, there, nil}
	ends := &put{job.File{Name: recordName, Content: after.text()}, path, path, old, there, nil}
	if len(files) == 0 && there && bytes.Equal(old, ends.Content) {
		return nil
	}
	if err := add(begins); err != nil {
		return err
	}
	if err := add(ends); err != nil {
		return err
	}
	renames.Lock()
	defer renames.Unlock()
	order := append(append([]*put{begins}, files...), ends)
	for i, p := range order {
		if p == ends || i == 1 {
			syncFolder(s.dir)
		}
		if err := p.staged.place(); err != nil {
			return takeBack(order[:i], err)
		}
	}
	syncFolder(s.dir)
	c.written = true
	return nil
}

// syncFolder sees that what was renamed in a folder stays so when the power goes. Systems
// that can't do it go without.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}

// takeBack restores what stood where files were put already, the last first, after err.
func takeBack(done []*put, err error) error {
	for _, p := range slices.Backward(done) {
		var e error
		if p.there {
			var back *pending
			back, e = stage(p.path, p.real, func(w io.Writer) error { _, err := w.Write(p.old); return err })
			if e == nil {
				e = back.place()
				back.discard()
			}
		} else {
			e = remove(p.real)
		}
		err = errors.Join(err, e)
	}
	return err
}

// leftOver names the programs of earlier runs of the verb that this run doesn't write.
// They stay, since nothing is deleted.
func (c *call) leftOver(dir string, files []job.File) []string {
	var left []string
	for name, f := range readRecord(dir).Files {
		if f.Verb != c.Verb.Name || slices.Contains(sheetFiles, name) || slices.ContainsFunc(files, func(f job.File) bool { return f.Name == name }) {
			continue
		}
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			left = append(left, name)
		}
	}
	slices.Sort(left)
	return left
}
