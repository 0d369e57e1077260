package view_test

import (
	"context"
	"io"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/view"
)

// ring is a closed wave of n Béziers round the middle of a plate.
func ring(n int) geometry.Path {
	at := func(i int) geometry.Point {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		r := 15 + 4*math.Sin(float64(i%n))
		return geometry.Pt(40+r*cos, 20+r*sin)
	}
	p := geometry.Path{Start: at(0), Closed: true}
	for i := range n {
		from, to := at(i), at(i+1)
		p.Segments = append(p.Segments, geometry.CubicTo(from.Lerp(to, 0.3), from.Lerp(to, 0.6), to))
	}
	return p
}

// wavy is a plan of four copies of a plate whose lines are waves of 30,000
// segments each.
func wavy(t *testing.T) *planned {
	p := planOf(t, "film-removable-610", 4)
	for i := range p.Weeding.Strokes {
		p.Weeding.Strokes[i].Path = ring(30_000)
	}
	for i := range p.Weeding.Regions {
		p.Weeding.Regions[i].Outer = ring(30_000)
	}
	return p
}

// What is written for a plan of many segments stops with its context.
func TestStop(t *testing.T) {
	p := wavy(t)
	for name, write := range map[string]func(context.Context) error{
		"worksheet": func(ctx context.Context) error {
			return p.Worksheet(ctx, io.Discard, view.About{Plan: "p", Request: p.request})
		},
		"dxf": func(ctx context.Context) error { return p.WriteLoad(ctx, io.Discard, 1, view.AllPasses, view.DXF) },
		"svg": func(ctx context.Context) error { return p.WriteLoad(ctx, io.Discard, 1, view.AllPasses, view.SVG) },
		"plt": func(ctx context.Context) error { return p.WriteLoad(ctx, io.Discard, 1, view.AllPasses, view.Plt) },
	} {
		t.Run(name, func(t *testing.T) { stop.Check(t, write) })
	}
}

// A load of few lines is replayed from very many moves.
func TestReplayStops(t *testing.T) {
	p := planOf(t, "film-removable-610", 1)
	for i := range p.Weeding.Strokes {
		p.Weeding.Strokes[i].Path = ring(15_000)
	}
	stop.Check(t, func(ctx context.Context) error {
		_, err := p.Replay(ctx, p.request.Machine, 1)
		return err
	})
}
