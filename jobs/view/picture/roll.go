package picture

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/layout"
)

// A roll lies on its side. Where it is longer than longRoll times its width it
// is drawn in lengths of about oneLength widths, one below the other.
const (
	longRoll  = 3.2
	oneLength = 2.6
	mostRows  = 10
)

// stock is one load as it is drawn: whole, or in lengths from the loading edge.
type stock struct {
	box    geometry.Box // mm
	rows   []geometry.Box
	turned bool
	roll   bool // what is cut off it is measured in whole mm
}

// stockOf says how a load is drawn. Rolls run to the right.
func stockOf(l *layout.Layout, ld *layout.Load) stock {
	st := stock{box: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(ld.WidthMM, ld.LengthMM))}
	st.roll = l.Usage.RollMM > 0
	st.turned = st.roll && ld.LengthMM > ld.WidthMM
	n := 1
	if ratio := ld.LengthMM / ld.WidthMM; st.turned && ratio > longRoll {
		n = min(mostRows, int(math.Ceil(ratio/oneLength)))
	}
	for i := range n {
		from, to := ld.LengthMM*float64(i)/float64(n), ld.LengthMM*float64(i+1)/float64(n)
		st.rows = append(st.rows, geometry.BoxAround(geometry.Pt(0, from), geometry.Pt(ld.WidthMM, to)))
	}
	return st
}

// eachRow draws a load in its rows: what is drawn within each, then the marks
// over it.
func (p *page) eachRow(st stock, drawn func(), marks func(row geometry.Box)) {
	if len(st.rows) == 1 {
		p.Open(st.box, figure.Inset{Dimensions: true, Turned: st.turned})
		drawn()
		long := st.box.Height()
		if st.roll {
			long = cutOff(long)
		}
		across, along := figure.Number(st.box.Width())+" mm", figure.Number(long)+" mm"
		if st.turned {
			across, along = along, across
		}
		p.Dimensions(p.OnPage(st.box), p.OnPage(st.box), across, along)
		p.Zone = figure.ZoneMarks
		marks(st.box)
		fed(p, st)
		return
	}
	for i, row := range st.rows {
		p.Caption(fmt.Sprintf("%s to %s mm from the loading edge", whole(row.Min.Y), whole(row.Max.Y)))
		p.Open(row, figure.Inset{Turned: true, Tight: true})
		p.Within(p.Area, drawn)
		p.Zone = figure.ZoneMarks
		marks(row)
		if i == 0 {
			fed(p, st)
		}
	}
}

func whole(v float64) string { return figure.Number(math.Round(v)) }

// leadText says what the broad line is.
const leadText = "loading edge: this goes in first"

func leadStyle() figure.Style { return figure.Style{Stroke: figure.Ink, Width: 6} }

// lead draws the edge that goes in first as a broad line.
func (p *page) lead(st stock) {
	p.ShowWork(leadStyle(), geometry.Polyline(st.box.Min, geometry.Pt(st.box.Max.X, st.box.Min.Y)))
}

// feed shows in which direction the stock goes into the machine.
func (p *page) feed(turned bool) {
	p.Legend("the stock is fed this way, its loading edge first", func(b geometry.Box) {
		from, dir, long := geometry.Pt(b.Centre().X, b.Min.Y-3), geometry.Pt(0, 1), 19.0
		if turned {
			from, dir, long = geometry.Pt(b.Max.X-4, b.Centre().Y), geometry.Pt(-1, 0), 38
		}
		p.Arrow(figure.Style{Stroke: figure.Ink, Width: 1.8}, from, dir, long)
	})
}

func pick(l *layout.Layout, load int) (*layout.Load, error) {
	if load < 1 || load > len(l.Loads) {
		return nil, fmt.Errorf("picture: load %d of %d", load, len(l.Loads))
	}
	return &l.Loads[load-1], nil
}
