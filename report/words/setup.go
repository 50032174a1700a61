package words

import (
	"strings"

	"flipcalc/report/letters"
)

// The codes of notes about a setup as a whole.
const (
	NoteUnits          = "units-default"   // no unit was given. Values: mm or in.
	NoteLevel          = "z-doubtful"      // Values: the Z given, the Z expected, "least" or "", the face's level, "other" or "".
	NoteTravel         = "outside-travel"  // a zero or a blank outside the travel. Values: side, axis, place, least, greatest, zero or blank.
	NoteTight          = "no-clamp-room"   // blanks placed near the end of the travel. Values: the sides, how far from it at least, and its unit.
	NoteReach          = "reach"           // what was counted of the cutters where stations were placed. Values: the widest cutter or "", "programs" or "".
	NoteOneStation     = "one-station"     // nothing asks for a second one
	NoteOn             = "blank-on"        // a blank lies where something stands. Values: face or back, what stands there.
	NotePinHeights     = "pin-heights"     // by length less hole depth. Values: least and greatest, and the blank's thickness where they stand out of it.
	NoteFenceHeight    = "fence-height"    // Values: the locators, their height.
	NoteStationUnknown = "station-unknown" // what isn't checked for that. Values: face, back, face and back, or "" for both, what (list), what to do.
	NoteTravelUnknown  = "travel-unknown"
	NoteNoBudget       = "no-budget"
	NoteAbove          = "z-positive" // a machine Z over 0 where the travel isn't known. Values: the Z.
)

var setupSentences = map[string]sentence{
	NoteUnits: func(v values, _ string) string {
		return "plain lengths taken as " + v.at(0)
	},
	NoteLevel: func(v values, u string) string {
		level := map[string]string{"top": "the blank's top", "bed": "the seating plane"}
		s := "Z" + v.at(0) + " of the face zero can't be right; table, seat and thickness put " + level[v.at(3)]
		if v.at(2) != "" {
			s += " at Z" + v.at(1) + " or higher"
		} else {
			s += " at Z" + v.at(1)
		}
		if v.at(4) != "" {
			s += "; it suits " + level[map[string]string{"top": "bed", "bed": "top"}[v.at(3)]] + ": check z-zero"
		}
		return s + "; the back's Z is off too"
	},
	NoteReach: func(v values, u string) string {
		switch {
		case v.at(1) != "":
			return "no cutter given: paths counted without the cutters' width"
		case v.at(0) != "":
			return "no program given: a cutter of " + v.at(0) + " " + u + " counted along the blank's edges"
		}
		return "no program and no cutter given: no cutter's reach counted"
	},
	NoteOneStation: func(values, string) string {
		return "one station, where the blank is turned over: pairs = 1 places a second one"
	},
	NoteOn: func(v values, _ string) string {
		return "the " + v.at(0) + "'s blank is over " + v.at(1) + ": move one of them"
	},
	NoteTravel: func(v values, _ string) string {
		if v.at(5) == "blank" {
			return "the " + v.at(0) + "'s blank reaches " + v.at(1) + v.at(2) + ", outside the travel, " + v.at(3) + " to " + v.at(4)
		}
		return "the " + v.at(0) + "'s zero at " + v.at(1) + v.at(2) + " is outside the travel, " + v.at(3) + " to " + v.at(4)
	},
	NoteTight: func(v values, _ string) string {
		return "no room for clamps on the " + v.at(0) + " side: travel ends in " + v.at(1) + " " + v.at(2) + "; give fixture"
	},
	NotePinHeights: func(v values, u string) string {
		s := "dowels " + v.at(0)
		if v.at(1) != v.at(0) {
			s += " to " + v.at(1)
		}
		s += " " + u + " over the bed at most, by length less hole depth; set pin-height if not"
		if v.at(2) != "" {
			s += "; they stand out of the blank, " + v.at(2) + " thick"
		}
		return s
	},
	NoteFenceHeight: func(v values, u string) string {
		return v.at(0) + " assumed " + v.at(1) + " " + u + " over the bed, as high as the blank; along the whole edge but a cutter's width at its corners; set fence-height if not"
	},
	NoteStationUnknown: func(v values, _ string) string {
		s := letters.List(strings.Split(v.at(1), ", ")) + " not checked"
		if v.at(0) != "" {
			s += " on the " + v.at(0)
		}
		return s + ": " + v.at(2)
	},
	NoteTravelUnknown: fixed("travel not known and not checked"),
	NoteNoBudget:      fixed("no register given: web checked without misalignment"),
	NoteAbove: func(v values, _ string) string {
		return "machine Z is usually negative (home at the top): check the sign of Z" + v.at(0)
	},
}
