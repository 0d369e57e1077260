package finding_test

import (
	"regexp"
	"strings"
	"testing"

	"knifedesk/jobs/finding"
)

// Every hint of the catalogue is made of whole sentences, with placeholders
// that Fill reads and numbers that agree with their nouns.
func TestHintsOfTheCatalogue(t *testing.T) {
	placeholder := regexp.MustCompile(`\{[a-z][a-z0-9_]*(:[^{}|]*\|[^{}|]*)?\}`)
	disagrees := regexp.MustCompile(`(^|[ (])(1 [a-z-]+ ?(lines|points|shapes|outlines|places|gaps|pieces|areas|curves|texts|files|blocks)|1 [a-z]*[^s]s |2 (line|point|shape|outline|place|gap|piece|area|curve|text|block)[ .,:])`)
	for _, code := range finding.Codes() {
		for count := 1; count <= 2; count++ {
			f := finding.New(code, count, nil)
			for _, hint := range []string{f.Hint, f.TechnicianHint} {
				rest := placeholder.ReplaceAllString(hint, "x")
				if strings.ContainsAny(rest, "{}|") || disagrees.MatchString(hint) || strings.Contains(hint, "  ") {
					t.Errorf("%s, %d times: %q", code, count, hint)
				}
				if !strings.HasSuffix(hint, ".") {
					t.Errorf("%s: %q is no whole sentence", code, hint)
				}
			}
		}
	}
}
