// Package draws says how many random draws a test makes.
package draws

import "os"

// Of is all of them where FLIPCALC_LONG is set, else a fifth: enough that a fault which
// one draw in twenty shows passes a test of 500 once in 170 times: 0.95^100.
func Of(all int) int {
	if os.Getenv("FLIPCALC_LONG") != "" {
		return all
	}
	return all / 5
}
