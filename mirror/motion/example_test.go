package motion_test

import (
	"fmt"
	"strings"

	"flipcalc/mirror/motion"
)

// A hole and half a circle of a row marker.
func ExampleWalk() {
	text := "G21 G90 G54 T1 M6 M3 S12000\nG0 X10 Y10 Z5\nG81 Z-3 R1 F200 X10\nG80\nG0 X20 Z1\nG1 Z-1 F300\nG2 X40 I10 F600\nG0 Z5\nM30\n"
	s, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
		if m.Circular() {
			_, radius, sweep, _ := m.Arc()
			fmt.Printf("line %d: radius %.0f, %.0f degrees\n", m.Line, radius, sweep*180/3.14159265)
		}
		return nil
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("Y %.0f to %.0f, deepest %.0f, cut %.2f mm, tools %d\n", s.Cut[1].Min, s.Cut[1].Max, s.Deepest, s.CutLength, s.Tools[0].Number)
	// Output:
	// line 7: radius 10, -180 degrees
	// Y 10 to 20, deepest 3, cut 37.42 mm, tools 1
}
