package words

import "strings"

// Cautions are the cautions in the order in which they are listed.
var Cautions = []struct{ Code, Text string }{
	{"tool-change", "Don't run as written: %1. Add G43 H for each tool, or M0 there and touch off anew. As it is, the cut is off by the difference in stick-out."},
	{"practice", "The machine's maker, local rules and licensed practice come before this sheet."},
	{"dry-run", "Dry run above the work first: every program, and after every new zero or tool."},
	{"check-zero", "Check zero, tool and stick-out before each program."},
	{"hold", "%1 locate, they do not hold. Clamp, or switch the vacuum on, before the spindle starts."},
	{"tabs", "Leave tabs on parts that are cut free, or hold them. A loose part is thrown."},
	{"seat", "Check: blank flat on its seat, no chips, right side up."},
	{"path", "Check that every move, rapids too, clears dowels and clamps."},
	{"drill-clear", "Raise the drill clear of everything before the start and after each tool change."},
	{"hands", "Hands out of the machine's reach while anything can move. Load with the machine held."},
	{"hands-guarded", "Hands out of the machine's reach while anything can move. Load a station only while guarded."},
	{"wear", "Wear eye and hearing protection and run the dust extraction."},
	{"same-tool", "Z of the second zero is for the tool touched off, unless G43 is called."},
	{"lengths", "Touch off Z as the programs run: with G43 H if called, else with G49."},
	{"old-values", "Note the old offsets before they are overwritten."},
	{"offsets-once", "Run the offsets program once, before touching off. Running it again loses touch-off, and any correction not in the job."},
	{"stop-edge", "Take the zero from the %1, never from the blank's own edge."},
	{"turn", "Turn the blank only with the spindle stopped and the machine held."},
}

// Caution finds a caution's words; who stands for its subject.
func Caution(code, who string) string {
	for _, c := range Cautions {
		if c.Code == code {
			return strings.ReplaceAll(c.Text, "%1", who)
		}
	}
	return code
}
