package main

import (
	"fmt"
	"strings"
)

var completionVerb = &verb{
	name: "completion", operands: "bash|zsh|fish", least: 1, most: 1,
	does: "prints the completion script of a shell",
	examples: []example{
		{"for this bash session", "source <(flipcalc completion bash)"},
		{"for zsh, into a folder of $fpath", "flipcalc completion zsh > ~/.zfunc/_flipcalc"},
		{"for fish", "flipcalc completion fish > ~/.config/fish/completions/flipcalc.fish"},
	},
}

// The verb's work lists the verbs, so it is hung on after the verbs are there.
func init() { completionVerb.run = runCompletion }

func runCompletion(c *call) error {
	switch shell := c.operands[0]; shell {
	case "bash":
		return printAll(c.out, bashCompletion())
	case "zsh":
		return printAll(c.out, zshCompletion())
	case "fish":
		return printAll(c.out, fishCompletion())
	default:
		return wrong("completion", shell, "bash, zsh or fish", "")
	}
}

// allOffsets are the offsets that completion offers.
const allOffsets = "G54 G55 G56 G57 G58 G59 G59.1 G59.2 G59.3"

// pageNames lists what there is help on, separated by blanks.
func pageNames() string {
	var names []string
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
	var names []string
	for _, v := range verbs() {
		names = append(names, v.name)
	}
	return strings.Join(append(names, "help", "version"), " ")
}

// operandWords are the words that a verb's operand may be, or "" for files.
func operandWords(v *verb) string {
	switch {
	case v.name == "completion":
		return "bash zsh fish"
	case v.name == "man":
		return pageNames()
	}
	return ""
}

// choices gives the words that complete a flag's value, or else files: "@file" for any,
// "@toml", or "@program", which are all but TOML since programs have many endings.
func (d *flagDef) choices() (words, files string) {
	switch {
	case d.values == "@offset":
		return allOffsets, ""
	case strings.HasPrefix(d.values, "@"):
		return "", d.values
	}
	return d.values, ""
}

// spellings gives the flag's long and short form.
func (d *flagDef) spellings() []string {
	s := []string{"--" + d.name}
	if d.short != "" {
		s = append(s, "-"+d.short)
	}
	return s
}

// flagsOf lists a verb's flags, separated by blanks.
func flagsOf(name string) string {
	var out []string
	for i := range flagTable {
		if d := &flagTable[i]; d.takenBy(name) && !d.jobOnly {
			out = append(out, "--"+d.name)
		}
	}
	return strings.Join(out, " ")
}

// caseShell is how a shell that completes by case statements writes its parts.
type caseShell struct {
	label string                // of a case, for its pattern
	files map[string]string     // offer files, by what kind of them
	words func(string) string   // offer words
	none  func(*flagDef) string // offer nothing
}

// flagCases are the cases of the flags with values, by their spellings.
func (s caseShell) flagCases() string {
	var b strings.Builder
	for i := range flagTable {
		d := &flagTable[i]
		if d.arg == "" || d.jobOnly {
			continue
		}
		offer := s.none(d)
		switch words, files := d.choices(); {
		case files != "":
			offer = s.files[files] + "; "
		case words != "":
			offer = s.words(words) + "; "
		}
		fmt.Fprintf(&b, "    "+s.label+" %sreturn ;;\n", strings.Join(d.spellings(), "|"), offer)
	}
	return b.String()
}

// verbCases are the cases of the verbs: their flags, and their operands where these
// are words.
func (s caseShell) verbCases() string {
	var b strings.Builder
	for _, v := range verbs() {
		fmt.Fprintf(&b, "    "+s.label+"\n        if [[ $cur == -* ]]; then %s; return; fi\n", v.name, s.words(flagsOf(v.name)))
		if w := operandWords(v); w != "" {
			fmt.Fprintf(&b, "        %s; return\n", s.words(w))
		} else if v.takesJob() {
			fmt.Fprintf(&b, "        %s; return\n", s.files["@toml"])
		}
		b.WriteString("        ;;\n")
	}
	fmt.Fprintf(&b, "    "+s.label+" %s; return ;;\n", "help", s.words(pageNames()))
	return b.String()
}

func bashCompletion() string {
	s := caseShell{
		label: "%s)",
		files: map[string]string{
			"@file":    `compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -- "$cur"))`,
			"@toml":    `compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -X '!*.toml' -- "$cur"; compgen -d -- "$cur"))`,
			"@program": `compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -X '*.toml' -- "$cur"))`,
		},
		words: func(w string) string { return `COMPREPLY=($(compgen -W "` + w + `" -- "$cur"))` },
		none:  func(*flagDef) string { return "" },
	}
	return `# bash completion for flipcalc
_flipcalc() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} verb=${COMP_WORDS[1]}
    COMPREPLY=()
    if [[ $cur == "=" ]]; then cur=""; fi
    if [[ $prev == "=" ]]; then prev=${COMP_WORDS[COMP_CWORD-2]}; fi
    if (( COMP_CWORD == 1 )); then
        ` + s.words(verbNames()) + `
        return
    fi
    case "$prev" in
` + s.flagCases() + `    esac
    case "$verb" in
` + s.verbCases() + `    esac
    ` + strings.Replace(s.files["@file"], "; ", "\n    ", 1) + `
}
complete -F _flipcalc flipcalc
`
}

func zshCompletion() string {
	s := caseShell{
		label: "(%s)",
		files: map[string]string{"@file": "_files", "@toml": "_files -g '*.toml'", "@program": "_files -F '*.toml'"},
		words: func(w string) string { return "compadd -- " + w },
		none:  func(d *flagDef) string { return "_message '" + d.arg + "'; " },
	}
	return `#compdef flipcalc
# zsh completion for flipcalc
_flipcalc() {
    local cur=${words[CURRENT]} prev=${words[CURRENT-1]} verb=${words[2]}
    if (( CURRENT == 2 )); then
        ` + s.words(verbNames()) + `
        return
    fi
    if [[ $cur == --*=* ]]; then
        prev=${cur%%=*}
        compset -P '*='
    fi
    case $prev in
` + s.flagCases() + `    esac
    case $verb in
` + s.verbCases() + `    esac
    ` + s.files["@file"] + `
}
if [[ $funcstack[1] == _flipcalc ]]; then
    _flipcalc "$@"
else
    (( $+functions[compdef] )) || { autoload -Uz compinit; compinit }
    compdef _flipcalc flipcalc
fi
`
}

func fishCompletion() string {
	var b strings.Builder
	b.WriteString("# fish completion for flipcalc\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "complete -c flipcalc -n __fish_use_subcommand -f -a %s -d '%s'\n", v.name, fishQuote(v.does))
		if w := operandWords(v); w != "" {
			fmt.Fprintf(&b, "complete -c flipcalc -n '__fish_seen_subcommand_from %s' -f -a '%s'\n", v.name, w)
		} else if v.takesJob() {
			fmt.Fprintf(&b, "complete -c flipcalc -n '__fish_seen_subcommand_from %s' -f -a '(__fish_complete_suffix .toml)'\n", v.name)
		}
	}
	for i := range flagTable {
		d := &flagTable[i]
		if d.jobOnly {
			continue
		}
		fmt.Fprintf(&b, "complete -c flipcalc -n '__fish_seen_subcommand_from %s' -l %s", d.verbs, d.name)
		if d.short != "" {
			fmt.Fprintf(&b, " -s %s", d.short)
		}
		switch words, files := d.choices(); {
		case d.arg == "":
		case files == "@toml":
			b.WriteString(" -x -a '(__fish_complete_suffix .toml)'")
		case files != "":
			b.WriteString(" -r -F")
		case words != "":
			fmt.Fprintf(&b, " -x -a '%s'", words)
		default:
			b.WriteString(" -x")
		}
		fmt.Fprintf(&b, " -d '%s'\n", fishQuote(d.usage))
	}
	return b.String()
}

// fishQuote makes text safe between fish's single quotes.
func fishQuote(s string) string {
	return strings.NewReplacer(`\`, `\\`, `'`, `\'`).Replace(s)
}
