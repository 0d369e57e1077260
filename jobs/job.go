package jobs

import (
	"context"
	"time"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// Row is one line of the list of jobs: what the rest of the program has to know
// of a job. What it computes from what is set by Define0 to Define3, DefineFile
// and DefineAll, which hold the types together.
type Row struct {
	// Name stands in keys, in the IDs of questions (see ask.ID), in logs, and in
	// the API, where it names the part and the picture.
	Name string
	// Revision is raised whenever the result for the same input changes.
	Revision int
	// Checks says that the job looks for faults in the drawing, and so runs
	// also for a plan that is refused already: whoever drew it is told all at
	// once.
	Checks bool
	// Timeout bounds a run; 0: as the queue has it.
	Timeout time.Duration
	// Cost estimates the seconds of processor time of a run by what is known of the
	// drawing; nil: next to nothing.
	Cost func(view.Counts) float64
	// Asked estimates what is added by what the job reads of the request, which is
	// JSON; nil: nothing.
	Asked func(reads []byte) float64
	// Mends are those that the job makes and a request can switch off.
	Mends []string
	// Hidden says that the result is no part of a plan that can be asked for.
	Hidden bool
	// Draw makes the picture of the job, of one load, from 1, where ByLoad is
	// set; nil: it has none.
	Draw   func(ctx context.Context, r *view.Results, load int) (*figure.Picture, error)
	ByLoad bool
	// ByPanel says the same where the piece is made of panels, and that it is one
	// picture where not.
	ByPanel bool

	needs  []*Row
	every  bool // needs any number of results of one job
	file   bool // starts from the bytes of the drawing
	reads  func(*plan.Request) any
	run    func(context.Context, input) (Result, error)
	decode func(context.Context, []byte) (Result, error)
	digest func(Result) view.Digest
}

// Estimate is how many seconds of processor time a run is expected to take.
func (r *Row) Estimate(reads []byte, c view.Counts) (seconds float64) {
	if r.Cost != nil {
		seconds += r.Cost(c)
	}
	if r.Asked != nil {
		seconds += r.Asked(reads)
	}
	return seconds
}

// Result is what a job hands on: a value that marshals to JSON, with what it
// found and what it has to ask.
type Result interface {
	// Outcome lists the findings and the open questions.
	Outcome() ([]finding.Finding, []ask.Question)
}

// resultOf is a pointer to an R that is a Result.
type resultOf[R any] interface {
	*R
	Result
}

// partial is a result of which the rest can be looked at although something in
// it blocks the plan.
type partial interface {
	// Checkable reports whether there is such a rest.
	Checkable() bool
}

// input is all that a run sees.
type input struct {
	reads []byte // JSON of what the job reads of the request
	file  []byte
	needs []Result
}

// Job is the handle of a job whose result is an R.
type Job[R any] struct{ row *Row }

// Row returns the line of the list.
func (j Job[R]) Row() *Row { return j.row }

// Shows sets what a result of the job adds to the view of a plan, and returns
// the job.
func (j Job[R]) Shows(digest func(*R) view.Digest) Job[R] {
	j.row.digest = func(r Result) view.Digest { return digest(any(r).(*R)) }
	return j
}

// In returns the result of the job among others, nil where it is not there.
func (j Job[R]) In(all Results) *R {
	r, _ := any(all[j.row.Name]).(*R)
	return r
}

// Results are the results of a plan by the names of their jobs.
type Results map[string]Result

// Outcome is what a result says to the plan.
type Outcome struct {
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
	// Checkable says that the rest can be looked at although a finding blocks.
	Checkable bool `json:"checkable,omitempty"`
}

// OutcomeOf returns what a result says to the plan.
func OutcomeOf(r Result) Outcome {
	findings, questions := r.Outcome()
	part, ok := r.(partial)
	return Outcome{Findings: findings, Questions: questions, Checkable: ok && part.Checkable()}
}
