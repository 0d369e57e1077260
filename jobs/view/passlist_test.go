package view_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// What the machine is told stays so: it is said once for all passes of one blade, whose
// overcut alone differs.
func TestTheBladesOffsetIsSaidOnce(t *testing.T) {
	p := planIn(t, compensating(workshop.Neutral(), workshop.CompensatesNothing), worked, plan.Choices{Stock: "card-160-a4", Copies: 1})
	list, err := p.ListPasses(1)
	if err != nil {
		t.Fatal(err)
	}
	rules := map[float64]bool{}
	for _, line := range list.Passes {
		rules[line.Pass.Rule.OvercutMM] = line.Pass.Rule.OffsetMM > 0
	}
	if n := strings.Count(list.Text(), "blade offset of the cutter"); n != 1 || len(rules) < 2 {
		t.Errorf("of %d rules the offset is told %d times:\n%s", len(rules), n, list.Text())
	}
}

// In which order panels are joined stands where the work is put in its place, after it
// was peeled and before it is handed over.
func TestPanelsAreJoinedWhereTheyArePutUp(t *testing.T) {
	const banner = `<svg xmlns="http://www.w3.org/2000/svg" width="1500mm" height="800mm" viewBox="0 0 1500 800" fill="none" stroke="#000"><g id="CUT"><path d="M10 10H1490V790H10Z"/></g></svg>`
	choices := plan.Choices{Stock: "film-removable-610", Copies: 1, Size: plan.Size{Unit: "mm"}, Options: plan.Options{Panels: layout.PanelsAllowed}}
	p := planIn(t, workshop.Neutral(), banner, choices)
	if !p.Panelled() {
		t.Fatalf("not made of panels:\n%s", p.text())
	}
	sheet := printOf(t, p)
	panel := p.Layout.PanelOf(&p.Layout.Loads[0])
	if got, want := sheet.fact(t, "Panel"), fmt.Sprintf("%s, %.0f × %.0f mm", panel.Code, panel.Box.Width(), panel.Box.Height()); got != want {
		t.Errorf("fetched for the panel %q, which is %q", got, want)
	}
	text := strings.Join(strings.Fields(sheet.pages[0].raw), " ")
	at := -1
	for _, part := range []string{"Unload", "Peel, by the map", p.Layout.Panels.Hang(), "Hand over"} {
		i := strings.Index(text, part)
		if i <= at {
			t.Errorf("%q does not stand in its place:\n%s", part, text)
		}
		at = i
	}
}
