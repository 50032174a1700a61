package plain

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// pool are blocks that leave places known in one way or another.
var pool = strings.Fields(`G68_X0_Y0_R30 G68_X5_Y1_R90 G68_R10 G69 G69 G0_X1_Y2 G0_X3 G1_Y4_F90 G1_Z-1_F9 G91 G90 G91_X1_Y1 G91_X2 G90_X7
	G92_X0_Y0 G92_X1 G92.1 G92.2 G92.3 G52_X5_Y1 G52_X0_Y0 G2_X3_Y1_R5_F9 G3_I2 G81_X1_Y2_Z-1_R1_F9 X5 Y3 G80 G28_X0_Y0 G91_G28_Z0 G28 G53_X0 G53_G0_X0_Y0
	G55 G54 T1_M6 G43_H1 G20 G21 G18 G17 G16 G15 G51_X0_Y0_Z0_P2 G50 G0 G0_X0_Y0_Z5 G5_I1_J2_P-1_Q1_X9_Y0_F9 G12_I2_F9 /M8 G41_D1 G40 G98 G99
	G91_G81_X1_Z-1_R-1_L2_F9 M98_P5 G0_X9_Y9 /G1_X5_F9 /G91 /2_G55`)

// TestPool: what is drawn from the pool is written out and proved, or refused by line and
// name. The proof never says no: that would be a fault of the writing.
func TestPool(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 3))
	for range 20_000 {
		var s strings.Builder
		for range 2 + r.IntN(9) {
			s.WriteString(strings.ReplaceAll(pool[r.IntN(len(pool))], "_", " ") + "\n")
		}
		s.WriteString("M2\nO5\nG0 X1\nG91 Y1\nG90\nM99\n")
		turn := decimal.RequireFromString([]string{"0", "90", "33.3"}[r.IntN(3)])
		_, err := Write([]byte(s.String()), io.Discard, Options{Read: motion.Options{Name: "p.nc"}, Turn: turn})
		var e *fault.Error
		if err != nil && (!errors.As(err, &e) || e.No) {
			t.Fatalf("%q by %s: %v", s.String(), turn, err)
		}
	}
}

// FuzzWrite: any text is written out and proved, or refused for what it says.
func FuzzWrite(f *testing.F) {
	for _, text := range victims {
		f.Add([]byte(text))
	}
	for _, text := range []string{
		"o1 sub\nG0 X#1\no1 endsub\no1 call [1]\no2 repeat [2]\nG91 G1 X1 F9\no2 endrepeat\nM2\n",
		"#<a>=3\no3 if [#<a> GT 2]\nG0 X1\no3 else\nG0 X2\no3 endif\nG65 P5 A1\nM30\nO5\nG1 X#1 F9\nM99\n",
		"#1=0\nDO1\n#1=#1+1\nIF [#1 GT 3] GOTO 9\nG3 X#1 I.5 F9\nEND1\nN9 M98 P7 L2\nM2\nO7\nG28 X1\nM99\n",
		// Found by it.
		"G5I0Q0X0", "G2Z0I1", "G68X0Y0R0\nX0Y0\nG69\nG92X0", "O[0]", "G91G5.1X[0]J0", "A00000G5I0Q[0]X0\nG5.1X[0]J0\nG12I1R0",
		"//;\x04", "#<0>=0\no3if[1]\nG0\no3endif\nG5P0A1", "#1=0O00", "Y0Z0\nG92A1Y0", "G91X1G28", "M98P1A1", "G53X0\nA1", "G51A1P[1]", "G5I0G8P0Q[0]X0", "G87Z[0]R0\nG2\nG87Z0", "G90G0X0Y0Z5\nG81X1Z-1R2\nG2\nG81X3Z-1", "G90G0X0Y0Z5\nG81X1Z-1R2\nG3\nG2X3I1", "G90G0X0Y0Z5\nG81X1Z-1R2F9\nG2 G80\nG1X3", "G92X2700000000", "G68X0Y0R0\nG69A01", "G73Z0Q10000000000", "G73Z0Q.00000000001", "A0#1=0\nDO1\nG4G2I1\nEND1",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		_, err := Write(text, &out, Options{Read: motion.Options{Name: "f", Blocks: 500}})
		var e *fault.Error
		if errors.As(err, &e) && e.No {
			t.Fatalf("%q: %v", text, err)
		}
		if err != nil && e == nil {
			t.Fatalf("%q: %v", text, err)
		}
	})
}
