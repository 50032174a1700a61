package ask

import (
	"fmt"
	"strings"
)

// manDate is the date of the pages' wording; it changes with them, not with the day.
const manDate = "2026-11-30"

// roff makes text safe in a manual page.
var roff = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace

// manEnvironment is what the overview's manual page says beside its help.
const manEnvironment = `
Environment:
  FLIPCALC_MACHINE  the machine file, where no flag names one
  XDG_CONFIG_HOME   the machine file is flipcalc/machine.toml in this folder, where
                    nothing else names one
  NO_COLOR          not empty: no color
`

// ManPage is the help on a verb, on a file, or with "" on all, as a manual page.
func ManPage(name string) (string, error) {
	if name == "" {
		return page("flipcalc", 1, "second zero, mirrored program and stations for parts with two sides", Overview()+manEnvironment), nil
	}
	if f := FindFile(name); f != nil {
		return f.Page(), nil
	}
	if v := FindVerb(name); v != nil {
		return page("flipcalc-"+name, 1, v.Does, HelpText(v)), nil
	}
	return "", UnknownName(name, "page", PageNames(), PagesHint())
}

// Page is flipcalc-NAME(5).
func (f fileHelp) Page() string { return page("flipcalc-"+f.Name, 5, f.does, f.text()) }

// page makes a manual page of a text of help: its headings are the page's, and what stands
// under them stays as it is laid out.
func page(name string, section int, does, help string) string {
	const under = ".in 0\n.nf\n"
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s %d %s flipcalc\n.SH NAME\n%s \\- %s\n.SH DESCRIPTION\n"+under, roff(strings.ToUpper(name)), section, manDate, roff(name), roff(does))
	for line := range strings.Lines(help) {
		heading, is := strings.CutSuffix(line, ":\n")
		switch {
		case is && line[0] != ' ':
			if heading = roff(strings.ToUpper(heading)); strings.Contains(heading, " ") {
				heading = `"` + heading + `"`
			}
			b.WriteString(".fi\n.SH " + heading + "\n" + under)
		case line[0] == '.':
			b.WriteString(`\&` + roff(line))
		default:
			b.WriteString(roff(line))
		}
	}
	b.WriteString(".fi\n.SH \"SEE ALSO\"\n.BR flipcalc (1),\n.BR flipcalc\\-job (5),\n.BR flipcalc\\-machine (5)\n")
	return b.String()
}
