package motion

// badMacros holds programs and, behind =>, what each is refused with.
const badMacros = `
G52 G53 X0
=> m.nc:1:5: G53 with G52, expected one of them; hint: put them into two blocks

#-#1=3
=> m.nc:1:3: parameter #1, which the program hasn't set, expected a block that sets it first

N10 GOTO 10
=> m.nc:1:1: more than 1000 blocks, expected a program that ends; hint: does the loop here ever end?

G0 X1
DO1
G1 X2 F9
END1
M2
=> m.nc:2:1: more than 1000 blocks, expected a program that ends; hint: does the loop here ever end?

#1=1
WHILE [#1 GT 0] DO1
#1=#1+1
END1
M2
=> m.nc:2:1: more than 1000 blocks, expected a program that ends; hint: does the loop here ever end?

o1 while [1]
o1 endwhile
M2
=> m.nc:1:1: more than 1000 blocks, expected a program that ends; hint: does the loop here ever end?

o1 do
o1 while [1]
=> m.nc:2:1: more than 1000 blocks, expected a program that ends; hint: does the loop here ever end?

GOTO 7
M2
=> m.nc:1:1: a jump to N7, which isn't there, expected a block with that number in the same program

#1=3
GOTO #1
M2
=> m.nc:2:1: a jump to N3, which isn't there, expected a block with that number in the same program

GOTO 1.5
M2
=> m.nc:1:1: GOTO 1.5, expected a whole block number

GOTO 0
M2
=> m.nc:1:1: GOTO 0, expected a whole block number

GOTO N10
N10 M2
=> m.nc:1:6: GOTO with the letter N, expected the number alone

GOTO
M2
=> m.nc:1:5: the end of the line, expected a number

GOTO 10
N10 G0 X1
N10 G0 X2
M2
=> m.nc:1:1: a jump to N10, which is there twice, expected one block of that number

GOTO 10
WHILE [1] DO1
N10 G0 X1
END1
M2
=> m.nc:1:1: a jump to N10, into a loop or branch of line 2, expected a jump out of one, or inside it

IF [1] GOTO 5
M98 P5
M2
O5
N5 G0 X1
M99
=> m.nc:1:1: a jump to N5, which isn't there, expected a block with that number in the same program

IF 1 GOTO 5
M2
=> m.nc:1:4: a condition without brackets, expected [

IF [1]
M2
=> m.nc:1:7: IF [..] without GOTO or THEN, expected GOTO and a block number, or THEN and a setting

IF [1] THEN
M2
=> m.nc:1:12: IF [..] THEN without a block, expected THEN #1=2, or words such as G0 X1

IF [1] THEN (G0 X1)
M2
=> m.nc:1:13: IF [..] THEN without a block, expected THEN #1=2, or words such as G0 X1

IF [1] THEN G0 X1 IF [2] THEN G0 X2
M2
=> m.nc:1:20: I without a number, expected at least one digit

G65 P7 A1
M2
O7
G0 X[#24+1]
M99
=> m.nc:4:6: parameter #24, which the program hasn't set, expected a block that sets it first

G65 P7 A1
M2
O7
G0 X#100
M99
=> m.nc:4:5: parameter #100, which the program hasn't set, expected a block that sets it first

G65 P7 A1
M2
O7
G#2 X5
M99
=> m.nc:4:2: parameter #2, which the program hasn't set, expected a block that sets it first

o1 sub
G0 X#1 Y#2
o1 endsub
o1 call [1]
M2
=> m.nc:2:9: parameter #2, which the program hasn't set, expected a block that sets it first

IF [1] THEN G0 X#3
M2
=> m.nc:1:17: parameter #3, which the program hasn't set, expected a block that sets it first

IF [1 GOTO 5
M2
=> m.nc:1:7: 'G', expected an operator or ]

IF [#9 EQ 1] GOTO 5
M2
=> m.nc:1:5: parameter #9, which the program hasn't set, expected a block that sets it first

IF [1 EQ] GOTO 5
M2
=> m.nc:1:9: ']', expected a number

WHILE [1]
M2
=> m.nc:1:10: WHILE [..] without DO, expected DO and a number

WHILE [1] DO
M2
=> m.nc:1:13: WHILE without a number, expected a number such as 1

WHILE [1] DO1
M2
=> m.nc:1:1: WHILE 1 without END 1

END1
M2
=> m.nc:1:1: END 1 without its beginning

DO1
DO2
END1
END2
M2
=> m.nc:3:1: END 1 before DO of line 2 is closed, expected loops inside one another

WHILE [1] DO1
END2
M2
=> m.nc:2:1: END 2 before WHILE of line 1 is closed, expected loops inside one another

DO1
G0 X1
O5
END1
M2
=> m.nc:1:1: DO 1 without END 1

/GOTO 5
N5 M2
=> m.nc:1:1: GOTO behind a slash (block delete), expected a line that always runs; hint: take the slash out, or write two programs

o1 sub
M2
=> m.nc:1:1: O1 sub without endsub

o1 endsub
M2
=> m.nc:1:1: O1 endsub without its beginning

o1 if [1]
M2
=> m.nc:1:1: O1 if without endif

o1 else
M2
=> m.nc:1:1: O1 else without its beginning

o1 endif
M2
=> m.nc:1:1: O1 endif without its beginning

o1 if [1]
o2 endif
o1 endif
M2
=> m.nc:2:1: O2 endif before IF of line 1 is closed, expected loops inside one another

o1 while [1]
M2
=> m.nc:1:1: O1 while without endwhile

o1 repeat [1.5]
o1 endrepeat
M2
=> m.nc:1:1: repeat [1.5], expected a whole number, 0 or more

o1 repeat [-1]
o1 endrepeat
M2
=> m.nc:1:1: repeat [-1], expected a whole number, 0 or more

o1 repeat [2]
M2
=> m.nc:1:1: O1 repeat without endrepeat

o1 break
M2
=> m.nc:1:1: break outside loop O1, expected one inside it

o1 continue
M2
=> m.nc:1:1: continue outside loop O1, expected one inside it

o1 return
M2
=> m.nc:1:1: return outside a sub

o1 call
M2
=> m.nc:1:1: a call of O1, whose sub isn't in this file; hint: put the sub into the file

o<bore> call [1]
M2
=> m.nc:1:1: a call of O<bore>, whose sub isn't in this file; hint: put the sub into the file

o1 sub
o1 call
o1 endsub
o1 call
M2
=> m.nc:2:1: a subprogram that calls itself, without end; hint: write a loop, or repeat it with L

o1 sub
o1 endsub
o1 sub
o1 endsub
M2
=> m.nc:3:1: a second subprogram O1, expected one of each number

o1 sub
o2 sub
o2 endsub
o1 endsub
M2
=> m.nc:2:1: a sub inside SUB, expected subs beside one another

o1 sub
o1 endsub [3]
M2
=> m.nc:2:4: endsub with a value, expected endsub alone; hint: set a parameter such as #<_depth> in a block before it, and read that behind the call

o<bore drill
M2
=> m.nc:1:2: a < that isn't closed, expected >

o<bore> drill
M2
=> m.nc:1:9: "DRILL" behind O<bore>, expected sub, call, if, while, repeat or the like

o1 if
M2
=> m.nc:1:6: a condition without brackets, expected [

o1 if [1] G0 X1
o1 endif
M2
=> m.nc:1:11: "G0 X1" behind O IF, expected the end of the line

M98 P5
M2
=> m.nc:1:1: a call of O5, which doesn't follow in this file, expected the subprogram behind the main program; hint: write its blocks out, or put it into the file

M98 P5
M2
O5
M98 P5
M99
=> m.nc:4:1: a subprogram that calls itself, without end; hint: write a loop, or repeat it with L

M98 P5
M2
O5
M99
O5
M99
=> m.nc:5:1: a second subprogram O5, expected one of each number

M98 P5
M2
O5
G0 X1
=> m.nc:4:1: the end of the file inside a subprogram, expected M99

M98 P5
M2
O5
G0 X1
O6
M99
=> m.nc:5:1: the next subprogram before M99, expected M99 at a subprogram's end

G0 X1
O5
M99
M2
=> m.nc:2:1: a subprogram that the program runs into, expected M2 or M30 before it

G0 X1
M99
M2
=> m.nc:2:1: M99 in the main program, which would repeat without end, expected M2 or M30; hint: where the lines above it are a subprogram, put it behind the main program's M2 or M30

M98 P5 L0
M2
O5
M99
=> m.nc:1:8: L0 with M98, expected a whole number of repeats, 1 or more

M97
M2
=> m.nc:1:1: M97 without P, expected P with what is called

M97 P5
M2
=> m.nc:1:1: a jump to N5, which isn't there, expected a block with that number in the same program

M97 P5 X1
M2
N5 M99
=> m.nc:1:8: X beside M97; hint: put the call into a block of its own

G65
M2
=> m.nc:1:1: G65 without P, expected P with what is called

G65 P5
M2
=> m.nc:1:1: a call of macro O5, whose body isn't in this file; hint: put the macro behind the main program's M30

G65 P5 A1 A2
M2
O5
M99
=> m.nc:1:11: a second A with G65, expected each letter once

G65 P5 N1
M2
=> m.nc:1:8: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block

G65 P5 G1
M2
O5
M99
=> m.nc:1:8: G beside G65; hint: put the call into a block of its own

G65 P5 A1 L0
M2
O5
M99
=> m.nc:1:11: L0 with G65, expected a whole number of repeats, 1 or more

G65 P5
M2
O5
G0 X[#1*2]
M99
=> m.nc:4:6: parameter #1, which the program hasn't set, expected a block that sets it first

/G65 P5
M2
=> m.nc:1:2: G65 behind a slash, expected a call that always runs; hint: take the slash out

G66 P5 A1
M2
=> m.nc:1:1: a call of macro O5, whose body isn't in this file; hint: put the macro behind the main program's M30

G66 P5 A1
M98 P5
M2
O5
M99
=> m.nc:2:1: M98 while G66 is on; hint: end it with G67 first: controls differ on which moves call the macro then

G66 P5
o1 call
M2
O5
M99
o1 sub
o1 endsub
=> m.nc:2:1: a call while G66 is on; hint: end it with G67 first: controls differ on which moves call the macro then

G65 P5
M2
O5
G66 P6
M99
O6
M99
=> m.nc:4:1: G66 inside a subprogram, expected G66 in the main program

M98 P5
M2
O5
M99 P7
=> m.nc:4:5: a jump to N7, which isn't there, expected a block with that number in the same program

M98 P5
M2
O5
M99 P1.5
=> m.nc:4:5: P1.5 with M99, expected a block number

M98 P5 L2
N7 M2
O5
M99 P7
=> m.nc:4:5: M99 with P in a subprogram that is to be repeated, or of O words, expected M99 alone

G16 G0 X5
M2
=> m.nc:1:1: a first move after G16 without both radius and angle, expected X and Y in G90

G16 G0 X5 Y20
G91 X2
M2
=> m.nc:2:5: a radius (X) in G91 while G16 is on, expected the radius in G90; hint: controls take it from where the tool stands, or add it

G16 G0 X-5 Y20
M2
=> m.nc:1:8: a radius of -5 while G16 is on, expected 0 or more, as far as a machine reaches

G16 G0 X5 Y20
G2 X5 Y40 I3
M2
=> m.nc:2:11: I while G16 is on, expected arcs by R; hint: controls differ on what a centre is there

G16 G0 X5 Y20
G28 Z0
M2
=> m.nc:2:1: G28 while G16 is on; hint: end it with G15 first

G16 G0 X5 Y20
G18
M2
=> m.nc:2:1: G18 while G16 is on; hint: end it with G15 first

G16
G16
M2
=> m.nc:2:1: G16 while G16 is on; hint: end it with G15 first

G68 X0 Y0 R30
G16
M2
=> m.nc:2:1: G16 while G68 is on; hint: end it with G69 first

G51 X0 Y0 P2.
M2
=> m.nc:1:1: G51 without Z, expected the centre of each axis that it scales; hint: controls differ on what a missing one is: write the centre's Z

G51 X0 Y0 Z0 P2
M2
=> m.nc:1:14: P2 with G51, without a point, expected P2. where that is the factor; hint: controls differ: some count in thousandths

G51 X0 Y0 Z0
M2
=> m.nc:1:1: G51 without a factor, expected P, or I, J and K

G51 X0 I-1.
M2
=> m.nc:1:8: I-1 with G51 (a mirror), expected a factor above 0; hint: take the control's own mirror out of the program

G51 X0 I0.
M2
=> m.nc:1:8: I0 with G51, expected a factor above 0

G51 X0 Y0 Z0 P2. I3.
M2
=> m.nc:1:18: I beside P with G51, expected one of them

G91 G51 X0 Y0 Z0 P2.
M2
=> m.nc:1:5: the centre of G51 in G91, expected G90; hint: controls differ on what it counts from

G51 X0 Y0 Z0 P2.
G51 X0 Y0 Z0 P3.
M2
=> m.nc:2:1: G51 while G51 is on; hint: end it with G50 first

G51 X0 Y0 I2. J3.
G0 X1 Y1
G2 X2 I.5 F9
M2
=> m.nc:3:1: an arc while G51 scales by 2 and 3, expected one factor in its plane; hint: it would be no circle

G51 X0 Y0 Z0 P2.
G92 X0
M2
=> m.nc:2:1: G92 while G51 is on; hint: end it with G50 first

G51 X0 Y0 Z0 P2.
G20
M2
=> m.nc:2:1: G20 while G51 is on; hint: end it with G50 first

G81 X1 Y1 Z-1 R1 F9
G51 X0 Y0 Z0 P2.
M2
=> m.nc:2:1: G51 while a cycle is on; hint: end it with G80 first

G51 X0 Y0 Z0 P2.
G81 X1 Y1 Z-1 R1 F9
G50
M2
=> m.nc:3:1: G50 while a cycle is on; hint: end it with G80 first

G16
G51 X0 Y0 Z0 P2.
M2
=> m.nc:2:1: G51 while G16 is on; hint: end it with G15 first

G0 X1 Y1
G51.1 X0
M2
=> m.nc:2:1: G51.1 (a mirror in the control); hint: take the control's own mirror out of the program

G0 X#1
M2
=> m.nc:1:5: parameter #1, which the program hasn't set, expected a block that sets it first

G0 X#<depth>
M2
=> m.nc:1:5: parameter #<depth>, which the program hasn't set, expected a block that sets it first

G0 X#5061
M2
=> m.nc:1:5: parameter #5061, which the program hasn't set, expected a block that sets it first

G65 P7
M2
O7
IF [#1 EQ #0] GOTO 9
G0 X#1
M99
N9 #3000=1 (NO A)
=> m.nc:7:4: the program stops itself here with an alarm (#3000), expected a program that runs to its end; hint: its arguments are refused by the macro itself

IF [1] THEN #3000=2
M2
=> m.nc:1:13: the program stops itself here with an alarm (#3000), expected a program that runs to its end; hint: its arguments are refused by the macro itself

#1=#0+1
M2
=> m.nc:1:5: parameter number 0, expected a whole number from 1 to 5399

#0=1
M2
=> m.nc:1:2: parameter number 0, expected a whole number from 1 to 5399

G0 X#0
M2
=> m.nc:1:6: parameter number 0, expected a whole number from 1 to 5399

#5221=3
M2
=> m.nc:1:1: a setting of parameter #5221, which belongs to the control, expected a parameter below #5061

#1
M2
=> m.nc:1:3: a parameter alone, expected = and a value

#1=
M2
=> m.nc:1:4: the end of the line, expected a number

#<>=1
M2
=> m.nc:1:2: the name "", expected a name such as #<depth>

#<a=1
M2
=> m.nc:1:2: a < that isn't closed, expected >

G0 X[1/0]
M2
=> m.nc:1:7: a division by 0

#1=0
G0 X[5 MOD #1]
M2
=> m.nc:2:8: a division by 0

G0 X[SQRT[-1]]
M2
=> m.nc:1:6: the square root of a negative number

G0 X[LN[0]]
M2
=> m.nc:1:6: the logarithm of 0 or less

G0 X[ASIN[2]]
M2
=> m.nc:1:6: ASIN of a number beyond 1

G0 X[ATAN[0]/[0]]
M2
=> m.nc:1:6: ATAN[0]/[0]

G0 X[[0-2]**0.5]
M2
=> m.nc:1:11: a negative number to a power that isn't whole

G0 X[EXP[9999]]
M2
=> m.nc:1:6: EXP of a number that is too large

G0 X[1+]
M2
=> m.nc:1:8: ']', expected a number

G0 X[EXISTS[#<a>]]
M2
=> m.nc:1:6: EXISTS, which asks what the control holds, expected a number or a function of NISTIR 6556, 3.3.2.4; hint: set the parameter in the program and compare its value

G0 X[1
M2
=> m.nc:1:5: a [ that isn't closed, expected ]

#1=1
WHILE [#1 LT 500] DO1
#1=#1*10
END1
G0 X[10**30*10**30]
M2
=> m.nc:5:4: X with a number that is too large, expected a number that a machine can use

#1=5
M2
=> m.nc:1:1: no motion found, expected a part program; hint: is this the right file?

G0 X1
G#1 X2
M2
=> m.nc:2:2: parameter #1, which the program hasn't set, expected a block that sets it first

#1=3.5
M#1
G0 X1
M2
=> m.nc:2:1: M without a code's number; hint: write a plain number such as M1

#1=7
G#1 X1
M2
=> m.nc:2:1: G7 (diameter programming, a turning code); hint: a lathe program can't be flipped

G38.2 Z-5 F9
#1=#5063
M2
=> m.nc:1:1: G38.2 (a probing move); hint: probe in a program of its own

WHILE [#5 LT 1] DO1
G0 X1
END1
M2
=> m.nc:1:8: parameter #5, which the program hasn't set, expected a block that sets it first

o1 while [#5 lt 1]
G0 X1
o1 endwhile
M2
=> m.nc:1:11: parameter #5, which the program hasn't set, expected a block that sets it first

o1 repeat [#9]
G0 X1
o1 endrepeat
M2
=> m.nc:1:12: parameter #9, which the program hasn't set, expected a block that sets it first

o1 repeat [1.5]
G0 X1
o1 endrepeat
M2
=> m.nc:1:1: repeat [1.5], expected a whole number, 0 or more

o1 repeat [-1]
G0 X1
o1 endrepeat
M2
=> m.nc:1:1: repeat [-1], expected a whole number, 0 or more

o1 if [#9]
G0 X1
o1 endif
M2
=> m.nc:1:8: parameter #9, which the program hasn't set, expected a block that sets it first

G0 X1
GOTO #9
M2
=> m.nc:2:6: parameter #9, which the program hasn't set, expected a block that sets it first

G0 X1
GOTO 1.5
M2
=> m.nc:2:1: GOTO 1.5, expected a whole block number

o1 sub
G0 X#1
o1 endsub
o1 call [#9]
M2
=> m.nc:4:10: parameter #9, which the program hasn't set, expected a block that sets it first

o1 sub
o1 endsub
o1 endsub
M2
=> m.nc:3:1: O1 endsub without its beginning

G0 X1
o1 return
M2
=> m.nc:2:1: return outside a sub

o1 sub
o2 while [1]
o2 endsub
o1 endsub
M2
=> m.nc:3:1: O2 endsub before WHILE of line 2 is closed, expected loops inside one another

o1 sub
G0 X1
o2 sub
o2 endsub
o1 endsub
M2
=> m.nc:3:1: a sub inside SUB, expected subs beside one another

G91
%
G0 X1
M2
=> m.nc:1:1: a word before the opening % that sets something, expected % before it; hint: some controls leave it unread, others run it: put it behind %

G0 X1 
G1 X5 F9 M98 P1
M2
=> m.nc:2:10: M98 with axis words; hint: put the call into a block of its own

WHILE #1 DO1
END1
M2
=> m.nc:1:7: a condition without brackets, expected [

o5 while 1
o5 endwhile
M2
=> m.nc:1:10: a condition without brackets, expected [

o1 call [1
M2
=> m.nc:1:9: a [ that isn't closed, expected ]

o1 call [1] [2] [3] [4] [5] [6] [7] [8] [9] [10] [11] [12] [13] [14] [15] [16] [17] [18] [19] [20] [21] [22] [23] [24] [25] [26] [27] [28] [29] [30] [31]
M2
=> m.nc:1:4: more than 30 arguments, expected at most 30

#1=[1 EQ #6]
G0 X#1
M2
=> m.nc:1:10: parameter #6, which the program hasn't set, expected a block that sets it first

#1=[#[7000] EQ #0]
G0 X#1
M2
=> m.nc:1:6: parameter number 7000, expected a whole number from 1 to 5399

#1=[[1/0] EQ #0]
G0 X#1
M2
=> m.nc:1:7: a division by 0

#1=[1+#6]
G0 X#1
M2
=> m.nc:1:7: parameter #6, which the program hasn't set, expected a block that sets it first

#1=[EXP[600]*EXP[600]]
G0 X#1
M2
=> m.nc:1:13: a number that is too large or too fine

o<bore
M2
=> m.nc:1:2: a < that isn't closed, expected >

IF [1] STOP
M2
=> m.nc:1:8: IF [..] without GOTO or THEN, expected GOTO and a block number, or THEN and a setting

GOTO N5
M2
=> m.nc:1:6: GOTO with the letter N, expected the number alone

DO1
G0 X1
END2
M2
=> m.nc:3:1: END 2 before DO of line 1 is closed, expected loops inside one another

DO
END
M2
=> m.nc:1:3: DO without a number, expected a number such as 1

G65 P1 X1 X2
M2
O1
M99
=> m.nc:1:11: a second X with G65, expected each letter once

G65 L2 X1
M2
=> m.nc:1:1: G65 without P, expected P with what is called

G66 P1
M2
O1
G66 P1
M99
G0 X1
=> m.nc:1:1: no motion found, expected a part program; hint: is this the right file?

G0 X1
M97 P7
M2
=> m.nc:2:1: a jump to N7, which isn't there, expected a block with that number in the same program

G0 X1
M97 P7
N7 G0 X2
N7 G0 X3
M2
=> m.nc:2:1: a jump to N7, which is there twice, expected one block of that number

G0 X1
GOTO 8
WHILE [1] DO1
N8 G0 X2
END1
M2
=> m.nc:2:1: a jump to N8, into a loop or branch of line 3, expected a jump out of one, or inside it

#5400=1
G0 X1
M2
=> m.nc:1:2: parameter number 5400, expected a whole number from 1 to 5399

#3000=1 (ALARM)
G0 X1
M2
=> m.nc:1:1: the program stops itself here with an alarm (#3000), expected a program that runs to its end; hint: its arguments are refused by the macro itself

#1=ACOS[2]
G0 X1
M2
=> m.nc:1:4: ACOS of a number beyond 1

#1=SQRT[0-1]
G0 X1
M2
=> m.nc:1:4: the square root of a negative number

#1=[2 MOD 0]
G0 X1
M2
=> m.nc:1:7: a division by 0

o1 sub
G0 X1
o1 endsub
o1 call
o1 sub
o1 endsub
M2
=> m.nc:5:1: a second subprogram O1, expected one of each number

o1 break
G0 X1
M2
=> m.nc:1:1: break outside loop O1, expected one inside it

#1=2
#1=6 G1 X#1
=> m.nc:2:10: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

#1=6 #2=#1
=> m.nc:1:9: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

#2=1
#1=6 G0 X##2
=> m.nc:2:10: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

#2=1
#[#2]=6 G0 X#1
=> m.nc:2:13: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

#<a>=6 G0 X#<a>
=> m.nc:1:12: parameter #<a> behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

#1=6 #2=[#1 EQ #0]
=> m.nc:1:10: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

G65 P7
M2
O7
#1=6 G0 X#1
M99
=> m.nc:4:10: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

IF [1] THEN #1=6 G0 X#1
=> m.nc:1:22: parameter #1 behind its setting in one block, expected the setting in a block before it; hint: controls differ on whether the old value counts here: write two blocks

:7
G0 X1
=> m.nc:1:1: character ':', expected the letter O or N; hint: write O where it numbers the program, N where it numbers a block

G65 P7 P8
M2
O7
M99
=> m.nc:1:8: a second P with G65, expected each letter once

G65 P7 L2 L3
M2
O7
M99
=> m.nc:1:11: a second L with G65, expected each letter once

M97 P5 P6
=> m.nc:1:8: a second P with M97, expected each letter once

#1=2 N5 G0 X1
=> m.nc:1:6: a block number that isn't first in its block or isn't a plain whole number; hint: write N and up to nine digits at the start of the block

o0 if [1]
=> m.nc:1:1: O0 if without endif

#1=2**2000
#2=#1*#1*#1
G0 X#2
=> m.nc:2:9: a number that is too large or too fine
`
