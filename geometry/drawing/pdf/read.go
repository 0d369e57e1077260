package pdf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// reader turns one page into a drawing.
type reader struct {
	*file
	b      *budget.Budget
	opt    Options
	out    *drawing.Drawing
	notes  drawing.Notes
	clips  drawing.ClipSet
	layers layers
	base   geometry.Affine // user space of the page to the page as shown
	inside map[int]bool    // forms and glyphs that are being drawn
	spaces map[int]*space  // by object number

	painted  int // paths so far
	content  int // bytes read
	runs     int // of contents
	segments int
	upright  int // the sign of the first shape's map; 0 before it
	steps    int // of colour functions
	stopped  bool
}

// Sniff reports whether head, the first kilobyte of a file, begins a PDF file
// (ISO 32000-1, annex H.3.4.1).
func Sniff(head []byte) bool {
	return bytes.Contains(head[:min(len(head), 1024)], []byte("%PDF-"))
}

// Read reads one page. A file or page that cannot be read at all gives a
// *ParseError; one that breaks a limit gives what was read before it, with the
// note limit_reached. Errors of r come back as they are, as does the cause of
// ctx where that ends before the reading does.
func Read(ctx context.Context, r io.Reader, opt Options) (d *drawing.Drawing, err error) {
	if ended := budget.Run(ctx, func(b *budget.Budget) { d, err = read(ctx, b, r, opt) }); ended != nil {
		return nil, ended
	}
	return d, err
}

// read reads one page. ctx is that of b, for the structure library.
func read(ctx context.Context, b *budget.Budget, r io.Reader, opt Options) (*drawing.Drawing, error) {
	opt.Limits = opt.Limits.filled()
	rd := &reader{
		b: b, opt: opt, inside: map[int]bool{}, spaces: map[int]*space{},
		out: &drawing.Drawing{
			Format: "pdf", Shapes: []drawing.Shape{}, Kinds: map[string]int{},
			Unit: drawing.Unit{Name: "pt", MM: 25.4 / 72, Declared: true, Source: "page box"},
		},
	}
	data, err := io.ReadAll(io.LimitReader(budget.Reader(b, r), int64(opt.Limits.Bytes)+1))
	if err != nil {
		return nil, err
	}
	err = rd.read(ctx, data)
	var over *limitError
	switch {
	case errors.As(err, &over):
		rd.notes.Limit(over.name, over.allowed)
	case err != nil:
		return nil, err
	}
	rd.finish()
	return rd.out, nil
}

func (r *reader) read(ctx context.Context, data []byte) error {
	if len(data) > r.opt.Limits.Bytes {
		return &limitError{limitBytes, r.opt.Limits.Bytes}
	}
	if !Sniff(data) {
		return &ParseError{Err: ErrNotPDF}
	}
	f, err := openFile(ctx, r.b, data, r.opt.Limits, &r.notes)
	if err != nil {
		return err
	}
	r.file = f
	if v := f.doc.HeaderVersion; v != nil {
		r.out.Version = v.String()
	}
	pages, err := f.pages()
	if err != nil {
		return err
	}
	n := max(r.opt.Page, 1)
	if n > len(pages) {
		return &ParseError{Page: n, Err: fmt.Errorf("%w: there are %d", ErrNoSuchPage, len(pages))}
	}
	if r.opt.Page == 0 && len(pages) > 1 {
		r.notes.Count(drawing.SeveralPages).Pages = len(pages)
	}
	r.layers = f.readLayers()
	r.out.Layers = r.layers.list
	return r.drawPage(&pages[n-1])
}

// drawPage interprets the content of a page (7.7.3.3): its streams count as
// one, with a space between them.
func (r *reader) drawPage(p *page) error {
	base, box := p.shown()
	if !sheet(box) && p.unit != 1 {
		r.notes.Add(drawing.ValueUnreadable, "UserUnit", nil)
		p.unit = 1
		base, box = p.shown()
	}
	if !sheet(box) {
		return &ParseError{Err: fmt.Errorf("%w: the page box", ErrBroken)}
	}
	r.base, r.out.Page = base, &box
	if p.unit != 1 {
		r.out.Unit.Source = fmt.Sprintf("page box, UserUnit %g", p.unit)
	}
	data, err := r.pageContent(p)
	if err != nil {
		return err
	}
	run := &contentRun{scope: scope{r, p.resources}, lexer: lexer{b: r.b, data: data}, state: startState(base), kind: "path"}
	r.run(run)
	r.annotations(p, base)
	return nil
}

func (r *reader) pageContent(p *page) ([]byte, error) {
	contents, ok := p.dict.Find("Contents")
	if !ok || contents == nil {
		return nil, nil
	}
	streams := types.Array{contents}
	if a := r.array(contents); a != nil {
		streams = a
	}
	var data []byte
	for _, s := range streams {
		_, part, err := r.stream(s)
		var over *limitError
		switch {
		case errors.As(err, &over):
			return nil, err
		case err != nil:
			r.notes.Add(drawing.ContentBroken, "page", nil)
		}
		if data == nil && len(streams) == 1 {
			return part, nil
		}
		if len(data)+len(part) > r.opt.Limits.Content {
			return nil, &limitError{limitContent, r.opt.Limits.Content}
		}
		data = append(append(data, part...), '\n')
	}
	return data, nil
}

func (r *reader) finish() {
	r.out.Clips = r.clips.Clips()
	if c := r.notes.Of(drawing.RasterImage); c != nil && len(r.out.Shapes) == 0 {
		c.Weight = drawing.Blocks // there is nothing else to cut
	}
	if len(r.out.Shapes) == 0 {
		r.notes.Add(drawing.EmptyDrawing, "", nil)
	}
	r.out.Notes = r.notes.All()
}

// stop ends the reading at a limit.
func (r *reader) stop(limit string, allowed int) {
	r.notes.Limit(limit, allowed)
	r.stopped = true
}

// place says where something lies, in drawing units.
func place(source drawing.Source, layer string, box geometry.Box) *drawing.Place {
	if !finite(box) {
		box = geometry.EmptyBox()
	}
	return &drawing.Place{Box: box, Layer: layer, Source: source.String()}
}
