package mirror

import (
	"flipcalc/mirror/transform"
)

// place says what is known of where an axis stands.
type place uint8

const (
	atStart place = iota // wherever the tool stood when the program started
	known                // given by the program
	lost                 // at a place of the machine that isn't mirrored (G28, G30, G53)
	changed              // where it was, or where the machine changes tools (M6)
)

// value is a number of a program, as written.
type value struct {
	given  bool
	set    bool // v is its value; false for more than 18 digits
	v      int64
	places uint8
}

// state is what the control has set, as far as it decides how words are mirrored.
// Two states that are equal mirror the rest of a program alike.
type state struct {
	unit       transform.Unit
	plane      transform.Plane
	inc        bool    // G91
	absCentres bool    // G90.1
	toR        bool    // G99
	comp       bool    // G41 or G42 is on
	swapped    bool    // the arc code in force was written the other way round
	ended      bool    // M2 or M30 was met
	rotated    bool    // G68 is on
	shifted    bool    // G92 is on
	stored     bool    // G92 was on
	local      [3]bool // G52 is on, by axis
	motion     int     // code of group 1, none before the first
	feed       int     // 930, 940 or 950
	under      int     // code of group 1 before the running cycle or G80, none before the first
	bare       int     // line of the running cycle's code, where no axis word stood beside it
	offset     int     // code of the offset that the program is in, none before the first
	moved      bool    // the first motion is past
	spindle    int     // 0 not said, 1 for M3, -1 for M4, 2 for M5
	at         [3]place
	r, depth   value // the cycle's R and depth words
	rInc       bool  // R was given in G91
	depthInc   bool  // the depth was
}

func startState(o *Options) state {
	return state{unit: o.Unit, absCentres: o.AbsoluteCentres, motion: none, under: none, feed: 940, offset: none}
}
