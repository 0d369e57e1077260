package class

import (
	"context"
	"math"
	"time"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/session"
	"knifedesk/jobs/workshop"
)

// The usual begin and end of a session, in minutes (design: class sets).
const (
	Briefing = 15
	Clearing = 10
)

// Session is the time that a class has at cutter and bench, in minutes.
type Session struct {
	Minutes  float64    `json:"minutes"`
	Start    *time.Time `json:"start,omitempty"` // nil: not known yet; times are then told from the begin
	Places   int        `json:"places"`          // at the bench
	Briefing float64    `json:"briefing"`
	Clearing float64    `json:"clearing"`
}

// Spares is how much stock is fetched besides what is cut, for what goes wrong: a share
// in per cent, and a least number of sheets. Of a roll it is the share alone.
type Spares struct {
	Percent     float64 `json:"percent"`
	LeastSheets int     `json:"least_sheets"`
}

// DefaultSpares is 10 % and one sheet at least (design: class sets).
func DefaultSpares() Spares { return Spares{Percent: 10, LeastSheets: 1} }

// Of returns what is to be fetched besides sheets, and mm of roll.
func (s Spares) Of(sheets int, rollMM float64) (int, float64) {
	if sheets > 0 {
		return max(int(math.Ceil(float64(sheets)*s.Percent/100-1e-9)), s.LeastSheets), 0
	}
	return 0, math.Ceil(rollMM * s.Percent / 100)
}

// Load is a load of the set, by its number in it.
type Load struct {
	Number int
	GroupLoad
	Stock, StockName string
	Form             workshop.Form
	Machine          string
	Mats             int
	Currency         string
	MinorDigits      int32
	Issued           *time.Time // nil: it was not handed out
	Cut              *time.Time
	Done             *time.Time
}

// Fit plans the session of the loads that are not done, where something is said of the
// time. It fails with a *session.RequestError.
func (s *Set) Fit(ctx context.Context) (err error) {
	if s.Session == nil {
		return nil
	}
	r := session.Default(s.Session.Minutes, s.Session.Places)
	r.Briefing, r.Clearing = s.Session.Briefing, s.Session.Clearing
	for _, l := range s.Loads {
		if l.Done != nil {
			continue
		}
		r.Mats = max(r.Mats, l.Mats)
		t := l.Time
		t.Number = l.Number
		r.Loads = append(r.Loads, session.Of("", []estimate.LoadTime{t})...)
	}
	s.Plan, err = session.Make(ctx, r)
	return err
}

// LoadsOf lists the loads that hold something of a member, by their numbers.
func (s *Set) LoadsOf(code string) []int {
	var all []int
	for _, l := range s.Loads {
		for _, p := range l.Placed {
			if p.Code == code && code != "" {
				all = append(all, l.Number)
			}
		}
	}
	return all
}
