package view

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// fetch lists what is brought to the machine for a load.
func (s *sheet) fetch(load int) {
	r, l := s.about.Request, &s.view.Layout.Loads[load]
	s.heading(leftWidth, "Fetch")
	amount := "1 sheet"
	if r.Stock.Form == workshop.Roll {
		amount = cutOff(l.LengthMM) + " mm of it"
	} else if n := len(l.Sheets); n > 1 {
		amount = fmt.Sprintf("%d sheets", n)
	}
	s.fact(leftWidth, "Stock", legible(r.Stock.Name, r.Stock.ID)+": "+amount)
	s.panel(load)
	film(s)
	s.fact(leftWidth, "Hold", holdText(r.Stock, l.MatID))
	s.fact(leftWidth, "Machine", legible(r.Machine.Name, r.Machine.ID))
	s.fact(leftWidth, "Tools", tools(s.view.Passes.Loads[load].Passes))
	if u := &s.view.Layout.Usage; u.TapeM > 0 {
		s.fact(leftWidth, "Tape", tapeText(u)+", "+string(u.TapeTack)+" tack"+cmp.Or(s.forAll(), s.about.forStock()))
	}
	s.fact(leftWidth, "File", fmt.Sprintf("load %d%s: %s", max(load+1, s.about.Load), s.fromPlan(), filesText(s.view.Passes)))
	if e := s.view.Estimate; e != nil {
		s.fact(leftWidth, "Time", "cutter "+minutesText(e.CutterMin)+", bench "+minutesText(e.BenchMin)+s.forAll())
		if len(e.Loads) > 1 {
			l := &e.Loads[load]
			s.fact(leftWidth, "", "this load: cutter "+minutesText(l.Cutter())+", bench "+minutesText(l.Bench))
		}
	}
}

// fromPlan says where a file is found, where the sheet has a code that leads there.
func (s *sheet) fromPlan() string {
	if s.about.Link == "" {
		return ""
	}
	return ", by the code above"
}

// forAll says that an amount is that of all loads, where there are several.
func (s *sheet) forAll() string {
	if len(s.view.Passes.Loads) > 1 {
		return ", for all loads"
	}
	return ""
}

// forStock says the same of a load of a class, which stands on its sheet alone.
func (a About) forStock() string {
	if a.Load > 0 {
		return ", for all loads of this stock"
	}
	return ""
}

func holdText(s workshop.Stock, mat string) string {
	if s.Hold != workshop.Mat {
		return "straight in the rollers, no mat"
	}
	if mat != "" {
		return fmt.Sprintf("%s, a mat of %s tack", mat, s.MatTack)
	}
	return fmt.Sprintf("a mat of %s tack", s.MatTack)
}

// longRunMM is the length of a run from which it is fed out and back first.
const longRunMM = 1000

// place says how a load is put into the machine.
func (s *sheet) place(load int) {
	stock, l := s.about.Request.Stock, &s.view.Layout.Loads[load]
	s.heading(leftWidth, "Load")
	if stock.Hold == workshop.Rollers {
		s.tick(leftWidth, "Loading edge first, square, both rollers on it, slack off, clear behind.")
		if l.LengthMM > longRunMM {
			s.tick(leftWidth, "Feed the whole run out and back dry. Off by more than 1 mm a metre: load again.")
		}
	} else {
		s.tick(leftWidth, "Square on a clean mat as pictured, pressed flat, loading edge in first.")
	}
	switch {
	case stock.Family == workshop.HeatFilm:
		s.tick(leftWidth, "The film lies up, its carrier down.")
	case stock.Liner:
		s.tick(leftWidth, "The film lies up, its liner down.")
	}
	if s.view.Layout.Mirrored {
		s.tick(leftWidth, "It is cut mirrored: letters read backwards on the screen and on the stock.")
	}
	if fold := foldText(OfPasses(s.view.Passes).Passes, s.view.Layout.Mirrored); fold != "" {
		s.tick(leftWidth, fold+".")
	}
}

// test says what a good test cut looks like.
func (s *sheet) test(load int) {
	s.heading(leftWidth, "Test, in a corner of the waste")
	all := s.view.Passes.Loads[load].Passes
	if p := tested(all); p != nil {
		set, and := fmt.Sprintf("Put in: %s. Set as for pass %d", p.Tool(), p.Number), ";"
		for _, bar := range []struct {
			name string
			of   func(passes.Pass) bool
		}{{"fold", isScore}, {"tear", isPerforation}} {
			if at := slices.IndexFunc(all, bar.of); at >= 0 && !s.about.Request.Stock.Liner {
				set += fmt.Sprintf("%s %s as %d", and, bar.name, all[at].Number)
				and = ","
			}
		}
		s.tick(leftWidth, set+".")
	}
	bars := bars{slices.ContainsFunc(all, isScore), slices.ContainsFunc(all, isPerforation)}
	s.tick(leftWidth, testText(s.about.Request.Stock.Liner, bars))
}

func isScore(p passes.Pass) bool       { return p.Operation == artwork.Score }
func isPerforation(p passes.Pass) bool { return p.Operation == artwork.Perforate }

// tested returns the pass that a test cut is made for, the last that cuts: its blade has
// to be in before anything else. nil: none cuts.
func tested(all []passes.Pass) *passes.Pass {
	for i := len(all) - 1; i >= 0; i-- {
		if op := all[i].Operation; op == artwork.ThroughCut || op == artwork.KissCut {
			return &all[i]
		}
	}
	return nil
}

// unload says how the work comes out of the machine.
func (s *sheet) unload() {
	s.heading(column, "Unload")
	s.tick(column, "Before anything is moved lift one corner in the waste. Not through: cut again in place.")
	switch stock := s.about.Request.Stock; {
	case stock.Hold == workshop.Mat && stock.Liner:
		s.tick(column, "Lift the film with its liner off the mat.")
	case stock.Hold == workshop.Mat:
		s.tick(column, "Turn mat and work over and peel the mat off the work, not the work off the mat.")
	case stock.Form == workshop.Roll:
		s.tick(column, "Cut the run off the roll behind the last piece.")
	default:
		s.tick(column, "Release the rollers, and take the sheet out flat.")
	}
}

// peel says what comes out of a copy, and in which order.
func (s *sheet) peel(width float64) {
	m := s.m
	title := "Push out"
	switch {
	case peels(s.view.Passes):
		title = "Peel"
	case len(m.Steps) == 0:
		title = "Take off"
	}
	switch {
	case slices.Contains(s.apart, m):
		title += ", by the map on the next page"
	case len(m.Steps) == 0:
	case s.about.Request.Copies > 1 && !s.view.Layout.Shared():
		title += ", map of one copy"
	default:
		title += ", by the map"
	}
	s.heading(width, title)
	if risk := m.Risk; risk != "" {
		s.tick(width, risk)
	}
	for i := 0; i < len(m.Steps); {
		from := i
		for i++; i < len(m.Steps) && m.Steps[i].Hint == ""; i++ {
		}
		which := fmt.Sprintf("Step %d: ", from+1)
		if i > from+1 {
			which = "Steps " + number.Through(from+1, i) + ": "
		}
		s.tick(width, which+m.Steps[from].Hint)
	}
	if len(m.Steps) == 0 {
		s.tick(width, "Nothing has to come out of the pieces. Take them off the sheet.")
	}
}

// peels reports whether film is peeled off a liner.
func peels(p *passes.Plan) bool {
	for _, l := range p.Loads {
		for i := range l.Passes {
			if l.Passes[i].Operation == artwork.KissCut {
				return true
			}
		}
	}
	return false
}

// carry says how weeded film gets to its place: on tape, or under the press by what
// its data sheet says; what nobody entered is left blank to be written in.
func (s *sheet) carry(width float64) {
	stock := s.about.Request.Stock
	switch {
	case stock.Family == workshop.HeatFilm:
		s.heading(width, "Press, by the film's data sheet")
		around(s, width, "it is pressed on too")
		p := workshop.Press{}
		if stock.Press != nil {
			p = *stock.Press
		}
		s.fact(width, "Heat", filled(p.TemperatureC)+" °C for "+filled(p.Seconds)+" s")
		s.fact(width, "Pressure", blank(p.Pressure))
		peel := blank(string(p.Peel))
		if p.Peel == "" {
			peel = "□ hot   □ warm   □ cold"
		}
		s.fact(width, "Peel", peel)
	case s.view.Layout.Usage.TapeM > 0:
		s.heading(width, "Tape")
		s.tick(width, fmt.Sprintf("Tape of %s tack over the work, rubbed down from the middle out.", s.view.Layout.Usage.TapeTack))
		if n := s.view.Layout.Usage; n.TapeStrips > n.TapePieces {
			s.tick(width, "Strips overlap by 10 mm.")
		}
		s.tick(width, "On the place: clean it, try a patch, hinge, squeegee, pull the tape back flat.")
	}
}

// around says of heat film that what lies round the work comes off first, where that is no step of
// the map, and what becomes of it otherwise.
func around(s *sheet, width float64, otherwise string) {
	if s.m.Purpose != weeding.Stencil && !s.m.Bordered() {
		s.tick(width, "First peel off the film round the work, or "+otherwise+".")
	}
}

// filled writes a number of a data sheet, or room to write it.
func filled(v float64) string {
	if v == 0 {
		return "_____"
	}
	return short(v)
}

func blank(text string) string {
	if text == "" {
		return "_______________"
	}
	return text
}

// handOver says what leaves the bench, and what is written down for the next time.
func (s *sheet) handOver(load int, width float64) {
	s.heading(width, "Hand over")
	s.tick(width, s.view.handed(load)+": counted, and one measured, longer side: _______ mm.")
	s.tick(width, "Real time: cutter _____ min, bench _____ min. Spoiled: _____")
	if s.about.Link != "" && s.about.Load == 0 {
		s.tick(width, "Length and minutes told by phone, with the code at the top.")
	}
	if o := s.view.Layout.Usage.Offcut; o != nil && load == len(s.view.Layout.Loads)-1 {
		s.tick(width, fmt.Sprintf("Offcut of %s × %s mm marked and put back.", short(math.Floor(o.Width())), short(math.Floor(o.Height()))))
	}
	back := "Blade capped, tools back in their places."
	if s.about.Request.Stock.Hold == workshop.Mat {
		back = "Blade capped, tools and mat back in their places."
	}
	s.tick(width, back)
}

// handed says what of a load leaves the bench.
func (r *Results) handed(load int) string {
	l := &r.Layout.Loads[load]
	n := len(l.Places)
	if n > 0 && !l.Numbered() {
		return finding.Fill("{n} {n:copy|copies}, each with its code", finding.Values{"n": finding.Int(n)})
	}
	text := finding.Fill("{n} {n:copy|copies}", finding.Values{"n": finding.Int(max(n, len(l.Placements)))})
	if r.Size == nil {
		return text
	}
	if z := OfSize(r.Size).Size; z != nil {
		if a := r.Artwork; a != nil {
			if d := OfArtwork(a); d.Made != nil {
				z = z.made(&d)
			}
		}
		text += fmt.Sprintf(" of %s × %s mm", short(z.WidthMM), short(z.HeightMM))
	}
	return text
}

// notes lists what is known of the drawing and was answered, for the foot of a page.
func (s *sheet) notes() []string {
	var out []string
	all, _ := Outcome(s.view.parts)
	slices.SortStableFunc(all, func(a, b finding.Finding) int { return mendedLast(a) - mendedLast(b) })
	for _, f := range all {
		hint := f.TechnicianHint
		if hint == "" {
			hint = f.Hint
		}
		out = append(out, fmt.Sprintf("%s %d: %s", weight(&f), f.Number, hint))
	}
	for _, id := range sortedIDs(s.about.Request.Replies) {
		r := s.about.Request.Replies[id]
		_, about, _ := strings.Cut(id, "/")
		text := "asked, " + words.Replace(about) + ": " + words.Replace(r.Answer)
		if r.MM > 0 {
			text += ", " + short(r.MM) + " mm"
		}
		if r.Reason != "" {
			text += ", because: " + r.Reason
		}
		out = append(out, text)
	}
	return out
}

// words makes words of the names of questions and answers.
var words = strings.NewReplacer("_", " ", "/", ", ", ":", ", ", ".", ", ")

// mendedLast orders findings by whether there is still something to look at.
func mendedLast(f finding.Finding) int {
	if f.Severity == finding.Mended {
		return 1
	}
	return 0
}
