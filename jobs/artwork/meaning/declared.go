package meaning

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
)

// MendLength is the mend that gives what is made the length that somebody vouched
// for. The size was worked out on all that is drawn; which of it is made, the rules
// for colours and the answers say only here.
const MendLength = "given_length"

const (
	mostRounds = 4    // a factor is right at once; what is a point may hang on it
	keptMM     = 1e-6 // rounding
)

// keepLength resolves d at the size s, and anew at another one as long as what is
// made misses the length that the size rests on. Every length of the artwork, the
// width of painted lines too, goes with the factor.
func keepLength(k *desk, d *drawing.Drawing, s *size.Result) (*artwork.Artwork, error) {
	first, known := *k, s.Known
	a, err := k.resolve(d, s)
	if err != nil || known == nil || len(a.Questions) > 0 {
		return a, err
	}
	was := madeExtent(a, known.Of, k.longest)
	if was <= 0 || math.Abs(was-known.MM) <= tellMM {
		return a, nil
	}
	f := finding.New(finding.LengthKept, 1, finding.Values{
		"of": finding.Text(extentWords(known.Of)), "given_mm": finding.Num(known.MM), "was_mm": finding.Num(was),
		"change": finding.Text(map[bool]string{true: "enlarged", false: "reduced"}[known.MM > was]),
	})
	m := finding.Mend{ID: MendLength, Effect: f.Fill("All is {change} until the {of} of what is made is {given_mm} mm.")}
	if slices.Contains(k.req.MendsOff, MendLength) {
		a.Findings = append(a.Findings, f.As(finding.Warn).WithMend(m))
		return a, nil
	}
	scale, last := 1.0, was
	for range mostRounds {
		scale *= known.MM / last
		*k = first
		if a, err = k.resolve(d, scaled(s, scale)); err != nil || len(a.Questions) > 0 {
			return a, err
		}
		a.Scale = scale
		if last = madeExtent(a, known.Of, k.longest); last <= 0 || math.Abs(last-known.MM) <= keptMM {
			break
		}
	}
	m.Applied = math.Abs(last-known.MM) <= tellMM
	if f = f.WithMend(m); !m.Applied {
		f = f.As(finding.Block)
	}
	a.Findings = append(a.Findings, f)
	return a, nil
}

// scaled returns the size with every length so many times as long.
func scaled(s *size.Result, by float64) *size.Result {
	out := *s
	out.Transform = s.Transform.Then(geometry.Scale(by, by))
	out.Placed = nil
	for _, p := range s.Placed {
		p.Transform = p.Transform.Then(geometry.Scale(by, by))
		out.Placed = append(out.Placed, p)
	}
	return &out
}

// madeExtent measures what is made as a known length is meant; its longest line is
// given.
func madeExtent(a *artwork.Artwork, of string, longest float64) float64 {
	switch of {
	case size.Width:
		return a.Bounds.Width()
	case size.Height:
		return a.Bounds.Height()
	}
	return longest
}

func extentWords(of string) string {
	switch of {
	case size.Width:
		return "width"
	case size.Height:
		return "height"
	}
	return "longest straight line"
}
