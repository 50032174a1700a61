package main

import (
	"fmt"
	"os"
	"strings"

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
'flipcalc VERB --help' shows a verb's flags and three worked examples, 'flipcalc
help job' and 'flipcalc help machine' the keys of a job file and of a machine file,
'flipcalc help fence' one flag or key.
FILE - is standard input, '-o -' is standard output. Lengths are decimals in
--units; 19mm, 3/4in and 4-3/4 are taken too. With --quiet a verb prints its result
alone, and nothing where it goes into files; warnings and cautions go to standard
error.

Exit status: 0 done; 1 the answer is no; 2 the question is wrong.
`)
	return b.String()
}

// helpText is the text of 'flipcalc VERB --help'.
func helpText(v *verb) string {
	var b strings.Builder
	fmt.Fprintf(&b, "flipcalc %s: %s\n\n", v.name, v.does)
	usage := "flipcalc " + v.name + " [flags]"
	if v.operands != "" {
		usage += " " + v.operands
	}
	fmt.Fprintf(&b, "Usage: %s\n\n", usage)
	if len(v.examples) > 0 {
		b.WriteString("Examples:\n")
		for _, e := range v.examples {
			fmt.Fprintf(&b, "  # %s\n  %s\n", e.says, e.line)
		}
		b.WriteString("\n")
	}
	fs, _ := newFlags(v.name)
	b.WriteString("Flags:\n")
	b.WriteString(fs.FlagUsagesWrapped(helpWidth()))
	if v.name == "mirror" {
		b.WriteString("\nWith --stream blocks are passed on as soon as they are proved. If flipcalc then\nexits with anything but 0, discard what it passed on.\n")
	}
	b.WriteString("\nExit status: 0 done; 1 the answer is no; 2 the question is wrong.\n")
	return b.String()
}

// helpWidth is the terminal's width within reason, 80 elsewhere.
func helpWidth() int {
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w >= 40 {
		return min(w, 120)
	}
	return 80
}
