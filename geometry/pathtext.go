package geometry

import (
	"fmt"
	"math"
	"strconv"
)

// String returns p as SVG path data, the form in which paths stand in JSON.
// Numbers are the shortest that read back exactly. Arcs of more than 120° are
// written in pieces, because the radius form loses precision near half a turn.
func (p Path) String() string { return string(p.append(nil)) }

// append appends p as SVG path data to b.
func (p Path) append(b []byte) []byte {
	b = append(b, 'M')
	b = appendPoint(b, p.Start)
	from := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Kind == Cubic:
			b = appendPoint(append(b, 'C'), s.C1)
			b = appendPoint(append(b, ' '), s.C2)
			b = appendPoint(append(b, ' '), s.End)
		case s.Kind == Arc && !s.Straight():
			b = appendArc(b, from, s)
		default:
			b = appendPoint(append(b, 'L'), s.End)
		}
		from = s.End
	}
	if p.Closed {
		b = append(b, 'Z')
	}
	return b
}

func appendArc(b []byte, from Point, s Segment) []byte {
	r, left, ends, n := arcPieces(from, s)
	dir := byte('0')
	if left {
		dir = '1'
	}
	for _, end := range ends[:n] {
		b = append(b, 'A')
		b = appendFloat(b, r)
		b = append(b, ' ')
		b = appendFloat(b, r)
		b = append(b, " 0 0 "...)
		b = append(b, dir, ' ')
		b = appendPoint(b, end)
	}
	return b
}

// arcPieces returns an arc as path data has it: its radius, whether it bends to the left,
// and where its pieces end, of which there are two where it sweeps more than 120°.
func arcPieces(from Point, s Segment) (radius float64, left bool, ends [2]Point, n int) {
	c, r, start, sweep := ArcCircle(from, s)
	if math.Abs(s.Bulge) > 0.58 { // tan(120°/4)
		sin, cos := math.Sincos(start + sweep/2)
		ends[0], n = Point{c.X + r*cos, c.Y + r*sin}, 1
	}
	ends[n] = s.End
	return r, sweep > 0, ends, n + 1
}

func appendPoint(b []byte, p Point) []byte {
	return appendFloat(append(appendFloat(b, p.X), ' '), p.Y)
}

func appendFloat(b []byte, v float64) []byte {
	if v == 0 {
		v = 0 // no minus sign on zero
	}
	if b, written := appendSteps(b, v); written {
		return b
	}
	return strconv.AppendFloat(b, v, 'g', -1, 64)
}

// appendSteps appends what strconv.AppendFloat would in a third of the time where v is a
// whole number of steps of 0.1 µm, as most coordinates are, and no long one. That number
// has fewer than 15 digits, so that no shorter one reads back as v.
func appendSteps(b []byte, v float64) (out []byte, written bool) {
	const perMM, most = 10_000, 1e6
	steps := math.Round(v * perMM)
	if !(math.Abs(v) < most) || steps == 0 || steps/perMM != v {
		return b, false
	}
	if v < 0 {
		b, steps = append(b, '-'), -steps
	}
	whole, rest := int64(steps)/perMM, int64(steps)%perMM
	b = strconv.AppendInt(b, whole, 10)
	if rest == 0 {
		return b, true
	}
	b = append(b, '.')
	for unit := int64(perMM / 10); rest > 0; unit /= 10 {
		b = append(b, byte('0'+rest/unit))
		rest %= unit
	}
	return b, true
}

// MarshalText writes p as SVG path data.
func (p Path) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// AppendText appends what MarshalText writes to b, without a copy of a long path.
func (p Path) AppendText(b []byte) ([]byte, error) {
	if !p.Finite() {
		return b, fmt.Errorf("geometry: a path with NaN or infinite coordinates has no text form")
	}
	return p.append(b), nil
}

// UnmarshalText reads one path from SVG path data.
func (p *Path) UnmarshalText(text []byte) error {
	paths, err := ParsePathData(string(text))
	if err != nil {
		return err
	}
	switch len(paths) {
	case 0:
		*p = Path{}
	case 1:
		*p = paths[0]
	default:
		return fmt.Errorf("geometry: path data holds %d paths where one is expected", len(paths))
	}
	return nil
}
