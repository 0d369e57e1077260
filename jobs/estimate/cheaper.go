package estimate

import (
	"strings"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// Cheaper is a small change by which the same order costs less, and what it saves of
// the material; minutes may become less too.
type Cheaper struct {
	Text  string `json:"text"` // "4 mm narrower: 3 side by side, saves 90 mm of film, 0.42 credit"
	Minor int64  `json:"saved_minor,omitempty"`
	layout.Saving
}

// cheaper prices what the layout found to save stock. What costs the same all the
// same, as where the least charge is due, is left out; without a price of the material
// the amounts alone are told.
func (e *Estimate) cheaper(in Input) {
	for _, s := range in.Savings {
		less := in
		less.Savings = nil
		less.Usage.RollMM -= s.RollMM
		less.Usage.Sheets -= s.Sheets
		c := Cheaper{Saving: s, Minor: e.TotalMinor - Make(less).TotalMinor}
		if priced := e.has(Material); priced && c.Minor <= 0 {
			continue
		}
		c.Text = e.told(&c, in.Stock)
		e.Cheaper = append(e.Cheaper, c)
	}
}

func (e *Estimate) has(code LineCode) bool {
	for _, l := range e.Lines {
		if l.Code == code {
			return true
		}
	}
	return false
}

// told says in a line what to change and what it saves.
func (e *Estimate) told(c *Cheaper, s workshop.Stock) string {
	values := finding.Values{
		"narrower": finding.Num(c.NarrowerMM), "shorter": finding.Num(c.ShorterMM), "fewer": finding.Int(c.Fewer), "across": finding.Int(c.Across),
		"sheets": finding.Int(c.Sheets), "roll": finding.Num(c.RollMM), "material": finding.Text(s.Family.Material()),
	}
	change := "{fewer} {fewer:copy|copies} less"
	switch {
	case c.NarrowerMM > 0:
		change = "{narrower} mm narrower"
	case c.ShorterMM > 0:
		change = "{shorter} mm less high"
	}
	if c.Fewer == 0 && c.Across > 1 {
		change += ": {across} side by side"
	}
	saves := []string{"saves {sheets} {sheets:sheet|sheets}"}
	if c.Sheets == 0 {
		saves[0] = "saves {roll} mm of {material}"
	}
	if c.Minor > 0 {
		saves = append(saves, decimal.New(c.Minor, -e.MinorDigits).StringFixed(e.MinorDigits)+" "+e.Currency)
	}
	return finding.Fill(change+", "+strings.Join(saves, ", "), values)
}
