package words

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// Time is a number of seconds, which is handed on with one decimal.
type Time float64

func (t Time) String() string { return letters.Rounded(t, 1) }

// What a production run's cautions and assumptions are about.
type (
	// LoadingWhileMoving: the other stations are loaded while the machine moves.
	LoadingWhileMoving struct{}
	// DryRunEach: each program is run above the work first.
	DryRunEach struct {
		Programs []string `json:"-"`
	}
	// GuardWithoutUse: loading behind a guard, and no station is free until the cycle ends.
	GuardWithoutUse struct{}
	// Parked: the cutter is taken aside between cycles.
	Parked struct {
		At string `json:"-"`
	}
	// NotParked: it isn't; Ends are the offsets over which each program leaves it.
	NotParked struct {
		Programs []string `json:"-"`
		Ends     []string
	}
	// ToolChangePlace: tools are assumed to be changed where the cutter stands.
	ToolChangePlace struct{}
	// RestartLines: the lines from which a program may be run again.
	RestartLines struct {
		Program string
		At      []Restart
	}
	// Restart is one of them, and its tool, -1 where none is named.
	Restart struct {
		Line int
		Tool int `json:"-"`
	}
	// PauseWithoutUse: a pause that isn't written, as hands act after the program's end alone.
	PauseWithoutUse struct{ Pause string }
	// OptionalStop: a pause that the control may skip.
	OptionalStop struct{ Pause string }
	// AirAtEmptyStations: the last cycle cuts where no blank lies.
	AirAtEmptyStations struct{}
	// ClearHeightReckoned: the machine Z over everything, and what is highest.
	ClearHeightReckoned struct {
		Z    decimal.Decimal
		Over string // as bed.Clear has it
		Room decimal.Decimal
	}
	// ClearHeightFixtures: offsets whose fixtures' heights aren't known.
	ClearHeightFixtures struct{ Offsets []string }
	// MorePartsAnHour: what would give more parts an hour than the run has now.
	MorePartsAnHour struct {
		Now  Time `json:"-"`
		Ways []Better
	}
	// Better is one way: the other order, loading behind a guard, or one more pair.
	Better struct {
		PerHour Time
		Way     string `json:"-"`
	}
	// OffsetsLeft: the offsets that remain free where stations were placed.
	OffsetsLeft struct {
		Left     []string
		Extended bool `json:"-"` // the control has G59.1 to G59.3
	}
	// PlacesUnknown: times leave out the way between the stations.
	PlacesUnknown struct{}
	// StationsApart: the stations' places aren't known, so that they may overlap.
	StationsApart struct{}
	// G53Default: the control is taken to have G53.
	G53Default struct{}
	// TimesEstimated: all times are.
	TimesEstimated struct{}
	// LoadTimeDefault: how long a station takes to unload and load.
	LoadTimeDefault struct{ Seconds Time }
	// TouchOffNotCounted: how often Z is touched off anew in each cycle.
	TouchOffNotCounted struct{ Times int }
	// ChangeTimeDefault: how long a tool change takes.
	ChangeTimeDefault struct{ Seconds Time }
	// RatesDefault: rapid rates and accelerations.
	RatesDefault struct{}
	// SetUpNotCounted: the second station's setting up.
	SetUpNotCounted struct{}
	// NotMerged: why a job has no programs for its cycles.
	NotMerged struct {
		Programs []string `json:"-"`
		Why      string   `json:"-"`
	}
	// MergedCuts: why the programs of the cycles need no check of their own.
	MergedCuts struct {
		Programs []string `json:"-"`
	}
	// StaleProgram: a program of an earlier run that the job doesn't write any more.
	StaleProgram struct{}
	// BackAsRun: a back program that no earlier pass has mirrored or passed as written.
	BackAsRun struct{}
)

// The ways to more parts an hour.
const (
	ByTools    = "with --order tools"
	ByStations = "with --order stations"
	Guarded    = "with --order stations and load guarded, where each station is guarded"
	OneMore    = "with one more pair, where the bed has room"
)

// planFact: what a production run rests on, and what the hands must heed.
func planFact(is any, _ string) string {
	switch f := is.(type) {
	case LoadingWhileMoving:
		return "the machine moves while you load: guard each station; or load with it held (load held)"
	case DryRunEach:
		return "dry run " + letters.List(f.Programs) + " above the work, each before its first blank"
	case GuardWithoutUse:
		return "with --order tools no station is free until the cycle ends; load with the machine held"
	case Parked:
		return "between cycles the cutter is parked at " + f.At + ", at the clear height, spindle stopped"
	case NotParked:
		return "move the cutter aside before hands go in, or give park X,Y; " + leavesIt(f.Programs, f.Ends) + ", at the clear height"
	case ToolChangePlace:
		return "give tool-change in the machine file; tools are assumed to be changed where the cutter stands"
	case RestartLines:
		var at []string
		for _, r := range f.At {
			line := "line " + strconv.Itoa(r.Line)
			if r.Tool >= 0 {
				line += " (T" + strconv.Itoa(r.Tool) + ")"
			}
			at = append(at, line)
		}
		return f.Program + ": restart only at " + strings.Join(at, ", ")
	case PauseWithoutUse:
		return f.Pause + " isn't written: with --order tools hands act only after the program's end"
	case OptionalStop:
		return f.Pause + " stops only while the control's optional stop is switched on"
	case AirAtEmptyStations:
		return "the tool also cuts at empty stations: leave nothing there"
	case ClearHeightReckoned:
		over := clearOver(f.Over)
		room := " just clears " + over
		if !f.Room.IsZero() {
			room = " passes " + f.Room.String() + " over " + over
		}
		return "set all clamps and dowels below the clear height, machine Z" + f.Z.String() + "; there the longest tool" + room
	case ClearHeightFixtures:
		return "check that the clear height passes over " + letters.List(f.Offsets) + ": their height isn't known"
	case NotMerged:
		return letters.List(f.Programs) + " not written; run each program by itself; " + f.Why
	case MergedCuts:
		return letters.List(f.Programs) + ": proved to move, in order, as the programs cut here"
	case StaleProgram:
		return "is of an earlier run: don't run it"
	case BackAsRun:
		return "is run on the back as it is; if drawn from the face, mirror it first (verb mirror)"
	}
	return timeFact(is)
}

// timeFact: what a run's times rest on, and what would change them.
func timeFact(is any) string {
	switch f := is.(type) {
	case MorePartsAnHour:
		var ways []string
		for _, w := range f.Ways {
			ways = append(ways, w.PerHour.String()+" "+w.Way)
		}
		return "more parts an hour than " + f.Now.String() + ": " + strings.Join(ways, "; ")
	case OffsetsLeft:
		return offsetsLeft(f)
	case PlacesUnknown:
		return "stations' places not known: times leave out the way between them"
	case StationsApart:
		return "check that the offsets' stations are apart: each cycle cuts at both"
	case G53Default:
		return "G53 moves assumed to work (g53 in the machine file)"
	case TimesEstimated:
		return "times are estimates; with less look-ahead a control takes longer"
	case LoadTimeDefault:
		return "unloading and loading a station assumed to take " + letters.Seconds(f.Seconds) + " (load-time)"
	case TouchOffNotCounted:
		return "touch off Z anew " + letters.Word(f.Times, "once", strconv.Itoa(f.Times)+" times") + " in each cycle; include it in load-time"
	case ChangeTimeDefault:
		return "a tool change assumed to take " + letters.Seconds(f.Seconds) + " (change-time)"
	case RatesDefault:
		return "rapid rates and accelerations assumed as a small router's"
	case SetUpNotCounted:
		return "break-even leaves out setting up the second station (setup-time)"
	}
	return ""
}

// leavesIt says over which stations the first, the steady and the last program leave the
// cutter.
func leavesIt(programs, ends []string) string {
	over := letters.List(programs[1:]) + " over " + ends[1]
	if ends[1] != ends[2] {
		over = programs[1] + " over " + ends[1] + ", " + programs[2] + " over " + ends[2]
	}
	return programs[0] + " leaves it over " + ends[0] + ", " + over
}

// clearOver names what a clear height is reckoned from.
func clearOver(over string) string {
	switch over {
	case bed.BlankTop:
		return "the highest blank"
	case bed.StandTop:
		return "what locates the blank"
	case bed.ProgramLevel:
		return "the programs' highest crossing"
	}
	return "what stands at " + over
}

func offsetsLeft(f OffsetsLeft) string {
	left := "no offset"
	if len(f.Left) > 0 {
		left = letters.List(f.Left)
	}
	more := "none for a further pair"
	if n := len(f.Left) / 2; n > 0 {
		more = "enough for " + letters.Plural(n, "further pair", "further pairs")
	}
	s := left + " free, " + more
	if !f.Extended {
		s += "; with G59.1 to G59.3 there are nine (extended = true)"
	}
	return s
}
