// Command codes writes the codes of the catalogues into the specification, where
// ProblemCode and FindingCode list them: go generate ./api.
package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"

	"knifedesk/api/docs"
	"knifedesk/jobs/finding"
)

func main() {
	if err := run(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "codes:", err)
		os.Exit(1)
	}
}

func run(file string) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	var problems, findings []string
	for _, p := range docs.Problems() {
		problems = append(problems, p.Code)
	}
	for _, c := range finding.Codes() {
		findings = append(findings, string(c))
	}
	slices.Sort(problems)
	for schema, codes := range map[string][]string{"ProblemCode": problems, "FindingCode": findings} {
		if text, err = listed(text, schema, codes); err != nil {
			return err
		}
	}
	return os.WriteFile(file, text, 0o644)
}

// listed returns the specification with the codes as the enum of a schema, whose
// other lines stand before it.
func listed(text []byte, schema string, codes []string) ([]byte, error) {
	at := bytes.Index(text, []byte("\n    "+schema+":\n"))
	if at < 0 {
		return nil, fmt.Errorf("there is no schema %s", schema)
	}
	const head, item = "\n      enum:\n", "        - "
	begin := bytes.Index(text[at:], []byte(head))
	if begin < 0 {
		return nil, fmt.Errorf("%s has no enum", schema)
	}
	begin += at + len(head)
	end := begin
	for bytes.HasPrefix(text[end:], []byte(item)) {
		end += bytes.IndexByte(text[end:], '\n') + 1
	}
	out := bytes.Clone(text[:begin])
	for _, c := range codes {
		out = append(out, item+c+"\n"...)
	}
	return append(out, text[end:]...), nil
}
