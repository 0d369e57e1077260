package share

// Name is the name of the job that lays several drawings on common loads, and
// NamePasses and NameEstimate those of the jobs that follow it.
const (
	Name         = "share"
	NamePasses   = "share_passes"
	NameEstimate = "share_estimate"
)
