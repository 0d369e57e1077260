package read_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/workshop"
)

// What is never cut needs no outlines: text and filled areas on a layer for notes or
// for the frame are left out and said once. On every other layer, and on none, text
// stops the plan and areas are asked about as ever.
func TestNotesNeedNoOutlines(t *testing.T) {
	notes, frame, cut := workshop.Rule{Layer: "NOTES", Means: workshop.MeansNothing}, workshop.Rule{Layer: "PAGE", Means: workshop.MeansFrame}, workshop.Rule{Layer: "*", Means: workshop.MeansCut}
	for name, c := range map[string]struct {
		rules []workshop.Rule
		file  string
		aside string // what is said to be left out
		block int    // texts that stop it
		asks  bool
	}{
		"DXF, on the notes":        {[]workshop.Rule{notes}, dxfOf("TEXT 8=Notes 10=1 20=1 40=2 1=SCALE"), "1 text on a layer where nothing is cut (Notes) is left out.", 0, false},
		"several":                  {[]workshop.Rule{notes, frame}, dxfOf(strings.Repeat("MTEXT 8=NOTES 10=1 20=1 40=2 1=SCALE ", 60) + "TEXT 8=PAGE_210x297 10=1 20=1 40=2 1=A4"), "61 texts on a layer where nothing is cut (NOTES, PAGE_210x297) are left out.", 0, false},
		"on the cut layer":         {[]workshop.Rule{notes}, dxfOf("TEXT 8=CUT 10=1 20=1 40=2 1=Hi"), "", 1, false},
		"both":                     {[]workshop.Rule{notes}, dxfOf(strings.Repeat("TEXT 8=NOTES 10=1 20=1 40=2 1=SCALE ", 60) + "TEXT 8=CUT 10=7 20=1 40=2 1=Hi"), "60 texts on a layer where nothing is cut (NOTES) are left out.", 1, false},
		"no such rule":             {nil, dxfOf("TEXT 8=NOTES 10=1 20=1 40=2 1=SCALE"), "", 1, false},
		"another rule first":       {[]workshop.Rule{cut, notes}, dxfOf("TEXT 8=NOTES 10=1 20=1 40=2 1=SCALE"), "", 1, false},
		"another rule last":        {[]workshop.Rule{notes, cut}, dxfOf("TEXT 8=NOTES 10=1 20=1 40=2 1=SCALE"), "1 text on", 0, false},
		"in a block on the notes":  {[]workshop.Rule{notes}, dxfOf("INSERT 8=NOTES 2=LABEL 10=0 20=0"), "1 text on a layer where nothing is cut (NOTES)", 0, false},
		"in a block on the work":   {[]workshop.Rule{notes}, dxfOf("INSERT 8=CUT 2=LABEL 10=0 20=0"), "", 1, false},
		"a hatch on the notes":     {[]workshop.Rule{notes}, dxfOf("HATCH 8=NOTES 70=1"), "1 filled or hatched area on a layer", 0, false},
		"a hatch on the work":      {[]workshop.Rule{notes}, dxfOf("HATCH 8=CUT 70=1"), "", 0, true},
		"SVG, on the notes":        {[]workshop.Rule{notes}, svgOf(`<g id="NOTES"><text y="9">A</text></g>`), "1 text on a layer where nothing is cut (NOTES)", 0, false},
		"SVG, in a group of those": {[]workshop.Rule{notes}, svgOf(`<g id="NOTES"><g transform="scale(2)"><text y="9">A</text></g></g>`), "1 text on a layer", 0, false},
		"SVG, on no layer":         {[]workshop.Rule{{Layer: "*", Means: workshop.MeansNothing}}, svgOf(`<text y="9">A</text>`), "", 1, false},
		"SVG, as a clip":           {[]workshop.Rule{notes}, svgOf(`<clipPath id="c"><text y="9">A</text></clipPath><g id="NOTES" clip-path="url(#c)">` + cut9 + `</g>`), "", 1, true},
		"PDF, on the notes":        {[]workshop.Rule{notes}, pdfOf("NOTES"), "1 text on a layer where nothing is cut (NOTES)", 0, false},
		"PDF, on the work":         {[]workshop.Rule{notes}, pdfOf("CUT"), "", 1, false},
	} {
		t.Run(name, func(t *testing.T) {
			r := drawn(t, []byte(c.file), read.Request{Rules: c.rules})
			said, block := "", 0
			for _, f := range r.Findings {
				switch {
				case f.Code == finding.NotesLeftOut && f.Severity == finding.Warn:
					said += f.Hint
				case f.Code == finding.LiveText && f.Severity == finding.Block:
					block += f.Count
					if p := f.Places; len(p) != f.Count || c.aside != "" && p[0].Layer == "NOTES" {
						t.Errorf("places %+v", p)
					}
				}
			}
			if block != c.block || (c.aside == "") != (said == "") || !strings.HasPrefix(said, c.aside) || strings.Contains(said, "{") {
				t.Errorf("%d texts stop it and it says %q, want %d and %q", block, said, c.block, c.aside)
			}
			if (len(r.Questions) > 0) != c.asks {
				t.Errorf("asks %+v", r.Questions)
			}
		})
	}
}

// Filled areas that are all there is are refused at once, with what to draw instead;
// beside a line that may be cut it is asked whether they are missed.
func TestFillsAloneAreRefused(t *testing.T) {
	rules := []workshop.Rule{{Layer: "NOTES", Means: workshop.MeansNothing}, {Layer: "PAGE", Means: workshop.MeansFrame}}
	const line = "LINE 8=%s 10=0 20=0 11=9 21=9 HATCH 8=CUT 70=1"
	for name, c := range map[string]struct {
		entities string
		want     finding.Severity
	}{
		"alone":             {"HATCH 8=CUT 70=1", finding.Block},
		"with notes":        {fmt.Sprintf(line, "NOTES"), finding.Block},
		"in a frame":        {fmt.Sprintf(line, "PAGE_210x297"), finding.Block},
		"beside a line":     {fmt.Sprintf(line, "CUT"), finding.Ask},
		"beside an unknown": {fmt.Sprintf(line, "0"), finding.Ask},
	} {
		r := drawn(t, []byte(dxfOnly(c.entities)), read.Request{Rules: rules})
		at := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Code == finding.HatchListed })
		if at < 0 || r.Findings[at].Severity != c.want || (len(r.Questions) > 0) != (c.want == finding.Ask) {
			t.Errorf("%s: %+v, asks %+v", name, r.Findings, r.Questions)
		}
	}
}

const cut9 = `<path d="M0 0h9v9z" stroke="red" fill="none"/>`

func svgOf(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm">` + cut9 + body + `</svg>`
}

// dxfOf is dxfOnly with a line to cut.
func dxfOf(entities string) string {
	return dxfOnly("LINE 8=CUT 10=0 20=0 11=9 21=9 " + entities)
}

// dxfOnly is a file with a block LABEL of one text on layer 0, and entities.
func dxfOnly(entities string) string {
	var b strings.Builder
	for _, part := range strings.Fields("SECTION 2=BLOCKS BLOCK 2=LABEL 10=0 20=0 TEXT 8=0 10=1 20=1 40=2 1=Hi ENDBLK ENDSEC SECTION 2=ENTITIES " + entities + " ENDSEC EOF") {
		if code, value, ok := strings.Cut(part, "="); ok {
			fmt.Fprintf(&b, "%s\n%s\n", code, value)
		} else {
			fmt.Fprintf(&b, "0\n%s\n", part)
		}
	}
	return b.String()
}

// pdfOf is a page with a line, and a text in optional content of a name.
func pdfOf(layer string) string {
	content := "0 0 m 99 99 l S /OC /L BDC BT /H 9 Tf (a) Tj ET EMC"
	return "%PDF-1.5\n1 0 obj<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs[5 0 R]/D<</ON[5 0 R]>>>>>>endobj\n" +
		"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n" +
		"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 400 400]/Contents 4 0 R/Resources<</Properties<</L 5 0 R>>/Font<</H<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>>>endobj\n" +
		fmt.Sprintf("4 0 obj<</Length %d>>stream\n%s\nendstream endobj\n", len(content), content) +
		"5 0 obj<</Type/OCG/Name(" + layer + ")>>endobj\ntrailer<</Root 1 0 R>>\n"
}
