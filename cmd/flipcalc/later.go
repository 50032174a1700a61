package main

// Verbs that refuse in one line what they can't do yet.

func notYet(does string) func(*call) error {
	return func(c *call) error { return wrong(c.verb.name, "not built yet: "+does, "", "") }
}

var (
	pairVerb = &verb{name: "pair", operands: "FACE BACK", least: 2, most: 2, does: "merges a face and a back program into one program per cycle", run: notYet("merged cycles")}
)
