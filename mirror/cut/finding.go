package cut

// Code names a kind of finding; the words for it belong to report.
type Code string

// The kinds of finding. What Amount, Depth, Limit and Area hold is said for each;
// lengths in mm, areas in mm^2. Where face and back are compared, Depth is how deep
// the face is cut there.
const (
	// CodeThrough: a cut of one side meets a cut of the other where nothing says
	// that it should (see Through). Amount is the overlap, Area the size of the hole.
	CodeThrough Code = "broken-through"
	// CodeCount: another number of places is cut through than was declared. Amount is how many
	// there are, Limit how many were declared; of openings with Index 1, of outlines without.
	CodeCount Code = "through-count"
	// CodeWeb: less is left than asked. Amount is what is left, Limit what was asked.
	CodeWeb Code = "web-thin"
	// CodeWebTolerance: less is left than asked once the misalignment and the
	// thickness tolerance are taken off. Amount and Limit as above.
	CodeWebTolerance Code = "web-thin-at-tolerance"
	// CodeUnproven: there are too many cuts to hold all against each other, so that less web
	// may be left than was found. Amount is the least that can be, Limit what was asked.
	CodeUnproven Code = "web-unproven"
	// CodeWall: the wood between a cut of the face and one of the back beside it is
	// thinner than the web asked for. Amount is its thickness, Limit what was asked.
	CodeWall Code = "wall-thin"
	// CodeWallTolerance: the same once the misalignment and the thickness tolerance are
	// taken off.
	CodeWallTolerance Code = "wall-thin-at-tolerance"
	// CodeShort: two grooves that follow each other on both sides, deep enough to
	// be meant as one through cut, don't meet; or, with Side Face or Back, the groove of
	// one side around a part leaves less than the web asked for. Amount is what is left,
	// Limit the web asked for. With a Length a stretch of a cut that goes through does not.
	CodeShort Code = "through-short"
	// CodeShortTolerance: cuts of the two sides meet by less than the thickness may be off.
	// Amount is what is left at worst, Limit the thickness tolerance.
	CodeShortTolerance Code = "through-short-at-tolerance"
	// CodeMeets: a through cut has nothing to spare.
	CodeMeets Code = "through-just-meets"
	// CodeLedge: a cutter that came down on a helix left a ledge in a through hole. Amount
	// is how high it is at most, Area its size.
	CodeLedge Code = "ledge-left"
	// CodeTab: a tab is so low that it may break, or with Index 1 may not be there on a
	// blank that is off by the thickness tolerance; or with Index 2 it hangs on waste that
	// isn't held by a neck as wide as Limit, Amount wide there. Amount is its height, Limit the least.
	CodeTab Code = "tab-low"
	// CodeStep: a through cut has a step in its wall, between what the two sides cut; with
	// Index 1 the bores of a stepped hole lie off each other. Amount is the step, Limit
	// what is allowed.
	CodeStep Code = "through-step"
	// CodeMissed: face and back each have a closed groove of one size, together
	// deep enough to cut through, at different places; or each a round hole (Index 1).
	// Amount is how far apart.
	CodeMissed Code = "through-missed"
	// CodeOffBlank: most of a program's cutting runs beside the blank or, with Limit, a cut
	// further off than that. Amount is how
	// far beside it at most, Index the axis (0 X, 1 Y).
	CodeOffBlank Code = "off-blank"
	// CodeTurned: on a part that turns freely on its plug the cuts of both sides come
	// closer in another turn than in the one that was cut: Amount is the web then, Limit
	// the least asked. With Index 1 it is a hole from both sides, Amount off the centre.
	CodeTurned Code = "turned"
	// CodeRapid: a rapid move meets stock. Depth is how far below what is there.
	CodeRapid Code = "rapid-in-stock"
	// CodeNotFollowed: a move that isn't cut where it really runs, Index says why.
	CodeNotFollowed Code = "not-followed"
	// CodeShank: uncut stock stands beside the cutter above its flutes. Depth is by
	// how much, Limit the flute length.
	CodeShank Code = "shank-in-stock"
	// CodeCone: stock stands beside a vee above its cone, where nothing says that it has
	// flutes. Depth is by how much, Limit the cone's height.
	CodeCone Code = "vee-over-cone"
	// CodeStopped: cuts with the spindle stopped, in a program that isn't the only one or
	// that starts it elsewhere.
	CodeStopped Code = "spindle-stopped"
	// CodePin: the cutter runs into pin Index. Amount is how far it overlaps in
	// plan, Depth how far it reaches below the pin's top.
	CodePin Code = "pin-cut"
	// CodeFence: the cutter runs into the fence or stop Index of its side's station (see
	// Request.Locators). Amount is how far past the edge, Depth how far below its top.
	CodeFence Code = "fence-cut"
	// CodeNoGo: the cutter enters no-go rectangle Index. Amount is how far.
	CodeNoGo Code = "no-go-entered"
	// CodeBed: the cutter goes into the bed. Amount is how deep, Limit what is
	// allowed.
	CodeBed Code = "bed-cut"
	// CodeTravel: a move leaves the travel of axis Index (0 X, 1 Y, 2 Z). Amount is
	// by how much; Limit is the end of the travel, in machine coordinates.
	CodeTravel Code = "travel-exceeded"
	// CodeLoose: a part of the blank comes loose at the line given. Area is its size,
	// Amount how far the place, its innermost, lies from its rim.
	CodeLoose Code = "part-loose"
	// CodeEarly: a cut in a part after the groove around it, which leaves it on tabs.
	CodeEarly Code = "cut-on-tabs"
	// CodeMargin: the face program severs the place of pin Index from the part that
	// the back program cuts, so that it is no longer registered.
	CodeMargin Code = "margin-severed"
	// CodeBore: the face program cuts into the wall of the bore (Index -1) or of the
	// hole of pin Index. Depth is how deep.
	CodeBore Code = "bore-broken"
	// CodeEdge: the face program machines the edge (Index, an Edge) that the back
	// will touch, its corners aside. Depth is how deep, Amount along what length.
	CodeEdge Code = "edge-machined"
	// CodeOffset: a move under another work offset than its station's. Index is the
	// offset (540 for G54 and so on).
	CodeOffset Code = "wrong-offset"
	// CodeCoarse: the cells are too large to show all that tool Index does. Amount is the
	// cell, Limit what the tool needs, Depth its diameter.
	CodeCoarse Code = "cells-coarse"
	// CodePlace: a cutting move whose place isn't known, and which is left out.
	CodePlace Code = "place-unknown"
	// CodeCompensated: the cutter's real way on a move under cutter radius compensation
	// can't be followed. Index is the reason (CompTight and so on), Limit the cutter's
	// radius.
	CodeCompensated Code = "compensated"
)

// Side says whose cut a finding is about.
type Side uint8

// The sides of a finding.
const (
	Face Side = iota
	Back
	Both
)

// String gives the side's name.
func (s Side) String() string { return [...]string{"face", "back", "both"}[s] }

// Spot is a place, in the coordinates of the face program, and the lines that cut there, 0
// where there is none.
type Spot struct {
	X, Y     float64
	FaceFile string // names of the programs that the lines are in
	BackFile string
	FaceLine int
	BackLine int
}

// Finding is one thing that is wrong, at a place where Placed.
type Finding struct {
	Code   Code
	Side   Side
	Placed bool
	Spot
	Elsewhere *[2]float64 // where the back's cut lies, if that is another place
	Depth     float64
	Amount    float64
	Limit     float64
	Area      float64
	Length    float64
	Index     int
	Count     int // how many lines or places there are of this kind, this one included
}

// setLine puts a line on the side it belongs to.
func (f *Spot) setLine(side, line int) {
	if side == faceSide {
		f.FaceLine = line
	} else {
		f.BackLine = line
	}
}
