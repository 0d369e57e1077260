package picture_test

import (
	"bytes"
	"context"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
)

var update = flag.Bool("update", false, "write the golden files anew; look at them before you keep them")

// goldens are pictures of results that were written by hand, so that they
// change with the drawing of pictures alone. Together they hold every kind of
// line, mark, legend and note.
func goldens(ctx context.Context) map[string]*figure.Picture {
	label, stencil, dense := labelMap(), stencilMap(), denseMap(20, 6)
	asked, open := asksForSize()
	drawn, settled := framed()
	sheets, runs := twoSheets(label)
	roll, long := rollOf(3, label), rollOf(24, label)
	holes := denseMap(6, 6)
	many := rollOf(2, holes)
	load := func(p *figure.Picture, err error) *figure.Picture { return must(p, err) }
	card := foldedCard()
	several, unsettled := manyAnswers()
	return map[string]*figure.Picture{
		"card": must(picture.Artwork(ctx, card)), "card-noted": must(picture.Artwork(ctx, noted())), "card-asked": must(picture.Artwork(ctx, askedCard())), "drawing": must(picture.Drawing(ctx, drawn)),
		"size": must(picture.Size(ctx, drawn, settled)), "size-asked": must(picture.Size(ctx, asked, open)),
		"size-across": must(picture.Size(ctx, drawn, &size.Result{Transform: settled.Transform, X: 2, Y: 2.5, WidthMM: 3, HeightMM: 4, Why: "The axes differ."})),
		"size-many":   must(picture.Size(ctx, several, unsettled)),
		"waiting":     must(picture.InQuestion(ctx, drawn, settled, waiting(1))), "waiting-all": must(picture.InQuestion(ctx, drawn, settled, waiting(0))),
		"layout-tiny": load(picture.Layout(ctx, tiny(label), label, 1)),
		"map":         must(picture.Weeding(ctx, label)), "map-stencil": must(picture.Weeding(ctx, stencil)), "map-parts": must(picture.Weeding(ctx, dense)), "map-dots": must(picture.Weeding(ctx, clusterMap(1, 2.5))), "map-corner": must(picture.Weeding(ctx, clusterMap(2, 3.2))),
		"layout": load(picture.Layout(ctx, sheets, label, 2)), "layout-roll": load(picture.Layout(ctx, roll, label, 1)), "layout-long": load(picture.Layout(ctx, long, label, 1)),
		"passes": load(picture.Passes(ctx, runs, sheets, label, 2)), "passes-roll": load(picture.Passes(ctx, runsOf(roll, label), roll, label, 1)),
		"stack":       must(picture.Stack(ctx, stackOf(3))),
		"passes-many": load(picture.Passes(ctx, runsOf(many, holes), many, holes, 1)),
	}
}

// Pictures are those that were looked at, to the last line and letter.
func TestGolden(t *testing.T) {
	all := goldens(t.Context())
	for _, name := range slices.Sorted(maps.Keys(all)) {
		got := svgOf(t, all[name])
		file := filepath.Join("testdata", name+".svg")
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) == string(got) {
			continue
		}
		t.Errorf("%s changed; look at it, then run with -update:\n%.3000s", name, cmp.Diff(string(want), string(got)))
	}
}

// Pictures that are made side by side share nothing that changes: they are as
// those made one after the other. CI runs this with the race detector, which
// needs some turns to meet two of them in one place.
func TestPicturesAtOnce(t *testing.T) {
	m := labelMap()
	l, pp := twoSheets(m)
	drawn := func(turns int) (svgs, pngs map[string][]byte) {
		svgs, pngs = map[string][]byte{}, map[string][]byte{}
		for range turns {
			for name, p := range map[string]*figure.Picture{
				"artwork": must(picture.Artwork(t.Context(), foldedCard())), "weeding": must(picture.Weeding(t.Context(), m)),
				"layout": must(picture.Layout(t.Context(), l, m, 2)), "passes": must(picture.Passes(t.Context(), pp, l, m, 2)),
			} {
				svgs[name] = must(p.SVG(t.Context()))
				if pngs[name] == nil {
					pngs[name] = must(p.PNG(t.Context(), 0.25))
				}
			}
		}
		return svgs, pngs
	}
	svgs, pngs := drawn(1)
	var all sync.WaitGroup
	begin := make(chan struct{})
	for range 4 {
		all.Go(func() {
			<-begin
			s, p := drawn(6)
			for name := range svgs {
				if !bytes.Equal(s[name], svgs[name]) || !bytes.Equal(p[name], pngs[name]) {
					t.Errorf("%s is another one", name)
				}
			}
		})
	}
	close(begin)
	all.Wait()
}
