package picture

import "knifedesk/geometry/figure"

// page is a picture being made, with the words that the jobs share.
type page struct{ *figure.Page }

func newPage(title, subtitle string) *page { return &page{figure.New(title, subtitle)} }

// leftOut says what detail was left out.
func (p *page) leftOut(d figure.Detail) {
	if d.Least > 0 {
		p.Paragraph(0, "Of lines smaller than "+figure.Number(d.Least)+" mm that lie together only one is shown.")
	}
}
