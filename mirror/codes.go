package mirror

// group is a modal group of G and M words (NISTIR 6556, table 4): one word of
// each may stand in a block.
type group uint8

const (
	gUnknown   group = iota
	gAction          // not modal, takes the block's axis words or stands alone
	gMachine         // G53
	gMotion          // G0 to G3, cycles
	gEnd             // G80, which may stand beside G0 to G3
	gPlane           // G17 to G19
	gDistance        // G90, G91
	gCentres         // G90.1, G91.1
	gFeed            // G93, G94, G95
	gUnit            // G20, G21
	gComp            // G40 to G42
	gLength          // G43, G44, G49
	gReturn          // G98, G99
	gOffset          // G54 to G59.3, G54.1 P1 and on
	gPath            // G61, G61.1, G64
	gRotate          // G68, G69
	gExact           // G9
	gPolarOff        // G15
	gMacroOff        // G67
	gSpeedOff        // G97
	gScaleOff        // G50 alone
	gMirrorOff       // G50.1, which ends what is refused anyway
	gSmooth          // G187
	gAhead           // G8 with P, G103: look-ahead
	mStop
	mChange
	mSpindle
	mCoolant
	mOverride
	mCall  // M98, M99
	mInert // moves no axis; any number of them in a block
	groups
)

// Codes are ten times the number: G59.1 is 591.
const (
	maxCode = 2000
	none    = -1 // no code
)

var gGroups = func() (t [maxCode]group) {
	set := func(g group, codes ...int) {
		for _, c := range codes {
			t[c] = g
		}
	}
	set(gAction, 40, 120, 130, 280, 300, 520, 920, 921, 922, 923)
	set(gMachine, 530)
	set(gRotate, 680, 690)
	set(gEnd, 800)
	set(gScaleOff, 500)
	set(gMirrorOff, 501)
	set(gSmooth, 1870)
	set(gAhead, 80, 1030)
	set(gMotion, 0, 10, 20, 30, 50, 51, 730, 810, 820, 830, 840, 850, 860, 870, 880, 890)
	set(gPlane, 170, 180, 190)
	set(gDistance, 900, 910)
	set(gCentres, 901, 911)
	set(gFeed, 930, 940, 950)
	set(gUnit, 200, 210, 700, 710)
	set(gComp, 400, 410, 420, 411, 421)
	set(gLength, 430, 440, 490)
	set(gReturn, 980, 990)
	set(gOffset, 540, 541, 550, 560, 570, 580, 590, 591, 592, 593)
	set(gPath, 610, 611, 640)
	set(gExact, 90)
	set(gPolarOff, 150)
	set(gMacroOff, 670)
	set(gSpeedOff, 970)
	return t
}()

var mGroups = func() (t [maxCode]group) {
	set := func(g group, codes ...int) {
		for _, c := range codes {
			t[c*10] = g
		}
	}
	set(mStop, 0, 1, 2, 30, 60)
	set(mChange, 6)
	set(mSpindle, 3, 4, 5, 13, 14)
	set(mCoolant, 7, 8, 9)
	set(mOverride, 48, 49)
	set(mCall, 98, 99)
	// Clamps, spindle orientation, rigid tapping, chip conveyors, gears, outputs,
	// coolant through the spindle: common practice, not in NISTIR 6556.
	set(mInert, 10, 11, 19, 29, 31, 33, 40, 41, 42, 43, 44, 45, 62, 63, 64, 65, 88, 89)
	return t
}()

// isCycle reports a canned cycle.
func isCycle(code int) bool { return code == 730 || code >= 810 && code <= 890 }
