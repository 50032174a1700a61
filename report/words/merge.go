package words

import (
	"cmp"
	"slices"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/report/letters"
)

// Merge says what a merge of programs rests on.
func Merge(code string, v []string) string { return sayCode(mergeSentences, code, v, 0) }

// mergeSentences are for the notes of a merge.
var mergeSentences = map[string]sentence{
	cycle.Dropped: func(v values, _ string) string {
		return "T" + v.at(1) + " called but not cutting: left out"
	},
	cycle.AssumedState: func(v values, _ string) string {
		return v.at(0) + " assumed at the start of a program that doesn't give it"
	},
	cycle.SameTools: func(v values, _ string) string {
		var tools []string
		for _, n := range v {
			tools = append(tools, "T"+n)
		}
		slices.SortFunc(tools, func(a, b string) int { return cmp.Or(len(a)-len(b), strings.Compare(a, b)) })
		return "use the same cutter for face and back: " + letters.List(tools)
	},
	cycle.HomeInPiece: func(v values, _ string) string {
		return "G28 or G30 goes home from every station: check that the way is clear"
	},
	cycle.OffsetChange: func(v values, _ string) string {
		return v.at(1) + " becomes " + letters.List(v[2:])
	},
	cycle.CompClosed: func(v values, _ string) string {
		return "G40 added after the last move: check that the cutter is free there"
	},
	cycle.NumbersGone: func(v values, _ string) string {
		return "block numbers taken out of the merged programs"
	},
}
