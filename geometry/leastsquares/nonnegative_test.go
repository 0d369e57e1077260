package leastsquares_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/leastsquares"
)

// problem is one with seeded numbers, some of whose unknowns want to be negative.
func problem(r *rand.Rand) (rows [][]float64, b []float64) {
	n := 1 + r.IntN(5)
	for range n + r.IntN(12) {
		row := make([]float64, n)
		for j := range row {
			row[j] = r.NormFloat64() + 0.5
		}
		rows, b = append(rows, row), append(b, r.NormFloat64())
	}
	return rows, b
}

func dense(rows [][]float64) *mat.Dense {
	a := mat.NewDense(len(rows), len(rows[0]), nil)
	for i, row := range rows {
		a.SetRow(i, row)
	}
	return a
}

func off(rows [][]float64, x, b []float64) (sum float64) {
	for i, row := range rows {
		r := -b[i]
		for j, v := range row {
			r += v * x[j]
		}
		sum += r * r
	}
	return sum
}

// byAllSets solves for every choice of unknowns that are 0, by the normal equations and
// elimination, and takes the best that is not negative.
func byAllSets(rows [][]float64, b []float64) (best []float64) {
	n, least := len(rows[0]), math.Inf(1)
	for set := range 1 << n {
		x := eliminated(rows, b, set)
		if x != nil && off(rows, x, b) < least {
			best, least = x, off(rows, x, b)
		}
	}
	return best
}

func eliminated(rows [][]float64, b []float64, set int) []float64 {
	n := len(rows[0])
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n+1)
		if set>>i&1 == 0 {
			m[i][i] = 1
			continue
		}
		for k, row := range rows {
			for j := range n {
				if set>>j&1 == 1 {
					m[i][j] += row[i] * row[j]
				}
			}
			m[i][n] += row[i] * b[k]
		}
	}
	for i := range m { // the matrix is positive, so its diagonal can be divided by
		for k := range m {
			if f := m[k][i] / m[i][i]; k != i {
				for j := range m[k] {
					m[k][j] -= f * m[i][j]
				}
			}
		}
	}
	x := make([]float64, n)
	for i := range x {
		if x[i] = m[i][n] / m[i][i]; x[i] < 0 {
			return nil
		}
	}
	return x
}

// Of 500 seeded problems the answer is that of trying every set of zeros, an
// independent solution; and where scipy is there, scipy.optimize.nnls has the same.
func TestNonNegative(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	type one struct {
		A [][]float64 `json:"a"`
		B []float64   `json:"b"`
		X []float64   `json:"x"`
	}
	var all []one
	held := 0
	for range 500 {
		rows, b := problem(r)
		x, err := leastsquares.NonNegative(dense(rows), b)
		if err != nil {
			t.Fatal(err)
		}
		want := byAllSets(rows, b)
		for j := range x {
			if x[j] < 0 || math.Abs(x[j]-want[j]) > 1e-8 {
				t.Errorf("%v, want %v", x, want)
			}
			if x[j] == 0 {
				held++
			}
		}
		all = append(all, one{rows, b, x})
	}
	if held < 300 {
		t.Errorf("only %d unknowns are held at 0", held)
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	python := reference.Tool(t, "python3")
	cmd := exec.Command(python, "-c", `
import json, sys
try:
    from scipy.optimize import nnls
except ImportError:
    print("none"); sys.exit()
print(max(abs(u - v) for p in json.load(sys.stdin) for u, v in zip(nnls(p["a"], p["b"])[0], p["x"])) < 1e-8)`)
	cmd.Stdin = strings.NewReader(string(text))
	out, err := cmd.CombinedOutput()
	if got := strings.TrimSpace(string(out)); err != nil || got != "True" && got != "none" {
		t.Errorf("scipy: %v %s", err, out)
	}
}

// Fewer rows than unknowns do not tell them apart.
func TestTooFewRows(t *testing.T) {
	if _, err := leastsquares.NonNegative(dense([][]float64{{1, 2}}), []float64{1}); !errors.Is(err, leastsquares.ErrRank) {
		t.Error(err)
	}
}
