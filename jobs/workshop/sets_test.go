package workshop_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// Widths and lengths are those of the demo scenario; the margins of card on a mat are
// common practice without a source, 5 mm.
func TestExampleHoldsTheDemoWorkshop(t *testing.T) {
	d := workshop.Example()
	for _, want := range []struct {
		id            string
		width, usable float64
		form          workshop.Form
	}{
		{"card-160-a4", 210, 200, workshop.Sheet},
		{"card-160-a3", 297, 287, workshop.Sheet},
		{"card-220-a4", 210, 200, workshop.Sheet},
		{"card-220-a3", 297, 287, workshop.Sheet},
		{"film-removable-610", 610, 590, workshop.Roll},
		{"film-permanent-300", 300, 280, workshop.Roll},
		{"film-heat-500", 500, 480, workshop.Roll},
		{"stencil-a3", 297, 277, workshop.Sheet},
	} {
		s, ok := d.Stock(want.id)
		if !ok || s.WidthMM != want.width || s.UsableWidthMM != want.usable || s.Form != want.form {
			t.Errorf("%s: got %+v, %v", want.id, s, ok)
		}
	}
	narrow, _ := d.Machine("narrow-305")
	wide, _ := d.Machine("wide-610")
	if narrow.WidthMM != 305 || narrow.MaxForceGF != 210 || wide.WidthMM != 610 || wide.MaxForceGF != 400 {
		t.Errorf("machines: %+v, %+v", narrow, wide)
	}
	if _, ok := d.Convention("orrin"); !ok {
		t.Error("convention orrin is missing")
	}
	if _, ok := d.PriceList("nowhere"); ok {
		t.Error("a price list that does not exist was found")
	}
}

func TestEveryStockOfTheExampleHasItsPrice(t *testing.T) {
	d := workshop.Example()
	prices, _ := d.PriceList("orrin")
	for _, s := range d.Stocks {
		_, metre := prices.PerMetre[s.ID]
		_, sheet := prices.PerSheet[s.ID]
		if metre != (s.Form == workshop.Roll) || sheet != (s.Form == workshop.Sheet) {
			t.Errorf("%s: price by the metre %v, by the sheet %v", s.ID, metre, sheet)
		}
	}
}

// sets are the sets of data that a workshop can start from.
func sets() map[string]func() workshop.Data {
	return map[string]func() workshop.Data{"example": workshop.Example, "neutral": workshop.Neutral}
}

// Every stock has a setting for cutting it, and fits a machine.
func TestSetsAreComplete(t *testing.T) {
	for name, set := range sets() {
		d := set()
		if len(d.Stocks) == 0 || len(d.Machines) == 0 || len(d.Conventions) != 2 || len(d.PriceLists) != 1 {
			t.Errorf("%s: %+v", name, d)
		}
		for _, s := range d.Stocks {
			op := artwork.ThroughCut
			if s.Liner {
				op = artwork.KissCut
			}
			if !slices.ContainsFunc(d.Settings, func(set workshop.Setting) bool {
				return set.Family == s.Family && set.Operation == op && set.ForceGF <= 400
			}) {
				t.Errorf("%s, %s: no setting for %s", name, s.ID, op)
			}
			if !slices.ContainsFunc(d.Machines, func(m workshop.Machine) bool {
				return m.WidthMM >= s.UsableWidthMM && m.MaxCaliperUM >= s.CaliperUM
			}) {
				t.Errorf("%s, %s: no machine takes it", name, s.ID)
			}
		}
	}
}

func TestSetsHaveNoIDTwice(t *testing.T) {
	for name, set := range sets() {
		d := set()
		seen := map[string]bool{}
		note := func(kind, id string) {
			if seen[kind+id] || id == "" {
				t.Errorf("%s: %s %q is there twice or has no ID", name, kind, id)
			}
			seen[kind+id] = true
		}
		for _, s := range d.Stocks {
			note("stock", s.ID)
		}
		for _, m := range d.Machines {
			note("machine", m.ID)
		}
		for _, s := range d.Settings {
			note("setting", s.ID)
		}
	}
}

func TestSettingsNameKeptBlades(t *testing.T) {
	for name, set := range sets() {
		d := set()
		for _, s := range d.Settings {
			for _, m := range d.Machines {
				if _, ok := m.BladeFor(s); s.BladeID != "" && !ok {
					t.Errorf("%s: setting %s: machine %s has no blade %s", name, s.ID, m.ID, s.BladeID)
				}
			}
		}
	}
}

// A real workshop finds no invented name, price or test among what it starts
// from.
func TestNeutralMakesNothingUp(t *testing.T) {
	d := workshop.Neutral()
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(strings.ToLower(string(text)), "orrin") {
		t.Error("the college is named")
	}
	p := d.PriceLists[0]
	for _, rate := range []decimal.Decimal{p.TapeMetre, p.Machine, p.Labour, p.BladeMetre, p.Minimum, p.TaxPercent} {
		if !rate.IsZero() {
			t.Errorf("a rate of %s", rate)
		}
	}
	if len(p.PerMetre)+len(p.PerSheet) > 0 {
		t.Errorf("prices of stock: %v, %v", p.PerMetre, p.PerSheet)
	}
	for _, s := range d.Settings {
		if s.TestedBy != "" || s.TestedOn != "" {
			t.Errorf("setting %s claims a test", s.ID)
		}
	}
}

func TestCopiesOfASetShareNothing(t *testing.T) {
	for name, set := range sets() {
		before, _ := json.Marshal(set())
		d := set()
		d.Machines[0].Mats[0].WidthMM = 1
		*d.Stocks[0].GrainDeg = 0
		d.Conventions[0].Rules[0].Layer = "X"
		d.PriceLists[0].PerSheet["x"] = decimal.New(1, 0)
		after, _ := json.Marshal(set())
		if string(before) != string(after) {
			t.Errorf("changing one copy of the %s data changed the next", name)
		}
	}
}
