package mirror

import (
	"io"

	"flipcalc/mirror/block"
)

// rewrite mirrors the program in and writes it to out without proof, so that a test sees what
// the rewriter does by itself; slow without the quick way.
func rewrite(in io.Reader, out io.Writer, o Options, slow bool) (*Report, error) {
	in, free, err := readPasses(in, &o)
	defer free()
	if err != nil {
		return nil, err
	}
	r := block.NewReader(in)
	m, err := newRewriter(r, &o)
	if err != nil {
		return nil, err
	}
	m.slow = slow
	var mirrored []byte
	for {
		var fault error
		_, mirrored, fault = m.next(r, mirrored)
		if _, err := out.Write(mirrored); err != nil {
			return nil, err
		}
		if fault == io.EOF {
			return m.report, nil
		}
		if fault != nil {
			return nil, fault
		}
	}
}
