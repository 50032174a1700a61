package registration

import "flipcalc/mirror/fault"

// Error says that a question has no answer; it is the one error of the whole tool.
// About names the key.
type Error = fault.Error

// About names the key that err is about, where err doesn't say yet.
// The parsers of this package leave it to the caller.
func About(err error, name string) error { return fault.About(err, name) }
