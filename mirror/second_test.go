package mirror

import (
	"bytes"
	"fmt"
	"math/rand"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"flipcalc/testdata/draws"
)

// A second reader of programs, which shares no code with the tool: G0 to G3, G90 and G91,
// G20 and G21, G54 to G59 and tape marks, by NISTIR 6556, 3.1 and 3.5, in floating point.
// What it doesn't know makes it give up on a program.

// How controls take tape marks: from the first % on where there is one, up to the next;
// from the top up to the first; or block by block, marks and ends unheeded.
const (
	fromFirstMark = iota
	upToMark
	everyBlock
)

// secondMove is one move, lengths in mm.
type secondMove struct {
	kind   int // 0 to 3, -1 before the first word of motion
	offset int
	from   [3]secondPlace
	to     [3]secondPlace
	centre [2]secondPlace
	radius float64
}

// secondPlace is a coordinate, or a count from a start that isn't known.
type secondPlace struct {
	at    float64
	known bool
}

// turned gives the move of the back, by x' = w - x.
func (m secondMove) turned(w float64) secondMove {
	for _, p := range []*secondPlace{&m.from[0], &m.to[0], &m.centre[0]} {
		if p.at = -p.at; p.known {
			p.at += w
		}
	}
	if m.kind >= 2 {
		m.kind = 5 - m.kind
	}
	return m
}

func (m secondMove) String() string {
	s := fmt.Sprintf("G%d in G%d", m.kind, m.offset)
	for _, p := range append(append(m.from[:], m.to[:]...), m.centre[:]...) {
		s += fmt.Sprintf(" %.5f %t", p.at+1e-9, p.known)
	}
	return strings.ReplaceAll(fmt.Sprintf("%s r%.5f", s, m.radius), "-0.00000", "0.00000")
}

var secondWord = regexp.MustCompile(`([A-Z])([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))`)

// secondComment is a comment in parentheses.
var secondComment = regexp.MustCompile(`\([^)]*\)`)

// secondReading gives the moves of a program; ok is false where it holds what the reader
// doesn't know.
func secondReading(text string, marks int) (moves []secondMove, ok bool) {
	lines := strings.Split(text, "\n")
	if marks == fromFirstMark {
		for i, l := range lines {
			if strings.HasPrefix(strings.TrimSpace(l), "%") {
				lines = append([]string{""}, lines[i+1:]...)
				break
			}
		}
	}
	var at [3]secondPlace
	kind, unit, absolute, offset := -1, 1.0, true, 54
	for _, line := range lines {
		line = strings.ToUpper(secondComment.ReplaceAllString(line, ""))
		line, _, _ = strings.Cut(line, ";")
		over := false
		if i := strings.IndexByte(line, 0x1a); i >= 0 {
			line, over = strings.ReplaceAll(line, "\x1a", " "), true
			if marks != everyBlock {
				line = line[:i]
			}
		}
		if strings.HasPrefix(strings.TrimSpace(line), "%") {
			if marks != everyBlock {
				return moves, true
			}
			line = strings.ReplaceAll(line, "%", "")
		}
		line = strings.NewReplacer(" ", "", "\t", "", "\r", "").Replace(line)
		words := map[string]float64{}
		for _, w := range secondWord.FindAllStringSubmatch(line, -1) {
			v, err := strconv.ParseFloat(w[2], 64)
			if err != nil {
				return nil, false
			}
			switch w[1] {
			case "G":
				switch v {
				case 0, 1, 2, 3:
					kind = int(v)
				case 20:
					unit = 25.4
				case 21:
					unit = 1
				case 54, 55, 56, 57, 58, 59:
					if offset != int(v) && len(moves) > 0 {
						at = [3]secondPlace{}
					}
					offset = int(v)
				case 90, 91:
					absolute = v == 90
				case 17, 40, 41, 42, 43, 49, 61, 64, 80, 94, 98, 91.1:
				default:
					return nil, false
				}
			case "M":
				over = over || v == 2 || v == 30
			case "X", "Y", "Z", "I", "J", "R":
				if _, twice := words[w[1]]; twice {
					return nil, false
				}
				words[w[1]] = v
			case "N", "F", "S", "T", "O", "H", "D":
			default:
				return nil, false
			}
		}
		m := secondMove{kind: kind, offset: offset, from: at, to: at}
		moved := false
		for i, letter := range []string{"X", "Y", "Z"} {
			v, has := words[letter]
			if !has {
				continue
			}
			moved = true
			if absolute {
				m.to[i] = secondPlace{v * unit, true}
			} else {
				m.to[i].at += v * unit
			}
		}
		for i, letter := range []string{"I", "J"} {
			v, has := words[letter]
			moved = moved || has
			if kind >= 2 {
				m.centre[i] = secondPlace{at[i].at + v*unit, at[i].known}
			}
		}
		if m.radius = words["R"] * unit; m.radius != 0 {
			m.centre = [2]secondPlace{} // not said
		}
		if moved {
			moves = append(moves, m)
			at = m.to
		}
		if over && marks != everyBlock {
			break
		}
	}
	return moves, true
}

var secondSeeds = []string{
	"%\nO1000 (MARKER)\nG21 G90 G17 G94\nT1 M6\nG54 S9000 M3\nG0 X10. Y5. Z5.\nG1 Z-1.5 F200\nX40.25\nG2 X50. Y15. I0 J10.\nG3 X40. Y25. R10.\nG1 X10.\nG0 Z5.\nM30\n%\n",
	"G20 G90\nG0 X1.5 Y.25 Z.5\nG1 Z-.125 F10\nX2.75\nG91 G1 X-.5 Y.5\nG3 X-.25 Y.25 I-.25\nG90 G0 Z1.\nM2\n",
	"N10 G21 G91\nN20 G0 X5 Y5\nN30 G1 X2.5 F300\nN40 G2 X5 Y0 I2.5 J0\nN50 G90 X0 Y0 I-4 J-3\nN60 G0 X3 Z10\nN70 M30\n",
	"G90 G21\nG17 G40\nG0 X0 Y0\nG54\nG0 X7 Y8\nG55 G0 X9 Y1 Z2\nG1 X3 Y3 Z-1 F100\nM5\nM30\n",
	"%\nG21\nG90 G0 X12 Y3\nG1 X20\nG02 X30 I5\nG2 I-5\nG0 X0\n%\n",
}

// mutated changes a program by one to three accidents of editing or transfer.
func mutated(rnd *rand.Rand, text string) string {
	pieces := []string{"%", "%\n", "\x1a", "\n%\n", "G91", "G90 ", "G20\n", "G21", "M30\n", "M2", "G2", "G3 ", "G0", "G1 ", "X5", "Y-3.", "I2", "-", ".", "0", " ", "/", "//", "(", ")", ";", "\r", "G54\n", "G55",
		"O7\n", "N", "note ", "(a (b) c)", "G80\n", "M98 P7\n", "K0", "D1 ", "H2 ", "#1=3\n", "G53 ", "A0", "\ufeff"}
	for range 1 + rnd.Intn(3) {
		lines := strings.SplitAfter(text, "\n")
		i, j := rnd.Intn(len(lines)), rnd.Intn(len(lines))
		at := rnd.Intn(len(text) + 1)
		switch rnd.Intn(7) {
		case 0:
			text = text[:at] + pieces[rnd.Intn(len(pieces))] + text[at:]
		case 1:
			lines[i] = pieces[rnd.Intn(len(pieces))] + lines[i]
			text = strings.Join(lines, "")
		case 2:
			lines[i] = ""
			text = strings.Join(lines, "")
		case 3:
			lines[i], lines[j] = lines[j], lines[i]
			text = strings.Join(lines, "")
		case 4:
			lines[i] += lines[j]
			text = strings.Join(lines, "")
		case 5:
			text = text[:at] + text[min(len(text), at+1+rnd.Intn(3)):]
		default:
			text = text[:at] + text[rnd.Intn(len(text)+1):]
		}
		if text == "" {
			text = "G0"
		}
	}
	return text
}

// TestSecondReader: whatever accident happens to a program, what is accepted does in its
// mirror, however a control takes the tape marks, what it did turned over.
func TestSecondReader(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	n := draws.Of(10_000)
	rnd := rand.New(rand.NewSource(6556))
	accepted, read, bad := 0, 0, 0
	for k := 0; k < n && bad < 5; k++ {
		in := mutated(rnd, secondSeeds[k%len(secondSeeds)])
		o := Options{Map: flipY("127"), longest: -1}
		if k%2 == 1 {
			o.KeepOffset = true
		}
		var out bytes.Buffer
		if _, err := Mirror(strings.NewReader(in), &out, o); err != nil {
			continue
		}
		accepted++
		for marks := range 3 {
			was, ok := secondReading(strings.TrimPrefix(in, "\ufeff"), marks)
			is, okOut := secondReading(out.String(), marks)
			if !ok && !okOut {
				continue
			}
			read++
			same := ok == okOut && len(was) == len(is)
			for i := 0; same && i < len(was); i++ {
				same = was[i].turned(127).String() == is[i].String()
			}
			if !same {
				bad++
				t.Errorf("tape marks %d: %q\nbecomes %q\n%v\n%v", marks, in, out.String(), was, is)
				break
			}
		}
	}
	t.Logf("%d mutants, %d accepted, %d readings compared", n, accepted, read)
	if accepted < n/20 || read < accepted {
		t.Errorf("only %d accepted, %d read", accepted, read)
	}
}
