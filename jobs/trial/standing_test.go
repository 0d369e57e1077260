package trial_test

import (
	"testing"

	"knifedesk/jobs/trial"
)

// cell is a record of one cell at a force and 100 mm/s.
func cell(force float64, v trial.Verdict, day, batch, blade string) trial.Record {
	return trial.Record{Aim: trial.Again, Day: day, Batch: batch, Blade: blade, Cells: []trial.Cell{{ForceGF: force, SpeedMMS: 100, Verdict: v}}}
}

// The states as job.md and the issue have them: trusted after three good test cuts;
// another batch, a blade change or age make it tested; a failed cell untested.
func TestStates(t *testing.T) {
	good := func(day string) trial.Record { return cell(80, trial.Passed, day, "a", "b1") }
	three := []trial.Record{good("2030-01-01"), good("2030-01-02"), good("2030-01-03")}
	with := func(more ...trial.Record) []trial.Record { return append(append([]trial.Record{}, three...), more...) }
	use := trial.Use{ForceGF: 80, SpeedMMS: 100, Batch: "a", Blade: "b1", Day: "2030-01-04"}
	other := func(change func(*trial.Use)) trial.Use { u := use; change(&u); return u }
	for _, c := range []struct {
		name    string
		use     trial.Use
		all     []trial.Record
		state   trial.State
		lowered trial.Reason
	}{
		{"nothing cut", use, nil, trial.Untested, ""},
		{"one good", use, three[:1], trial.Tested, ""},
		{"two good", use, three[:2], trial.Tested, ""},
		{"three good", use, three, trial.Trusted, ""},
		{"cut at another force", use, []trial.Record{cell(90, trial.Passed, "2030-01-01", "a", "b1")}, trial.Untested, ""},
		{"a failed cell at another force", use, with(cell(90, trial.Failed, "2030-01-04", "a", "b1")), trial.Trusted, ""},
		{"another batch", other(func(u *trial.Use) { u.Batch = "c" }), three, trial.Tested, trial.OtherBatch},
		{"a batch that nobody knows", other(func(u *trial.Use) { u.Batch = "" }), three, trial.Trusted, ""},
		{"another batch, cut again", other(func(u *trial.Use) { u.Batch = "c" }), with(cell(80, trial.Passed, "2030-01-04", "c", "b1")), trial.Trusted, ""},
		{"the first batch after another", use, with(cell(80, trial.Passed, "2030-01-04", "c", "b1")), trial.Trusted, ""},
		{"another blade", other(func(u *trial.Use) { u.Blade = "b2" }), three, trial.Tested, trial.OtherBlade},
		{"another blade, cut again", other(func(u *trial.Use) { u.Blade = "b2" }), with(cell(80, trial.Passed, "2030-01-04", "a", "b2")), trial.Trusted, ""},
		{"another blade, cut again on another batch", other(func(u *trial.Use) { u.Blade = "b2" }), with(cell(80, trial.Passed, "2030-01-04", "c", "b2")), trial.Tested, trial.OtherBatch},
		{"90 days", other(func(u *trial.Use) { u.Day = "2030-04-03" }), three, trial.Trusted, ""},
		{"91 days", other(func(u *trial.Use) { u.Day = "2030-04-04" }), three, trial.Tested, trial.Age},
		{"long ago, cut again", other(func(u *trial.Use) { u.Day = "2030-04-04" }), with(good("2030-04-04")), trial.Trusted, ""},
		{"failed", use, with(cell(80, trial.TooLight, "2030-01-04", "a", "b1")), trial.Untested, ""},
		{"failed, then good", use, with(cell(80, trial.Failed, "2030-01-04", "a", "b1"), good("2030-01-04")), trial.Tested, ""},
		{"one of two cells alike failed", use, []trial.Record{{Cells: append(good("").Cells, cell(80, trial.TooDeep, "", "", "").Cells...)}}, trial.Untested, ""},
	} {
		if got := trial.StandingOf(c.use, c.all); got.State != c.state || got.Lowered != c.lowered {
			t.Errorf("%s: %s, lowered by %q; want %s, %q", c.name, got.State, got.Lowered, c.state, c.lowered)
		}
	}
}
