package main

import (
	"io"

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
