package local_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// extremes are numbers at the ends of what a file can hold.
func extremes() []string {
	return []string{
		"1e308", "-1e308", "1e200", "1e160", "1e20", "1e13", "-1e9", "1e-9", "1e-160", "1e-300", "5e-324", "0", "-0", "-1", "1e400",
		"179769313486231580793728971405303415079934132710037826936173778980444968292764750946649017977587207096330286416692887910946555547851940402630657488671505820681908902000708383676273854845817711531764475730270069855571366959622842914819860834936475292719074168444365510704342711559699508093042880",
		"0.000000000000000000000000000000000000000000000000000000000000000001", "nan", "inf",
	}
}

// numberIn finds the numbers of a file that an extreme one may take the place of.
var numberIn = regexp.MustCompile(`@-?[0-9.]+`)

// Files in which each number marked by @ is replaced in turn.
func extremeFiles() map[string]string {
	const dict = "<</Type/Page/Parent 2 0 R/MediaBox[@0 @0 @300 @300]/CropBox[@0 @0 @290 @290]/UserUnit @1/Rotate @90/Contents 4 0 R/Resources<</XObject<</F 5 0 R>>/ExtGState<</G<</LW @1/D[[@1 @2]@0]/ca @1>>>>/ColorSpace<</S[/Separation/X/DeviceRGB 6 0 R]>>/Font<</T 7 0 R>>>>>>"
	const content = "q @1 @0 @0 @1 @5 @5 cm @1 w 10 10 @80 @80 re S 0 0 @9 @9 re W n @20 @20 m @30 @20 l @30 @30 @40 @40 @50 @60 c h B Q /G gs @1 @.5 @0 rg /S cs @.5 scn 5 5 m 60 60 l 60 5 l b /F Do BT /T @9 Tf @1 Tc @1 Tw @100 Tz @1 TL @1 Ts @1 0 0 1 @9 @9 Tm [(a) @-100 (a)] TJ ET"
	pdfFile := "%PDF-1.7\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count @1>>endobj\n3 0 obj" + dict + "endobj\n4 0 obj<<>>stream\n" + content + "\nendstream endobj\n" +
		"5 0 obj<</Subtype/Form/BBox[@0 @0 @50 @50]/Matrix[@1 @0 @0 @1 @0 @0]>>stream\n0 0 m @9 @9 l S\nendstream endobj\n" +
		"6 0 obj<</FunctionType 2/Domain[@0 @1]/C0[@0 @0 @0]/C1[@1 @1 @1]/N @1>>endobj\n" +
		"7 0 obj<</Type/Font/Subtype/Type3/FontMatrix[@.1 0 0 @.1 0 0]/CharProcs<</a 8 0 R>>/Encoding<</Differences[@97/a]>>/FirstChar @97/Widths[@9]>>endobj\n" +
		"8 0 obj<<>>stream\n@9 0 @0 @0 @9 @9 d1 0 0 @9 @9 re f\nendstream endobj\ntrailer<</Root 1 0 R/Size @9>>\nstartxref\n@0\n%%EOF"
	return map[string]string{
		"svg": `<svg xmlns="http://www.w3.org/2000/svg" width="@180mm" height="@180mm" viewBox="@0 @0 @180 @180"><style>.a{translate:@5px @5px;rotate:@5deg;scale:@1 @1;transform:translate(@1px,@1px) scale(@1,@1) skewX(@5deg);transform-origin:@5px @50%}</style>` +
			`<clipPath id="c" clipPathUnits="objectBoundingBox"><rect x="@0" width="@.8" height="@.8"/></clipPath>` +
			`<g id="CUT" fill="none" stroke="#007c91" stroke-width="@.1" font-size="@10" transform="matrix(@1,@0,@0,@1,@2,@2)"><path class="a" d="M@10 @10h@20v@20a@5 @5 @0 0 1 @9 @9C@1 @2 @3 @4 @50 @60z" stroke-dasharray="@1 @2"/>` +
			`<g clip-path="url(#c)"><rect x="@50" y="@50" width="@30" height="@20" rx="@3" ry="@3" transform="rotate(@10 @5 @5)"/></g><circle cx="@80%" cy="@20em" r="@5" opacity="@1"/><ellipse cx="@90" cy="@90" rx="@5" ry="@4"/>` +
			`<polygon points="@100,@100 @120,@100 @120,@130"/><line x1="@1" x2="@100%" stroke-width="@1em"/><svg x="@5" y="@5" width="@50" height="@50%" viewBox="@0 @0 @10 @10"><path d="M1 1h5v5z"/></svg>` +
			`<use href="#s" x="@9" y="@9" width="@20"/><image x="@1" y="@1" width="@9" height="@9"/></g><symbol id="s" viewBox="@0 @0 @9 @9"><path d="M1 1h5v5z" stroke-opacity="@1"/></symbol></svg>`,
		"pdf": pdfFile,
		"dxf": groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$INSUNITS 70=@4 9=$LTSCALE 40=@1 9=$EXTMIN 10=@0 20=@0 9=$EXTMAX 10=@100 20=@100 ENDSEC SECTION 2=TABLES TABLE 2=LAYER LAYER 2=CUT 70=@0 62=@4 ENDTAB ENDSEC " +
			"SECTION 2=BLOCKS BLOCK 2=PART 70=0 10=@0 20=@0 LINE 8=CUT 10=0 20=0 11=@9 21=@9 ENDBLK ENDSEC SECTION 2=ENTITIES " +
			"LWPOLYLINE 8=CUT 90=@4 70=@1 43=@0 38=@0 10=@0 20=@0 42=@.5 10=@20 20=@0 10=@20 20=@20 10=@0 20=@20 " +
			"CIRCLE 8=CUT 10=@50 20=@50 40=@5 230=@1 ARC 8=CUT 10=@70 20=@50 40=@5 50=@0 51=@90 " +
			"ELLIPSE 8=CUT 10=@90 20=@50 11=@5 21=@0 40=@.5 41=@0 42=@6.28 LINE 8=CUT 10=@0 20=@90 11=@30 21=@90 30=@0 48=@1 370=@25 " +
			"SPLINE 8=CUT 70=@8 71=@3 72=@8 73=@4 40=@0 40=@0 40=@0 40=@0 40=@1 40=@1 40=@1 40=@1 10=@0 20=@100 10=@9 20=@110 10=@19 20=@110 10=@29 20=@100 " +
			"INSERT 8=CUT 2=PART 10=@40 20=@90 41=@1 42=@1 50=@30 70=@2 71=@2 44=@30 45=@30 TEXT 8=CUT 10=@40 20=@5 40=@8 50=@0 41=@1 1=Hall ENDSEC EOF"),
	}
}

// planned is of how many drawings one runs through all jobs; all are read.
const planned = 8

// Whatever number stands in a file, its plan ends with findings and never with
// an error: nothing that is no number gets into a result, which JSON could not
// hold.
func TestExtremeNumbers(t *testing.T) {
	for format, file := range extremeFiles() {
		t.Run(format, func(t *testing.T) {
			slots := numberIn.FindAllStringIndex(file, -1)
			for i, slot := range slots {
				for j, v := range extremes() {
					text := strings.ReplaceAll(file[:slot[0]], "@", "") + v + strings.ReplaceAll(file[slot[1]:], "@", "")
					where := fmt.Sprintf("%s, number %d as %.12s in …%s…", format, i, v, strings.ReplaceAll(file[max(0, slot[0]-30):slot[1]], "\n", " "))
					if r, err := read.Drawing(t.Context(), []byte(text), read.Request{}); err != nil {
						t.Errorf("%s: %v", where, err)
					} else if _, err := json.Marshal(r); err != nil {
						t.Errorf("%s: %v", where, err)
					}
					if (i+j)%planned == 0 {
						extremePlan(t, where, []byte(text))
					}
				}
			}
		})
	}
}

func extremePlan(t *testing.T, where string, file []byte) {
	t.Helper()
	began := time.Now()
	c := plan.Choices{Stock: "film-removable-610", Size: plan.Size{KnownLength: &size.KnownLength{Of: size.Width, MM: 100}}}
	if _, _, err := runThrough(file, c, func(string, time.Duration) {}); err != nil {
		t.Errorf("%s: %v", where, err)
	}
	if took := time.Since(began); took > 10*time.Second {
		t.Errorf("%s: took %v", where, took)
	}
}
