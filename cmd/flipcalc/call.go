package main

import (
	"io"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/plain"
)

// call is one run of one verb: what is asked, and what it is asked and answered through.
type call struct {
	*ask.Ask
	tree     *tree
	in       io.Reader
	out, err io.Writer
	kept     map[string]*io.SectionReader // programs that are read more than once
	plain    map[string]*plain.Report     // those that were written out
	turned   map[string]*plain.Report     // those that were turned, and rounded for it
	written  bool                         // files are in their places
}
