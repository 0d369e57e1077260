package workshop_test

import (
	"encoding/json"
	"slices"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// Widths and lengths are those of the demo scenario.
func TestStarterHoldsTheDemoWorkshop(t *testing.T) {
	d := workshop.Starter()
	for _, want := range []struct {
		id            string
		width, usable float64
		form          workshop.Form
	}{
		{"card-160-a4", 210, 190, workshop.Sheet},
		{"card-160-a3", 297, 277, workshop.Sheet},
		{"card-220-a4", 210, 190, workshop.Sheet},
		{"card-220-a3", 297, 277, workshop.Sheet},
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

// Every stock has a price, a setting for cutting it, and a machine that
// takes the setting.
func TestStarterIsComplete(t *testing.T) {
	d := workshop.Starter()
	prices, _ := d.PriceList("orrin")
	for _, s := range d.Stocks {
		_, metre := prices.PerMetre[s.ID]
		_, sheet := prices.PerSheet[s.ID]
		if metre != (s.Form == workshop.Roll) || sheet != (s.Form == workshop.Sheet) {
			t.Errorf("%s: price by the metre %v, by the sheet %v", s.ID, metre, sheet)
		}
		op := artwork.ThroughCut
		if s.Liner {
			op = artwork.KissCut
		}
		if !slices.ContainsFunc(d.Settings, func(set workshop.Setting) bool {
			return set.Family == s.Family && set.Operation == op && set.ForceGF <= 400
		}) {
			t.Errorf("%s: no setting for %s", s.ID, op)
		}
	}
}

func TestStarterSettingsNameKeptBladesAndHaveTheirOwnIDs(t *testing.T) {
	d := workshop.Starter()
	seen := map[string]bool{}
	for _, s := range d.Settings {
		if seen[s.ID] {
			t.Errorf("setting %s is there twice", s.ID)
		}
		seen[s.ID] = true
		for _, m := range d.Machines {
			if _, ok := m.BladeFor(s); s.BladeID != "" && !ok {
				t.Errorf("setting %s: machine %s has no blade %s", s.ID, m.ID, s.BladeID)
			}
		}
	}
}

func TestStarterCopiesShareNothing(t *testing.T) {
	before, _ := json.Marshal(workshop.Starter())
	d := workshop.Starter()
	d.Machines[0].Mats[0].WidthMM = 1
	*d.Stocks[0].GrainDeg = 0
	clear(d.PriceLists[0].PerSheet)
	after, _ := json.Marshal(workshop.Starter())
	if string(before) != string(after) {
		t.Error("changing one copy of the starter data changed the next")
	}
}
