package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// Who saw that a place was spoiled.
const (
	own        = "own tests"
	caller     = "a caller's tests"
	nobody     = "nobody"
	uncompiled = "the compiler" // which makes it no place at all
	unfinished = "the clock"    // the time was over before the tests were
)

// verdict is what came of a place.
type verdict struct {
	place place
	by    string
}

// judge spoils a place and runs the tests of its package, and where they see
// nothing those of its nearest callers.
func (c *campaign) judge(ctx context.Context, p place, worker int) (verdict, error) {
	overlay, err := c.overlay(p, worker)
	if err != nil {
		return verdict{}, err
	}
	if p.pkg.tested() {
		by, err := c.try(ctx, p.pkg, overlay, own)
		if err != nil || by != nobody {
			return verdict{p, by}, err
		}
	}
	for _, q := range c.module.callers(p.pkg, c.callers) {
		by, err := c.try(ctx, q, overlay, caller)
		if err != nil || by != nobody {
			return verdict{p, by}, err
		}
	}
	return verdict{p, nobody}, nil
}

// overlay writes the spoiled file and what puts it in the place of the true one.
func (c *campaign) overlay(p place, worker int) (string, error) {
	path := filepath.Join(p.pkg.Dir, p.file)
	text, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	spoiled := bytes.Join([][]byte{text[:p.start], text[p.end:]}, []byte(p.text))
	file := filepath.Join(c.temp, fmt.Sprintf("%d.go", worker))
	if err := os.WriteFile(file, spoiled, 0o600); err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {path: file}})
	if err != nil {
		return "", err
	}
	name := filepath.Join(c.temp, fmt.Sprintf("%d.json", worker))
	return name, os.WriteFile(name, list, 0o600)
}

// try runs the tests of a package over a spoiled file, the quick ones first: by
// is who saw it. Tests that take several times their usual time have seen it
// too.
func (c *campaign) try(ctx context.Context, p *pkg, overlay, who string) (by string, err error) {
	b := c.usually(ctx, p)
	switch {
	case ctx.Err() != nil:
		return unfinished, nil
	case b.err != nil:
		return "", b.err
	}
	for _, part := range b.parts {
		ok, text := test(ctx, p, 3*part.took+30*time.Second, append(part.args, "-failfast", "-overlay", overlay)...)
		switch {
		case ctx.Err() != nil:
			return unfinished, nil
		case ok:
			continue
		case strings.Contains(text, "[build failed]") || strings.Contains(text, "[setup failed]"):
			return uncompiled, nil
		}
		return who, nil
	}
	return nobody, nil
}

// test runs tests of a package.
func test(ctx context.Context, p *pkg, most time.Duration, flags ...string) (ok bool, text string) {
	args := append([]string{"test", "-count", "1", "-vet", "off", "-timeout", most.String()}, flags...)
	ctx, cancel := context.WithTimeout(ctx, most+2*time.Minute) // compiling included
	defer cancel()
	cmd := exec.CommandContext(ctx, "go", append(args, p.ImportPath)...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	out, err := cmd.CombinedOutput()
	return err == nil, string(out)
}
