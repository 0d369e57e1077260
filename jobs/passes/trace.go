package passes

import (
	"iter"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// Excerpt says which moves of a plan are listed, and how.
type Excerpt struct {
	Load   int             // from 0
	Pass   int             // from 1, as if it were the first of the load; 0: all of them
	InFile bool            // what a file holds; else what the machine makes, with what it adds by itself
	Onto   geometry.Affine // from load coordinates to those of the moves
}

// Moves lists the moves of a load in their order, as the machine comes to make them: what
// files are longer for one that cuts too short is not in them.
func (p *Plan) Moves(b *budget.Budget, e Excerpt, strokes []artwork.Stroke, laid *layout.Layout) iter.Seq[toolpath.Move] {
	at := map[int]geometry.Affine{}
	strokes = laid.StrokesOf(&laid.Loads[e.Load], strokes)
	for _, placed := range laid.Loads[e.Load].Placements {
		b.Step()
		at[placed.Copy] = placed.Transform.Then(e.Onto)
	}
	var paths []toolpath.Pass
	for i := range p.Loads[e.Load].Passes {
		one := &p.Loads[e.Load].Passes[i]
		if e.Pass > 0 && e.Pass != i+1 {
			continue
		}
		path := one.path(func(k int) geometry.Path {
			if one.Mark != nil {
				return one.Mark.Box.Path().Transform(e.Onto)
			}
			run := one.Runs[k]
			return run.line(strokes[run.Stroke].Path).Transform(at[run.Copy])
		})
		if e.Pass > 0 && path.Lead == nil {
			path.Lead = one.LeadInAlone
		}
		if path.Lead != nil {
			path.Lead = &toolpath.LeadIn{From: e.Onto.Apply(path.Lead.From), To: e.Onto.Apply(path.Lead.To)}
		}
		if e.InFile {
			path.Rule = path.Rule.InFile()
		}
		paths = append(paths, path)
	}
	rest := p.Axes.Rest(laid.Loads[e.Load].WidthMM, laid.Loads[e.Load].LengthMM)
	return toolpath.Moves(b, e.Onto.Apply(rest), paths)
}

// path returns the pass as the machine runs it along these lines.
func (p *Pass) path(line func(int) geometry.Path) toolpath.Pass {
	return toolpath.Pass{Rule: p.Rule, Changed: p.Changed, Lead: p.LeadIn, Lines: p.Lines(), Line: line}
}

// Trace returns the line that a run draws on its load, in load coordinates:
// from its start, the way it is run, without the overcut of closed lines and repeats. A run that
// names no stroke or copy has an empty path.
func Trace(run Run, strokes []artwork.Stroke, laid *layout.Layout) geometry.Path {
	load, at, ok := placement(laid, run.Copy)
	if !ok {
		return geometry.Path{}
	}
	if strokes = laid.StrokesOf(load, strokes); run.Stroke < 0 || run.Stroke >= len(strokes) {
		return geometry.Path{}
	}
	return run.line(strokes[run.Stroke].Path).Transform(at.Transform)
}

// line returns path from the run's start, the way it is run.
func (r Run) line(path geometry.Path) geometry.Path {
	if r.BeforeMM > 0 || r.AfterMM > 0 {
		path = knife.Past(path, r.BeforeMM, r.AfterMM)
	}
	switch {
	case r.Reversed:
		return path.Reversed()
	case path.Closed && (r.Start > 0 || r.Along > 0) && r.Start < len(path.Segments):
		return startedAt(path, r.Start, r.Along)
	}
	return path
}

// startedAt returns a closed path from a share along a segment on.
func startedAt(path geometry.Path, segment int, along float64) geometry.Path {
	from := geometry.Path{Start: path.Start, Closed: true}
	if segment > 0 {
		from.Start = path.Segments[segment-1].End
	}
	rest, first := path.Segments[segment:], path.Segments[:segment]
	if along <= 0 {
		from.Segments = append(append(from.Segments, rest...), first...)
		return from
	}
	before, after := knife.Split(from.Start, rest[0], along)
	from.Start = before.End
	from.Segments = append(append(from.Segments, after), rest[1:]...)
	from.Segments = append(append(from.Segments, first...), before)
	return from
}

// placement finds a copy and its load; copies are numbered through the loads from 1.
func placement(laid *layout.Layout, number int) (*layout.Load, layout.Placement, bool) {
	i := number - 1
	for k := range laid.Loads {
		load := &laid.Loads[k]
		if i >= 0 && i < len(load.Placements) {
			return load, load.Placements[i], true
		}
		i -= len(load.Placements)
	}
	return nil, layout.Placement{}, false
}
