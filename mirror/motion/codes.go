package motion

// group is a modal group of G or M words; a block may hold one word of each
// (NISTIR 6556, table 4).
type group uint8

const (
	none group = iota
	motionGroup
	planeGroup
	distanceGroup
	centreGroup
	feedGroup
	unitGroup
	compGroup
	lengthGroup
	returnGroup
	offsetGroup
	pathGroup
	actionGroup // NISTIR's group 0 except G53
	machineGroup
	exactGroup  // G9
	endGroup    // G80, which may stand beside G0 to G3
	cancelGroup // G67, G97: cancel what is refused anyway
	polarGroup  // G15, G16
	smoothGroup // G187
	mirrorGroup // G50.1, which ends what is refused anyway
	scaleGroup  // G50 alone: scaling off
	aheadGroup  // G8 with P, G103: look-ahead
	stopGroup
	changeGroup
	spindleGroup
	coolantGroup
	mistGroup // M7, which may stand beside M8
	overrideGroup
	callGroup // M98, M99
	groups
)

// groupOf gives the group of a G word, its number times ten; none where the code
// isn't followed.
func groupOf(code int) group {
	switch code {
	case 0, 10, 20, 30, 50, 51, 730, 810, 820, 830, 840, 850, 860, 870, 880, 890:
		return motionGroup
	case 800:
		return endGroup
	case 170, 180, 190:
		return planeGroup
	case 900, 910:
		return distanceGroup
	case 901, 911:
		return centreGroup
	case 930, 940, 950:
		return feedGroup
	case 200, 210, 700, 710:
		return unitGroup
	case 400, 410, 420, 411, 421:
		return compGroup
	case 430, 440, 490:
		return lengthGroup
	case 980, 990:
		return returnGroup
	case 540, 541, 550, 560, 570, 580, 590, 591, 592, 593:
		return offsetGroup
	case 610, 611, 640:
		return pathGroup
	case 40, 120, 130, 280, 300, 510, 520, 680, 690, 920, 921, 922, 923:
		return actionGroup
	case 530:
		return machineGroup
	case 90:
		return exactGroup
	case 670, 970:
		return cancelGroup
	case 150, 160:
		return polarGroup
	case 1870:
		return smoothGroup
	case 500:
		return scaleGroup
	case 501:
		return mirrorGroup
	case 80, 1030:
		return aheadGroup
	}
	return none
}

// mGroupOf gives the group of an M word; none where the code isn't followed.
func mGroupOf(code int64) group {
	switch code {
	case 0, 1, 2, 30, 60:
		return stopGroup
	case 6:
		return changeGroup
	case 3, 4, 5, 13, 14:
		return spindleGroup
	case 7:
		return mistGroup
	case 8, 9:
		return coolantGroup
	case 48, 49:
		return overrideGroup
	case 98, 99:
		return callGroup
	}
	return none
}

// inert reports an M code that moves no axis and changes nothing that a move rests
// on: clamps, spindle orientation, rigid tapping, chip conveyors, gears, outputs and
// coolant through the spindle (common practice, not in NISTIR 6556).
func inert(code int64) bool {
	switch code {
	case 10, 11, 19, 29, 31, 33, 40, 41, 42, 43, 44, 45, 62, 63, 64, 65, 88, 89:
		return true
	}
	return false
}
