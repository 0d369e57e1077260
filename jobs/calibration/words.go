package calibration

import "fmt"

// Words says what plans count minutes with.
func (c *Calibration) Words() string {
	switch {
	case c == nil || c.Cutter == nil && c.Bench == nil:
		return "start values"
	case c.Bench == nil:
		return fmt.Sprintf("cutter fitted to %d jobs on %s, bench by start values", c.Cutter.Jobs, c.Day)
	case c.Cutter == nil:
		return fmt.Sprintf("bench fitted to %d jobs on %s, cutter by start values", c.Bench.Jobs, c.Day)
	case c.Cutter.Jobs == c.Bench.Jobs:
		return fmt.Sprintf("fitted to %d jobs on %s", c.Cutter.Jobs, c.Day)
	}
	return fmt.Sprintf("cutter fitted to %d jobs, bench to %d, on %s", c.Cutter.Jobs, c.Bench.Jobs, c.Day)
}
