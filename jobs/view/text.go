package view

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Text writes a plan as a summary that a person reads in a shell, in the order in
// which a person acts. Answer says how an answer to a question is given there; nil:
// it is not said.
func Text(status plan.Status, p *Plan, answer func(question string, a *ask.Answer) string) string {
	var b strings.Builder
	line := func(label, format string, args ...any) {
		fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("%-10s %s", label, fmt.Sprintf(format, args...)), " "))
	}
	line("status", "%s", status)
	writeQuestions(line, p.Questions, answer)
	line("request", "%s × %s on %s", howMany(p.Request), p.Request.Purpose, p.Request.StockName)
	if s := p.Size; s != nil && (s.WidthMM > 0 || s.HeightMM > 0) {
		line(size.Name, "%s × %s mm", short(s.WidthMM), short(s.HeightMM))
	}
	writeStack(line, p.Stack)
	if p.Layout != nil && p.Layout.Mirrored {
		line("mirrored", "It is cut mirrored: letters read backwards on the screen and on the stock.")
	}
	writeFindings(line, p, toDo)
	writeFetch(line, p)
	writePasses(line, p)
	writeAfter(line, p)
	writeMoney(line, p.Estimate)
	if p.Size != nil {
		line("evidence", "%s", p.Size.Why)
	}
	writeFindings(line, p, isAnswered)
	writeFindings(line, p, isMended)
	b.WriteString("\n")
	for _, c := range Cautions(p.Request.Family) {
		line("caution", "%s", c)
	}
	return b.String()
}

// howMany says how many copies are made, or which pieces are cut again.
func howMany(r Request) string {
	if len(r.Again) == 0 {
		return strconv.Itoa(r.Copies)
	}
	var parts []string
	for _, a := range r.Again {
		if a.Piece == 0 {
			parts = append(parts, fmt.Sprintf("%d whole", a.Copies))
			continue
		}
		parts = append(parts, fmt.Sprintf("%d of piece %d", a.Copies, a.Piece))
	}
	return "again " + strings.Join(parts, ", ")
}

type writeLine func(label, format string, args ...any)

// What becomes of findings: what is left to change, to answer or to look at stands before
// what a person has decided, and that before what was put right.
func toDo(f *finding.Finding) bool       { return !isAnswered(f) && !isMended(f) }
func isAnswered(f *finding.Finding) bool { return f.IsAnswered() }
func isMended(f *finding.Finding) bool   { return f.Severity == finding.Mended }

// writeFindings writes the findings that are of a kind.
func writeFindings(line writeLine, p *Plan, of func(*finding.Finding) bool) {
	open := map[finding.Code]bool{}
	for _, q := range ask.All(p.Questions) {
		open[q.Code] = true
	}
	first := slices.Clone(p.Findings)
	slices.SortStableFunc(first, func(a, b finding.Finding) int { return stopsFirst(a) - stopsFirst(b) })
	for _, f := range first {
		if !of(&f) {
			continue
		}
		if f.Severity == finding.Ask && len(p.Questions) == 0 {
			f = f.As(finding.Warn) // the plan ended before it could be asked
		}
		if open[f.Code] && (f.Mend == nil || !f.Mend.Applied) { // it is no time yet to change the drawing
			f.Hint = "Please answer the question about it, above."
		}
		line(weight(&f), "%d. %s", f.Number, f.Hint)
		if where := Where(f.Places); where != "" {
			line("", "where: %s", where)
		}
	}
}

// stopsFirst orders findings by whether the plan ends with them.
func stopsFirst(f finding.Finding) int {
	if f.Severity == finding.Block {
		return 0
	}
	return 1
}

// writeFetch writes what is taken from the stores.
func writeFetch(line writeLine, v *Plan) {
	if v.Layout == nil || v.Layout.Loads == 0 {
		return
	}
	u, rest := v.Usage, "waste"
	if v.Request.Purpose == string(weeding.Stencil) {
		rest = "openings and offcuts"
	}
	text := finding.Fill("{n} {n:sheet|sheets}", finding.Values{"n": finding.Int(u.Sheets)})
	if v.Request.Form == workshop.Roll {
		text = cutOff(u.RollMM) + " mm of roll"
	}
	if share := math.Round(100 * u.ProcessWaste); share > 0 {
		text += fmt.Sprintf(", %.0f %% of it %s", share, rest)
	}
	line("stock", "%s", text)
	if n := v.Layout.Nested; n != nil {
		line("nesting", "%s", n.Means)
	}
	if u.TapeM > 0 {
		line("tape", "%s, %s tack", tapeText(u), u.TapeTack)
	}
}

// cutOff writes how much is cut off a roll in whole mm, rounded up: nobody measures tenths.
func cutOff(mm float64) string { return number.Fixed(math.Ceil(mm-1e-6), 0) }

// writePasses writes the test cut and what is set for each pass.
func writePasses(line writeLine, v *Plan) {
	if len(v.Passes) == 0 {
		return
	}
	liner, bars := false, bars{}
	for _, p := range v.Passes {
		liner = liner || p.Operation == artwork.KissCut
		bars.fold = bars.fold || p.Operation == artwork.Score
		bars.tear = bars.tear || p.Operation == artwork.Perforate
	}
	line("test", "%s", testText(liner, bars))
	if fold := foldText(v.Passes, v.Layout != nil && v.Layout.Mirrored); fold != "" {
		line("fold", "%s.", strings.TrimPrefix(fold, "Folds: "))
	}
	for _, p := range v.Passes {
		note := ""
		if p.Passes > 1 {
			note = fmt.Sprintf(", %d×", p.Passes)
		}
		switch {
		case p.Standing != nil:
			note += " (" + StandingText(*p.Standing) + ")"
		case !p.Tested:
			note += " (" + StandingText(trial.Standing{State: trial.Untested}) + ")"
		}
		if p.TestMark {
			note = ", a test mark" + note
		}
		line("pass", "load %d, %d: %s, %s gf, %s mm/s, %s%s%s",
			p.Load, p.Number, p.Operation.Words(), short(p.ForceGF), short(p.SpeedMMS), total(p.CutMM), passMinutes(v.Estimate, p), note)
	}
}

// passMinutes says what a pass takes, where it is known and a whole minute at least.
func passMinutes(e *estimate.Estimate, p Pass) string {
	if e == nil || p.Load > len(e.Loads) || p.Number > len(e.Loads[p.Load-1].Passes) {
		return ""
	}
	if m := e.Loads[p.Load-1].Passes[p.Number-1].Minutes; m.High >= 1 {
		return ", " + minutesText(m)
	}
	return ""
}

// bars are what a test cut has beside its half-moon: one to fold, one to tear.
type bars struct{ fold, tear bool }

// testText says what is cut for a test, to one who has never made one, and what a good one
// looks like.
func testText(liner bool, b bars) string {
	figure := "Cut a half-moon with a keyhole in it."
	switch {
	case liner: // on which nothing is folded or torn
	case b.fold && b.tear:
		figure = "Cut a half-moon with a keyhole, score a bar, perforate one."
	case b.fold:
		figure = "Cut a half-moon with a keyhole in it, and score a bar to fold."
	case b.tear:
		figure = "Cut a half-moon with a keyhole in it, and perforate a bar to tear."
	}
	return figure + " " + goodText(liner, b)
}

// goodText says what a good test cut looks like: on film the liner stays whole, and a
// material without one is cut through; only what is scored is folded.
func goodText(liner bool, b bars) string {
	if liner {
		return "The half-moon lifts, the keyhole stays, the liner is marked and not cut."
	}
	text := "The half-moon falls out without fibres, the keyhole stays"
	switch {
	case b.fold && b.tear:
		text += ", fold and tear are clean"
	case b.fold:
		text += ", the fold does not crack"
	case b.tear:
		text += ", the tear is clean"
	}
	return text + "."
}

// writeAfter writes what is done at the bench.
func writeAfter(line writeLine, v *Plan) {
	if w := v.Weeding; w != nil {
		if text := weedingText(w, v.Request.Purpose == string(weeding.Stencil), pushed(v)); text != "" {
			line(weeding.Name, "%s%s", text, eachCopy(v))
		}
		if w.Risk != "" {
			line("risk", "%s", w.Risk)
		}
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

// pushed reports whether what comes out is pushed out and not peeled off a liner: by what
// is cut, and before that is known by the material.
func pushed(v *Plan) bool {
	if len(v.Passes) == 0 {
		return slices.Contains([]workshop.Family{workshop.Paper, workshop.LightCard, workshop.HeavyCard, workshop.StencilSheet, workshop.MagneticSheet}, v.Request.Family)
	}
	through := func(p Pass) bool { return p.Operation == artwork.ThroughCut }
	kiss := func(p Pass) bool { return p.Operation == artwork.KissCut }
	return slices.ContainsFunc(v.Passes, through) && !slices.ContainsFunc(v.Passes, kiss)
}

// eachCopy says that counts are those of one copy, where several are made.
func eachCopy(v *Plan) string {
	if v.Request.Copies > 1 && len(v.Request.Again) == 0 {
		return ", of each copy"
	}
	return ""
}

// weedingText says how much stays and comes out, without what there is none of. What is
// pushed out of card is an opening, and no counter.
func weedingText(w *Weeding, stencil, pushed bool) string {
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
	if pushed {
		return strings.Join(slices.DeleteFunc([]string{
			list(countOf{w.Kept, "{n} {n:piece stays|pieces stay}"}),
			list(countOf{w.Counters + w.Grounds, "{n} {n:opening is|openings are} pushed out"}), extras,
		}, func(part string) bool { return part == "" }), "; ")
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
	for _, m := range []struct {
		label string
		min   estimate.Range
		slot  int
	}{{"cutter", e.CutterMin, e.CutterSlotMin}, {"bench", e.BenchMin, e.BenchSlotMin}} {
		if m.min.High > 0 {
			line(m.label, "%s, book %d min", minutesText(m.min), m.slot)
		}
	}
	for i := range e.Loads {
		if l := &e.Loads[i]; len(e.Loads) > 1 {
			line("", "load %d: cutter %s, bench %s", l.Number, minutesText(l.Cutter()), minutesText(l.Bench))
		}
	}
	if e.Calibration != "" {
		line("minutes", "counted by %s", e.Calibration)
	}
	line("price", "%s, valid for %d days (price list %s, version %d)", e.TotalText, e.ValidDays, e.PriceList, e.PriceListVersion)
	for _, c := range e.Cheaper {
		line("cheaper", "%s", c.Text)
	}
}

// total writes a length in whole mm, or in m from ten metres on, as the pictures do.
func total(mm float64) string {
	if mm >= 10_000 {
		return number.Fixed(mm/1000, 1) + " m"
	}
	return number.Fixed(mm, 0) + " mm"
}

// minutesText writes minutes in whole ones: nobody books less. A range of one is not said,
// nor is nought.
func minutesText(r estimate.Range) string {
	switch {
	case math.Round(r.High) == 0:
		return "under 1 min"
	case math.Round(r.Low) == 0:
		return fmt.Sprintf("up to %.0f min", r.High)
	case math.Round(r.Low) == math.Round(r.High):
		return fmt.Sprintf("%.0f min", r.Likely)
	}
	return fmt.Sprintf("%.0f min (%.0f to %.0f)", r.Likely, r.Low, r.High)
}

// weight says in a word what a finding wants of who reads it.
func weight(f *finding.Finding) string {
	if f.IsAnswered() {
		return "answered"
	}
	return map[finding.Severity]string{
		finding.Block: "stop", finding.Ask: "asked", finding.Warn: "look", finding.Mended: "mended",
	}[f.Severity]
}

// short writes a number as people read it.
func short(v float64) string { return number.People(v) }
