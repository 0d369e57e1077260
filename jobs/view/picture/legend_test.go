package picture_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// lineNames are the words by which the legend names each kind of line.
var lineNames = map[string]string{
	"pen": "pen line", "score": "score", "perforate": "perforated line", "kiss_cut": "kiss cut", "through_cut": "through cut",
	"relief_line": "relief line", "weed_border": "weed border", "seam": "seam between panels",
}

// entry reports whether a legend has an entry that starts with the words.
func entry(legend []string, words string) bool {
	return slices.ContainsFunc(legend, func(s string) bool { return s == words || strings.HasPrefix(s, words+",") })
}

// The legend lists the kinds of lines that are in the picture and no others,
// whichever they are.
func TestLegendListsTheLines(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		present := map[string]bool{}
		var strokes []artwork.Stroke
		for i := range rapid.IntRange(1, 6).Draw(rt, "n") {
			s := artwork.Stroke{Path: geometry.Polyline(geometry.Pt(0, float64(i)), geometry.Pt(50, float64(i)))}
			s.Operation = rapid.SampledFrom(artwork.Operations()).Draw(rt, "operation")
			s.Added = rapid.SampledFrom([]artwork.Added{"", "", artwork.Relief, artwork.Border, artwork.Seam, artwork.Bridge}).Draw(rt, "added")
			strokes = append(strokes, s)
			if name := string(s.Added); lineNames[name] != "" {
				present[name] = true
			} else {
				present[string(s.Operation)] = true
			}
		}
		bounds := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(50, 6))
		a := artwork.Artwork{Strokes: strokes, Bounds: bounds}
		m := weeding.Map{Strokes: strokes, Bounds: bounds}
		for stage, p := range map[string]*figure.Picture{"artwork": must(picture.Artwork(t.Context(), &a)), "weeding": must(picture.Weeding(t.Context(), &m))} {
			legend := texts(parse(t, svgOf(t, p)), "legend")
			for kind, words := range lineNames {
				if entry(legend, words) != present[kind] {
					rt.Fatalf("%s: %s present %t, legend %q", stage, kind, present[kind], legend)
				}
			}
		}
	})
}

// The legend of a weeding map lists the classes, bridges, steps and fragile
// pieces that are there, and no others.
func TestLegendListsTheRegions(t *testing.T) {
	for _, name := range []string{"ring-sign", "lighthouse", "box-net", "class-tag", "ornament"} {
		m := &example(t, name).weeding
		all := parse(t, svgOf(t, must(picture.Weeding(t.Context(), m))))
		legend := strings.Join(texts(all, "legend"), "\n")
		has := map[weeding.Class]bool{}
		fragile := false
		for _, r := range m.Regions {
			has[r.Class] = true
			fragile = fragile || r.Fragile
		}
		for words, want := range map[string]bool{
			"stays":         has[weeding.Kept] || m.Purpose == weeding.Stencil,
			"the surround":  has[weeding.Surround],
			"the ground":    has[weeding.Ground],
			"a counter":     has[weeding.Counter] && m.Purpose == weeding.Lettering,
			"an opening":    has[weeding.Counter] && m.Purpose == weeding.Stencil,
			"a hole":        has[weeding.Counter] && m.Purpose == weeding.Pieces,
			"bridge":        len(m.Bridges) > 0,
			"in the order":  len(m.Steps) > 0,
			"small piece":   fragile,
			"pull this way": strings.Contains(legend, "pull this way"), // by its arrows, in the map
		} {
			if strings.Contains(legend, words) != want {
				t.Errorf("%s: %q in the legend: %t, want %t\n%s", name, words, !want, want, legend)
			}
		}
	}
}

// Findings are marked and listed under one name, and questions come with
// their answers.
func TestFindingsAndQuestions(t *testing.T) {
	a := example(t, "box-net").artwork
	a.Findings, a.Questions = nil, nil
	place := finding.Place{Box: geometry.BoxAround(geometry.Pt(10, 10), geometry.Pt(20, 20))}
	for i := range 3 {
		a.Findings = append(a.Findings, finding.Finding{Severity: finding.Ask, Count: 1, Hint: fmt.Sprintf("Hint %d.", i), Places: []finding.Place{place}})
	}
	a.Findings[2].Places = slices.Repeat([]finding.Place{place}, 50)
	a.Findings[2].Count = 70
	a.Questions = []ask.Question{{Text: "Which?", Answers: []ask.Answer{{Label: "This", Evidence: "it fits"}, {Label: "That"}}}}
	all := parse(t, svgOf(t, must(picture.Artwork(t.Context(), &a))))
	legend, marks, notes := texts(all, "legend"), texts(all, "marks"), texts(all, "notes")
	for i := range 3 {
		if n := fmt.Sprint(i + 1); !slices.Contains(marks, n) || !slices.Contains(legend, n) {
			t.Errorf("finding %s: marks %q, legend %q", n, marks, legend)
		}
	}
	if !slices.Contains(legend, "question: Hint 2. (5 places of 70 marked)") {
		t.Errorf("does not say how many places are marked: %q", legend)
	}
	for _, want := range []string{"In question", "Which?", "1. This: it fits", "2. That"} {
		if !slices.Contains(notes, want) {
			t.Errorf("no note %q in %q", want, notes)
		}
	}
}

// An answer is told with what speaks for it and with the finished size, where both sides of
// that are known and its label does not say it itself; a group with its parts.
func TestAnswersTellWhatTheyComeTo(t *testing.T) {
	a := example(t, "box-net").artwork
	a.Findings = nil
	a.Questions = []ask.Question{{Text: "Which?", Answers: []ask.Answer{
		{Label: "One", Evidence: "It fits.", WidthMM: 100, HeightMM: 50.5}, {Label: "Two", WidthMM: 100, HeightMM: 50.5}, {Label: "Three", Evidence: "It fits.", WidthMM: 100},
		{Label: "Four", Evidence: "It fits.", HeightMM: 50}, {Label: "Five", WidthMM: 100}, {Label: "Six", HeightMM: 50}, {Label: "Seven", Evidence: "It fits."}, {Label: "Eight"},
		{Label: "A4: your work is 9 × 5 mm", Evidence: "It fits.", WidthMM: 9, HeightMM: 5},
	}, Parts: []ask.Question{{Text: "the left one"}, {Text: "the right one"}}}}
	want := []string{
		"In question", "Which?", "1. One: It fits. Your work is then 100 × 50.5 mm.", "2. Two. Your work is then 100 × 50.5 mm.", "3. Three: It fits.", "4. Four: It fits.",
		"5. Five", "6. Six", "7. Seven: It fits.", "8. Eight", "9. A4: your work is 9 × 5 mm", "A: the left one", "B: the right one",
	}
	notes := texts(parse(t, svgOf(t, must(picture.Artwork(t.Context(), &a)))), "notes")
	at := slices.Index(notes, want[0])
	if at < 0 || len(notes) < at+len(want) || !slices.Equal(notes[at:at+len(want)], want) {
		t.Errorf("told is %q, want %q", notes, want)
	}
}

// What was left out beside the artwork is marked where it stands, as long as
// the lines stay large enough to see; a frame round them is not.
func TestMarksBesideTheArtwork(t *testing.T) {
	a := example(t, "box-net").artwork
	a.Findings, a.Questions = nil, nil
	bar := texts(parse(t, svgOf(t, must(picture.Artwork(t.Context(), &a)))), "scale")
	side := max(a.Bounds.Width(), a.Bounds.Height())
	for _, tt := range []struct {
		name          string
		place         geometry.Box
		marked, grown bool
	}{
		{"a side away", geometry.BoxAround(a.Bounds.Max.Add(geometry.Pt(side, 0))), true, true},
		{"four sides away", geometry.BoxAround(a.Bounds.Max.Add(geometry.Pt(4*side, 0))), false, false},
		{"a frame", a.Bounds.Grow(side), false, false},
	} {
		a.Findings = []finding.Finding{{Severity: finding.Block, Count: 1, Hint: "Hint.", Places: []finding.Place{{Box: tt.place}}}}
		all := parse(t, svgOf(t, must(picture.Artwork(t.Context(), &a))))
		marked, grown := slices.Contains(texts(all, "marks"), "1"), !slices.Equal(texts(all, "scale"), bar)
		if marked != tt.marked || grown != tt.grown {
			t.Errorf("%s: marked %t, with another scale bar %t; want %t, %t", tt.name, marked, grown, tt.marked, tt.grown)
		}
	}
}
