package local_test

import (
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Who says that a drawing has no frame is not sent back to say so: on the layer
// of the frame too a rectangle is then part of the work. Before it is said the
// rectangle is the frame, or is asked about.
func TestNoFrameIsTheLastWord(t *testing.T) {
	const (
		whole = "M40 40h105v148h-105z" // A6, ISO 216
		open  = "M40 40h100v90h-96"
		alone = "M40 40h100v90h-100z"
	)
	onPage := func(data, more string) string { return page(onLayer("PAGE", "#007c91", data) + more) }
	cut := onLayer("CUT", "#007c91", "M60 60h30v30h-30z")
	for _, c := range []struct {
		name, file string
		cuts       int
		before     finding.Code // what is found while nothing is said; "": nothing is asked
	}{
		{"a frame of a named size", onPage(whole, cut), 2, ""},
		{"a frame with an open side", onPage(open, cut), 2, finding.SizeByHeaderAlone},
		{"nothing but the frame", onPage(alone, ""), 1, finding.FrameOffShape},
	} {
		d := desk{workshop.Example(), onCard}
		if r := d.run(t, c.file); c.before != "" && r.find(c.before) == nil || c.before == "" && result(t, list.Artwork, r.results).Strokes[0].Layer == "PAGE" {
			t.Errorf("%s, before: want %q:%s", c.name, c.before, r)
		}
		d.choices.Size.Frame = "none"
		r := d.run(t, c.file)
		if len(r.questions) > 0 || r.last != "" {
			t.Fatalf("%s: still asked:%s", c.name, r)
		}
		if a := result(t, list.Artwork, r.results); len(a.Strokes) != c.cuts || a.Strokes[0].Operation != artwork.ThroughCut {
			t.Errorf("%s: %d strokes, want %d cuts", c.name, len(a.Strokes), c.cuts)
		}
	}
}
