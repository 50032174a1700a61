package registration

// Fact is one thing that the answer rests on or warns of; report finds the words.
type Fact struct {
	Code   string // one of the Fact constants
	Level  string // one of the Level constants
	Values []string
}

// The levels of a Fact, from what was taken for granted to what can hurt.
const (
	LevelAssumed = "assumed"
	LevelNote    = "note"
	LevelWarning = "warning"
	LevelCaution = "caution"
)

// The codes of a Fact, each with its level and values. A frame value is
// "machine" or "face zero".
const (
	// Assumed: what was not said and took its default.
	FactZeroDefault     = "zero-default"       // the face zero's name
	FactBackZeroDefault = "back-zero-default"  // the back zero's name
	FactZZeroDefault    = "z-zero-default"     // face level, back level
	FactOffsetFree      = "offset-free"        // the offset taken, and the one that belongs to something else
	FactOffsetDefault   = "offset-default"     // the offset
	FactBackOffset      = "back-offset-chosen" // the offset, then those taken
	FactLocatorDefault  = "locator-default"    // "fence", "stop", "back fence" or "back stop"; side; coordinate; frame
	FactPlugAtDefault   = "plug-at-default"    // X, Y, frame

	// Notes.
	FactNoRegister = "no-register" // nothing finds the blank again: transform only
	FactUnused     = "unused"      // the register, then the flags that have no part in it
	FactMeasured   = "measured"    // nominal size, measured size; a warning if they are far apart
	FactSkimmed    = "skimmed"     // how much, thickness at the turn, "top" (as it is before the skim) or "bed": the face's Z0
	FactZUnknown   = "z-unknown"   // Z of the second zero above the face zero's Z
	FactCorrected  = "corrected"   // number of rounds, X and Y by which they moved the second zero
	FactZTouchOff  = "z-touch-off" // a note: the programs call lengths and nothing says how Z is stored; Z of the second zero above the face zero's Z
	FactSameEdge   = "same-edge"   // locator, physical edge, face side, back side
	FactSamePins   = "same-pins"   // "left" or "near" edge, m: the flip line lies m from it
	FactSecondPins = "second-pins" // number of pins in the mirrored pattern
	FactDrilled    = "drilled-face"
	FactFoolproof  = "foolproof"
	FactRound      = "round"            // a round part, free to turn on its plug
	FactFlatTurns  = "clock-flat-turns" // the sides on which the plug's flat lies for the face and for the back
	FactClockMoves = "clock-pin-moves"  // X, Y, frame: the index pin's place for the back

	// FactZeroMoved, a note: the zero is fixed by a locator on another edge, so
	// on this measured piece it doesn't lie at the named place: X and Y by which
	// it lies off it.
	FactZeroMoved = "zero-moved"

	// FactTool, a note: Z holds only for the tool that was touched off: its name
	// or "", then "each" or "once".
	FactTool = "tool-z"

	// FactZPiece, a caution: Z is touched off once and a Z0 lies on the top, so the
	// answer takes it that this was done on the measured piece: its thickness.
	FactZPiece = "touch-off-piece"

	// Warnings.
	FactOtherEdge     = "other-edge"         // locator, edge on the face, edge on the back, "W" or "H": that size's error enters
	FactFenceEdge     = "fence-edge-changed" // edge on the face, edge on the back, "parallel" or "square": the error that enters
	FactFenceShort    = "fence-short"        // "face" or "back", side, its length, the other edge's length
	FactZeroOutside   = "zero-outside"       // "face" or "back", X, Y in its as-laid frame
	FactNotFoolproof  = "not-foolproof"      // a Cure code, then the wrong lay-ups that fit
	FactNearMiss      = "near-miss"          // lay-up, the clearance that would let it on
	FactPinAtEdge     = "pin-at-edge"        // number of the pin from 1, how far its edge lies outside the blank
	FactHoleTight     = "hole-tight"         // hole, pin: it doesn't slide on by hand
	FactPressed       = "fit-pressed"        // fit, then for each diameter it, its least clearance, an interference, and the greatest
	FactPinLoose      = "pin-loose"          // the pins' greatest clearance, the greatest that registers
	FactFenceUnsaid   = "clock-fence-unsaid" // a fence clocks, but its side isn't said
	FactFenceMoves    = "clock-fence-moves"  // side, coordinate and frame on the face, the same on the back; a note where the back's place was given
	FactPlugLoose     = "plug-loose"         // clearance
	FactPlugTight     = "plug-tight"         // the plug's diameter, which is the bore's
	FactLooseClocking = "clocking-loose"     // how far the rim can move
	FactTurnUnknown   = "turn-unknown"       // clocking kind: its clearance isn't given

	// FactFenceNominal, a warning: a clocking fence stands where a nominal blank
	// has its edge: side, that coordinate, where this piece has the edge, "face" or
	// "back".
	FactFenceNominal = "clock-fence-nominal"

	// Of a touched blank.
	FactTurnKnown       = "turn-known"       // a note: turn in degrees counter-clockwise, its limit to both sides
	FactLiesTurned      = "lies-turned"      // a warning: turn in degrees counter-clockwise, its limit, how far from square or from end for end
	FactEndForEnd       = "end-for-end"      // a warning: the blank lies turned by about 180 degrees
	FactTouchDisagrees  = "touch-disagrees"  // a warning: number of the touch, what was touched, how far it is left off
	FactTouchesDisagree = "touches-disagree" // a warning: no single touch is to blame
	FactSizeImplied     = "size-implied"     // W or H, what opposite edges imply, what was taken; a warning where slack doesn't explain it
	FactEdgesAlone      = "edges-alone"      // a warning: edges stand for the face only where it was set by them
	FactTouchBlind      = "touch-blind"      // a caution: what the touches don't show: "side" (which is up), "end" (turned end for end)

	// FactTouchOffEdge, a caution: the zeros come from the locators, so they must
	// not be touched off on the blank's own edge: what gives them ("fence",
	// "dowels" or "plug").
	FactTouchOffEdge = "touch-off-edge"
)

// Cure codes of FactNotFoolproof.
const (
	CureDiameters = "diameters" // make a pin another diameter; behind it the pin's number
	CureThirdPin  = "third-pin" // one more pin on the flip line; behind it its place where the cuts are known
	CureNone      = "none"      // no other diameter and no pin on the flip line does it
	CureFlat      = "flat"      // let the flat lie across the flip line
	CureClockPin  = "clock-pin" // put the index pin on the flip line through the bore
)

// add appends one fact.
func (a *Answer) add(code, level string, values ...string) {
	a.Facts = append(a.Facts, Fact{Code: code, Level: level, Values: values})
}
