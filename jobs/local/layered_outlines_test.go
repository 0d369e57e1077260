package local_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// How outlines of one film that have no fill are read, by areas worked out by hand: where
// they run over each other, or lie on filled shapes of their film, it is asked once, in
// the plan of either film, what was answered is what is kept, and nothing is asked again;
// what only touches, nests or was painted is not asked about.
func TestOutlinesOfOneFilm(t *testing.T) {
	const under = `<g fill="none" stroke="#1f4e79" stroke-width="0.1"><rect x="10" y="10" width="100" height="100"/></g>`
	lines := func(d string) string {
		return `<path fill="none" stroke="#ffffff" stroke-width="0.1" d="` + d + `"/>`
	}
	fill := func(d string) string { return `<path fill="#ffffff" d="` + d + `"/>` }
	square := func(x, y, side float64) string { return fmt.Sprintf("M%g %gh%gv%gh%gz", x, y, side, side, -side) }
	for name, c := range map[string]struct {
		white  string
		asked  string             // the question, about film 2; empty: none
		code   finding.Code       // that raised it
		answer map[string]float64 // what is kept then, in mm²; of none that is asked by ""
	}{
		"two that overlap":         {lines(square(20, 20, 20)) + lines(square(30, 30, 20)), "artwork/overlaps:2", finding.OutlinesCross, map[string]float64{"whole": 700, "holes": 600}},
		"one over itself":          {lines("M20 20h30v30h-30v-20h20v10h-30v-30h10z"), "artwork/overlaps:2", finding.OutlinesCross, map[string]float64{"whole": 1200, "holes": 1000}},
		"one like an eight":        {lines("M20 20h20v20h-10v-30h-10z"), "", "", map[string]float64{"": 300}},
		"an outline over a fill":   {fill(square(20, 20, 20)) + lines(square(30, 30, 20)), "artwork/overlaps:2", finding.OutlinesCross, map[string]float64{"whole": 700, "holes": 600}},
		"an outline on a fill":     {fill(square(20, 20, 20)) + lines(square(25, 25, 10)), "artwork/holes:2", finding.RegionsUnclear, map[string]float64{"holes": 300, "whole": 400}},
		"a fill in an outline":     {lines(square(20, 20, 20)) + fill(square(25, 25, 10)), "artwork/holes:2", finding.RegionsUnclear, map[string]float64{"holes": 300, "whole": 400}},
		"outlines that nest":       {lines(square(20, 20, 30)) + lines(square(25, 25, 20)) + lines(square(30, 30, 10)), "", "", map[string]float64{"": 600}},
		"outlines at a corner":     {lines(square(20, 20, 20)) + lines(square(40, 40, 20)), "", "", map[string]float64{"": 800}},
		"an outline beside a fill": {fill(square(20, 20, 20)) + lines(square(50, 20, 10)), "", "", map[string]float64{"": 500}},
		"fills that overlap":       {fill(square(20, 20, 20)) + fill(square(30, 30, 20)), "", "", map[string]float64{"": 700}},
	} {
		file := `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="140mm" viewBox="0 0 240 140">` + under + c.white + `</svg>`
		if c.asked != "" {
			for cut := 1; cut <= 2; cut++ {
				choices := inFilms(cut, artwork.KnockOut)
				choices.Films = choices.Films[:2]
				got := desk{layeredShop(), choices}.run(t, file)
				if q := got.question(c.asked); q == nil || len(got.questions) != 1 || len(q.Places) == 0 || q.Code != c.code {
					t.Errorf("%s, film %d:%s", name, cut, got)
				}
			}
		}
		for answer, want := range c.answer {
			for cut, want := range [...]float64{10_000 - want, want} {
				choices := inFilms(cut+1, artwork.KnockOut)
				choices.Films = choices.Films[:2]
				if answer != "" {
					choices = answered(choices, c.asked, answer)
				}
				got := desk{layeredShop(), choices}.run(t, file)
				if kept := keptOfWork(got); !(math.Abs(kept-want) <= 0.01) || len(got.questions) > 0 || got.question(weeding.QuestionWeld) != nil {
					t.Errorf("%s, %q, film %d: keeps %.3f mm², not %.0f:%s", name, answer, cut+1, kept, want, got)
				}
			}
		}
	}
}

// keptOfWork is what a film keeps by its weeding map, in mm², its register marks left out.
func keptOfWork(r run) float64 {
	a, ok := r.results[artwork.Name].(*artwork.Artwork)
	m, weeded := r.results[weeding.Name].(*weeding.Map)
	if !ok || !weeded || a.Stack == nil {
		return math.NaN()
	}
	sum := 0.0
	for _, region := range m.Regions {
		if region.Kept() && a.Stack.Work.Grow(1e-3).ContainsBox(region.Outer.Bounds()) {
			sum += region.AreaMM2
		}
	}
	return sum
}

// A film of which no line closes has nothing to keep: that is told, in the plan of either
// film.
func TestFilmOfOpenLines(t *testing.T) {
	const file = `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="140mm" viewBox="0 0 240 140"><g fill="none" stroke-width="0.1">` +
		`<rect x="10" y="10" width="100" height="100" stroke="#1f4e79"/><path d="M20 20h20v20h20" stroke="#ffffff"/></g></svg>`
	for cut := 1; cut <= 2; cut++ {
		choices := inFilms(cut, "")
		choices.Films = choices.Films[:2]
		if got := (desk{layeredShop(), choices}).run(t, file); got.find(finding.FilmEmpty) == nil || got.last != artwork.Name {
			t.Errorf("film %d:%s", cut, got)
		}
	}
}
