package ask

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"flipcalc/mirror/transform"
)

// New is a question to a verb of which nothing is given yet.
func New(v *Verb) *Ask {
	_, flags := newFlags(v.Name)
	return &Ask{Verb: v, flags: flags}
}

// Hang gives a verb's command its flags, and what completes its operands; what is asked
// by them comes back.
func (v *Verb) Hang(cmd *cobra.Command) *Ask {
	fs, flags := newFlags(v.Name)
	cmd.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		switch {
		case v.Words == "@page":
			return strings.Fields(PageNames()), cobra.ShellCompDirectiveNoFileComp
		case v.Words != "":
			return strings.Fields(v.Words), cobra.ShellCompDirectiveNoFileComp
		case v.TakesJob():
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		case v.Most == 0:
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveDefault
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().AddFlagSet(fs)
	fs.VisitAll(func(f *pflag.Flag) {
		if d := Find(f.Name); d.Form != "" {
			cmd.RegisterFlagCompletionFunc(f.Name, d.complete)
		}
	})
	return &Ask{Verb: v, flags: flags}
}

// complete offers values of a flag to a shell: the words of the table, keys, files of a kind,
// or nothing where any length will do.
func (d *Question) complete(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	words := strings.Fields(d.Words)
	switch d.Words {
	case "@key":
		words = nil
		for i := range Table {
			if k := &Table[i]; !k.hasFlag() && k.TakenBy(cmd.Name()) {
				words = append(words, k.Key+"=")
			}
		}
	case "@offset":
		return transform.OffsetNames(true), cobra.ShellCompDirectiveNoFileComp
	case "@toml":
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	case "@file", "@program":
		return nil, cobra.ShellCompDirectiveDefault
	}
	if slices.ContainsFunc(words, func(w string) bool { return strings.HasSuffix(w, "=") }) {
		return words, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	return words, cobra.ShellCompDirectiveNoFileComp
}

// PageNames lists what there is help on, separated by blanks.
func PageNames() string {
	names := []string{}
	for _, v := range Verbs {
		names = append(names, v.Name)
	}
	for _, f := range Files() {
		names = append(names, f.Name)
	}
	return strings.Join(names, " ")
}

// PagesHint lists the pages where one was asked for that isn't there.
func PagesHint() string {
	return "the pages are " + strings.Join(strings.Fields(PageNames()), ", ")
}

// VerbNames lists what may stand first, separated by blanks.
func VerbNames() string {
	names := []string{}
	for _, v := range Verbs {
		names = append(names, v.Name)
	}
	return strings.Join(append(names, "help", "version"), " ")
}

// AsksJSON reports whether the arguments ask for JSON, also where they can't be read.
func AsksJSON(args []string) bool {
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return slices.Contains(args, "--json")
}
