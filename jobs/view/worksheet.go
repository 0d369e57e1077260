package view

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// About names the plan on its worksheet. No name of a person or of a file is
// printed: the sheet hangs where everybody reads it.
type About struct {
	Plan      string
	Reference string    // the client's
	Link      string    // where the plan is shown, for the square code; empty: no code
	Made      time.Time // zero: not shown
	Request   *plan.Request
	Load      int // the number of its only load among those of a class; 0: it is no class
}

// made is the date that the file bears. Where it is not known the library would
// ask the clock, and no two files would be alike.
func (a About) made() time.Time {
	if a.Made.IsZero() {
		return time.Unix(0, 0).UTC()
	}
	return a.Made.UTC()
}

// Measures of the worksheet in mm.
const (
	sheetWidth  = 210.0
	sheetHeight = 297.0
	sheetMargin = 12.0
	column      = sheetWidth - 2*sheetMargin
	sheetEnd    = sheetHeight - sheetMargin
)

// Worksheet writes as PDF, in lines and letters of grey, one A4 page a load for the
// bench: what to do, in the order in which it is done. A weeding map whose numbers
// have no room there follows on pages of its own. The same plan gives the same
// bytes. It fails before there are passes, and with the errors of w and ctx.
func (v *Results) Worksheet(ctx context.Context, w io.Writer, about About) error {
	if v.Weeding == nil || v.Passes == nil {
		return fmt.Errorf("view: a worksheet needs passes")
	}
	s := newSheet(ctx, v, about)
	for i := range v.Passes.Loads {
		if err := s.load(i); err != nil {
			return err
		}
	}
	for _, m := range s.apart {
		if err := s.mapPages(m); err != nil {
			return err
		}
	}
	return s.Output(w)
}

// sheet is a worksheet being written.
type sheet struct {
	pen
	view  *Results
	about About
	m     *weeding.Map   // of what lies on the load that the page is about
	apart []*weeding.Map // those that stand on pages of their own
	trial *sheet         // what is measured on; nil: nothing was yet
}

func newSheet(ctx context.Context, v *Results, about About) *sheet {
	s := &sheet{pen: pen{Fpdf: fpdf.New("P", "mm", "A4", ""), ctx: ctx}, view: v, about: about}
	s.SetCreationDate(about.made())
	s.SetModificationDate(about.made())
	s.SetCatalogSort(true)
	s.SetTitle("Worksheet "+about.Plan, true)
	s.AddUTF8FontFromBytes("go", "", goregular.TTF)
	s.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	s.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	s.SetAutoPageBreak(false, 0)
	s.SetCellMargin(0)
	return s
}

// besideWidth is how wide the picture of the layout is, in mm, and leftWidth the text
// beside it.
const (
	besideWidth = 62.0
	leftWidth   = column - besideWidth - 4
	headGap     = 4.0 // above the picture
)

// load writes the page of one load, counted from 0.
func (s *sheet) load(i int) error {
	s.AddPage()
	s.step, s.m = 0, s.view.MapOn(i+1)
	if err := s.head(i); err != nil {
		return err
	}
	top := s.y
	s.fetch(i)
	s.place(i)
	s.test(i)
	small, err := picture.BenchLayout(s.ctx, s.view.Layout, s.m, i+1, besideWidth, s.y-top-headGap)
	if err != nil {
		return err
	}
	if err := s.picture(small, sheetMargin+leftWidth+4, top+headGap, s.y-top-headGap); err != nil {
		return err
	}
	s.cut(i)
	s.unload()
	s.panelTicks(i)
	who(s, i)
	return s.rest(i)
}

// rest writes what follows at the bench, with the weeding map beside it where its
// numbers have room, and at the foot what is known of the drawing and what to mind. The
// map is made narrower where the text has no room beside it, and what the page has no room
// for then goes on over the leaf.
func (s *sheet) rest(i int) error {
	const wide, narrow, least, apart = 108.0, 62.0, 24.0, 4.0
	cautions := s.cautionLines()
	notes := s.notes()
	foot := sheetEnd - footRoom(min(len(notes), fewNotes), len(cautions))
	full := footTop(cautions)
	top, mapWidth := s.y, wide
	if after(s, i, column-wide-apart) > full {
		mapWidth = narrow
	}
	var small *figure.Picture
	if room := foot - top - 2; room >= least {
		var err error
		if small, err = picture.BenchMap(s.ctx, s.m, mapWidth, room); err != nil {
			return err
		}
	}
	if small == nil && len(s.m.Steps) > 0 && !slices.Contains(s.apart, s.m) {
		s.apart = append(s.apart, s.m)
	}
	width := column
	if small != nil {
		width -= mapWidth + apart
	}
	beside := func() error {
		if small == nil {
			return nil
		}
		s.y = max(s.y, foot)
		return s.picture(small, sheetEndX-mapWidth, top+2, foot-top-2)
	}
	s.bottom = full
	s.turn = func() error {
		if err := beside(); err != nil {
			return err
		}
		small = nil
		s.foot(nil, cautions)
		s.AddPage()
		s.y = sheetMargin
		s.text(13, true)
		s.line(sheetMargin, column, 6.5, titleOf(s, i)+", continued")
		return nil
	}
	atBench(s, i, width)
	s.bottom = 0
	if err := beside(); err != nil {
		return err
	}
	s.foot(notes, cautions)
	return nil
}

// atBench writes what is done with a load after it was cut.
func atBench(s *sheet, i int, width float64) {
	s.peel(width)
	s.carry(width)
	s.join(width)
	putUp(s, width)
	s.handOver(i, width)
}

// after is how far down the page that reaches, by a page that is thrown away.
func after(s *sheet, i int, width float64) float64 {
	if s.trial == nil {
		s.trial = newSheet(s.ctx, s.view, s.about)
	}
	t := s.trial
	t.AddPage()
	t.y, t.m, t.apart = s.y, s.m, s.apart
	atBench(t, i, width)
	return t.y
}

// sheetEndX is the right edge of what is written, in mm.
const sheetEndX = sheetWidth - sheetMargin

// mapPages writes a weeding map on pages of its own.
func (s *sheet) mapPages(m *weeding.Map) error {
	all, err := picture.WeedingPages(s.ctx, m, column, sheetEnd-sheetMargin)
	if err != nil {
		return err
	}
	for _, p := range all {
		s.AddPage()
		if err := s.picture(p, sheetMargin, sheetMargin, sheetEnd-sheetMargin); err != nil {
			return err
		}
	}
	return nil
}
