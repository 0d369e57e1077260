package measured

import (
	"errors"
	"math"
	"slices"

	"knifedesk/geometry/number"
)

// Answer is a value with what it was compared to.
type Answer struct {
	Field
	Value float64
}

// ErrOther says that a value is of something that is not measured here.
var ErrOther = errors.New("measured: no such field")

// Doubt says of which field a value is rather misread than true, and what it would mean.
type Doubt struct{ Field, Text string }

func (d *Doubt) Error() string { return "measured: " + d.Field + " is doubtful" }

// Compare puts values by the names of fields beside what was planned, those above 0 in
// the order of the fields. It fails with ErrOther, and, unless they are sure, with a
// *Doubt.
func Compare(fields []Field, values map[string]float64, sure bool) ([]Answer, error) {
	for name := range values {
		if !slices.ContainsFunc(fields, func(f Field) bool { return f.Name == name }) {
			return nil, ErrOther
		}
	}
	var all []Answer
	for _, f := range fields {
		v := values[f.Name]
		switch {
		case v <= 0:
			continue
		case !sure && f.Doubtful(v):
			return nil, &Doubt{f.Name, f.Answer(v)}
		}
		all = append(all, Answer{f, v})
	}
	return all, nil
}

// Answer says in a sentence or two what a measured value means.
func (f Field) Answer(v float64) string {
	told := number.People(v) + " " + string(f.Unit) + " measured, " + f.Planned() + " planned: "
	switch {
	case f.Fits(v):
		return told + "as it should be."
	case f.Unit == Minutes:
		return told + f.tookText(v)
	}
	return told + f.lengthText(v)
}

func (f Field) tookText(v float64) string {
	const counts = " Later plans learn from it."
	if v < f.Low {
		return wholeUp(f.Low-v) + " min less than was thought." + counts
	}
	return wholeUp(v-f.High) + " min more than was thought." + counts
}

// wholeUp writes minutes without decimals, 1 at least.
func wholeUp(min float64) string { return number.Text(math.Max(1, math.Round(min)), 0) }

func (f Field) lengthText(v float64) string {
	if taken := misunderstood(v / f.Expected); taken != "" {
		return number.Text(v/f.Expected, 2) + " times as long. The program at the machine took " + taken + ": open the file anew in mm, at 100 %."
	}
	by := number.People(math.Abs(v-f.Expected)) + " mm too long"
	if v < f.Expected {
		by = number.People(math.Abs(v-f.Expected)) + " mm too short"
	}
	switch {
	case f.Doubtful(v):
		return by + ". No cutter is that far off by itself: look whether the file was opened at 100 %, and whether this side was meant."
	case f.Name == Length:
		return by + ", more than a rule is misread by. Make a test cut and measure its two marks: plans then take that into account."
	}
	return by + ". Plans on this stock and machine say so from now on, and their files make up for it where the data of the machine leave it to them."
}

// misunderstood returns which unit was taken for which where a length came out longer by
// a ratio, empty where none explains it within 1.5 %.
func misunderstood(ratio float64) string {
	const points, pixels, inch, cm, near = 72 / 25.4, 96 / 25.4, 25.4, 10, 0.015
	for _, c := range []struct {
		ratio float64
		taken string
	}{
		{1 / points, "mm for points"}, {1 / pixels, "mm for pixels"}, {inch, "mm for inches"}, {cm, "mm for cm"},
		{points, "points for mm"}, {pixels, "pixels for mm"}, {1 / inch, "inches for mm"}, {1.0 / cm, "cm for mm"},
		{pixels / points, "pixels for points"}, {points / pixels, "points for pixels"},
	} {
		if math.Abs(ratio/c.ratio-1) < near {
			return c.taken
		}
	}
	return ""
}
