package main

import (
	"regexp"
	"strings"
	"testing"
)

// TestShortHelp: the short help of every verb fits two screens and names each of its
// flags; the long one explains them.
func TestShortHelp(t *testing.T) {
	for _, v := range verbs() {
		short, long := shortHelp(v), helpText(v)
		if n := strings.Count(short, "\n"); n > shortLines {
			t.Errorf("%s -h: %d lines, at most %d", v.name, n, shortLines)
		}
		_, flags := newFlags(v.name)
		for name, f := range flags {
			if f.def.jobOnly {
				continue
			}
			if !strings.Contains(short, "--"+name) {
				t.Errorf("%s -h doesn't name --%s", v.name, name)
			}
			if !strings.Contains(long, "--"+name) {
				t.Errorf("help %s doesn't name --%s", v.name, name)
			}
		}
	}
}

// Help names no flag that isn't there.
func TestHelpNamesFlags(t *testing.T) {
	var texts []string
	for _, v := range verbs() {
		texts = append(texts, helpText(v), shortHelp(v))
	}
	for _, f := range fileHelps() {
		texts = append(texts, f.text(), f.page())
	}
	for _, word := range regexp.MustCompile(`--([a-z]+(-[a-z]+)*)`).FindAllStringSubmatch(strings.ReplaceAll(strings.Join(texts, "\n"), `\-`, "-"), -1) {
		if name := word[1]; name != "help" && findFlag(name) == nil {
			t.Errorf("no flag %s", word[0])
		}
	}
}
