package view_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// What has to be said beside work on each family, by a word that no other
// caution has (common practice, from memory): a strong magnet harms implants,
// PVC in a laser gives toxic fume, a press burns, blasting needs a mask.
func TestCautionsOfEveryFamily(t *testing.T) {
	const magnet, laser, press, blasting, solvent = "pacemakers", "laser", "Heat press", "Blasting", "Solvents"
	always := []string{"induction", "sharps box", "hair", "hooks", "first aid", "test cut"}
	own := map[workshop.Family][]string{
		workshop.Paper: nil, workshop.LightCard: nil, workshop.HeavyCard: nil, workshop.StencilSheet: nil,
		workshop.RemovableFilm: {laser, solvent}, workshop.PermanentFilm: {laser, solvent},
		workshop.CastFilm: {laser, solvent}, workshop.StencilFilm: {laser, solvent},
		workshop.HeatFilm: {laser, press}, workshop.MagneticSheet: {magnet}, workshop.BlastingMask: {blasting},
	}
	p := planOf(t, "card-160-a4", 1)
	for family, words := range own {
		p.request.Stock.Family = family
		page := printOf(t, p)
		_, under, ok := strings.Cut(page.text(), "\nCautions\n")
		printed := strings.Join(strings.Fields(under), " ")
		if want := strings.Join(view.Cautions(family), " "); !ok || printed != want {
			t.Errorf("%s: the page has\n%s\nwant\n%s", family, printed, want)
		}
		for _, text := range []string{printed, p.text()} {
			for _, w := range append(always, words...) {
				if !strings.Contains(text, w) {
					t.Errorf("%s: no caution of %q in:\n%s", family, w, text)
				}
			}
			for _, w := range []string{magnet, laser, press, blasting, solvent} {
				if said := strings.Contains(strings.Join(words, " "), w); !said && strings.Contains(text, w) {
					t.Errorf("%s: a caution of %q in:\n%s", family, w, text)
				}
			}
		}
		for _, row := range page.pages[0].rows {
			if last := row[len(row)-1]; last.Y2 > 297/25.4*72 || last.X2 > 210/25.4*72 {
				t.Errorf("%s: %q runs off the page", family, last.Text)
			}
		}
	}
}
