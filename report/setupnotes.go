package report

// The codes of notes about a setup as a whole.
const (
	NoteUnits  = "units-default"  // no unit was given. Values: mm or in.
	NoteLevel  = "z-doubtful"     // Values: the Z given, the Z expected, "least" or "", the face's level, "other" or "".
	NoteTravel = "outside-travel" // a zero outside the travel. Values: side, axis, place, least, greatest.
)

var setupSentences = map[string]sentence{
	NoteUnits: func(v values, _ string) string {
		return "no unit was given: plain lengths are taken as " + v.at(0)
	},
	NoteLevel: func(v values, u string) string {
		level := map[string]string{"top": "the blank's top", "bed": "the seating plane"}
		s := "Z" + v.at(0) + " of the face zero can't be right: the table's height, the seat and the blank's thickness put " + level[v.at(3)]
		if v.at(2) != "" {
			s += " no lower than Z" + v.at(1) + ", with no tool at all"
		} else {
			s += ", with the tool that sticks out that far, at Z" + v.at(1)
		}
		if v.at(4) != "" {
			s += "; it suits " + level[map[string]string{"top": "bed", "bed": "top"}[v.at(3)]] + ", so look at z-zero"
		}
		return s + "; the back's Z is off with it"
	},
	NoteTravel: func(v values, _ string) string {
		return "the " + v.at(0) + "'s zero at " + v.at(1) + v.at(2) + " lies outside the travel, " + v.at(3) + " to " + v.at(4)
	},
}
