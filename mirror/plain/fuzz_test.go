package plain

import (
	"bytes"
	"errors"
	"testing"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// FuzzWrite: any text is written out and proved, or refused for what it says. Where G68
// leaves the program with less known of its place than its plain text has, the proof
// refuses, too.
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
		"//;\x04", "#<0>=0\no3if[1]\nG0\no3endif\nG5P0A1", "#1=0O00", "Y0Z0\nG92A1Y0", "G91X1G28", "M98P1A1", "G53X0\nA1", "G51A1P[1]",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		_, err := Write(text, &out, Options{Read: motion.Options{Name: "f", Blocks: 500}})
		var e *fault.Error
		if errors.As(err, &e) && e.No && !bytes.Contains(text, []byte("6")) {
			t.Fatalf("%q: %v", text, err)
		}
		if err != nil && e == nil {
			t.Fatalf("%q: %v", text, err)
		}
	})
}
