package class

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"knifedesk/geometry/number"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// Stock is what is fetched of one stock for the loads that are not done.
type Stock struct {
	ID, Name    string
	Loads       int
	Sheets      int
	RollMM      float64
	SpareSheets int
	SpareRollMM float64
}

// Stocks adds up what is fetched of each stock, in the order of the groups.
func (s *Set) Stocks() []Stock {
	var all []Stock
	at := map[string]int{}
	for _, g := range s.Groups {
		if _, ok := at[g.Stock]; !ok {
			at[g.Stock] = len(all)
			all = append(all, Stock{ID: g.Stock, Name: g.StockName})
		}
	}
	for _, l := range s.Loads {
		if l.Done != nil {
			continue
		}
		one := &all[at[l.Stock]]
		one.Loads++
		one.Sheets += l.Sheets
		one.RollMM += l.RollMM
	}
	for i := range all {
		all[i].SpareSheets, all[i].SpareRollMM = s.Spares.Of(all[i].Sheets, all[i].RollMM)
	}
	return all
}

// writeFetch writes what is fetched, and what lies on each load.
func (s *Set) writeFetch(line writeLine) {
	for _, one := range s.Stocks() {
		switch {
		case one.Sheets > 0:
			line("fetch", "%s of %s, %d of them spare", finding.Fill("{n} {n:sheet|sheets}", finding.Values{"n": finding.Int(one.Sheets + one.SpareSheets)}), one.Name, one.SpareSheets)
		case one.RollMM > 0:
			line("fetch", "%s mm of %s, %s of them spare", number.People(one.RollMM+one.SpareRollMM), one.Name, number.People(one.SpareRollMM))
		}
	}
	for _, g := range s.Groups {
		if g.Nested != nil {
			line("nesting", "%s: %s", g.StockName, g.Nested.Means)
		}
	}
	for _, l := range s.Loads {
		who := make([]string, len(l.Placed))
		for i, p := range l.Placed {
			who[i] = s.nameOf(p.Code)
			if p.Copies > 1 {
				who[i] += fmt.Sprintf(" ×%d", p.Copies)
			}
		}
		line(fmt.Sprintf("load %d", l.Number), "%s: %s", l.what(), strings.Join(who, ", "))
	}
}

// what says what a load is laid on, and whether it was handed out.
func (l *Load) what() string {
	text := finding.Fill("{n} {n:sheet|sheets}", finding.Values{"n": finding.Int(l.Sheets)})
	if l.Form == workshop.Roll {
		text = number.People(l.RollMM) + " mm"
	}
	text += " of " + l.StockName
	switch {
	case l.Done != nil:
		text += ", done"
	case l.Cut != nil:
		text += ", cut"
	case l.Issued != nil:
		text += ", handed out"
	}
	return text
}

// nameOf is the reference of a member by its code; the code itself where it was erased.
func (s *Set) nameOf(code string) string {
	for _, m := range s.Members {
		if m.Code == code {
			return code + " " + m.Reference
		}
	}
	return code
}

// writeSchedule writes when each load is cut and peeled.
func (s *Set) writeSchedule(line writeLine) {
	plan := s.Plan
	if plan == nil || len(s.Loads) == 0 {
		return
	}
	line("session", "%.0f min, of which %.0f to cut and peel after a briefing of %.0f", s.Session.Minutes, plan.Usable, s.Session.Briefing)
	for _, r := range plan.Runs {
		line("", "load %s: prepare %s, cut %s, peel from %s to %s at place %d", list(Numbers([]string{r.Code})), s.at(r.Prepare), s.at(r.Cut), s.at(r.Peel), s.at(r.Done), r.Place)
	}
	if len(plan.Over) > 0 {
		line("left over", "load %s: not in this session any more", list(Numbers(plan.Over)))
	}
	if len(plan.Long) > 0 {
		line("too long", "load %s: longer than the session by itself; plan a longer one, or fewer copies", list(Numbers(plan.Long)))
	}
}

// at tells a time of the session, given in minutes from the end of the briefing.
func (s *Set) at(minutes float64) string {
	after := minutes + s.Session.Briefing
	if s.Session.Start == nil {
		return fmt.Sprintf("%.0f min after the start", after)
	}
	// To the next whole minute: nobody has peeled before that.
	return s.Session.Start.Add(time.Duration(after * float64(time.Minute))).Add(time.Minute - 1).Truncate(time.Minute).Format("15:04")
}

// mostSplit is how many parts of the cost the text lists.
const mostSplit = 8

// writeCost writes what all loads cost, and the part of each member.
func (s *Set) writeCost(line writeLine) {
	if len(s.Loads) == 0 {
		return
	}
	var parts []string
	var costs []int64
	for _, m := range s.Members {
		if m.CostMinor != 0 {
			parts = append(parts, m.Reference+" "+s.money(m.CostMinor, false))
			costs = append(costs, m.CostMinor)
		}
	}
	split := strings.Join(parts, ", ")
	if len(parts) > mostSplit {
		split = fmt.Sprintf("%s to %s each, as the table of members lists", s.money(slices.Min(costs), false), s.money(slices.Max(costs), false))
	}
	line("cost", "%s, by area: %s", s.money(s.TotalMinor(), true), split)
}

// TotalMinor is the cost of all loads.
func (s *Set) TotalMinor() int64 {
	sum := int64(0)
	for _, l := range s.Loads {
		sum += l.CostMinor
	}
	return sum
}

// TotalText is TotalMinor as people read it.
func (s *Set) TotalText() string { return s.money(s.TotalMinor(), true) }

// money writes an amount in the currency of the loads.
func (s *Set) money(minor int64, currency bool) string {
	if len(s.Loads) == 0 {
		return ""
	}
	digits := s.Loads[0].MinorDigits
	text := decimal.New(minor, -digits).StringFixed(digits)
	if currency {
		text += " " + s.Loads[0].Currency
	}
	return text
}
