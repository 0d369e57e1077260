package view

import (
	"fmt"
	"slices"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Text writes a plan as a summary that a person reads in a shell.
func Text(status plan.Status, p *Plan) string {
	var b strings.Builder
	line := func(label, format string, args ...any) {
		fmt.Fprintf(&b, "%-10s %s\n", label, fmt.Sprintf(format, args...))
	}
	line("status", "%s", status)
	line("request", "%d × %s on %s", p.Request.Copies, p.Request.Purpose, p.Request.StockName)
	if s := p.Size; s != nil {
		line(size.Name, "%s × %s mm", short(s.WidthMM), short(s.HeightMM))
		line("", "%s", s.Why)
	}
	writeQuestions(line, p.Questions)
	writeWork(line, p)
	writeMoney(line, p.Estimate)
	open := map[finding.Code]bool{}
	for _, q := range ask.All(p.Questions) {
		open[q.Code] = true
	}
	for _, f := range p.Findings {
		if f.Severity == finding.Ask && len(p.Questions) == 0 {
			f = f.As(finding.Warn) // the plan ended before it could be asked
		}
		if open[f.Code] { // it is no time yet to change the drawing
			f.Hint = "Please answer the question about it, above."
		}
		line(severity(f.Severity), "%d. %s", f.Number, f.Hint)
		if where := whereText(f.Places); where != "" {
			line("", "where: %s", where)
		}
	}
	b.WriteString("\n")
	for _, c := range Cautions(p.Request.Family) {
		line("caution", "%s", c)
	}
	return b.String()
}

type writeLine func(label, format string, args ...any)

func writeWork(line writeLine, v *Plan) {
	if w := v.Weeding; w != nil {
		line(weeding.Name, "%s", weedingText(w, v.Request.Purpose == string(weeding.Stencil)))
	}
	if v.Weeding != nil && v.Weeding.Risk != "" {
		line("risk", "%s", v.Weeding.Risk)
	}
	if v.Layout != nil && v.Layout.Loads > 0 {
		u, rest := v.Usage, "waste"
		if v.Request.Purpose == string(weeding.Stencil) {
			rest = "openings and offcuts"
		}
		if v.Request.Form == workshop.Roll {
			line("stock", "%s mm of roll, %.0f %% of it %s", short(u.RollMM), 100*u.ProcessWaste, rest)
		} else {
			line("stock", "%s, %.0f %% %s", finding.Fill("{n} {n:sheet|sheets}", finding.Values{"n": finding.Int(u.Sheets)}), 100*u.ProcessWaste, rest)
		}
		if n := v.Layout.Nested; n != nil {
			line("nesting", "%s", n.Means)
		}
		if u.TapeM > 0 {
			line("tape", "%s, %s tack", tapeText(u), u.TapeTack)
		}
	}
	if v.Layout != nil {
		if fold := foldText(v.Passes, v.Layout.Mirrored); fold != "" {
			line("fold", "%s.", fold)
		}
	}
	for _, p := range v.Passes {
		note := ""
		if !p.Tested {
			note = " (start point: make a test cut)"
		}
		line("pass", "load %d, %d: %s, %s gf, %s mm/s, %d×, %s mm%s",
			p.Load, p.Number, p.Operation.Words(), short(p.ForceGF), short(p.SpeedMMS), p.Passes, short(p.CutMM), note)
	}
}

// foldText says which side lies up where folds are scored, and which way to fold;
// "" where none are. A knife cuts into the side that lies up, and a fold closed over
// its own score cracks (common practice, no source).
func foldText(all []Pass, mirrored bool) string {
	side := "the side you drew"
	if mirrored {
		side = "the back"
	}
	for _, p := range all {
		if p.Operation == artwork.Score {
			return "Folds: " + side + " lies up and is scored; fold away from a knife score, so that it lies on the outside"
		}
	}
	return ""
}

// tapeText says how much transfer tape is needed, and in how many pieces.
func tapeText(u *layout.Usage) string {
	text := finding.Fill("{m} m of tape in {n} {n:piece|pieces}", finding.Values{"m": finding.Text(short(u.TapeM)), "n": finding.Int(u.TapePieces)})
	if u.TapeStrips > u.TapePieces {
		text += fmt.Sprintf(", of %d strips that overlap", u.TapeStrips)
	}
	return text
}

// weedingText says how much stays and comes out, without what there is none of.
func weedingText(w *Weeding, stencil bool) string {
	list := func(parts ...countOf) string {
		var all []string
		for _, p := range parts {
			if p.n > 0 {
				all = append(all, finding.Fill(p.text, finding.Values{"n": finding.Int(p.n)}))
			}
		}
		return strings.Join(all, ", ")
	}
	extras := list(countOf{w.ReliefLines, "{n} relief {n:line|lines}"}, countOf{w.Bridges, "{n} {n:bridge|bridges}"}, countOf{w.Fragile, "{n} fragile"})
	if stencil {
		return strings.Join(slices.DeleteFunc([]string{list(countOf{w.Counters + w.Grounds, "{n} {n:opening comes|openings come} out of the sheet"}), extras},
			func(part string) bool { return part == "" }), "; ")
	}
	return strings.Join(slices.DeleteFunc([]string{
		list(countOf{w.Kept, "{n} {n:piece stays|pieces stay}"}),
		list(countOf{w.Counters, "{n} {n:counter comes|counters come} out"}, countOf{w.Grounds, "{n} {n:ground comes|grounds come} out"}),
		extras,
	}, func(part string) bool { return part == "" }), "; ")
}

// countOf is a number with the text for it.
type countOf struct {
	n    int
	text string
}

func writeMoney(line writeLine, e *estimate.Estimate) {
	if e == nil {
		return
	}
	line("cutter", "%.1f min (%.1f to %.1f), book %d min", e.CutterMin.Likely, e.CutterMin.Low, e.CutterMin.High, e.CutterSlotMin)
	line("bench", "%.1f min (%.1f to %.1f), book %d min", e.BenchMin.Likely, e.BenchMin.Low, e.BenchMin.High, e.BenchSlotMin)
	line("price", "%s, valid for %d days (price list %s, version %d)", e.TotalText, e.ValidDays, e.PriceList, e.PriceListVersion)
}

func severity(s finding.Severity) string {
	return map[finding.Severity]string{
		finding.Block: "stop", finding.Ask: "asked", finding.Warn: "look", finding.Mended: "mended",
	}[s]
}

// short writes a number as people read it.
func short(v float64) string { return number.People(v) }
