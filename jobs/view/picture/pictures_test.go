package picture_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/local"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// planned holds the results of the jobs of a plan that is ready.
type planned struct {
	drawing read.Result
	size    size.Result
	artwork artwork.Artwork
	weeding weeding.Map
	layout  layout.Layout
	passes  passes.Plan
}

// planOf runs all jobs; it fails where one stops the plan.
func planOf(file []byte, c plan.Choices) (*planned, error) {
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), c)
	if err != nil {
		return nil, err
	}
	done, status, err := local.Run(context.Background(), list.Rows, file, request)
	if err != nil {
		return nil, err
	}
	if status != plan.Ready {
		return nil, fmt.Errorf("the plan is %s", status)
	}
	results := local.Results(done)
	return &planned{
		drawing: *list.Read.In(results), size: *list.Size.In(results), artwork: *list.Artwork.In(results),
		weeding: *list.Weeding.In(results), layout: *list.Layout.In(results), passes: *list.Passes.In(results),
	}, nil
}

// must returns v where there is no error.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// svgOf returns a picture as SVG.
func svgOf(t testing.TB, p *figure.Picture) []byte {
	t.Helper()
	svg, err := p.SVG(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return svg
}

// pictures draws all jobs of a plan, the first load of the last two.
func (p *planned) pictures(t testing.TB) map[string]*figure.Picture {
	t.Helper()
	return p.picturesOn(t.Context(), t)
}

// picturesOn is pictures for the format of a context.
func (p *planned) picturesOn(ctx context.Context, t testing.TB) map[string]*figure.Picture {
	t.Helper()
	all := map[string]*figure.Picture{
		"drawing": must(picture.Drawing(ctx, &p.drawing)), "size": must(picture.Size(ctx, &p.drawing, &p.size)),
		"artwork": must(picture.Artwork(ctx, &p.artwork)), "weeding": must(picture.Weeding(ctx, &p.weeding)),
	}
	if picture.IsMended(&p.artwork) {
		all["artwork"] = must(picture.Mended(ctx, &p.drawing, &p.size, &p.artwork))
	}
	if picture.IsJoined(&p.artwork, &p.weeding) {
		all["weeding"] = must(picture.Joined(ctx, &p.artwork, &p.weeding))
	}
	var err error
	first := p.layout.MapOf(&p.layout.Loads[0], &p.weeding)
	if all["layout"], err = picture.Layout(ctx, &p.layout, first, 1); err != nil {
		t.Fatal(err)
	}
	if all["passes"], err = picture.Passes(ctx, &p.passes, &p.layout, first, 1); err != nil {
		t.Fatal(err)
	}
	return all
}

// ornament is a rosette of petals with holes on a plate with corners of
// diamonds: more than 200 regions, of which 138 go.
func ornament() []byte {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300" fill="none" stroke="#007c91">` +
		`<rect x="5" y="5" width="290" height="290" rx="12"/><circle cx="150" cy="150" r="14"/><circle cx="150" cy="150" r="8"/><circle cx="150" cy="150" r="3"/>`)
	for ring, g := range []struct{ r, n, long, wide float64 }{{30, 12, 9, 4.5}, {58, 20, 11, 6}, {88, 28, 12, 7}, {118, 36, 11, 7}} {
		for k := 0.0; k < g.n; k++ {
			deg := 360 * (k + 0.5*float64(ring%2)) / g.n
			fmt.Fprintf(&b, `<g transform="translate(150 150) rotate(%.4f) translate(%g 0)"><path d="M%g 0`, deg, g.r, g.long)
			for i := 1.0; i < 24; i++ {
				sin, cos := math.Sincos(2 * math.Pi * i / 24)
				fmt.Fprintf(&b, "L%.3f %.3f", g.long*cos, g.wide*sin*(1-0.35*cos))
			}
			b.WriteString(`Z"/>`)
			if ring > 0 {
				b.WriteString(`<circle r="2.2"/>`)
			}
			b.WriteString(`</g>`)
		}
	}
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		for i := 0.0; i < 4; i++ {
			for j := 0.0; j < 4-i; j++ {
				fmt.Fprintf(&b, `<path d="M%g %gl5 5 5 -5 -5 -5z"/>`, 145+c[0]*(132-13*i), 150+c[1]*(132-13*j))
			}
		}
	}
	b.WriteString(`</svg>`)
	return []byte(b.String())
}

// examples are plans that show everything a picture can show: lettering with a
// border and relief lines, a stencil with bridges, a net with scores, a tag
// with pen lines in several loads, a banner, and a dense ornament. They are
// planned once.
var examples = sync.OnceValues(func() (map[string]*planned, error) {
	all := map[string]*planned{}
	for name, e := range map[string]struct {
		sheet   scenario.Sheet
		choices plan.Choices
	}{
		"ring-sign":  {scenario.RingSign(), plan.Choices{Stock: "film-permanent-300"}},
		"tide-label": {scenario.TideLabel(), plan.Choices{Stock: "film-removable-610", Copies: 6}},
		"lighthouse": {scenario.LighthouseStencil(), plan.Choices{Stock: "stencil-a3"}},
		"box-net":    {scenario.BoxNet(), plan.Choices{Stock: "card-160-a3"}},
		"class-tag":  {scenario.ClassTag("SALTLARK", 210, 297), plan.Choices{Stock: "card-160-a4", Copies: 33}},
		"banner":     {scenario.WaveBanner(400), plan.Choices{Stock: "film-removable-610", Copies: 4}},
	} {
		file, err := e.sheet.SVG()
		if err != nil {
			return nil, err
		}
		if all[name], err = planOf(file, e.choices); err != nil {
			return nil, err
		}
	}
	var err error
	all["ornament"], err = planOf(ornament(), plan.Choices{Stock: "film-removable-610"})
	return all, err
})

func example(t testing.TB, name string) *planned {
	t.Helper()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	return all[name]
}

// eachPicture calls f with all pictures of the examples, in order of their
// names "plan/stage".
func eachPicture(t *testing.T, f func(name string, p *figure.Picture)) {
	t.Helper()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		pictures := all[name].pictures(t)
		for _, stage := range slices.Sorted(maps.Keys(pictures)) {
			f(name+"/"+stage, pictures[stage])
		}
	}
}
