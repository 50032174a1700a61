package words

import (
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/report/letters"
)

// What drilling programs rest on.
type (
	// PeckAssumed: each peck is one diameter.
	PeckAssumed struct{}
	// SafeAssumed: the height over the blank at which the drill crosses it.
	SafeAssumed struct{ Height decimal.Decimal }
	// DrillClear: the height over the surface down to which rapids go.
	DrillClear struct{ Height decimal.Decimal }
	// DrillEnd: depths are those of the cutting end.
	DrillEnd struct{}
	// DrillLevel: holes end level with the blank's underside.
	DrillLevel struct{}
	// DrillBeyond: how far the drill goes out under the blank.
	DrillBeyond struct{ By decimal.Decimal }
	// DrillSnug: the bed's holes have the pins' nominal diameter.
	DrillSnug struct{}
	// DrillWide: the bed's holes are as wide as the blank's.
	DrillWide struct{}
	// DrillBedZ: the bed's Z and the blank's thickness in files whose Z0 is the blank's top.
	DrillBedZ struct {
		Z, Thick decimal.Decimal
		Files    []string
	}
	// DrillListed: a drill that was taken from the tools listed.
	DrillListed struct {
		Dia  decimal.Decimal
		Tool int
	}
	// DrillOrder: hold the blank, clear the bed.
	DrillOrder struct{}
	// DrillIndex: a plug's index pin: no blank there, its hole cut with the bore.
	DrillIndex struct{}
	// DrillOdd: no drill has this diameter, so its holes are left out of these files.
	DrillOdd struct {
		Dia   decimal.Decimal
		Files []string
	}
	// DrillUp: the machine Z at which drills are changed.
	DrillUp struct{ Z decimal.Decimal }
	// DrillAcross: no such height is known.
	DrillAcross struct{}
	// DrillUncalled: files that call no tool length, beside programs that do.
	DrillUncalled struct{ Files []string }
	// DrillOneTool: where no length is called there is a file for each drill.
	DrillOneTool struct{}
)

// drillingFact: what the drilling programs rest on.
func drillingFact(is any, u string) string {
	switch f := is.(type) {
	case PeckAssumed:
		return "each peck assumed one drill diameter (common practice)"
	case SafeAssumed:
		return "the drill crosses " + f.Height.String() + " " + u + " over the blank's top (common practice): keep clamps lower"
	case DrillClear:
		return "rapids stop " + f.Height.String() + " " + u + " above"
	case DrillEnd:
		return "drill the bed with a flat-ended cutter: over a pointed hole a dowel stands higher"
	case DrillLevel:
		return "holes end level with the blank's underside: with a pointed drill give beyond"
	case DrillBeyond:
		return "the drill goes " + f.By.String() + " " + u + " into what is under the blank"
	case DrillSnug:
		return "the bed's holes have the dowels' nominal diameter; a dowel loose in the bed lets the blank move"
	case DrillWide:
		return "drilled in one go, bed and blank have equal holes; a dowel loose in the bed lets the blank move"
	case DrillBedZ:
		return "the bed is at Z" + f.Z.String() + " in " + letters.List(f.Files) + "; Z0 is the top of a blank " + f.Thick.String() + " " + u + " thick"
	case DrillListed:
		return "the drill of " + f.Dia.String() + " " + u + " is T" + strconv.Itoa(f.Tool) + " of the tools listed"
	case DrillOrder:
		return "drill the bed bare; drill blanks with no dowels in the bed, clamps out of the way"
	case DrillIndex:
		return "drill the bed for the index pin bare; cut its hole in the blank in one clamping with the bore"
	case DrillOdd:
		return "no drill of " + f.Dia.String() + " " + u + ": no program drills its holes; bore or mill them from the same zero, or give drill N=" + f.Dia.String()
	case DrillUp:
		return "drill changes, and the ways to and from, are at machine Z" + f.Z.String() + " (G53)"
	case DrillAcross:
		return "raise the drill clear of everything before the start and after each tool change; or give longest, so that it rises by itself"
	case DrillUncalled:
		return letters.List(f.Files) + " without G43, beside programs with it; touch off Z before and after drilling, or set tool-line = \"T# M6 G43 H#\""
	case DrillOneTool:
		return "without G43 each drill has its own programs: fit it, touch off Z, run them"
	}
	return ""
}
