package motion

import "testing"

// TestValues: what stands for a number, as places in X.
func TestValues(t *testing.T) {
	x := func(m *Move) string { return short(m.To[0].Float()) }
	const set = "G21 G90 G0 X9 Y9 Z9|#1=2 #2=-3 #3=0.5 #4=0|#<name>=7 #<_top>=8"
	check(t, []table{
		{source: "NISTIR 6556, 3.3.2.3: ** before * / MOD, those before + - OR XOR AND, each from left to right", before: set, tell: x, flow: true, rows: []row{
			{"X[2+3*4]", "14"}, {"X[2*3+4]", "10"}, {"X[2-3-4]", "-5"}, {"X[2-3+4]", "3"}, {"X[24/4/2]", "3"}, {"X[24/4*2]", "12"}, {"X[2*3**2]", "18"}, {"X[2**3*2]", "16"}, {"X[2**3**2]", "64"}, {"X[4**-1]", "0.25"}, {"X[4**0.5]", "2"}, {"X[0**0]", "1"}, {"X[-2**2]", "4"}, {"X[-2**3]", "-8"}, {"X[0-2**2]", "-4"},
			{"X[7 MOD 4]", "3"}, {"X[7 MOD 4*2]", "6"}, {"X[2*7 MOD 4]", "2"}, {"X[9+7 MOD 4]", "12"}, {"X[7.5 MOD 2]", "1.5"}, {"X[-7 MOD 4]", "1"}, {"X[17 MOD 7 MOD 2]", "1"}, {"X[8 MOD 4]", "0"}, {"X[2+3 OR 0]", "1"}, {"X[1 OR 1+1]", "2"}, {"X[1 AND 0 OR 1]", "1"}, {"X[1 OR 1 AND 0]", "0"}, {"X[1 XOR 1 OR 1]", "1"}, {"X[1+1 AND 1]", "1"}, {"X[2 AND -3]", "1"}, {"X[0.5 AND 0.1]", "1"}, {"X[1 XOR 2]", "0"},
			{"X[[2+3]*4]", "20"}, {"X[2*[3+4]]", "14"}, {"X[[[[5]]]]", "5"}, {"X[1--1]", "2"}, {"X[1+-1]", "0"}, {"X[2*-3]", "-6"}, {"X[2/-4]", "-0.5"}, {"X[1 - -1]", "2"}, {"X[- 1]", "-1"}, {"X[+1]", "1"}, {"X[.5+.5]", "1"}, {"X[1.+1.]", "2"}, {"X[1/3*3]", "1"}, {"X[1/8]", "0.125"}, {"X[10/4]", "2.5"},
			{"X[1.0 mod 0.3]", "0.1"}, {"X[2 o R 0]", "1"}, {"X[1 2 + 3]", "15"}, {"X[ 2 * * 3 ]", "!"}, {"X[2 3]", "23"}, {"X[]", "!1:3: ']'"}, {"X[1+]", "!1:5: ']'"}, {"X[*1]", "!1:3: '*'"}, {"X[1", "!1:2: a [ that isn't closed"}, {"X[1]]", "!1:5: character ']'"}, {"X[1 2 X]", "!1:7: 'X'"}, {"X[1//2]", "!1:5: '/'"},
		}},
		{source: "common practice, from memory: comparisons bind less than sums, AND OR XOR less than those", before: set, tell: x, flow: true, rows: []row{
			{"X[1 LT 2]", "1"}, {"X[2 LT 1]", "0"}, {"X[1 LE 1]", "1"}, {"X[1 LT 1]", "0"}, {"X[1 GE 1]", "1"}, {"X[1 GT 1]", "0"}, {"X[2 GT 1]", "1"}, {"X[1 EQ 1.0]", "1"}, {"X[1 NE 1.0]", "0"}, {"X[1 NE 2]", "1"}, {"X[-1 LT 0]", "1"}, {"X[1+1 EQ 2]", "1"}, {"X[2 EQ 1+1]", "1"}, {"X[2*3 GT 5]", "1"},
			{"X[1 EQ 1 AND 2 EQ 2]", "1"}, {"X[1 EQ 1 AND 2 EQ 3]", "0"}, {"X[1 EQ 2 OR 2 EQ 2]", "1"}, {"X[1 LT 2 XOR 2 LT 3]", "0"}, {"X[0 AND 1 EQ 0]", "0"}, {"X[1/3+1/3+1/3 EQ 1]", "1"}, {"X[0.1+0.2 EQ 0.3]", "1"}, {"X[5 LT 3 LT 1]", "1"}, {"X[1e]", "!"}, {"X[1 EQ]", "!1:7: ']'"}, {"X[1 = 1]", "!1:5: '='"}, {"X[1 < 2]", "!1:5: '<'"},
		}},
		{source: "NISTIR 6556, 3.3.2.4: degrees; FIX goes down and FUP up, of negative numbers too; ROUND to the nearest, halves away from 0 (from memory); exact values of angles", before: set, tell: x, flow: true, rows: []row{
			{"X[SIN[0]]", "0"}, {"X[SIN[90]]", "1"}, {"X[SIN[-90]]", "-1"}, {"X[SIN[210]]", "-0.5"}, {"X[COS[60]]", "0.5"}, {"X[COS[180]]", "-1"}, {"X[COS[-60]]", "0.5"}, {"X[TAN[45]]", "1"}, {"X[TAN[-45]]", "-1"}, {"X[ASIN[0.5]]", "30"}, {"X[ASIN[-1]]", "-90"}, {"X[ACOS[0.5]]", "60"}, {"X[ACOS[-1]]", "180"}, {"X[ACOS[1]]", "0"}, {"X[ACOS[0]]", "90"},
			{"X[ATAN[1]/[1]]", "45"}, {"X[ATAN[1]/[-1]]", "135"}, {"X[ATAN[-1]/[-1]]", "-135"}, {"X[ATAN[-1]/[1]]", "-45"}, {"X[ATAN[0]/[1]]", "0"}, {"X[ATAN[0]/[-1]]", "180"}, {"X[ATAN[1]/[0]]", "90"}, {"X[ATAN[-1]/[0]]", "-90"}, {"X[ATAN[3]/[4]*2]", "73.739795"}, {"X[ATAN[1]/[1]/3]", "15"}, {"X[ATAN[1]]", "45"}, {"X[ATAN[1] / [1]+1]", "46"},
			{"X[FIX[2.8]]", "2"}, {"X[FIX[-2.8]]", "-3"}, {"X[FIX[-2]]", "-2"}, {"X[FIX[0]]", "0"}, {"X[FUP[2.2]]", "3"}, {"X[FUP[-2.8]]", "-2"}, {"X[FUP[2]]", "2"}, {"X[FUP[-0.5]]", "0"}, {"X[ROUND[2.5]]", "3"}, {"X[ROUND[-2.5]]", "-3"}, {"X[ROUND[2.4999]]", "2"}, {"X[ROUND[-2.4999]]", "-2"}, {"X[ROUND[0.5]]", "1"}, {"X[ROUND[-0.5]]", "-1"}, {"X[ROUND[7]]", "7"},
			{"X[ABS[-1.5]]", "1.5"}, {"X[ABS[1.5]]", "1.5"}, {"X[ABS[0]]", "0"}, {"X[SQRT[2.25]]", "1.5"}, {"X[SQRT[2]]", "1.414214"}, {"X[SQRT[0]]", "0"}, {"X[EXP[0]]", "1"}, {"X[EXP[1]]", "2.718282"}, {"X[LN[1]]", "0"}, {"X[LN[EXP[3]]]", "3"}, {"X[SIN[30]**2+COS[30]**2]", "1"}, {"X[FIX[10/3]]", "3"}, {"X[FIX[1/3*3]]", "1"}, {"X[FIX[0.1*30]]", "3"}, {"X[2*SIN[30]]", "1"}, {"X[-SIN[30]]", "-0.5"},
			{"XSIN[30]", "0.5"}, {"X SIN[30]*2", "1"}, {"Xabs[-2]", "2"}, {"X-ABS[-2]", "-2"}, {"X[SIN 30]", "!1:7: a function without brackets"}, {"X[SIN]", "!1:6: a function without brackets"}, {"X[FOO[1]]", `!1:3: "FOO"`}, {"X[SQRT[-1]]", "!1:3: the square root of a negative"}, {"X[LN[0]]", "!1:3: the logarithm"}, {"X[ASIN[1.01]]", "!1:3: ASIN of a number beyond 1"}, {"X[ACOS[-1.01]]", "!1:3: ACOS of a number beyond 1"}, {"X[ATAN[0]/[0]]", "!1:3: ATAN[0]/[0]"}, {"X[1/0]", "!1:4: a division by 0"}, {"X[1 MOD 0]", "!1:5: a division by 0"}, {"X[0**-1]", "!1:4: 0 to a negative power"},
		}},
		{source: "NISTIR 6556, 3.3.2.2: # binds first, its number may be worked out; 3.3.3: a setting counts from the next block on; names: common practice", before: set, tell: x, flow: true, rows: []row{
			{"X#1", "2"}, {"X#2", "-3"}, {"X-#2", "3"}, {"X+#1", "2"}, {"X[#1+2]", "4"}, {"X#[1+2]", "0.5"}, {"X##1", "-3"}, {"X#[#1]", "-3"}, {"X[#1*#2]", "-6"}, {"X[#1**#1]", "4"}, {"X# 1", "2"}, {"X#1.0", "2"}, {"X#00001", "2"}, {"X[-#1]", "-2"}, {"X[#4 OR #1]", "1"}, {"X#1Y#2", "2"}, {"X#<name>", "7"}, {"X#<NAME>", "7"}, {"X#< n a m e >", "7"}, {"X[#<_top>/2]", "4"}, {"X#1+1", "3"}, {"X#1*#1-1", "3"}, {"X#1/4", "0.5"},
			{"#1=5|X#1", "5"}, {"#1=[#1+1]|X#1", "3"}, {"#1=#1+1|X#1", "3"}, {"#1=#2|#2=9|X#1", "-3"}, {"#[#1]=6|X#2", "6"}, {"##1=6|X#2", "6"}, {"X#1 #1=5|X#1", "2; 5"}, {"#5=#1 #1=#2 #6=1|X#5|X#1", "2; -3"}, {"#1=5 #1=6|X#1", "6"}, {"#7=-.5|X#7", "-0.5"}, {"#7=-[2]|X#7", "-2"}, {"#7=SIN[90]|X#7", "1"}, {"#7=1 #8=2 X3|X#7|X#8", "3; 1; 2"}, {"G91 X#1 #1=1|X#1", "11; 12"}, {"#5060=1|X#5060", "1"},
			{"X#4", "0"}, {"#1=5 (X#1)|X#1", "5"}, {"# 1 = 5|X#1", "5"}, {"N5 #1=5|X#1", "5"}, {"/#1=5|X#1", "5"}, {"#1=1/3|X[#1*3]", "1"}, {"#1=[1]|#1=[#1+1]|#1=[#1+1]|X#1", "3"}, {"#9=#0|X1", "1"}, {"#1=#0|X#1", "!2:2: parameter #1, which the program hasn't set"}, {"X#9", "!1:2: parameter #9, which"}, {"X#<nome>", "!1:2: parameter #<nome>, which"}, {"X#0", "!1:3: parameter number 0"}, {"X#-1", "!1:3: parameter number -1"}, {"X#5400", "!1:3: parameter number 5400"}, {"X#1.5", "!1:3: parameter number 3/2"},
			{"#5061=1", "!1:1: a setting of parameter #5061"}, {"#1", "!1:3: a parameter alone"}, {"#1=", "!1:4: the end of the line"}, {"#1==2", "!1:4: '='"}, {"#a=1", "!1:2:"}, {"#1=5 X#1", "!1:7: parameter #1 behind its setting"}, {"X#1#2", "!"}, {"=5", "!1:1: character '='"}, {"X#", "!1:3: the end of the line"}, {"X#<name", "!1:3: a < that isn't closed"},
		}},
		{source: "NISTIR 6556, 3.3.2: a value stands for any number, of codes too; a code is one of the table then", before: set, tell: func(m *Move) string { return ends(m) + " F" + m.State.Feed.String() }, flow: true, rows: []row{
			{"G[0+1] X#1 F[10*3]", "f 2,9,9 F30"}, {"G#1 X11 I1 F#1", "cw 11,9,9 @10,9 by -180 F2"}, {"G1 X#3 F#1", "f 0.5,9,9 F2"}, {"G90.1|G[80+1] X1 R#1 Z[#2] F1", "r 1,9,9 F1; r 1,9,2 F1; f 1,9,-3 F1; r 1,9,9 F1"}, {"G[92.1] X1", "r 1,9,9 F0"}, {"M[3] X1", "r 1,9,9 F0"}, {"G[1/3] X1", "!1:1: G without"}, {"G1 X1 F[-1]", "!1:7: a negative F"}, {"G1 X1 F[1/3]", "f 1,9,9 F0.33333"}, // feeds to five decimals
			{"N[5] X1", "!1:2: N without a number"}, {"G43 H[#1] X1 Z1", "r 1,9,1 F0"}, {"T[#1] M6|X1", "r 1,9,9 F0"}, {"X[1/3]", "r 0.333333,9,9 F0"}, {"X[10**18]", "!1:1: X with a number that is too large"}, {"G20 X[1]", "r 1,0.354331,0.354331 F0"},
		}},
	})
}
