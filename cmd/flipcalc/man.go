package main

import (
	"fmt"
	"strings"
)

var manVerb = &verb{
	name: "man", operands: "[VERB|job|machine]", most: 1,
	does: "prints a manual page",
	examples: []example{
		{"the manual page of flipcalc", "flipcalc man | man -l -"},
		{"the manual page of a verb", "flipcalc man origin | man -l -"},
		{"the manual page of the job file, and of the machine file", "flipcalc man job | man -l -; flipcalc man machine | man -l -"},
		{"install a page", "flipcalc man mirror > ~/.local/share/man/man1/flipcalc-mirror.1"},
	},
}

// The verb's work lists the verbs, so it is hung on after the verbs are there.
func init() { manVerb.run = runMan }

func runMan(c *call) error {
	if len(c.operands) == 0 {
		return printAll(c.out, manOverview())
	}
	if f := findFileHelp(c.operands[0]); f != nil {
		return printAll(c.out, f.page())
	}
	v := findVerb(c.operands[0])
	if v == nil {
		return unknownName(c.operands[0], "page", pageNames())
	}
	return printAll(c.out, manPage(v))
}

// manDate is the date of the pages' wording; it changes with them, not with the day.
const manDate = "2026-11-25"

// roff makes text safe in a manual page.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}

// manOverview is flipcalc(1).
func manOverview() string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH FLIPCALC 1 %s \"flipcalc\" \"User Commands\"\n", manDate)
	b.WriteString(".SH NAME\nflipcalc \\- second zero, mirrored program and stations for parts with two sides\n")
	b.WriteString(".SH SYNOPSIS\n.B flipcalc\n.I VERB\n[flags]\n.RI [ FILE ]\n.SH DESCRIPTION\n")
	b.WriteString(roff("Given a blank's size, the flip axis and how the blank is registered (dowels, plug, fence and stop), flipcalc works out the second side's zero and the mirror transform, mirrors the program and proves it, and lays out paired stations.") + "\n")
	b.WriteString(".SH VERBS\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s; see\n.BR flipcalc\\-%s (1)\n", roff(v.name), roff(v.does), roff(v.name))
	}
	b.WriteString(".SH FILES\n")
	for _, f := range fileHelps() {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s; see\n.BR flipcalc\\-%s (5)\n", f.name, roff(f.does), f.name)
	}
	b.WriteString(manExit)
	b.WriteString(".SH ENVIRONMENT\n.TP\n.B FLIPCALC_MACHINE\nThe machine file, where no flag names one.\n.TP\n.B XDG_CONFIG_HOME\nThe machine file is flipcalc/machine.toml in this folder, where nothing else names one.\n.TP\n.B NO_COLOR\nNot empty: no color.\n")
	return b.String()
}

const manExit = ".SH \"EXIT STATUS\"\n.TP\n.B 0\ndone\n.TP\n.B 1\nthe answer is no: it doesn\\(aqt fit, pins don\\(aqt map, the proof fails, findings\n.TP\n.B 2\nthe question is wrong: usage, bad or refused input, a taken offset\n"

// manPage is flipcalc-VERB(1).
func manPage(v *verb) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH FLIPCALC\\-%s 1 %s \"flipcalc\" \"User Commands\"\n", roff(strings.ToUpper(v.name)), manDate)
	fmt.Fprintf(&b, ".SH NAME\nflipcalc\\-%s \\- %s\n", roff(v.name), roff(v.does))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n.B flipcalc %s\n[flags]\n", roff(v.name))
	if v.operands != "" {
		fmt.Fprintf(&b, ".I %s\n", roff(v.operands))
	}
	b.WriteString(".SH OPTIONS\n")
	for i := range flagTable {
		d := &flagTable[i]
		if !d.takenBy(v.name) || d.jobOnly {
			continue
		}
		b.WriteString(".TP\n")
		head := `\fB` + roff("--"+d.name) + `\fR`
		if d.short != "" {
			head = `\fB` + roff("-"+d.short) + `\fR, ` + head
		}
		if d.arg != "" {
			head += ` \fI` + roff(d.arg) + `\fR`
		}
		fmt.Fprintf(&b, "%s\n%s\n", head, roff(d.shown()))
	}
	if len(v.examples) > 0 {
		b.WriteString(".SH EXAMPLES\n")
		for _, e := range v.examples {
			fmt.Fprintf(&b, ".PP\n%s:\n.PP\n.RS 4\n.nf\n%s\n.fi\n.RE\n", roff(e.says), roff(e.line))
		}
	}
	b.WriteString(manExit)
	b.WriteString(".SH \"SEE ALSO\"\n.BR flipcalc (1),\n.BR flipcalc\\-job (5),\n.BR flipcalc\\-machine (5)\n")
	return b.String()
}
