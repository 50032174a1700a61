package main

import (
	"flipcalc/cmd/flipcalc/ask"
)

func runMan(c *call) error {
	if len(c.Operands) == 0 {
		return printAll(c.out, ask.ManOverview())
	}
	if f := ask.FindFile(c.Operands[0]); f != nil {
		return printAll(c.out, f.Page())
	}
	v := ask.FindVerb(c.Operands[0])
	if v == nil {
		return ask.UnknownName(c.Operands[0], "page", ask.PageNames(), ask.PagesHint())
	}
	return printAll(c.out, ask.ManPage(v))
}
