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

func (*PinCut) Code() Code       { return CodePin }
func (*FenceCut) Code() Code     { return CodeFence }
func (*NoGoEntered) Code() Code  { return CodeNoGo }
func (*BedCut) Code() Code       { return CodeBed }
func (*RapidInStock) Code() Code { return CodeRapid }
func (*ShankInStock) Code() Code { return CodeShank }
func (*VeeOverCone) Code() Code  { return CodeCone }

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
	// CellsCoarse: the cells are too large to show all that a tool does.
	CellsCoarse struct {
		Where
		Tool     int // number
		Diameter float64
		Cell     float64
		Shown    float64 // the largest cell that shows it
	}
)

func (*SpindleStopped) Code() Code { return CodeStopped }
func (*TravelExceeded) Code() Code { return CodeTravel }
func (*WrongOffset) Code() Code    { return CodeOffset }
func (*NotFollowed) Code() Code    { return CodeNotFollowed }
func (*PlaceUnknown) Code() Code   { return CodePlace }
func (*Compensated) Code() Code    { return CodeCompensated }
func (*OffBlank) Code() Code       { return CodeOffBlank }
func (*MostlyOffBlank) Code() Code { return CodeOffBlank }
func (*CellsCoarse) Code() Code    { return CodeCoarse }

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
	OutlineCount struct {
		Where
		Found    int
		Declared int
	}
	// OpeningCount: another number of openings, likewise.
	OpeningCount struct {
		Where
		Found    int
		Declared int
	}
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
	// GrooveShort: the groove of one side around a part leaves less than the web asked for.
	GrooveShort struct{ Thin }
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
		Area   float64
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

func (*BrokenThrough) Code() Code    { return CodeThrough }
func (*BrokenOut) Code() Code        { return CodeThrough }
func (*ScantOverlap) Code() Code     { return CodeThrough }
func (*OutlineCount) Code() Code     { return CodeCount }
func (*OpeningCount) Code() Code     { return CodeCount }
func (*OutlinesMissed) Code() Code   { return CodeMissed }
func (*HolesMissed) Code() Code      { return CodeMissed }
func (*WallStep) Code() Code         { return CodeStep }
func (*BoresApart) Code() Code       { return CodeStep }
func (*GroovesShort) Code() Code     { return CodeShort }
func (*GrooveShort) Code() Code      { return CodeShort }
func (*StretchShort) Code() Code     { return CodeShort }
func (*PlaceShort) Code() Code       { return CodeShort }
func (*ShortAtTolerance) Code() Code { return CodeShortTolerance }
func (*JustMeets) Code() Code        { return CodeMeets }
func (*LedgeLeft) Code() Code        { return CodeLedge }
func (*TabLow) Code() Code           { return CodeTab }
func (*TabDoubtful) Code() Code      { return CodeTab }
func (*TabHangs) Code() Code         { return CodeTab }

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
	// PartLoose: a part of the blank comes loose.
	PartLoose struct {
		Where
		Area  float64
		Clear float64 // how far the place, its innermost, lies from its rim
	}
	// CutOnTabs: a cut in a part after the groove around it, which leaves it on tabs; a warning,
	// since they may be strong enough.
	CutOnTabs struct{ Where }
)

func (*WebThin) Code() Code             { return CodeWeb }
func (*WebThinAtTolerance) Code() Code  { return CodeWebTolerance }
func (*WebUnproven) Code() Code         { return CodeUnproven }
func (*WallThin) Code() Code            { return CodeWall }
func (*WallThinAtTolerance) Code() Code { return CodeWallTolerance }
func (*TurnedWeb) Code() Code           { return CodeTurned }
func (*TurnedHole) Code() Code          { return CodeTurned }
func (*PartLoose) Code() Code           { return CodeLoose }
func (*CutOnTabs) Code() Code           { return CodeEarly }

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

func (*MarginSevered) Code() Code { return CodeMargin }
func (*BoreBroken) Code() Code    { return CodeBore }
func (*HoleBroken) Code() Code    { return CodeBore }
func (*EdgeMachined) Code() Code  { return CodeEdge }
