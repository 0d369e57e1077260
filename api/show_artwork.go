package api

import (
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
)

func showArtwork(a *artwork.Artwork) Artwork {
	return Artwork{
		Strokes: eachAt(a.Strokes, showStroke), Bounds: showBox(a.Bounds), Origin: showPoint(a.Origin), Scale: a.Scale, SavedMM: a.SavedMM,
		Sheet: maybe(a.Sheet, showBox), Stack: maybe(a.Stack, showStack),
		Findings: showFindings(a.Findings), Questions: showQuestions(a.Questions),
	}
}

func showStroke(s *artwork.Stroke) Stroke {
	return Stroke{
		Path: showPath(s.Path), Operation: Operation(s.Operation), Shape: s.Shape, Fill: StrokeFill(s.Fill),
		Layer: s.Layer, Colour: showColour(s.Colour), Slit: s.Slit, Sources: each(s.Sources, showSource), Added: StrokeAdded(s.Added),
	}
}

func showSource(s drawing.Source) Source { return Source{Kind: s.Kind, ID: s.ID, Line: s.Line} }
