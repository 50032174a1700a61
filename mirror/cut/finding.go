package cut

// Finding is one thing that is wrong: one of the kinds in kind.go. The words for it belong to
// report.
type Finding interface {
	Code() Code
	Weight() Weight
	At() *Where
	object() any     // the pin, area, axis or reason that it is about: each is told for itself
	amount() float64 // how bad it is among those of its object
}

// Weight is what a finding comes to.
type Weight uint8

// The weights.
const (
	Stop Weight = iota // the answer is no
	Warn               // the maker decides
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

// setLine puts a line on the side it belongs to.
func (f *Spot) setLine(side, line int) {
	if side == faceSide {
		f.FaceLine = line
	} else {
		f.BackLine = line
	}
}

// Where says where a finding is.
type Where struct {
	Side   Side
	Placed bool // X and Y are known
	Spot
	Elsewhere *[2]float64 // where the back's cut lies, if that is another place
	// Depth is how far the cutter reaches down into what it meets, mm; where face and back are
	// compared, how deep the face is cut.
	Depth float64
	Count int // how many lines or places there are of this kind, this one included
}

// At gives the place itself, of whatever kind the finding is.
func (w *Where) At() *Where { return w }

// Weight is Stop, unless a kind says otherwise.
func (w *Where) Weight() Weight { return Stop }

func (w *Where) object() any     { return nil }
func (w *Where) amount() float64 { return 0 }

// onSide is where a side's line cuts.
func onSide(side int, at Spot, line int) Where {
	w := Where{Side: Side(side), Placed: true, Spot: at, Count: 1}
	w.setLine(side, line)
	return w
}

// Hit says whether a finding is about a cutter, its shank or a rapid move running into
// something.
func Hit(f Finding) bool {
	switch f.(type) {
	case *PinCut, *FenceCut, *NoGoEntered, *RapidInStock, *ShankInStock, *BedCut:
		return true
	}
	return false
}

// Code names a kind of finding, or what several kinds come to, for who reads findings by code.
type Code string

// The codes.
const (
	CodePin            Code = "pin-cut"
	CodeFence          Code = "fence-cut"
	CodeNoGo           Code = "no-go-entered"
	CodeRapid          Code = "rapid-in-stock"
	CodeStopped        Code = "spindle-stopped"
	CodeShank          Code = "shank-in-stock"
	CodeBed            Code = "bed-cut"
	CodeTravel         Code = "travel-exceeded"
	CodeOffset         Code = "wrong-offset"
	CodeNotFollowed    Code = "not-followed"
	CodeOffBlank       Code = "off-blank"
	CodeThrough        Code = "broken-through"
	CodeCount          Code = "through-count"
	CodeMissed         Code = "through-missed"
	CodeStep           Code = "through-step"
	CodeShort          Code = "through-short"
	CodeShortTolerance Code = "through-short-at-tolerance"
	CodeLedge          Code = "ledge-left"
	CodeTab            Code = "tab-low"
	CodeWeb            Code = "web-thin"
	CodeTurned         Code = "turned"
	CodeWall           Code = "wall-thin"
	CodeWebTolerance   Code = "web-thin-at-tolerance"
	CodeWallTolerance  Code = "wall-thin-at-tolerance"
	CodeUnproven       Code = "web-unproven"
	CodeMargin         Code = "margin-severed"
	CodeBore           Code = "bore-broken"
	CodeEdge           Code = "edge-machined"
	CodeLoose          Code = "part-loose"
	CodePlace          Code = "place-unknown"
	CodeCompensated    Code = "compensated"
	CodeCoarse         Code = "cells-coarse"
	CodeEarly          Code = "cut-on-tabs"
	CodeMeets          Code = "through-just-meets"
	CodeCone           Code = "vee-over-cone"
)

// order is the order in which findings are told: what hurts most first.
var order = []Code{CodePin, CodeFence, CodeNoGo, CodeRapid, CodeStopped, CodeShank, CodeBed, CodeTravel, CodeOffset, CodeNotFollowed, CodeOffBlank, CodeThrough, CodeCount, CodeMissed,
	CodeStep, CodeShort, CodeShortTolerance, CodeLedge, CodeTab, CodeWeb, CodeTurned, CodeWall, CodeWebTolerance, CodeWallTolerance, CodeUnproven, CodeMargin, CodeBore, CodeEdge, CodeLoose, CodePlace, CodeCompensated, CodeCoarse, CodeEarly, CodeMeets, CodeCone}
