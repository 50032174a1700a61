package main

import (
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"flipcalc/mirror/transform"
)

// This file hangs the verbs and the flag table on the command library, which finds the
// verb, parses its flags and answers the shells' completion.

// tree is flipcalc as the library knows it. helpErr is what went wrong while help was
// printed, since the library's help has no way to say so.
type tree struct {
	root    *cobra.Command
	helpErr error
}

// newTree builds the verbs, with the flags of those that the command line names: a
// quick look-up doesn't wait for the flags of ten others.
func newTree(args []string, in io.Reader, out, errw io.Writer) *tree {
	t := &tree{}
	t.root = &cobra.Command{
		Use:              "flipcalc",
		Args:             cobra.ArbitraryArgs,
		RunE:             func(_ *cobra.Command, args []string) error { return unknownVerb(args[0]) },
		SilenceErrors:    true,
		SilenceUsage:     true,
		TraverseChildren: true, // a flag before the verb is a fault, not the verb's
		Version:          version(),
	}
	t.root.SetVersionTemplate("{{.Version}}")
	t.root.SetIn(in)
	t.root.SetOut(out)
	t.root.SetErr(errw)
	t.root.CompletionOptions.DisableDefaultCmd = true
	t.root.SetFlagErrorFunc(flagFault)
	t.root.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		text := overview()
		if v := findVerb(cmd.Name()); v != nil {
			text = shortHelp(v)
		}
		t.helpErr = printAll(out, text)
	})
	t.root.SetHelpCommand(&cobra.Command{
		Use: "help", Args: cobra.ArbitraryArgs, DisableFlagParsing: true, Short: "explains a verb, a flag or key, job or machine",
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := helpOn(args)
			if err != nil {
				return err
			}
			return printAll(out, text)
		},
		ValidArgs: strings.Fields(pageNames()),
	})
	t.root.AddCommand(&cobra.Command{
		Use: "version", Short: "prints what was built, from what", Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return wrong("version", strings.Join(args, " "), "nothing after it", "")
			}
			return printAll(out, version())
		},
	})
	for _, v := range verbs() {
		var flags map[string]*value
		cmd := &cobra.Command{Use: v.name, Short: v.does, Args: cobra.ArbitraryArgs,
			RunE: func(_ *cobra.Command, operands []string) error {
				c := &call{verb: v, tree: t, flags: flags, operands: operands, in: in, out: out, err: errw}
				return c.perform()
			}}
		if slices.Contains(args, v.name) {
			flags = v.fill(cmd)
		}
		t.root.AddCommand(cmd)
	}
	return t
}

// flagFault words a flag that can't be parsed, before or behind the verb.
func flagFault(cmd *cobra.Command, err error) error {
	if cmd.HasParent() {
		return flagProblem(cmd.Name(), cmd.Flags(), err)
	}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return wrong("", err.Error(), "a verb first", "'flipcalc help' lists the verbs")
	}
	dashes := "--"
	if len(unknown.GetSpecifiedName()) == 1 {
		dashes = "-"
	}
	return unknownVerb(dashes + unknown.GetSpecifiedName())
}

// fill gives a verb's command its flags, and what completes its operands.
func (v *verb) fill(cmd *cobra.Command) map[string]*value {
	fs, flags := newFlags(v.name)
	cmd.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		switch {
		case v.words != "":
			return strings.Fields(v.words), cobra.ShellCompDirectiveNoFileComp
		case v.takesJob():
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		case v.most == 0:
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveDefault
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().AddFlagSet(fs)
	fs.VisitAll(func(f *pflag.Flag) {
		if d := findFlag(f.Name); d.arg != "" {
			cmd.RegisterFlagCompletionFunc(f.Name, d.complete)
		}
	})
	return flags
}

// complete offers values of a flag to a shell: the words of the table, files of a kind,
// or nothing where any length will do.
func (d *flagDef) complete(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	switch d.values {
	case "@offset":
		return transform.OffsetNames(true), cobra.ShellCompDirectiveNoFileComp
	case "@toml":
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	case "@file", "@program":
		return nil, cobra.ShellCompDirectiveDefault
	}
	words := strings.Fields(d.values)
	if slices.ContainsFunc(words, func(w string) bool { return strings.HasSuffix(w, "=") }) {
		return words, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	return words, cobra.ShellCompDirectiveNoFileComp
}

var completionVerb = &verb{
	name: "completion", operands: "bash|zsh|fish|powershell", words: "bash zsh fish powershell", least: 1, most: 1,
	does: "prints the completion script of a shell",
	examples: []example{
		{"for this bash session", "source <(flipcalc completion bash)"},
		{"for zsh, into a folder of $fpath", "flipcalc completion zsh > ~/.zfunc/_flipcalc"},
		{"for fish", "flipcalc completion fish > ~/.config/fish/completions/flipcalc.fish"},
	},
}

// The verb's work walks the verbs, so it is hung on after the verbs are there.
func init() { completionVerb.run = runCompletion }

func runCompletion(c *call) error {
	root := c.tree.root
	switch shell := c.operands[0]; shell {
	case "bash":
		return root.GenBashCompletionV2(c.out, true)
	case "zsh":
		return root.GenZshCompletion(c.out)
	case "fish":
		return root.GenFishCompletion(c.out, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(c.out)
	default:
		return wrong("completion", shell, "bash, zsh, fish or powershell", "")
	}
}

// pageNames lists what there is help on, separated by blanks.
func pageNames() string {
	names := []string{}
	for _, v := range verbs() {
		names = append(names, v.name)
	}
	for _, f := range fileHelps() {
		names = append(names, f.name)
	}
	return strings.Join(names, " ")
}

// verbNames lists what may stand first, separated by blanks.
func verbNames() string {
	names := []string{}
	for _, v := range verbs() {
		names = append(names, v.name)
	}
	return strings.Join(append(names, "help", "version"), " ")
}
