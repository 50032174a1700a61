package mirror

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// reverseStart comes before every row of reverseRows, M30 after it.
const reverseStart = "G21 G90 G94 G17\nM3 S9000\nG0 Z5\n"

// reverseRows are mirrored by x' = 100 - x and reversed. A mirror turns an arc round,
// running it backwards turns it round again, so that arcs keep their letter.
var reverseRows = []struct {
	name, in, out string
	reversed      int64
	left          []string
}{
	{"closed", "G0 X10 Y10\nG1 Z-1 F50\nX20 F200\nY20\nX10\nY10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX90 Y20 F200\nX80 Y20\nX80 Y10\nX90 Y10\nG0 Z5\n", 1, nil},
	{"open", "G0 X10 Y10\nG1 Z-1 F50\nG1 X20 F200\nG1 X20 Y25.5\nG0 Z5\nG0 X50 Y50\n",
		"G0 X80 Y25.5\nG1 Z-1 F50\nX80 Y10 F200\nX90 Y10\nG0 Z5\nG0 X50 Y50\n", 1, nil},
	{"open at the end of the program", "G0 X10 Y10\nG1 Z-1 F50\nX20 F200\nG0 Z5\nM5\n",
		"G0 X80 Y10\nG1 Z-1 F50\nX90 Y10 F200\nG0 Z5\nM5\n", 1, nil},
	{"arcs", "G0 X10 Y10\nG1 Z-1 F50\nG2 X20 Y20 I10 J0\nG1 X30\nG3 X40 Y30 R10\nG0 Z5\nG0 X0 Y0\n",
		"G0 X60 Y30\nG1 Z-1 F50\nG3 X70 Y20 R10\nG1 X80 Y20\nG2 X90 Y10 I0 J-10\nG0 Z5\nG0 X100 Y0\n", 1, nil},
	{"a circle", "G0 X10 Y10\nG1 Z-1 F50\nG2 X10 Y10 I5.5 J0 F90\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG2 X90 Y10 I-5.5 J0 F90\nG0 Z5\n", 1, nil},
	{"feeds stay with their cuts, and the last one with what follows", "G0 X10 Y10\nG1 Z-1 F50\nX20 F200\nY20 F300\nX10 Y10 F400\nG1 Z5\nG0 X1 Y1\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20 F400\nX80 Y10 F300\nX90 Y10 F200\nG1 Z5 F400\nG0 X99 Y1\n", 1, nil},
	{"the code that follows needs", "G0 X10 Y10\nG1 Z-1 F50\nG2 X20 I5\nG1 X10\nZ5\nX30\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10\nG2 X90 Y10 I5 J0\nG1 Z5\nX70\nG0 Z5\n", 1, []string{"9 9 no rapid leads to it"}},
	{"block numbers, comments, case, no spaces", "n10g0x10y10\nn20g1z-1f50\nn30x20f200 (one)\n; between\nn40y20 (two)\nn50x10y10\nn60g0z5\n",
		"n10g0x90y10\nn20g1z-1f50\nn30x80y20f200 (one)\n; between\nn40x80y10 (two)\nn50x90y10\nn60g0z5\n", 1, nil},
	{"several depths", "G0 X10 Y10\nG1 Z-1 F50\nX20\nY20\nX10 Y10\nZ-2\nX20\nY20\nX10 Y10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nX80 Y10\nX90 Y10\nZ-2\nX80 Y20\nX80 Y10\nX90 Y10\nG0 Z5\n", 2, nil},
	{"to and fro", "G0 X10 Y10\nG1 Z-1 F50\nX20\nZ-2\nX10\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nZ-2\nX90\nG0 Z5\nX100 Y0\n", 0, []string{"6 6 it goes deeper without coming out", "8 8 no rapid leads to it"}},
	{"a ramp", "G0 X10 Y10\nG1 X20 Z-1 F50\nX10\nG0 Z5\n", "G0 X90 Y10\nG1 X80 Z-1 F50\nX90\nG0 Z5\n", 0, []string{"5 6 a ramp"}},
	{"a helix", "G0 X10 Y10\nG2 X10 I5 Z-1 F50\nG0 Z5\n", "G0 X90 Y10\nG3 X90 I-5 Z-1 F50\nG0 Z5\n", 0, []string{"5 5 a helix"}},
	{"a lead at one end", "G0 X0 Y0\nG1 Z-1 F50\nX10\nY10\nX20 Y5\nX10 Y0\nG0 Z5\nX0 Y0\n",
		"G0 X100 Y0\nG1 Z-1 F50\nX90\nY10\nX80 Y5\nX90 Y0\nG0 Z5\nX100 Y0\n", 0, []string{"6 9 a lead on one end only"}},
	{"a turn of the work at its end", "G0 X10 Y10\nG1 Z-1 F50\nX20 Y20\nG0 Z5\nG1 A30\nG0 X0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nG0 Z5\nG1 A30\nG0 X100 Y0\n", 0, []string{"6 6 what follows needs its end"}},
	{"another tool length on the way in", "G0 X10 Y10\nG1 Z-1 F50\nG1 H2\nX20 Y20\nX10 Y10\nG0 Z5\nG0 X0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG1 H2\nX80 Y20\nX90 Y10\nG0 Z5\nG0 X100 Y0\n", 0, []string{"7 8 its start isn't known"}},
	{"the next rapid gives one axis", "G0 X10 Y10\nG1 Z-1 F50\nX20 Y20\nG0 Z5\nX30\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nG0 Z5\nX70\n", 0, []string{"6 6 the rapid after it doesn't give both X and Y"}},
	{"no way up", "G0 X10 Y10\nG1 Z-1 F50\nX20 Y20\nG0 X1 Y1\n", "G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nG0 X99 Y1\n", 0, []string{"6 6 no way up at its end"}},
	{"compensation", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1\nX20\nY20\nX10 Y10\nG40\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1\nX80\nY20\nX90 Y10\nG40\nG0 Z5\n", 0, []string{"7 9 its last cut runs under cutter compensation, so that it has no lead-out"}},
	// NISTIR 6556, 3.5.10: G41 left of the path. Run backwards after the mirror the
	// cutter is on the side it was on the face, so the letter is the face's.
	{"compensation with a lead-in and a lead-out alike", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 G1 X20 F200\nY30 F300\nG40 X10\nG0 Z5\nG0 X0 Y0\n",
		"G0 X90 Y30\nG1 Z-1 F50\nG41 D1 X80 Y30 F300\nX80 Y10\nG40 X90 Y10 F200\nG0 Z5 F300\nG0 X100 Y0\n", 1, nil},
	{"compensation of a loop, from lines of its own", "G0 X20 Y10\nG1 Z-1 F50\nN4 G42 (right)\nN5 Y20\nN6 X10\nN7 Y30\nN8 X30\nN9 Y20\nN10 X20\nN11 G40\nN12 Y10\nG0 Z5\nX0 Y0\n",
		"G0 X80 Y10\nG1 Z-1 F50\nN4 G42 (right)\nN5 X80 Y20\nN6 X70 Y20\nN7 X70 Y30\nN8 X90 Y30\nN9 X90 Y20\nN10 X80 Y20\nN11 G40\nN12 X80 Y10\nG0 Z5\nX100 Y0\n", 1, nil},
	{"compensation, led in along a tangent as in NISTIR 6556, table 12, and out alike", "G0 X1 Y5\nG1 Z-1 F50\nG41 D1 Y4\nG3 X2 Y3 I1\nG1 X5\nG3 X6 Y4 J1\nG1 G40 Y5\nG0 Z5\nX0 Y0\n",
		"G0 X94 Y5\nG1 Z-1 F50\nG41 D1 X94 Y4\nG3 X95 Y3 I1 J0\nG1 X98 Y3\nG3 X99 Y4 I0 J1\nG40 G1 X99 Y5\nG0 Z5\nX100 Y0\n", 1, nil},
	{"compensation at two depths", "G0 X20 Y10\nG1 Z-1 F50\nG41 D1 Y20\nX10\nY30\nX30\nY20\nX20\nG40 Y10\nZ-2\nG41 D1 Y20\nX10\nY30\nX30\nY20\nX20\nG40 Y10\nG0 Z5\n",
		"G0 X80 Y10\nG1 Z-1 F50\nG41 D1 X80 Y20\nX70 Y20\nX70 Y30\nX90 Y30\nX90 Y20\nX80 Y20\nG40 X80 Y10\nZ-2\nG41 D1 X80 Y20\nX70 Y20\nX70 Y30\nX90 Y30\nX90 Y20\nX80 Y20\nG40 X80 Y10\nG0 Z5\n", 2, nil},
	{"compensation over two depths", "G0 X20 Y10\nG1 Z-1 F50\nG41 D1 Y20\nX10\nX20\nZ-2\nX10\nX20\nG40 Y10\nG0 Z5\n",
		"G0 X80 Y10\nG1 Z-1 F50\nG42 D1 Y20\nX90\nX80\nZ-2\nX90\nX80\nG40 Y10\nG0 Z5\n", 0,
		[]string{"6 8 it goes deeper without coming out", "10 12 cutter compensation is on before it"}},
	{"compensation from before the plunge", "G0 X20 Y10\nG41 D1\nG1 Z-1 F50\nY20\nX10\nG40 Y10\nG0 Z5\nX0 Y0\n",
		"G0 X80 Y10\nG42 D1\nG1 Z-1 F50\nY20\nX90\nG40 Y10\nG0 Z5\nX100 Y0\n", 0, []string{"7 9 cutter compensation is on before it"}},
	{"compensation from the rapid on", "G0 G41 D1 X20 Y10\nG1 Z-1 F50\nY20\nX10\nG40 Y10\nG0 Z5\nX0 Y0\n",
		"G0 G42 D1 X80 Y10\nG1 Z-1 F50\nY20\nX90\nG40 Y10\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 cutter compensation is on before it"}},
	{"compensation from the rapid on, off at the first cut", "G0 G41 D1 X20 Y10\nG1 Z-1 F50\nG40 X10\nG0 Z5\nX0 Y0\n",
		"G0 G42 D1 X80 Y10\nG1 Z-1 F50\nG40 X90\nG0 Z5\nX100 Y0\n", 0, []string{"6 6 cutter compensation is on before it"}},
	{"compensation for the next chain, on the way out", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG41 D1\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nG42 D1\nG0 Z5\nX100 Y0\n", 0, []string{"6 6 cutter compensation starts on its way out"}},
	{"compensation after the first cut", "G0 X10 Y10\nG1 Z-1 F50\nX15\nG41 D1 X20\nY30\nG40 X10\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX85\nG42 D1 X80\nY30\nG40 X90\nG0 Z5\nX100 Y0\n", 0, []string{"6 9 cutter compensation switched between its cuts"}},
	{"compensation off before the last cut but one", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nY30\nG40 X10\nX5\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nY30\nG40 X90\nX95\nG0 Z5\nX100 Y0\n", 0, []string{"6 9 cutter compensation switched between its cuts"}},
	{"compensation, a lead-out shorter than the lead-in", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nY30\nG40 X11\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nY30\nG40 X89\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 its lead-out isn't like its lead-in: as long, at the same angle to the cut"}},
	{"compensation, a lead-out to the other side", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nY30\nG40 X30\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nY30\nG40 X70\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 its lead-out isn't like its lead-in: as long, at the same angle to the cut"}},
	{"compensation, led in straight and out on an arc", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nY30\nG40 G3 X10 I-5\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nY30\nG40 G2 X90 I5\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 an arc to lead in or out under cutter compensation"}},
	{"compensation, an arc by radius next to a lead", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nG3 Y30 R10\nG1 G40 X10\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nG2 Y30 R10\nG1 G40 X90\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 an arc by radius next to its lead-in or lead-out"}},
	{"compensation of nothing but leads", "G0 X10 Y10\nG1 Z-1 F50\nG41 D1 X20\nG40 Y20\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42 D1 X80\nG40 Y20\nG0 Z5\nX100 Y0\n", 0, []string{"6 7 no cut between lead-in and lead-out"}},
	{"G40 where none is on", "G0 X10 Y10\nG1 Z-1 F50\nG40\nX20\nG40 X30\nG40\nG0 Z5\nX0 Y0\n",
		"G0 X70 Y10\nG1 Z-1 F50\nG40\nX80 Y10\nG40 X90 Y10\nG40\nG0 Z5\nX100 Y0\n", 1, nil},
	{"compensation by G41.1", "G0 X10 Y10\nG1 Z-1 F50\nG41.1 D6 X20\nY30\nG40 X10\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG42.1 D6 X80\nY30\nG40 X90\nG0 Z5\nX100 Y0\n", 0, []string{"6 8 cutter compensation"}},
	{"increments", "G0 X10 Y10\nG1 Z-1 F50\nG91\nX20\nY20\nG90\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG91\nX-20\nY20\nG90\nG0 Z5\n", 0, []string{"7 8 other words between its cuts or before its way out"}},
	{"increments of a loop", "G0 X10 Y10\nG1 Z-1 F50\nG91\nX20 F200\nY20\nG2 X-20 Y-20 I-4 J-16\nG1 Z-1\nX1\nX-1 Y1\nY-1\nG90\nG0 Z5\nX15 Y20\nG1 Z-1\nX30\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG91\nG2 X-20 Y20 I-16 J4 F200\nG1 X0 Y-20\nX20 Y0\nG1 Z-1\nX0 Y1\nX-1 Y-1\nX1 Y0\nG90\nG0 Z5\nX70 Y20\nG1 Z-1\nX85 Y20\nG0 Z5\nX100 Y0\n", 3, nil},
	{"increments from a G92 that says where the tool stands", "G92 X10 Y10 Z5\nG91\nG1 Z-6 F50\nX20.5\nY20 X-3\nX-17.5 Y-20\nM5\nZ6\nG90\nG92.1\n",
		"G92 X90 Y10 Z5\nG91\nG1 Z-6 F50\nX-17.5 Y20\nX-3.0 Y-20\nX20.5 Y0\nM5\nZ6\nG90\nG92.1\n", 1, nil},
	{"increments from nowhere", "G91\nG1 Z-6 F50\nX20\nY20 X-3\nX-17 Y-20\nZ6\nG90\n",
		"G91\nG1 Z-6 F50\nX-20\nY20 X3\nX17 Y-20\nZ6\nG90\n", 0, []string{"6 8 its start isn't known"}},
	{"increments that don't come back", "G0 X10 Y10\nG91\nG1 Z-6 F50\nX20\nY20\nG0 Z6\nX1 Y1\n",
		"G0 X90 Y10\nG91\nG1 Z-6 F50\nX-20\nY20\nG0 Z6\nX-1 Y1\n", 0, []string{"7 8 G91, and its ends are two places"}},
	{"a low rapid", "Z2\nG0 X10 Y10\nG1 Z-1 F50\nX20 Y20\nG0 Z5\nG0 X1 Y1\n",
		"Z2\nG0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nG0 Z5\nG0 X99 Y1\n", 0, []string{"7 7 the rapid to it runs lower than its way out"}},
	{"rapids that rise as they go", "G0 X10 Y10 Z9\nG1 Z-1 F50\nX20\nG0 Z5\nG0 X1 Y1 Z6\n",
		"G0 X80 Y10 Z9\nG1 Z-1 F50\nX90 Y10\nG0 Z5\nG0 X99 Y1 Z6\n", 1, nil},
	{"a rapid down to the height of the way out", "G0 Z25\nX10 Y10 Z5\nG1 Z-1 F50\nX20\nG0 Z5\nX1 Y1\n",
		"G0 Z25\nX80 Y10 Z5\nG1 Z-1 F50\nX90 Y10\nG0 Z5\nX99 Y1\n", 1, nil},
	{"a rapid down to below it", "G0 X10 Y10 Z2\nG1 Z-1 F50\nX20\nG0 Z5\nX1 Y1\n",
		"G0 X90 Y10 Z2\nG1 Z-1 F50\nX80\nG0 Z5\nX99 Y1\n", 0, []string{"6 6 the rapid to it runs lower than its way out"}},
	{"a rapid up from below it", "G0 Z2\nX10 Y10 Z9\nG1 Z-1 F50\nX20\nG0 Z5\nX1 Y1\n",
		"G0 Z2\nX90 Y10 Z9\nG1 Z-1 F50\nX80\nG0 Z5\nX99 Y1\n", 0, []string{"7 7 the rapid to it runs lower than its way out"}},
	{"a rapid from an unknown height", "G28 Z5\nG0 X10 Y10 Z9\nG1 Z-1 F50\nX20\nG0 Z5\nX1 Y1\n",
		"G28 Z5\nG0 X90 Y10 Z9\nG1 Z-1 F50\nX80\nG0 Z5\nX99 Y1\n", 0, []string{"7 7 the height of the rapid to it isn't known"}},
	{"the next rapid comes down", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG0 Z5\nX1 Y1 Z4\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nG0 Z5\nX99 Y1 Z4\n", 0, []string{"6 6 the rapid after it comes down as it goes"}},
	{"the next rapid comes down behind a loop", "G0 X10 Y10\nG1 Z-1 F50\nX20\nX10\nG0 Z5\nX1 Y1 Z4\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10\nX90 Y10\nG0 Z5\nX99 Y1 Z4\n", 1, nil},
	{"a rapid up and aside from a loop's end", "G0 X10 Y10\nG1 Z-1 F50\nX20\nX10\nG0 X1 Y1 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10\nX90 Y10\nG0 X99 Y1 Z5\n", 1, nil},
	{"up in two feeds", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG1 Z1\nM9\nZ5\nG0 X1 Y1\n",
		"G0 X80 Y10\nG1 Z-1 F50\nX90 Y10\nG1 Z1\nM9\nZ5\nG0 X99 Y1\n", 1, nil},
	{"up and down again", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG0 Z5\nZ2\nX1 Y1\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nG0 Z5\nZ2\nX99 Y1\n", 0, []string{"6 6 it goes down again at its end"}},
	{"coolant before the cut", "G0 X10 Y10\nM8\nG1 Z-1 F50\nX20\nY20\nX10 Y10\nG0 Z5\nM9\n",
		"G0 X90 Y10\nM8\nG1 Z-1 F50\nX80 Y20\nX80 Y10\nX90 Y10\nG0 Z5\nM9\n", 1, nil},
	{"a comment between words", "G0 X10 Y10\nG1 Z-1 F50\nX20 (a) F20\nX10\nG0 Z5\n", "G0 X90 Y10\nG1 Z-1 F50\nX80 (a) F20\nX90\nG0 Z5\n", 0, []string{"6 7 a comment between its words"}},
	{"points written twice", "G0 X10 Y10\nG1 Z-1 F50\nX10\nX20\nX20\nY20\nY20\nG0 Z5\nX0 Y0\n", "G0 X80 Y20\nG1 Z-1 F50\nX80 Y20\nX80 Y10\nX80 Y10\nX90 Y10\nX90 Y10\nG0 Z5\nX100 Y0\n", 1, nil},
	{"a cut that leads nowhere", "G0 X10 Y10\nG1 Z-1 F50\nX10\nG0 Z5\nX0 Y0\n", "G0 X90 Y10\nG1 Z-1 F50\nX90 Y10\nG0 Z5\nX100 Y0\n", 1, nil},
	{"a feed alone in the loop belongs to the cuts after it", "G0 X10 Y10\nG1 Z-1 F50\nX20\nF300 (fine)\nY20\nX10 Y10 F400\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20 F400\nF300 (fine)\nX80 Y10\nX90 Y10 F50\nG0 Z5 F400\n", 1, nil},
	{"a feed alone before the first cut and after the last", "G0 X10 Y10\nG1 Z-1 F50\nN7 F60\nX20\nY20 F70\nF80\nG1 Z5\nG0 X1 Y1\nG1 X5\n",
		"G0 X80 Y20\nG1 Z-1 F50\nN7 F70\nX80 Y10\nX90 Y10 F60\nF80\nG1 Z5\nG0 X99 Y1\nG1 X95\n", 1, []string{"12 12 no way up at its end"}},
	{"a feed alone before the first cut of a loop", "G0 X10 Y10\nG1 Z-1 F50\nF60\nX20\nX10 F70\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nF70\nX80 Y10\nX90 Y10 F60\nG0 Z5 F70\n", 1, nil},
	{"a feed alone before the plunge", "G0 X10 Y10\nF40\nG1 Z-1\nX20 F200\nG0 Z5\nF7\nX1 Y1\n",
		"G0 X80 Y10\nF40\nG1 Z-1\nX90 Y10 F200\nG0 Z5\nF7\nX99 Y1\n", 1, nil},
	{"a feed alone in a loop that is entered from the one above it", "G0 X10 Y10\nG1 Z-1 F50\nX20\nY20\nX10 Y10\nZ-2\nF90\nX20\nF80\nY20\nX10 Y10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nX80 Y10\nX90 Y10\nZ-2\nF90\nX80 Y20 F80\nF80\nX80 Y10\nX90 Y10 F90\nG0 Z5 F80\n", 2, nil},
	{"a feed from long before", "G1 X1 Y1 F60\nX2\nF70 X3\nX4\nG0 X10 Y10\nG1 Z-1\nX20\nY20 F300\nG0 Z5\nX0 Y0\nG1 X1\n",
		"G1 X99 Y1 F60\nX98\nF70 X97\nX96\nG0 X80 Y20\nG1 Z-1\nX80 Y10 F300\nX90 Y10 F70\nG0 Z5 F300\nX100 Y0\nG1 X99\n", 1,
		[]string{"4 7 its start isn't known", "14 14 no way up at its end"}},
	{"a feed that stays modal where no way out follows", "G0 X10 Y10\nG1 Z-1 F50\nX20 F60\nX10\nF60\nG4 P1\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10 F60\nX90 Y10\nF60\nG4 P1\nG0 Z5\n", 1, nil},
	{"a feed that wouldn't stay modal", "G0 X10 Y10\nG1 Z-1 F50\nX20\nX10 F60\nG28 X0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nX90 F60\nG28 X100 Y0\n", 0, []string{"6 7 what follows needs its last feed, speed or code"}},
	{"coolant between the rapid and the cut, and after the last cut", "G0 X10 Y10\nM8 (on)\nG1 Z-1 F50\nX20\nX30\nM9\nG0 Z5\nX0 Y0\n",
		"G0 X70 Y10\nM8 (on)\nG1 Z-1 F50\nX80 Y10\nX90 Y10\nM9\nG0 Z5\nX100 Y0\n", 1, nil},
	{"mist and flood after the plunge", "G0 X10 Y10\nG1 Z-1 F50\nM7 M8\nX20\nX30\nG0 Z5\nM9\nX0 Y0\n",
		"G0 X70 Y10\nG1 Z-1 F50\nM7 M8\nX80 Y10\nX90 Y10\nG0 Z5\nM9\nX100 Y0\n", 1, nil},
	{"coolant on the way in and out, in blocks that move", "G0 X10 Y10 M7 M8\nG1 Z-1 F50 M8\nX20 F60\nX30\nG0 Z5 M9\nX0 Y0\n",
		"G0 X70 Y10 M7 M8\nG1 Z-1 F50 M8\nX80 Y10 F60\nX90 Y10\nG0 Z5 M9\nX100 Y0\n", 1, nil},
	{"a spindle on the way in", "G0 X10 Y10\nG1 Z-1 F50 M3\nX20 F60\nG0 Z5 M9\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50 M3\nX80 F60\nG0 Z5 M9\nX100 Y0\n", 0, []string{"6 6 no rapid leads to it"}},
	{"coolant between the cuts", "G0 X10 Y10\nG1 Z-1 F50\nX20\nM8\nX30\nG0 Z5\nX0 Y0\n",
		"G0 X70 Y10\nG1 Z-1 F50\nX80 Y10\nM8\nX90 Y10\nG0 Z5\nX100 Y0\n", 1, nil},
	{"coolant between the cuts of a loop", "G0 X10 Y10\nG1 Z-1 F50\nX20\nM8\nY20\nX10 Y10\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nM8\nX80 Y10\nX90 Y10\nG0 Z5\nX100 Y0\n", 1, nil},
	{"a dwell between the plunge and the first cut", "G0 X10 Y10\nG1 Z-1 F50\nG4 P0.5\nX20 F200\nX10 Y10\nG0 Z5\nX1 Y1\nG1 Z-1 F50\nG4 P0.5\nX20\nG0 Z5\nG4 P1\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG4 P0.5\nX80 Y10 F200\nX90 Y10\nG0 Z5\nX80 Y1\nG1 Z-1 F50\nG4 P0.5\nX99 Y1\nG0 Z5\nG4 P1\nX100 Y0\n", 2, nil},
	{"a dwell between the cuts", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG4 P1\nX10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10\nG4 P1\nX90 Y10\nG0 Z5\n", 1, nil},
	{"a dwell by another letter between the cuts", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG4 U1\nX10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nG4 U1\nX90\nG0 Z5\n", 0, []string{"6 6 what follows needs its end", "8 8 its start isn't known"}},
	{"a speed between the cuts goes with the cuts after it", "G0 X10 Y10\nG1 Z-1 F50\nX20\nS8000\nY20\nX10 Y10\nG0 Z5\nX1 Y1\nG1 Z-1\nS7000 F60\nX10\nS6000\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20 S8000\nS8000\nX80 Y10\nX90 Y10 S9000\nG0 Z5 S8000\nX90 Y1\nG1 Z-1\nS7000 F60\nX99 Y1\nS6000\nG0 Z5\n", 2, nil},
	{"a speed on the way in, and the last one's needed behind a loop", "G0 X10 Y10\nS8000\nG1 Z-1 F50\nX20\nS9000\nX30\nG0 Z5\nX60 Y60\nG1 Z-1\nX70\nS8000\nY70\nX60 Y60\nG28 X0 Y0\n",
		"G0 X70 Y10\nS8000\nG1 Z-1 F50\nX80 Y10 S9000\nS8000\nX90 Y10\nG0 Z5 S9000\nX40 Y60\nG1 Z-1\nX30\nS8000\nY70\nX40 Y60\nG28 X100 Y0\n", 1, []string{"13 16 what follows needs its last feed, speed or code"}},
	{"another zero between the cuts", "G0 X10 Y10\nG1 Z-1 F50\nX20\nG92 X50\nX20\nG0 Z5\nG92.1\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nG92 X50\nX80\nG0 Z5\nG92.1\n", 0, []string{"6 6 what follows needs its end", "8 8 what follows needs its end"}},
	{"a spindle that stops between the cuts", "G0 X10 Y10\nG1 Z-1 F50\nX20\nM5\nX10\nG0 Z5\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80\nM5\nX90\nG0 Z5\n", 0, []string{"6 8 other words between its cuts or before its way out"}},
	{"coolant in the loop", "G0 X10 Y10\nG1 Z-1 F50\nX20\nY20 M8\nX10 Y10\nG0 Z5\n", "G0 X90 Y10\nG1 Z-1 F50\nX80\nY20 M8\nX90 Y10\nG0 Z5\n", 0, []string{"6 8 other words in its block"}},
	{"a groove in two passes, of which one is left", "G0 X10 Y10\nG1 Z-1 F50\nX20 Y20\nG0 Z5\nX10\nY10\nG1 Z-2\nX20 Y20\nG0 Z5\nX0 Y0\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y20\nG0 Z5\nX90\nY10\nG1 Z-2\nX80 Y20\nG0 Z5\nX100 Y0\n", 0, []string{"6 6 the rapid after it doesn't give both X and Y", "11 11 another pass over its path can't be reversed, so all stay alike: nothing to do"}},
	{"a rapid to it that leads nowhere", "G0 X10 Y10\nG1 Z-1 F50\nG0 Z5\nG0 X10 Y10\nG1 Z-1 F50\nX20 F200\nG0 Z5\nG0 X10 Y10\nX10 Y10\n",
		"G0 X90 Y10\nG1 Z-1 F50\nG0 Z5\nG0 X80 Y10\nG1 Z-1 F50\nX90 Y10 F200\nG0 Z5\nG0 X90 Y10\nX90 Y10\n", 1, nil},
	{"another tool length before a cut that doesn't go down", "G0 X10 Y10\nG43 H1\nG1 X20 F50\nX10\nG0 Z5\nX10 Y20\nG1 Z-1\nX20\nG0 Z5\n",
		"G0 X90 Y10\nG43 H1\nG1 X80 F50\nX90\nG0 Z5\nX80 Y20\nG1 Z-1\nX90 Y20\nG0 Z5\n", 1, []string{"6 7 its start isn't known"}},
	{"a pocket, a spline", "G0 X10 Y10\nG12 I5\nG0 X1 Y1\nG5.1 X5 Y5 I1 J1\nG0 X1\n",
		"G0 X90 Y10\nG13 I5\nG0 X99 Y1\nG5.1 X95 Y5 I-1 J1\nG0 X99\n", 0, []string{"5 5 a circular pocket", "7 7 a spline"}},
	{"before a subprogram's call", "G0 X10 Y10\nG1 Z-1 F50\nX20\nX10\nG0 Z5\nM98 P2\nM30\nO2\nM99\n%\n",
		"G0 X90 Y10\nG1 Z-1 F50\nX80 Y10\nX90 Y10\nG0 Z5\nM98 P2\nM30\nO2\nM99\n%\n", 1, []string{"9 0 subprograms are called from here on"}},
	{"before text behind the end", "G0 X10 Y10\nG1 Z-1 F50\nX20 F9\nY20 F5\nX10 Y10 F9\nG0 Z5\n%\nX (\n", "G0 X90 Y10\nG1 Z-1 F50\nX80 Y20 F9\nX80 Y10 F5\nX90 Y10 F9\nG0 Z5\n%\nX (\n", 1, nil},
}

func TestReverseCuts(t *testing.T) {
	for _, c := range reverseRows {
		for _, eol := range []string{"\n", "\r\n"} {
			in, want := strings.ReplaceAll(reverseStart+c.in+"M30\n", "\n", eol), strings.ReplaceAll(reverseStart+c.out+"M30\n", "\n", eol)
			var out bytes.Buffer
			r, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("100"), ReverseCuts: true})
			if err != nil || out.String() != want {
				t.Errorf("%s: %v\n%s\nwant\n%s", c.name, err, out.String(), want)
				if err != nil {
					got, _, _ := rewriteText(t, in, Options{Map: flipY("100"), ReverseCuts: true})
					t.Logf("rewritten:\n%s", got)
				}
				continue
			}
			var left []string
			for _, l := range r.Left {
				left = append(left, fmt.Sprintf("%d %d %s", l.First, l.Last, l.Why))
			}
			if r.Reversed != c.reversed || fmt.Sprint(left) != fmt.Sprint(c.left) {
				t.Errorf("%s: %d reversed, left %q; want %d, %q", c.name, r.Reversed, left, c.reversed, c.left)
			}
			if r.Chains != c.reversed+int64(len(c.left)) {
				t.Errorf("%s: %d chains", c.name, r.Chains)
			}
			everyCut(t, in)
		}
	}
}

// everyCut sees that each block that cuts aside stands in a chain that was reversed or
// in one that is named as left, and that notes say so.
func everyCut(t *testing.T, in string) {
	t.Helper()
	r := block.NewReader(strings.NewReader(in))
	m, err := newRewriter(r, &Options{Map: flipY("100"), ReverseCuts: true})
	var chains []Chain
	for err == nil {
		_, _, err = m.next(r, nil)
		chains = append(chains, m.reversed()...)
	}
	if err != io.EOF {
		return
	}
	if chains[0] != (Chain{}) {
		t.Errorf("%q: the proof isn't told before the first line that chains may follow", in)
	}
	if chains = chains[1:]; int64(len(chains)) != m.report.Reversed {
		t.Errorf("%q: %d chains reversed, %d told to the proof", in, m.report.Reversed, len(chains))
	}
	chains = append(chains, m.report.Left...)
	motion.Walk(strings.NewReader(in), motion.Options{}, func(v *motion.Move) error {
		aside := v.FromOK[0] != v.ToOK[0] || v.FromOK[1] != v.ToOK[1] || !v.From[0].Equal(v.To[0]) || !v.From[1].Equal(v.To[1])
		// A feed to a place of the machine isn't mirrored at all.
		if v.Machine || v.Kind == motion.Rapid || v.Kind == motion.Feed && !aside || isCycle(v.Cycle) {
			return nil
		}
		for _, c := range chains {
			if v.Line >= c.First && (v.Line <= c.Last || c.Last == 0) {
				return nil
			}
		}
		t.Errorf("%q: line %d cuts and is neither reversed nor named: %v", in, v.Line, chains)
		return nil
	})
	noted := 0
	for _, n := range m.report.Notes {
		switch fact.Code(n.Is) {
		case "other-side":
			t.Errorf("%q: told of --reverse-cuts", in)
		case "left-as-mirrored":
			noted += len(fact.Values(n.Is)) - 1
		case "cuts-reversed":
			if want := fmt.Sprint([]string{fmt.Sprint(m.report.Reversed), fmt.Sprint(len(m.report.Left))}); fmt.Sprint(fact.Values(n.Is)) != want {
				t.Errorf("%q: noted %v, want %s", in, fact.Values(n.Is), want)
			}
		}
	}
	if noted != len(m.report.Left) {
		t.Errorf("%q: %d of %d chains noted as left", in, noted, len(m.report.Left))
	}
}

// TestEveryCut: whatever a program holds, no cut stays as mirrored without a word.
func TestEveryCut(t *testing.T) {
	for _, c := range wordRows {
		everyCut(t, c.in)
	}
	for _, in := range fuzzSeeds {
		everyCut(t, in)
	}
}

// TestReverseRealPrograms: whatever a stranger's program holds, what is reversed is
// proved, and reversing again gives back the cuts of a plain mirror.
func TestReverseRealPrograms(t *testing.T) {
	for name, text := range programs(t) {
		o := Options{Map: flipY("120.5"), ReverseCuts: true, BackOffset: "G55", Comment: "x"}
		var out bytes.Buffer
		r, err := Mirror(bytes.NewReader(text), &out, o)
		if err != nil {
			if name != "turning-must-be-refused.nc" && name != "teaching-g91-g53.nc" {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		everyCut(t, string(text))
		t.Logf("%s: %d reversed, %d left", name, r.Reversed, len(r.Left))
		if name == "nist-c1.ngc" && r.Reversed == 0 {
			t.Errorf("%s: nothing reversed: %v", name, r.Left)
		}
	}
}

// FuzzReverse: whatever the text, what is reversed is proved. The offset is 1/2 inch, since
// rounding to inches isn't what this is about.
func FuzzReverse(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add([]byte(s))
	}
	f.Add([]byte("X10 Y10\nG1 Z-1\nX20 F200\nG2 Y20 J5\nX10 Y10 F3\nG0 Z5\nX1 Y1\nG1 Z-1\nX5\nG3 X8 I1.5\nG0 Z5\nM8\nX2 Y2\n"))
	f.Add([]byte("X10 Y10\nZ2\nG1 Z-1\nX20 (a)\n\nY20\nG0 Z5\nG28\nX1 Y1\nG1 Z-1\nX5\nZ-2\nX1\nG41 D1\nX5\nG40\nG0 Z5\n"))
	f.Add([]byte("Y0 G80\nX5\n")) // at rapid or at feed
	for _, c := range reverseRows {
		f.Add([]byte(c.in))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		in := "G21 G90 G94 G17 G91.1 F9\nG0 Z5\n" + string(text)
		var out bytes.Buffer
		_, err := Mirror(strings.NewReader(in), &out, Options{Map: flipY("12.7"), ReverseCuts: true})
		var e *fault.Error
		if errors.As(err, &e) && e.No && strings.Contains(e.Hint, "fault of the mirror") {
			t.Fatalf("%v\n%q", err, in)
		}
		if err == nil {
			everyCut(t, in)
		}
	})
}

// TestBadArcInAChain: a fault of the program is told in the program's own lines, wherever
// the arc stands in the chain, also if the chain runs backwards in the mirror.
func TestBadArcInAChain(t *testing.T) {
	for _, c := range []struct {
		name, chain string
		line        int
	}{
		{"first", "G3 X30 Y10 I10.5 J0 F500\nG1 Y30\nX10\nY10\n", 7},
		{"last", "G1 X30 F500\nY30\nX10\nG3 X10 Y10 I0 J-10.5\n", 10},
	} {
		in := reverseStart + "G0 X10 Y10\nZ2\nG1 Z-1 F50\n" + c.chain + "G0 Z5\nM30\n"
		for _, o := range []Options{{Name: "p", Map: flipY("100")}, {Name: "p", Map: flipY("100"), ReverseCuts: true}} {
			_, err := Mirror(strings.NewReader(in), &bytes.Buffer{}, o)
			var f *fault.Error
			if !errors.As(err, &f) || f.No || f.File != "p" || f.Line != c.line {
				t.Errorf("%s, reversed %t: %v", c.name, o.ReverseCuts, err)
			}
		}
	}
}
