package cut

// The kinds of finding. Lengths are in mm, areas in mm^2. Several may share a code.

// What a cutter runs into.
type (
	// PinCut: the cutter runs into a pin.
	PinCut struct {
		Where
		Pin  int     // index in Request.Pins
		Into float64 // in plan
	}
	// FenceCut: the cutter runs into a fence or stop.
	FenceCut struct {
		Where
		Locator int // index among those of its side's station
		Into    float64
	}
	// NoGoEntered: the cutter enters a rectangle of the bed that nothing may enter.
	NoGoEntered struct {
		Where
		Area int // index in Request.NoGo
		Into float64
	}
	// BedCut: the cutter goes into the bed.
	BedCut struct {
		Where
		Into    float64
		Allowed float64
	}
	// RapidInStock: a rapid move meets stock.
	RapidInStock struct{ Where }
	// ShankInStock: uncut stock stands beside the cutter above its flutes.
	ShankInStock struct {
		Where
		Flute float64 // length
	}
	// VeeOverCone: stock stands beside a vee above its cone, where nothing says that it has
	// flutes; a warning.
	VeeOverCone struct {
		Where
		Cone float64 // its height
	}
)

func (*PinCut) Code() string       { return "pin-cut" }
func (*FenceCut) Code() string     { return "fence-cut" }
func (*NoGoEntered) Code() string  { return "no-go-entered" }
func (*BedCut) Code() string       { return "bed-cut" }
func (*RapidInStock) Code() string { return "rapid-in-stock" }
func (*ShankInStock) Code() string { return "shank-in-stock" }
func (*VeeOverCone) Code() string  { return "vee-over-cone" }

func (*VeeOverCone) Weight() Weight { return Warn }

func (f *PinCut) object() any      { return f.Pin }
func (f *FenceCut) object() any    { return f.Locator }
func (f *NoGoEntered) object() any { return f.Area }

func (f *PinCut) amount() float64      { return f.Into }
func (f *FenceCut) amount() float64    { return f.Into }
func (f *NoGoEntered) amount() float64 { return f.Into }
func (f *BedCut) amount() float64      { return f.Into }

// What a program does.
type (
	// SpindleStopped: cuts with the spindle stopped, in a program that isn't the only one or
	// that starts it elsewhere.
	SpindleStopped struct{ Where }
	// TravelExceeded: a move leaves the travel.
	TravelExceeded struct {
		Where
		Axis int // 0 X, 1 Y, 2 Z
		By   float64
		End  float64 // of the travel, in machine coordinates
		// Moved is how far corrections moved the zero along the axis; 0 where the move leaves
		// the travel without them too.
		Moved float64
	}
	// WrongOffset: a move under another work offset than its station's.
	WrongOffset struct {
		Where
		Offset int // 540 for G54 and so on
	}
	// NotFollowed: a move that isn't cut where it really runs.
	NotFollowed struct {
		Where
		Why Unfollowed
	}
	// PlaceUnknown: a cutting move whose place isn't known, and which is left out.
	PlaceUnknown struct{ Where }
	// Compensated: the cutter's real way on a move under cutter radius compensation can't be
	// followed.
	Compensated struct {
		Where
		Why    CompFault
		Radius float64 // of the cutter
	}
	// OffBlank: a cut runs further beside the blank than leads and facing passes do.
	OffBlank struct {
		Where
		By   float64
		Axis int // 0 X, 1 Y
	}
	// MostlyOffBlank: most of a program's cutting runs beside the blank.
	MostlyOffBlank struct {
		Where
		By   float64 // at most
		Axis int     // 0 X, 1 Y
	}
	// SkimShort: a place of the top is less low than the skim that was said, so that the turned
	// blank is thicker. A ridge between passes is a warning.
	SkimShort struct {
		Where
		Off   float64 // what the face takes off there
		Said  float64
		Ridge float64 // how high a ridge may be that the cutter's shape leaves there
	}
	// SkimUnsaid: the whole top is lower than the skim that was said; a warning.
	SkimUnsaid struct {
		Where
		Off  float64 // what the face takes off at the highest place
		Said float64
	}
	// CellsCoarse: the cells are too large to show all that a tool does.
	CellsCoarse struct {
		Where
		Tool     int // number
		Diameter float64
		Cell     float64
		Shown    float64 // the largest cell that shows it
	}
)

func (*SpindleStopped) Code() string { return "spindle-stopped" }
func (*TravelExceeded) Code() string { return "travel-exceeded" }
func (*WrongOffset) Code() string    { return "wrong-offset" }
func (*NotFollowed) Code() string    { return "not-followed" }
func (*PlaceUnknown) Code() string   { return "place-unknown" }
func (*Compensated) Code() string    { return "compensated" }
func (*OffBlank) Code() string       { return "off-blank" }
func (*MostlyOffBlank) Code() string { return "off-blank" }
func (*SkimShort) Code() string      { return "skim-short" }
func (*SkimUnsaid) Code() string     { return "skim-unsaid" }
func (*CellsCoarse) Code() string    { return "cells-coarse" }

func (f *SkimShort) Weight() Weight { return within(f.Said-f.Off, f.Ridge) }
func (*SkimUnsaid) Weight() Weight  { return Warn }

// Weight is Warn for levels that controls read in two ways: what is cut is the deeper one.
func (f *NotFollowed) Weight() Weight {
	if f.Why == NotCounted {
		return Warn
	}
	return Stop
}

func (f *TravelExceeded) object() any { return [2]any{f.Axis, f.End} }
func (f *WrongOffset) object() any    { return f.Offset }
func (f *NotFollowed) object() any    { return f.Why }
func (f *Compensated) object() any    { return f.Why }

func (f *TravelExceeded) amount() float64 { return f.By }

// Unfollowed says why a move isn't followed.
type Unfollowed uint8

// The reasons.
const (
	NotRotated Unfollowed = iota // it runs under G68 without a centre
	NotSpline                    // it is a spline, of which only the chord is cut
	NotPreset                    // its zero was set by G92 where the tool's place isn't known
	NotLevel                     // a cycle without R, drilled from where the tool stands
	NotCounted                   // a cycle with levels of the other distance mode, drilled to them as they were given
)

// CompFault says why the real way of a compensated move can't be followed. All are errors in
// NISTIR 6556, 3.5.10 and appendix B, too, or can't be known from the program.
type CompFault uint8

// The reasons.
const (
	CompTight  CompFault = iota // a corner or an arc is tighter than the cutter
	CompEntry                   // the first move is shorter than the radius
	CompRound                   // an arc is the first move or the first after G40
	CompPlane                   // a move in another plane than XY
	CompRadius                  // how far isn't known
	CompChange                  // side or radius change while it is on
	CompCode                    // a cycle, G28, G53, or a shift of the zero while it is on
	CompPlace                   // a place isn't known
)

// Cuts that go through.
type (
	// BrokenThrough: cuts of both sides meet where nothing says that they should (see through).
	BrokenThrough struct {
		Where
		Overlap float64
		Area    float64 // of the hole
	}
	// BrokenOut: a cut of one side comes out on the other, likewise.
	BrokenOut struct {
		Where
		By      Side // whose cut it is
		Overlap float64
		Area    float64
	}
	// ScantOverlap: cuts of both sides are meant to meet, but by more than they do.
	ScantOverlap struct {
		Where
		Overlap float64
		Asked   float64
	}
	// OutlineCount: another number of outlines is cut through than was declared.
	OutlineCount struct{ Number }
	// OpeningCount: another number of openings, likewise.
	OpeningCount struct{ Number }
	// OutlinesMissed: face and back each have a closed groove of one size, together deep enough
	// to cut through, at different places.
	OutlinesMissed struct {
		Where
		Apart float64
	}
	// HolesMissed: the same of a round hole each.
	HolesMissed struct {
		Where
		Apart float64
	}
	// WallStep: a through cut has a step in its wall, between what the two sides cut; a warning
	// where the back may be off by as much.
	WallStep struct {
		Where
		Step    float64
		Allowed float64
	}
	// BoresApart: the bores of a stepped hole lie off each other; a warning likewise.
	BoresApart struct {
		Where
		Apart   float64
		Allowed float64
	}
	// GroovesShort: two grooves that follow each other on both sides, deep enough to be meant
	// as one through cut, don't meet.
	GroovesShort struct{ Thin }
	// StretchShort: a through cut doesn't go through along a stretch that is no tab.
	StretchShort struct {
		Where
		Left   float64
		Length float64
	}
	// PlaceShort: a place that was declared isn't cut through.
	PlaceShort struct {
		Where
		Left float64
	}
	// ShortAtTolerance: cuts of the two sides meet by less than the thickness may be off.
	ShortAtTolerance struct {
		Where
		Left      float64 // at worst
		Tolerance float64
	}
	// JustMeets: a through cut has nothing to spare; a warning.
	JustMeets struct{ Where }
	// LedgeLeft: a cutter that came down on a helix left a ledge in a through hole.
	LedgeLeft struct {
		Where
		Height float64 // at most
	}
	// TabLow: a tab is so low that it may break.
	TabLow struct {
		Where
		Height float64
		Least  float64
	}
	// TabDoubtful: a tab may not be there on a blank that is off by the thickness tolerance.
	TabDoubtful struct {
		Where
		Height float64
		Off    float64 // the tolerance
	}
	// TabHangs: a tab hangs on waste that isn't held by a neck as wide as asked.
	TabHangs struct {
		Where
		Width float64
		Least float64
	}
)

func (*BrokenThrough) Code() string    { return "broken-through" }
func (*BrokenOut) Code() string        { return "broken-through" }
func (*ScantOverlap) Code() string     { return "broken-through" }
func (*OutlineCount) Code() string     { return "through-count" }
func (*OpeningCount) Code() string     { return "through-count" }
func (*OutlinesMissed) Code() string   { return "through-missed" }
func (*HolesMissed) Code() string      { return "through-missed" }
func (*WallStep) Code() string         { return "through-step" }
func (*BoresApart) Code() string       { return "through-step" }
func (*GroovesShort) Code() string     { return "through-short" }
func (*StretchShort) Code() string     { return "through-short" }
func (*PlaceShort) Code() string       { return "through-short" }
func (*ShortAtTolerance) Code() string { return "through-short-at-tolerance" }
func (*JustMeets) Code() string        { return "through-just-meets" }
func (*LedgeLeft) Code() string        { return "ledge-left" }
func (*TabLow) Code() string           { return "tab-low" }
func (*TabDoubtful) Code() string      { return "tab-low" }
func (*TabHangs) Code() string         { return "tab-low" }

func (*JustMeets) Weight() Weight    { return Warn }
func (f *WallStep) Weight() Weight   { return within(f.Step, f.Allowed) }
func (f *BoresApart) Weight() Weight { return within(f.Apart, f.Allowed) }

// within is the weight of what is wrong only beyond a limit.
func within(v, limit float64) Weight {
	if v <= limit {
		return Warn
	}
	return Stop
}

// Thin is where less is left than was asked for; 0 is nothing asked.
type Thin struct {
	Where
	Left  float64
	Asked float64
}

// Number is how many cuts go through, and how many were declared.
type Number struct {
	Where
	Found    int
	Declared int
	Left     float64 // mm, where too few: what the deepest cut that doesn't leaves; 0 where that isn't known
}

// What is left.
type (
	// WebThin: less is left than asked.
	WebThin struct{ Thin }
	// WebThinAtTolerance: less is left than asked once the misalignment and the thickness
	// tolerance are taken off.
	WebThinAtTolerance struct{ Thin }
	// WebUnproven: there are too many cuts to hold all against each other, so that less web may
	// be left than was found: no less than is left here. A warning where that is enough.
	WebUnproven struct{ Thin }
	// WallThin: the wood between a cut of the face and one of the back beside it is thinner
	// than the web asked for.
	WallThin struct{ Thin }
	// WallThinAtTolerance: the same once the misalignment and the thickness tolerance are taken
	// off.
	WallThinAtTolerance struct{ Thin }
	// TurnedWeb: on a part that turns freely on its plug the cuts of both sides come closer in
	// another turn than in the one that was cut.
	TurnedWeb struct{ Thin }
	// TurnedHole: on such a part a hole from both sides lies off the centre.
	TurnedHole struct {
		Where
		Off float64
	}
	// PartLoose: a part of the blank comes loose, freed by the line told. Its place is the
	// innermost, farthest from its rim, from cuts, bore and pins.
	PartLoose struct {
		Where
		Area  float64
		Clear float64 // how far that is from those; 0 where it is cut all over
		// Also are places of what is held without it, as named or by default, from the blank's
		// near-left corner: whoever names places takes the default away.
		Also [][2]float64
	}
	// CutOnTabs: a cut in a part after the groove around it, which leaves it on tabs; a warning,
	// since they may be strong enough.
	CutOnTabs struct{ Where }
)

func (*WebThin) Code() string             { return "web-thin" }
func (*WebThinAtTolerance) Code() string  { return "web-thin-at-tolerance" }
func (*WebUnproven) Code() string         { return "web-unproven" }
func (*WallThin) Code() string            { return "wall-thin" }
func (*WallThinAtTolerance) Code() string { return "wall-thin-at-tolerance" }
func (*TurnedWeb) Code() string           { return "turned" }
func (*TurnedHole) Code() string          { return "turned" }
func (*PartLoose) Code() string           { return "part-loose" }
func (*CutOnTabs) Code() string           { return "cut-on-tabs" }

func (*CutOnTabs) Weight() Weight { return Warn }
func (f *WebUnproven) Weight() Weight {
	if f.Left > f.Asked {
		return Warn
	}
	return Stop
}

// What the back is located by.
type (
	// MarginSevered: the face program severs the place of a pin from the part that the back
	// program cuts, so that it is no longer registered.
	MarginSevered struct {
		Where
		Pin int
	}
	// BoreBroken: the face program cuts into the wall of the bore.
	BoreBroken struct{ Where }
	// HoleBroken: the face program cuts into the wall of a pin's hole.
	HoleBroken struct {
		Where
		Pin int
	}
	// EdgeMachined: the face program machines an edge that the back will touch, its corners
	// aside.
	EdgeMachined struct {
		Where
		Edge  Edge
		Along float64 // what length
	}
)

func (*MarginSevered) Code() string { return "margin-severed" }
func (*BoreBroken) Code() string    { return "bore-broken" }
func (*HoleBroken) Code() string    { return "bore-broken" }
func (*EdgeMachined) Code() string  { return "edge-machined" }
