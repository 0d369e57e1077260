package mend

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// The IDs of the mends, by which a request switches them off.
const (
	MendStray      = "stray_points"
	MendDuplicates = "duplicates"
	MendJoins      = "joins"
	MendGaps       = "near_gaps"
	MendTiny       = "tiny_segments"
	MendFaceted    = "faceted_curves"
)

// Options say how far to go.
type Options struct {
	Limits Limits
	Off    []string // IDs of mends that are not made
	// Unite keeps closed contours that run over each other whole, also where
	// they share a part of their outlines, so that they can be united.
	Unite bool
}

// Result is the mended lines and what was mended.
type Result struct {
	Strokes  []artwork.Stroke
	SavedMM  float64 // length that would have been cut twice
	Findings []finding.Finding
}

// maxRounds bounds how often the mends are repeated. One mend can open the way
// for another: a joined line may lie on a second one.
const maxRounds = 20

// Lines takes out duplicates, joins ends that meet or nearly do, and merges
// tiny segments, until nothing changes; then it draws chords of curves as arcs.
func Lines(e *Effort, strokes []artwork.Stroke, o Options) Result {
	t := tally{effort: e, off: o.Off}
	strokes, points := t.stray(strokes)
	strokes = t.slivers(strokes)
	for range maxRounds {
		before := t
		strokes = t.round(strokes, o)
		if e.over() || t.same(&before) {
			break
		}
	}
	if !e.over() {
		strokes = t.arcs(strokes)
	}
	r := Result{Strokes: append(strokes, points...), Findings: t.findings(o.Limits)}
	if t.on(MendDuplicates) {
		r.SavedMM = t.double.mm()
	}
	return r
}

// tally counts what was mended over all rounds.
type tally struct {
	effort                   *Effort
	off                      []string
	strays, twice, runs      int
	gaps, tinies             int
	double                   total // length that would have been cut twice
	widest                   float64
	strayAt, twiceAt, gapsAt []finding.Place
	runsAt, tiniesAt, arcsAt []finding.Place
	arcCount                 int
}

func (t *tally) same(u *tally) bool {
	return t.twice == u.twice && t.runs == u.runs && t.gaps == u.gaps && t.tinies == u.tinies
}

func (t *tally) on(id string) bool { return !slices.Contains(t.off, id) }

// slivers cuts thin outlines once. They count as lines that are drawn twice.
func (t *tally) slivers(strokes []artwork.Stroke) []artwork.Stroke {
	whole, gone := slivers(t.effort.steps(), strokes)
	t.drawnTwice(gone)
	if !t.on(MendDuplicates) {
		return strokes
	}
	return whole
}

func (t *tally) drawnTwice(gone removal) {
	t.twice += gone.count
	t.twiceAt = append(t.twiceAt, gone.places...)
	t.double += gone.saved
}

// arcs draws chords of curves as arcs, once nothing else changes.
func (t *tally) arcs(strokes []artwork.Stroke) []artwork.Stroke {
	curved, n, places := arcs(t.effort, strokes)
	t.arcCount, t.arcsAt = n, places
	if !t.on(MendFaceted) || t.effort.over() {
		return strokes
	}
	return curved
}

// round makes each mend once. A mend that is switched off is still tried, on
// the side, to say what it would change.
func (t *tally) round(strokes []artwork.Stroke, o Options) []artwork.Stroke {
	less, gone := duplicates(t.effort, strokes, o)
	if t.effort.over() {
		return strokes
	}
	if t.on(MendDuplicates) || t.twice == 0 {
		t.drawnTwice(gone)
	}
	if t.on(MendDuplicates) {
		strokes = less
	}
	strokes = t.joins(strokes)
	strokes = t.nearGaps(strokes, o.Limits)
	if t.on(MendStray) {
		strokes = withLength(t.effort.steps(), strokes)
	}
	whole, n, places := tiny(t.effort.steps(), strokes, o.Limits)
	if t.on(MendTiny) {
		strokes = whole
	}
	if t.on(MendTiny) || t.tinies == 0 {
		t.tinies += n
		t.tiniesAt = append(t.tiniesAt, places...)
	}
	return strokes
}

func (t *tally) joins(strokes []artwork.Stroke) []artwork.Stroke {
	c := newChain(t.effort, strokes)
	n := c.touching()
	if t.on(MendJoins) || t.runs == 0 {
		t.runs += n
		t.runsAt = append(t.runsAt, c.joinedPlaces()...)
	}
	if n == 0 || !t.on(MendJoins) {
		return strokes
	}
	return c.walk()
}

func (t *tally) nearGaps(strokes []artwork.Stroke, lim Limits) []artwork.Stroke {
	c := newChain(t.effort, strokes)
	ends, lines := c.pairs(c.contacts(lim.JoinMM), lim.JoinMM)
	var places []finding.Place
	for _, k := range append(slices.Clone(ends), lines...) {
		places = append(places, placeOf(&strokes[k.end.stroke()], geometry.BoxAround(c.at[k.end], k.at)))
		t.widest = max(t.widest, k.dist)
	}
	if t.on(MendGaps) || t.gaps == 0 {
		t.gaps += len(places)
		t.gapsAt = append(t.gapsAt, sortedPlaces(t.effort.steps(), places)...)
	}
	if len(places) == 0 || !t.on(MendGaps) {
		return strokes
	}
	for _, k := range ends {
		c.join(k.end, k.mate, c.corner(k.end, k.mate, lim.JoinMM))
	}
	for _, k := range lines {
		c.reach(k.end, c.extended(k, lim.JoinMM))
	}
	return c.walk()
}

func (c *chain) joinedPlaces() []finding.Place {
	var places []finding.Place
	for i, m := range c.mate {
		if int(m) > i && len(places) < finding.MaxPlaces {
			places = append(places, placeOf(&c.strokes[i/2], geometry.BoxAround(c.at[i])))
		}
	}
	return sortedPlaces(c.effort.steps(), places)
}

// findings lists what was mended, or would have been.
func (t *tally) findings(lim Limits) []finding.Finding {
	var all []finding.Finding
	add := func(code finding.Code, id string, n int, places []finding.Place, values finding.Values, effect string) {
		if n == 0 {
			return
		}
		f := finding.New(code, n, values, places...)
		m := finding.Mend{ID: id, Applied: t.on(id), Effect: f.Fill(effect)}
		if !m.Applied {
			f = f.As(finding.Warn)
		}
		all = append(all, f.WithMend(m))
	}
	add(finding.StrayPoints, MendStray, t.strays, t.strayAt, nil, "{count} {count:point|points} without length {count:is|are} left out.")
	add(finding.DuplicateLines, MendDuplicates, t.twice, t.twiceAt,
		finding.Values{"double_mm": finding.Num(t.double.mm()), "within_mm": finding.Num(lim.OverlapMM)}, "{double_mm} mm are cut once and not twice.")
	add(finding.LooseSegments, MendJoins, t.runs, t.runsAt, nil, "{count} {count:pair|pairs} of ends that meet {count:is|are} joined, so the knife does not lift there.")
	add(finding.NearGap, MendGaps, t.gaps, t.gapsAt,
		finding.Values{"widest_mm": finding.Num(t.widest), "join_mm": finding.Num(lim.JoinMM)}, "{count} {count:gap|gaps} of at most {widest_mm} mm {count:is|are} closed.")
	add(finding.TinySegments, MendTiny, t.tinies, t.tiniesAt,
		finding.Values{"tiny_mm": finding.Num(lim.TinyMM)}, "{count} {count:vertex is|vertices are} dropped; no line moves more than 0.01 mm.")
	add(finding.FacetedCurves, MendFaceted, t.arcCount, t.arcsAt,
		finding.Values{"within_mm": finding.Num(arcMM)}, "{count} {count:curve is|curves are} cut as arcs and not as short straight pieces; no line moves more than {within_mm} mm.")
	return all
}
