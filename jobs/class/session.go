package class

import (
	"fmt"
	"math"
	"time"

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
	Done             *time.Time
}

// Schedule plans the session; nil where nothing is said of the time.
func (s *Set) Schedule() *session.Plan {
	if s.Session == nil {
		return nil
	}
	return session.Of(s.Session.request(s.Loads))
}

// request is the session with the loads that are still to be cut in it.
func (s *Session) request(loads []Load) session.Request {
	r := session.Default(s.Minutes, s.Places)
	r.Briefing, r.Clearing = s.Briefing, s.Clearing
	for _, l := range loads {
		if l.Done != nil {
			continue
		}
		r.Mats = max(r.Mats, l.Mats)
		r.Loads = append(r.Loads, session.Load{
			Code: fmt.Sprintf("%04d", l.Number), Prepare: l.Minutes.Prepare, Cut: l.Minutes.Cut, Unload: l.Minutes.Unload, Bench: l.Minutes.Bench,
		})
	}
	return r
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
