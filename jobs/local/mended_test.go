package local_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/view/mended"
	"knifedesk/jobs/view/mended/mendedtest"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// givenBack is a plan that came so far that it has artwork, all questions answered.
type givenBack struct {
	request *plan.Request
	results jobs.Results
}

// answeredAll plans a drawing as far as its weeding map, and answers what is asked as
// replies say or else with the first answer.
func answeredAll(t *testing.T, file []byte, c plan.Choices, replies ask.Replies) givenBack {
	t.Helper()
	c.Replies = ask.Replies{}
	req, err := list.Choose(workshop.Example(), c)
	if err != nil {
		t.Fatal(err)
	}
	s := stepsOf(file, req)
	g := givenBack{req, jobs.Results{}}
	for range mostQuestions {
		asked := charted(t, s, g.results)
		if len(asked) == 0 {
			break
		}
		answer, given := replies[asked[0].ID]
		if !given {
			answer = ask.Reply{Answer: asked[0].Answers[0].ID, MM: 100, Reason: "tried"}
		}
		req.Replies[asked[0].ID] = answer
	}
	return g
}

// charted runs the jobs that are not done, to the weeding map or to where one asks. A
// drawing that is refused is looked at all the same.
func charted(t *testing.T, s *steps, results jobs.Results) []ask.Question {
	t.Helper()
	nodes, err := s.nodes()
	if err != nil {
		t.Fatal(err)
	}
	var course jobs.Course
	for i := range nodes {
		n := &nodes[i]
		if n.Row.Name == layout.Name || course.Before(n.Row) != "" {
			break
		}
		r := s.done[n.Key]
		if r == nil {
			if r, err = s.run(n); err != nil {
				t.Fatal(err)
			}
		}
		results[n.Row.Name] = r
		o := jobs.OutcomeOf(r)
		if course.After(o) != "" {
			return o.Questions
		}
	}
	return nil
}

// write returns the mended file, nil where there is no artwork.
func (g givenBack) write(t *testing.T, format string) []byte {
	t.Helper()
	r := list.Shown(g.results)
	if r.Artwork == nil {
		return nil
	}
	f, err := mended.New(t.Context(), r, g.request, view.Format(format))
	if err != nil {
		t.Fatal(err)
	}
	return written(t, f, format)
}

func written(t *testing.T, f *layered.File, format string) []byte {
	t.Helper()
	var b bytes.Buffer
	write := f.WriteSVG
	if format == "dxf" {
		write = f.WriteDXF
	}
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// back reads the mended file of a plan as a new drawing for the same stock, and says
// what is wrong with what comes of it: it asks about size or lines, draws something
// else, or is given back as another file. What was answered about lines that stay as
// they are is asked again; whole says whether the map of the new plan counts too.
func (g givenBack) back(t *testing.T, format string, whole bool) error {
	t.Helper()
	first := g.write(t, format)
	if first == nil {
		return nil
	}
	strokes := mended.Strokes(nil, list.Shown(g.results), g.request)
	if len(strokes) == 0 {
		return nil
	}
	choices := plan.Choices{Stock: g.request.Stock.ID, Convention: g.request.Convention.ID, Purpose: g.request.Purpose, Mirror: g.request.Mirror, Copies: 1}
	req, err := list.Choose(workshop.Example(), choices)
	if err != nil {
		t.Fatal(err)
	}
	again := givenBack{req, jobs.Results{}}
	for _, q := range charted(t, stepsOf(first, req), again.results) {
		job, _, _ := strings.Cut(q.ID, "/")
		if _, answered := g.request.Replies[q.ID]; !answered && (job == size.Name || job == artwork.Name) {
			return fmt.Errorf("asks %s: %s", q.ID, q.Text)
		}
	}
	if d := mendedtest.Differ(strokes, list.Artwork.In(again.results).Strokes, 0.001); d != "" {
		return fmt.Errorf("%s", d)
	}
	if !whole {
		delete(again.results, weeding.Name)
	}
	if got := again.write(t, format); !bytes.Equal(silent(got), silent(first)) {
		return fmt.Errorf("the mended file of the mended file is another one:\n%.2000s\nand was\n%.2000s", got, first)
	}
	return nil
}

// silent is a file without what it says of the drawing that it was made of.
func silent(file []byte) []byte {
	return regexp.MustCompile(`(?m)^<desc>.*</desc>\n|^999\n.*\n`).ReplaceAll(file, nil)
}

// demoPlans are the drawings of the demo with all their questions answered, by file.
func demoPlans(t *testing.T) map[string]givenBack {
	t.Helper()
	all := map[string]givenBack{}
	for _, k := range scenario.Cases() {
		file, err := k.Sheet.Bytes(strings.TrimPrefix(filepath.Ext(k.File), "."))
		if err != nil {
			t.Fatal(err)
		}
		c := plan.Choices{Stock: k.Fields["stock"], Copies: 1, Size: plan.Size{Unit: k.Fields["unit"]}}
		if w, err := strconv.ParseFloat(k.Fields["width_mm"], 64); err == nil {
			c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: w}
		}
		replies := ask.Replies{}
		for _, a := range k.Answers {
			if a.Choose != "" {
				replies[a.Question] = ask.Reply{Answer: a.Choose, Reason: a.Reason}
			}
		}
		all[k.File] = answeredAll(t, file, c, replies)
	}
	return all
}

// Source: what the mended file is for. Read anew it asks nothing, draws the same
// within 0.001 mm, and is given back as it is. All drawings of the demo.
func TestMendedDemo(t *testing.T) {
	demo := demoPlans(t)
	for name, g := range demo {
		for _, format := range []string{"svg", "dxf"} {
			if err := g.back(t, format, true); err != nil {
				t.Errorf("%s as %s: %v", name, format, err)
			}
		}
	}
	t.Run("ezdxf", func(t *testing.T) { readByEzdxf(t, demo) })
	t.Run("rsvg", func(t *testing.T) { showByRsvg(t, demo["tide-label.dxf"]) })
}

// A mended file keeps the frame that was drawn, as large as it was, where the file read
// anew is told by it: a paper is told by its size, another frame by its layer, which says
// the whole mm. Work without a frame on a roll gets one 10 mm beside it, in whole mm; a
// frame that is no whole mm could not be told and is drawn anew likewise. The work is 137
// by 62 mm. Source: the sizes of ISO 216 and of ANSI/ASME Y14.1.
func TestMendedKeepsTheFrame(t *testing.T) {
	of := func(w, l float64) string { return fmt.Sprintf("M0 0H%gV%gH0Z", w, l) }
	for _, c := range []struct{ layer, frame, says, on string }{
		{"PAGE", of(210, 297), "210 x 297", "PAGE"}, {"PAGE", of(297, 210), "297 x 210", "PAGE"},
		{"PAGE", of(215.9, 279.4), "215.9 x 279.4", "PAGE"}, {"PAGE", of(279.4, 215.9), "279.4 x 215.9", "PAGE"},
		{"PAGE", of(215.9, 355.6), "215.9 x 355.6", "PAGE"}, {"PAGE", of(176, 250), "176 x 250", "PAGE"},
		{"PAGE", "M0 0V297H210V0Z", "210 x 297", "PAGE"}, {"PAGE_210x150", of(210, 150), "210 x 150", "PAGE_210x150"}, {"PAGE_200x297", of(200, 297), "200 x 297", "PAGE_200x297"},
		{"PAGE_230x180", of(230, 180), "230 x 180", "PAGE_230x180"}, {"PAGE_180x230", of(180, 230), "180 x 230", "PAGE_180x230"},
		{"NOTES", of(9, 9), "157 x 82", "PAGE_157x82"},
	} {
		g := answeredAll(t, []byte(drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}, layer{c.layer, c.frame})), onFilm, nil)
		for _, format := range []string{"svg", "dxf"} {
			file := string(g.write(t, format))
			if frame := regexp.MustCompile(`frame ([\d.]+ x [\d.]+) mm`).FindStringSubmatch(file); frame == nil || frame[1] != c.says {
				t.Errorf("%s on %s as %s: it says %q, want %s", c.frame, c.layer, format, frame, c.says)
			}
			if on := regexp.MustCompile(`\bPAGE[_\dx]*`).FindAllString(file, -1); on == nil || slices.Max(on) != c.on {
				t.Errorf("%s on %s as %s: on layers %s, want %s", c.frame, c.layer, format, on, c.on)
			}
		}
	}
}

// Folds to either side keep their side by the convention that tells them apart, drawn in its
// colours or in others: the mended file read anew asks nothing and says the same of folds.
func TestMendedKeepsTheSidesOfFolds(t *testing.T) {
	for _, colours := range [][2]string{{"#b03a2e", "#2a4fb0"}, {"#ff0000", "#0000ff"}, {"#000000", "#000000"}} {
		file := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="100mm" viewBox="0 0 150 100" fill="none"><g id="CUT" stroke="#000"><path d="M10 10h130v80h-130z"/></g>
<g id="MOUNTAIN" stroke="%s"><path d="M40 10v80"/></g><g id="VALLEY" stroke="%s"><path d="M70 10v80"/></g><g id="FOLD" stroke="#444"><path d="M100 10v80"/></g></svg>`, colours[0], colours[1])
		g := answeredAll(t, []byte(file), plan.Choices{Stock: "card-160-a4", Convention: "paper-folding", Copies: 1, Size: plan.Size{Unit: "mm", Frame: "none"}}, nil)
		if n := len(list.Artwork.In(g.results).Strokes); n != 4 {
			t.Fatalf("%v: %d lines", colours, n)
		}
		for _, format := range []string{"svg", "dxf"} {
			if err := g.back(t, format, true); err != nil {
				t.Errorf("%v as %s: %v", colours, format, err)
			}
			for _, layer := range []string{"MOUNTAIN", "VALLEY", "FOLD"} {
				if again := string(g.write(t, format)); strings.Contains(again, layer+" 2") {
					t.Errorf("%v as %s: there is a second layer %s", colours, format, layer)
				}
			}
		}
	}
}

// The same as of the demo for a sample of the reference drawings, each on one of three stocks.
func TestMendedReference(t *testing.T) {
	stocks := []string{"card-160-a3", "film-removable-610", "stencil-a3"}
	n := 0
	for _, format := range []string{"dxf", "svg", "pdf"} {
		files, err := filepath.Glob(filepath.Join(reference.Path(t, "drawings", format), "*."+format+"*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			if n++; n%*mendedEvery != 0 {
				continue
			}
			file, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			g := answeredAll(t, file, plan.Choices{Stock: stocks[n / *mendedEvery % 3], Copies: 1}, nil)
			for _, format := range []string{"svg", "dxf"} {
				if err := g.back(t, format, false); err != nil {
					t.Errorf("%s on %s as %s: %v", filepath.Base(path), g.request.Stock.ID, format, err)
				}
			}
		}
	}
}

// mendedEvery is how many reference drawings come to one that is tried.
var mendedEvery = flag.Int("mended-every", 19, "try each so manieth of the reference drawings for its mended file")
