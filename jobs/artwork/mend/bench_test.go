package mend_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
)

// loose draws n strokes as people do who explode their drawings: squares and
// round shapes as separate lines in random order, one shape in five of them
// twice.
func loose(n int) []artwork.Stroke {
	r := rand.New(rand.NewPCG(1, 2))
	side := math.Ceil(math.Sqrt(float64(n) / 4))
	var all []artwork.Stroke
	for k := 0; len(all) < n; k++ {
		x, y := 12*math.Mod(float64(k), side), 12*math.Floor(float64(k)/side)
		p := geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+10, y+8)}.Path()
		if k%2 == 1 {
			p.Start = geometry.Pt(x+10, y+5)
			p.Segments = geometry.EllipseArc(geometry.Pt(x+5, y+5), geometry.Pt(5, 0), geometry.Pt(0, 3), 0, 2*math.Pi)
			p.Segments[len(p.Segments)-1].End = p.Start
		}
		for range 1 + (k%5)/4 {
			from := p.Start
			for _, s := range p.Segments {
				all = append(all, artwork.Stroke{Path: geometry.Path{Start: from, Segments: []geometry.Segment{s}}, Operation: artwork.ThroughCut, Shape: len(all)})
				from = s.End
			}
		}
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all[:n]
}

func BenchmarkLines(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			strokes := loose(n)
			o := mend.Options{Limits: mend.DefaultLimits(), Unite: true}
			b.ReportAllocs()
			for b.Loop() {
				mend.Lines(nil, strokes, o)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/stroke")
		})
	}
}

func BenchmarkChecks(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			lim := mend.DefaultLimits()
			strokes := mend.Lines(nil, loose(n), mend.Options{Limits: lim}).Strokes
			for b.Loop() {
				mend.CheckEnds(nil, strokes, lim)
				mend.Doubles(nil, strokes, lim)
				mend.Faceted(nil, strokes)
			}
		})
	}
}
