package meaning

import (
	"cmp"
	"slices"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/workshop"
)

// give turns lines into strokes with an operation and leaves out what is not
// for the machine. It asks about lines the convention does not know, and about
// operations the material does not allow.
func (k *desk) give(lines []line, allowed []workshop.Meaning) {
	s := k.sort(lines)
	takeLegends(k, s.unknown)
	k.askMeanings(&s, offered{allowed, k.req.Stock.Liner})
	notes := slices.Concat(s.known[workshop.MeansNothing], s.known[workshop.MeansFrame])
	putAside(k, notes, false)
	if k.req.Only == nil {
		_, foreign := legends(k, notes)
		k.list(finding.LeftOut, foreign, nil)
	}
	k.list(finding.UnpaintedGeometry, s.unpainted, finding.Values{"names": finding.Text(kinds(k.budget, s.unpainted))})
	k.list(finding.FillOutline, s.filled, nil)
	k.operate(s.known, allowed)
	if slices.Contains(allowed, workshop.MeansScore) {
		foldSides(k, s.known[workshop.MeansScore])
	}
}

// sorted is lines by what the convention says of them.
type sorted struct {
	known     map[workshop.Meaning][]line
	unknown   map[string]*group // by the ID of the question about them
	unpainted []line            // neither line nor fill
	filled    []line            // known, and to be run, by their fill alone
}

// flatFillMM is how far from one line a fill may reach and still show nothing:
// rounding in any file format.
const flatFillMM = 1e-6

func (k *desk) sort(lines []line) sorted {
	s := sorted{known: map[workshop.Meaning][]line{}, unknown: map[string]*group{}}
	shared := sharedColours(k.budget, lines)
	rules := reader{convention: &k.req.Convention, seen: map[mark]reading{}}
	for _, l := range lines {
		k.budget.Spend(1 + len(l.path.Segments))
		if l.shape.Stroke == nil && (l.shape.Fill == nil || l.path.OnLine(flatFillMM)) {
			s.unpainted = append(s.unpainted, l)
			continue
		}
		if k.req.Only != nil {
			means := onlyMeans(k.req.Only[l.number])
			s.known[means] = append(s.known[means], l)
			continue
		}
		m := markOf(&l)
		r := rules.read(m)
		if r.means == "" {
			s.wonder(questionID(m, r.near, shared), m, r.near, l)
			continue
		}
		if m.painted && r.means != workshop.MeansNothing && r.means != workshop.MeansFrame {
			s.filled = append(s.filled, l)
		}
		l.fold = r.fold
		s.known[r.means] = append(s.known[r.means], l)
	}
	return s
}

// onlyMeans is what a line is for where it is known whether it is cut.
func onlyMeans(cut bool) workshop.Meaning {
	if cut {
		return workshop.MeansCut
	}
	return workshop.MeansNothing
}

// wonder adds a line to the group that the question id is about. The layer
// that comes first by name, and on it the thinnest line, speaks for the group.
func (s *sorted) wonder(id string, m mark, close []near, l line) {
	g := s.unknown[id]
	if g == nil {
		g = &group{id: id, mark: m, near: close}
		s.unknown[id] = g
	}
	if cmp.Or(cmp.Compare(m.layer, g.mark.layer), cmp.Compare(m.widthMM, g.mark.widthMM)) < 0 {
		g.mark, g.near = m, close
	}
	g.lines = append(g.lines, l)
}

// list notes one finding for all the lines, none for no line.
func (k *desk) list(code finding.Code, lines []line, values finding.Values) {
	if len(lines) > 0 {
		k.note(finding.New(code, len(lines), values, places(k.budget, lines)...))
	}
}

// kinds names the kinds of the shapes of lines.
func kinds(b *budget.Budget, lines []line) string {
	var all []string
	for _, l := range lines {
		b.Step()
		all = append(all, l.shape.Source.Kind)
	}
	slices.SortFunc(all, func(p, q string) int {
		b.Step()
		return strings.Compare(p, q)
	})
	return strings.Join(slices.Compact(all), ", ")
}

func places(b *budget.Budget, lines []line) []finding.Place {
	all := make([]finding.Place, len(lines))
	for i, l := range lines {
		b.Step()
		all[i] = finding.Place{Box: l.path.BoundsIn(b), Layer: l.shape.Layer, Source: l.shape.Source.String()}
	}
	slices.SortFunc(all, func(p, q finding.Place) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.Box.Min.X, q.Box.Min.X), cmp.Compare(p.Box.Min.Y, q.Box.Min.Y),
			cmp.Compare(p.Box.Max.X, q.Box.Max.X), cmp.Compare(p.Box.Max.Y, q.Box.Max.Y), cmp.Compare(p.Source, q.Source))
	})
	return all
}

// operate makes strokes of the lines, asking about operations that the
// material does not allow.
func (k *desk) operate(byMeaning map[workshop.Meaning][]line, allowed []workshop.Meaning) {
	k.taken = k.pending
	for _, m := range allowed {
		k.taken = k.taken.Union(extent(k.budget, byMeaning[m]))
	}
	for _, m := range run() {
		lines, as := byMeaning[m], m
		if len(lines) > 0 && !slices.Contains(allowed, m) {
			as = k.askUnsupported(m, byMeaning, allowed)
		}
		if as == "" {
			k.pending = k.pending.Union(extent(k.budget, lines))
		}
		if as == "" || as == workshop.MeansNothing {
			putAside(k, lines, as == "")
			continue
		}
		k.strokes = slices.Grow(k.strokes, len(lines))
		for _, l := range lines {
			k.budget.Spend(1 + len(l.path.Segments))
			k.strokes = append(k.strokes, stroke(l, operation(as, &k.req.Stock)))
			if k.given != nil && k.given.Of == size.LongestLine {
				k.longest = max(k.longest, evidence.LongestRun(&l.path))
			}
		}
	}
}

// run are the meanings of lines that a machine runs.
func run() []workshop.Meaning {
	return []workshop.Meaning{workshop.MeansPen, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansCut}
}

// unsupported is the ID of the answer that was given about the lines of a meaning
// that the stock does not take, "" for none.
func unsupported(k *desk, m workshop.Meaning) string {
	q := ask.Question{ID: ask.ID(artwork.Name, "operation:"+string(m)), Answers: []ask.Answer{{ID: string(workshop.MeansNothing)}, {ID: string(workshop.MeansCut)}}}
	a, _ := k.req.Replies.To(&q, groupsOf("operation:"+string(m))...)
	return a.ID
}

// askUnsupported asks about the lines of a meaning that is not among the allowed.
func (k *desk) askUnsupported(m workshop.Meaning, byMeaning map[workshop.Meaning][]line, allowed []workshop.Meaning) workshop.Meaning {
	lines, without := byMeaning[m], k.taken
	for _, other := range run() {
		if other != m && !slices.Contains(allowed, other) && unsupported(k, other) != string(workshop.MeansNothing) {
			without = without.Union(extent(k.budget, byMeaning[other]))
		}
	}
	values := finding.Values{"operation": finding.Text(verb(m)), "stock": finding.Text(k.req.Stock.Name)}
	f := finding.New(finding.OperationUnsupported, len(lines), values, places(k.budget, lines)...)
	return workshop.Meaning(k.ask(f, sized(k, ask.Question{
		ID:   "operation:" + string(m),
		Text: f.Fill("There {count:is|are} {count} {count:line|lines} to {operation}, which cannot be done on {stock}. What should happen?"),
		Answers: []ask.Answer{
			{ID: string(workshop.MeansNothing), Label: f.Fill("Leave {count:it|them} out"), Evidence: "The rest of the drawing stays as it is."},
			{ID: string(workshop.MeansCut), Label: f.Fill("Cut {count:it|them}"), Evidence: "A cut parts what lies beside it, and changes what is peeled off or falls out."},
		},
	}, without, without.Union(extent(k.budget, lines)))))
}

// stroke makes the stroke of a line. Where one sees a fill and no line of
// another colour, the outline is closed by a straight line, as a fill is (SVG 2,
// 13.4; ISO 32000-2, 8.5.3.3.1). A line of another colour ends where it is drawn.
func stroke(l line, op artwork.Operation) artwork.Stroke {
	s := artwork.Stroke{
		Path: l.path, Operation: op, Shape: l.number, Layer: l.shape.Layer,
		Colour: ink(l.shape), Sources: []drawing.Source{l.shape.Source},
	}
	if l.shape.Fill != nil && *s.Colour == *l.shape.Fill {
		s.Path.Segments = slices.Clone(s.Path.Segments)
		s.Path.Close()
	}
	if l.shape.Fill != nil {
		s.Fill = cmp.Or(l.shape.FillRule, drawing.NonZero)
	}
	return s
}
