package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"time"
)

// health asks the URL and fails unless the answer is 200, for the health
// checks of containers.
func health(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	if len(args) != 1 {
		return fmt.Errorf("health takes one URL, such as http://127.0.0.1:8080/readyz")
	}
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, args[0], nil)
	if err != nil {
		return err
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("%s answers %s", args[0], resp.Status)
	}
	fmt.Fprintln(stdout, "ok")
	return nil
}
