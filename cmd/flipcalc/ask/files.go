package ask

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
)

// fileHelp is the help on a file that the maker writes, as text and as a manual page of
// section 5.
type fileHelp struct {
	Name, does string
	says       string // how the file is written and found
	Keys       func() []Question
	example    string
}

// Files lists the files.
func Files() []fileHelp {
	return []fileHelp{
		{"job", "the job file of flipcalc: a part with two sides, in TOML", jobSays, jobFileKeys, JobExample},
		{"machine", "the machine file of flipcalc: travel, bed, rates and offsets in use, in TOML", machineSays, machineFileKeys, MachineExample},
	}
}

const (
	jobSays = "'flipcalc prepare FILE' works out a whole job; the other verbs take it with --job FILE. Each key answers what the flag of its name does, and a flag on the command line wins; what has no flag --set KEY=VALUE gives for one run. Plain lengths are in units; 19mm and 3/4in say their own. Text goes in quotes; a length may be a number or text, a fraction is text. Where a key may be given more than once its value is a list. Files are taken from the job file's folder. Every fault of the file is told, with its line and column. prepare writes each program as face-NAME.nc or back-NAME.nc, mirrored or not, NAME being the maker's file without its ending; face.nc, back.nc and what begins with face- or back- already keep their names for that side. With several pairs pair1- goes in front, pair2- and so on."

	machineSays = "It is named by --machine FILE, by machine in a job file, by $FLIPCALC_MACHINE, or is flipcalc/machine.toml in the user's configuration folder. Plain lengths are in units; places are machine coordinates. Each [[offset]] belongs to something that stays on the bed: it is never assigned, overlapped or overwritten. 'flipcalc stations' prints the lines that add a job's stations."
)

// JobExample and MachineExample are whole files that go together.
var (
	//go:embed job.toml
	JobExample string
	//go:embed machine.toml
	MachineExample string
)

// FindFile finds the help on a file by its name; nil where there is none.
func FindFile(name string) *fileHelp {
	for _, f := range Files() {
		if f.Name == name {
			return &f
		}
	}
	return nil
}

// key is the question as a file's help has it: its form and help say all that the table
// knows of it.
func (d Question) key() Question {
	if d.into != nil {
		return d
	}
	f, words := d.form(), strings.Fields(d.Words)
	switch last := len(words) - 1; {
	case d.Form == "":
		d.Form = f.says
	case f.says == aWord && last > 0:
		d.Form = strings.Join(words[:last], ", ") + " or " + words[last]
	case f.says != aWord:
		d.Help += "; " + f.says
	}
	if d.Many {
		d.Form += ", or a list of these"
	}
	d.Help += d.defaults()
	for _, r := range required {
		names := strings.Fields(r.keys)
		if !slices.Contains(names, d.Key) {
			continue
		}
		switch d.Help += "; required"; {
		case r.register != "":
			d.Help += " with register " + r.register
		case r.verbs != needsBlank:
			d.Help += " by " + r.verbs
		}
		if len(names) > 1 {
			d.Help += ", this or " + names[1-slices.Index(names, d.Key)]
		}
	}
	return d
}

// full is the key with the name of its table.
func (d *Question) full() string { return strings.TrimLeft(d.Table+"."+d.Key, ".") }

// jobFileKeys are the job file's keys, from the flag table.
func jobFileKeys() (keys []Question) {
	for _, d := range Table {
		if d.jobKey() {
			keys = append(keys, d.key())
		}
	}
	return keys
}

// machineFileKeys are the machine file's keys: those that it alone has, and behind those at
// its top the keys that it shares with the table of questions.
func machineFileKeys() (keys []Question) {
	top := machineKeys("")
	for _, d := range Table {
		if d.From == machineFile && !slices.Contains(top, d.Key) {
			keys = append(keys, d.key())
		}
	}
	return slices.Concat(machineTable[:len(top)], keys, machineTable[len(top):])
}

// text is the text of 'flipcalc help NAME'.
func (f fileHelp) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%s\n", f.does, wrapped(f.says, "", helpWidth()))
	table := "none"
	for _, k := range f.Keys() {
		if k.Table != table {
			table = k.Table
			fmt.Fprintf(&b, "\n%s\n", f.heading(table))
		}
		fmt.Fprintf(&b, "  %s = %s\n%s\n", k.Key, k.Form, wrapped(k.Help, "      ", helpWidth()))
	}
	fmt.Fprintf(&b, "\nExample:\n\n  %s\n", strings.TrimRight(strings.ReplaceAll(f.example, "\n", "\n  "), " \n"))
	return strings.ReplaceAll(b.String(), "\n  \n", "\n\n")
}

// heading is over the keys of a table.
func (f fileHelp) heading(table string) string {
	switch table {
	case "":
		return "Keys:"
	case "offset":
		return "Keys of each [[offset]]:"
	}
	return "Keys of [" + table + "]:"
}

// wrapped breaks text into lines of at most width, each behind indent.
func wrapped(text, indent string, width int) string {
	line, out := indent, ""
	for _, w := range strings.Fields(text) {
		if line != indent && len(line)+1+len(w) > width {
			out += line + "\n"
			line = indent
		}
		if line != indent {
			line += " "
		}
		line += w
	}
	return out + line
}
