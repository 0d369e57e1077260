package size

import (
	"math"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/reading"
)

// withLine warns where a length that the caller gave is that of the file and the
// thickness of the line besides, as programs show it of a shape that is selected.
func withLine(q *inquiry, c *judged, o *outcome) []finding.Finding {
	const digits = 0.006 // mm: lengths are shown in hundredths
	k := q.req.KnownLength
	if k == nil || o.known == nil || !q.file.Stated || k.Of == LongestLine {
		return nil
	}
	own, height := q.work(c.frame).Size(q.file.File.MM)
	if k.Of == Height {
		own = height
	}
	over := k.MM - own
	for _, it := range q.work(c.frame).Items {
		q.Budget.Step()
		line := q.Drawing.Shapes[it.Shape].StrokeWidth * q.file.File.MM
		if line > reading.AcceptMM && math.Abs(over-line) <= digits {
			return []finding.Finding{finding.New(finding.SizeGivenWithLine, 1, finding.Values{
				"what": finding.Text(k.Of), "given": finding.Num(k.MM), "line": finding.Num(line), "own": finding.Num(own),
			})}
		}
	}
	return nil
}
