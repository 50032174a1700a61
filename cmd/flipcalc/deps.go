package main

import (
	_ "github.com/olekukonko/tablewriter"
	_ "github.com/pelletier/go-toml/v2"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/shopspring/decimal"
	_ "github.com/spf13/pflag"
	_ "golang.org/x/image/font/basicfont"
	_ "golang.org/x/term"
	_ "gonum.org/v1/gonum/mat"
	_ "gonum.org/v1/gonum/stat"
)

func main() {}
