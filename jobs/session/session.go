// Package session plans who cuts and who peels when a class shares one cutter: the
// cutter takes load after load, and what is cut is peeled at a few bench places.
package session

// Request is a session and the loads that are wanted in it. All times are minutes; those
// of loads are to be high estimates, since what is late has no room behind it.
type Request struct {
	Minutes  float64 `json:"minutes"`  // of the session
	Briefing float64 `json:"briefing"` // at its begin
	Clearing float64 `json:"clearing"` // at its end
	Places   int     `json:"places"`   // at the bench, at each of which one load is peeled at a time
	// Mats is how many mats the cutter has of the kind: with two the next load is prepared
	// on the other while one is cut, and only the swap is in series.
	Mats  int     `json:"mats"`
	Swap  float64 `json:"swap"` // one mat out and the next in
	Loads []Load  `json:"loads"`
}

// Default returns a session with briefing 15, clearing 10 (design: class sets), one mat and
// half a minute for a swap (common practice, no source).
func Default(minutes float64, places int) Request {
	return Request{Minutes: minutes, Briefing: 15, Clearing: 10, Places: places, Mats: 1, Swap: 0.5}
}

// Usable is the session less briefing and clearing.
func (r Request) Usable() float64 { return max(0, r.Minutes-r.Briefing-r.Clearing) }

// Load is one filling of the cutter.
type Load struct {
	Code    string  `json:"code"`    // that tells it apart
	Prepare float64 `json:"prepare"` // laying it on the mat, or feeding the run
	Cut     float64 `json:"cut"`     // with test cut and changes of the tool
	Unload  float64 `json:"unload"`
	Bench   float64 `json:"bench"` // peeling it, by one person
}

// Series is what the load takes of the cutter alone.
func (l Load) Series() float64 { return l.Prepare + l.Cut + l.Unload }

// Plan is what is cut and peeled when, in minutes from the end of the briefing.
type Plan struct {
	Usable float64 `json:"usable"`
	Runs   []Run   `json:"runs"` // in the order in which they are cut
	// LastPeel is when the last load is peeled.
	LastPeel float64 `json:"last_peel"`
	// Over are the codes of loads that no longer fit, and Long those of loads that are
	// longer than the usable time by themselves. A load is never split.
	Over []string `json:"over,omitempty"`
	Long []string `json:"long,omitempty"`
}

// Run is one load in its time.
type Run struct {
	Code    string  `json:"code"`
	Prepare float64 `json:"prepare"` // begins
	Cut     float64 `json:"cut"`     // begins
	Out     float64 `json:"out"`     // the cutter has done its lines
	Place   int     `json:"place"`   // at the bench, from 1
	Peel    float64 `json:"peel"`    // begins
	Done    float64 `json:"done"`    // the last of it is peeled
}
