package decide_test

import (
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
)

// The decision table, row by row, each with its near miss. Source: the design,
// "True size".
func TestDecide(t *testing.T) {
	type rect = decide.Rect
	frame := decide.Verdict{Size: decide.ByFrame, Role: decide.Frame}
	open := decide.Verdict{Size: decide.ByFrame, Role: decide.Open}
	header := decide.Verdict{Size: decide.ByFile, Role: decide.Part}
	asks := func(code finding.Code, first decide.First) decide.Verdict {
		return decide.Verdict{Size: decide.Asked, Role: decide.InAnswer, Code: code, First: first}
	}
	word := func(role decide.Role) decide.Verdict { return decide.Verdict{Size: decide.ByWord, Role: role} }
	for name, tt := range map[string]struct {
		f    decide.Facts
		want decide.Verdict
	}{
		"given, no rectangle":                            {decide.Facts{Given: true}, word(decide.Part)},
		"given, a page on its layer":                     {decide.Facts{Given: true, Rect: &rect{OnFrameLayer: true}}, word(decide.Frame)},
		"given, a page that cannot be cut":               {decide.Facts{Given: true, Rect: &rect{Fit: decide.Own, LooksCut: true}}, word(decide.Frame)},
		"given, a piece with holes":                      {decide.Facts{Given: true, Rect: &rect{Fit: decide.Own, LooksCut: true, CutAsRead: true, Closed: true}}, word(decide.Open)},
		"given, a piece with lines":                      {decide.Facts{Given: true, Rect: &rect{Fit: decide.Own, LooksCut: true, CutAsRead: true}}, word(decide.Part)},
		"given, nearly a page":                           {decide.Facts{Given: true, Rect: &rect{Fit: decide.Near}}, word(decide.Open)},
		"given and declared, apart":                      {decide.Facts{Given: true, Declared: true, Apart: true, Rect: &rect{Fit: decide.Own, Agrees: true}}, asks(finding.SizeGivenApart, decide.Readings)},
		"given and declared alike":                       {decide.Facts{Given: true, Declared: true, Rect: &rect{Fit: decide.Own, Agrees: true, LooksCut: true}}, word(decide.Frame)},
		"declared and missing":                           {decide.Facts{Declared: true, Stated: true, AsRead: true}, asks(finding.FrameNotFound, decide.Length)},
		"declared, any factor":                           {decide.Facts{Declared: true, Rect: &rect{Fit: decide.Shape, Agrees: true, LooksCut: true, CutAsRead: true}}, frame},
		"declared, axes apart":                           {decide.Facts{Declared: true, Rect: &rect{Fit: decide.Near, Bent: finding.FrameStretched}}, asks(finding.FrameStretched, decide.Readings)},
		"declared, a window beside":                      {decide.Facts{Declared: true, Rect: &rect{Fit: decide.Shape, Agrees: true, Beside: true}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"nothing":                                        {decide.Facts{}, asks(finding.SizeNoEvidence, decide.Length)},
		"header alone":                                   {decide.Facts{Stated: true, AsRead: true}, header},
		"header, plates to measure in another unit":      {decide.Facts{Stated: true, AsRead: true, Measured: true}, asks(finding.SizeOtherUnit, decide.Readings)},
		"no header, plates to measure":                   {decide.Facts{Measured: true}, asks(finding.SizeNoEvidence, decide.Readings)},
		"the same, and the unit was given":               {decide.Facts{Given: true, Stated: true, Measured: true}, word(decide.Part)},
		"header, and dimensions that say another size":   {decide.Facts{Stated: true, AsRead: true, Told: true}, asks(finding.SizeDimensions, decide.Readings)},
		"a page, and dimensions that say another size":   {decide.Facts{Stated: true, Told: true, Rect: &rect{Fit: decide.Own, FitsStock: true}}, asks(finding.SizeDimensions, decide.Readings)},
		"a plate, and dimensions that say another size":  {decide.Facts{Stated: true, AsRead: true, Told: true, Rect: &rect{LooksCut: true}}, header},
		"given, and dimensions that say another size":    {decide.Facts{Given: true, Told: true}, word(decide.Part)},
		"declared, and dimensions that say another size": {decide.Facts{Declared: true, Told: true, Rect: &rect{Fit: decide.Own, Agrees: true}}, frame},
		"no header, and dimensions that say a size":      {decide.Facts{Told: true}, asks(finding.SizeNoEvidence, decide.Readings)},
		"no header, and dimensions with their unit":      {decide.Facts{Backed: true}, asks(finding.SizeNoEvidence, decide.Readings)},
		"header off the stock":                           {decide.Facts{Stated: true}, asks(finding.SizeOffStock, decide.Length)},
		"own, off the cut layers":                        {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, FitsStock: true, CutAsRead: true, Closed: true}}, frame},
		"own, equal to the sheet":                        {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, FitsStock: true, LooksCut: true, Closed: true}}, frame},
		"own, a piece with holes":                        {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, FitsStock: true, LooksCut: true, CutAsRead: true, Closed: true}}, open},
		"own, a piece with lines":                        {decide.Facts{Stated: true, AsRead: true, Rect: &rect{Fit: decide.Own, FitsStock: true, LooksCut: true, CutAsRead: true}}, header},
		"own, the only edge there is":                    {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, FitsStock: true, CutAsRead: true}}, open},
		"own, without a header":                          {decide.Facts{Rect: &rect{Fit: decide.Own, FitsStock: true, LooksCut: true, CutAsRead: true}}, open},
		"own, off the stock":                             {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own}}, asks(finding.SizeOffStock, decide.Readings)},
		"own, off the stock, said by its layer":          {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, Said: true, OnFrameLayer: true}}, frame},
		"points under a header, off the cut":             {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, CutAsRead: true}}, frame},
		"points under a header, cut":                     {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, CutAsRead: true, LooksCut: true}}, asks(finding.FrameOtherUnit, decide.Readings)},
		"points under a header, too large":               {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, LooksCut: true}}, frame},
		"cm under an mm header":                          {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, CutAsRead: true, Metric: true}}, asks(finding.FrameOtherUnit, decide.Readings)},
		"cm under an mm header, a tag":                   {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, CutAsRead: true, Metric: true, LooksCut: true, Ruled: true}}, asks(finding.FrameOtherUnit, decide.Piece)},
		"cm without a header":                            {decide.Facts{Rect: &rect{Fit: decide.Other, FitsStock: true, CutAsRead: true, Metric: true}}, frame},
		"on a page that it does not fill":                {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, PagePart: true}}, asks(finding.FrameInPage, decide.Second)},
		"that page, on its layer":                        {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Other, FitsStock: true, PagePart: true, OnFrameLayer: true}}, frame},
		"several named causes":                           {decide.Facts{Rect: &rect{Fit: decide.Rivalled}}, asks(finding.SizeAmbiguous, decide.Readings)},
		"no unit, the sheet's shape":                     {decide.Facts{Rect: &rect{Fit: decide.Shape, LooksCut: true, CutAsRead: true, Ruled: true, Pointed: true}}, asks(finding.SizeUnnamedFactor, decide.Readings)},
		"no unit, a shape alone":                         {decide.Facts{Rect: &rect{Fit: decide.Shape}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"a header, 97 %":                                 {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, Pointed: true}}, asks(finding.SizeUnnamedFactor, decide.Readings)},
		"a shape, a piece to measure that is no page's":  {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, LooksCut: true, CutAsRead: true}}, asks(finding.SizeUnnamedFactor, decide.Piece)},
		"the same, without a header":                     {decide.Facts{Rect: &rect{Fit: decide.Shape, LooksCut: true, CutAsRead: true, Ruled: true}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"the same, on the page's layer":                  {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, LooksCut: true, CutAsRead: true, Ruled: true, OnFrameLayer: true}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"the same, too large to be cut":                  {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, LooksCut: true, Ruled: true}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"the same, off the cut layers":                   {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, CutAsRead: true, Ruled: true}}, asks(finding.SizeUnnamedFactor, decide.Length)},
		"a header, 97 %, no round numbers":               {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, Pointed: true, LooksCut: true, CutAsRead: true}}, asks(finding.SizeUnnamedFactor, decide.Readings)},
		"a header, a piece to measure":                   {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Shape, Pointed: true, LooksCut: true, CutAsRead: true, Ruled: true}}, asks(finding.SizeUnnamedFactor, decide.Piece)},
		"a page alone on its layer":                      {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, OnFrameLayer: true, Empty: true}}, frame},
		"the same, nearly a page":                        {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Near, OnFrameLayer: true, Empty: true, Bent: finding.FrameOffShape}}, asks(finding.FrameOffShape, decide.Second)},
		"the same, with work off the stock":              {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Own, OnFrameLayer: true}}, asks(finding.SizeOffStock, decide.Readings)},
		"background":                                     {decide.Facts{Stated: true, AsRead: true, Rect: &rect{Fit: decide.Near, Ground: true}}, decide.Verdict{Size: decide.ByFile, Role: decide.Frame}},
		"background, no paper, too large":                {decide.Facts{Stated: true, Rect: &rect{Ground: true, WorkFits: true}}, decide.Verdict{Size: decide.ByFile, Role: decide.Frame}},
		"the same, and it can be cut":                    {decide.Facts{Stated: true, Rect: &rect{Ground: true, WorkFits: true, CutAsRead: true}}, header},
		"the same, its work off the stock":               {decide.Facts{Stated: true, Rect: &rect{Ground: true}}, header},
		"margins":                                        {decide.Facts{Stated: true, AsRead: true, Rect: &rect{Margins: true}}, decide.Verdict{Size: decide.ByFile, Role: decide.Open}},
		"margins on the frame layer":                     {decide.Facts{Stated: true, AsRead: true, Rect: &rect{Fit: decide.Near, Margins: true, OnFrameLayer: true}}, decide.Verdict{Size: decide.ByFile, Role: decide.Frame}},
		"off shape":                                      {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Near, Bent: finding.FrameOffShape}}, asks(finding.FrameOffShape, decide.Second)},
		"edited":                                         {decide.Facts{Stated: true, Rect: &rect{Fit: decide.Near, Bent: finding.FrameEdited}}, asks(finding.FrameEdited, decide.Length)},
		"a plate":                                        {decide.Facts{Stated: true, AsRead: true, Rect: &rect{LooksCut: true}}, header},
	} {
		if got := decide.Decide(tt.f); got != tt.want {
			t.Errorf("%s: %+v, want %+v", name, got, tt.want)
		}
	}
}
