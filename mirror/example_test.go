package mirror_test

import (
	"fmt"
	"os"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
)

// A row marker of 120 mm, turned over like a page: x' = 120 - x.
func ExampleMirror() {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromInt(120)}
	program := "G21 G90\nG54 G0 X10 Y5. (row 7)\nG1 Z-0.5 F200\nG2 X20 Y5. I5 J0\nM30\n"
	report, err := mirror.Mirror(strings.NewReader(program), os.Stdout, mirror.Options{Map: m, BackOffset: "G55"})
	fmt.Println(report.Moves, "moves", err)
	// Output:
	// G21 G90
	// G55 G0 X110 Y5. (row 7)
	// G1 Z-0.5 F200
	// G3 X100 Y5. I-5 J0
	// M30
	// 3 moves <nil>
}

func ExampleMirror_refused() {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromInt(120)}
	_, err := mirror.Mirror(strings.NewReader("G90\nG16 X10 Y45\n"), os.Stdout, mirror.Options{Map: m, Name: "marker.nc"})
	fmt.Println(err)
	// Output: marker.nc:2:1: G16 (polar coordinates); hint: write the program's moves out
}

func ExampleMirror_arc() {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.NewFromInt(81)}
	// NISTIR 6556, appendix C.1.
	program := "n0160 g1 x16 y2.5\nn0190 g3 x13.5 y0 i-2.5\n"
	_, err := mirror.Mirror(strings.NewReader(program), os.Stdout, mirror.Options{Map: m})
	fmt.Println(err)
	// Output:
	// n0160 g1 x65 y2.5
	// n0190 g2 x67.5 y0 i2.5
	// <nil>
}
