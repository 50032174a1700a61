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
	callGroup  // M98, M99
	inertGroup // moves no axis; any number of them in a block
	groups
)

// gGroups holds the groups of the G words that are followed, their numbers times ten.
var gGroups = byCode(map[group][]int{
	motionGroup:   {0, 10, 20, 30, 50, 51, 730, 810, 820, 830, 840, 850, 860, 870, 880, 890},
	endGroup:      {800},
	planeGroup:    {170, 180, 190},
	distanceGroup: {900, 910},
	centreGroup:   {901, 911},
	feedGroup:     {930, 940, 950},
	unitGroup:     {200, 210, 700, 710},
	compGroup:     {400, 410, 420, 411, 421},
	lengthGroup:   {430, 440, 490},
	returnGroup:   {980, 990},
	offsetGroup:   {540, 541, 550, 560, 570, 580, 590, 591, 592, 593},
	pathGroup:     {610, 611, 640},
	actionGroup:   {40, 120, 130, 280, 300, 510, 520, 680, 690, 920, 921, 922, 923},
	machineGroup:  {530},
	exactGroup:    {90},
	cancelGroup:   {670, 970},
	polarGroup:    {150, 160},
	smoothGroup:   {1870},
	scaleGroup:    {500},
	mirrorGroup:   {501},
	aheadGroup:    {80, 1030},
})

// mGroups holds those of the M words. Inert are those that move no axis and change nothing that
// a move rests on: clamps, spindle orientation, rigid tapping, chip conveyors, gears, outputs and
// coolant through the spindle (common practice, not in NISTIR 6556).
var mGroups = byCode(map[group][]int{
	stopGroup:     {0, 1, 2, 30, 60},
	changeGroup:   {6},
	spindleGroup:  {3, 4, 5, 13, 14},
	mistGroup:     {7},
	coolantGroup:  {8, 9},
	overrideGroup: {48, 49},
	callGroup:     {98, 99},
	inertGroup:    {10, 11, 19, 29, 31, 33, 40, 41, 42, 43, 44, 45, 62, 63, 64, 65, 88, 89},
})

// byCode turns lists of codes into the group of each; none where a code isn't followed.
func byCode(codes map[group][]int) map[int]group {
	groups := map[int]group{}
	for g, list := range codes {
		for _, c := range list {
			groups[c] = g
		}
	}
	return groups
}
