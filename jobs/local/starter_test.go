package local_test

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/view/starter"
	"knifedesk/jobs/workshop"
)

// begun is a drawing made in the starter file for a stock, with lines on the layers
// of the example convention for what the stock takes.
func begun(t *testing.T, data *workshop.Data, s *workshop.Stock) string {
	t.Helper()
	w, h := s.WidthMM, s.LengthMM
	if s.Form == workshop.Roll {
		w, h = 297, 210
	}
	file, err := starter.New(s, &data.Conventions[0], w, h)
	var b strings.Builder
	if err == nil {
		err = file.WriteSVG(&b)
	}
	if err != nil {
		t.Fatal(err)
	}
	work := "M30 40h120v80h-120zM50 60h20v20h-20z"
	if s.Family == workshop.StencilSheet { // openings alone: the sheet is what stays
		work = "M30 40h40v60h-40zM90 40h40v60h-40z"
	}
	drawing := b.String()
	for layer, d := range map[string]string{"CUT": work, "FOLD": "M100 40v80", "PEN": "M120 70h20"} {
		before, after, ok := strings.Cut(drawing, `<g id="`+layer+`"`)
		if ok {
			drawing = before + `<g id="` + layer + `"` + strings.Replace(after, "</g>", `<path d="`+d+`"/></g>`, 1)
		}
	}
	return drawing
}

// Nothing is asked of a drawing that is made in a starter file, on any stock of
// the example workshop, also where a program has kept colours and no layers.
func TestStarterFilesAskNothing(t *testing.T) {
	data := workshop.Example()
	for _, s := range data.Stocks {
		got := desk{data, plan.Choices{Stock: s.ID}}.run(t, begun(t, &data, &s))
		if len(got.questions) > 0 || got.last != "" {
			t.Errorf("%s:%s", s.ID, got)
		}
	}
	bare := regexp.MustCompile(` id="[A-Z]+"`)
	s, _ := data.Stock("card-220-a4")
	if got := (desk{data, plan.Choices{Stock: s.ID}}).run(t, bare.ReplaceAllString(begun(t, &data, &s), "")); len(got.questions) > 0 || got.last != "" || got.find(finding.LeftOut) != nil {
		t.Errorf("%s without layers:%s", s.ID, got)
	}
}

// What a starter file says of itself is no note of whoever drew: no stock tells of it.
// All else on that layer is told, and so is the legend itself where it lies elsewhere,
// larger, or without the frame that it came with.
func TestLegendOfStarterFilesIsNotTold(t *testing.T) {
	data := workshop.Example()
	for i, s := range data.Stocks {
		if i%4 != 0 && s.ID != "card-220-a4" {
			continue
		}
		drawing := begun(t, &data, &s)
		if !strings.Contains(drawing, `<g id="NOTES"`) {
			t.Fatalf("%s: no layer for notes", s.ID)
		}
		told := func(drawing string) int {
			f := desk{data, plan.Choices{Stock: s.ID}}.run(t, drawing).find(finding.LeftOut)
			if f == nil {
				return 0
			}
			return f.Count
		}
		if n := told(drawing); n != 0 {
			t.Errorf("%s: %d lines of its own legend are told", s.ID, n)
		}
		if n := told(strings.Replace(drawing, `<g id="NOTES"`, `<g id="NOTES" stroke="#606060"><path d="M30 150h9v9h-9z"/></g><g id="NOTES_2" data-name="NOTES"`, 1)); n != 1 {
			t.Errorf("%s: of a note beside the legend %d are told", s.ID, n)
		}
		if s.ID != "card-220-a4" {
			continue
		}
		for _, near := range []string{"0.06 0", "-0.06 0", "0 0.06", "0 -0.06", "0.06 -0.06"} { // as another program may save it, to less than 0.1 mm
			if n := told(strings.Replace(drawing, `<g id="NOTES"`, `<g transform="translate(`+near+`)" id="NOTES"`, 1)); n != 0 {
				t.Errorf("moved by %s %d outlines of its legend are told", near, n)
			}
		}
		for _, change := range []string{`transform="translate(0.2 0)"`, `transform="translate(0 -0.2)"`, `transform="translate(3 0)"`, `transform="translate(-4 -150) scale(1.5)"`} {
			if n := told(strings.Replace(drawing, `<g id="NOTES"`, `<g `+change+` id="NOTES"`, 1)); n < 50 {
				t.Errorf("with %s only %d outlines are told", change, n)
			}
		}
	}
}

// What lies in the box of a letter of the legend, and along it as far as it goes or as far
// as the letter goes, but is no such letter, is told like all else: a diamond in an o, and an
// o with a notch to its middle.
func TestWhatLiesLikeALetterIsNoLegend(t *testing.T) {
	data := workshop.Example()
	s, _ := data.Stock("card-220-a4")
	file, err := starter.New(&s, &data.Conventions[0], s.WidthMM, s.LengthMM)
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(file.Layers, func(l layered.Layer) bool { return l.Name == "NOTES" })
	letter, middles := roundOne(t, file.Layers[at].Paths)
	notched := append(slices.Insert(slices.Clone(letter), len(letter)/3, letter[0].Lerp(letter[len(letter)/2], 0.5)), letter[0])
	drawing := begun(t, &data, &s)
	onto := geometry.Scale(1, -1).Then(geometry.Translate(0, s.LengthMM))
	for name, c := range map[string]struct {
		drawn []geometry.Point
		told  int
	}{"the letter": {letter, 0}, "a diamond": {middles, 1}, "a notched letter": {notched, 1}} {
		path := geometry.Polygon(c.drawn...).Transform(onto)
		before, after, _ := strings.Cut(drawing, `<g id="NOTES"`)
		got := desk{data, plan.Choices{Stock: s.ID}}.run(t, before+`<g id="NOTES"`+strings.Replace(after, "</g>", `<path d="`+path.String()+`"/></g>`, 1))
		told := 0
		if f := got.find(finding.LeftOut); f != nil {
			told = f.Count
		}
		if told != c.told {
			t.Errorf("%s: %d lines are told, want %d:%s", name, told, c.told, got)
		}
	}
}

// roundOne finds a letter that comes to the middles of all sides of its box, such as an o,
// and these.
func roundOne(t *testing.T, all []geometry.Path) (letter, middles []geometry.Point) {
	t.Helper()
	for _, p := range all {
		b := p.Bounds()
		letter = p.Flatten(0.005)
		c := b.Centre()
		middles = []geometry.Point{{X: b.Min.X, Y: c.Y}, {X: c.X, Y: b.Min.Y}, {X: b.Max.X, Y: c.Y}, {X: c.X, Y: b.Max.Y}}
		onAll := b.Width() > 1.2
		for _, m := range middles {
			least := math.Inf(1)
			for i := range letter {
				least = math.Min(least, m.DistToSegment(letter[max(i-1, 0)], letter[i]))
			}
			onAll = onAll && least < 0.03
		}
		if onAll && p.Length() < 3.5*b.Width() { // and is no square or diamond by itself
			return letter, middles
		}
	}
	t.Fatal("the legend has no round letter")
	return nil, nil
}

// everything is a drawing on film with all that may be asked of it at once.
const everything = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="urn:editor" viewBox="0 0 300 300" fill="none">
<clipPath id="c"><rect x="100" y="100" width="10" height="30"/></clipPath><mask id="m"><rect width="9" height="9" fill="#fff"/></mask>
<g i:groupmode="layer" i:label="TEMPLATE" i:insensitive="true"><path stroke="#007c91" d="M5 5h40v40h-40z"/></g>
<g stroke="#007c91"><path clip-path="url(#c)" d="M90 90h40v40h-40z"/><path mask="url(#m)" d="M90 140h40v40h-40z"/>
<path d="M10 60h30v20h-30zM10.7 60.7h28.6v18.6h-28.6zM10 100h20v20h-20v-19.3"/><path fill="#007c91" stroke-width="2" d="M60 60h15v15h-15z"/>
<path d="M150 10h40v40h-40zM170 20h40v40h-40z"/></g>
<path stroke="#ff0000" d="M10 140h20v20h-20z"/><path stroke="#00ff00" d="M10 170h20v20h-20z"/><path stroke="#7a3ec0" d="M10 200h20"/>
<g i:groupmode="layer" i:label="FOLD"><path stroke="#7a3eb1" d="M10 60h30"/></g><g i:groupmode="layer" i:label="PEN"><path stroke="#4a5568" d="M60 90h10"/></g></svg>`

// However much is open in a drawing, three questions at most stand on the
// screen at once, and seven are asked in all.
func TestSevenQuestionsInAll(t *testing.T) {
	for _, stock := range []string{"film-removable-610", "card-220-a3"} {
		given := ask.Replies{}
		var asked []string
		for {
			choices := plan.Choices{Stock: stock, Replies: given}
			got := desk{workshop.Example(), choices}.run(t, everything)
			fresh := slices.DeleteFunc(got.questions, func(q ask.Question) bool { return given[q.ID].Answer != "" })
			if len(fresh) == 0 {
				break
			}
			if len(fresh) > 3 {
				t.Errorf("%s: %d questions at once:%s", stock, len(fresh), got)
			}
			for _, q := range fresh {
				asked = append(asked, q.ID)
				given[q.ID] = replyTo(&q)
			}
		}
		t.Logf("%s asks %q", stock, asked)
		if len(asked) > 7 || len(asked) < 4 {
			t.Errorf("%s asks %d questions: %q", stock, len(asked), asked)
		}
	}
}

// replyTo gives the first answer, and 190 mm where a length is wanted.
func replyTo(q *ask.Question) ask.Reply {
	r := ask.Reply{Answer: q.Answers[0].ID}
	if q.Answers[0].NeedsMM {
		r.MM = 190
	}
	return r
}
