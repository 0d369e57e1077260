package workshop_test

import (
	"errors"
	"slices"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// What a workshop starts from holds together in all of its data.
func TestStartingDataHolds(t *testing.T) {
	for name, set := range sets() {
		data := set()
		var all []interface{ Check() error }
		for _, m := range data.Machines {
			all = append(all, m)
		}
		for _, s := range data.Settings {
			all = append(all, s)
		}
		for _, c := range data.Conventions {
			all = append(all, c)
		}
		for _, x := range append(all, data.PriceLists[0]) {
			if err := x.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// Fields that cannot hold beside each other are refused by name.
func TestCheckOfOtherData(t *testing.T) {
	data := workshop.Example()
	machine, list := data.Machines[0], data.PriceLists[0]
	machine.Blades = append(slices.Clone(machine.Blades), machine.Blade)
	twice := data.Conventions[0]
	twice.Rules = append(slices.Clone(twice.Rules), twice.Rules[0])
	mats := data.Machines[0]
	mats.Mats = append(slices.Clone(mats.Mats), mats.Mats[0])
	nameless, coinless := list, list
	nameless.Name, coinless.Currency = "", "\u00a0"
	perforation := workshop.Setting{Operation: artwork.Perforate, ForceGF: 80, DashMM: 2, TieMM: 1}
	for _, good := range []workshop.Setting{perforation, {Operation: artwork.Pen}} {
		if err := good.Check(); err != nil {
			t.Errorf("%s: %v", good.Operation, err)
		}
	}
	for field, x := range map[string]interface{ Check() error }{
		"blades.0.id": workshop.Machine{Name: "a", Blade: workshop.Blade{ID: "b"}, Blades: []workshop.Blade{{ID: "b"}}},
		"blades.1.id": workshop.Machine{Name: "a", Blades: []workshop.Blade{{ID: "b"}, {ID: "b"}}},
		"mats.1.id":   workshop.Machine{Name: "a", Mats: []workshop.MatSize{{ID: "m"}, {ID: "m"}}},
		"name":        nameless, "currency": coinless,
		"rules.1":  workshop.Convention{Name: "a", Rules: []workshop.Rule{{Layer: "CUT", Means: workshop.MeansCut}, {Layer: "cut", Means: workshop.MeansScore}}},
		"dash_mm":  workshop.Setting{Operation: artwork.ThroughCut, DashMM: 2, TieMM: 1},
		"tie_mm":   workshop.Setting{Operation: artwork.Perforate, DashMM: 2},
		"force_gf": workshop.Setting{Operation: artwork.Score},
	} {
		var bad *workshop.FieldError
		if err := x.Check(); !errors.As(err, &bad) || bad.Field != field || bad.Change == "" {
			t.Errorf("%v, want %s", err, field)
		}
	}
	for _, x := range []interface{ Check() error }{machine, twice, mats, workshop.Setting{Operation: artwork.Perforate, TieMM: 2}} {
		if x.Check() == nil {
			t.Errorf("%+v is taken", x)
		}
	}
}

// Sheets are priced by the sheet and rolls by the metre: the price of the other kind is
// none. A price of nothing is one.
func TestUnpriced(t *testing.T) {
	free := decimal.Zero
	list := workshop.PriceList{
		PerMetre: map[string]decimal.Decimal{"a": free, "roll": free}, PerSheet: map[string]decimal.Decimal{"b": free, "sheet": free},
	}
	stocks := []workshop.Stock{{ID: "b", Form: workshop.Roll}, {ID: "roll", Form: workshop.Roll}, {ID: "sheet", Form: workshop.Sheet}, {ID: "a", Form: workshop.Sheet}}
	if got := list.Unpriced(stocks); !slices.Equal(got, []string{"b", "a"}) {
		t.Errorf("unpriced %v", got)
	}
}
