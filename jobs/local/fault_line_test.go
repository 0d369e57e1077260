package local_test

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// faceted24 is a circle of radius 20 as 24 chords, 0.17 mm off the arc.
const faceted24 = "M60 40 59.318517 45.176381 57.320508 50 54.142136 54.142136 50 57.320508 45.176381 59.318517 40 60" +
	" 34.823619 59.318517 30 57.320508 25.857864 54.142136 22.679492 50 20.681483 45.176381 20 40" +
	" 20.681483 34.823619 22.679492 30 25.857864 25.857864 30 22.679492 34.823619 20.681483 40 20" +
	" 45.176381 20.681483 50 22.679492 54.142136 25.857864 57.320508 30 59.318517 34.823619Z"

// hatching is n lines each way, a step apart, that cross n² times.
func hatching(n int, step float64) string {
	var b strings.Builder
	long := float64(n) * step
	for i := range n {
		at := float64(i) * step
		fmt.Fprintf(&b, "M0 %.1fh%.1fM%.1f 0v%.1f", at, long, at, long)
	}
	return b.String()
}

// chords is a circle of radius 10 as so many chords, which 100 leave by 0.0049 mm
// and 40 by 0.031.
func chords(n int) string {
	var b strings.Builder
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		fmt.Fprintf(&b, "%c%.6f %.6f", "ML"[min(i, 1)], 20+10*cos, 20+10*sin)
	}
	return b.String() + "Z"
}

// band is an outline drawn that many mm wide.
func band(width string) string {
	return `<path d="M10 10h40v30h-40z" fill="none" stroke="#007c91" stroke-width="` + width + `"/>`
}

// lineFaults are about lines as lines. Pages are y down, places y up from the
// lower left corner of the artwork.
func lineFaults() []fault {
	mends := func(name string, code finding.Code, mend string, with, near []string, at string) fault {
		return fault{name: name, with: cutting(with...), near: cutting(near...), choices: onCard,
			code: code, severity: finding.Mended, count: 1, at: at, mend: mend}
	}
	asks := func(name string, code finding.Code, id string, with, near []string, choices plan.Choices, at string) fault {
		return fault{name: name, with: cutting(with...), near: cutting(near...), choices: choices,
			code: code, severity: finding.Ask, count: 1, at: at, asks: id}
	}
	warns := func(name string, code finding.Code, with, near []string, at string) fault {
		return fault{name: name, with: cutting(with...), near: cutting(near...), choices: onCard,
			code: code, severity: finding.Warn, count: 1, at: at}
	}
	type d = []string
	const box = "M0 0h40v30h-40z"
	// A point within a line is also the tiniest of segments.
	within := mends("point within a line", finding.StrayPoints, "stray_points", d{"M0 0h40h0v30h-40z"}, d{"M0 0h40v30h-40z"}, "40 30 40 30")
	within.choices.Options.MendsOff = []string{"tiny_segments"}
	return []fault{
		mends("stray point", finding.StrayPoints, "stray_points", d{box, "M50 0L50 0"}, d{box, "M50 0L50.1 0"}, "50 30 50 30"),
		within,
		mends("outline drawn twice", finding.DuplicateLines, "duplicates", d{box, "M0.01 0h40v30h-40z"}, d{box, "M5 5h30v20h-30z"}, "0.01 0 40.01 30"),
		mends("lines overlap in part", finding.DuplicateLines, "duplicates", d{box, "M60 0h20", "M70 0h20"}, d{box, "M60 0h20", "M85 0h20"}, "70 30 80 30"),
		mends("touching lines", finding.LooseSegments, "joins", d{"M0 0h40v30h-40z", "M60 0h20", "M80 0v20"}, d{box, "M60 0h20", "M90 0v20"}, "80 30 80 30"),
		mends("near gap", finding.NearGap, "near_gaps", d{"M0 0h40v30h-40v-29.91"}, d{"M0 0h40v30h-40v-30z"}, "0 29.91 0 30"),
		mends("tiny segments", finding.TinySegments, "tiny_segments", d{"M0 0h20h0.03h19.97v30h-40z"}, d{"M0 0h20h0.06h19.94v30h-40z"}, "20 30 20.03 30"),
		mends("curve of short chords", finding.FacetedCurves, "faceted_curves", d{chords(100)}, d{chords(40)}, "0 0 20 20"),
		asks("gap", finding.Gap, "artwork/gaps", d{"M0 0h40v30h-40v-29.2"}, d{"M0 0h40v30h-40v-30z"}, onCard, "0 29.2 0 30"),
		asks("broken outline on film", finding.Gap, "artwork/gaps", d{"M0 0h40v30h-40v-29.2"}, d{"M0 0h40v30h-40v-30z"}, onFilm, "0 29.2 0 30"),
		warns("spur", finding.Spur, d{box, "M0 15h40.6"}, d{box, "M0 15h40"}, "40 14.4 41.2 15.6"),
		warns("slit in card", finding.OpenLine, d{box, "M10 15h20"}, d{box, "M0 15h40"}, "10 15 30 15"),
		warns("outline open in card", finding.OpenOutline, d{"M0 0h40v30h-40v-28"}, d{"M0 0h40v30h-40v-30z"}, "0 28 0 30"),
		{name: "outline open on film", with: cutting("M0 0h40v30h-40v-28"), near: cutting("M0 0h40v30h-40v-30z"), choices: onFilm,
			code: finding.OpenOutline, severity: finding.Block, count: 1, at: "0 28 0 30"},
		{name: "line open on film", with: cutting(box, "M10 15h20"), near: cutting(box), choices: onFilm,
			code: finding.BoundaryOpen, severity: finding.Block, count: 1, at: "10 15 30 15"},
		warns("faceted curve", finding.Faceted, d{faceted24}, d{"M60 40A20 20 0 0 1 20 40A20 20 0 0 1 60 40Z"}, "0 0 40 40"),
		warns("curve of chords that cost time", finding.SlowCurves, d{chords(40)}, d{chords(100)}, "0 0 20 20"),
		asks("contour that crosses itself", finding.OutlinesCross, "weeding/weld", d{"M0 0H60V40H20V-20H40V30H0Z"}, d{"M0 0H60V40H20V60H10V30H0Z"}, onFilm, "0 0 60 60"),
		{name: "shapes that cross", with: cutting(box, "M30 10h40v30h-40z"), near: cutting(box, "M50 10h40v30h-40z"), choices: onFilm,
			code: finding.OutlinesCross, severity: finding.Ask, count: 2, at: "0 10 40 40", asks: "weeding/weld"},
		asks("line turned into its two edges", finding.DoubledLine, "artwork/doubled_lines", d{box, "M0.7 0.7h38.6v28.6h-38.6z"}, d{box, "M2 2h36v26h-36z"}, onFilm, "0 0 40 30"),
		{name: "hatching that crosses too often", with: cutting(hatching(450, 0.3)), near: cutting(hatching(30, 4.5)), choices: onCard,
			code: finding.TooDense, severity: finding.Block, count: 1, at: "0.3 0 0.3 135"},
		{name: "band of a wide line", with: page(band("2")), near: page(band("1.9")), choices: onCard,
			code: finding.WideLine, severity: finding.Warn, count: 1, at: "0 0 40 30"},
		{name: "band of a wide line in lettering", with: page(band("2")), near: page(band("1.9")), choices: onFilm,
			code: finding.WideLine, severity: finding.Ask, count: 1, at: "0 0 40 30", asks: "artwork/wide_lines"},
		{name: "band of a wide polyline in DXF", with: entities("LWPOLYLINE 8=CUT 90=3 70=1 43=2.5 10=0 20=0 10=40 20=0 10=0 20=30"),
			near: entities("LWPOLYLINE 8=CUT 90=3 70=1 43=0.5 10=0 20=0 10=40 20=0 10=0 20=30"), choices: onCard,
			code: finding.WideLine, severity: finding.Warn, count: 1, at: "0 0 40 30"},
		{name: "fill with a wide line", with: page(`<path d="M10 10h40v30h-40z" fill="#007c91" stroke="#007c91" stroke-width="2"/>`),
			near: page(`<path d="M10 10h40v30h-40z" fill="#007c91" stroke="#007c91" stroke-width="0.3"/>`), choices: onFilm,
			code: finding.FillAndStroke, severity: finding.Ask, count: 1, at: "0 0 40 30", asks: "artwork/painted_edge"},
	}
}
