package main

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
	"flipcalc/mirror/fact"
	"flipcalc/report"
	"flipcalc/report/words"
)

func runPrepare(c *call) error {
	dir := c.Text("output")
	if dir == "" && !c.On("dry-run") {
		return ask.Wrong("-o", "no folder for the files", "-o FOLDER", "it is made where it isn't there, and nothing else in it is touched")
	}
	err := c.Prepare()
	if err != nil {
		return err
	}
	if !c.Setup.Check.OK() {
		return c.refuse()
	}
	if err := c.addSheets(); err != nil {
		return err
	}
	var left []string
	var changes []change
	if dir == "" { // a dry run for no folder
		for _, f := range c.Files {
			changes = append(changes, change{path: f.Name, what: "new"})
		}
	} else {
		left = c.leftOver(dir, c.Files)
		if changes, err = c.write(set{dir: dir, files: c.Files}); err != nil {
			return err
		}
	}
	s := c.Setup
	if c.On("quiet") {
		for _, name := range left {
			s.Notes = append(s.Notes, report.Note{Level: fact.Warning, File: filepath.Join(dir, name), Is: words.StaleProgram{}})
		}
	} else {
		for i, ch := range changes {
			if role := c.role(filepath.Base(ch.path)); role != "" {
				changes[i].what = role + ", " + ch.what
			}
		}
		for _, name := range left {
			changes = append(changes, change{name, "of an earlier run, no longer of this job: don't run it"})
		}
	}
	json := func() error { return report.JSON(c.out, c.Setup) }
	err = c.showWith(s, dir, changes, json, func() string { return listed(changes) })
	if err != nil || dir == "" || c.On("json") || c.On("quiet") || c.On("dry-run") {
		return err
	}
	return printAll(c.out, "\nOpen "+filepath.Join(dir, "index.html")+"\n")
}

// role is what a file of the job is for, and what the overlay is printed on; "" for the
// sheet in its forms.
func (c *call) role(name string) string {
	if name == "overlay.svg" {
		return "print at 100 % on " + c.paper
	}
	for _, p := range c.Setup.Programs {
		if p.Name == name {
			return strings.TrimSuffix(p.Role+" "+p.Offset, " ")
		}
	}
	return ""
}

// sheetFiles are the files of a run that are no programs.
var sheetFiles = []string{"check.png", "overlay.svg", "index.html", "sheet.txt", "sheet.json"}

// refuse prints what check found in a job, of which then nothing is written: files
// that lie in the folder look as if they could be run.
func (c *call) refuse() error {
	print := c.printCheck
	if c.On("json") {
		print = func() error { return report.JSON(c.out, c.Setup) }
	}
	if err := print(); err != nil {
		return err
	}
	return c.verdict(", so nothing was written")
}

// addSheets renders the sheet in every form.
func (c *call) addSheets() error {
	type file struct {
		name   string
		render func(io.Writer) error
	}
	var files []file
	if ck := c.Setup.Check; ck != nil {
		c.Setup.Picture = "check.png"
		ck.Notes = append(ck.Notes, report.Note{Level: fact.Note, Is: words.Picture{}})
		files = append(files, file{"check.png", func(w io.Writer) error { return report.PicturePNG(w, c.Setup) }})
	}
	if overlay, sheet := report.OverlayDrawing(c.Setup); overlay != "" {
		c.paper = sheet
		files = append(files, file{"overlay.svg", func(w io.Writer) error {
			_, err := io.WriteString(w, overlay)
			return err
		}})
	}
	files = append(files, []file{
		{"index.html", func(w io.Writer) error { return report.HTML(w, c.Setup) }},
		{"sheet.txt", func(w io.Writer) error { return report.Terminal(w, c.Setup, report.Options{Width: 80, Why: true}) }},
		{"sheet.json", func(w io.Writer) error { return report.JSON(w, c.Setup) }},
	}...)
	for _, f := range files {
		var b bytes.Buffer
		if err := f.render(&b); err != nil {
			return err
		}
		c.Files = append(c.Files, job.File{Name: f.name, Content: b.Bytes()})
	}
	return nil
}
