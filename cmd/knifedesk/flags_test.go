package main

import (
	"bytes"
	"errors"
	"flag"
	"slices"
	"strings"
	"testing"
)

func TestHelpOfEveryCommand(t *testing.T) {
	for _, name := range []string{"init", "serve", "plan", "demo", "keys", "erase", "migrate", "health"} {
		var stdout, stderr bytes.Buffer
		err := run(t.Context(), []string{name, "-h"}, func(string) string { return "" }, &stdout, &stderr)
		if !errors.Is(err, flag.ErrHelp) || !strings.HasPrefix(stdout.String(), "usage: knifedesk "+name) || stderr.Len() > 0 {
			t.Errorf("%s -h: %v, stdout %q, stderr %q", name, err, stdout.String(), stderr.String())
		}
	}
}

// A bound comes from the environment as it does from its flag, and is refused alike.
func TestBoundsFromTheEnvironment(t *testing.T) {
	for _, name := range []string{"KNIFEDESK_WAITING", "KNIFEDESK_STREAMS", "KNIFEDESK_QUEUED"} {
		set := func(text string) func(string) string {
			return func(asked string) string {
				if asked == name {
					return text
				}
				return ""
			}
		}
		var out bytes.Buffer
		if err := run(t.Context(), []string{"serve", "-h"}, set("7/70"), &out, &out); !errors.Is(err, flag.ErrHelp) || !strings.Contains(out.String(), "(default 7/70)") {
			t.Errorf("%s is not heard: %v\n%s", name, err, out.String())
		}
		if err := run(t.Context(), []string{"serve"}, set("7"), &out, &out); err == nil || !strings.Contains(err.Error(), name+`: "7" is no bound`) {
			t.Errorf("%s=7: %v", name, err)
		}
	}
}

// A word that no command takes must stop it: what follows it would be ignored.
func TestWrongCommandLines(t *testing.T) {
	for line, want := range map[string]string{
		"init extra":                       `"extra" is one word too many`,
		"init --data=":                     "--data is empty",
		"serve extra --role=api":           `"extra" is one word too many`,
		"demo extra":                       `"extra" is one word too many`,
		"migrate now":                      `"now" is one word too many`,
		"health":                           "something is missing",
		"plan --stock card-220-a4":         "something is missing",
		"plan a.svg --stock card":          `"--stock" is one word too many`,
		"plan --bogus":                     "see knifedesk plan -h",
		"plan --answer gaps a.svg":         "write question=answer",
		"serve --data=":                    "--data is empty",
		"serve --role=none":                "it takes all, api or worker",
		"serve --origins=form.example.org": "write scheme://host",
		"serve --proxies=10.0.0.7":         "write networks such as",
		"keys":                             "write knifedesk keys create|list",
		"keys mend":                        "write knifedesk keys create|list",
		"keys revoke 7":                    "is no id of a key",
		"erase":                            "say what: --owner",
		"erase --older-than-days=-1":       "is below 0",
		"serve --keep-days=-1":             "--keep-days is below 0",
		"serve --waiting=5":                "write two numbers",
		"serve --queued=9/3":               "write two numbers",
		"serve --streams=0/3":              "write two numbers",
		"keys list all":                    "is one word too many",
	} {
		var out bytes.Buffer
		err := run(t.Context(), strings.Fields(line), func(string) string { return "" }, &out, &out)
		if err == nil || !strings.Contains(err.Error(), want) || out.Len() > 0 {
			t.Errorf("%s: %v, want %q; printed %q", line, err, want, out.String())
		}
	}
}

// An origin is held against what browsers send, who write the host in small letters and
// leave out the port that the scheme has anyway (RFC 6454, 6.2).
func TestOriginsAreAsBrowsersWriteThem(t *testing.T) {
	got, err := readOrigins("https://Form.Example.org:443, HTTP://form.example.org:80,http://127.0.0.1:8080 https://form.example.org:80,http://[::1]:80,https://form.example.org:")
	want := []string{"https://form.example.org", "http://form.example.org", "http://127.0.0.1:8080", "https://form.example.org:80", "http://[::1]", "https://form.example.org"}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %q", err, got)
	}
	for _, text := range []string{"https://form.example.org/", "https://a:b@form.example.org", "https://form.example.org?a", "null", "*", "https://", "ftp://form.example.org"} {
		if got, err := readOrigins(text); err == nil {
			t.Errorf("%s is taken as %q", text, got)
		}
	}
}
