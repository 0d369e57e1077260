// Package leastsquares solves small problems of least squares whose unknowns cannot be
// negative.
package leastsquares

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrRank says that the columns of a problem do not tell its unknowns apart.
var ErrRank = errors.New("leastsquares: the columns depend on each other")

// NonNegative returns the x ≥ 0 for which ‖a·x − b‖ is least. a has a row for each
// number of b, at least as many rows as columns, and columns that are independent; else
// the error is ErrRank.
//
// It is the method of active sets of Lawson and Hanson (Solving Least Squares Problems,
// 1974, chapter 23), on QR factors.
func NonNegative(a *mat.Dense, b []float64) ([]float64, error) {
	rows, n := a.Dims()
	if rows < n || rows != len(b) {
		return nil, ErrRank
	}
	s := &solver{a: a, b: mat.NewVecDense(rows, b), x: make([]float64, n), free: make([]bool, n)}
	for range 3 * n { // each round frees one; the method ends by then in practice, and is exact where it does
		j := s.steepest()
		if j < 0 {
			break
		}
		s.free[j] = true
		if err := s.settle(); err != nil {
			return nil, err
		}
	}
	return s.x, nil
}

type solver struct {
	a    *mat.Dense
	b    *mat.VecDense
	x    []float64
	free []bool // not held at 0
}

// steepest returns the unknown held at 0 whose growth lessens the residual most; -1:
// none does.
func (s *solver) steepest() int {
	rows, n := s.a.Dims()
	residual := mat.NewVecDense(rows, nil)
	residual.MulVec(s.a, mat.NewVecDense(n, s.x))
	residual.SubVec(s.b, residual)
	best, most := -1, 0.0
	for j := range n {
		column := s.a.ColView(j)
		slope := mat.Dot(column, residual)
		if scale := mat.Norm(column, 2) * mat.Norm(s.b, 2); !s.free[j] && slope > 1e-12*scale && slope > most {
			best, most = j, slope
		}
	}
	return best
}

// settle solves for the free unknowns, and holds at 0 those that it would make
// negative, until none is.
func (s *solver) settle() error {
	for {
		z, err := s.unbounded()
		if err != nil {
			return err
		}
		share, blocked := 1.0, false
		for j, v := range z {
			if s.free[j] && v <= 0 {
				blocked = true
				share = math.Min(share, s.x[j]/(s.x[j]-v))
			}
		}
		for j := range s.x {
			s.x[j] += share * (z[j] - s.x[j])
			if blocked && s.free[j] && s.x[j] <= 1e-14*math.Abs(z[j]) {
				s.free[j], s.x[j] = false, 0
			}
		}
		if !blocked {
			return nil
		}
	}
}

// unbounded solves for the free unknowns without a bound; the others are 0.
func (s *solver) unbounded() ([]float64, error) {
	rows, n := s.a.Dims()
	var at []int
	for j := range n {
		if s.free[j] {
			at = append(at, j)
		}
	}
	part := mat.NewDense(rows, len(at), nil)
	for k, j := range at {
		part.SetCol(k, mat.Col(nil, j, s.a))
	}
	var some mat.VecDense
	if err := some.SolveVec(part, s.b); err != nil {
		return nil, ErrRank
	}
	z := make([]float64, n)
	for k, j := range at {
		z[j] = some.AtVec(k)
	}
	return z, nil
}
