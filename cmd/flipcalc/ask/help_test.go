package ask

import (
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration/budget"
)

// TestShortHelp: the short help of every verb fits two screens and names each of its
// flags; the long one explains them.
func TestShortHelp(t *testing.T) {
	for _, v := range Verbs {
		short, long := ShortHelp(v), HelpText(v)
		if n := strings.Count(short, "\n"); n > ShortLines {
			t.Errorf("%s -h: %d lines, at most %d", v.Name, n, ShortLines)
		}
		_, flags := newFlags(v.Name)
		for name, f := range flags {
			if !f.def.hasFlag() {
				continue
			}
			if !strings.Contains(short, "--"+name) {
				t.Errorf("%s -h doesn't name --%s", v.Name, name)
			}
			if !strings.Contains(long, "--"+name) {
				t.Errorf("help %s doesn't name --%s", v.Name, name)
			}
		}
	}
}

// Help names no flag that isn't there.
func TestHelpNamesFlags(t *testing.T) {
	var texts []string
	for _, v := range Verbs {
		texts = append(texts, HelpText(v), ShortHelp(v))
	}
	for _, f := range Files() {
		texts = append(texts, f.text(), f.Page())
	}
	for _, word := range regexp.MustCompile(`--([a-z]+(-[a-z]+)*)`).FindAllStringSubmatch(strings.ReplaceAll(strings.Join(texts, "\n"), `\-`, "-"), -1) {
		if name := word[1]; name != "help" && Find(name) == nil {
			t.Errorf("no flag %s", word[0])
		}
	}
}

// Every value has a form, of its own or of its kind, or is one of the words that the table
// lists; and every form is one of a value.
func TestEveryValueHasAForm(t *testing.T) {
	of := map[string]bool{}
	for i := range Table {
		d := &Table[i]
		of[d.Key], of[d.Form] = true, true
		_, own := forms[d.Key]
		_, kind := forms[d.Form]
		if d.Form != "" && !own && !kind && (d.Words == "" || d.Words[0] == '@') {
			t.Errorf("%s: no form for %s", d.Key, d.Form)
		}
	}
	for name := range forms {
		if !of[name] {
			t.Errorf("a form of %s, which is no value", name)
		}
	}
}

// An empty name is no machine file, also where the environment names one.
func TestNoMachine(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "gone.toml")
	c, err := typed(t, "origin -s 120x80x12 -f y --machine ''")
	if err != nil {
		t.Fatal(err)
	}
	if m, err := c.Machine(); err != nil || m.Path != "" || m.Known {
		t.Errorf("%v, %+v", err, m)
	}
}

// TestNamesOfValues: help lists just the names that are read, each with what it means.
func TestNamesOfValues(t *testing.T) {
	lines := func(flag string) (names []string) {
		text, err := HelpOn([]string{flag})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^  (\S+(?: \S+)*)  +\S`).FindAllStringSubmatch(text, -1) {
			names = append(names, m[1])
		}
		return names
	}
	for flag, c := range map[string]struct {
		n    int
		read func(name string) error
	}{
		"tolerance": {len(budget.All()), func(name string) error {
			return budget.Tolerances{}.Set(name+"=0.1", transform.MM, decimal.NewFromString)
		}},
		"wood": {len(budget.Woods()), func(name string) error { _, err := budget.FindWood(name); return err }},
		"tool": {len(cut.Shapes()), func(name string) error {
			_, err := ParseTool("1="+name+",6,1", transform.MM)
			if err != nil {
				_, err = ParseTool("1="+name+",6", transform.MM)
			}
			return err
		}},
	} {
		names := lines(flag)
		if len(names) != c.n {
			t.Errorf("help %s lists %d names, %d are read: %q", flag, len(names), c.n, names)
		}
		for _, name := range names {
			if err := c.read(name); err != nil {
				t.Errorf("%s %s: %v", flag, name, err)
			}
		}
	}
}
