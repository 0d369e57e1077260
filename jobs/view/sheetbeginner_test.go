package view_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// Whoever has the sheet alone knows which side lies up, what the test cut is made with, what
// has to come off before the work is pressed, where a code is written, and what is
// put back (common practice, no source).
func TestWorksheetSaysWhatABeginnerAsks(t *testing.T) {
	const (
		outlined = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40" fill="none" stroke="#007c91"><g id="CUT"><path d="M5 5h50v30h-50z"/><path d="M20 12h20v16h-20z"/></g></svg>`
		apart    = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40" fill="none" stroke="#007c91"><g id="CUT"><path d="M5 5h20v30h-20z"/><path d="M32 5h20v30h-20z"/></g></svg>`
		parted   = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40" fill="none"><g id="CUT" stroke="#007c91"><path d="M5 5h50v30h-50z"/></g><g id="FOLD" stroke="#7a3eb1"><path d="M20 5v30"/></g><g id="PERFORATE" stroke="#b85c00"><path d="M40 5v30"/></g></svg>`
		round    = "First peel off the film round the work"
	)
	for _, c := range []struct {
		name       string
		p          *planned
		want, lack []string
	}{
		{"heat film, outlined", planOfFile(t, outlined, plan.Choices{Stock: "film-heat-500"}), []string{"its carrier down", "Check that the border is cut all round.", "tools back in"}, []string{"mat back", round}},
		{"heat film, outlined, without a border", planOfFile(t, outlined, plan.Choices{Stock: "film-heat-500", Options: plan.Options{NoBorder: true}}), []string{"its carrier down", round + ", or it is pressed on too", "tools back in"}, []string{"mat back", "border"}},
		{"a class on heat film", sharedIn(t, workshop.Example(), plan.Choices{Stock: "film-heat-500"}, map[string]string{"01": outlined, "02": strings.Replace(outlined, "h20v16h-20", "h10v16h-10", 1)}), []string{"its carrier down", "Check that the border is cut all round."}, []string{round}},
		{"heat film with a border", planOfFile(t, apart, plan.Choices{Stock: "film-heat-500"}), []string{"its carrier down"}, []string{round}},
		{"film, outlined", planOfFile(t, outlined, plan.Choices{Stock: "film-removable-610"}), []string{"its liner down", "tools back in"}, []string{"mat back", round}},
		{"card", planOfFile(t, parted, plan.Choices{Stock: "card-160-a4"}), []string{"Set as for pass 3; fold as 1, tear as 2.", "score a bar, perforate one", "fold and tear are clean", "tools and mat back in"}, []string{"film lies up", round}},
		{"a class on film", sharedIn(t, workshop.Example(), plan.Choices{Stock: "film-removable-610"}, map[string]string{"01": outlined, "02": strings.Replace(outlined, "h20v16h-20", "h10v16h-10", 1)}), []string{"Write each code on the liner"}, []string{"back of each"}},
		{"a class on card", sharedIn(t, workshop.Example(), plan.Choices{Stock: "card-160-a4"}, map[string]string{"01": outlined}), []string{"Write its code on the back of each"}, []string{"liner"}},
	} {
		text := strings.Join(strings.Fields(printOf(t, c.p).text()), " ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is missing in %s", c.name, want, text)
			}
		}
		for _, lack := range c.lack {
			if strings.Contains(text, lack) {
				t.Errorf("%s: %q is told in %s", c.name, lack, text)
			}
		}
	}
}
