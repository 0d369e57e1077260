package read

import (
	"context"
	"errors"
	"io"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/drawing/svg"
)

// Sniffed is how many bytes of a file, from its beginning, are looked at to
// tell its format.
const Sniffed = 4096

// format is a kind of file that is read.
type format struct {
	name  string
	sniff func(head []byte) bool
	read  func(ctx context.Context, src io.Reader, page int) (*drawing.Drawing, error)
}

// formats lists what is read, in the order in which it is tried.
func formats() []format {
	return []format{
		{"pdf", pdf.Sniff, func(ctx context.Context, src io.Reader, page int) (*drawing.Drawing, error) {
			return pdf.Read(ctx, src, pdf.Options{Page: page})
		}},
		{"svg", svg.Sniff, func(ctx context.Context, src io.Reader, _ int) (*drawing.Drawing, error) {
			return svg.Read(ctx, src, svg.Options{})
		}},
		{"dxf", dxf.Sniff, func(ctx context.Context, src io.Reader, _ int) (*drawing.Drawing, error) {
			return dxf.Read(ctx, src, dxf.Options{})
		}},
	}
}

// sniff tells the format of a file by its beginning, whatever its name.
func sniff(head []byte) (format, bool) {
	for _, f := range formats() {
		if f.sniff(head) {
			return f, true
		}
	}
	return format{}, false
}

// ErrNoPages refuses a page of a file that has none.
var ErrNoPages = errors.New("only a PDF file has pages")

// CheckPage fails with ErrNoPages where a page is asked for, which would be
// ignored in a file without pages. head is the first Sniffed bytes of the file,
// or all of a shorter one.
func CheckPage(head []byte, page int) error {
	if page == 0 || pdf.Sniff(head) {
		return nil
	}
	return ErrNoPages
}
