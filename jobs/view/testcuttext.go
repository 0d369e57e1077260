package view

import (
	"fmt"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/trial"
)

// looks says what a cell looks like that is good, too light and too deep (common
// practice, no source).
func looks(op artwork.Operation, liner bool) (good, light, deep string) {
	switch op {
	case artwork.Pen:
		return "The line is whole and even.", "It has gaps or is faint.", "The pen digs in or blots."
	case artwork.Score:
		return "The bar folds straight along the line, and the fold does not crack.",
			"It folds beside the line, or not sharply.", "It cracks, or comes apart."
	case artwork.Perforate:
		return "The bar tears cleanly along the line and not before it is pulled.",
			"It tears beside the line.", "It comes apart by itself."
	case artwork.KissCut:
		return goodText(liner, bars{}), "The half-moon does not lift cleanly: the film is not cut all through.",
			"The liner is cut, or the keyhole comes off with the half-moon."
	}
	return goodText(liner, bars{}), "It hangs by fibres, or does not fall out.", "The edge is crushed or torn, or the mat is cut."
}

// Known says in sentences what the sheets before have shown.
func (t *TestCut) Known() []string {
	var all []string
	if w := t.Next.Force; w != nil {
		all = append(all, "Good so far: "+windowText(w, "gf")+".")
	}
	if w := t.Next.Speed; w != nil {
		all = append(all, "Of speeds: "+windowText(w, "mm/s")+".")
	}
	if f := t.Next.Found; f != nil {
		all = append(all, fmt.Sprintf("Found: %s gf at %s mm/s.", short(f.ForceGF), short(f.SpeedMMS)))
	}
	if t.Next.None != "" {
		all = append(all, ObstacleText(t.Next.None))
	}
	return all
}

// windowText words a window with where its edges lie.
func windowText(w *trial.Window, unit string) string {
	text := fmt.Sprintf("%s to %s %s", short(w.From), short(w.To), unit)
	if w.From == w.To {
		text = short(w.From) + " " + unit
	}
	switch {
	case w.Below > 0 && w.Above > 0:
		return fmt.Sprintf("%s, not at %s and %s", text, short(w.Below), short(w.Above))
	case w.Below > 0:
		return fmt.Sprintf("%s, not at %s", text, short(w.Below))
	case w.Above > 0:
		return fmt.Sprintf("%s, not at %s", text, short(w.Above))
	}
	return text
}

// ObstacleText says why no sheet is left to cut, and what to change (common practice,
// no source).
func ObstacleText(o trial.Obstacle) string {
	switch o {
	case trial.TooWeak:
		return "All cells are too light, up to the most force of the machine. Cut more times, take a sharper or steeper blade, or another machine."
	case trial.TooSharp:
		return "All cells are too deep, down to the least force. Let less of the blade stand out of its holder, or take a flatter one."
	case trial.NoWindow:
		return "What is heavy enough to cut is too deep already. Put in a new blade, or set how far it stands out, and begin again."
	case trial.Nowhere:
		return "No cell passed, however close the forces lie. Say which were too light and which too deep, or put in a new blade and begin again."
	}
	return ""
}

// StandingText says how a setting stands.
func StandingText(s trial.Standing) string {
	switch s.State {
	case trial.Trusted:
		return "trusted, " + testsText(s)
	case trial.Tested:
		if why := loweredText(s.Lowered); why != "" {
			return "tested, " + why + ": cut one cell again"
		}
		return "tested, " + testsText(s)
	}
	return "untested: make this test cut first"
}

func testsText(s trial.Standing) string {
	text := fmt.Sprintf("%d good test cuts", s.Good)
	if s.Good == 1 {
		text = "1 good test cut"
	}
	if s.Last != "" {
		text += ", last " + s.Last
	}
	return text
}

func loweredText(r trial.Reason) string {
	switch r {
	case trial.OtherBlade:
		return "but with another blade"
	case trial.OtherBatch:
		return "but on another batch"
	case trial.Age:
		return "but long ago"
	}
	return ""
}
