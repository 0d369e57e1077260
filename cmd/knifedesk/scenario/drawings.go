package scenario

import (
	"math"

	"knifedesk/geometry"
)

// TideLabel is a plate of 180 × 120 mm with round corners and three rows of
// lettering on an A4 page.
func TideLabel() Sheet {
	plate := rounded(15, 88, 180, 120, 8)
	rows := append(centred(Letters("LOW TIDE", 0, 0, 20), 105, 180),
		append(centred(Letters("Orrin Point", 0, 0, 14), 105, 148),
			centred(Letters("06:40", 0, 0, 16), 105, 114)...)...)
	return Sheet{Lines: []Line{page(210, 297), cut(plate), cut(rows...)}}
}

// CaptionTent is a card of 160 × 140 mm to fold at mid-height, with two slots.
// The frame is drawn on the cut layer, as beginners do, and the score's violet
// is a little off.
func CaptionTent() Sheet {
	frame := page(210, 297)
	frame.Layer, frame.Colour = "CUT", teal()
	score := Line{Layer: "LINES", Colour: offViolet(), Paths: []geometry.Path{line(25, 150, 185, 150)}}
	slots := []geometry.Path{slot(60, 100, 40, 3), slot(110, 100, 40, 3)}
	return Sheet{Lines: []Line{frame, cut(rect(25, 80, 160, 140)), cut(slots...), score}}
}

// slot returns a slot of length l and width w with round ends from (x, y).
func slot(x, y, l, w float64) geometry.Path {
	r := w / 2
	p := geometry.Path{Start: geometry.Pt(x+r, y-r), Closed: true}
	p.Segments = []geometry.Segment{
		geometry.LineTo(geometry.Pt(x+l-r, y-r)), geometry.ArcTo(1, geometry.Pt(x+l-r, y+r)),
		geometry.LineTo(geometry.Pt(x+r, y+r)), geometry.ArcTo(1, p.Start),
	}
	return p
}

// RingSign is a ring of two ellipses round the word BOARD; the outer ellipse
// is drawn twice.
func RingSign() Sheet {
	outer := ellipse(150, 60, 300, 120)
	return Sheet{Lines: []Line{
		cut(outer), cut(outer), cut(ellipse(150, 60, 284, 104)),
		cut(centred(Letters("BOARD", 0, 0, 42), 150, 60)...),
	}}
}

// LighthouseStencil is a tower with a lamp and windows on A3; the windows and
// the lamp's heart are islands that fall out unless they are bridged.
func LighthouseStencil() Sheet {
	tower := polygon(110, 60, 187, 60, 172, 280, 125, 280)
	lamp := rounded(118, 295, 61, 60, 10)
	return Sheet{Lines: []Line{
		page(297, 420), cut(tower, lamp),
		cut(rect(138, 100, 22, 34), rect(138, 190, 22, 34)),
		cut(geometry.Circle(geometry.Pt(148.5, 325), 14)),
	}}
}

// WaveBanner is three sine strokes of 12 mm on a banner of 1740 mm by the
// given height.
func WaveBanner(height float64) Sheet {
	var waves []geometry.Path
	for i := 0; i < 3; i++ {
		waves = append(waves, wave(1740, height*(0.25+0.25*float64(i)), height*0.1, 12))
	}
	return Sheet{Lines: []Line{cut(rect(0, 0, 1740, height)), cut(waves...)}}
}

// wave returns a sine stroke of the given thickness across a length, 20 mm in
// from both ends, as a closed polygon of short chords.
func wave(length, y, amplitude, thick float64) geometry.Path {
	const n = 240
	var upper, lower []geometry.Point
	for i := 0; i <= n; i++ {
		x := 20 + (length-40)*float64(i)/n
		a := 2 * math.Pi * 6 * float64(i) / n
		at := geometry.Pt(x, y+amplitude*math.Sin(a))
		slope := geometry.Pt((length-40)/n, amplitude*2*math.Pi*6/n*math.Cos(a)).Unit().Perp().Mul(thick / 2)
		upper, lower = append(upper, at.Add(slope)), append(lower, at.Sub(slope))
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	return geometry.Polygon(upper...)
}

// ScriptWord is a word whose letters overlap, as joined handwriting comes from a
// drawing program, with a hairline of 0.6 mm under it.
func ScriptWord() Sheet {
	word := Script("signal", 0, 14, 34, 6)
	b := bounds(word)
	return Sheet{Lines: []Line{cut(word...), cut(rect(b.Min.X, 0, b.Width(), 0.6))}}
}

// CrewBadge is a badge whose word the student has mirrored already, with the
// drawing program's command that turns a group over.
func CrewBadge() Sheet {
	word := cut(centred(Letters("CREW", 0, 0, 18), 45, 27.5)...)
	word.Layer, word.Mirrored = "word", true
	return Sheet{Lines: []Line{cut(rounded(0, 0, 90, 55, 6)), word}}
}

// ClassTag is a tag of 90 × 55 mm with a hole and a name, on a page of w × h.
func ClassTag(name string, w, h float64) Sheet {
	tag := []geometry.Path{rounded(20, 30, 90, 55, 5), geometry.Circle(geometry.Pt(28, 77), 2.5)}
	return Sheet{Lines: []Line{page(w, h), cut(tag...), pen(centred(Letters(name, 0, 0, 9), 68, 55)...)}}
}

// BoxNet is the net of a folded box: four walls and two lids of cut and score
// lines. Where panels meet the students drew the score twice.
func BoxNet() Sheet {
	const w, h = 60.0, 80.0
	x0, y0 := 25.0, 160.0
	var folds []geometry.Path
	for i := 1; i < 4; i++ {
		x := x0 + w*float64(i)
		folds = append(folds, line(x, y0, x, y0+h), line(x, y0+h, x, y0)) // drawn by both panels
	}
	folds = append(folds, line(x0+w, y0+h, x0+2*w, y0+h), line(x0+w, y0, x0+2*w, y0))
	outline := polygon(
		x0, y0, x0+w, y0, x0+w, y0-w, x0+2*w, y0-w, x0+2*w, y0, x0+4*w, y0,
		x0+4*w, y0+h, x0+2*w, y0+h, x0+2*w, y0+h+w, x0+w, y0+h+w, x0+w, y0+h, x0, y0+h)
	return Sheet{Lines: []Line{page(297, 420), cut(outline), fold(folds...)}}
}

// FilmWithScore is a label on film that carries a fold line by mistake.
func FilmWithScore() Sheet {
	return Sheet{Lines: []Line{
		cut(rounded(0, 0, 120, 60, 6)), cut(centred(Letters("FLOOD", 0, 0, 20), 60, 30)...),
		fold(line(0, 8, 120, 8)),
	}}
}

// QuaySign is a plate of 220 × 90 mm with a word and a ring, which are cut from a film of
// their own and put up on it.
func QuaySign() Sheet {
	plate := Line{Layer: "PLATE", Colour: slate(), Paths: []geometry.Path{rounded(0, 0, 220, 90, 10)}}
	word := Line{Layer: "WORD", Colour: teal(), Paths: append(centred(Letters("QUAY", 0, 0, 34), 130, 45), geometry.Circle(geometry.Pt(38, 45), 22), geometry.Circle(geometry.Pt(38, 45), 14))}
	return Sheet{Lines: []Line{plate, word}}
}

// GiftTags is a strip of four tags with a hole each, to tear apart at perforated
// lines and to fold in the middle.
func GiftTags() Sheet {
	const w, h, n = 45.0, 90.0, 4
	var holes, folds, tears []geometry.Path
	for i := range n {
		x := 15 + w*float64(i)
		holes = append(holes, geometry.Circle(geometry.Pt(x+w/2, 130+h-9), 2.5))
		folds = append(folds, line(x+4, 130+h/2, x+w-4, 130+h/2))
		if i > 0 {
			tears = append(tears, line(x, 130, x, 130+h))
		}
	}
	return Sheet{Lines: []Line{
		page(210, 297), cut(rect(15, 130, n*w, h)), cut(holes...), fold(folds...),
		{Layer: "PERFORATE", Colour: grey(), Paths: tears},
	}}
}

// WindowStar is a star of eight points with a round window, for film that is
// seen through the glass it sticks to.
func WindowStar() Sheet {
	var points []float64
	for i := range 16 {
		r := 70.0
		if i%2 == 1 {
			r = 34
		}
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 16)
		points = append(points, 75+r*sin, 75+r*cos)
	}
	return Sheet{Lines: []Line{
		cut(polygon(points...)), cut(geometry.Circle(geometry.Pt(75, 75), 24)),
		cut(centred(Letters("SAIL", 0, 0, 11), 75, 75)...),
	}}
}
