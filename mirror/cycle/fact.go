package cycle

import (
	"slices"

	"flipcalc/mirror/fact"
)

// Note is one thing that the maker should know of the merged programs, with its weight;
// report finds the words.
type Note struct {
	Level string // one of package fact
	File  string // the source that it is about, "" for the whole
	Line  int    // of the source, 0 for none
	Is    any    // one of the structs below
}

// What merging left out, assumed or wrote.
type (
	// Dropped: a piece without a cut was left out, the one that begins in that line.
	Dropped struct{ Tool, Line int }
	// AssumedState: a code was written for a program that doesn't give it.
	AssumedState struct{ Code string }
	// SameTools: both sides use these tool numbers.
	SameTools struct{ Tools []int }
	// HomeInPiece: G28 or G30 was kept.
	HomeInPiece struct{}
	// NumbersGone: block numbers were taken out.
	NumbersGone struct{}
	// OffsetChange: a program names an offset and runs in others.
	OffsetChange struct {
		Named  string
		RunsIn []string
	}
	// CompClosed: G40 was written after the last move.
	CompClosed struct{}
)

// once leaves out what was said of the same source before.
func once(notes []Note) (out []Note) {
	for _, n := range notes {
		if !slices.ContainsFunc(out, func(o Note) bool { return o.File == n.File && fact.Same(o.Is, n.Is) }) {
			out = append(out, n)
		}
	}
	return out
}
