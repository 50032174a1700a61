package words

import (
	"strconv"

	"flipcalc/mirror/cycle"
	"flipcalc/report/letters"
)

// mergeFact: what the merged programs of a cycle rest on.
func mergeFact(is any, _ string) string {
	switch f := is.(type) {
	case cycle.Dropped:
		return "T" + strconv.Itoa(f.Tool) + " called but not cutting: left out"
	case cycle.AssumedState:
		return f.Code + " assumed at the start of a program that doesn't give it"
	case cycle.SameTools:
		var tools []string
		for _, n := range f.Tools {
			tools = append(tools, "T"+strconv.Itoa(n))
		}
		return "use the same cutter for face and back: " + letters.List(tools)
	case cycle.HomeInPiece:
		return "G28 or G30 goes home from every station: check that the way is clear"
	case cycle.OffsetChange:
		return f.Named + " becomes " + letters.List(f.RunsIn)
	case cycle.CompClosed:
		return "G40 added after the last move: check that the cutter is free there"
	case cycle.NumbersGone:
		return "block numbers taken out of the merged programs"
	}
	return ""
}
