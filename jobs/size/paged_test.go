package size_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry/drawing/svg"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size"
)

// A page without a unit that is a paper's in one unit alone says which one its numbers
// have: that answer stands first, with the size that the work has then, and it is asked
// all the same. Sources: ISO 216 and ANSI/ASME Y14.1 for the papers, CSS Values 4,
// section 6.2, for points and pixels of an inch.
func TestPageWithoutAUnitSaysWhichAnswerIsFirst(t *testing.T) {
	const pt, px = 25.4 / 72, 25.4 / 96
	for _, tt := range []struct {
		page  string
		unit  float64 // mm; 0: it says nothing
		paper string
	}{
		{`viewBox="0 0 595.28 841.89"`, pt, "A4"},
		{`width="595" height="842" viewBox="0 0 595 842"`, pt, "A4"},
		{`width="595.28px" height="841.89px"`, pt, "A4"},
		{`width="1190.56" height="1683.78" viewBox="0 0 595.28 841.89"`, pt, "A4"}, // the numbers are those of the view box
		{`width="100%" height="100%" viewBox="0 0 612 792"`, pt, "Letter"},
		{`viewBox="0 0 793.7 1122.52"`, px, "A4"},
		{`viewBox="0 0 297 210"`, 1, "A4"}, // in points a B7 or so, which is rarer
		{`viewBox="0 0 21 29.7"`, 10, "A4"},
		{`viewBox="0 0 600 842"`, 0, ""},
		{`viewBox="0 0 500 500"`, 0, ""},
	} {
		side := 14 / math.Max(tt.unit, px) // of the work, in numbers
		d, err := svg.Read(t.Context(), strings.NewReader(fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" %s fill="none" stroke="black">`+
			`<path d="M1 1h%[2]gv%[2]gh-%[2]gz"/></svg>`, tt.page, side)), svg.Options{})
		if err != nil {
			t.Fatal(err)
		}
		res := repair(t, d, size.Request{Stock: cardA4})
		if len(res.Questions) == 0 {
			t.Errorf("%s: nothing is asked", tt.page)
			continue
		}
		first := res.Questions[0].Answers[0]
		switch {
		case tt.unit == 0 && first.ID != size.AnswerWidth:
			t.Errorf("%s: the first answer is %s", tt.page, first.ID)
		case tt.unit > 0 && (math.Abs(first.WidthMM-14) > 1e-6 || !strings.HasPrefix(first.Label, "The page is "+tt.paper+": ")):
			t.Errorf("%s: the first answer is %q, %g mm wide", tt.page, first.Label, first.WidthMM)
		}
		if res := repair(t, d, size.Request{Stock: cardA4, Replies: ask.Replies{size.QuestionID: {Answer: first.ID}}}); tt.unit > 0 && (len(res.Questions) > 0 || math.Abs(res.WidthMM-14) > 1e-6) {
			t.Errorf("%s: answered, it is %g mm wide and asks %v", tt.page, res.WidthMM, res.Questions)
		}
	}
}
