package mirror

import (
	"bytes"
	"cmp"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
)

// walk is a program of which a summary is wanted: its text, until it is too long for one.
type walk struct {
	options motion.Options
	room    int64 // bytes that it may still have, less than 0 once it is too long
	text    bytes.Buffer
	summary *motion.Summary
}

// newWalk waits for a program of at most limit bytes whose work has its top at Z surface.
func newWalk(o *Options, name string, limit int64, surface decimal.Decimal) *walk {
	return &walk{options: o.motionOptions(name, surface), room: limit}
}

func (w *walk) write(b []byte) {
	if w.room -= int64(len(b)); w.room >= 0 {
		w.text.Write(b)
	} else {
		w.text = bytes.Buffer{}
	}
}

// make makes the summary.
func (w *walk) make() (err error) {
	w.summary, err = motion.Walk(&w.text, w.options, nil)
	return err
}

// longestSummarised is the longest program, in bytes, of which a summary is made, and with it
// the warning of a program that doesn't lie on the blank: for long programs it would take
// longer than all the rest.
const longestSummarised = 8 << 20

// summaryLimit gives the bytes up to which a summary is made, less than 0 where none is wanted.
func (o *Options) summaryLimit() int64 { return cmp.Or(o.longest, longestSummarised) }
