package pdf

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// maxSteps bounds the work of all colour functions of a file.
const maxSteps = 5_000_000

// evaluate returns the values of a function (7.10), nil where it cannot be
// read. The work is counted, since a function may be run for every path.
func (c converter) evaluate(o types.Object, in []float64, depth int) []float64 {
	const deepest = 8
	c.b.Step()
	d := c.dict(o)
	if c.steps++; d == nil || depth > deepest || c.steps > maxSteps {
		return nil
	}
	in = clamp(in, c.numbers(d["Domain"]))
	kind, _ := c.file.number(d["FunctionType"])
	var out []float64
	switch kind {
	case 0:
		out = c.sampled(o, d, in)
	case 2:
		out = c.exponential(d, in)
	case 3:
		out = c.stitched(d, in, depth)
	case 4:
		out = c.calculated(o, in)
	}
	if c.steps > maxSteps {
		c.stop(limitSteps, maxSteps)
	}
	return clamp(out, c.numbers(d["Range"]))
}

// clamp keeps values within pairs of bounds; without a pair they stay.
func clamp(v, bounds []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i]
		if 2*i+1 < len(bounds) {
			out[i] = math.Max(bounds[2*i], math.Min(bounds[2*i+1], v[i]))
		}
	}
	return out
}

// exponential is C0 + xᴺ·(C1 − C0) (7.10.3).
func (c converter) exponential(d types.Dict, in []float64) []float64 {
	c0, c1 := []float64{0}, []float64{1}
	if v := c.numbers(d["C0"]); len(v) > 0 {
		c0 = v
	}
	if v := c.numbers(d["C1"]); len(v) > 0 {
		c1 = v
	}
	if len(in) != 1 {
		return nil
	}
	n, _ := c.file.number(d["N"])
	t := math.Pow(in[0], n)
	out := make([]float64, min(len(c0), len(c1)))
	for i := range out {
		out[i] = c0[i] + t*(c1[i]-c0[i])
	}
	return out
}

// stitched picks one of several functions by the input (7.10.4).
func (c converter) stitched(d types.Dict, in []float64, depth int) []float64 {
	functions, cuts := c.array(d["Functions"]), c.numbers(d["Bounds"])
	domain, encode := c.numbers(d["Domain"]), c.numbers(d["Encode"])
	k := len(functions)
	if len(in) != 1 || k == 0 || len(cuts) != k-1 || len(domain) != 2 || len(encode) != 2*k {
		return nil
	}
	i := 0
	for i < k-1 && in[0] >= cuts[i] {
		i++
	}
	low, high := domain[0], domain[1]
	if i > 0 {
		low = cuts[i-1]
	}
	if i < k-1 {
		high = cuts[i]
	}
	return c.evaluate(functions[i], []float64{interpolate(in[0], low, high, encode[2*i], encode[2*i+1])}, depth+1)
}

func interpolate(x, x0, x1, y0, y1 float64) float64 {
	if x1 == x0 {
		return y0
	}
	return y0 + (x-x0)*(y1-y0)/(x1-x0)
}

// sampled interpolates linearly in a table of samples (7.10.2).
func (c converter) sampled(o types.Object, d types.Dict, in []float64) []float64 {
	_, data, err := c.stream(o)
	size, domain, rng := c.numbers(d["Size"]), c.numbers(d["Domain"]), c.numbers(d["Range"])
	bits, _ := c.file.number(d["BitsPerSample"])
	m, n := len(in), len(rng)/2
	const most = 4 // inputs: twice as many corners for each
	if err != nil || m == 0 || m > most || len(size) != m || len(domain) != 2*m || n == 0 || bits < 1 || bits > 32 {
		return nil
	}
	low, part := tableCell(in, size, domain, c.numbers(d["Encode"]))
	decode := c.numbers(d["Decode"])
	out := make([]float64, n)
	for corner := range 1 << m {
		weight, index, stride := 1.0, 0, 1
		for i := range in {
			up := corner >> i & 1
			weight *= math.Abs(float64(1-up) - part[i])
			index += (low[i] + up) * stride
			stride *= int(size[i])
		}
		if weight == 0 {
			continue
		}
		for j := range out {
			c.b.Step()
			out[j] += weight * sample(data, (index*n+j)*int(bits), int(bits))
		}
	}
	for j := range out {
		d0, d1 := rng[2*j], rng[2*j+1]
		if len(decode) == 2*n {
			d0, d1 = decode[2*j], decode[2*j+1]
		}
		out[j] = d0 + out[j]*(d1-d0)
	}
	return out
}

// tableCell returns the cell of a table that holds the input, and where in it
// the input lies, from 0 to 1 along each side.
func tableCell(in, size, domain, encode []float64) (low []int, part []float64) {
	low, part = make([]int, len(in)), make([]float64, len(in))
	for i := range in {
		e0, e1 := 0.0, size[i]-1
		if len(encode) == 2*len(in) {
			e0, e1 = encode[2*i], encode[2*i+1]
		}
		e := math.Max(0, math.Min(size[i]-1, interpolate(in[i], domain[2*i], domain[2*i+1], e0, e1)))
		low[i] = int(math.Max(0, math.Min(e, size[i]-2)))
		part[i] = e - float64(low[i])
	}
	return low, part
}

// sample returns the number in some bits of data as a part of the largest it
// could be; bits past the end are 0.
func sample(data []byte, at, bits int) float64 {
	v := uint64(0)
	for i := at; i < at+bits; i++ {
		v <<= 1
		if i >= 0 && i/8 < len(data) {
			v |= uint64(data[i/8]>>(7-i%8)) & 1
		}
	}
	return float64(v) / float64(uint64(1)<<bits-1)
}
