package registration

import (
	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// SecondZero is where the back program's zero goes.
type SecondZero struct {
	Offset string          // the offset to store it in, for example "G55"
	X, Y   decimal.Decimal // in machine coordinates, or from the face zero
	Z      *decimal.Decimal
	// Machine says that X, Y and Z are machine coordinates; otherwise they are
	// measured from the face zero. Z is nil if X and Y are machine coordinates
	// and the face zero's Z isn't known.
	Machine bool
}

// At is the zero's place in X and Y.
func (z *SecondZero) At() Point { return Point{z.X, z.Y} }

// Moved gives the zero at another place in X and Y; nil stays nil.
func (z *SecondZero) Moved(to func(Point) Point) *SecondZero {
	if z == nil {
		return nil
	}
	out := *z
	p := to(z.At())
	out.X, out.Y = p.X, p.Y
	return &out
}

// Touch says which physical edge of the blank meets the locators that place it
// along one axis on the two sides. Edges are named as the blank lay face up.
type Touch struct {
	Locator     string `json:"locator"`      // "fence" or "stop": what stands there at the face station
	BackLocator string `json:"back_locator"` // the same at the back station, nearly always the same word
	Side        Side   `json:"side"`         // where the locator stands at the face station
	BackSide    Side   `json:"back_side"`    // where it stands at the back station
	FaceEdge    Side   `json:"face_edge"`    // the physical edge that touches with the face up
	BackEdge    Side   `json:"back_edge"`    // the physical edge that touches with the back up
	SameEdge    bool   `json:"same_edge"`
	Across      bool   `json:"across"` // the locator places the blank across the flip line
	// Shared says that one and the same locator, unmoved, places both sides.
	Shared bool `json:"-"`
	// KeepSide is the back-station side that would touch the same edge.
	KeepSide Side `json:"keep_side,omitempty"`
	// KeepFlip is the other flip, which keeps the edge with the locator where it
	// is; FlipUnset where this flip keeps it.
	KeepFlip Flip `json:"keep_flip,omitempty"`
	// KeepFlipSpoils says that KeepFlip would change the other locator's edge,
	// which this flip keeps.
	KeepFlipSpoils bool `json:"-"`

	FaceCoord  decimal.Decimal `json:"face_coordinate"` // machine coordinate, or from the face zero
	BackCoord  decimal.Decimal `json:"back_coordinate"`
	CoordKnown bool            `json:"-"` // FaceCoord is a machine coordinate
	BackKnown  bool            `json:"-"` // BackCoord is a machine coordinate
}

// Why a lay-up doesn't fit, in LayUp.Reason.
const (
	ReasonPlaces    = "places"    // no shift brings the holes over the pins
	ReasonDiameters = "diameters" // their sizes differ
	ReasonFlat      = "flat"      // the flats of bore and plug lie on different sides
)

// The names of the four lay-ups.
const (
	LayAsIs   = "as is"
	LayFlipX  = "flip x"
	LayFlipY  = "flip y"
	LayTurned = "turned 180"
)

// LayUp is one of the four ways in which the blank can be put on its pins at the
// back station.
type LayUp struct {
	Name    string `json:"name"` // "as is", "flip x", "flip y", "turned 180"
	Fits    bool   `json:"fits"`
	Wanted  bool   `json:"wanted"`            // the lay-up the job asks for
	Shift   Point  `json:"-"`                 // how far the blank lands from the wanted place where it fits
	Reason  string `json:"-"`                 // why it doesn't fit: ReasonPlaces or ReasonDiameters
	Pairing []int  `json:"pairing,omitempty"` // Pairing[i] is the pin that hole i goes onto
	// Turn is how far it lies askew where clearance lets it on only so, in degrees,
	// counter-clockwise, rounded to the second decimal.
	Turn decimal.Decimal `json:"turn,omitzero"`
	// Miss is for a lay-up that doesn't fit: how much more radial clearance at every
	// pin would let it on, at least. Near says that a push of the hand does.
	Miss decimal.Decimal `json:"-"`
	Near bool            `json:"-"`
}

// Answer is the second zero with everything that it rests on.
type Answer struct {
	Question  Question // as used, with the defaults filled in
	Used      Blank    // nominal or measured size, thickness as it stands at the turn
	Transform transform.Map
	// BackTurn is by how much the blank lies turned for the back, so that a back program as
	// written is turned about the back zero, in degrees counter-clockwise. Transform has it.
	BackTurn decimal.Decimal
	// FaceTurn is the same for the face's programs: at a station that is turned as a whole.
	FaceTurn Quarter
	own      *Answer // where it is: the answer in a frame that is turned with it
	FaceZero Point   // a: the face zero in the face's as-laid frame, on the piece in hand
	BackZero Point   // b: the back zero in the back's as-laid frame, on the piece in hand

	// FaceCorner is L1 and BackCorner L2: where the blank's near-left corner
	// lies at the face and at the back station, in machine coordinates if
	// FaceMachine or Machine say so, else from the face zero. BackCorner is nil
	// without a register. Machine can be true alone: a second station given in
	// machine coordinates needs no face zero.
	FaceMachine, Machine bool
	FaceCorner           Point
	BackCorner           *Point
	// FaceAt is the face zero in machine coordinates, nil if unknown.
	FaceAt *Position
	Second *SecondZero // nil without a register
	// Rise is how far the second zero lies above the face zero in Z.
	Rise decimal.Decimal
	// NominalZero is where the second zero goes for a back program that was
	// mirrored with the nominal size instead of the measured one. It is nil
	// where the two are the same.
	NominalZero *SecondZero

	Touches []Touch // fence and stop, or the fence that clocks a plug
	LayUps  []LayUp // dowels, or a plug with its index pin
	// Foolproof says that no wrong lay-up fits: neither the other flip nor the
	// blank turned by 180 degrees. It is false without LayUps.
	Foolproof bool
	// FacePins and BackPins are where hole i stands at the face and at the back
	// station, in the frames of FaceCorner and BackCorner.
	FacePins, BackPins []Pin
	// FlipLine is m for dowels that serve both sides: the pattern maps onto
	// itself about the line m from the face's left edge (flip y) or near edge.
	FlipLine *decimal.Decimal
	PlugAt   *Point // plug: its centre at the back station
	ClockAt  *Point // plug with a index pin: the pin's place at the back station
	// Spots are the places of a blank that is touched, in the order of their numbers.
	Spots []Place
	Turn  *Turn // plug: how far the blank can still shift and turn on it
	Lie   *Lie  // touched: how the blank lies, and by how much the back program must be turned

	Facts []Fact
}

// Uncut is the thickness of the blank as it lies with the face up, before a skim of
// the face, in the question's unit.
func (a *Answer) Uncut() decimal.Decimal { return a.Used.T.Add(a.Question.Skimmed) }
