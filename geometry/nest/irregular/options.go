package irregular

// Effort is how much is done, in counts of work and not of time. The times are
// those of fifty pieces of twenty corners on two shared virtual cores.
type Effort int

// The efforts.
const (
	Quick    Effort = iota // about 2 s
	Normal                 // about 60 s
	Thorough               // about 10 min
)

// work is the work of each stream.
func (e Effort) work() int {
	switch e {
	case Quick:
		return 100_000_000
	case Normal:
		return 2_400_000_000
	}
	return 24_000_000_000
}

// Options say how to search.
type Options struct {
	Effort Effort
	Seed   uint64
	// Start is a layout to begin with, which the answer is never worse than. One
	// that is not a layout of the problem is left aside.
	Start []Placement
}
