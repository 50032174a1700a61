package proof

// fast is the short way for plain blocks.
type fast struct {
	ready bool
}

// settle decides after a block of the long way whether the short way may go on.
func (p *pair) settle() {}

func (p *pair) runFast() error { return nil }
