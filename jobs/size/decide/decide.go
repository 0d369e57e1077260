package decide

import "knifedesk/jobs/finding"

// Decide applies the table by which a size is accepted or asked about; of the
// rows the first that holds decides. What the caller said of this drawing binds.
// The convention, the header, layers, the page and dimensions are evidence.
func Decide(f Facts) Verdict {
	v := bySize(f)
	switch {
	case f.Given, f.Declared, !f.Told && !f.Backed:
	case v.Size == Asked:
		v.First = Readings // theirs stands before all others
	case f.Told && (f.Rect == nil || v.Role != Part):
		return ask(finding.SizeDimensions, Readings) // a drawing to a scale has the right paper round it
	}
	return v
}

// bySize is the verdict by what is drawn, whatever dimensions say.
func bySize(f Facts) Verdict {
	r := f.Rect
	switch {
	case f.Given:
		return byWord(f)
	case f.Declared:
		return declared(r)
	case r == nil:
		return unframed(f)
	case r.Empty && r.OnFrameLayer && (r.Fit == Own || r.Fit == Other):
		return Verdict{Size: ByFrame, Role: Frame} // that there is nothing to cut is said of the artwork
	case r.Ground && (r.Fit == Near || r.Fit == Shape || r.Fit == NoFit && r.WorkFits && !r.CutAsRead):
		return Verdict{Size: ByFile, Role: Frame} // what is no page's size and cannot be cut is a background too
	}
	switch r.Fit {
	case Own:
		return own(f.Stated, r)
	case Other:
		return other(f.Stated, r)
	case Rivalled:
		return ask(finding.SizeAmbiguous, pieceIf(f.Stated && r.LooksCut && r.CutAsRead && r.Ruled))
	case Shape:
		return shape(f.Stated, r)
	}
	return unnamed(f, r)
}

// unnamed: a rectangle that is no paper is a frame inside the margins of one or a
// part of the work, which both leave the size to the file; or it was a frame and
// has been spoiled.
func unnamed(f Facts, r *Rect) Verdict {
	switch {
	case r.Margins && r.OnFrameLayer:
		return file(f.AsRead, Frame)
	case r.Margins:
		return file(f.AsRead, Open)
	case r.Fit == Near:
		return near(r)
	}
	return Verdict{Size: ByFile, Role: Part}
}

// declared: any factor is good where both axes agree. A rectangle beside the work
// that has nothing but the shape may be a piece.
func declared(r *Rect) Verdict {
	switch {
	case r == nil:
		return ask(finding.FrameNotFound, Length)
	case !r.Agrees:
		return ask(r.Bent, Readings)
	case r.Beside && r.Fit == Shape:
		return ask(finding.SizeUnnamedFactor, Length)
	}
	return Verdict{Size: ByFrame, Role: Frame}
}

// own: a rectangle of a named size by the file's own unit is the frame where it
// could not be cut or does not look cut, else a piece at that size.
func own(stated bool, r *Rect) Verdict {
	// Without a closed shape in it a rectangle may be the only edge there is.
	piece := (r.LooksCut || !r.Closed) && !r.OnFrameLayer && !r.Ground && r.CutAsRead
	switch {
	case !r.FitsStock && !r.Said: // what the unit and the layer say alike is meant, also where it takes panels
		return ask(finding.SizeOffStock, Readings)
	case !piece:
		return Verdict{Size: ByFrame, Role: Frame}
	case stated && r.LooksCut && !r.Closed:
		return Verdict{Size: ByFile, Role: Part}
	}
	return Verdict{Size: ByFrame, Role: Open}
}

// other: one named cause, which is not the file's own reading, is accepted where
// the rectangle cannot be a piece and numbers in the file's unit cannot be meant.
func other(stated bool, r *Rect) Verdict {
	looksCut := r.LooksCut && !r.OnFrameLayer
	switch {
	case !r.FitsStock:
		return ask(finding.SizeOffStock, Readings)
	case r.PagePart && looksCut && r.Ruled:
		return ask(finding.FrameInPage, Piece)
	case r.PagePart && !r.OnFrameLayer:
		return ask(finding.FrameInPage, Second)
	case r.CutAsRead && (stated && (r.Metric || looksCut) || r.Metric && looksCut && r.CutAsFit):
		return ask(finding.FrameOtherUnit, pieceIf(looksCut && r.Ruled))
	case looksCut && r.CutAsFit:
		return Verdict{Size: ByFrame, Role: Open}
	}
	return Verdict{Size: ByFrame, Role: Frame}
}

// shape: a factor without a name is asked about, whatever the convention says.
// A rectangle that looks cut in a file that states its unit is rather a piece.
func shape(stated bool, r *Rect) Verdict {
	switch {
	case stated && r.LooksCut && !r.OnFrameLayer && r.CutAsRead && r.Ruled:
		return ask(finding.SizeUnnamedFactor, Piece)
	case r.Pointed:
		return ask(finding.SizeUnnamedFactor, Readings)
	case stated && r.LooksCut && !r.OnFrameLayer && r.CutAsRead:
		return ask(finding.SizeUnnamedFactor, Piece)
	}
	return ask(finding.SizeUnnamedFactor, Length)
}

// near: a frame that was stretched, edited or rounded, or a piece of about the
// shape of a paper.
func near(r *Rect) Verdict {
	switch {
	case r.Bent == finding.FrameOffShape:
		return ask(r.Bent, Second)
	case r.Bent == finding.FrameEdited && !r.FitsStock:
		return ask(r.Bent, Length)
	}
	return ask(r.Bent, Readings)
}

// byWord: what the caller gave binds, but for two words that do not agree.
func byWord(f Facts) Verdict {
	if f.Apart {
		return ask(finding.SizeGivenApart, Readings)
	}
	return Verdict{Size: ByWord, Role: given(f.Rect)}
}

// given: where the caller's word settles the size, a rectangle of a named size by
// it is judged as one by the file's own unit.
func given(r *Rect) Role {
	switch {
	case r == nil || r.Fit == NoFit && !r.OnFrameLayer:
		return Part
	case r.OnFrameLayer:
		return Frame
	case !r.LooksCut || !r.CutAsRead:
		if r.Fit == Near {
			return Open
		}
		return Frame
	case r.Fit == Own && !r.Closed:
		return Part
	}
	return Open
}

// unframed: a header is believed where nothing speaks against it, such as plates that
// are drawn to measure in another unit. A page of a named size says less than a frame
// of it, and is asked about.
func unframed(f Facts) Verdict {
	switch {
	case f.Stated && f.Measured:
		return ask(finding.SizeOtherUnit, Readings)
	case !f.Stated && (f.Measured || f.Paged && f.AsRead):
		return ask(finding.SizeNoEvidence, Readings)
	case !f.Stated:
		return ask(finding.SizeNoEvidence, Length)
	}
	return file(f.AsRead, Part)
}

func file(asRead bool, role Role) Verdict {
	if !asRead {
		return ask(finding.SizeOffStock, Length)
	}
	return Verdict{Size: ByFile, Role: role}
}

func ask(code finding.Code, first First) Verdict {
	return Verdict{Size: Asked, Role: InAnswer, Code: code, First: first}
}

func pieceIf(piece bool) First {
	if piece {
		return Piece
	}
	return Readings
}
