package api

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"knifedesk/jobs/class"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/queue"
)

// addLoads adds to a set its loads, what they cost each member, and who lies on none.
func addLoads(s *class.Set, v *queue.ClassView) {
	at := map[string]*class.Member{}
	for i := range s.Members {
		at[s.Members[i].Code] = &s.Members[i]
	}
	for _, g := range v.Groups {
		if g.Digest == nil {
			continue
		}
		s.Groups = append(s.Groups, *g.Digest)
		for _, code := range g.Digest.Left {
			if m := at[code]; m != nil && g.Current {
				m.Left = true
			}
		}
	}
	for _, l := range v.Loads {
		d := l.Group.Digest
		s.Loads = append(s.Loads, class.Load{
			Number: l.Number, GroupLoad: l.Load, Stock: d.Stock, StockName: d.StockName, Form: d.Form, Machine: d.Machine, Mats: d.Mats,
			Currency: d.Currency, MinorDigits: d.MinorDigits, Issued: l.Issued, Cut: l.Cut, Done: l.Done,
		})
		for _, p := range l.Load.Placed {
			if m := at[p.Code]; m != nil {
				m.CostMinor += p.CostMinor
			}
		}
	}
}

func showLoads(s *class.Set, base string) []ClassLoad {
	return eachAt(s.Loads, func(l *class.Load) ClassLoad {
		at := fmt.Sprintf("%s/loads/%d/", base, l.Number)
		out := ClassLoad{
			Number: l.Number, State: ClassLoadStateLaid, StockID: l.Stock, MachineID: l.Machine, Sheets: l.Sheets, RollMM: l.RollMM,
			Minutes: ClassMinutes{Prepare: l.Time.Prepare.High, Cut: l.Time.Cut.High, Unload: l.Time.Unload.High, Bench: l.Time.Bench.High}, CostMinor: l.CostMinor,
			IssuedAt: l.Issued, CutAt: l.Cut, DoneAt: l.Done, Links: map[string]string{
				"preview": at + "layout.svg", "weeding": at + "weeding.svg", "passes_preview": at + "passes.svg", "passes": at + "passes.txt",
				"worksheet": at + "worksheet.pdf", "dxf": at + "cut.dxf", "svg": at + "cut.svg", "plt": at + "cut.plt",
			},
		}
		switch {
		case l.Done != nil:
			out.State = ClassLoadStateDone
		case l.Cut != nil:
			out.State = ClassLoadStateCut
		case l.Issued != nil:
			out.State = ClassLoadStateIssued
		}
		out.Members = each(l.Placed, func(p class.Placed) ClassPlaced {
			placed := ClassPlaced{Code: p.Code, Copies: p.Copies, CostMinor: p.CostMinor}
			if i := slices.IndexFunc(s.Members, func(m class.Member) bool { return m.Code == p.Code }); i >= 0 {
				placed.Reference = s.Members[i].Reference
			}
			return placed
		})
		return out
	})
}

// showStocks shows what is fetched of each stock, with what the groups on it say.
func showStocks(s *class.Set, groups []*queue.ClassGroup) []ClassStock {
	out := each(s.Stocks(), func(one class.Stock) ClassStock {
		return ClassStock{
			StockID: one.ID, StockName: one.Name, Loads: one.Loads, Sheets: one.Sheets, RollMM: one.RollMM,
			SpareSheets: one.SpareSheets, SpareRollMM: one.SpareRollMM,
		}
	})
	for _, g := range groups {
		if !g.Current {
			continue
		}
		at := slices.IndexFunc(out, func(one ClassStock) bool { return g.Digest != nil && one.StockID == g.Digest.Stock })
		switch {
		case at >= 0:
			if n := g.Digest.Nested; n != nil {
				out[at].Nested = append(out[at].Nested, showNested(*n))
			}
			out[at].Findings = append(out[at].Findings, each(g.Digest.Findings, func(f finding.Finding) ClassChange {
				return ClassChange{Code: string(f.Code), Severity: Severity(f.Severity), Text: f.TechnicianHint}
			})...)
		case g.Failure != "":
			id := queue.StockOf(g.ClassGroup)
			out = append(out, ClassStock{StockID: id, StockName: id, Problem: failureText(g.Failure, "")})
		}
	}
	return out
}

func showSession(s class.Session) ClassSession {
	return ClassSession{Minutes: s.Minutes, StartAt: s.Start, Places: s.Places, BriefingMin: &s.Briefing, ClearingMin: &s.Clearing}
}

func showSpares(s class.Spares) ClassSpares {
	return ClassSpares{Percent: s.Percent, LeastSheets: s.LeastSheets}
}

// readSession fills in what is common practice.
func readSession(s ClassSession) class.Session {
	out := class.Session{Minutes: s.Minutes, Start: s.StartAt, Places: max(s.Places, 1), Briefing: class.Briefing, Clearing: class.Clearing}
	if s.BriefingMin != nil {
		out.Briefing = *s.BriefingMin
	}
	if s.ClearingMin != nil {
		out.Clearing = *s.ClearingMin
	}
	return out
}

// showSchedule shows when each load is cut and peeled, from the begin of the session.
func showSchedule(s *class.Set) *ClassSchedule {
	p := s.Plan
	if p == nil {
		return nil
	}
	from := s.Session.Briefing
	out := &ClassSchedule{UsableMin: p.Usable, Runs: []ClassRun{}, Over: class.Numbers(p.Over), TooLong: class.Numbers(p.Long)}
	for _, r := range p.Runs {
		load, _ := strconv.Atoi(r.Code)
		out.Runs = append(out.Runs, ClassRun{
			Load: load, PrepareMin: from + r.Prepare, CutMin: from + r.Cut, OutMin: from + r.Out, Place: r.Place, PeelMin: from + r.Peel, DoneMin: from + r.Done,
		})
	}
	if len(p.Runs) > 0 {
		out.LastPeelMin = from + p.LastPeel
		if s.Session.Start != nil {
			at := s.Session.Start.Add(time.Duration(out.LastPeelMin * float64(time.Minute)))
			out.LastPeelAt = &at
		}
	}
	return out
}
