package words

import (
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/cut"
)

// mostWords is how many words a sentence may have that is read at the machine.
const mostWords = 15

var sentenceEnd = regexp.MustCompile(`[.;?!](?:\s+|$)`)

// keys are the names of keys that a finding is about, in brackets.
var keys = regexp.MustCompile(`\[[^\]]*\]`)

// quantity is a number with its unit, which is read as one word.
var quantity = regexp.MustCompile(`(\d) (?:mm2?|in2?|degrees|min)\b`)

// long gives the sentences of a text that have too many words.
func long(text string) (out []string) {
	for _, s := range sentenceEnd.Split(keys.ReplaceAllString(text, ""), -1) {
		if len(strings.Fields(quantity.ReplaceAllString(s, "$1"))) > mostWords {
			out = append(out, s)
		}
	}
	return out
}

// TestSentencesAreShort ranges over all sentences that stand in a table.
func TestSentencesAreShort(t *testing.T) {
	v := []string{"1", "2", "3", "4"}
	for name, table := range map[string]map[string]sentence{"note": noteSentences, "setup": setupSentences,
		"pairing": mergeSentences, "drilling": drillingSentences} {
		for _, code := range slices.Sorted(maps.Keys(table)) {
			for _, s := range long(table[code](v, "mm")) {
				t.Errorf("%s %s: %s", name, code, s)
			}
		}
	}
	for _, c := range Cautions {
		for _, s := range long(strings.ReplaceAll(c.Text, "%1", "Fence and stop")) {
			t.Errorf("caution %s: %s", c.Code, s)
		}
	}
}

// TestFindingsAreShort ranges over all findings.
func TestFindingsAreShort(t *testing.T) {
	source, err := os.ReadFile("../../mirror/cut/finding.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`Code = "([^"]+)"`).FindAllSubmatch(source, -1) {
		code := cut.Code(m[1])
		for index := range 8 {
			for _, f := range []cut.Finding{{Spot: cut.Spot{FaceLine: 1}}, {Spot: cut.Spot{BackLine: 1}}, {Spot: cut.Spot{FaceLine: 1, BackLine: 1}, Side: cut.Both}, {Limit: 2, Length: 3, Count: 2, Side: cut.Both}} {
				f.Code, f.Index, f.Amount, f.Depth, f.Area = code, index, 1.25, 2.5, 100
				met := "the index pin"
				if code == cut.CodeFence {
					met = "the near fence"
				}
				text, do := Finding(f, 1, "mm", met, "30,20")
				for _, s := range append(long(text), long(do)...) {
					t.Errorf("%s %d: %s", code, index, s)
				}
			}
		}
	}
}
