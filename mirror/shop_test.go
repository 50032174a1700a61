package mirror

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
)

// shop gives programs written for this test as post-processors and hands write them
// (common practice): drill cycles, tool changes, ends in increments, calls, leads, helices,
// inches.
func shop(t *testing.T) (names, programs []string) {
	t.Helper()
	text, err := os.ReadFile("testdata/shop.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range strings.Split("\n"+string(text), "\n-- ")[1:] {
		name, program, _ := strings.Cut(part, " --\n")
		names, programs = append(names, name), append(programs, program+"\n")
	}
	return names, programs
}

// turns are the words that a flip may touch: places and centres along the reversed axis,
// and the codes that name a sense or a side.
var turns = map[byte]*regexp.Regexp{
	'X': regexp.MustCompile(`(?i)[XI] *[-+]? *[0-9.]+|G *0?[23]\b|G *4[12]\b`),
	'Y': regexp.MustCompile(`(?i)[YJ] *[-+]? *[0-9.]+|G *0?[23]\b|G *4[12]\b`),
}

// TestShop: each is mirrored and proved under both flips; nothing but its words along the
// reversed axis changes; mirrored three times it is what it is once; and a reader that
// shares no code with the tool finds the moves of the back where it knows all words.
func TestShop(t *testing.T) {
	names, programs := shop(t)
	read := 0
	for axis, o := range map[byte]Options{'X': {Map: flipY("120")}, 'Y': {Map: flipX("80")}} {
		for i, name := range names {
			var passes [3]string
			text := programs[i]
			for pass := range passes {
				var out bytes.Buffer
				if _, err := Mirror(strings.NewReader(text), &out, o); err != nil {
					t.Fatalf("%s, %c reversed, pass %d: %v", name, axis, pass+1, err)
				}
				text = out.String()
				passes[pass] = text
			}
			if rest := turns[axis].ReplaceAllString(passes[0], "#"); rest != turns[axis].ReplaceAllString(programs[i], "#") {
				t.Errorf("%s, %c reversed: more than its words changed:\n%s", name, axis, rest)
			}
			if passes[2] != passes[0] {
				t.Errorf("%s, %c reversed: three times isn't once:\n%s", name, axis, passes[2])
			}
			was, ok := secondReading(programs[i], fromFirstMark)
			is, _ := secondReading(passes[0], fromFirstMark)
			if !ok || axis == 'Y' {
				continue
			}
			read++
			for k := range was {
				if len(is) != len(was) || was[k].turned(120).String() != is[k].String() {
					t.Errorf("%s: move %d of the back is another to the second reader:\n%s", name, k+1, passes[0])
					break
				}
			}
		}
	}
	if len(names) < 40 || read < 12 {
		t.Errorf("%d programs, %d read by the second reader", len(names), read)
	}
}
