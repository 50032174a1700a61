//go:build unix

package bed

import (
	"syscall"
	"testing"
	"time"
)

// processor gives the processor's time that the test has taken.
func processor(t *testing.T) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Skip(err)
	}
	return time.Duration(u.Utime.Nano())
}
