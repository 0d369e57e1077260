package calibration

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"knifedesk/geometry/leastsquares"
)

// Fit is one set of fitted values with how sure they are.
type Fit struct {
	Values []float64   `json:"values"` // in the order of the start values
	Cov    [][]float64 `json:"cov"`    // their covariance; 0 for one that is held at 0
	Noise  float64     `json:"noise"`  // standard deviation of a job, as a share of its time
	Reach  float64     `json:"reach"`  // of Student's distribution, for nine of ten
	Jobs   int         `json:"jobs"`
}

// sample is one job: the seconds that are known, what the fitted values are counted by,
// and what it took.
type sample struct {
	known float64
	terms []float64
	took  float64
}

func (s sample) at(x []float64) float64 {
	v := s.known
	for i, t := range s.terms {
		v += t * x[i]
	}
	return v
}

// What is thought of the start values and of jobs before any (common practice, no
// source).
const (
	startSpread = 0.5   // standard deviation of a start value, as a share of it
	firstNoise  = 0.1   // of a job, before any
	leastNoise  = 0.005 // of a job, as a share of its time
	rounds      = 4     // in which weights and noise settle
	ends        = 0.95  // of which 1 − 2·(1 − ends) lies between the ends
)

// fit fits the start values to jobs; nil where there are too few.
//
// Each round weighs jobs by what they should take by the round before, and the start
// values by the noise that was left: without noise the jobs alone decide.
func fit(all []sample, start []float64) *Fit {
	if len(all) < LeastJobs {
		return nil
	}
	f := &Fit{Values: start, Noise: firstNoise, Jobs: len(all)}
	n := len(start)
	for range rounds {
		a, b := f.rows(all, start)
		x, err := leastsquares.NonNegative(a, b)
		if err != nil { // which the rows of the start values rule out
			return nil
		}
		f.Values = x
		f.Noise = math.Max(leastNoise, f.left(all, n))
	}
	f.Cov = f.covariance(all, start)
	f.Reach = distuv.StudentsT{Sigma: 1, Nu: float64(max(1, len(all)-n))}.Quantile(ends)
	return f
}

// rows returns the problem: a row a job, and one for each start value.
func (f *Fit) rows(all []sample, start []float64) (*mat.Dense, []float64) {
	n := len(start)
	a, b := mat.NewDense(len(all)+n, n, nil), make([]float64, len(all)+n)
	for i, s := range all {
		w := 1 / (f.Noise * s.at(f.Values))
		for j, t := range s.terms {
			a.Set(i, j, w*t)
		}
		b[i] = w * (s.took - s.known)
	}
	for j, v := range start {
		a.Set(len(all)+j, j, 1/(startSpread*v))
		b[len(all)+j] = 1 / startSpread
	}
	return a, b
}

// left returns what jobs are off by, as a share of their time.
func (f *Fit) left(all []sample, unknowns int) float64 {
	sum := 0.0
	for _, s := range all {
		off := s.took/s.at(f.Values) - 1
		sum += off * off
	}
	return math.Sqrt(sum / float64(max(1, len(all)-unknowns)))
}

// covariance inverts the normal matrix of the values that are not held at 0.
func (f *Fit) covariance(all []sample, start []float64) [][]float64 {
	n := len(start)
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	var at []int
	for j, v := range f.Values {
		if v > 0 {
			at = append(at, j)
		}
	}
	if len(at) == 0 {
		return out
	}
	a, _ := f.rows(all, start)
	normal := mat.NewSymDense(len(at), nil)
	for i, p := range at {
		for k := i; k < len(at); k++ {
			normal.SetSym(i, k, mat.Dot(a.ColView(p), a.ColView(at[k])))
		}
	}
	var parts mat.Cholesky
	var inverse mat.SymDense
	if !parts.Factorize(normal) || parts.InverseTo(&inverse) != nil {
		return out
	}
	for i, p := range at {
		for k, q := range at {
			out[p][q] = inverse.At(i, k)
		}
	}
	return out
}

// predict returns what a job takes: its ends hold what the values may be off by and
// what jobs are off by at random.
func (f *Fit) predict(known float64, terms []float64) Range {
	likely := sample{known: known, terms: terms}.at(f.Values)
	spread := f.Noise * likely * f.Noise * likely
	for i, u := range terms {
		for j, v := range terms {
			spread += u * f.Cov[i][j] * v
		}
	}
	reach := f.Reach * math.Sqrt(spread)
	return Range{Low: math.Max(0, likely-reach), Likely: likely, High: likely + reach}
}

// Interval returns the ends between which a fitted value lies, nine times of ten.
func (f *Fit) Interval(i int) (low, high float64) {
	reach := f.Reach * math.Sqrt(f.Cov[i][i])
	return math.Max(0, f.Values[i]-reach), f.Values[i] + reach
}
