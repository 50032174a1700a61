package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/report"
)

var prepareVerb = &verb{
	name: "prepare", operands: "JOB", least: 1, most: 1,
	does: "works out a whole job and writes every file of it into one folder",
	run:  runPrepare,
	examples: []example{
		{"the job of the row markers", "flipcalc prepare testdata/orchard/job.toml -o out"},
		{"what it would write, without writing it", "flipcalc prepare job.toml -o out --dry-run"},
		{"with a blank that was measured", "flipcalc prepare job.toml --measured 119.8x80.1x12.2 -o out"},
	},
}

func runPrepare(c *call) error {
	dir := c.text("output")
	if dir == "" && !c.on("dry-run") {
		return wrong("-o", "no folder for the files", "-o FOLDER", "it is made where it isn't there, and nothing else in it is touched")
	}
	if dir == "-" {
		return wrong("-o", "-", "a folder", "prepare writes several files")
	}
	j, err := c.work()
	if err != nil {
		return err
	}
	if !j.setup.Check.OK() {
		return c.refuse(j)
	}
	if err := j.addSheets(); err != nil {
		return err
	}
	if err := c.ownProgram(dir, j.files); err != nil {
		return err
	}
	if err := guard(dir, &j.setup, j.files); err != nil {
		return err
	}
	left := leftOver(dir, j.files)
	changes, err := putFolder(dir, j.files, c.on("dry-run"))
	if err != nil {
		return err
	}
	if c.on("json") {
		return report.JSON(c.out, j.setup)
	}
	var list strings.Builder
	for _, ch := range changes {
		fmt.Fprintf(&list, "  %-24s %s\n", filepath.Base(ch.path), ch.what)
	}
	const stale = "of an earlier run, no longer of this job: don't run it"
	if c.on("quiet") {
		for _, name := range left {
			j.setup.Notes = append(j.setup.Notes, report.Note{Level: "warning", File: filepath.Join(dir, name), Text: stale})
		}
		return c.quietly(j.setup, list.String())
	}
	for _, name := range left {
		fmt.Fprintf(&list, "  %-24s %s\n", name, stale)
	}
	verb := "Files"
	if c.on("dry-run") {
		verb = "Files that would be written"
	}
	if err := report.Terminal(c.out, j.setup, c.terminal()); err != nil {
		return err
	}
	return printAll(c.out, fmt.Sprintf("\n%s in %s:\n%s", verb, filepath.Clean(dir), list.String()))
}

// ownProgram refuses a folder in which the maker's own programs would be overwritten.
func (c *call) ownProgram(dir string, files []outFile) error {
	for _, side := range jobSides {
		for _, path := range c.texts(side.flag) {
			for _, f := range files {
				if to := filepath.Join(dir, f.name); path != "-" && sameFile(path, to) {
					return wrong("-o", to+" is one of the job's own programs", "another folder, such as -o out", "it would be overwritten, and the next run would begin from the result")
				}
			}
		}
	}
	return nil
}

// earlierProgram is what the sheet of an earlier run says of a program.
type earlierProgram struct {
	Name string `json:"name"`
	Sum  string `json:"sha256"`
}

// earlierRun is what the sheet of an earlier run says, as it lies in the folder.
type earlierRun struct {
	Schema   int              `json:"schema"`
	Title    string           `json:"title"`
	Programs []earlierProgram `json:"programs"`
}

// earlier gives the earlier run whose files lie in the folder, by its sheet; nil if none.
func earlier(dir string) *earlierRun {
	data, err := os.ReadFile(filepath.Join(dir, "sheet.json"))
	if err != nil {
		return nil
	}
	old := &earlierRun{}
	if json.Unmarshal(data, old) != nil || old.Schema == 0 {
		return nil
	}
	return old
}

// sum gives what the earlier run wrote under a name; "" where it wrote no such program.
func (r *earlierRun) sum(name string) string {
	if r != nil {
		for _, p := range r.Programs {
			if p.Name == name {
				return p.Sum
			}
		}
	}
	return ""
}

// sheetFiles are the files of a run that its sheet gives no sum of.
var sheetFiles = []string{"check.png", "index.html", "sheet.txt", "sheet.md", "sheet.json"}

// guard refuses to write over what isn't as an earlier run of this job wrote it: a
// program that was changed by hand, such as the offsets with the correction of a test
// cut in them, files of another job, and files of somebody's own.
func guard(dir string, setup *report.Setup, files []outFile) error {
	old := earlier(dir)
	another := old != nil && filepath.Base(old.Title) != filepath.Base(setup.Name()) // without a title a job has its file's name
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		text, err := os.ReadFile(path)
		if err != nil || bytes.Equal(text, f.content) {
			continue
		}
		was := old.sum(f.name)
		switch {
		case another:
			return wrong("-o", fmt.Sprintf("%s holds the files of another job, %q", filepath.Clean(dir), old.Title), "a folder of this job's own",
				"its programs would be replaced by others of the same names: give another folder, or rename that one")
		case was == "" && (old == nil || !slices.Contains(sheetFiles, f.name)):
			return wrong("-o", path+" was not written by an earlier run", "a folder in which nothing is overwritten",
				"give another folder, or rename that file if it may stay, or delete it")
		case was != "" && fmt.Sprintf("%x", sha256.Sum256(text)) != was:
			return wrong("-o", path+" was changed by hand since it was written", "it as the last run left it",
				"writing it anew would lose the change, such as a corrected zero: rename it to keep it, or delete it")
		}
	}
	return nil
}

// leftOver names the programs of an earlier run that this run doesn't write. They
// stay, since nothing is deleted.
func leftOver(dir string, files []outFile) []string {
	var left []string
	old := earlier(dir)
	if old == nil {
		return nil
	}
	for _, p := range old.Programs {
		name := filepath.Base(p.Name)
		if slices.ContainsFunc(files, func(f outFile) bool { return f.name == name }) {
			continue
		}
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			left = append(left, name)
		}
	}
	return left
}

// refuse prints what check found in a job, of which then nothing is written: files
// that lie in the folder look as if they could be run.
func (c *call) refuse(j *job) error {
	print := c.printCheck
	if c.on("json") {
		print = func(j *job) error { return report.JSON(c.out, j.setup) }
	}
	if err := print(j); err != nil {
		return err
	}
	return j.verdict(", so nothing was written")
}

// addSheets renders the sheet in every form.
func (j *job) addSheets() error {
	type file struct {
		name   string
		render func(io.Writer) error
	}
	var files []file
	if ck := j.setup.Check; ck != nil {
		ck.Notes = append(ck.Notes, report.Note{Code: "picture", Level: "note", Text: "check.png shows both sides as they lie, and the web"})
		files = append(files, file{"check.png", func(w io.Writer) error { return report.PicturePNG(w, j.setup) }})
	}
	files = append(files, []file{
		{"index.html", func(w io.Writer) error { return report.HTML(w, j.setup) }},
		{"sheet.txt", func(w io.Writer) error { return report.Terminal(w, j.setup, report.Options{Width: 80}) }},
		{"sheet.md", func(w io.Writer) error { return report.Markdown(w, j.setup) }},
		{"sheet.json", func(w io.Writer) error { return report.JSON(w, j.setup) }},
	}...)
	for _, f := range files {
		var b bytes.Buffer
		if err := f.render(&b); err != nil {
			return err
		}
		j.files = append(j.files, outFile{f.name, b.Bytes()})
	}
	return nil
}
