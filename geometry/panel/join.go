package panel

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// join joins lines whose ends meet, two at a point, into longer ones, and closes those
// that come back to where they began.
func join(b *budget.Budget, runs []Line) []Line {
	j := joiner{b: b, runs: runs, used: make([]bool, len(runs)), at: map[geometry.Point][]int{}}
	for i := range runs {
		b.Step()
		for _, end := range [2]geometry.Point{runs[i].Path.Start, runs[i].Path.End()} {
			j.at[end] = append(j.at[end], i)
		}
	}
	var out []Line
	for i := range runs {
		if !j.used[i] {
			j.used[i] = true
			out = append(out, Line{j.grown(runs[i].Path), runs[i].Of})
		}
	}
	return out
}

// joiner joins lines, each once.
type joiner struct {
	b    *budget.Budget
	runs []Line
	used []bool
	at   map[geometry.Point][]int // lines by their ends
}

// grown returns a line with all that goes on from its ends.
func (j *joiner) grown(p geometry.Path) geometry.Path {
	p.Segments = slices.Clone(p.Segments)
	j.extend(&p)
	if p.Start != p.End() {
		p = p.Reversed()
		j.extend(&p)
		p = p.Reversed()
	}
	p.Closed = p.Start == p.End() && len(p.Segments) > 1
	return p
}

// extend goes on from the end of a line as long as one other begins there.
func (j *joiner) extend(p *geometry.Path) {
	for {
		more, ok := j.next(p.End())
		if !ok {
			return
		}
		j.b.Spend(1 + len(more.Segments))
		p.Segments = append(p.Segments, more.Segments...)
	}
}

// next returns the line that alone goes on from a point, run from there.
func (j *joiner) next(p geometry.Point) (geometry.Path, bool) {
	meet := j.at[p]
	if len(meet) != 2 {
		return geometry.Path{}, false
	}
	for _, i := range meet {
		if j.used[i] {
			continue
		}
		j.used[i] = true
		if j.runs[i].Path.Start != p {
			return j.runs[i].Path.Reversed(), true
		}
		return j.runs[i].Path, true
	}
	return geometry.Path{}, false
}
