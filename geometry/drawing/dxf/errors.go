package dxf

import (
	"errors"
	"fmt"
)

// The reasons why a file cannot be read at all; match them with errors.Is.
var (
	// ErrMalformed: the bytes are no DXF.
	ErrMalformed = errors.New("this is not a DXF file")
	// ErrUnsupported: a drawing, in a format this package does not read.
	ErrUnsupported = errors.New("this is the compiled form of a drawing, not DXF")
)

// ParseError says where a file stopped being readable, and why.
type ParseError struct {
	Line int // line of a text file, from 1; 0 for a binary file
	Code int // group code there, -1 where there was none
	Err  error
}

func (e *ParseError) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("dxf: %v", e.Err)
	}
	return fmt.Sprintf("dxf line %d: %v", e.Line, e.Err)
}

// Unwrap returns the reason.
func (e *ParseError) Unwrap() error { return e.Err }
