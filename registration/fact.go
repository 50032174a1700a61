package registration

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
)

// Fact is one thing that the answer rests on or warns of, with its weight; report finds the
// words.
type Fact struct {
	Level string // one of the Level constants
	Is    any    // one of the structs below
}

// Code is the name of what the fact is, in words.
func (f Fact) Code() string { return fact.Code(f.Is) }

// The levels of a Fact, from what was taken for granted to what can hurt.
const (
	LevelAssumed = fact.Assumed
	LevelNote    = fact.Note
	LevelWarning = fact.Warning
	LevelCaution = fact.Caution
)

// Assumed: what was not said and took its default.
type (
	// ZeroDefault: the face zero took its default.
	ZeroDefault struct {
		Zero string
	}
	// BackZeroDefault: the back zero took the face zero's name.
	BackZeroDefault struct {
		Zero string
	}
	// ZZeroDefault: a Z zero took its default.
	ZZeroDefault struct {
		Face ZZero
		Back ZZero
	}
	// OffsetFree: the face's usual offset belongs to something else; a warning.
	OffsetFree struct {
		Offset string
		Taken  string
	}
	// OffsetDefault: the face's offset took its default.
	OffsetDefault struct {
		Offset string
	}
	// BackOffsetChosen: the back's offset was chosen: the first that isn't taken.
	BackOffsetChosen struct {
		Offset string
		Taken  []string
	}
	// LocatorDefault: a locator stands where the blank's nominal edge lies.
	LocatorDefault struct {
		Locator string // "fence", "stop", "back fence" or "back stop"
		Side    Side
		At      decimal.Decimal
		Frame   string // "machine" or "face zero"
	}
	// PlugAtDefault: the plug stands for the back where it stood for the face.
	PlugAtDefault struct {
		X     decimal.Decimal
		Y     decimal.Decimal
		Frame string // as above
	}
)

// Notes.
type (
	// NoRegisterFact: nothing finds the blank again: the transform only.
	NoRegisterFact struct{}
	// Unused: keys that were given have no part in the register.
	Unused struct {
		Register Register
		Keys     []string
	}
	// Measured: the measured size was used; a warning if it is far from the nominal.
	Measured struct {
		Nominal Blank
		Used    Blank
	}
	// Skimmed: the face program skims the top.
	Skimmed struct {
		By    decimal.Decimal
		Thick decimal.Decimal // at the turn
		Zero  ZZero           // the face's Z0: Top is as it is before the skim
	}
	// ZUnknown: the face zero's Z isn't known.
	ZUnknown struct {
		Rise decimal.Decimal // of the second zero over it
	}
	// Corrected: corrections of the job moved the second zero; a warning where further than Limit.
	Corrected struct {
		Rounds int
		X      decimal.Decimal
		Y      decimal.Decimal
		Turn   decimal.Decimal // of the back programs, degrees; zero where they aren't turned
		Limit  decimal.Decimal // what the locators can explain, zero where it is kept
	}
	// ZTouchOff: the programs call lengths, and nothing says how Z is stored.
	ZTouchOff struct {
		Rise decimal.Decimal // of the second zero over the face zero
	}
	// ZLeft: a Z of the face zero was given, and isn't used where programs call lengths.
	ZLeft struct{ Z decimal.Decimal }
	// SameEdge: one physical edge touches on both sides.
	SameEdge struct {
		Locator string
		Edge    Side // as named with the face up
		Face    Side
		Back    Side
	}
	// SamePins: the same dowels serve both sides.
	SamePins struct {
		Edge string          // "left" or "near"
		At   decimal.Decimal // the flip line's distance from it
	}
	// SecondPins: the second station has dowels in the mirrored pattern.
	SecondPins struct {
		Pins int
	}
	// DrilledFace: blank and bed are drilled in the face set-up.
	DrilledFace struct{}
	// Foolproof: turned wrong the blank doesn't go on.
	Foolproof struct {
		Unturned []string // the lay-up as is, where it goes on
	}
	// Round: a round part, free to turn on its plug.
	Round struct{}
	// ClockFlatTurns: the sides on which the plug's flat lies.
	ClockFlatTurns struct {
		Face Side
		Back Side
	}
	// ClockPinMoves: the index pin stands elsewhere for the back.
	ClockPinMoves struct {
		X     decimal.Decimal
		Y     decimal.Decimal
		Frame string // "machine" or "face zero"
	}
	// ZeroMoved: the zero is fixed by dowels, a plug or a locator on another edge, so that on
	// this measured piece it lies off the named place.
	ZeroMoved struct {
		X decimal.Decimal
		Y decimal.Decimal
	}
	// ToolZ: Z is for the tool that was touched off.
	ToolZ struct {
		Tool     string // its name or ""
		TouchOff TouchOff
	}
	// TouchOffPiece: Z is touched off once and a Z0 lies on the top, so that the answer takes it
	// that this was done on the measured piece; a caution.
	TouchOffPiece struct {
		Thick decimal.Decimal
	}
)

// Warnings.
type (
	// OtherEdge: another physical edge touches on the back, so that the blank's size error
	// enters.
	OtherEdge struct {
		Locator string
		Face    Side // the edges, as named with the face up
		Back    Side
		Error   string // "W" or "H"
	}
	// FenceEdgeChanged: the fence's edge changes, so that an angle's error enters.
	FenceEdgeChanged struct {
		Face  Side
		Back  Side
		Error string // "parallel" or "square"
	}
	// FenceShort: the fence stands on the shorter edge.
	FenceShort struct {
		Of     string // "face" or "back"
		Side   Side
		Length decimal.Decimal
		Other  decimal.Decimal // the other edge's length
	}
	// ZeroOutside: a zero lies outside the blank.
	ZeroOutside struct {
		Of string          // "face" or "back"
		X  decimal.Decimal // in its as-laid frame
		Y  decimal.Decimal
	}
	// NotFoolproof: wrong lay-ups go on.
	NotFoolproof struct {
		Cure  string // a Cure code, with the dowel's number or place behind it
		Wrong []string
	}
	// NearMiss: a push would let a wrong lay-up on.
	NearMiss struct {
		LayUp string
		Miss  decimal.Decimal
	}
	// PinAtEdge: a dowel's hole runs over the blank's edge, or just to it.
	PinAtEdge struct {
		Pin int // from 1
		Out decimal.Decimal
	}
	// HoleTight: a hole doesn't slide onto its dowel by hand.
	HoleTight struct {
		Hole decimal.Decimal
		Pin  decimal.Decimal
	}
	// FitPressed: a fit can be an interference.
	FitPressed struct {
		Fit  string
		Pins []Interference
	}
	// PinLoose: dowels have too much clearance to register.
	PinLoose struct {
		Most  decimal.Decimal
		Limit decimal.Decimal
	}
	// ClockFenceUnsaid: a fence clocks, but its side isn't said.
	ClockFenceUnsaid struct{}
	// ClockFenceMoves: a clocking fence must stand elsewhere for the back; a note where its place
	// was given.
	ClockFenceMoves struct {
		Face      Side
		FaceAt    decimal.Decimal
		FaceFrame string
		Back      Side
		BackAt    decimal.Decimal
		BackFrame string
	}
	// PlugLoose: the plug is loose in its bore.
	PlugLoose struct {
		Clearance decimal.Decimal
	}
	// PlugTight: the plug's diameter is the bore's.
	PlugTight struct {
		Dia decimal.Decimal
	}
	// ClockingLoose: the clocking lets the blank turn.
	ClockingLoose struct {
		AtRim decimal.Decimal // how far the rim can move
	}
	// TurnUnknown: the clocking's clearance isn't given.
	TurnUnknown struct {
		Clocking string // its kind
	}
	// ClockFenceNominal: a clocking fence stands where a nominal blank has its edge.
	ClockFenceNominal struct {
		Side Side
		At   decimal.Decimal
		Edge decimal.Decimal // where this piece has it
		Up   string          // "face" or "back"
	}
)

// Of a touched blank. Turns are in degrees, counter-clockwise positive.
type (
	// TurnKnown: how the blank lies turned.
	TurnKnown struct {
		Turn  decimal.Decimal
		Limit decimal.Decimal // to both sides
		Taken decimal.Decimal // a quarter turn within the limit is taken for what was found
	}
	// LiesTurned: the blank lies turned.
	LiesTurned struct {
		Turn  decimal.Decimal
		Limit decimal.Decimal
		Rest  decimal.Decimal // how far from square or from end for end
	}
	// EndForEnd: the blank lies turned by about 180 degrees.
	EndForEnd struct{}
	// SizeImplied: the size that opposite edges imply; a warning where slack doesn't explain it.
	SizeImplied struct {
		Of      string // "W" or "H"
		Implied decimal.Decimal
		Taken   decimal.Decimal
	}
	// EdgesAlone: edges stand for the face only where it was set by them.
	EdgesAlone struct{}
	// TouchFirst: places of the turned blank are still to be touched; a warning.
	TouchFirst struct {
		Places int
	}
	// TouchBlind: what the touches don't show; a caution.
	TouchBlind struct {
		To []string // "side" (which is up), "end" (turned end for end)
	}
	// TouchOffEdge: the zeros come from the locators, so that they must not be touched off on the
	// blank's own edge; a caution.
	TouchOffEdge struct {
		From Register
	}
)

// Interference is the clearance of a fit at one diameter, below 0 at least.
type Interference struct{ Dia, Least, Most decimal.Decimal }

// Cure codes of NotFoolproof.
const (
	CureDiameters = "diameters" // make a pin another diameter; behind it the pin's number
	CureThirdPin  = "third-pin" // one more pin on the flip line; behind it its place where the cuts are known
	CureNone      = "none"      // no other diameter and no pin on the flip line does it
	CureFlat      = "flat"      // let the flat lie across the flip line
	CureClockPin  = "clock-pin" // put the index pin on the flip line through the bore
)

// add appends one fact.
func (a *Answer) add(level string, is any) {
	a.Facts = append(a.Facts, Fact{level, is})
}
