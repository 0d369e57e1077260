package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// foldedTwice asks two things on film, one after the other: what an unnamed
// colour means, and then what becomes of the fold.
const foldedTwice = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">
  <g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="100" height="60"/></g>
  <g id="FOLD" fill="none" stroke="#7a3eb1"><path d="M10 40H110"/></g>
  <path d="M20 20H40V35H20Z" fill="none" stroke="#7f2a10"/>
</svg>`

// square asks nothing.
const square = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">
  <g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="60" height="60"/></g>
</svg>`

// blank holds nothing to cut, and is refused.
const blank = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80"/>`

// runPlan runs plan with a drawing that it writes, and returns its exit code,
// what it printed and what it told.
func runPlan(t *testing.T, drawing string, flags ...string) (code int, printed, told string) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "drawing.svg")
	if err := os.WriteFile(name, []byte(drawing), 0o644); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	err := run(t.Context(), append(append([]string{"plan"}, flags...), name), func(string) string { return "" }, &out, &out)
	if err != nil {
		told = err.Error()
	}
	return exitCode(err), out.String(), told
}

// The codes are those that the README and plan -h give.
func TestExitCodeTellsHowAPlanEnded(t *testing.T) {
	for _, tt := range []struct {
		name, drawing string
		flags         []string
		code          int
		printed       string
	}{
		{"ready", foldedTwice, []string{"--stock=film-removable-610", "--frame=none", "--answer=artwork/operation:score=nothing", "--answer=artwork/line:#7f2a10=cut"}, 0, "status     ready"},
		{"asking", foldedTwice, []string{"--stock=film-removable-610", "--frame=none"}, 3, "status     asking"},
		{"refused", blank, []string{"--stock=card-220-a4"}, 4, "status     refused"},
		{"refused as JSON", blank, []string{"--stock=card-220-a4", "--format=json"}, 4, `"status": "refused"`},
		{"no such stock", foldedTwice, []string{"--stock=tin"}, 2, ""},
		{"no such flag", foldedTwice, []string{"--bogus"}, 2, ""},
		{"a folder that cannot be made", foldedTwice, []string{"--stock=card-220-a4", "--out=/dev/null/out"}, 1, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, printed, told := runPlan(t, tt.drawing, tt.flags...)
			if code != tt.code || !strings.Contains(printed, tt.printed) || tt.printed == "" && printed != "" {
				t.Errorf("exit code %d, want %d; printed %q; told %q", code, tt.code, printed, told)
			}
		})
	}
	if code, _, told := runPlan(t, foldedTwice, "-h"); code != 0 {
		t.Errorf("help ends with %d, %s", code, told)
	}
}

// An answer that would be ignored stops the command, which says what there is
// to answer.
func TestAnswersThatAreNotTaken(t *testing.T) {
	film := []string{"--stock=film-removable-610", "--frame=none"}
	for _, tt := range []struct{ answers, want string }{
		{"gaps=join", "gaps=join: this question is not asked; the plan takes artwork/line:#7f2a10="},
		{"artwork/line:#7f2a10=perhaps", "this answer is not offered; the plan takes artwork/line:#7f2a10="},
		{"artwork/line:#7f2a10=cut:5", "artwork/line:#7f2a10=cut: this answer takes no length; the plan takes artwork/line:#7f2a10="},
		{"artwork/line:#7f2a10=cut artwork/operation:score=perhaps", "artwork/operation:score=perhaps: this answer is not offered; the plan takes artwork/operation:score=nothing, artwork/operation:score=cut"},
		{"artwork/line:#7f2a10=cut artwork/operation:score=nothing size=A4", "size=A4: this question is not asked; the plan takes artwork/line:#7f2a10="},
	} {
		flags := film
		for _, a := range strings.Fields(tt.answers) {
			flags = append(flags, "--answer="+a)
		}
		code, printed, told := runPlan(t, foldedTwice, flags...)
		if code != exitUsage || !strings.Contains(told, tt.want) || printed != "" {
			t.Errorf("%s: exit code %d, told %q, want %q; printed %q", tt.answers, code, told, tt.want, printed)
		}
	}
	if code, _, told := runPlan(t, square, "--stock=card-220-a4", "--frame=none", "--answer=gaps=join"); code != exitUsage || !strings.Contains(told, "the plan asks nothing") {
		t.Errorf("exit code %d, told %q", code, told)
	}
	if code, _, told := runPlan(t, blank, "--stock=card-220-a4", "--answer=gaps=join"); code != exitRefused {
		t.Errorf("exit code %d, told %q", code, told)
	}
}

// Numbers that would count as left out, and a page of a file without pages, are
// refused.
func TestFlagsThatWouldBeIgnored(t *testing.T) {
	for _, f := range []string{"--copies=0", "--copies=-1", "--scale=0", "--width=-5", "--width=NaN", "--page=0", "--page=2", "--format=xml"} {
		if code, printed, told := runPlan(t, foldedTwice, "--stock=card-220-a4", "--frame=none", f); code != exitUsage || printed != "" {
			t.Errorf("%s: exit code %d, told %q", f, code, told)
		}
	}
}
