package lesson

import (
	"fmt"
	"strings"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// shortHand is a college in which a hand is 50 mm long.
func shortHand(w *workshop.Data) {
	for i := range w.Stocks {
		w.Stocks[i].Limits.HandMM = 50
	}
}

const measureIt = "Measure the marked place. Or print the drawing at its true size and lay a ruler on it."

func strip(mm float64) string { return fmt.Sprintf("M0 0h40v%gh-40z", mm) }

var wideStrip = film("A strip of 2 mm.", strip(2))

var highLetters = film("Letters of 13 mm.", letters(13))

var fineLessons = []Lesson{
	{finding.StrokeCare, "Narrow film",
		"A strip between 1 and 1.5 mm stays on if you peel slowly.",
		measureIt, film("A strip of 1.2 mm.", strip(1.2)), wideStrip},
	{finding.StrokeExpert, "Very narrow film",
		"Below 1 mm film comes off with what is peeled beside it, unless practised hands do it.",
		measureIt, film("A strip of 0.8 mm.", strip(0.8)), wideStrip},
	{finding.StrokeTooThin, "Too narrow to hold",
		"Below 0.7 mm film tears, and card below its own limit falls apart. It is not cut, unless somebody who knows the material gives a reason.",
		measureIt, film("A strip of 0.5 mm.", strip(0.5)), wideStrip},
	{finding.NeckTears, "A narrow neck in what comes off",
		"What is peeled off hangs together by a neck of less than 2 mm, and tears there.",
		"Look between the parts that stay: how much room is between them?",
		film("The channel between the two windows is 1.5 mm wide.", plate("M5 5h20v30h-20zM25 19h10v1.5h-10zM35 5h20v30h-20z")), film("The windows are apart.", plate("M5 5h20v30h-20zM35 5h20v30h-20z"))},
	{finding.CounterSmall, "An opening too small to lift out",
		"An opening of less than 2 mm cannot be lifted out with a hook, and in card it does not fall out.",
		measureIt, film("An opening of 1.8 × 1.8 mm.", plate("M20 20h1.8v1.8h-1.8z")), film("An opening of 3 × 3 mm.", plate("M20 20h3v3h-3z"))},
	{finding.LetterCare, "Low letters",
		"Letters of less than 12 mm stay on if you peel slowly.",
		measureIt, film("Letters of 10 mm.", letters(10)), highLetters},
	{finding.LetterExpert, "Very low letters",
		"Letters of less than 8 mm come off easily.",
		measureIt, film("Letters of 7 mm.", letters(7)), highLetters},
	{finding.LetterTooLow, "Letters too low to hold",
		"Letters of less than 6 mm tear when they are peeled. They are not cut, unless somebody who knows the material gives a reason.",
		measureIt, film("Letters of 5 mm.", letters(5)), highLetters},
	{finding.KeptAngleSharp, "A sharp corner",
		"The tip of a corner under 25° holds on to almost nothing and lifts while you peel.",
		"Look for thin tips in what stays.",
		film("A tip of 18°.", "M0 0h60l-60 20z"), film("A tip of 27°.", "M0 0h40l-40 20z")},
	{finding.PieceFragile, "A piece that is easily lost",
		"A piece of less than 10 mm² comes off with the film beside it and is not missed until later.",
		"Look for dots and small parts that stay.",
		film("A dot of 3 × 3 mm in a window.", plate("M10 10h30v20h-30zM20 15h3v3h-3z")), film("A dot of 4 × 4 mm.", plate("M10 10h30v20h-30zM20 15h4v4h-4z"))},
}

// letters is a word of three letters I of a height in mm.
func letters(height float64) string {
	var word strings.Builder
	for i := range 3 {
		fmt.Fprintf(&word, "M%g 0h4v%gh-4z", 8*float64(i), height)
	}
	return word.String()
}
