package cut

// Finding is one thing that is wrong: one of the kinds in kind.go. The words for it belong to
// report.
type Finding interface {
	Code() string // several kinds may share one
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
	last  int // the last line that was counted
}

// At gives the place itself, of whatever kind the finding is.
func (w *Where) At() *Where { return w }

// Line gives the line of its side, with its program.
func (w *Where) Line() (file string, line int) {
	if w.Side == Back {
		return w.BackFile, w.BackLine
	}
	return w.FaceFile, w.FaceLine
}

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

// order is the order in which findings are told, by code: what hurts most first.
var order = []string{
	"pin-cut", "fence-cut", "no-go-entered", "rapid-in-stock", "spindle-stopped", "shank-in-stock", "bed-cut", "travel-exceeded", "wrong-offset",
	"not-followed", "off-blank", "skim-short", "broken-through", "through-count", "through-missed", "through-step", "through-short", "through-short-at-tolerance",
	"ledge-left", "tab-low", "web-thin", "turned", "wall-thin", "web-thin-at-tolerance", "wall-thin-at-tolerance", "web-unproven", "margin-severed",
	"bore-broken", "edge-machined", "part-loose", "place-unknown", "compensated", "cells-coarse", "cut-on-tabs", "through-just-meets", "skim-unsaid", "vee-over-cone",
}
