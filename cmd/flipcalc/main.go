// Flipcalc works out the second side of a part that is turned over on a CNC bed:
// where the second zero goes, how the program is mirrored, and where the stations
// of a pair lie.
//
// Usage:
//
//	flipcalc VERB [flags] [FILE]
//
// 'flipcalc help' lists the verbs, 'flipcalc VERB --help' a verb's flags with
// worked examples. For instance, a bread board of 140 x 90 x 19 mm lies against a
// fence at the near side and a stop at the left, is turned over like a page and
// pushed against a stop at the right:
//
//	flipcalc origin --stock 140x90x19 --flip y --register fence --fence near \
//	    --stop left --back-stop right --zero near-left --at 50,60,-20
//
// prints the second zero in machine coordinates, the transform x' = 140 - x, and
// that the same physical edge touches both times.
package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
)

// verb is one thing that flipcalc does.
type verb struct {
	name     string
	operands string // shown in the usage line
	least    int    // how many operands it needs, --job counted
	most     int
	words    string // what the operand may be, separated by blanks; "" for a file
	does     string // one line
	run      func(*call) error
	examples []example
}

// example is a worked example of a verb's help.
type example struct{ says, line string }

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is flipcalc with its arguments and streams; it gives the exit code.
func run(args []string, in io.Reader, out, errw io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errw, overview())
		return exitWrong
	}
	json := asksJSON(args)
	if json {
		out = &answer{Writer: out}
	}
	t := newTree(args, in, out, errw)
	t.root.SetArgs(args)
	err := t.root.Execute()
	if err == nil {
		err = t.helpErr
	}
	return finish(errw, out, json, err)
}

// perform runs the verb: its operands, then its values, then what it does.
func (c *call) perform() error {
	if err := c.operandFault(); err != nil {
		return err
	}
	if err := c.readValues(); err != nil {
		return err
	}
	if err := c.standardInputTwice(); err != nil {
		return err
	}
	if err := cmp.Or(c.overSelf(), c.overInput("-o", c.text("output")), c.overInput("--picture", c.text("picture"))); err != nil {
		return err
	}
	c.doubtFractions()
	err := c.couldWriteOut(c.verb.run(c))
	if err == nil {
		c.wouldWrite()
	}
	var pe *fs.PathError
	if f, ok := c.out.(*os.File); ok && c.written && errors.As(err, &pe) && pe.Op == "write" && pe.Path == f.Name() {
		c.warning("the files are written, but what was done can't be printed: " + pe.Err.Error())
		return nil
	}
	return c.placed(err)
}

// wouldWrite says under --dry-run that a verb's one file would be written; the verbs
// that write folders list their files themselves.
func (c *call) wouldWrite() {
	out := c.text("output")
	if !c.on("dry-run") || out == "" || out == "-" || slices.Contains([]string{"prepare", "pair", "pins"}, c.verb.name) {
		return
	}
	what := "written"
	if _, err := os.Stat(out); err == nil {
		what = "written over"
	}
	fmt.Fprintf(c.err, "flipcalc: dry run: %s would be %s\n", oneLine(out), what)
}

// operandFault words operands that the verb doesn't take.
func (c *call) operandFault() error {
	v := c.verb
	want := "nothing beside the flags"
	if v.most > 0 {
		want = v.operands
	}
	if c.flags["job"] != nil && !v.takesJob() {
		for _, o := range c.operands {
			if strings.EqualFold(filepath.Ext(o), ".toml") {
				return wrong(v.name, o, want, "use --job "+o)
			}
		}
	}
	n := len(c.operands)
	switch {
	case n < v.least && v.takesJob() && c.given("job"):
	case n < v.least:
		found := "nothing after the flags"
		if n > 0 {
			found = strings.Join(c.operands, " ")
		}
		return wrong(v.name, found, want, fmt.Sprintf("'flipcalc %s --help' shows examples", v.name))
	case n > v.most && c.parted() != "":
		return wrong(v.name, strings.Join(c.operands, " "), want, "one value: "+c.parted())
	case n > v.most:
		return wrong(v.name, strings.Join(c.operands, " "), want, fmt.Sprintf("'flipcalc %s --help' shows examples; a name with blanks in it needs quotes", v.name))
	}
	return nil
}

// parted gives a flag with its value in one piece, where blanks parted it as in
// --landed 0.3 0.15; "" where none was.
func (c *call) parted() string {
	u, _ := c.unit()
	for i := range flagTable {
		v := c.flags[flagTable[i].name]
		if v == nil || len(v.vals) == 0 || v.def.valueFault("", v.vals, u) == nil {
			continue
		}
		for _, sep := range []string{",", "x"} {
			whole := v.String() + sep + strings.Join(c.operands, sep)
			if v.def.valueFault("", []string{whole}, u) == nil {
				return "--" + v.def.name + " " + whole
			}
		}
	}
	return ""
}

// takesJob reports whether the verb's operand is a job file.
func (v *verb) takesJob() bool { return strings.Trim(v.operands, "[]") == "JOB" }

// readValues reads the job file, where there is one, and tells every value that can't
// be read, of the command line and of the job.
func (c *call) readValues() error {
	path := c.text("job")
	if c.verb.takesJob() && len(c.operands) == 1 {
		if c.given("job") {
			return wrong("--job", "a job file, and "+c.operands[0]+" as well", "one of the two", "")
		}
		path = c.operands[0]
	}
	list := []error{}
	var meant map[string]bool
	if path != "" {
		var err error
		if meant, err = c.readJob(path); err != nil {
			list = append(list, err)
		}
		if meant == nil {
			return together(list) // nothing of it can be read
		}
	}
	return together(slices.Concat(c.flagFaults(), list, c.missing(meant)))
}

// printAll writes text and reports a failed write.
func printAll(w io.Writer, text string) error {
	_, err := io.WriteString(w, text)
	return err
}

// findVerb finds a verb by its name.
func findVerb(name string) *verb {
	for _, v := range verbs() {
		if v.name == name {
			return v
		}
	}
	return nil
}

// unknownVerb words a verb that isn't there.
func unknownVerb(name string) error {
	if strings.HasPrefix(name, "-") {
		if near := nearest(strings.TrimPrefix(name, "--"), []string{"help", "version"}); near != "" {
			return wrong("", name+" where a verb goes", "", "did you mean --"+near+"?")
		}
		return wrong("", name+" where a verb goes", "a verb first, such as flipcalc origin "+name, "'flipcalc help' lists the verbs")
	}
	return unknownName(name, "verb", verbNames())
}

// unknownName words a name that isn't one of those that there are.
func unknownName(name, kind, names string) error {
	hint := "'flipcalc help' lists the verbs"
	if near := nearest(name, strings.Fields(names)); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	return wrong("", fmt.Sprintf("%s: no such %s", name, kind), "", hint)
}

// version is the text of 'flipcalc version'.
func version() string {
	info, _ := debug.ReadBuildInfo()
	return "flipcalc " + versionOf(info) + "\n"
}

// versionOf tells the module's version, the commit that it was built from and its time
// where the build has them, and the compiler.
func versionOf(info *debug.BuildInfo) string {
	if info == nil {
		return "(devel)"
	}
	set := settings(info)
	s := buildVersionOf(info)
	if t := set["vcs.time"]; t != "" {
		s += " of " + t
	}
	if set["vcs.modified"] == "true" {
		s += ", with changes since"
	}
	if info.GoVersion != "" {
		s += ", " + info.GoVersion
	}
	return s
}

// buildVersion tells the module's version, and the commit it was built from.
func buildVersion() string {
	info, _ := debug.ReadBuildInfo()
	return buildVersionOf(info)
}

func buildVersionOf(info *debug.BuildInfo) string {
	if info == nil {
		return "(devel)"
	}
	v := info.Main.Version
	if v == "" {
		v = "(devel)"
	}
	if commit := settings(info)["vcs.revision"]; commit != "" && !strings.Contains(v, commit[:min(12, len(commit))]) {
		v += " " + commit
	}
	return v
}

// settings are what a build says of itself, by name.
func settings(info *debug.BuildInfo) map[string]string {
	m := map[string]string{}
	for _, s := range info.Settings {
		m[s.Key] = s.Value
	}
	return m
}
