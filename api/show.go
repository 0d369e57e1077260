package api

// The types of the specification are the API's own: functions named show… turn
// the values of the jobs and of the workshop into them, and those named read…
// turn what a request carries into values of the jobs. So a job may change
// while the contract stays.

// each maps all of a list. It never returns nil, so that JSON shows [] and not
// null.
func each[A, B any](in []A, show func(A) B) []B {
	out := make([]B, len(in))
	for i, v := range in {
		out[i] = show(v)
	}
	return out
}

// eachAt is each for values that are large to copy.
func eachAt[A, B any](in []A, show func(*A) B) []B {
	out := make([]B, len(in))
	for i := range in {
		out[i] = show(&in[i])
	}
	return out
}

// maybe maps a value that may be missing.
func maybe[A, B any](in *A, show func(A) B) *B {
	if in == nil {
		return nil
	}
	out := show(*in)
	return &out
}
