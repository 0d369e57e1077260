package finding

import "strings"

// answerWas stands between what is so and what a person answered.
const answerWas = " The answer was: "

// Answered returns f as it stands once a person has decided about it: a warning that tells what
// is so and what was answered, and no longer what to change in the drawing.
func (f Finding) Answered(answer string) Finding {
	if fact, ok := decided[f.Code]; ok {
		f.Hint = f.Fill(fact) + answerWas + answer + "."
	}
	return f.As(Warn)
}

// IsAnswered reports whether f is as Answered left it: nothing of it is left to look at. It
// reads what Answered wrote, and not which answers a plan was given, since an answer to a
// group decides about findings of many codes.
func (f Finding) IsAnswered() bool {
	_, ok := decided[f.Code]
	return ok && f.Severity == Warn && strings.Contains(f.Hint, answerWas)
}

// decided says for the codes that stay in a plan when they were asked about what is so, for
// the person who drew. Their hints in the catalogue say what to change, or to answer.
var decided = map[Code]string{
	LockedLayer:          "{count} {count:line is|lines are} on a locked layer ({names}).",
	FillOnly:             "{count} {count:shape is|shapes are} filled with a colour that the workshop does not use, and {count:has|have} no line.",
	ColourNear:           "{count} {what} {count:has|have} nearly the workshop's colour {nearest} ({means}).",
	UnknownLine:          "The workshop has no rule for {count} {what}.",
	OperationUnsupported: "{count} {count:line is|lines are} there to {operation}, which cannot be done on {stock}.",
	FoldOnCut:            "{count} fold {count:line lies on a cut line|lines lie on cut lines}.",
	FoldSides:            "The drawing does not say which way {count} {count:fold goes|folds go}.",
	FillAndStroke:        "{count} filled {count:shape has|shapes have} a line up to {most_mm} mm wide, so {count:it looks|they look} larger than drawn.",
	WideLine:             "{count} {count:line is|lines are} drawn up to {most_mm} mm wide.",
	DoubledLine:          "{count} {count:outline is|outlines are} drawn as two lines side by side.",
	MirroredAlready:      "{stock} is mirrored before it is cut, and the drawing seems to be mirrored already.",
	DrawnMirrored:        "The whole drawing is mirrored.",
	Gap:                  "Lines stop short of each other in {count} {count:place|places}, by up to {most_mm} mm.",

	FilmUnknown:    "{count} {count:shape is|shapes are} {colour}, and no film has that colour.",
	FilmOrder:      "{one} and {other} overlap in {count} {count:place|places}, and the drawing does not show which lies on top.",
	OutlinesCross:  "{count} {count:outline runs over itself or another|outlines run over each other}.",
	RegionsUnclear: "In {count} {count:place|places} outlines lie in each other, and the drawing does not show what is kept.",

	ClipPathUsed:      "{count} {count:shape is|shapes are} partly hidden by a clip (a shape that lets only a part of others show).",
	MaskUsed:          "{count} {count:shape is|shapes are} partly hidden by a mask.",
	PathDataBroken:    "{count} {count:outline is damaged and ends|outlines are damaged and end} too early.",
	ValueUnreadable:   "{count} {count:size or position in the file|sizes or positions in the file} cannot be read.",
	PercentUnresolved: "The file has no page size.",
	AnnotationDrawn:   "{count} {count:comment, stamp or form field lies|comments, stamps or form fields lie} on the page.",
	HatchListed:       "{count} filled or hatched {count:area is|areas are} not cut.",

	FrameBeside: "{count} {count:line lies|lines lie} {where} the frame, {away} mm away from it.",
	InnerScale:  "{count} {count:part|parts} of the drawing {count:is|are} placed larger or smaller than {count:it was|they were} drawn.",

	PieceInHole:   "{count} {count:part lies|parts lie} inside a hole of another part, and {count:comes|come} out loose when the hole does.",
	StrokeTooThin: "{count} {count:part|parts} of {material} that {count:stays is|stay are} only about {least_mm} mm wide over {length_mm} mm and may tear when you {peel}.",
	LetterTooLow:  "The lowest letters are only {height_mm} mm high and may tear when you {peel}.",
}
