// Package sets generates the segment sets on which noding and face building
// are measured and compared with other libraries. The reference material
// describes them (peers/gen_segments.py) and gives the check sums by which a
// copy in another language can be told to be the same.
package sets

import "math"

// Segment is x1, y1, x2, y2 in steps of 10⁻⁴ mm.
type Segment [4]int64

// Kinds are the names of the sets.
var Kinds = [...]string{"random", "shapes", "grid"}

// Generate returns n segments of a kind, nil for an unknown one:
//
//	random  short segments strewn over a square of 1000 mm
//	shapes  rings of 24 to 64 edges that overlap now and then, some edges twice
//	grid    axis-parallel segments that share parts of the same lines
func Generate(kind string, n int, seed uint64) []Segment {
	switch kind {
	case "random":
		return random(n, seed)
	case "shapes":
		return shapes(n, seed)
	case "grid":
		return lattice(n, seed)
	}
	return nil
}

// unit returns the i-th number in [0, 1) of a stream (SplitMix64; Steele, Lea
// and Flood 2014).
func unit(seed, i uint64) float64 {
	z := seed + (i+1)*0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}

func quantised(v float64) int64 { return int64(math.Floor(float64(v*1e4) + 0.5)) }

func random(n int, seed uint64) []Segment {
	out := make([]Segment, n)
	base := math.Sqrt(2 * math.Pi * 1e6 / float64(n))
	for k := range out {
		u := func(j uint64) float64 { return unit(seed, uint64(4*k)+j) }
		x, y, length := 1000*u(0), 1000*u(1), (0.5+u(3))*base
		// The conversions keep products from being fused with sums.
		dx, dy := float64(length*math.Cos(2*math.Pi*u(2))), float64(length*math.Sin(2*math.Pi*u(2)))
		out[k] = Segment{quantised(x), quantised(y), quantised(x + dx), quantised(y + dy)}
	}
	return out
}

func lattice(n int, seed uint64) []Segment {
	out := make([]Segment, n)
	side := math.Max(4, math.Floor(math.Sqrt(float64(n))))
	for k := range out {
		u := func(j uint64) float64 { return unit(seed, uint64(4*k)+j) }
		x, y, length := math.Floor(u(0)*side), math.Floor(u(1)*side), 1+math.Floor(u(2)*8)
		dx, dy := 0.0, length
		if u(3) < 0.5 {
			dx, dy = length, 0
		}
		out[k] = Segment{quantised(x), quantised(y), quantised(x + dx), quantised(y + dy)}
	}
	return out
}

func shapes(n int, seed uint64) []Segment {
	out := make([]Segment, 0, n)
	columns := max(1, int(math.Sqrt(float64(n)/40)))
	for ring := 0; len(out) < n; ring++ {
		corners := outline(ring, columns, seed)
		edges := len(corners)
		if ring%50 == 49 {
			edges--
		}
		for k := 0; k < edges && len(out) < n; k++ {
			p, q := corners[k], corners[(k+1)%len(corners)]
			s := Segment{p[0], p[1], q[0], q[1]}
			out = append(out, s)
			if len(out)%20 == 0 && len(out) < n {
				out = append(out, s)
			}
		}
	}
	return out
}

// outline returns the corners of one ring: a circle, a star or a rounded square.
func outline(ring, columns int, seed uint64) [][2]int64 {
	u := func(j uint64) float64 { return unit(seed, uint64(8*ring)+j) }
	corners := make([][2]int64, 24+int(u(0)*41))
	r, form, turn := 3+float64(3.5*u(1)), int(u(4)*3), float64(2*math.Pi*u(5))
	cx, cy := float64(10*(ring%columns))+float64(2*u(2)), float64(10*(ring/columns))+float64(2*u(3))
	for k := range corners {
		a := turn + float64(2*math.Pi*float64(k))/float64(len(corners))
		rr := r
		switch {
		case form == 1 && k%2 == 1:
			rr = r * 0.6
		case form == 2:
			rr = r * (0.8 + float64(0.2*math.Cos(4*(a-turn))))
		}
		corners[k] = [2]int64{quantised(cx + float64(rr*math.Cos(a))), quantised(cy + float64(rr*math.Sin(a)))}
	}
	return corners
}
