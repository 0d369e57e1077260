package main

import (
	"errors"
	"flag"

	"knifedesk/jobs/plan"
)

// The exit codes of all commands. A script tells by them how a plan ended.
const (
	exitFault   = 1 // a file, the database or the program failed
	exitUsage   = 2 // the command line has to be changed
	exitAsking  = 3 // the plan asks
	exitRefused = 4 // the plan is refused
)

const exitText = `
exit codes:
  0  the plan is ready
  1  something failed: a file that cannot be read or written, a fault of the program
  2  the command line is wrong
  3  the plan asks: add an --answer for each question
  4  the plan is refused: its lines "stop" say what to change
`

// usageError is a fault of the command line.
type usageError string

func (e usageError) Error() string { return string(e) }

// The ends of a plan that is not ready. The plan itself is printed before.
var (
	errAsking  = errors.New(`the plan asks; add --answer question=answer for each "question" above, in one go`)
	errRefused = errors.New(`the plan is refused; each "stop" above says what to change`)
)

// exitCode returns the code for what run returned.
func exitCode(err error) int {
	var usage usageError
	var choice *plan.ChoiceError
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errAsking):
		return exitAsking
	case errors.Is(err, errRefused):
		return exitRefused
	case errors.As(err, &usage), errors.As(err, &choice):
		return exitUsage
	}
	return exitFault
}
