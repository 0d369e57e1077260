package lesson

import (
	"strings"

	"knifedesk/jobs/finding"
)

// saveAgain is what is told where a file is damaged: nothing of it is seen in the drawing.
const saveAgain = "Open the drawing in the program you drew it in. If all of it is there, save it again under a new name and send that file; if not, draw what is missing."

var goodFile = drawn("A drawing saved as SVG: a text that describes lines.", cutting(box))

var oneEntity = `<!DOCTYPE svg [<!ENTITY a "ha">]>`

var fileLessons = []Lesson{
	{finding.UnknownFormat, "Not a drawing that we can read",
		"The file that came is no DXF, SVG or PDF. What a file is called does not matter: a photograph that is renamed to .svg is still a photograph.",
		"Look at what you chose: it should be the file that your drawing program exported, not a letter, a photograph or the program's own working file.",
		drawn("A letter, sent in place of the drawing. There is nothing to show.", "Dear workshop, please find my drawing enclosed."), goodFile},
	{finding.Unreadable, "A damaged or locked file",
		"The file says what it is, but cannot be opened: it was cut short on its way, or is locked by a password.",
		"Open the file itself, not your working file, in another program. If that cannot show it either, export it again, without a password.",
		drawn("A PDF file that breaks off after its first line. There is nothing to show.", "%PDF-1.4\nrubbish"), goodFile},
	{finding.EmptyDrawing, "Nothing to cut",
		"The file can be read, but nothing visible is drawn in it: the layer was switched off, the lines have no colour, or the wrong page was exported.",
		"Select everything in your drawing. If nothing is selected, the drawing is empty; if something is that you do not see, give it a line colour and show its layer.",
		drawn("A page with an empty layer.", onPage(`<g id="CUT"/>`)), goodFile},
	{finding.LimitReached, "Too much for one file",
		"The file is larger than what can be read, often because a copy holds copies that hold copies. What came after the limit is missing, so nothing is cut.",
		"Look for patterns and copied groups. Draw one piece only and say how many copies you want: the copies are laid out for you.",
		drawn("A note in the file holds 300 notes, each of which holds 300 others. It is not read to its end.", nested(300)),
		drawn("The file holds the square alone.", nested(1))},
	{finding.SeveralPages, "Several pages",
		"The file has more than one page, and one is cut at a time, so you are asked which.",
		"Look how many pages your file has. Send the page that is meant alone, or answer the question.",
		drawn("Two pages; the first is shown.", pdf(2, "10 10 40 30 re S")), drawn("One page.", pdf(1, "10 10 40 30 re S"))},
	{finding.EntityMarkup, "A file put together from blocks",
		"The file keeps pieces of the drawing as blocks of text that a reader has to put in. They are not put in here, since such blocks can be made to grow without end.",
		"It cannot be seen in the drawing. Save it again as plain SVG from your drawing program.",
		drawn("The square stands in a block of text at the top of the file, and is not drawn.", `<!DOCTYPE svg [<!ENTITY part '<path d="M60 10h20v20h-20z"/>'>]>`+toCut(first+"&part;")),
		drawn("The square stands in the drawing itself.", oneEntity+toCut(first+second))},
	{finding.EncodingGuessed, "Letters written in an old way",
		"The file says that its letters are written in one way, and they are written in another. Lines are not touched by that, but names of layers may look wrong, and names say what a line is for.",
		"Look at the names of your layers: letters with accents come out wrong. Name layers in plain letters, or save with the encoding UTF-8.",
		drawn("The layer's name has a letter that is not UTF-8.", toCut(first+"<desc>Caf\xe9</desc>")), drawn("The same in UTF-8.", toCut(first+"<desc>Café</desc>"))},
	{finding.CodePageDoubtful, "Names in another alphabet than the file says",
		"The file names one way of writing letters and uses another. Only names of layers can come out wrong.",
		"Look at the names of your layers, or save the file in a newer version of the format.",
		drawn("A layer's name in UTF-8, in a file that says otherwise.", oldDXF("LINE 8=Café 62=4 10=30 20=0 11=50 21=0 ")), drawn("A name in plain letters.", oldDXF(beside))},
	{finding.EndMarkMissing, "The last line of the file is missing",
		"A DXF file ends with a line that says so, and here it is missing. All parts are closed, so nothing of the drawing was lost.",
		"It cannot be seen in the drawing. " + saveAgain,
		drawn("The drawing is whole; the last line of the file is missing.", cutOff(inMM(square), "0\nEOF\n")), drawn("The same file with its last line.", inMM(square))},
	{finding.TrashAfterEnd, "Text behind the end",
		"There is more in the file after its end, as when two files were stuck together. It is not read.",
		"It cannot be seen in the drawing. " + saveAgain,
		drawn("A line of text follows the end of the file.", inMM(square)+"more\n"), drawn("The file ends with its end.", inMM(square))},
	{finding.Truncated, "A file cut short",
		"The file ends in the middle: part of your drawing never arrived. That happens when sending stops too early or a disk is full.",
		saveAgain,
		drawn("The second half of the file is missing: one square is left.", cutOff(inMM(square+beside), groups(beside+"ENDSEC EOF"))), drawn("The whole file.", inMM(square+beside))},
	{finding.StreamMended, "Wrong lengths in the file",
		"A PDF says of each of its parts how long it is, and here it says it wrongly. The parts were read to their true ends.",
		"Compare the picture of your drawing here with what you drew. If it is whole, nothing is wrong.",
		drawn("A part of the file is longer than it says, and is read whole.", wrongLength(pdf(1, "10 10 40 30 re S"))), drawn("The lengths are right.", pdf(1, "10 10 40 30 re S"))},
	{finding.ContentBroken, "Part of the file cannot be unpacked",
		"A PDF packs its parts to save room. One of them is damaged, so that only its beginning was read.",
		saveAgain,
		drawn("The packed part of the file is damaged.", packed("10 10 40 30 re S 60 10 20 20 re S", 12)), drawn("The same part, whole.", packed("10 10 40 30 re S 60 10 20 20 re S", 0))},
	{finding.AnnotationDrawn, "Comments and stamps on the page",
		"PDF pages can carry comments, stamps and form fields over the drawing. They were read like the drawing, so somebody has to say whether they are cut.",
		"Click into the page in a viewer: what can be moved or filled in is a comment, a stamp or a field. Delete it before you export.",
		drawn("A stamp of 20 × 20 lies beside the drawing.", stamped("10 10 40 30 re S")), drawn("The drawing alone.", pdf(1, "10 10 40 30 re S"))},
}

// nested is a square with a note that holds n others, which hold n others.
func nested(n int) string {
	return `<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("ha", 50) + `"><!ENTITY b "` + strings.Repeat("&a;", n) + `"><!ENTITY c "` + strings.Repeat("&b;", n) + `">]>` +
		toCut(first+"<desc>&c;</desc>")
}
