package local_test

import (
	"fmt"
	"strings"

	"knifedesk/geometry/drawing/dxf"
)

// awkwardLines are drawings whose lines may mean several things.
func awkwardLines() []awkward {
	const (
		teal = "#007c91"
		box  = "M10 10h80v50h-80z" // 80 × 50 mm
		hole = "M30 25h20v20h-20z"
	)
	line := func(colour, data string) string {
		return fmt.Sprintf(`<path fill="none" stroke="%s" stroke-width="0.1" d="%s"/>`, colour, data)
	}
	fill := func(colour, data string) string { return fmt.Sprintf(`<path fill="%s" d="%s"/>`, colour, data) }
	cut := line(teal, box)
	var rainbow strings.Builder
	for i := range 40 {
		rainbow.WriteString(line(fmt.Sprintf("#%02x%02x20", 120+3*i, 250-5*i), fmt.Sprintf("M%d 10h3v3h-3z", 4+4*i)))
	}
	return []awkward{
		{name: "one red line", file: page(line("#ff0000", box)), choices: onCard, w: 80, h: 50,
			knows: "It is a rectangle of card, 80 × 50 mm. I drew it in red; it is cut out.", right: map[string]string{"artwork/line:#ff0000": "cut"}},
		{name: "black outline and grey fold", file: page(line("#000000", box) + line("#808080", "M50 10v50")), choices: onCard, w: 80, h: 50,
			knows: "It is a card that is cut out along the black line and folded in the middle along the grey one.", right: map[string]string{"artwork/line:#000000": "cut", "artwork/line:#808080": "score"}},
		{name: "forty colours", file: page(rainbow.String()), choices: onFilm, w: 159, h: 3,
			knows: "It is a row of forty small squares in all colours. Each is to be cut out; the colours mean nothing."},
		{name: "violet that is nearly the fold's", file: page(cut + line("#7a3ec0", "M50 10v50")), choices: onCard, w: 80, h: 50,
			knows: "It is a card with a fold in the middle. I took the violet from memory.", right: map[string]string{"artwork/line:#7a3ec0": "score"}},
		{name: "grey shape", file: page(fill("#999999", box)), choices: onCard, w: 80, h: 50,
			knows: "It is a grey rectangle without a line round it; it is to be cut out.", right: map[string]string{"artwork/fill:#999999": "cut"}},
		{name: "notes beside the work", file: page(onLayer("CUT", teal, box) + onLayer("Notes", "#000000", "M100 20h40 M100 30h30")), choices: onCard, w: 80, h: 50,
			knows: "It is a card, 80 × 50 mm. The black lines on the layer Notes are my remarks; nothing is done there.", right: map[string]string{"artwork/layer:Notes": "nothing"}},
		{name: "fold on film", file: page(onLayer("CUT", teal, box) + onLayer("FOLD", "#7a3eb1", "M10 35h80")), choices: onFilm, w: 80, h: 50,
			knows: "It is a sticker, 80 × 50 mm. The fold is left from a card that I made before; I do not need it.", right: map[string]string{"artwork/operation:score": "nothing"}},
		{name: "fold drawn over a cut", file: page(onLayer("CUT", teal, box+"M10 60h80v20h-80z") + onLayer("FOLD", "#7a3eb1", "M10 60h80")), choices: onCard, w: 80, h: 70,
			knows: "It is a card, 80 mm wide and 70 mm high, with a flap that folds along the line where the two rectangles meet. The flap must not come off.", right: map[string]string{"artwork/shared_edges": "fold"}},
		{name: "turned for heat film already", file: page(onLayer("CUT", teal, box) + `<g transform="translate(180 0) scale(-1 1)">` + onLayer("CUT", teal, "M20 20h9v9z") + `</g>`), choices: onHeat, w: 150, h: 50,
			knows: "It is for a shirt. I have mirrored the drawing myself already, as we were told.", right: map[string]string{"artwork/mirror": "as_drawn"}},
		{name: "open outline", file: cutting("M10 10h80v50h-80v-49.5"), choices: onCard, w: 80, h: 50,
			knows: "It is a rectangle that is to come out of the card; I did not see that one corner is open.", right: map[string]string{"artwork/gaps": "join"}},
		{name: "letters that overlap", file: cutting("M10 10h40v30h-40z", "M40 20h40v30h-40z"), choices: onFilm, w: 70, h: 40,
			knows: "They are two blocks that run into each other; together they make one sticker in one piece.", right: map[string]string{"weeding/weld": "weld"}},
		{name: "filled shape on another", file: page(fill(teal, box) + fill(teal, hole)), choices: onFilm, w: 80, h: 50,
			knows: "It is a plain rectangle of film. The small square lies on it in the same colour and cannot be seen; nothing is to be missing there.", right: map[string]string{"weeding/regions": "fill"}},
		{name: "shape with a thick line", file: page(`<path fill="` + teal + `" stroke="` + teal + `" stroke-width="4" d="` + box + `"/>`), choices: onFilm, w: 84, h: 54,
			knows: "It is a sticker that should look on the wall as it looks on my screen: 84 × 54 mm with its thick line.", right: map[string]string{"artwork/painted_edge": "edge"}},
		{name: "wide line as a cut", file: page(`<path fill="none" stroke="` + teal + `" stroke-width="3" d="` + box + `"/>`), choices: onFilm, w: 80, h: 50,
			knows: "It is a rectangle of film, 80 × 50 mm. I made its line thick so that I could see it.", right: map[string]string{"artwork/wide_lines": "middle"}},
		{name: "stencil with its edge", file: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M0 0H200V150H0Z M50 50H150V100H50Z"}), choices: onStencil, w: 200, h: 150,
			knows: "It is a stencil: a sheet of 200 × 150 mm with a rectangular hole to paint through.", right: map[string]string{"weeding/stencil_edge": "edge"}},
		{name: "line of holes in an unknown colour", file: page(cut + line("#ff8800", "M10 35h80")), choices: onCard, w: 80, h: 50,
			knows: "It is a card with a line of small holes across it, so that a coupon can be torn off.", right: map[string]string{"artwork/line:#ff8800": "perforate"}},
		{name: "disc in a hole", file: cutting("M10 10h80v50h-80z M30 20h30v30h-30z", "M40 30h10v10h-10z"), choices: onCard, w: 80, h: 50,
			knows: "It is a frame of card, 80 × 50 mm with a square hole. The small square in the hole is left over and wanted by nobody.", right: map[string]string{"weeding/pieces_in_holes": "waste"}},
		{name: "square in a hole that is wanted", file: cutting("M10 10h80v50h-80z M30 20h30v30h-30z", "M40 30h10v10h-10z"), choices: onCard, w: 80, h: 50,
			knows: "I want both: the frame of card, 80 × 50 mm, and the small square that is cut from its hole.", right: map[string]string{"weeding/pieces_in_holes": "pieces"}},
		{name: "stencil of one ring", file: cutting("M10 10h60v60h-60z", "M25 25h30v30h-30z"), choices: onStencil, w: 60, h: 60,
			knows: "It is a stencil for painting a square with a square left unpainted in its middle: paint goes between the two outlines.", right: map[string]string{"weeding/stencil_edge": "opening"}},
		{name: "hidden layer", file: entities(square + "LWPOLYLINE 8=OFF 90=4 70=1 10=40 20=0 10=60 20=0 10=60 20=20 10=40 20=20"), choices: onCard, w: 20, h: 20,
			knows: "It is one square tag, 20 × 20 mm. There was a second one on a layer that I switched off because I do not want it."},
		{name: "locked layer", file: entities(square + "LWPOLYLINE 8=KEY 90=4 70=1 10=40 20=0 10=60 20=0 10=60 20=20 10=40 20=20"), choices: onCard, w: 60, h: 20,
			knows: "They are two square tags, 20 × 20 mm each, 20 mm apart. I locked the second one when it was finished; it is cut as well.", right: map[string]string{"artwork/layer:KEY": "cut"}},
		{name: "thin strip of card", file: cutting("M10 10h80v50h-80z", "M12 15h30v40h-30z", "M42.6 15h30v40h-30z"), choices: onCard, w: 80, h: 50,
			knows: "It is a window of card with a fine bar in the middle. The technician has said that she tries it with me.", right: map[string]string{"weeding/below_limit": "waive"}},
	}
}
