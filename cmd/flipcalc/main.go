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
	"runtime/debug"
	"slices"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
)

// work is what each verb does.
var work map[string]func(*call) error

func init() { // completion and man walk the verbs themselves
	work = map[string]func(*call) error{
		"prepare": runPrepare, "origin": runOrigin, "mirror": runMirror, "pins": runPins, "stations": runStations, "pair": runPair,
		"check": runCheck, "correct": runCorrect, "sheet": runSheet, "completion": runCompletion, "man": runMan,
	}
}

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is flipcalc with its arguments and streams; it gives the exit code.
func run(args []string, in io.Reader, out, errw io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errw, ask.Overview())
		return exitWrong
	}
	json := ask.AsksJSON(args)
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
	if err := c.OperandFault(); err != nil {
		return err
	}
	if err := c.ReadValues(); err != nil {
		return c.Worded(err)
	}
	if err := cmp.Or(c.overSelf(), c.overInput("-o", c.Text("output")), c.overInput("picture", c.Text("picture"))); err != nil {
		return c.Placed(err)
	}
	if err := c.outputFault(); err != nil {
		return c.Placed(err)
	}
	if doubt := cmp.Or(c.DoubtFractions(), c.DoubtUnits()); doubt != "" {
		c.warning(doubt)
	}
	err := c.CouldWriteOut(work[c.Verb.Name](c))
	if err == nil {
		c.wouldWrite()
	}
	var pe *fs.PathError
	if f, ok := c.out.(*os.File); ok && c.written && errors.As(err, &pe) && pe.Op == "write" && pe.Path == f.Name() {
		c.warning("the files are written, but what was done can't be printed: " + pe.Err.Error())
		return nil
	}
	return c.Placed(err)
}

// wouldWrite says under --dry-run that a verb's one file would be written; the verbs
// that write folders list their files themselves.
func (c *call) wouldWrite() {
	out := c.Text("output")
	if !c.On("dry-run") || out == "" || out == "-" || c.Verb.Name == "correct" || slices.Contains(writesFolder, c.Verb.Name) {
		return
	}
	what := "written"
	if _, err := os.Stat(out); err == nil {
		what = "written over"
	}
	fmt.Fprintf(c.err, "flipcalc: dry run: %s would be %s\n", ask.OneLine(out), what)
}

// printAll writes text and reports a failed write.
func printAll(w io.Writer, text string) error {
	_, err := io.WriteString(w, text)
	return err
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
