package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"
)

// verbs lists the verbs in the order of the work.
func verbs() []*verb {
	return []*verb{
		prepareVerb, originVerb, mirrorVerb, pinsVerb, stationsVerb, pairVerb, checkVerb, correctVerb, sheetVerb,
		completionVerb, manVerb,
	}
}

// helpOn is the text of 'flipcalc help' on nothing, a verb, a file, or a flag or key.
func helpOn(names []string) (string, error) {
	switch len(names) {
	case 0:
		return overview(), nil
	case 1:
		if v := findVerb(names[0]); v != nil {
			return helpText(v), nil
		}
		if f := findFileHelp(names[0]); f != nil {
			return f.text(), nil
		}
		name := strings.TrimLeft(names[0], "-")
		if d := findFlag(name); d != nil {
			return flagHelp(d), nil
		}
		return "", unknownName(names[0], "page", pageNames()+" "+strings.Join(jobKeys(), " "))
	}
	return "", wrong("help", strings.Join(names, " "), "one verb, flag or key, or job or machine", "")
}

// flagHelp is the text of 'flipcalc help' on a flag or key: how it is written, what it
// means and who takes it.
func flagHelp(d *flagDef) string {
	flag := "--" + d.name
	if d.arg != "" {
		flag += " " + d.arg
	}
	if d.short != "" {
		flag += ", -" + d.short
	}
	var written []string
	if !d.jobOnly {
		written = append(written, flag)
	}
	text := d.shown()
	for _, k := range jobFileKeys() {
		if k.name == d.name {
			written, text = append(written, "in a job file: "+k.name+" = "+k.form), k.usage
			if d.many && !d.jobOnly {
				text += "; the flag may be repeated"
			}
		}
	}
	return fmt.Sprintf("%s\n\n%s\n\n%s\n", strings.Join(written, "\n"), wrapped(text, "  ", helpWidth()),
		wrapped("Taken by: "+strings.Join(strings.Fields(d.verbs), ", "), "", helpWidth()))
}

// overview is the text of 'flipcalc help'.
func overview() string {
	var b strings.Builder
	b.WriteString("flipcalc works out the second side of a part that is turned over on a CNC bed.\n\n")
	b.WriteString("Usage: flipcalc VERB [flags] [FILE]\n\nVerbs:\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  %-11s %s\n", v.name, v.does)
	}
	b.WriteString(`
'flipcalc VERB -h' names a verb's flags and shows worked examples, 'flipcalc help
VERB' explains them all, 'flipcalc help fence' one flag or key, 'flipcalc help job'
and 'flipcalc help machine' the keys of the two files.
FILE - is standard input, '-o -' is standard output. Lengths are decimals in
--units; 19mm, 3/4in and 4-3/4 are taken too. With --quiet a verb prints its result
alone, and nothing where it goes into files; warnings and cautions go to standard
error.

Exit status: 0 done; 1 the answer is no; 2 the question is wrong.
`)
	return b.String()
}

// shortLines is how many lines 'flipcalc VERB -h' may take: two screens at a glance.
const shortLines = 45

// shortHelp is the text of 'flipcalc VERB -h': the groups of flags are explained as far
// as there is room, the last ones named alone.
func shortHelp(v *verb) string {
	groups := v.groups()
	for explained := len(groups); ; explained-- {
		var b strings.Builder
		b.WriteString(v.heading())
		for i, g := range groups {
			if i < explained {
				fmt.Fprintf(&b, "\n%s:\n%s", g.title, g.flags.FlagUsagesWrapped(helpWidth()))
				continue
			}
			var names []string
			g.flags.VisitAll(func(f *pflag.Flag) { names = append(names, "--"+f.Name) })
			if i == explained {
				b.WriteString("\n")
			}
			fmt.Fprintf(&b, "%s:\n%s\n", g.title, wrapped(strings.Join(names, " "), "  ", helpWidth()))
		}
		fmt.Fprintf(&b, "\n'flipcalc help %s' explains every flag, 'flipcalc help FLAG' one of them.\n", v.name)
		if explained == 0 || strings.Count(b.String(), "\n") <= shortLines {
			return b.String()
		}
	}
}

// helpText is the text of 'flipcalc help VERB': all of it.
func helpText(v *verb) string {
	var b strings.Builder
	b.WriteString(v.heading())
	for _, g := range v.groups() {
		fmt.Fprintf(&b, "\n%s:\n%s", g.title, g.flags.FlagUsagesWrapped(helpWidth()))
	}
	if v.name == "mirror" {
		b.WriteString("\nWith --stream blocks are passed on as soon as they are proved. If flipcalc then\nexits with anything but 0, discard what it passed on.\n")
	}
	b.WriteString("\nExit status: 0 done; 1 the answer is no; 2 the question is wrong.\n")
	return b.String()
}

// heading is what a verb does, how it is called, and its worked examples.
func (v *verb) heading() string {
	var b strings.Builder
	fmt.Fprintf(&b, "flipcalc %s: %s\n\n", v.name, v.does)
	usage := "flipcalc " + v.name + " [flags]"
	if v.operands != "" {
		usage += " " + v.operands
	}
	fmt.Fprintf(&b, "Usage: %s\n", usage)
	if len(v.examples) > 0 {
		b.WriteString("\nExamples:\n")
		for _, e := range v.examples {
			fmt.Fprintf(&b, "  # %s\n  %s\n", e.says, e.line)
		}
	}
	return b.String()
}

// groups are the verb's flags as help shows them.
func (v *verb) groups() (out []helpGroup) {
	fs, _ := newFlags(v.name)
	for _, g := range flagGroups {
		in := helpGroup{g.title, pflag.NewFlagSet(g.title, pflag.ContinueOnError)}
		in.flags.SortFlags = false
		for i := range g.flags {
			if f := fs.Lookup(g.flags[i].name); f != nil {
				in.flags.AddFlag(f)
			}
		}
		if in.flags.HasFlags() {
			out = append(out, in)
		}
	}
	return out
}

// helpGroup is a group of flags with its title.
type helpGroup struct {
	title string
	flags *pflag.FlagSet
}

// helpWidth is the terminal's width within reason, 80 elsewhere.
func helpWidth() int {
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w >= 40 {
		return min(w, 120)
	}
	return 80
}
