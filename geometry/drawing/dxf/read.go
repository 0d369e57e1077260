package dxf

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// Read reads a drawing. It fails with a *ParseError where src holds no DXF,
// with the error of src where that fails, and with the cause of ctx where that
// ends before the reading does; anything else that is wrong is a note of the
// drawing.
func Read(ctx context.Context, src io.Reader, opt Options) (d *drawing.Drawing, err error) {
	if ended := budget.Run(ctx, func(b *budget.Budget) { d, err = read(b, src, opt) }); ended != nil {
		return nil, ended
	}
	return d, err
}

func read(b *budget.Budget, src io.Reader, opt Options) (*drawing.Drawing, error) {
	opt.Limits = opt.Limits.filled()
	sc, err := open(budget.Reader(b, src), opt.Limits)
	if err != nil {
		return nil, err
	}
	r := newReader(b, sc, opt)
	r.run()
	if err := sc.end().err; err != nil {
		return nil, fmt.Errorf("dxf: %w", err)
	}
	if !r.recognised {
		return nil, &ParseError{Line: r.tag.line, Code: -1, Err: ErrMalformed}
	}
	return finishing{r}.drawing(), nil
}

// open chooses the scanner by the first bytes.
func open(src io.Reader, lim Limits) (scanner, error) {
	b := bufio.NewReaderSize(src, 64<<10)
	head, err := b.Peek(binaryHead)
	switch {
	case err != nil && err != io.EOF:
		return nil, fmt.Errorf("dxf: %w", err)
	case isBinary(head):
		return newBinaryScanner(b, lim.Line), nil
	case isCompiled(head):
		return nil, &ParseError{Code: -1, Err: ErrUnsupported}
	}
	return newTextScanner(b, lim.Line), nil
}

// record is what the groups at hand belong to.
type record uint8

const (
	noRecord record = iota
	sectionRecord
	variableRecord
	tableRecord
	layerRecord
	lineTypeRecord
	blockRowRecord
	dimensionStyleRecord
	blockRecord
	entityRecord
	vertexRecord
	doneRecord // the file is at its end
)

// section is the part of the file at hand, as far as that matters.
type section uint8

const (
	looseSection section = iota // entities and blocks, also outside any section
	tableSection
	otherSection // classes, objects and whatever else is not drawn
)

// reader holds the state of one Read.
type reader struct {
	b       *budget.Budget
	opt     Options
	scan    scanner
	tag     tag
	text    text
	palette *palette
	notes   drawing.Notes

	recognised bool // a section or a known entity was seen
	finished   bool // the end mark was seen
	stopped    bool // a limit was reached
	section    section
	header     header
	variable   string
	layers     map[string]*layer // by the bytes of the file
	folded     map[string]*layer // by name in lower case
	layerOrder []*layer
	lineTypes  map[string]*lineType
	row        row
	blocks     map[string]*block
	blockUnits map[string]Units   // in which blocks were drawn, where their table says it
	factors    map[string]float64 // on what dimensions measure, by their style
	measures   []drawing.Measure
	block      *block    // being defined
	late       []*entity // inserts of blocks that were not defined yet

	record record
	e      entity // being read
	corner entity // VERTEX being read
	poly   bool   // e is a POLYLINE whose vertices follow
	kinds  map[string]*kindCount

	trace    tracer
	shapes   shapeStore
	handles  arena
	entities int
	segments int
	expanded int
}

func newReader(b *budget.Budget, scan scanner, opt Options) *reader {
	r := &reader{
		b: b, trace: tracer{b: b}, opt: opt, scan: scan, palette: newPalette(),
		header: header{insUnits: -1, measurement: -1},
		layers: map[string]*layer{}, folded: map[string]*layer{},
		lineTypes: map[string]*lineType{"continuous": {}},
		blocks:    map[string]*block{}, blockUnits: map[string]Units{}, factors: map[string]float64{}, kinds: map[string]*kindCount{},
	}
	r.text.declare("", "")
	return r
}

// run reads to the end of the file.
func (r *reader) run() {
	t := &r.tag
	for !r.stopped && r.scan.next(t) {
		switch {
		case t.code == 0:
			if r.endRecord(true); r.startRecord(t) {
				r.end()
				return
			}
		case t.code == codeBroken:
			r.noteLine(drawing.BadGroupCode, "", t.line)
			r.endRecord(r.e.complete())
		default:
			r.feed(t)
		}
	}
	r.end()
}

// end deals with what is open when the groups are at an end.
func (r *reader) end() {
	if r.stopped {
		return
	}
	end := r.scan.end()
	switch {
	case end.long:
		r.limit("bytes in a line", r.opt.Limits.Line)
	case r.finished:
		if r.scan.rest() {
			r.noteLine(drawing.TrashAfterEnd, "", 0)
		}
	case r.record == noRecord && !r.poly && !end.cut:
		r.noteLine(drawing.EndMarkMissing, "", r.tag.line)
	default:
		r.noteLine(drawing.Truncated, "", r.tag.line)
		r.endRecord(!end.cut && r.e.complete())
		if r.poly {
			entityReader{r}.dropPolyline()
		}
	}
	inserting{r}.placeLate()
}

// startRecord begins what a group 0 names. It reports the end of the file.
func (r *reader) startRecord(t *tag) bool {
	switch string(t.raw) {
	case "SECTION":
		r.recognised = true
		r.section, r.block = looseSection, nil
		r.record = sectionRecord
	case "ENDSEC", "ENDTAB", "TABLE", "ENDBLK":
		r.startStructure(t)
	case "EOF":
		r.finished = r.recognised
		return r.finished
	default:
		r.startMember(t)
	}
	return false
}

func (r *reader) startStructure(t *tag) {
	switch t.raw[len(t.raw)-1] {
	case 'E': // TABLE
		r.record = tableRecord
	case 'K': // ENDBLK
		r.block = nil
	case 'C': // ENDSEC
		r.section, r.block = looseSection, nil
	}
}

func (r *reader) startMember(t *tag) {
	name := string(t.raw)
	switch {
	case r.section == otherSection:
	case r.section == tableSection && name == "LAYER":
		r.record = layerRecord
		tableReader{r}.startRow()
	case r.section == tableSection && name == "LTYPE":
		r.record = lineTypeRecord
		tableReader{r}.startRow()
	case r.section == tableSection && name == "BLOCK_RECORD":
		r.record = blockRowRecord
		tableReader{r}.startRow()
	case r.section == tableSection && name == "DIMSTYLE":
		r.record = dimensionStyleRecord
		tableReader{r}.startRow()
	case r.section == tableSection:
	case name == "BLOCK":
		r.startBlock()
	default:
		entityReader{r}.startEntity(t)
	}
}

// feed gives a group to the record that is being read.
func (r *reader) feed(t *tag) {
	switch r.record {
	case entityRecord:
		entityReader{r}.feedEntity(&r.e, t)
	case vertexRecord:
		entityReader{r}.feedEntity(&r.corner, t)
	case sectionRecord:
		if t.code == 2 {
			r.startSection(string(t.raw))
		}
	case variableRecord:
		r.feedVariable(t)
	case layerRecord, lineTypeRecord, blockRowRecord, dimensionStyleRecord:
		tableReader{r}.feedRow(t)
	case blockRecord:
		r.feedBlock(t)
	}
}

func (r *reader) startSection(name string) {
	r.record = noRecord
	switch name {
	case "ENTITIES", "BLOCKS":
	case "HEADER":
		r.record = variableRecord
	case "TABLES":
		r.section = tableSection
	default:
		r.section = otherSection
	}
}

// endRecord finishes what was read. whole is false where its end was lost.
func (r *reader) endRecord(whole bool) {
	record := r.record
	r.record = noRecord
	switch record {
	case layerRecord:
		tableReader{r}.endLayer()
	case lineTypeRecord:
		tableReader{r}.endLineType()
	case blockRowRecord:
		tableReader{r}.endBlockRow()
	case dimensionStyleRecord:
		r.factors[strings.ToLower(r.text.decode(r.row.name))] = r.row.factor
	case blockRecord:
		r.endBlock()
	case entityRecord:
		entityReader{r}.endEntity(whole)
	case vertexRecord:
		entityReader{r}.endVertex(whole)
	}
}

// limit stops the reading at the limit of that name.
func (r *reader) limit(name string, value int) {
	r.stopped = true
	f := r.noteLine(drawing.LimitReached, name, r.tag.line)
	f.Limit, f.Allowed = name, value
}
