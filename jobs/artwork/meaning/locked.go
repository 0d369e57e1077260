package meaning

import (
	"maps"
	"slices"
	"strings"

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
// anyway are left to it.
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
	rules := reader{convention: &k.req.Convention, seen: map[mark]reading{}}
	names := map[string]bool{}
	var free, locked []line
	for _, l := range lines {
		k.budget.Step()
		if isLocked[l.shape.Layer] {
			if means := rules.read(markOf(&l)).means; means != workshop.MeansNothing && means != workshop.MeansFrame {
				locked, names[l.shape.Layer] = append(locked, l), true
				continue
			}
		}
		free = append(free, l)
	}
	if len(locked) == 0 || k.askLocked(locked, slices.Sorted(maps.Keys(names))) == answerUse {
		return lines
	}
	return free
}

func (k *desk) askLocked(lines []line, layers []string) string {
	values := finding.Values{"layers": finding.Int(len(layers)), "names": finding.Text(strings.Join(layers, ", "))}
	f := finding.New(finding.LockedLayer, len(lines), values, places(k.budget, lines)...)
	return k.ask(f, ask.Question{
		ID:   questionLocked,
		Text: f.Fill("{count} {count:line lies|lines lie} on the locked {layers:layer|layers} {names}. {count:Is it|Are they} to be cut with the rest?"),
		Answers: []ask.Answer{
			{ID: answerLeaveOut, Label: f.Fill("No, leave {count:it|them} out"), Evidence: "A layer is often locked because it holds a template or a guide."},
			{ID: answerUse, Label: f.Fill("Yes, take {count:it|them} like all other lines"), Evidence: f.Fill("{count:It shows|They show} in the drawing.")},
		},
	})
}
