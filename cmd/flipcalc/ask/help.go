package ask

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
)

// HelpOn is the text of 'flipcalc help' on nothing, a verb, a file, or a flag or key.
func HelpOn(names []string) (string, error) {
	switch {
	case len(names) == 0, len(names) == 1 && names[0] == "help":
		return Overview(), nil
	case len(names) == 1:
		if v := FindVerb(names[0]); v != nil {
			return HelpText(v), nil
		}
		if f := FindFile(names[0]); f != nil {
			return f.text(), nil
		}
		if text := keyHelp(strings.TrimLeft(names[0], "-")); text != "" {
			return text, nil
		}
		known := PageNames()
		for i := range Table {
			known += " " + Table[i].Key
		}
		for _, k := range machineFileKeys() {
			known += " " + k.full()
		}
		return "", UnknownName(names[0], "page", known, PagesHint()+", and each flag or key")
	}
	return "", Wrong("help", strings.Join(names, " "), "one verb, flag or key, or job or machine", "")
}

// keyHelp is the text of 'flipcalc help' on a flag or key: how it is written, what it
// means and who takes it; "" where there is none of that name.
func keyHelp(name string) string {
	var written []string
	text, taken := "", ""
	i := slices.IndexFunc(Table, func(d Question) bool { return d.Key == name || d.Short == name && name != "" })
	if i >= 0 {
		d := &Table[i]
		name, text = d.Key, d.shown()
		if d.hasFlag() {
			flag := strings.TrimRight("--"+name+" "+d.Form, " ")
			if d.Short != "" {
				flag += ", -" + d.Short
			}
			written = append(written, flag)
		}
		if d.jobKey() {
			k := d.key()
			written, text = append(written, "in a job file: "+name+" = "+k.Form), k.Help
			if d.Many && d.hasFlag() {
				text += "; the flag may be repeated"
			}
		}
		taken = "\n" + wrapped("Taken by: "+d.taken(), "", helpWidth()) + "\n"
	}
	for _, k := range machineFileKeys() {
		switch {
		case k.full() != name:
		case k.Table == "offset":
			written, text = append(written, "in the machine file, under [[offset]]: "+k.Key+" = "+k.Form), k.Help
		case k.Table != "":
			written, text = append(written, "in the machine file, under ["+k.Table+"]: "+k.Key+" = "+k.Form), k.Help
		default:
			written = append(written, "in the machine file: "+name+" = "+k.Form)
			if i < 0 {
				text = k.Help
			}
		}
	}
	if len(written) == 0 {
		return ""
	}
	text = wrapped(text, "  ", helpWidth()) + "\n"
	if names := valueNames[name]; names != nil {
		text += "\n" + names()
	}
	return strings.Join(written, "\n") + "\n\n" + text + taken
}

// valueNames lists the names that a flag's value may have, with what each means, from the
// table that reads them.
var valueNames = map[string]func() string{
	"tolerance": func() string {
		var rows [][2]string
		for _, t := range budget.All() {
			mm, in := t.Default(registration.Question{}), t.Default(registration.Question{Unit: transform.Inch})
			rows = append(rows, [2]string{t.Name, t.Meaning + " (default " + mm.String() + " mm or " + in.String() + " in)"})
		}
		return named(rows)
	},
	"wood": func() string {
		var rows [][2]string
		for _, w := range budget.Woods() {
			moves := w.Tangential.Shift(2).String() + " % flatsawn, " + w.Radial.Shift(2).String() + " % quartersawn"
			if w.FromMemory {
				moves += ", from memory"
			}
			rows = append(rows, [2]string{w.Name, moves})
		}
		return "  Movement across the grain for each % of moisture. One word of a name will do\n  where it fits one wood alone. Hardwoods: Wood Handbook (FPL-GTR-190,\n  2010), table 13-5. For a wood that isn't here give a figure of your own, %\n  for each %, such as wood = \"0.35\"; it holds however the board was sawn.\n\n" + named(rows)
	},
	"tool": func() string {
		var rows [][2]string
		for _, s := range cut.Shapes() {
			rows = append(rows, [2]string{s.String(), s.Meaning()})
		}
		return named(rows)
	},
}

// named lays names and what they mean in two columns.
func named(rows [][2]string) string {
	widest := 0
	for _, r := range rows {
		widest = max(widest, len(r[0]))
	}
	var b strings.Builder
	for _, r := range rows {
		indent := strings.Repeat(" ", widest+4)
		fmt.Fprintf(&b, "  %-*s  %s\n", widest, r[0], strings.TrimSpace(wrapped(r[1], indent, helpWidth())))
	}
	return b.String()
}

// Overview is the text of 'flipcalc help'.
func Overview() string {
	var b strings.Builder
	b.WriteString("flipcalc works out the second side of a part that is turned over on a CNC bed.\n\n")
	b.WriteString("Usage: flipcalc VERB [flags] [FILE]\n\nVerbs:\n")
	for _, v := range Verbs {
		fmt.Fprintf(&b, "  %-11s %s\n", v.Name, v.Does)
	}
	b.WriteString(`
'flipcalc VERB -h' names a verb's flags and shows worked examples, 'flipcalc help
VERB' explains them all, 'flipcalc help fence' one flag or key, 'flipcalc help job'
and 'flipcalc help machine' the keys of the two files; 'flipcalc help tolerance',
'help wood' and 'help tool' list the names that these take.
FILE - is standard input, '-o -' is standard output. Lengths are decimals in
--units; 19mm, 3/4in and 4-3/4 are taken too. With --quiet a verb prints its result
alone, and nothing where it goes into files; warnings and cautions go to standard
error.

Exit status: 0 done; 1 the answer is no; 2 bad input.
`)
	return b.String()
}

// ShortLines is how many lines 'flipcalc VERB -h' may take: two screens at a glance.
const ShortLines = 45

// ShortHelp is the text of 'flipcalc VERB -h': the flags that most ask with are explained
// as far as there is room, the others named alone.
func ShortHelp(v *Verb) string {
	fs, _ := newFlags(v.Name)
	var common []*pflag.Flag
	fs.VisitAll(func(f *pflag.Flag) {
		if Find(f.Name).Common {
			common = append(common, f)
		}
	})
	for explained := len(common); ; explained-- {
		shown := pflag.NewFlagSet(v.Name, pflag.ContinueOnError)
		shown.SortFlags = false
		for _, f := range common[:explained] {
			shown.AddFlag(f)
		}
		var more []string
		fs.VisitAll(func(f *pflag.Flag) {
			if shown.Lookup(f.Name) == nil {
				more = append(more, "--"+f.Name)
			}
		})
		text := v.heading()
		if explained > 0 {
			text += "\nFlags:\n" + shown.FlagUsagesWrapped(helpWidth())
		}
		if len(more) > 0 {
			text += "\nMore flags:\n" + wrapped(strings.Join(more, " "), "  ", helpWidth()) + "\n"
		}
		text += fmt.Sprintf("\n'flipcalc help %s' explains every flag, 'flipcalc help FLAG' one of them.\n", v.Name)
		if explained == 0 || strings.Count(text, "\n") <= ShortLines {
			return text
		}
	}
}

// HelpText is the text of 'flipcalc help VERB': all of it.
func HelpText(v *Verb) string {
	var b strings.Builder
	b.WriteString(v.heading())
	for _, g := range v.groups() {
		fmt.Fprintf(&b, "\n%s:\n%s", g.title, g.flags.FlagUsagesWrapped(helpWidth()))
	}
	if v.Name == "mirror" {
		b.WriteString("\nWith --stream blocks are passed on as soon as they are proved. If flipcalc then\nexits with anything but 0, discard what it passed on.\n")
	}
	b.WriteString("\nExit status: 0 done; 1 the answer is no; 2 bad input.\n")
	return b.String()
}

// heading is what a verb does, how it is called, and its worked examples.
func (v *Verb) heading() string {
	var b strings.Builder
	fmt.Fprintf(&b, "flipcalc %s: %s\n\n", v.Name, v.Does)
	usage := "flipcalc " + v.Name + " [flags]"
	if v.Operands != "" {
		usage += " " + v.Operands
	}
	fmt.Fprintf(&b, "Usage: %s\n", usage)
	if len(v.Examples) > 0 {
		b.WriteString("\nExamples:\n")
		for _, e := range v.Examples {
			fmt.Fprintf(&b, "  # %s\n  %s\n", e.Says, e.Line)
		}
	}
	return b.String()
}

// groups are the verb's flags as help shows them.
func (v *Verb) groups() (out []helpGroup) {
	fs, _ := newFlags(v.Name)
	for _, g := range groups {
		in := helpGroup{g.title, pflag.NewFlagSet(g.title, pflag.ContinueOnError)}
		in.flags.SortFlags = false
		for i := range g.flags {
			if f := fs.Lookup(g.flags[i].Key); f != nil {
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
