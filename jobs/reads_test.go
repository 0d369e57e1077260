package jobs_test

import (
	"crypto/sha256"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// A change of a request makes the keys of those jobs anew that use what changed,
// and of all that need them; of no other.
func TestKeysHoldWhatIsUsed(t *testing.T) {
	const all = "size artwork weeding layout passes estimate"
	for name, c := range map[string]struct {
		change func(*plan.Request)
		anew   string
	}{
		"nothing":                          {func(*plan.Request) {}, ""},
		"a price":                          {func(r *plan.Request) { r.Prices.Machine = decimal.NewFromInt(9) }, "estimate"},
		"the life of a blade":              {func(r *plan.Request) { r.Machine.Blade.LifeM = 1 }, ""},
		"what is left on the roll":         {func(r *plan.Request) { r.Stock.LengthMM -= 500 }, "layout passes estimate"},
		"the loads of a mat":               {func(r *plan.Request) { r.Machine.Mats[0].Loads++ }, ""},
		"how a roll is wound":              {func(r *plan.Request) { r.Stock.Wound.ThicknessUM++ }, ""},
		"another stock of the family":      {func(r *plan.Request) { r.Others = []workshop.Stock{{ID: "x", Form: workshop.Roll}} }, "layout passes estimate"},
		"the offset of a blade":            {func(r *plan.Request) { r.Machine.Blade.OffsetMM += 0.01 }, "passes estimate"},
		"the gap between pieces":           {func(r *plan.Request) { r.Stock.GapMM++ }, "layout passes estimate"},
		"a limit of weeding":               {func(r *plan.Request) { r.Stock.Limits.BorderMM++ }, "weeding layout passes estimate"},
		"a setting of this family":         {func(r *plan.Request) { setting(r, r.Stock.Family) }, "passes estimate"},
		"a setting of other stock":         {func(r *plan.Request) { setting(r, workshop.Paper) }, ""},
		"a layer of the convention":        {func(r *plan.Request) { r.Convention.Rules[1].Layer = "KNIFE" }, all}, // a rectangle on it may be a piece
		"a colour of the convention":       {func(r *plan.Request) { r.Convention.Rules[6].Colour.R++ }, "artwork weeding layout passes estimate"},
		"a version that changes nothing":   {func(r *plan.Request) { r.Convention.Version++ }, ""},
		"the width of the stock":           {func(r *plan.Request) { r.Stock.WidthMM++ }, all},
		"another blade of the same offset": {func(r *plan.Request) { r.Machine.Blade.Fitted = "b12" }, ""},
		"how a setting stands":             {func(r *plan.Request) { r.Standings["removable_film-kiss_cut"] = trial.Standing{State: trial.Trusted} }, ""},
		"marks that are right":             {func(r *plan.Request) { r.Lengths = &trial.Marks{AcrossMM: 100.1, AlongMM: 99.9} }, ""},
		"marks that are off":               {func(r *plan.Request) { r.Lengths = &trial.Marks{AcrossMM: 100.3, AlongMM: 100} }, "passes estimate"},
		"a calibration":                    {func(r *plan.Request) { r.Calibration = &calibration.Calibration{Day: "2030-01-02"} }, "estimate"},
		"copies":                           {func(r *plan.Request) { r.Copies++ }, "layout passes estimate"},
	} {
		t.Run(name, func(t *testing.T) {
			before, after := keys(t, func(*plan.Request) {}), keys(t, c.change)
			var anew []string
			for _, row := range jobs.NewList().Rows {
				if before[row.Name] != after[row.Name] {
					anew = append(anew, row.Name)
				}
			}
			if got := strings.Join(anew, " "); got != c.anew {
				t.Errorf("anew: %s; want %s", got, c.anew)
			}
		})
	}
}

// The reader is told of layers where nothing is cut, and of rules for the same layer
// that come first; which colours and other layers a convention has changes no drawing.
func TestReaderKnowsWhereNothingIsCut(t *testing.T) {
	red := &drawing.Colour{R: 0xff}
	type rules = []workshop.Rule
	cut := func(layer string) workshop.Rule { return workshop.Rule{Layer: layer, Means: workshop.MeansCut} }
	notes, page := workshop.Rule{Layer: "NOTES", Means: workshop.MeansNothing}, workshop.Rule{Layer: "PAGE", Means: workshop.MeansFrame}
	for name, c := range map[string]struct {
		rules rules
		frame string
		want  rules
	}{
		"none":                          {nil, "", nil},
		"the usual":                     {rules{page, cut("CUT"), notes, {Colour: red, Means: workshop.MeansCut}}, "", rules{page, notes}},
		"no frame":                      {rules{page, cut("CUT"), notes}, "none", rules{notes}},
		"a colour is for notes":         {rules{{Colour: red, Means: workshop.MeansNothing}}, "", nil},
		"a colour on a layer":           {rules{{Layer: "A", Colour: red, Means: workshop.MeansNothing}}, "", nil},
		"a colour first":                {rules{{Colour: red, Means: workshop.MeansCut}, notes}, "", rules{cut("*"), notes}},
		"a pattern first":               {rules{cut("N*"), cut("M*"), notes}, "", rules{cut("N*"), notes}},
		"of a pattern":                  {rules{cut("A*"), cut("B"), {Layer: "*", Means: workshop.MeansNothing}}, "", rules{cut("A*"), cut("B"), {Layer: "*", Means: workshop.MeansNothing}}},
		"a size behind the frame's":     {rules{cut("PAGE_5*"), page}, "", rules{cut("PAGE_5*"), page}},
		"a width that is cut on a note": {rules{{Layer: "NOTES", WidthMM: 1, Means: workshop.MeansCut}, notes}, "", rules{cut("NOTES"), notes}},
	} {
		got := struct{ Rules rules }{}
		request, err := jobs.NewList().Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610"})
		if err != nil {
			t.Fatal(err)
		}
		request.Convention.Rules, request.Size.Frame = c.rules, c.frame
		nodes, err := jobs.Graph(jobs.NewList().Rows, request, sha256.Sum256(nil))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(nodes[0].Reads, &got); err != nil || !slices.Equal(got.Rules, c.want) {
			t.Errorf("%s: the reader gets %+v, want %+v (%v)", name, got.Rules, c.want, err)
		}
	}
}

func setting(r *plan.Request, family workshop.Family) {
	r.Settings = append(r.Settings, workshop.Setting{ID: "new", Family: family, Operation: artwork.KissCut, ForceGF: 90})
}

// keys are those of a plan whose request is changed first, by job.
func keys(t *testing.T, change func(*plan.Request)) map[string]jobs.Key {
	t.Helper()
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610"})
	if err != nil {
		t.Fatal(err)
	}
	change(request)
	nodes, err := jobs.Graph(list.Rows, request, sha256.Sum256(nil))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]jobs.Key{}
	for _, n := range nodes {
		out[n.Row.Name] = n.Key
		if !json.Valid(n.Reads) {
			t.Errorf("%s reads %s", n.Row.Name, n.Reads)
		}
	}
	if len(slices.Collect(maps.Keys(out))) != len(list.Rows) {
		t.Errorf("keys %v", out)
	}
	return out
}
