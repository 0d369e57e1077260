package main

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// The shell commands of the README's walk-through run as they stand there,
// against a real service, and show what the text says.
func TestReadmeWalkThrough(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	script := shellBlocks(string(text))
	if strings.Count(script, "curl ") < 8 {
		t.Fatalf("the README has lost its walk-through:\n%s", script)
	}
	bin, data := build(t), dataDir(t)
	setUp(t, bin, data)
	p := startProcess(t, bin, data)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "bash", "-euo", "pipefail", "-c", script)
	cmd.Dir = t.TempDir()
	cmd.Env = append(os.Environ(), "desk="+p.client.base)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, want := range []string{
		"137 × 62 mm", "points", // the size and why
		`"status":"asking"`, // the fold on film
		"kiss cut",          // after the answer
		`"machine_per_minute":"0.25"`,
		"accepted   until ", "mm of roll, ", // the stock is held
		",roll,mm,25000,",                              // the report
		`"force_window":{"above":`, `"offset_mm":0.27`, // a test cut and a blade
		"Yes: 1 load, last peel ", "\nasking     ben: ", ", 2 of 3; one named.", "\ncy,missing,", // the class
		`{"reused":true,"stage":"passes","state":"done"}`, // found, not run again
	} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the output does not show %q:\n%s", want, out)
		}
	}
	if strings.Contains(string(out), `{"reused":true,"stage":"estimate"`) {
		t.Error("the new price was not worked out")
	}
}

// shellBlocks joins the text of all fenced sh blocks.
func shellBlocks(markdown string) string {
	var b strings.Builder
	for i, part := range strings.Split(markdown, "```") {
		if body, ok := strings.CutPrefix(part, "sh\n"); ok && i%2 == 1 {
			b.WriteString(body)
		}
	}
	return b.String()
}
