package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net/http"
	"time"
)

// health asks the URL and fails unless the answer is 200, for the health
// checks of containers.
func health(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	flags := flag.NewFlagSet("health", flag.ContinueOnError)
	if err := parse(flags, args, "health URL, such as http://127.0.0.1:8080/readyz", 1, stdout); err != nil {
		return err
	}
	url := flags.Arg(0)
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		return err
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("%s answers %s", url, resp.Status)
	}
	fmt.Fprintln(stdout, "ok")
	return nil
}
