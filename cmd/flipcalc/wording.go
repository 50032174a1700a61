package main

import (
	"errors"
	"fmt"
	"io"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fault"
	"flipcalc/report"
)

// This file owns how flipcalc speaks to the person at the terminal: a message is
// one line, starts with the program's name in lower case, and has no full stop:
//
//	flipcalc: where: what was found, expected what; hint: what to do

// Exit codes.
const (
	exitDone  = 0
	exitNo    = fault.ExitNo
	exitWrong = fault.ExitWrong
)

// complain prints an error and gives the exit code.
func complain(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	list := ask.Listed(err)
	for i, e := range list {
		if i == ask.MostFaults {
			fmt.Fprintf(w, "flipcalc: and %d more\n", len(list)-i)
			break
		}
		fmt.Fprintf(w, "flipcalc: %s\n", ask.OneLine(ask.Message(e)))
	}
	return exitCode(err)
}

// exitCode tells an answer of no from a wrong question.
func exitCode(err error) int {
	var f *fault.Error
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &f):
		return f.Exit()
	}
	return exitWrong
}

// finish prints an error and gives the exit code. Under --json standard output says it
// too, where no answer stands there yet.
func finish(w, out io.Writer, json bool, err error) int {
	if answer, ok := out.(*answer); ok && answer.begun {
		json = false
	}
	if json && err != nil {
		var list []*fault.Error
		for _, e := range ask.Listed(err) {
			list = append(list, ask.Refusal(e))
		}
		report.ErrorJSON(out, list) // the exit code stands, and standard error says it
	}
	return complain(w, err)
}

// answer is standard output that knows whether anything was written.
type answer struct {
	io.Writer
	begun bool
}

func (a *answer) Write(b []byte) (int, error) {
	a.begun = a.begun || len(b) > 0
	return a.Writer.Write(b)
}
