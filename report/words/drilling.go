package words

import (
	"flipcalc/mirror/transform"
	"flipcalc/report/letters"
)

// The codes of what drilling programs rest on.
const (
	DrillPeck     = "peck-assumed"   // each peck is one diameter
	DrillSafe     = "safe-assumed"   // height over the blank
	DrillClear    = "drill-clear"    // height over the surface down to which rapids go
	DrillEnd      = "drill-end"      // depths are those of the cutting end
	DrillLevel    = "drill-level"    // holes end level with the blank's underside
	DrillBeyond   = "drill-beyond"   // how far the drill goes out under the blank
	DrillSnug     = "drill-snug"     // the bed's holes have the pins' nominal diameter
	DrillWide     = "drill-wide"     // the bed's holes are as wide as the blank's
	DrillBed      = "drill-bed-z"    // Z of the bed, thickness, files: Z0 is the top of a blank
	DrillListed   = "drill-listed"   // diameter, tool: taken from the tools listed
	DrillOrder    = "drill-order"    // hold the blank, clear the bed
	DrillIndex    = "drill-index"    // a plug's index pin: no blank there, its hole cut with the bore
	DrillOdd      = "drill-odd"      // diameter, files: no drill has it, so its holes are left out
	DrillUp       = "drill-up"       // machine Z at which drills are changed
	DrillAcross   = "drill-across"   // no such height is known
	DrillUncalled = "drill-uncalled" // files that call no tool length, beside programs that do
	DrillOneTool  = "drill-one-tool" // where no length is called there is a file for each drill
)

// Drilling says what a drilling program rests on.
func Drilling(code string, v []string, unit transform.Unit) string {
	return sayCode(drillingSentences, code, v, unit)
}

var drillingSentences = map[string]sentence{
	DrillPeck: fixed("each peck assumed one drill diameter (common practice)"),
	DrillSafe: func(v values, u string) string {
		return "the drill crosses " + v.at(0) + " " + u + " over the blank's top (common practice): keep clamps lower"
	},
	DrillClear: func(v values, u string) string {
		return "rapids stop " + v.at(0) + " " + u + " above"
	},
	DrillEnd:   fixed("drill the bed with a flat-ended cutter: over a pointed hole a dowel stands higher"),
	DrillLevel: fixed("holes end level with the blank's underside: with a pointed drill give beyond"),
	DrillBeyond: func(v values, u string) string {
		return "the drill goes " + v.at(0) + " " + u + " into what is under the blank"
	},
	DrillSnug: fixed("the bed's holes have the dowels' nominal diameter; a dowel loose in the bed lets the blank move"),
	DrillWide: fixed("drilled in one go, bed and blank have equal holes; a dowel loose in the bed lets the blank move"),
	DrillUncalled: func(v values, _ string) string {
		return letters.List(v) + " without G43, beside programs with it; touch off Z before and after drilling, or set tool-line = \"T# M6 G43 H#\""
	},
	DrillBed: func(v values, u string) string {
		return "the bed is at Z" + v.at(0) + " in " + letters.List(v.from(2)) + "; Z0 is the top of a blank " + v.at(1) + " " + u + " thick"
	},
	DrillListed: func(v values, u string) string {
		return "the drill of " + v.at(0) + " " + u + " is T" + v.at(1) + " of the tools listed"
	},
	DrillOrder: fixed("drill the bed bare; drill blanks with no dowels in the bed, clamps out of the way"),
	DrillIndex: fixed("drill the bed for the index pin bare; cut its hole in the blank in one clamping with the bore"),
	DrillOdd: func(v values, u string) string {
		return "no drill of " + v.at(0) + " " + u + ": its holes are missing in " + letters.List(v.from(1)) + "; bore or mill them from the same zero, or give drill N=" + v.at(0)
	},
	DrillUp: func(v values, _ string) string {
		return "drill changes, and the ways to and from, are at machine Z" + v.at(0) + " (G53)"
	},
	DrillAcross:  fixed("raise the drill clear of everything before the start and after each tool change; or give longest, so that it rises by itself"),
	DrillOneTool: fixed("without G43 each drill has its own programs: fit it, touch off Z, run them"),
}
