// Package finding says what is wrong with a drawing or a plan: a stable code,
// how grave it is, where, how often, and what to change.
//
// Codes and severities are data that programs match on and are never
// translated. The two hints come from the catalogue in this package, one for
// the person who drew and one for the technician.
package finding

import "maps"

// Severity orders findings by what they stop.
type Severity string

// The severities. A plan with a Block is refused, one with an Ask waits for an
// answer; Warn and Mended let it go on.
const (
	Block  Severity = "block"
	Ask    Severity = "ask"
	Warn   Severity = "warn"
	Mended Severity = "mended"
)

// Code names a kind of fault, in snake case.
type Code string

// Finding is one fault, or one mend that was made.
type Finding struct {
	Code           Code     `json:"code"`
	Severity       Severity `json:"severity"`
	Count          int      `json:"count"`            // how many times, at least 1
	Places         []Place  `json:"places,omitempty"` // the first MaxPlaces of them
	Hint           string   `json:"hint"`             // for the person who drew
	TechnicianHint string   `json:"technician_hint"`
	Values         Values   `json:"values,omitempty"` // the numbers and names in the hints
	Mend           *Mend    `json:"mend,omitempty"`
	// Number is where it stands in the list of a drawing's or a plan's findings,
	// from 1; pictures mark it by that. 0: it is in no list yet.
	Number int `json:"number,omitempty"`
}

// Number numbers findings on from first, in place, and returns the number after
// the last.
func Number(all []Finding, first int) int {
	for i := range all {
		all[i].Number = first + i
	}
	return first + len(all)
}

// Mend is a reversible repair. A request can switch it off by its ID.
type Mend struct {
	ID      string `json:"id"`
	Applied bool   `json:"applied"`
	Effect  string `json:"effect"` // what it changed, or would change
}

// New returns a finding with the severity and hints of the catalogue, its
// placeholders filled from values. It panics on a code the catalogue lacks,
// which is a fault of the program.
func New(code Code, count int, values Values, places ...Place) Finding {
	e, ok := catalogue[code]
	if !ok {
		panic("finding: code without a catalogue entry: " + string(code))
	}
	if len(places) > MaxPlaces {
		places = places[:MaxPlaces]
	}
	f := Finding{Code: code, Severity: e.severity, Count: count, Places: places, Values: values}
	f.Hint, f.TechnicianHint = f.Fill(e.hint), f.Fill(e.technician)
	return f
}

// Fill returns text with its placeholders filled from f's values; {count} is
// always there.
func (f Finding) Fill(text string) string {
	all := Values{"count": Int(f.Count)}
	maps.Copy(all, f.Values)
	return Fill(text, all)
}

// As returns f with another severity, for faults that weigh differently by
// material or by what the caller declared.
func (f Finding) As(s Severity) Finding {
	f.Severity = s
	return f
}

// WithMend returns f carrying the mend m.
func (f Finding) WithMend(m Mend) Finding {
	f.Mend = &m
	return f
}

// Worst returns the gravest severity in fs, Mended for none.
func Worst(fs []Finding) Severity {
	rank := map[Severity]int{Mended: 0, Warn: 1, Ask: 2, Block: 3}
	worst := Mended
	for _, f := range fs {
		if rank[f.Severity] > rank[worst] {
			worst = f.Severity
		}
	}
	return worst
}
