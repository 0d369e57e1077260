package view

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Plan is what a caller sees of a plan, gathered whenever it moves and read
// from then on without looking at any result.
type Plan struct {
	Request   Request           `json:"request"`
	Answers   ask.Replies       `json:"answers,omitempty"`
	Progress  []Progress        `json:"progress"`
	Questions []ask.Question    `json:"questions,omitempty"` // those that are open
	Findings  []finding.Finding `json:"findings,omitempty"`

	Size     *Size              `json:"size,omitempty"`
	Stack    *Stack             `json:"stack,omitempty"` // nil: the work is of one film
	Weeding  *Weeding           `json:"weeding,omitempty"`
	Layout   *Layout            `json:"layout,omitempty"`
	Usage    *layout.Usage      `json:"usage,omitempty"`
	Passes   []Pass             `json:"passes,omitempty"`
	Loads    int                `json:"loads,omitempty"` // that have passes
	Estimate *estimate.Estimate `json:"estimate,omitempty"`
}

// Request is a request in short.
type Request struct {
	Stock      string          `json:"stock"`
	StockName  string          `json:"stock_name"`
	Family     workshop.Family `json:"family"`
	Form       workshop.Form   `json:"form"`
	Machine    string          `json:"machine"`
	Convention string          `json:"convention"`
	Purpose    string          `json:"purpose"`
	Copies     int             `json:"copies"`
	// Again is what is cut once more, where that is not whole copies alone.
	Again []layout.Again `json:"again,omitempty"`
}

// Progress is how far one job of a plan is.
type Progress struct {
	Job    string   `json:"job"`
	State  JobState `json:"state"`
	Reused bool     `json:"reused,omitempty"` // its result was there already
	Share  float64  `json:"share,omitempty"`  // of a job that is worked on and says so: how far it is, from 0 to 1
}

// JobState is how far a job is.
type JobState string

// The states of a job.
const (
	Waiting JobState = "waiting" // for the jobs before it
	Queued  JobState = "queued"  // for a worker
	Working JobState = "working"
	Done    JobState = "done"
	Failed  JobState = "failed"
)

// Gather returns the view of a plan from what its jobs say so far.
func Gather(status plan.Status, r *plan.Request, progress []Progress, parts []Part) *Plan {
	p := &Plan{Answers: r.Replies, Progress: progress, Request: Request{
		Stock: r.Stock.ID, StockName: r.Stock.Name, Family: r.Stock.Family, Form: r.Stock.Form,
		Machine: r.Machine.ID, Convention: r.Convention.ID, Purpose: string(r.Purpose), Copies: r.Copies, Again: r.Again,
	}}
	for i := range parts {
		p.add(&parts[i].Digest)
	}
	if p.Weeding != nil {
		w := *p.Weeding
		if times, ok := r.Calibration.Times(); ok {
			w.Effort = times.Weigh(w.Effort, r.Options.Novice)
		}
		w.BenchS = w.Effort.Seconds(r.Copies)
		if p.Layout != nil && p.Layout.Shared { // its map is that of all that lies there
			w.BenchS = w.Effort.Seconds(1)
		}
		p.Weeding = &w
	}
	p.Stack = p.Stack.planned(r)
	p.Passes = standing(p.Passes, r.Standings)
	var questions []ask.Question
	p.Findings, questions = Outcome(parts)
	if status == plan.Asking { // what is not asked any more is history
		p.Questions = ask.Screen(questions, r.Replies)
	}
	return p
}

// standing returns the passes with how their settings stood.
func standing(all []Pass, by map[string]trial.Standing) []Pass {
	all = slices.Clone(all)
	for i := range all {
		if s, ok := by[all[i].Setting]; ok {
			all[i].Standing, all[i].Tested = &s, s.State != trial.Untested
		}
	}
	return all
}

// add takes over what one job adds.
func (p *Plan) add(d *Digest) {
	if d.Size != nil {
		p.Size = d.Size
	}
	if d.Made != nil && p.Size != nil {
		p.Size = p.Size.made(d)
	}
	if d.Stack != nil {
		p.Stack = d.Stack
	}
	if d.Weeding != nil {
		p.Weeding = d.Weeding
	}
	if d.Layout != nil {
		p.Layout, p.Usage = d.Layout, d.Usage
	}
	if d.Passes != nil {
		p.Passes, p.Loads = d.Passes, d.Loads
	}
	if d.Estimate != nil {
		p.Estimate = d.Estimate
	}
}

// Has reports whether the result of a job is there.
func (p *Plan) Has(job string) bool {
	return slices.ContainsFunc(p.Progress, func(g Progress) bool { return g.Job == job && g.State == Done })
}

// Outcome lists what all jobs found and ask, in their order and numbered, with
// their places in mm: from the lower left corner of the artwork, or from the
// origin of the drawing while there is no artwork, and by the file's own unit
// while the size is open.
func Outcome(parts []Part) (findings []finding.Finding, questions []ask.Question) {
	m := onArtwork(parts)
	for _, p := range parts {
		fs, qs := slices.Clone(p.Findings), slices.Clone(p.Questions)
		if p.Digest.InDrawing {
			for i := range fs {
				fs[i].Places = finding.Moved(fs[i].Places, m)
			}
			for i := range qs {
				qs[i] = qs[i].Moved(m)
			}
		}
		findings, questions = append(findings, fs...), append(questions, qs...)
	}
	finding.Number(findings, 1)
	return findings, questions
}

// onArtwork maps drawing units to the mm in which a plan tells places.
func onArtwork(parts []Part) geometry.Affine {
	unit, origin := geometry.Identity, geometry.Identity
	for _, p := range parts {
		if p.Digest.UnitMM != 0 {
			unit = geometry.Scale(p.Digest.UnitMM, p.Digest.UnitMM)
		}
		if t := p.Digest.Transform; t != nil && t.Det() != 0 {
			unit = *t
		}
		if k := p.Digest.Scale; k != 0 {
			unit = unit.Then(geometry.Scale(k, k))
		}
		if o := p.Digest.Origin; o != nil {
			origin = geometry.Translate(-o.X, -o.Y)
		}
	}
	return unit.Then(origin)
}

// Begin shows the job that is queued as being worked on, and how far it is where that is
// known.
func (p *Plan) Begin(share *float64) {
	for i := range p.Progress {
		g := &p.Progress[i]
		if g.State == Queued {
			g.State = Working
		}
		if g.State == Working && share != nil {
			g.Share = *share
		}
	}
}
