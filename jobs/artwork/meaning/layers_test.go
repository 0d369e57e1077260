package meaning_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/workshop"
)

// Layers begin with the frame and the cuts, as the first rule that matches reads them:
// of patterns a name that fits, of colours alone a usual name in that colour, and
// nothing of a rule that an earlier one hides or that goes by line width.
func TestLayersOfAConvention(t *testing.T) {
	red, blue := drawing.RGB(255, 0, 0), drawing.RGB(0, 0, 255)
	for _, tt := range []struct {
		name   string
		rules  []workshop.Rule
		family workshop.Family
		want   string
	}{
		{"names", workshop.Neutral().Conventions[0].Rules, workshop.LightCard, "frame PAGE, cut CUT, score FOLD, perforate PERFORATE, pen PEN, nothing NOTES"},
		{"sides of folds", workshop.Neutral().Conventions[1].Rules, workshop.LightCard, "frame PAGE, cut CUT, score FOLD, score up MOUNTAIN, score in VALLEY, perforate PERFORATE, pen PEN, nothing NOTES"},
		{"sides by colour", []workshop.Rule{{Layer: "CUT", Means: workshop.MeansCut}, {Colour: red, Means: workshop.MeansScore, Fold: workshop.Mountain}, {Colour: blue, Means: workshop.MeansScore, Fold: workshop.Valley}}, workshop.Paper, "cut CUT, score up MOUNTAIN #ff0000, score in VALLEY #0000ff"},
		{"on film", workshop.Neutral().Conventions[0].Rules, workshop.CastFilm, "frame PAGE, cut CUT, nothing NOTES"},
		{"patterns", []workshop.Rule{{Layer: "cut*", Means: workshop.MeansCut}, {Layer: "fold?", Means: workshop.MeansScore}}, workshop.Paper, "cut cut, score foldx"},
		{"colours", []workshop.Rule{{Colour: red, Means: workshop.MeansCut}, {Colour: blue, Means: workshop.MeansScore}}, workshop.Paper, "cut CUT #ff0000, score FOLD #0000ff"},
		{"hidden", []workshop.Rule{{Layer: "*", Means: workshop.MeansCut}, {Layer: "FOLD", Means: workshop.MeansScore}}, workshop.Paper, "cut CUT"},
		{"one layer, two colours", []workshop.Rule{{Layer: "A", Colour: blue, Means: workshop.MeansScore}, {Layer: "A", Colour: red, Means: workshop.MeansCut}}, workshop.Paper, "cut A #ff0000"},
		{"width", []workshop.Rule{{Layer: "A", WidthMM: 0.3, Means: workshop.MeansCut}}, workshop.Paper, ""},
	} {
		var got []string
		for _, l := range meaning.Layers(&workshop.Convention{Rules: tt.rules}, tt.family) {
			one := fmt.Sprintf("%s%s %s", l.Means, map[workshop.Side]string{workshop.Mountain: " up", workshop.Valley: " in"}[l.Fold], l.Name)
			if l.Colour == *red || l.Colour == *blue {
				one += " " + l.Colour.String()
			}
			got = append(got, one)
		}
		if list := strings.Join(got, ", "); list != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, list, tt.want)
		}
	}
}
