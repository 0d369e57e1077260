package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/weed"
)

// Weeding draws the map of what stays and what goes, with the order of the
// steps, to be pinned over the bench.
func Weeding(m *weed.Map) *Picture {
	p := newPage("Weeding map", weedingSubtitle(m), m.Bounds)
	for i := range m.Regions {
		p.region(&m.Regions[i])
	}
	p.cutLines(m.Strokes)
	p.fragile(m.Regions)
	p.steps(m)
	p.scaleBar()
	p.weedingLegend(m)
	return p.finish()
}

func weedingSubtitle(m *weed.Map) string {
	kept := 0
	for i := range m.Regions {
		if m.Regions[i].Kept() {
			kept++
		}
	}
	return fmt.Sprintf("%s, %s: %d kept, %d steps to peel", m.Purpose, sizeText(m.Bounds.Width(), m.Bounds.Height()), kept, len(m.Steps))
}

func regionTint(c weed.Class) string {
	switch c {
	case weed.Kept:
		return keptTint
	case weed.Ground:
		return sandTint
	case weed.Counter:
		return emberTint
	}
	return plainTint
}

func (p *page) region(r *weed.Region) {
	rings := p.project(append([]geometry.Path{r.Outer}, r.Holes...))
	p.draw(style{fill: regionTint(r.Class)}, rings...)
	if r.Kept() {
		p.draw(style{stroke: keptInk, width: 0.7, opacity: 0.55}, hatch(rings, 45, 7)...)
	}
}

// cutLines draws all strokes; added lines look unlike those of the drawing.
func (p *page) cutLines(strokes []artwork.Stroke) {
	for _, s := range strokes {
		st := strokeStyle(s.Operation)
		switch s.Added {
		case artwork.Relief, artwork.Seam:
			st = style{stroke: relief, width: 2, dash: []float64{7, 5}}
		case artwork.Border:
			st = style{stroke: relief, width: 1.6, dash: []float64{14, 4, 3, 4}}
		}
		p.show(st, s.Path)
	}
}

func (p *page) fragile(regions []weed.Region) {
	s := style{stroke: alarm, width: 2, dash: []float64{3, 3}}
	for _, r := range regions {
		if !r.Fragile {
			continue
		}
		b := r.Outer.Bounds()
		c := p.view.Apply(b.Centre())
		rad := (geometry.Pt(b.Width(), b.Height()).Norm()/2)*p.scale + 5
		p.draw(s, geometry.Circle(c, rad))
	}
}

// steps numbers the removed regions in the order in which they are peeled,
// with an arrow along the pull on those that have room.
func (p *page) steps(m *weed.Map) {
	byNumber := map[int]*weed.Region{}
	for i := range m.Regions {
		byNumber[m.Regions[i].Number] = &m.Regions[i]
	}
	for _, st := range m.Steps {
		room := 0.0
		if r := byNumber[st.Region]; r != nil {
			room = r.PickRadiusMM
		}
		if room*p.scale > 26 {
			q := p.view.Apply(st.Pick)
			p.arrow(style{stroke: relief, width: 1.8}, q, st.PeelDeg, 30)
		}
		p.badge(st.Pick, room, st.Order, style{stroke: relief, fill: paper})
	}
}

func (p *page) weedingLegend(m *weed.Map) {
	has := map[weed.Class]bool{}
	fragile := false
	for i := range m.Regions {
		has[m.Regions[i].Class] = true
		fragile = fragile || m.Regions[i].Fragile
	}
	for _, e := range []struct {
		class weed.Class
		text  string
	}{
		{weed.Kept, "hatched: stays on the liner or in your hand"},
		{weed.Surround, "surround: goes"},
		{weed.Ground, "ground between kept shapes: goes"},
		{weed.Counter, "counter inside a shape: goes"},
	} {
		if has[e.class] {
			p.legend(e.text, p.regionSwatch(e.class))
		}
	}
	if hasAdded(m.Strokes, artwork.Border) {
		p.legend("weed border, added by the plan", p.lineSwatch(style{stroke: relief, width: 1.6, dash: []float64{14, 4, 3, 4}}))
	}
	if hasAdded(m.Strokes, artwork.Relief) {
		p.legend("relief line, added so that the film peels in pieces", p.lineSwatch(style{stroke: relief, width: 2, dash: []float64{7, 5}}))
	}
	if len(m.Steps) > 0 {
		p.legend("peel in the order of the numbers; lift where the number stands, pull along the arrow", func(b geometry.Box) {
			p.draw(style{stroke: relief, width: 1.4}, geometry.Circle(b.Centre(), 8))
			p.writeBold(geometry.Pt(b.Centre().X, b.Centre().Y+4), 11, middle, ink, "1")
		})
	}
	if fragile {
		p.legend("small piece: hold it down while you peel round it", func(b geometry.Box) {
			p.draw(style{stroke: alarm, width: 2, dash: []float64{3, 3}}, geometry.Circle(b.Centre(), 8))
		})
	}
}

func hasAdded(strokes []artwork.Stroke, a artwork.Added) bool {
	for _, s := range strokes {
		if s.Added == a {
			return true
		}
	}
	return false
}

func (p *page) regionSwatch(c weed.Class) func(geometry.Box) {
	return func(b geometry.Box) {
		p.draw(style{fill: regionTint(c), stroke: ink, width: 0.8}, b.Path())
		if c == weed.Kept {
			p.draw(style{stroke: keptInk, width: 0.7, opacity: 0.55}, hatch([]geometry.Path{b.Path()}, 45, 7)...)
		}
	}
}
