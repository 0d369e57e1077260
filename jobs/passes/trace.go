package passes

import (
	"iter"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// Made says for whom moves are listed.
type Made bool

// For whom moves are listed.
const (
	ByMachine Made = false // as the machine makes them, with what it adds by itself
	InFile    Made = true  // what a file for it holds
)

// Moves lists every move of a load, counted from 0, in their order: of all passes,
// or with pass from 0 of that one alone, which counts as pass 0 of the moves then.
// The places are load coordinates.
func (p *Plan) Moves(b *budget.Budget, load, pass int, strokes []artwork.Stroke, laid *layout.Layout, made Made) iter.Seq[toolpath.Move] {
	at := map[int]geometry.Affine{}
	for _, placed := range laid.Loads[load].Placements {
		b.Step()
		at[placed.Copy] = placed.Transform
	}
	var paths []toolpath.Pass
	for i := range p.Loads[load].Passes {
		one := &p.Loads[load].Passes[i]
		if pass >= 0 && pass != i {
			continue
		}
		path := one.path(func(k int) geometry.Path {
			run := one.Runs[k]
			return run.line(strokes[run.Stroke].Path).Transform(at[run.Copy])
		})
		if made == InFile {
			path.Rule = path.Rule.InFile()
		}
		paths = append(paths, path)
	}
	return toolpath.Moves(b, paths)
}

// path returns the pass as the machine runs it along these lines.
func (p *Pass) path(line func(int) geometry.Path) toolpath.Pass {
	return toolpath.Pass{Rule: p.Rule, Changed: p.Changed, Lead: p.LeadIn, Lines: len(p.Runs), Line: line}
}

// Trace returns the line that a run draws on its load, in load coordinates:
// from its start, the way it is run, without overcut and repeats. A run that
// names no stroke or copy has an empty path.
func Trace(run Run, strokes []artwork.Stroke, laid *layout.Layout) geometry.Path {
	at, ok := placement(laid, run.Copy)
	if !ok || run.Stroke < 0 || run.Stroke >= len(strokes) {
		return geometry.Path{}
	}
	return run.line(strokes[run.Stroke].Path).Transform(at.Transform)
}

// line returns path from the run's start, the way it is run.
func (r Run) line(path geometry.Path) geometry.Path {
	switch {
	case r.Reversed:
		return path.Reversed()
	case path.Closed && r.Start > 0 && r.Start < len(path.Segments):
		from := geometry.Path{Start: path.Segments[r.Start-1].End, Closed: true}
		from.Segments = append(from.Segments, path.Segments[r.Start:]...)
		from.Segments = append(from.Segments, path.Segments[:r.Start]...)
		return from
	}
	return path
}

// placement finds a copy; they are numbered through the loads from 1.
func placement(laid *layout.Layout, number int) (layout.Placement, bool) {
	i := number - 1
	for _, load := range laid.Loads {
		if i >= 0 && i < len(load.Placements) {
			return load.Placements[i], true
		}
		i -= len(load.Placements)
	}
	return layout.Placement{}, false
}
