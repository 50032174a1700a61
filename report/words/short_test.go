package words

import (
	"regexp"
	"strings"
	"testing"
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

// TestCautionsAreShort ranges over all cautions.
func TestCautionsAreShort(t *testing.T) {
	for _, c := range Cautions {
		for _, s := range long(strings.ReplaceAll(c.Text, "%1", "Fence and stop")) {
			t.Errorf("caution %s: %s", c.Code, s)
		}
	}
}
