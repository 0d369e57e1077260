package size

import "knifedesk/jobs/size/reading"

// Prove opens what holds a frame to its named size to the tests.
func (r *Result) Prove(named reading.Named) error { return r.prove(named) }
