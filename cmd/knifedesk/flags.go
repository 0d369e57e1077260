package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// fromEnvironment has each flag take its default from the environment, where that
// says something: --keep-days from KNIFEDESK_KEEP_DAYS.
func fromEnvironment(flags *flag.FlagSet, getenv func(string) string) (err error) {
	flags.VisitAll(func(f *flag.Flag) {
		name := "KNIFEDESK_" + strings.ToUpper(strings.ReplaceAll(f.Name, "-", "_"))
		text := getenv(name)
		if text == "" || err != nil {
			return
		}
		if wrong := f.Value.Set(text); wrong != nil {
			err = usageError(fmt.Sprintf("%s: %v", name, wrong))
		}
		f.DefValue = f.Value.String()
	})
	return err
}

// parse reads the flags of a command that takes the given number of operands
// after them; synopsis is the command line that -h shows. The help that was
// asked for goes to stdout. What is wrong comes back as a usageError of one
// line, so that it is not lost among all the flags.
func parse(flags *flag.FlagSet, args []string, synopsis string, operands int, stdout io.Writer) error {
	flags.SetOutput(io.Discard)
	err := flags.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprintf(stdout, "usage: knifedesk %s\n", synopsis)
		flags.SetOutput(stdout)
		flags.PrintDefaults()
		return err
	case err != nil:
		return usageError(fmt.Sprintf("%v; see knifedesk %s -h", err, flags.Name()))
	case flags.NArg() > operands:
		return usageError(fmt.Sprintf("%q is one word too many, or a flag after the file; write knifedesk %s", flags.Arg(operands), synopsis))
	case flags.NArg() < operands:
		return usageError(fmt.Sprintf("something is missing; write knifedesk %s", synopsis))
	}
	return nil
}
