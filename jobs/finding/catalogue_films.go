package finding

// Codes of layered work, which the artwork job finds.
const (
	FilmUnknown   Code = "film_unknown"        // a colour that no film has
	FilmOrder     Code = "film_order"          // which of two films lies on the other
	FilmOutline   Code = "film_outline"        // a filled shape with a line of another colour
	FilmEmpty     Code = "film_empty"          // nothing is of a film
	FilmHidden    Code = "film_hidden"         // others cover all of a film
	BaseRemovable Code = "base_film_removable" // the lowest film comes off again
	BaseUnknown   Code = "base_film_unknown"   // whether the lowest film stays on is not known
)

var filmEntries = map[Code]entry{
	FilmUnknown: {Ask,
		"{count} {count:shape is|shapes are} {colour}, and no film has that colour. Give {count:it|them} exactly the colour of the film that {count:it|they} should be cut from.",
		"{count} {count:shape|shapes} in {colour}: no rule of the films matches."},
	FilmOrder: {Ask,
		"{one} and {other} overlap in {count} {count:place|places}, and the drawing does not show which lies on top. Fill your shapes, the lower ones first, or answer the question.",
		"{one} and {other} overlap in {count} {count:place|places} without one lying inside the other, and not all shapes are filled, so the order of painting says nothing."},
	FilmOutline: {Warn,
		"{count} filled {count:shape has a line|shapes have lines} of another colour, which {count:is|are} left out: a film is cut along the edge of the fill. Delete {count:the line|the lines}, or turn {count:it into a filled shape of its|them into filled shapes of their} own.",
		"{count} filled {count:shape has|shapes have} a line of another colour than the fill; the fill alone counts for layered film."},
	FilmEmpty: {Block,
		"Nothing in your drawing is of {film}. Draw closed shapes in its colour or on its layer, or leave that film out.",
		"No closed shape matches a rule of {film}."},
	FilmHidden: {Block,
		"Nothing of {film} would be seen: other films cover all of it. Bring its shapes to the front, or leave that film out.",
		"What was painted of {film} is covered wholly by what was painted after it."},
	BaseRemovable: {Warn,
		"The lowest film is {film}, which is made to come off again, and would take the films on it along. Ask the technician for a permanent film of that colour if the work is to last.",
		"The base is of a removable film. Under other films it should be a permanent one: each film on it pulls at its edges, and it lifts as one piece with them."},
	BaseUnknown: {Warn,
		"The workshop's list does not say whether {film}, the lowest film, is permanent. Ask the technician: what comes off again would take the films on it along.",
		"By its family {film} is neither permanent nor removable film. Look on the roll: the base of layered work should be permanent."},
}
