package main

import (
	"io"
	"slices"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
)

// call is one run of one verb: what is asked, and what it is answered through.
type call struct {
	*job.Job
	tree     *tree
	out, err io.Writer
	written  bool   // files are in their places
	paper    string // on which the overlay is printed at full size
}

// writesFolder names the verbs whose -o is a folder.
var writesFolder = []string{"prepare", "pair", "pins"}

// toOutput reports whether the verb's product goes to standard output: its report goes to
// standard error then.
func (c *call) toOutput() bool {
	out := c.Text("output")
	return out == "-" || out == "" && c.Verb.Name == "mirror"
}

// outputFault refuses standard output for what can't go there.
func (c *call) outputFault() error {
	switch {
	case !c.toOutput():
	case slices.Contains(writesFolder, c.Verb.Name):
		return ask.Wrong("-o", "-", "a folder", c.Verb.Name+" writes several files")
	case c.On("json") && c.Verb.Name != "sheet" && !c.On("dry-run"):
		return ask.Wrong("json", "the program and the JSON both go to standard output", "", "write the program to a file with -o FILE")
	}
	return nil
}

// reports is where the verb's report goes.
func (c *call) reports() io.Writer {
	if c.toOutput() && c.Verb.Name != "sheet" {
		return c.err
	}
	return c.out
}
