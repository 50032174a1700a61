package main

import (
	"strings"

	"flipcalc/cmd/flipcalc/ask"
)

func runMan(c *call) error {
	page, err := ask.ManPage(strings.Join(c.Operands, ""))
	if err != nil {
		return err
	}
	return printAll(c.out, page)
}
