package ask

import (
	"fmt"
	"strings"
)

// manDate is the date of the pages' wording; it changes with them, not with the day.
const manDate = "2026-11-30"

// roff makes text safe in a manual page.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}

// ManOverview is flipcalc(1).
func ManOverview() string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH FLIPCALC 1 %s \"flipcalc\" \"User Commands\"\n", manDate)
	b.WriteString(".SH NAME\nflipcalc \\- second zero, mirrored program and stations for parts with two sides\n")
	b.WriteString(".SH SYNOPSIS\n.B flipcalc\n.I VERB\n[flags]\n.RI [ FILE ]\n.SH DESCRIPTION\n")
	b.WriteString(roff("Given a blank's size, the flip axis and how the blank is registered (dowels, plug, fence and stop), flipcalc works out the second side's zero and the mirror transform, mirrors the program and proves it, and lays out paired stations.") + "\n")
	b.WriteString(".SH VERBS\n")
	for _, v := range Verbs {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s; see\n.BR flipcalc\\-%s (1)\n", roff(v.Name), roff(v.Does), roff(v.Name))
	}
	b.WriteString(".SH FILES\n")
	for _, f := range Files() {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s; see\n.BR flipcalc\\-%s (5)\n", f.Name, roff(f.does), f.Name)
	}
	b.WriteString(manExit)
	b.WriteString(".SH ENVIRONMENT\n.TP\n.B FLIPCALC_MACHINE\nThe machine file, where no flag names one.\n.TP\n.B XDG_CONFIG_HOME\nThe machine file is flipcalc/machine.toml in this folder, where nothing else names one.\n.TP\n.B NO_COLOR\nNot empty: no color.\n")
	return b.String()
}

const manExit = ".SH \"EXIT STATUS\"\n.TP\n.B 0\ndone\n.TP\n.B 1\nthe answer is no: it doesn\\(aqt fit, pins don\\(aqt map, the proof fails, findings\n.TP\n.B 2\nbad input: usage, bad or refused input, a taken offset\n"

// ManPage is flipcalc-VERB(1).
func ManPage(v *Verb) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH FLIPCALC\\-%s 1 %s \"flipcalc\" \"User Commands\"\n", roff(strings.ToUpper(v.Name)), manDate)
	fmt.Fprintf(&b, ".SH NAME\nflipcalc\\-%s \\- %s\n", roff(v.Name), roff(v.Does))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n.B flipcalc %s\n[flags]\n", roff(v.Name))
	if v.Operands != "" {
		fmt.Fprintf(&b, ".I %s\n", roff(v.Operands))
	}
	b.WriteString(".SH OPTIONS\n")
	for i := range Table {
		d := &Table[i]
		if !d.TakenBy(v.Name) || !d.hasFlag() {
			continue
		}
		b.WriteString(".TP\n")
		head := `\fB` + roff("--"+d.Key) + `\fR`
		if d.Short != "" {
			head = `\fB` + roff("-"+d.Short) + `\fR, ` + head
		}
		if d.Form != "" {
			head += ` \fI` + roff(d.Form) + `\fR`
		}
		fmt.Fprintf(&b, "%s\n%s\n", head, roff(d.shown()))
	}
	if len(v.Examples) > 0 {
		b.WriteString(".SH EXAMPLES\n")
		for _, e := range v.Examples {
			fmt.Fprintf(&b, ".PP\n%s:\n.PP\n.RS 4\n.nf\n%s\n.fi\n.RE\n", roff(e.Says), roff(e.Line))
		}
	}
	b.WriteString(manExit)
	b.WriteString(".SH \"SEE ALSO\"\n.BR flipcalc (1),\n.BR flipcalc\\-job (5),\n.BR flipcalc\\-machine (5)\n")
	return b.String()
}
