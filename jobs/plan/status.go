package plan

// Status is how a plan stands.
type Status string

// The statuses. A plan is queued until a worker takes it up and working while
// jobs run; the others are settled: only a person moves the plan on.
const (
	Queued    Status = "queued"
	Working   Status = "working"
	Asking    Status = "asking"    // a question is open
	Ready     Status = "ready"     // every job is done
	Refused   Status = "refused"   // a finding blocks it
	Failed    Status = "failed"    // the program could not do it
	Cancelled Status = "cancelled" // by its client
)

// Settled says whether nothing more happens to the plan of its own accord.
func (s Status) Settled() bool { return s != Queued && s != Working }
