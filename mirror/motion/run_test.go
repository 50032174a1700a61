package motion

import (
	"fmt"
	"strings"
	"testing"
)

// ran gives the ends of the moves that a program makes, as "X Y Z".
func ran(t *testing.T, text string) string {
	t.Helper()
	var s strings.Builder
	err := Run([]byte(text), Options{Name: "p.nc"}, func(_ *Machine, _ *Block, moves []Move) error {
		for i := range moves {
			fmt.Fprintf(&s, "%s %s %s;", moves[i].To[0], moves[i].To[1], moves[i].To[2])
		}
		return nil
	})
	if err != nil {
		fmt.Fprintf(&s, " %v", err)
	}
	return s.String()
}

// TestRun: flow and calls, one row a construct. Where the standard has nothing
// (everything but parameters and expressions) this is common practice, from memory.
func TestRun(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"#1=2\nG0 X#1 Y[#1*3] Z-#1\nM2", "2 6 -2;"},
		{"#1=2\nG0 X#1 #1=5\nG0 X#1\nM2", "2 0 0;5 0 0;"},         // NISTIR 6556, 3.3.3: a setting takes effect after its block
		{"#1=2\n#1=#1+1 #2=5 #3=7\nG0 X#1 Y#2 Z#3\nM2", "3 5 7;"}, // none is read behind its setting
		{"#1=2\n#1=5 G0 X2\nIF [#1 EQ 5] GOTO 9\nM2\nN9 G0 X#1\nM2", "2 0 0;5 0 0;"},
		{"#1=2\nG0 X#1+2 Y#1*3-1 Z1\nM2", "4 5 1;"},
		{"#1=0\nWHILE [#1 LT 3] DO1\nG1 X#1 F9\n#1=#1+1\nEND1\nM2", "0 0 0;1 0 0;2 0 0;"},
		{"#1=0\nN10 G0 X#1\n#1=#1+1\nIF [#1 LE 2] GOTO 10\nM2", "0 0 0;1 0 0;2 0 0;"},
		{"#1=7\nIF [#1 EQ 7] THEN #2=1\nIF[#1NE7]THEN#2=2\nG0 X#2\nM2", "1 0 0;"},
		{"#1=3\nIF [#1 GT 2] THEN G0 X10\nIF [#1 LT 2] THEN G0 X20\nIF [#1 EQ 3] THEN M98 P7\nIF [#1 EQ 3] THEN GOTO 5\nG0 X30\nN5 G0 Y1\nM2\nO7\nG0 Z#1\nM99", "10 0 0;10 0 3;10 1 3;"},
		{"GOTO 20\nG0 X9\nN20 G0 X1\nM2", "1 0 0;"},
		{"GOTO 5\nG0 X9\nN5 G0 X2\no1 sub\nN5 G0 X1\no1 endsub\no1 call\nM2", "2 0 0;1 0 0;"},                             // a sub has block numbers of its own
		{"GOTO 5\nG0 X9\no1 sub\nG0 X1\nGOTO 5\nG0 X8\nN5 G0 Y1\no1 endsub\nN5 G0 X2\no1 call\nM2", "2 0 0;1 0 0;1 1 0;"}, // and the main program goes on behind it
		{"#1=0\nN5 #1=#1+1\no1 sub\no1 endsub\nG0 X#1\nIF [#1 LT 2] GOTO 5\nM2", "1 0 0;2 0 0;"},
		{"G0 X1\nM98 P100 L2\nM2\nO100\nG91 G0 X1\nG90\nM99", "1 0 0;2 0 0;3 0 0;"},
		{"G0 X1\nM97 P50 L2\nM2\nN50 G91 G0 X1\nG90\nM99", "1 0 0;2 0 0;3 0 0;"},
		{"#1=9\nG65 P7 A1.5 B2 X3\nG0 X#1\nM2\nO7\nG0 X#1 Y#2 Z#24\nM99", "1.5 2 3;9 2 3;"},
		{"o1 sub\nG0 X#1 Y#2\no1 endsub\n#1=9\no1 call [1] [2]\nG0 Z#1\nM2", "1 2 0;1 2 9;"},
		{"o1 sub\nG0 X1\no2 if [1]\no1 return\no2 endif\nG0 X2\no1 endsub\no1 call\nM2", "1 0 0;"},
		{"#<_d>=3\no<a> sub\n#<d>=4\nG0 X#<d> Y#<_D>\no<a> endsub\n#<d>=5\no<A> call\nG0 Z#<d>\nM2", "4 3 0;4 3 5;"},
		{"#1=3\no1 if [#1 EQ 1]\nG0 X1\no1 elseif [#1 EQ 3]\nG0 X3\no1 else\nG0 X9\no1 endif\nG0 Y1\nM2", "3 0 0;3 1 0;"},
		{"#1=3\no1 if [#1 EQ 1]\nG0 X1\no1 else\nG0 X9\no1 endif\nG0 Y1\nM2", "9 0 0;9 1 0;"},
		{"#1=0\no1 while [#1 LT 2]\nG0 X#1\n#1=[#1+1]\no1 endwhile\nM2", "0 0 0;1 0 0;"},
		{"#1=0\no1 do\nG0 X#1\n#1=[#1+1]\no1 while [#1 LT 2]\nM2", "0 0 0;1 0 0;"},
		{"G91\no1 repeat [3]\nG0 X1\no1 endrepeat\no2 repeat [0]\nG0 X7\no2 endrepeat\nM2", "1 0 0;2 0 0;3 0 0;"},
		{"#1=0\no1 while [1]\n#1=[#1+1]\no2 if [#1 EQ 2]\no1 continue\no2 endif\no3 if [#1 GT 3]\no1 break\no3 endif\nG0 X#1\no1 endwhile\nM2", "1 0 0;3 0 0;"},
		{"#1=0\nWHILE [#1 LT 2] DO1\n#2=0\nWHILE [#2 LT 2] DO2\nG0 X#1 Y#2\n#2=#2+1\nEND2\n#1=#1+1\nEND1\nM2", "0 0 0;0 1 0;1 0 0;1 1 0;"},
		{"#1=0\nDO1\n#1=#1+1\nIF [#1 GT 2] GOTO 5\nG0 X#1\nEND1\nN5 G0 Y1\nM2", "1 0 0;2 0 0;2 1 0;"},
		{"G0 X[1/3]\nM2", "0.333333333 0 0;"},
		{"G0 X[10*SIN[30]]\nM2", "5 0 0;"},
		{"#1=0 #2=0\nWHILE [#1 LT 360] DO1\n#1=#1+360/7\n#2=#2+1\nEND1\nG0 X#2\nM2", "7 0 0;"}, // fractions stay exact
		{"#1=[1 EQ 1 AND 2 GT 1]\n#2=[1 GT 2 OR 2 GE 2]\n#3=[1 NE 1 XOR 1 LE 1]\nG0 X#1 Y#2 Z#3\nM2", "1 1 1;"},
		{"#2=3\n##2=4\nG0 X#3\nM2", "4 0 0;"},
		// #0 is never set: EQ #0 asks whether an argument was given.
		{"G65 P7 A1\nM2\nO7\nIF [#1 EQ #0] GOTO 9\nIF [#2 NE #0] GOTO 9\n#1=#0\nIF [#1 NE #0] GOTO 9\nIF [[2] EQ #0] GOTO 9\nIF [#0 EQ #0] GOTO 8\nGOTO 9\nN8 G0 X5\nM99\nN9 #3000=1 (NO A)", "5 0 0;"},
		// An argument that wasn't given leaves its word out, in the macro's body alone.
		{"G65 P7 X4\nG65 P7 X5 Y6\nG65 P7 Y1\nM2\nO7\nM98 P8\nG65 P9 X#24 Z#25\nM99\nO8\nG0 X#24 Y#25\nM99\nO9\nG0 Z#26\nM99", "4 0 0;5 6 0;5 6 6;5 1 6;5 1 1;"},
		// M99 P goes on at a block number of the program that called.
		{"M98 P7\nG0 X9\nN5 G0 X1\nM2\nO7\nG0 Y2\nM99 P5", "0 2 0;1 2 0;"},
		{"#1=0\nN1 #1=#1+1\nG0 X#1\nIF [#1 GT 1] GOTO 2\nM99 P1\nN2 M2", "1 0 0;2 0 0;"},
		// G66: the macro behind each block that moves, until G67.
		{"G66 P7 Z-1\nG0 X1\nF9\nX2\nG67\nX3\nM2\nO7\nG0 Z#26\nZ0\nM99", "1 0 0;1 0 -1;1 0 0;2 0 0;2 0 -1;2 0 0;3 0 0;"},
		// G16: a radius and an angle about zero; the angle may count on.
		{"G16\nG0 X10 Y0\nY90\nG91 Y90\nG90 X5\nG15 X1 Y1\nM2", "10 0 0;0 10 0;-10 0 0;-5 0 0;1 1 0;"},
		{"G17 G16 G0 X10 Y30 Z5\nG99 G81 Z-1 R1 Y60 F9\nG91 Y30 R0 Z-2 L2\nG80\nG15\nM2",
			"8.660254038 5 5;5 8.660254038 5;5 8.660254038 1;5 8.660254038 -1;5 8.660254038 1;0 10 1;0 10 -1;0 10 1;-5 8.660254038 1;-5 8.660254038 -1;-5 8.660254038 1;"},
		{"G18 G16 G0 Z10 X90\nG15 G17\nG0 Y1\nM2", "10 0 0;10 1 0;"},
		{"G0 X1 Y1\nG52 X5\nG16 G1 X2 Y180 F9\nM2", "1 1 0;-2 0 0;"},
		// G51: lengths from a centre on; G50 leaves the tool where it is.
		{"G0 X1 Y1 Z1\nG51 X0 Y0 Z0 P2.\nG1 X3 F9\nG91 Y-1\nG90 G3 X5 Y1.5 I2\nG2 X3 R2\nG50\nX3 R2\nM2", "1 1 1;6 1 1;6 -1 1;10 3 1;6 3 1;3 3 1;"},
		{"G51 X10 Y10 I.5 J3. K1.\nG0 X12 Y12 Z12\nG50\nM2", "11 16 12;"},
		{"#1=3\nG51 X0 Y0 Z0 P#1\nG0 X1 Y1 Z1\nG99 G81 Z-1 R0.5 F9\nG80 G50\nM2", "3 3 3;3 3 1.5;3 3 -3;3 3 1.5;"},
		{"g[2*5-9] x[1+1] y-2 z0\nM2", "2 -2 0;"},                   // NISTIR 6556, 3.3.2
		{"g0 x[6-[4*3/2]]\ng1 x asin[0.5] f9\nM2", "0 0 0;30 0 0;"}, // NISTIR 6556, table 10
		{"#1=4\nm98 p7\n#1=5\nm98 p7\nm2\nO7\ng0 x#1\nm99", "4 0 0;5 0 0;"},
	} {
		if got := ran(t, tt.text+"\n"); got != tt.want {
			t.Errorf("%q:\ngot  %s\nwant %s", tt.text, got, tt.want)
		}
	}
}
