package svg

import (
	"errors"
	"fmt"
)

// Errors that a ParseError wraps. ErrUnsupported is a file that may be sound
// but is written in a way this package does not read; the others are faults
// of the file.
var (
	ErrNotSVG      = errors.New("the outermost element is not svg")
	ErrCompressed  = errors.New("the compressed data is broken")
	ErrEncoding    = errors.New("the text does not fit its declared encoding")
	ErrUnsupported = errors.New("unsupported")
)

// ParseError says where a file stopped being readable.
type ParseError struct {
	Line   int // from 1; 0 where the fault has no place
	Column int // in bytes from 1; 0 where unknown
	Err    error
}

func (e *ParseError) Error() string {
	switch {
	case e.Line == 0:
		return fmt.Sprintf("svg: %v", e.Err)
	case e.Column == 0:
		return fmt.Sprintf("svg: line %d: %v", e.Line, e.Err)
	}
	return fmt.Sprintf("svg: line %d, column %d: %v", e.Line, e.Column, e.Err)
}

// Unwrap returns the fault itself.
func (e *ParseError) Unwrap() error { return e.Err }

// limitError stops the reading before there is a tree; Read turns it into a
// note.
type limitError struct {
	name    string
	allowed int
}

func (e *limitError) Error() string { return fmt.Sprintf("more than %d %s", e.allowed, e.name) }
