package picture_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// stackOf is so many films on each other, each smaller than the one below, which goes on
// under it, with register marks beside three corners.
func stackOf(films int) *artwork.Stack {
	plate := rect(10, 10, 120, 60)
	s := &artwork.Stack{At: films - 1, Meet: artwork.Underlap, UnderlapMM: 0.5, Work: plate.Bounds()}
	colours := []drawing.Colour{{R: 0x4a, G: 0x55, B: 0x68}, {G: 0x7c, B: 0x91}, {R: 0xc8, G: 0x40, B: 0x30}}
	for i := range films {
		in := 10 + 5*float64(i)
		outer := rect(in, in, 140-2*in, 80-2*in)
		area := []geometry.Path{outer}
		if i+1 < films {
			area = append(area, rect(in+5.5, in+5.5, 129-2*in, 69-2*in).Reversed())
		}
		colour := colours[i%len(colours)]
		s.Layers = append(s.Layers, artwork.Layer{
			Film: films - i, Stock: fmt.Sprintf("film-%d", i), Name: fmt.Sprintf("Removable film %c, 610 mm roll", 'A'+i), Colour: &colour,
			Area: area, AreaMM2: outer.Area(), ShownMM2: outer.Area() / 2,
		})
	}
	for _, at := range []geometry.Point{{X: 0, Y: 0}, {X: 134, Y: 0}, {X: 0, Y: 74}} {
		s.Marks = append(s.Marks, geometry.Polygon(at.Add(geometry.Pt(2, 0)), at.Add(geometry.Pt(4, 0)), at.Add(geometry.Pt(4, 2)), at.Add(geometry.Pt(6, 2)), at.Add(geometry.Pt(6, 4)), at.Add(geometry.Pt(4, 4)),
			at.Add(geometry.Pt(4, 6)), at.Add(geometry.Pt(2, 6)), at.Add(geometry.Pt(2, 4)), at.Add(geometry.Pt(0, 4)), at.Add(geometry.Pt(0, 2)), at.Add(geometry.Pt(2, 2))))
	}
	return s
}

// testCuts are first test cuts of a film, of a card's fold and edge, and of a pen.
func testCuts(ctx context.Context, t *testing.T) map[string]*testcut.Sheet {
	t.Helper()
	all := map[string]*testcut.Sheet{}
	d := workshop.Example()
	for _, c := range []struct {
		stock string
		op    artwork.Operation
	}{{"film-removable-610", artwork.KissCut}, {"card-220-a4", artwork.Score}, {"card-220-a4", artwork.ThroughCut}, {"card-220-a4", artwork.Pen}} {
		s, _ := d.Stock(c.stock)
		m := d.Machines[1]
		set, ok := passes.SettingFor(d.Settings, s, m, c.op)
		if !ok {
			t.Fatalf("no setting for %s of %s", c.op, c.stock)
		}
		req := passes.Request{Stock: s, Machine: m, Settings: d.Settings}
		next := trial.After(set.ForceGF, set.SpeedMMS, trial.Limits{MostGF: passes.MostForce(set, req), MostMMS: m.MaxSpeedMMS, StepMMS: 10}, nil)
		all[fmt.Sprintf("testcut-%s-%s", c.stock, c.op)] = must(testcut.Make(ctx, testcut.Request{Request: req, Setting: set, Cells: next.Cells}))
	}
	return all
}

// otherPictures are those that no plan of one film has: films on each other and test cuts;
// and the layout, weeding and passes of all further loads, as of panels.
func otherPictures(ctx context.Context, t *testing.T, f func(name string, p *figure.Picture)) {
	t.Helper()
	for _, films := range []int{2, 3, 5} {
		f(fmt.Sprintf("stack-%d/stack", films), must(picture.Stack(ctx, stackOf(films))))
	}
	cuts := testCuts(ctx, t)
	for _, name := range slices.Sorted(maps.Keys(cuts)) {
		f(name+"/testcut", must(picture.TestCut(ctx, cuts[name], "Test cut", name)))
	}
	one := must(ownPlans())["panels"]
	if len(one.layout.Loads) < 2 || one.layout.Panels == nil {
		t.Fatalf("%d loads and no panels", len(one.layout.Loads))
	}
	for load := range one.layout.Loads {
		m := one.layout.MapOf(&one.layout.Loads[load], &one.weeding)
		f(fmt.Sprintf("panel-%d/weeding", load+1), must(picture.Weeding(ctx, m)))
		f(fmt.Sprintf("panel-%d/layout", load+1), must(picture.Layout(ctx, &one.layout, m, load+1)))
		f(fmt.Sprintf("panel-%d/passes", load+1), must(picture.Passes(ctx, &one.passes, &one.layout, m, load+1)))
	}
	onSheets(ctx, t, f)
}

// onSheets are the small pictures of worksheets and, where the map of steps has no room
// there, the pages of it in print.
func onSheets(ctx context.Context, t *testing.T, f func(name string, p *figure.Picture)) {
	t.Helper()
	draw := func(name string, l *layout.Layout, m *weeding.Map) {
		f("sheet-"+name+"/layout", must(picture.BenchLayout(ctx, l, m, 1, 60, 75)))
		if small := must(picture.BenchMap(ctx, m, 107, 60)); small != nil {
			f("sheet-"+name+"/map", small)
			return
		}
		for i, page := range must(picture.WeedingPages(ctx, m, 186, 273)) {
			f(fmt.Sprintf("sheet-%s/map-%d", name, i+1), page)
		}
	}
	plans := maps.Clone(must(examples()))
	maps.Copy(plans, must(ownPlans()))
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		draw(name, &plans[name].layout, &plans[name].weeding)
	}
	class := must(classSet())
	draw("class", class.Layout, class.MapOn(1))
}
