package trial

import "time"

// State is how far a setting can be relied on.
type State string

// The states of a setting.
const (
	Untested State = "untested" // no good test cut, or the last was bad
	Tested   State = "tested"
	Trusted  State = "trusted" // by enough good test cuts, of which one is of this batch and blade and not too old
)

// Reason is why a setting is relied on less than its test cuts would allow.
type Reason string

// The reasons. Each is mended by cutting one cell again.
const (
	OtherBlade Reason = "another_blade"
	OtherBatch Reason = "another_batch"
	Age        Reason = "age"
)

// Good test cuts that make a setting trusted, and how many days the last holds
// (common practice, no source: blades dull and rooms change with the season).
const (
	goodForTrust = 3
	daysOfTrust  = 90
)

// Use is what a setting is to be used for.
type Use struct {
	ForceGF, SpeedMMS float64 // of the setting, as the machine runs it
	Batch             string  // of the material; empty: not known
	Blade             string  // the individual blade in the holder; empty: not known
	Day               string  // ISO 8601 date
}

// Standing is how a setting stands on a day, with why.
type Standing struct {
	State State  `json:"state"`
	Good  int    `json:"good,omitempty"`  // test cuts in a row
	Last  string `json:"last,omitempty"`  // the day of the last good one
	Batch string `json:"batch,omitempty"` // that it was made on
	// Lowered says why one cell has to be cut again; empty: it does not.
	Lowered Reason `json:"lowered,omitempty"`
}

// StandingOf derives how a setting stands from its test cuts, oldest first. Only cells
// at the setting's own force and speed count: another force is another setting.
//
//	untested → tested → trusted    by good test cuts
//	trusted → tested               another blade, another batch, or age
//	any → untested                 a failed cell
func StandingOf(use Use, all []Record) Standing {
	var good []Record
	for i := range all {
		switch v, cut := all[i].verdict(use.ForceGF, use.SpeedMMS); {
		case cut && v == Passed:
			good = append(good, all[i])
		case cut:
			good = nil
		}
	}
	if len(good) == 0 {
		return Standing{State: Untested}
	}
	last := good[len(good)-1]
	s := Standing{State: Tested, Good: len(good), Last: last.Day, Batch: last.Batch, Lowered: use.lowers(good)}
	if s.Good >= goodForTrust && s.Lowered == "" {
		s.State = Trusted
	}
	return s
}

// lowers returns why good test cuts do not hold for the use; empty: they do.
func (u Use) lowers(good []Record) Reason {
	why := OtherBlade
	for i := len(good) - 1; i >= 0; i-- {
		r := good[i]
		switch {
		case u.Blade != "" && r.Blade != u.Blade:
		case u.Batch != "" && r.Batch != u.Batch:
			why = OtherBatch
		case daysBetween(r.Day, u.Day) > daysOfTrust:
			return Age
		default:
			return ""
		}
	}
	return why
}

// daysBetween returns how many days lie between two dates; none where one is not
// known.
func daysBetween(from, to string) int {
	a, errA := time.Parse(time.DateOnly, from)
	b, errB := time.Parse(time.DateOnly, to)
	if errA != nil || errB != nil {
		return 0
	}
	return int(b.Sub(a).Hours() / 24)
}
