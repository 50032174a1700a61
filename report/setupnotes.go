package report

// The codes of notes about a setup as a whole.
const (
	NoteUnits  = "units-default"  // no unit was given. Values: mm or in.
	NoteTravel = "outside-travel" // a zero outside the travel. Values: side, axis, place, least, greatest.
)

var setupSentences = map[string]sentence{
	NoteUnits: func(v values, _ string) string {
		return "no unit was given: plain lengths are taken as " + v.at(0)
	},
	NoteTravel: func(v values, _ string) string {
		return "the " + v.at(0) + "'s zero at " + v.at(1) + v.at(2) + " lies outside the travel, " + v.at(3) + " to " + v.at(4)
	},
}
