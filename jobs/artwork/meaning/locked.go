package meaning

import (
	"maps"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// The question about lines on locked layers, and its answers.
const (
	questionLocked = "locked_layers"
	answerLeaveOut = "leave_out"
	answerUse      = "use"
)

// unlocked takes out the lines on locked layers, unless a person wants them.
// They show, and may be finished work, but also a template that is there to be
// drawn on: only who drew them knows. Those that the convention leaves out
// anyway are left to it, and those that it does not know are asked about on their
// own anyway, so that nothing is asked twice.
func (k *desk) unlocked(layers []drawing.Layer, lines []line) []line {
	isLocked := map[string]bool{}
	for _, l := range layers {
		if l.Locked {
			isLocked[l.Name] = true
		}
	}
	if len(isLocked) == 0 {
		return lines
	}
	open := openLines(k.budget, &k.req.Convention, lines, isLocked)
	names := map[string]bool{}
	var free, locked []line
	for i := range lines {
		k.budget.Step()
		l := &lines[i]
		l.locked = isLocked[l.shape.Layer]
		if !l.locked || open[i].idle || open[i].alone {
			free = append(free, *l)
			continue
		}
		locked, names[l.shape.Layer] = append(locked, *l), true
	}
	if len(locked) == 0 {
		return lines
	}
	answer := k.askLocked(locked, free, slices.Sorted(maps.Keys(names)))
	if answer == answerUse {
		return lines
	}
	k.putAside(locked, answer == "")
	return free
}

// openLine is what is known of a line before it is asked about.
type openLine struct {
	idle  bool // the convention leaves it out
	alone bool // it is asked what it is for, and no line on another kind of layer with it
}

func openLines(b *budget.Budget, c *workshop.Convention, lines []line, isLocked map[string]bool) []openLine {
	shared := sharedColours(b, lines)
	rules := reader{convention: c, seen: map[mark]reading{}}
	all, ids, mixed := make([]openLine, len(lines)), make([]string, len(lines)), map[string]bool{}
	for i := range lines {
		b.Step()
		m := markOf(&lines[i])
		r := rules.read(m)
		all[i].idle = r.means == workshop.MeansNothing || r.means == workshop.MeansFrame
		if r.means == "" {
			ids[i] = questionID(m, r.near, shared)
			mixed[ids[i]] = mixed[ids[i]] || !isLocked[lines[i].shape.Layer]
		}
	}
	for i, id := range ids {
		all[i].alone = id != "" && !mixed[id]
	}
	return all
}

func (k *desk) askLocked(lines, free []line, layers []string) string {
	values := finding.Values{"layers": finding.Int(len(layers)), "names": finding.Text(strings.Join(layers, ", "))}
	f := finding.New(finding.LockedLayer, len(lines), values, places(k.budget, lines)...)
	k.pending = geometry.EmptyBox()
	rest := workBox(k.budget, &k.req.Convention, free)
	return k.ask(f, sized(k, ask.Question{
		ID:   questionLocked,
		Text: f.Fill("{count} {count:line lies|lines lie} on the locked {layers:layer|layers} {names}. {count:Is it|Are they} to be cut with the rest?"),
		Answers: []ask.Answer{
			{ID: answerLeaveOut, Label: f.Fill("No, leave {count:it|them} out"), Evidence: "A layer is often locked because it holds a template or a guide."},
			{ID: answerUse, Label: f.Fill("Yes, take {count:it|them} like all other lines"), Evidence: f.Fill("{count:It shows|They show} in the drawing.")},
		},
	}, rest, rest.Union(extent(k.budget, lines))))
}
