package lesson

import "knifedesk/jobs/finding"

func stencil(says string, paths ...string) Example { return of(onStencil(), says, cutting(paths...)) }

func stencilOf(says, path string) Example {
	return of(answered(onStencil(), "weeding/stencil_edge", "opening"), says, cutting(path))
}

func stencilEdged(says, path string) Example {
	return of(answered(onStencil(), "weeding/stencil_edge", "edge"), says, cutting(path))
}

// The middle of a ring, which falls out, and one that bars hold.
const (
	looseMiddle = "M20 20h40v40h-40zM30 30h20v20h-20z"
	heldMiddle  = "M20 20h40v18h-10v-8h-20v8h-10zM20 60h40v-18h-10v8h-20v-8h-10z"
)

// unbridged is a stencil without the bridges that the plan would add.
func unbridged(says, path string) Example {
	e := stencilOf(says, path)
	e.On.Options.NoBridges = true
	return e
}

func turnedRegion(says string, number int) Example {
	e := film(says, plate("M20 10h20v20h-20z"))
	e.On.Turned = []int{number}
	return e
}

var longSlot = film("A slot of 100 mm that is too narrow to be parted.", "M0 0h120v20h-120zM10 10h100v0.9h-100z").with(shortHand)

var weedingLessons = []Lesson{
	{finding.RegionsUnclear, "What stays, and what goes",
		"The fill shows one thing and the outlines another: the window in the plate is filled like the plate, so it may stay or go.",
		"Look at your drawing with fills: what is coloured should be what stays.",
		of(onFilm(), "The fill runs through the window.", onPage(`<path d="M0 0h60v40h-60zM20 10h20v20h-20z" fill="#007c91" fill-rule="nonzero"/>`)), of(onFilm(), "The window is open.", onPage(`<path d="M0 0h60v40h-60zM20 10h20v20h-20z" fill="#007c91" fill-rule="evenodd"/>`))},
	{finding.StencilEdge, "The edge of the stencil, or an opening",
		"One outline holds all the others. As the edge of the sheet it stays; as an opening everything in it falls out.",
		"Is the outermost line part of the pattern, or only the sheet?",
		stencil("A rectangle round two openings.", "M0 0h100v80h-100zM10 10h20v20h-20zM50 10h20v20h-20z"), stencil("The two openings alone.", "M10 10h20v20h-20zM50 10h20v20h-20z")},
	{finding.StencilMargin, "Little sheet beside the openings",
		"Paint gets past the edge of a stencil where little sheet is left beside an opening.",
		"Measure from the opening to the edge of the sheet.",
		stencilEdged("The opening lies 5 mm from the edge.", "M0 0h100v80h-100zM5 20h30v30h-30z"), stencilEdged("The opening lies 20 mm from the edge.", "M0 0h100v80h-100zM20 20h30v30h-30z")},
	{finding.StencilIsland, "A part that falls out",
		"In a stencil the openings fall out, and with them whatever is joined to nothing, such as the middle of an O.",
		"Put your finger on each part that stays: can you slide it to the edge of the sheet without lifting it?",
		unbridged("The square in the middle is joined to nothing.", looseMiddle), unbridged("A bar holds the square on both sides.", heldMiddle)},
	{finding.IslandBridged, "Bridges were added",
		"A part of the stencil would have fallen out, so narrow strips were left that hold it.",
		"Look at the picture of what comes off: the strips are marked there.",
		stencilOf("The square in the middle is joined to nothing.", looseMiddle), stencilOf("Strips are drawn that hold it.", heldMiddle)},
	{finding.PieceInHole, "A part inside a hole",
		"A part lies in a hole of another. When the hole falls out, it comes out too, loose.",
		"Is the inner part to be kept in its place? Then something has to hold it.",
		card("A small box in the window of a plate.", plate("M10 10h30v20h-30zM20 15h10v10h-10z")), card("The window is empty.", plate("M10 10h30v20h-30z"))},
	{finding.RegionUnknown, "No region with that number",
		"You gave the number of a part to keep or remove, and there is none with it.",
		"The numbers stand in the picture of what comes off.",
		turnedRegion("Part 9 was to be turned over: there are two.", 9), turnedRegion("Part 2 was turned over.", 2)},
	{finding.BoundaryOpen, "A cut in film that closes nothing",
		"Film peels along closed lines. This one ends somewhere in it, so nothing comes off there and the film is cut for nothing.",
		zoom + " Where does the line end?",
		film("A line in the middle of the box.", "M0 0h40v30h-40z", "M10 15h20"), film("The box alone.", "M0 0h40v30h-40z")},
	{finding.Nick, "A short tail in film",
		"A line runs a little past the outline on which it should end, and leaves a nick.",
		zoom + " Does one line run past the other?",
		film("The line ends 0.6 mm outside.", "M0 0h40v30h-40zM0 15h40.6"), film("The line ends on the outline.", "M0 0h40v30h-40zM0 15h40")},
	{finding.KeptSlit, "A slit in what stays",
		"A cut runs across a part that stays and ends in it. It does not part it, but slits it open.",
		"Follow the marked line: it begins or ends in a part that stays.",
		film("A cut from the edge to the window.", plate("M20 10h20v20h-20zM0 20h20")), film("No cut in what stays.", plate("M20 10h20v20h-20z"))},
	{finding.PieceLong, "A long strip to be peeled off",
		"What comes off is longer than a hand, and could not be parted without coming near to what stays.",
		"It is seen when you peel. Fold the strip over as you go.",
		longSlot, film("A slot of 40 mm.", "M0 0h120v20h-120zM10 10h40v0.9h-40z").with(shortHand)},
	{finding.SurroundStays, "An outline round everything",
		"One outline holds all of your work, so it is taken for its edge and no border is added.",
		"Is the outermost line the edge of your work?",
		film("A label with an edge of its own.", plate("M5 5h50v30h-50zM20 10h20v20h-20z")), film("Two letters side by side.", "M0 0h20v40h-20zM40 0h20v40h-20z")},
	{finding.NothingEnclosed, "No line closes",
		"A piece comes free only where a line goes all the way round it.",
		"Fill your shapes with a colour: what cannot be filled is open.",
		card("One straight cut.", "M0 0h60"), card("A closed outline.", plate(""))},
}
