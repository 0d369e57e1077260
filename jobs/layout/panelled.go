package layout

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/geometry/panel"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// inPanels lays out a piece that does not fit as panels, or asks whether it may, or says
// that it does not fit. Its error is a fault of the program.
func (l *Layout) inPanels(b *budget.Budget, piece Piece, req Request, a area) error {
	d := divide(b, piece, req, a)
	if d == nil || req.onBareSheet(piece.Bounds) || req.Panels == PanelsRefused {
		l.offTheStock(piece.Bounds, req, a)
		return nil
	}
	cut := newCutter(b, piece, req)
	strokes := cut.strokes(b, d)
	if !l.mayPanel(piece, req, d) {
		if len(l.Questions) == 0 {
			l.offTheStock(piece.Bounds, req, a)
		}
		return nil
	}
	if err := l.makePanels(b, piece, req, d, cut, strokes); err != nil {
		return err
	}
	usage := usageOf{req: req}
	for i, m := range l.Maps {
		one := PieceOf(m, req.Stock)
		one.Single = false // it belongs to others
		loads, err := l.layPanel(b, one, req, a, i+1, d.turned)
		if err != nil {
			return err
		}
		usage.add(b, one, loads, a)
	}
	l.Usage = usage.sum
	l.Usage.wastes(req)
	l.tellPanels(piece, req)
	return nil
}

// onBareSheet reports whether a box would fit on a sheet without margins: it is too near
// the edges then, and a little smaller it needs no panels.
func (req Request) onBareSheet(box geometry.Box) bool {
	s := req.Stock
	sheet := area{box: geometry.Box{Max: geometry.Pt(s.WidthMM, s.LengthMM)}}
	return s.Form != workshop.Roll && sheet.holds(box)
}

// makePanels makes the panels of a piece of the strokes in each.
func (l *Layout) makePanels(b *budget.Budget, piece Piece, req Request, d *division, cut *cutter, within [][]artwork.Stroke) error {
	l.Panels = &Panels{Join: req.Stock.Joined(), CrossedMM: d.CrossedMM, EqualMM: d.EqualMM}
	marks := newMarker(b, cut, d, l.Panels.Join.OverlapMM)
	codes := make([]string, len(d.Panels))
	for i := range codes {
		codes[i] = fmt.Sprintf("P%d of %d", i+1, len(codes))
	}
	beside, written := make([][]artwork.Stroke, len(codes)), make([][]artwork.Stroke, len(codes))
	switch {
	case req.Chart.Stock.Liner:
		beside = marks.marks(b)
		for i, code := range codes {
			written[i] = marks.code(b, i, code, l.Mirrored)
		}
	case l.Panels.Join.Joint == workshop.Tab: // card beside the work falls away with it
		beside, written = marks.tabs(b, codes, l.Mirrored)
	}
	for i, p := range d.Panels {
		one := Panel{Code: codes[i], Box: p.Box, Marks: len(beside[i]), Coded: len(written[i]) > 0}
		strokes := slices.Concat(within[i], beside[i], written[i])
		m, err := piece.Map.Part(b, cut.keeps, strokes, req.Chart)
		if err != nil {
			return err
		}
		m.Panel = one.Code
		l.Maps = append(l.Maps, m)
		l.Panels.List = append(l.Panels.List, one)
	}
	return nil
}

// cutter cuts panels out of a piece.
type cutter struct {
	work      geometry.Box
	lines     []artwork.Stroke // of the piece, without what helped to weed it
	paths     []geometry.Path
	keeps     weeding.Keeps
	operation artwork.Operation // of seams
}

func newCutter(b *budget.Budget, piece Piece, req Request) *cutter {
	c := &cutter{work: piece.work(), keeps: piece.Map.Keeps(b), operation: artwork.ThroughCut}
	if req.Chart.Stock.Liner {
		c.operation = artwork.KissCut
	}
	edge := false
	for _, s := range piece.Map.Strokes {
		stencil := piece.Map.Purpose == weeding.Stencil
		switch {
		case s.Added == artwork.Relief || s.Added == artwork.Border && !stencil:
			continue
		case s.Added == artwork.Border:
			s.Added, edge = "", true
		}
		c.add(s)
	}
	if piece.Map.Purpose == weeding.Stencil && !edge { // the sheet of stock is no edge of a panel
		c.add(artwork.Stroke{Path: piece.Bounds.Path(), Operation: c.operation, Shape: -1})
	}
	return c
}

func (c *cutter) add(s artwork.Stroke) {
	c.lines, c.paths = append(c.lines, s), append(c.paths, s.Path)
}

// strokes returns the strokes of each panel, and takes out of the division the panels in
// which nothing lies: those of work that is spread out, such as an L.
func (c *cutter) strokes(b *budget.Budget, d *division) [][]artwork.Stroke {
	var all [][]artwork.Stroke
	d.Panels = slices.DeleteFunc(d.Panels, func(p panel.Panel) bool {
		s := c.within(b, p.Box)
		if len(s) > 0 {
			all = append(all, s)
		}
		return len(s) == 0
	})
	return all
}

// within returns the strokes of a panel. Where it reaches to an edge of the work, it
// takes what lies on the edge too.
func (c *cutter) within(b *budget.Budget, box geometry.Box) []artwork.Stroke {
	box = c.reach(box)
	bounds := func(i int) bool { return c.lines[i].Operation == c.operation }
	var all []artwork.Stroke
	for _, line := range panel.Cut(b, c.paths, bounds, box, c.keeps.At) {
		s := artwork.Stroke{Operation: c.operation, Shape: -1, Added: artwork.Seam}
		if line.Of >= 0 {
			s = c.lines[line.Of]
		}
		s.Path = line.Path
		all = append(all, s)
	}
	return all
}

// reach makes the box of a panel reach beyond the edges of the work that it touches.
func (c *cutter) reach(box geometry.Box) geometry.Box {
	const beyond, same = 1, 1e-6 // mm
	outer := c.work.Grow(beyond)
	if box.Min.X <= c.work.Min.X+same {
		box.Min.X = outer.Min.X
	}
	if box.Min.Y <= c.work.Min.Y+same {
		box.Min.Y = outer.Min.Y
	}
	if box.Max.X >= c.work.Max.X-same {
		box.Max.X = outer.Max.X
	}
	if box.Max.Y >= c.work.Max.Y-same {
		box.Max.Y = outer.Max.Y
	}
	return box
}

// layPanel puts the copies of a panel on loads of their own.
func (l *Layout) layPanel(b *budget.Budget, piece Piece, req Request, a area, number int, turned bool) ([]Load, error) {
	allowed := nest.Turns{Straight: !turned, Quarter: turned}
	size := piece.size()
	plan, ok := a.equal(b, size, req.Stock, req.Copies, allowed)
	if !ok {
		return nil, fmt.Errorf("layout: panel %d of %g by %g mm does not fit", number, size.WidthMM, size.LengthMM)
	}
	first, before := len(l.Loads), 0
	for _, load := range l.Loads {
		before += len(load.Placements)
	}
	l.load(b, piece, req, a, inRows(plan))
	for i := range l.Loads[first:] {
		load := &l.Loads[first+i]
		load.Map = number
		for k := range load.Placements {
			load.Placements[k].Copy += before
		}
	}
	return l.Loads[first:], nil
}

// tellPanels says what is made, and whether the roll holds it.
func (l *Layout) tellPanels(piece Piece, req Request) {
	work, s := piece.work(), req.Stock
	l.Findings = append(l.Findings, finding.New(finding.MadeInPanels, len(l.Panels.List), finding.Values{
		"joint": finding.Text(jointText(l.Panels.Join)), "crossed_mm": finding.Num(math.Round(l.Panels.CrossedMM)), "equal_mm": finding.Num(math.Round(l.Panels.EqualMM)),
		"hang": finding.Text(l.Panels.Hang() + ownBorders(piece.Map, l.Maps)),
	}, finding.Place{Box: work}))
	if need := l.Usage.RollMM; s.Form == workshop.Roll && s.LengthMM > 0 && need > s.LengthMM {
		one := need / float64(req.Copies)
		l.tooShort(s, need, req.Copies, int(s.LengthMM/one))
	}
}

// ownBorders says that panels have weed borders, where the whole needs none: an outline
// frames it, but what is cut beside a panel has to be peeled.
func ownBorders(whole *weeding.Map, panels []*weeding.Map) string {
	if whole.Bordered() || !slices.ContainsFunc(panels, (*weeding.Map).Bordered) {
		return ""
	}
	return " Each panel gets a weed border of its own all the same, as its marks lie in what is peeled beside it."
}

// Hang says in which order panels are put up: outdoors rain must run over a seam and not
// into it, so the upper lies over the lower (common practice, no source).
func (p *Panels) Hang() string {
	switch p.Join.Joint {
	case workshop.Overlap:
		return "Hang P1 first, the lowest, and each next one over it, so that rain runs over the seams."
	case workshop.Tab:
		return "Glue P2 onto the tab of P1, and so on."
	}
	return "Lay P1 first and each next one against its edge."
}

// usageOf adds up what loads of different pieces take.
type usageOf struct {
	req             Request
	sum             Usage
	foot, net, used float64 // mm²
}

// add adds the loads of a piece.
func (u *usageOf) add(b *budget.Budget, piece Piece, loads []Load, a area) {
	one := Layout{Loads: loads}
	one.measure(b, piece, u.req, a, nest.Turns{Straight: true, Quarter: true})
	s, o := &u.sum, one.Usage
	s.Sheets += o.Sheets
	s.RollMM += o.RollMM
	s.StockMM2 += o.StockMM2
	s.AreaBound += o.AreaBound
	s.TapeMM2 += o.TapeMM2
	s.TapeM += o.TapeM
	s.TapePieces += o.TapePieces
	s.TapeStrips += o.TapeStrips
	s.TapeTack = o.TapeTack
	s.Offcut, s.OffcutFullWidth = o.Offcut, o.OffcutFullWidth // of the last load
	copies := float64(u.req.Copies)
	u.foot, u.net = u.foot+piece.footprint()*copies, u.net+piece.NetMM2*copies
	for _, load := range loads {
		box := geometry.EmptyBox()
		for _, p := range load.Placements {
			box = box.Union(p.Bounds)
		}
		u.used += box.Width() * box.Height()
	}
	s.NestWaste, s.ArtWaste, s.ProcessWaste = waste(u.foot, u.used), waste(u.net, u.used), waste(u.net, s.StockMM2)
}
