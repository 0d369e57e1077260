package view_test

import (
	"bytes"
	"context"
	"testing"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/view"
)

// The picture of the job that asks bears its question and the answers.
func TestPicturesBearTheQuestions(t *testing.T) {
	p := planOf(t, "card-160-a4", 1)
	open := []ask.Question{{ID: "one", Text: "Which?", Answers: []ask.Answer{{ID: "a", Label: "This"}, {ID: "b", Label: "That"}}}}
	for _, tt := range []struct {
		name      string
		questions *[]ask.Question
		draw      func(context.Context, *view.Results, int) (*figure.Picture, error)
	}{
		{"size", &p.Size.Questions, view.DrawSize}, {"artwork", &p.Artwork.Questions, view.DrawArtwork},
		{"weeding", &p.Weeding.Questions, view.DrawWeeding}, {"layout", &p.Layout.Questions, view.DrawLayout},
	} {
		for _, asks := range []bool{false, true} {
			*tt.questions = nil
			if asks {
				*tt.questions = open
			}
			drawn, err := tt.draw(t.Context(), p.Results, 1)
			if err != nil {
				t.Fatal(err)
			}
			text, err := drawn.SVG(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range []string{"Which?", "This", "That"} {
				if bytes.Contains(text, []byte(want)) != asks {
					t.Errorf("%s: asks %v, and the picture has %q otherwise", tt.name, asks, want)
				}
			}
		}
		*tt.questions = nil
	}
}
