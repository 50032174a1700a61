package mirror

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
)

// badPrograms are refused with exactly these messages. Rows marked with a section
// number are errors of NISTIR 6556 there; the others are what real programs bring
// and a mirror can't follow.
var badPrograms = []struct{ in, want string }{
	{"", "p:1:1: no motion found, expected a part program; hint: is this the right file?"},
	{"\n\n", "p:1:1: no motion found, expected a part program; hint: is this the right file?"},
	{"(only a comment)\n", "p:1:1: no motion found, expected a part program; hint: is this the right file?"},
	{"%\n%\n", "p:1:1: no motion found, expected a part program; hint: is this the right file?"},
	{"%\nG1 X1\n", "p:3:1: the end of the file, expected M2, M30 or a closing %; hint: the program opens with %: was the file cut off?"},
	{"% row marker\nG1 X1\nM2\n%\n", "p:1:3: text behind the opening %, expected % alone on its line; hint: some controls take it as a name, others run it: write a name in parentheses on the next line"},
	{"G1 X1\n% note\nM2\n", "p:2:3: text after '%', expected '%' alone on its line; hint: some controls take such a line as a comment, others run it: write the comment in parentheses"},
	{"%G1 X1\nM2\n%\n", "p:1:2: text behind the opening %, expected % alone on its line; hint: some controls take it as a name, others run it: write a name in parentheses on the next line"},
	{"G1 X1 %\n", "p:1:7: '%' in the middle of a block; hint: keep % on a line of its own"},
	{"G1 X", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X1\nG1 Y\n", "p:2:4: Y without a number, expected at least one digit"},
	{"G1 X1.2.3\n", "p:1:8: a number with two decimal points"},
	{"G1 X1." + strings.Repeat("0", 70_000) + "\n", "p:1:5: a number of more than 900 digits, expected a shorter number"},
	{"G1 X" + strings.Repeat("0", 70_000) + "\n", "p:1:5: a number of more than 900 digits, expected a shorter number"},
	{"G1 X-\n", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X.\n", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X1e3\n", "p:1:6: e3 (a word that milling controls read differently); hint: take it out"},
	{"G1 X5 = 2\n", "p:1:7: character '='; hint: take it out or put it into a comment in parentheses"},
	{"G1 X!5\n", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X1 (not closed\n", "p:1:7: a comment that isn't closed, expected ')' before the end of the line"},
	{"G1 X1)\n", "p:1:6: ')' without its partner"},
	{"G1 X1 /Y5\n", "p:1:7: '/' in the middle of a block; hint: controls differ on what a slash there deletes; put it first in a block of its own"},
	{"// G1 X1\n", "p:1:1: a line that starts with //; hint: some controls run such a line; write the comment in parentheses"},
	{"G1\rX1\r", "p:1:3: a carriage return without a line feed; hint: give the program LF or CRLF line ends"},
	{"\xff\xfeG\x001\x00\n\x00", "p:1:1: a byte-order mark (UTF-16); hint: save the program as plain text, one block a line"},
	{"\x7fELF\x02\x01\x01\x00", "p:1:1: character 0x7F; hint: take it out or put it into a comment in parentheses"},
	{"G1 X1\x00\n", "p:1:6: character 0x00; hint: take it out or put it into a comment in parentheses"},
	{"(a\x00b)\n", "p:1:3: character 0x00; hint: take it out or put it into a comment in parentheses"},
	{"PK\x03\x04\n", "p:1:1: P without a number, expected at least one digit"},
	{"G1 X1 N10\n", "p:1:7: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
	{"N-1 G1 X1\n", "p:1:1: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
	{"N1.5 G1 X1\n", "p:1:1: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block"},
	{"M2\nG1 X1\n", "p:2:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
	{"M30\n(done)\nG0 X1\n", "p:3:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
	{"O1\nG0 X1\nO2\nM2\n", "p:3:1: O2 (a program number in the middle of a program); hint: keep one program in a file"},
	{"GOTO 10\n", "p:1:1: GOTO (program flow); hint: write the program's moves out"},
	{"IF [#1 EQ 2] GOTO 5\n", "p:1:1: IF (program flow); hint: write the program's moves out"},
	{"WHILE [#1 LT 5] DO1\n", "p:1:1: WHILE (program flow); hint: write the program's moves out"},
	{"o100 sub\n", "p:1:6: SUB (program flow); hint: write the program's moves out"},
	{"G1 XO.5\n", "p:1:5: the letter O behind X, expected a number; hint: write the digit 0"},
	{"G87 X20 Y20 Z-5 R-10 Q5\n", "p:1:1: G87 whose R lies below Z, as many controls bore back; hint: that form can't be followed: write its moves out"},
	{"G1 X-" + strings.Repeat("9", 1000) + "\n", "p:1:5: a number of more than 900 digits, expected a shorter number"},
	{"G1 Xasim[0.5]\n", "p:1:5: unknown word asim"},
	{"G#1 X5\n", "p:1:1: a parameter or an expression; hint: write the program's moves out"},
	{"G1 X5 X6\n", "p:1:7: a second X word in one block, expected one; hint: write two blocks"},
	{"G0 G1 X5\n", "p:1:4: G1 after G0 in one block, expected one of them; hint: put them into two blocks"},
	{"G17 G18\n", "p:1:5: G18 after G17 in one block, expected one of them; hint: put them into two blocks"},
	{"G90 G91\n", "p:1:5: G91 after G90 in one block, expected one of them; hint: put them into two blocks"},
	{"G54 G55\n", "p:1:5: G55 after G54 in one block, expected one of them; hint: put them into two blocks"},
	{"G1 F100 F200 X1\n", "p:1:9: a second F word in one block, expected one; hint: write two blocks"},
	{"M3 M4\n", "p:1:4: M4 after M3 in one block, expected one of them; hint: put them into two blocks"},
	{"M0 M3 M6 M7 M48\n", "p:1:13: a fifth M word in one block, expected at most four; hint: put it into a block of its own"},
	{"G1 X1 S-5\n", "p:1:7: a negative S, expected zero or more"},
	{"T-1\n", "p:1:1: a negative T, expected zero or more"},
	{"G1 X1 F-10\n", "p:1:7: a negative F, expected zero or more"},
	{"G43 H-1\n", "p:1:5: a negative H, expected zero or more"},
	{"G1.5 X1\n", "p:1:1: G1.5, which isn't followed; hint: take it out, or write what it does as plain moves"},
	{"G-1 X1\n", "p:1:1: G without a code's number; hint: write a plain number such as G1"},
	{"G200 X1\n", "p:1:1: G200, which isn't followed; hint: take it out, or write what it does as plain moves"},
	{"G5.2 X1\n", "p:1:1: G5.2 (a spline block); hint: write the curve as lines and arcs"},
	{"G5.3\n", "p:1:1: G5.3 (a spline block); hint: write the curve as lines and arcs"},
	{"G7\n", "p:1:1: G7 (diameter programming, a turning code); hint: a lathe program can't be flipped"},
	{"G8\n", "p:1:1: G8 (radius programming, a turning code); hint: a lathe program can't be flipped"},
	{"G10 L2 P1 X0\n", "p:1:1: G10 (writes offsets or tool data); hint: set offsets at the control or in a program of their own"},
	{"G10 L20 P1 X0\n", "p:1:1: G10 (writes offsets or tool data); hint: set offsets at the control or in a program of their own"},
	{"G12 Q1 F100\n", "p:1:1: G12 without a radius, expected I above 0"},
	{"G13 X5 I5 Q1 F100\n", "p:1:1: G13 with X, Y, J or R, expected a pocket round where the tool stands; hint: move there in a block before it"},
	{"G16\n", "p:1:1: G16 (polar coordinates); hint: write the program's moves out"},
	{"G31 Z-5\n", "p:1:1: G31 (a probing move); hint: probe in a program of its own"},
	{"G38.2 Z-5 F50\n", "p:1:1: G38.2 (a probing move); hint: probe in a program of its own"},
	{"G50 S3000\n", "p:1:1: G50 (scaling off, or the speed limit of a lathe); hint: on a mill write G50 in a block of its own; a lathe program can't be flipped"},
	{"G51 X0 Y0 P2\n", "p:1:1: G51 (scaling); hint: write the program's moves out"},
	{"G50.1 X0\n", "p:1:1: G50.1 (ends a mirror in the control, of the axes beside it); hint: write G50.1 in a block of its own"},
	{"G51.1 X0\n", "p:1:1: G51.1 (a mirror in the control); hint: take the control's own mirror out of the program"},
	{"G54.1\n", "p:1:1: G54.1 with no P right behind it, expected P1 to P999"},
	{"G54.1 (a) P2\n", "p:1:1: G54.1 with no P right behind it, expected P1 to P999"},
	{"G54.1 P0\n", "p:1:7: G54.1 with P0, expected P1 to P999"},
	{"G54.1 P1.5\n", "p:1:7: G54.1 with P1.5, expected P1 to P999"},
	{"G54.1 P2 G4\n", "p:1:1: G54.1 beside another code that may use its P, expected one of them; hint: put them into two blocks"},
	{"G54 X1 P2\n", "p:1:1: G54 with no P right behind it, expected P1 to P999"},
	{"G55 P2\n", "p:1:5: P with G55, expected P behind G54.1 or G54 alone"},
	{"G65 P9010 X1 Y2\n", "p:1:1: G65 (a macro call); hint: write the program's moves out"},
	{"G66 P9010\n", "p:1:1: G66 (a modal macro call); hint: write the program's moves out"},
	{"G70\n", "p:1:1: G70 (inches on older controls, a cycle on others); hint: give ‹units in›, or write G20"},
	{"G74 X1 Z-1 R1\n", "p:1:1: G74 (left-hand tapping); hint: write what it does as plain moves"},
	{"G76 X1 Z-1 R1\n", "p:1:1: G76 (fine boring, whose tool must stop at an angle); hint: write what it does as plain moves"},
	{"G96 S100\n", "p:1:1: G96 (constant surface speed, a turning code); hint: where this mills write G97 and S; a lathe program can't be flipped"},
	{"G100 X0\n", "p:1:1: G100 (ends a mirror in the control); hint: take the control's own mirror out of the program"},
	{"G101 X0\n", "p:1:1: G101 (a mirror in the control); hint: take the control's own mirror out of the program"},
	{"G47 P0\n", "p:1:1: G47 (a text engraving cycle); hint: text must read: don't mirror it, or write what it does as plain moves"},
	{"M97 P100\n", "p:1:1: M97 (a call inside the program); hint: write the program's moves out"},
	{"M98 P1000\n", "p:1:5: a call of O1000, which isn't in this file, expected the subprogram behind the main program; hint: write its blocks out, or put it into the file"},
	{"M99\n", "p:1:1: M99 in the main program, which would repeat without end, expected M2 or M30; hint: where the lines above it are a subprogram, put it behind the main program's M2 or M30"},
	{"M21\n", "p:1:1: M21 (a mirror in the control); hint: take the control's own mirror out of the program"},
	{"M55\n", "p:1:1: M55, which isn't followed; hint: take it out, or give ‹inert M55› where it moves no axis"},
	{"G1 A5 B5\n", "p:1:7: B (a rotary axis whose sense the flip turns round); hint: only X, Y and Z can be mirrored"},
	{"G1 X1 U2\n", "p:1:7: U2 (a second X axis, or X by increments on a lathe); hint: only X, Y and Z can be mirrored"},
	{"G28 U0.\n", "p:1:5: U0. (a second X axis, or X by increments on a lathe); hint: only X, Y and Z can be mirrored"},
	{"G1 X1 E5\n", "p:1:7: E5 (a word that milling controls read differently); hint: take it out"},
	{"G1 X5 I2\n", "p:1:7: I with G1; hint: take it out, or write G2 or G3 where an arc is meant"},
	{"G0 X5 R2\n", "p:1:7: R with G0 (a corner that some controls round); hint: write the corner as an arc"},
	{"G2 X5 Y5\n", "p:1:1: G2 without a centre or a radius, expected I, J or R"},
	{"G0 X0 Y0\nG2 X5\n", "p:2:1: G2 without a centre or a radius, expected I, J or R"},
	{"G0 X0 Y0\nG2 X5 Y5 I1 R2\n", "p:2:13: an arc with both R and a centre, expected one of them; hint: controls differ on which they follow"},
	{"G0 X0 Y0\nG2 R5\n", "p:2:1: G2 with R and no end point in G17, expected an end point"},
	{"G0 X0 Y0\nG2 X5 Y5 K5\n", "p:2:10: K with an arc in G17; hint: take it out or choose the arc's plane"},
	{"G0 X0 Y0\nG2 X5 Y5 R0\n", "p:2:10: an arc of radius 0, expected a radius"},
	{"G0 X0 Y0\nG2 X0 Y0 R5\n", "p:2:10: an arc by radius that ends where it starts, expected another end, or a centre with I, J, K"},
	{"G0 X0 Y0\nG2 X10 Y0 R4\n", "p:2:11: radius 4, less than half the way to the arc's end, expected a radius that reaches"},
	{"G0 X0 Y0\nG2 X10 Y0 I4 J0\n", "p:2:1: an arc whose radii at start and end differ by 2 mm, expected at most 0.05 mm; hint: check its end and centre, or whether centres are absolute (G90.1)"},
	{"G0 X0 Y0 Z0\nG2 X5 I2.5\nG19 Y5 J2.5\n", "p:3:5: an arc in G19 under a G2 from another plane, expected G2 in this block; hint: the mirrored arcs of the two planes turn differently: repeat the code"},
	{"G90.1\nG0 X0 Y0\nG2 X5 I2.5\n", "p:3:1: G2 with one centre word in G90.1, expected both; hint: controls differ on what a missing one means"},
	{"G28 X0 Y0\nG2 X5 Y0 I2.5\n", "p:2:1: an arc that starts at a place of the machine, expected a start given in G90; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with the arc's start in X and Y in a block before it; G28 may send more axes home than it names"},
	{"G28\nG91 X5\n", "p:2:5: X5 in G91 from a place of the machine, expected a position given in G90; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: give X in G90 first"},
	{"G53 G0 X0\nG91 G1 X5 F100\n", "p:2:8: X5 in G91 from a place of the machine, expected a position given in G90; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: give X in G90 first"},
	{"G91 G53 G0 X5\n", "p:1:12: G53 X5 in G91, expected G90; hint: some controls ignore G53 in G91: write G90 first"},
	{"G53 G1\n", "p:1:1: G53 without an axis word, expected X, Y or Z"},
	{"G0 X1\nG53 G2 X5 I1\n", "p:2:11: I with G53; hint: take it out"},
	{"G53 G0 X1 I5\n", "p:1:11: I with G53; hint: take it out"},
	{"G28 X1 I5\n", "p:1:8: I with G28; hint: take it out"},
	{"G1 G28 X1\n", "p:1:1: G1 and G28 in one block, expected one of them; hint: put them into two blocks"},
	{"G28 G92 X0\n", "p:1:5: G92 after G28 in one block, expected one of them; hint: put them into two blocks"},
	{"G92\n", "p:1:1: G92 without an axis word, expected X, Y or Z"},
	{"G1 G92 X0\n", "p:1:1: G1 and G92 in one block, expected one of them; hint: put them into two blocks"},
	{"G92 X0 R5\n", "p:1:8: R with G92; hint: take it out"},
	{"G28\nG92 X0\n", "p:2:5: G92 X0 after a move to a place of the machine; hint: that place isn't mirrored: set the zero in a work offset instead"},
	{"G92.1 X0\n", "p:1:1: G92.1 with axis words; hint: put the move into a block of its own"},
	{"G92.3\n", "p:1:1: G92.3, which brings back a zero of an earlier program, expected G92 before it; hint: set the zero in a work offset instead"},
	{"G52\n", "p:1:1: G52 without an axis word, expected X, Y or Z"},
	{"G53 G28 X0\n", "p:1:1: G53 with G28, expected one of them; hint: put them into two blocks"},
	{"G4 P-1\n", "p:1:4: a negative dwell, expected zero or more"},
	{"G4 X1 P1\n", "p:1:1: G4 with both P and X, expected one of them; hint: put the dwell into a block of its own"},
	{"G1 G4 X5\n", "p:1:4: G4 and a move of G1 in one block, expected one of them; hint: put the dwell into a block of its own"},
	{"G4 Y1\n", "p:1:1: G4 with axis words, expected P alone; hint: put the dwell into a block of its own"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG41 X6\n", "p:3:1: G41 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG28\n", "p:3:1: G28 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG53 G0 Z0\n", "p:3:1: G53 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG20\n", "p:3:1: G20 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG55\n", "p:3:1: G55 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG18\n", "p:3:1: G18 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG92 X0\n", "p:3:1: G92 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G0 X0 Y0\nG41 D1 G1 X5 F9\nG81 X5 Z-1 R1\n", "p:3:1: G81 while cutter compensation is on; hint: cancel it with G40 first"},
	{"G18 G41 D1 G1 X5\n", "p:1:5: G41 in G18, expected G17"},
	{"G41 D-1 G1 X5\n", "p:1:5: a negative D, expected zero or more"},
	{"G93 G1 X5\n", "p:1:8: a move in G93 without F, expected F in every such block"},
	{"G93 G81 X1 Z-1 R1 F1\n", "p:1:5: G81 in G93, expected G94"},
	{"G81 R1\n", "p:1:1: G81 without X, Y or Z, expected at least one of them"},
	{"G81 X1 R1\n", "p:1:1: G81 without Z, expected the depth"},
	{"G0 X1\n/2 G91\n/3 G1 X5 F9\nG90 G0 X2\n", "p:3:1: a block of switch /3 while what the block of switch /2 in line 2 sets is in force; hint: each switch may be on or off: repeat the codes that all ways need (G90, G17, G1 and the like) in a block without a slash between them"},
	{"G0 X1\n/G1 X2 F9\n/2X5\n", "p:3:1: a block of switch /2 while what the block of switch /1 in line 2 sets is in force; hint: each switch may be on or off: repeat the codes that all ways need (G90, G17, G1 and the like) in a block without a slash between them"},
	{"G81 X1 Z-1 R-2\n", "p:1:1: G81 whose R lies below Z, expected R above the depth"},
	{"G0 Z5\nG91 G81 X1 Z1 R-2\n", "p:2:5: G81 whose R lies below Z, expected R above the depth"},
	{"G81 X1 Z-1 R1 L1.5\n", "p:1:15: a number of repeats that isn't a whole number, expected 1 or more, or 0 to keep the words and drill nothing"},
	{"G82 X1 Z-1 R1 P-1\n", "p:1:15: a negative dwell, expected zero or more"},
	{"G83 X1 Z-1 R1 Q0\n", "p:1:15: a peck of 0 or less, expected more than 0"},
	{"G83 X1 Z-1 R1\n", "p:1:1: G83 without Q, expected Q with the depth of a peck"},
	{"G81 X1 Z-1 R1 I5\n", "p:1:15: I with G81; hint: take it out"},
	{"G19 G81 X-1 Y1 Z1 R1\n", "p:1:5: G81 in G19, whose drilling axis would turn round; hint: write the holes out or flip about the other axis"},
	{"M4 G84 X1 Z-1 R1\n", "p:1:4: G84 without M3, expected the spindle turning clockwise"},
	{"M5\nG86 X1 Z-1 R1 P1\n", "p:2:1: G86 with the spindle stopped, expected M3 or M4 before it"},
	{"G18 G87 X1 Y-1 Z1 R1\n", "p:1:5: G87 in G18, expected G17"},
	{"G0 X1\n/G91\nX5\n", "p:3:1: a block that depends on whether the block with a slash in line 2 runs; hint: repeat the codes that both ways need (G90, G17, G2 and the like) in this block"},
	{"G0 B5\n", "p:1:4: B (a rotary axis whose sense the flip turns round); hint: only X, Y and Z can be mirrored"},
	{"G2 A5 X1 Y1 R1\n", "p:1:4: A (a rotary axis) outside a move of G0 or G1; hint: turn the axis in a block of its own"},
	{"G68 X1 R30\n", "p:1:1: G68 without its X, Y and R alone, expected X, Y and R; hint: controls differ on what a missing one means"},
	{"G68 R30\n", "p:1:1: G68 without its X, Y and R alone, expected X, Y and R; hint: controls differ on what a missing one means"},
	{"G91 G68 X1 Y1 R30\n", "p:1:5: G68 in G91, expected G90; hint: controls differ on what its centre and angle mean in G91"},
	{"G18 G68 X1 Z1 R30\n", "p:1:5: G68 with G18; hint: put them into two blocks"},
	{"G0 X1\nG68 X1 Y1 R30\nG28\n", "p:3:1: G28 while G68 is on; hint: end it with G69 first"},
	{"G5 X1 Y1\n", "p:1:1: G5 without P and Q, expected both"},
	{"G5 X1 Y1 I1 P1 Q1\n", "p:1:1: G5 without both I and J, expected both"},
	{"G5.1 X1 Y1 I1\n", "p:1:1: G5.1 without both I and J, expected both"},
	{"G18 G5 X1 Y1 I1 J1 P1 Q1\n", "p:1:5: G5 in G18, expected G17"},
	{"M98\nM2\n", "p:1:1: M98 without P, expected P with the subprogram's number"},
	{"M98 P-1\nM2\n", "p:1:5: M98 with no subprogram's number, expected P with a whole number"},
	{"M98 P1 L0\nM2\nO1\nM99\n", "p:1:8: a number of repeats that isn't a whole number above 0, expected 1 or more"},
	{"M98 P1 X5\nM2\n", "p:1:1: M98 with axis words; hint: put the call into a block of its own"},
	{"M98 P2\nM2\nO1\nM99\n", "p:1:5: a call of O2, which isn't in this file, expected the subprogram behind the main program; hint: write its blocks out, or put it into the file"},
	{"/M98 P1\nM2\nO1\nM99\n", "p:1:1: a call behind a slash, expected a call that always runs; hint: take the slash out, or write two programs"},
	{"M98 P1\nO1\nM99\n", "p:2:1: a subprogram that the program runs into, expected M2 or M30 before it"},
	{"M98 P1\nM2\nO1\nG0 X1\nO2\nM99\n", "p:5:1: the next subprogram before M99, expected M99 at a subprogram's end"},
	{"M98 P1\nM2\nO1\nG0 X1\n", "p:5:1: the end of the file inside a subprogram, expected M99"},
	{"M98 P1\nM2\n" + chainOfCalls(12), "p:31:1: subprograms nested more than 10 deep, expected fewer"},
	{"M98 P1\nM2\nO1\nM98 P1\nM99\n", "p:4:5: a call of O1 from within it, without end, expected a subprogram that doesn't call itself; hint: write the repeats with L, or write the blocks out"},
	{"M98 P1\nM2\nO1\nM99\nO1\nM99\n", "p:5:1: a second subprogram O1, expected one of each number"},
	{"M98 P1\nM2\nO1\nM99\nO2\nG0 X1\nM99\n", "p:6:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
	{"G0 X1\nM98 P1\nG91\nM98 P1\nM2\nO1\nX5\nM99\n", "p:7:1: a block of a subprogram that means something else at another call, expected the same at each call; hint: write the program's moves out"},
	{"M98 P1\nM2\nO1\nG16\nM99\n", "p:4:1: G16 (polar coordinates); hint: write the program's moves out"},
	{"M98 P1\nM2\nO1\nX\nM99\n", "p:4:1: X without a number, expected at least one digit"},
	{"M98 P1\nM2\n%\nG0 X1\n", "p:4:4: motion behind the end of the program, expected nothing that moves; hint: some controls run it: take it out, or put it before the end"},
	{"\xfe\xff\x00G\x001\n", "p:1:1: a byte-order mark (UTF-16); hint: save the program as plain text, one block a line"},
	{"\x00\n", "p:1:1: character 0x00; hint: take it out or put it into a comment in parentheses"},
	{"GIF89a\n", "p:1:2: unknown word IF"},
	{"G1 X1 Y\n", "p:1:7: Y without a number, expected at least one digit"},
	{"(by hand)\n\no7 x(\n", "p:3:4: text behind the program number; hint: write the name in parentheses: O7 (NAME)"},
	{"% 1000 ROW MARKER\nG0 X1\n%\n", "p:1:3: a program number and text behind the opening %, expected % alone on its line; hint: write O1000 (ROW MARKER) on the next line"},
	{"%1000\nG0 X1\n%\n", "p:1:2: a program number behind the opening %, expected % alone on its line; hint: write O1000 on the next line"},
	{"G1 X1 \x1b\n", "p:1:7: character 0x1B; hint: take it out or put it into a comment in parentheses"},
	{"%\nG1 X1\n\x1a\n%\n", "p:5:1: the end of the file, expected M2, M30 or a closing %; hint: the program opens with %: was the file cut off?"},
	{"G81 X1 Z-1 R1 L-1\n", "p:1:15: a number of repeats that isn't a whole number, expected 1 or more, or 0 to keep the words and drill nothing"},
	{"G81 X1 Z-1 R1 K3\n", "p:1:15: K with G81 (a number of repeats on some controls); hint: write L in its place where the control takes L, or write the holes out"},
	{"G0 X1\nG81 X1 R-2 Z-9\nG80 G81 X2\n", "p:3:1: G80 and G81 in one block, expected one of them; hint: put them into two blocks"},
	{"G1 X20 Y20 R2\n", "p:1:12: R with G1 (a corner that some controls round); hint: write the corner as an arc"},
	{"G1 X20 Y20 ,R2\n", "p:1:12: ,R (a corner that the control rounds); hint: end the move before the corner and write the corner as an arc"},
	{"G1 X20 Y20, C1.5\n", "p:1:11: ,C (a corner that the control bevels); hint: end the move before the corner and write the chamfer as a move of its own"},
	{"G1 X20 C1\n", "p:1:8: C (a rotary axis whose sense the flip turns round, or a chamfer on some controls); hint: only X, Y and Z can be mirrored; write a chamfer as a move of its own"},
	{"G0 X1\nM19 R90\n", "p:2:5: R with M19 (an angle of the spindle, which isn't mirrored); hint: write M19 alone where the tool is clear at any angle"},
	{"G0 X1\n/M30\nX2\n", "p:2:2: M30 behind a slash, so that the program ends here only with block delete off; hint: take the slash out, or write two programs"},
	{"M96 P5\n", "p:1:1: M96 (a jump or a call); hint: write the blocks out in the order in which they run"},
	{"G53 X0 Y0 G0\nG1 Y20 F100\n", "p:2:4: a cut where X stands at a place of the machine, expected X given in G90 before it; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with X in a block before it"},
	{"G0 Z5\nG53 X0 Y0\nG1 X20 F100\n", "p:3:4: a cut where X stands at a place of the machine, expected X given in G90 before it; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with X in a block before it"},
	{"G54 G0 X1 Y1\nG55\nG1 Z-1 F9\n", "p:3:4: a cut where X stands at a place of the machine, expected X given in G90 before it; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with X in a block before it"},
	{"G0 X1 Y1\nG28 Z0\nG81 Y5 Z-1 R1\n", "p:3:1: a cut where X stands at a place of the machine, expected X given in G90 before it; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with X in a block before it"},
	{"G0 X1 Y1\nG28 Z0\nG12 I5\n", "p:3:1: G12 at a place of the machine, expected a place given in G90; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with the pocket's centre in X and Y in a block before it"},
	{"G0 X1 Y1\nG91 G28 Z0\nG90 G2 X10 I5\n", "p:3:5: an arc that starts at a place of the machine, expected a start given in G90; hint: G28, G30, G53 and another work offset lead to places that aren't mirrored: write G0 G90 with the arc's start in X and Y in a block before it; G28 may send more axes home than it names"},
	{"G2 X10 I5\n", "p:1:1: a curve that starts where the tool happens to stand in X, expected X given in G90 before it; hint: write G0 G90 with the curve's start in X in a block before it"},
	{"G90.1 G91 G3 X10 I5 J0\n", "p:1:11: a curve that starts where the tool happens to stand in X, expected X given in G90 before it; hint: write G0 G90 with the curve's start in X in a block before it"},
	{"G0 Y1\nG5.1 X1 Y1 I1 J1\n", "p:2:1: a curve that starts where the tool happens to stand in X, expected X given in G90 before it; hint: write G0 G90 with the curve's start in X in a block before it"},
	{"<html>\n", "p:1:1: character '<'; hint: take it out or put it into a comment in parentheses"},
	{"{\x22G1\x22: 1}\n", "p:1:1: character '{'; hint: take it out or put it into a comment in parentheses"},
	{"G1 X1,5\n", "p:1:6: character ','; hint: write a decimal point, or put it into a comment in parentheses"},
	{"G1 X1\xc2\xa0Y2\n", "p:1:6: character 0xC2; hint: take it out or put it into a comment in parentheses"},
	{"G1 X\xe2\x88\x925\n", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X--5\n", "p:1:4: X without a number, expected at least one digit"},
	{"G1 X+-5\n", "p:1:4: X without a number, expected at least one digit"},
	{"X0x10\n", "p:1:3: a second X word in one block, expected one; hint: write two blocks"},
	{"G0X\n", "p:1:3: X without a number, expected at least one digit"},
	{"M\n", "p:1:1: M without a number, expected at least one digit"},
	{":100\nG0 X1\n", "p:1:1: character ':', expected the letter O or N; hint: write O where it numbers the program, N where it numbers a block"},
	{"G1 X1 @5\n", "p:1:7: character '@'; hint: take it out or put it into a comment in parentheses"},
	{"$X\n", "p:1:1: character '$'; hint: take it out or put it into a comment in parentheses"},
	{"G1 X1 *77\n", "p:1:7: character '*'; hint: take it out or put it into a comment in parentheses"},
	{"G1 X1 ' note\n", "p:1:7: character '\\''; hint: take it out or put it into a comment in parentheses"},
	{"!G1\n", "p:1:1: character '!'; hint: take it out or put it into a comment in parentheses"},
	{"G1 X1\\\n", "p:1:6: character '\\\\'; hint: take it out or put it into a comment in parentheses"},
	{"O\n", "p:1:1: O without a number, expected at least one digit"},
	{"O1.5\nG0 X1\n", "p:1:1: O1.5 (a program number in the middle of a program); hint: keep one program in a file"},
	{"O-1\nG0 X1\n", "p:1:1: O-1 (a program number in the middle of a program); hint: keep one program in a file"},
	{"O1 O2\n", "p:1:4: text behind the program number; hint: write the name in parentheses: O1 (O2)"},
	{"G1 X#1\n", "p:1:4: a parameter or an expression; hint: write the program's moves out"},
}

func TestBadPrograms(t *testing.T) {
	for _, c := range badPrograms {
		var out bytes.Buffer
		_, err := Mirror(strings.NewReader(c.in), &out, Options{Map: flipY("100"), Name: "p"})
		if err == nil {
			t.Errorf("%q: mirrored: %q", c.in, out.String())
			continue
		}
		if err.Error() != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.in, err, c.want)
		}
		if out.Len() > 0 {
			t.Errorf("%q: %d bytes written", c.in, out.Len())
		}
	}
}

// endless is a source of one byte over and over, 300 MB of it.
type endless struct {
	c    byte
	left int
}

func (e *endless) Read(b []byte) (int, error) {
	n := min(len(b), e.left)
	if n == 0 {
		return 0, io.EOF
	}
	for i := range b[:n] {
		b[i] = e.c
	}
	e.left -= n
	return n, nil
}

// TestEndlessLine: a line of 300 MB is refused after its first MiB.
func TestEndlessLine(t *testing.T) {
	for _, c := range "X 0(\x00" {
		source := &endless{byte(c), 300_000_000}
		in := io.MultiReader(strings.NewReader("G0 X1\n"), source)
		_, err := Mirror(in, &bytes.Buffer{}, Options{Map: flipY("100"), Name: "p"})
		want := "p:2:1: a line longer than 1048576 bytes; hint: save the program as plain text, one block a line"
		if err == nil || err.Error() != want {
			t.Errorf("%q: %v", c, err)
		}
		if read := 300_000_000 - source.left; read > 4<<20 {
			t.Errorf("%q: %d bytes read", c, read)
		}
	}
}

// chainOfCalls is n subprograms of which each calls the next.
func chainOfCalls(n int) string {
	var text string
	for i := 1; i <= n; i++ {
		text += fmt.Sprintf("O%d\nM98 P%d\nM99\n", i, i+1)
	}
	return text
}
