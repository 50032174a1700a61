package main

import (
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
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
		RunE:             func(_ *cobra.Command, args []string) error { return ask.UnknownVerb(args[0]) },
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
		text := ask.Overview()
		if v := ask.FindVerb(cmd.Name()); v != nil {
			text = ask.ShortHelp(v)
		}
		t.helpErr = printAll(out, text)
	})
	t.root.SetHelpCommand(&cobra.Command{
		Use: "help", Args: cobra.ArbitraryArgs, DisableFlagParsing: true, Short: "explains a verb, a flag or key, job or machine",
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := ask.HelpOn(args)
			if err != nil {
				return err
			}
			return printAll(out, text)
		},
		ValidArgs: strings.Fields(ask.PageNames()),
	})
	t.root.AddCommand(&cobra.Command{
		Use: "version", Short: "prints what was built, from what", Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return ask.Wrong("version", strings.Join(args, " "), "nothing after it", "")
			}
			return printAll(out, version())
		},
	})
	for _, v := range ask.Verbs {
		var asked *ask.Ask
		cmd := &cobra.Command{Use: v.Name, Short: v.Does, Args: cobra.ArbitraryArgs,
			RunE: func(_ *cobra.Command, operands []string) error {
				asked.Operands = operands
				c := &call{Job: job.New(asked, in, buildVersion()), tree: t, out: out, err: errw}
				c.Ticks = c.ticks
				return c.perform()
			}}
		if slices.Contains(args, v.Name) {
			asked = v.Hang(cmd)
		}
		t.root.AddCommand(cmd)
	}
	return t
}

// flagFault words a flag that can't be parsed, before or behind the verb.
func flagFault(cmd *cobra.Command, err error) error {
	if cmd.HasParent() {
		return ask.FlagProblem(cmd.Name(), cmd.Flags(), err)
	}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return ask.Wrong("", err.Error(), "a verb first", "'flipcalc help' lists the verbs")
	}
	dashes := "--"
	if len(unknown.GetSpecifiedName()) == 1 {
		dashes = "-"
	}
	return ask.UnknownVerb(dashes + unknown.GetSpecifiedName())
}

func runCompletion(c *call) error {
	root := c.tree.root
	switch shell := c.Operands[0]; shell {
	case "bash":
		return root.GenBashCompletionV2(c.out, true)
	case "zsh":
		return root.GenZshCompletion(c.out)
	case "fish":
		return root.GenFishCompletion(c.out, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(c.out)
	default:
		return ask.Wrong("completion", shell, "bash, zsh, fish or powershell", "")
	}
}
