package pdf

import (
	"errors"
	"fmt"
)

// Errors that a ParseError wraps. ErrEncrypted and ErrUnsupported are sound
// files that cannot be read as they are; the others are faults of the file or
// of the call.
var (
	ErrNotPDF      = errors.New("there is no PDF header")
	ErrBroken      = errors.New("the structure of the file is broken")
	ErrEncrypted   = errors.New("the file is locked with a password")
	ErrNoPages     = errors.New("the file has no pages")
	ErrNoSuchPage  = errors.New("the file has no such page")
	ErrUnsupported = errors.New("unsupported")
)

// ParseError says what made a file unreadable.
type ParseError struct {
	Page int // from 1; 0 where the fault is not on a page
	Err  error
}

func (e *ParseError) Error() string {
	if e.Page == 0 {
		return fmt.Sprintf("pdf: %v", e.Err)
	}
	return fmt.Sprintf("pdf: page %d: %v", e.Page, e.Err)
}

// Unwrap returns the fault itself.
func (e *ParseError) Unwrap() error { return e.Err }

// limitError stops the reading; Read turns it into a note.
type limitError struct {
	name    string
	allowed int
}

func (e *limitError) Error() string { return fmt.Sprintf("more than %d %s", e.allowed, e.name) }
