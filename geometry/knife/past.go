package knife

import "knifedesk/geometry"

// Past returns an open line that sets out before mm earlier and ends after mm later,
// straight on at both ends.
func Past(line geometry.Path, before, after float64) geometry.Path {
	if line.Closed || line.Empty() {
		return line
	}
	longer := geometry.Path{Start: line.Start}
	if before > 0 {
		longer.Start = line.Start.Sub(startHeading(line).Mul(before))
		longer.Segments = append(longer.Segments, geometry.LineTo(line.Start))
	}
	longer.Segments = append(longer.Segments, line.Segments...)
	if after > 0 {
		longer.Segments = append(longer.Segments, geometry.LineTo(line.End().Sub(startHeading(line.Reversed()).Mul(after))))
	}
	return longer
}
