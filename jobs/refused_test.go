package jobs_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// shop is the example workshop with one card and one film.
func shop() workshop.Data {
	w := workshop.Example()
	w.Stocks = slices.DeleteFunc(w.Stocks, func(s workshop.Stock) bool { return s.ID != "card-220-a4" && s.ID != "film-removable-610" })
	return w
}

// What cannot be chosen is refused in a sentence that names the field, and what there is
// instead or what to do.
func TestWhatCannotBeChosen(t *testing.T) {
	stocks := " Known here: card-220-a4, film-removable-610."
	empty := func(thing string) string {
		return ": The workshop lists no " + thing + " yet. An empty workshop is set up by the command knifedesk init; otherwise add a " + thing + "."
	}
	one := "size: Give only one of unit, scale and known length, so that they cannot disagree."
	width := &size.KnownLength{Of: size.Width, MM: 80}
	for _, c := range []struct {
		change func(*workshop.Data, *plan.Choices)
		want   string
	}{
		{func(_ *workshop.Data, c *plan.Choices) { c.Stock = "" }, "stock: This is needed." + stocks},
		{func(_ *workshop.Data, c *plan.Choices) { c.Stock = "gold" }, "stock: There is none of that name." + stocks},
		{func(_ *workshop.Data, c *plan.Choices) { c.Machine = "x" }, "machine: There is none of that name. Known here: narrow-305, wide-610."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Convention = "x" }, "convention: There is none of that name. Known here: orrin, paper-folding."},
		{func(_ *workshop.Data, c *plan.Choices) { c.PriceList = "x" }, "price_list: There is none of that name. Known here: orrin."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Purpose = "x" }, "purpose: There is none of that name. Known here: pieces, lettering, stencil."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Options.Hold = "magnet" }, "options.hold: The stock cannot be held so. Known here: mat, rollers."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Copies = -1 }, "copies: The copies must be from 1 to 10000."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Copies = 10_001 }, "copies: The copies must be from 1 to 10000."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Options.Nesting = "x" }, "options.nesting: There is none of that name. Known here: rows, quick, normal, thorough."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Stock, c.Options.PiecesMove = "film-removable-610", true }, "options.pieces_move: Only the parts of a kit may move; lettering and the openings of a stencil keep their places."},
		{func(_ *workshop.Data, c *plan.Choices) { c.Options.MendsOff = []string{"duplicates", "x"} }, "options.mends_off: There is no mend "},
		{func(_ *workshop.Data, c *plan.Choices) { c.Size = plan.Size{Unit: "mm", Scale: 2} }, one},
		{func(_ *workshop.Data, c *plan.Choices) { c.Size = plan.Size{Unit: "mm", KnownLength: width} }, one},
		{func(_ *workshop.Data, c *plan.Choices) { c.Size = plan.Size{Scale: 2, KnownLength: width} }, one},
		{func(_ *workshop.Data, c *plan.Choices) { c.Size.Unit = "ell" }, `unit: "ell" is not one of mm, cm, m, inch, pt, px.`},
		{func(w *workshop.Data, _ *plan.Choices) { w.Stocks = nil }, "stock" + empty("stock")}, {func(w *workshop.Data, _ *plan.Choices) { w.Machines = nil }, "machine" + empty("machine")},
		{func(w *workshop.Data, _ *plan.Choices) { w.Conventions = nil }, "convention" + empty("convention")}, {func(w *workshop.Data, _ *plan.Choices) { w.PriceLists = nil }, "price_list" + empty("price list")},
	} {
		w, choices := shop(), plan.Choices{Stock: "card-220-a4"}
		c.change(&w, &choices)
		_, err := jobs.NewList().Choose(w, choices)
		var refused *plan.ChoiceError
		if !errors.As(err, &refused) || err.Error() != c.want && (strings.HasSuffix(c.want, ".") || !strings.HasPrefix(err.Error(), c.want)) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

// What is left out is what is usual: one copy, the first convention and price list, what the
// material is bought for, and beside it the other stocks of its family.
func TestWhatIsLeftOut(t *testing.T) {
	w := workshop.Example()
	purposes := map[workshop.Family]weeding.Purpose{
		workshop.StencilSheet: weeding.Stencil, workshop.StencilFilm: weeding.Stencil, workshop.BlastingMask: weeding.Stencil, workshop.Paper: weeding.Pieces, workshop.LightCard: weeding.Pieces,
		workshop.HeavyCard: weeding.Pieces, workshop.MagneticSheet: weeding.Pieces, workshop.RemovableFilm: weeding.Lettering, workshop.PermanentFilm: weeding.Lettering, workshop.CastFilm: weeding.Lettering, workshop.HeatFilm: weeding.Lettering,
	}
	for _, s := range w.Stocks {
		r, err := jobs.NewList().Choose(w, plan.Choices{Stock: s.ID})
		if err != nil {
			t.Fatal(err)
		}
		if r.Purpose != purposes[s.Family] || r.Copies != 1 || r.Convention.ID != w.Conventions[0].ID || r.Prices.ID != w.PriceLists[0].ID || r.Stock.ID != s.ID {
			t.Errorf("%s: %d copies, %s, by %s, at %s", s.ID, r.Copies, r.Purpose, r.Convention.ID, r.Prices.ID)
		}
		others := 0
		for _, one := range w.Stocks {
			if one.Family == s.Family && one.ID != s.ID {
				others++
			}
		}
		if len(r.Others) != others || slices.ContainsFunc(r.Others, func(o workshop.Stock) bool { return o.ID == s.ID || o.Family != s.Family }) {
			t.Errorf("%s: %d others, want %d", s.ID, len(r.Others), others)
		}
	}
	r, err := jobs.NewList().Choose(w, plan.Choices{Stock: "card-220-a4", Copies: 10_000, Purpose: weeding.Stencil, Convention: "paper-folding", Options: plan.Options{Nesting: layout.Rows}})
	if err != nil || r.Copies != 10_000 || r.Purpose != weeding.Stencil || r.Convention.ID != "paper-folding" {
		t.Errorf("what is said is not taken: %v", err)
	}
}

// Only a PDF file has pages.
func TestPagesOfFiles(t *testing.T) {
	for _, c := range []struct {
		head string
		page int
		want string
	}{{"%PDF-1.7\n", 2, ""}, {"<svg", 0, ""}, {"<svg", 1, "options.page: Only a PDF file has pages. Leave the page out."}} {
		got := ""
		if err := jobs.CheckPage([]byte(c.head), c.page); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("page %d of %q: %q, want %q", c.page, c.head, got, c.want)
		}
	}
}
