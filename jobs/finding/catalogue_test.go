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
	placeholder := regexp.MustCompile(`\{[a-z][a-z0-9_]*(:([^{}|]*\|){1,2}[^{}|]*)?\}`)
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

// typical is a value as a drawing may bring it, for a placeholder of that name:
// with more digits than a person has a use for, or a name.
func typical(name string) finding.Value {
	switch {
	case name == "copies", name == "bridges", strings.HasPrefix(name, "panels"), name == "lines", name == "turned", name == "colours":
		return finding.Int(3)
	case strings.HasPrefix(name, "least_"), name == "difference":
		return finding.Num(1.23456)
	case name == "scale", strings.HasPrefix(name, "factor"):
		return finding.Text("1.45793")
	case strings.Contains(name, "_mm"), strings.HasPrefix(name, "side_"), strings.HasSuffix(name, "_deg"), name == "turn", name == "percent", strings.HasSuffix(name, "_m"):
		return finding.Num(141.23456)
	}
	return finding.Text("Name")
}

// The digits and words that people have no use for. A person who drew is told
// sizes and never factors (the design notes), in words that need no training.
var (
	manyDecimals = regexp.MustCompile(`(^|[^.\d])[1-9]\d*\.\d{2}`)
	saysNought   = regexp.MustCompile(`(^|[ (])0 [a-zµ]`)
	trade        = regexp.MustCompile(`(?i)\b(stroke|contour|CIEDE|ΔE|hairline|tolerance|residual|factors?|multiplied|vert(ex|ices)|segments?|entit(y|ies)|polylines?)\b`)
	named        = regexp.MustCompile(`\{([a-z][a-z0-9_]*)`)
)

// Filled with typical values no hint has a brace left, a digit too many or a
// count of nought, and the person who drew reads of no factor.
func TestHintsFilled(t *testing.T) {
	for _, code := range finding.Codes() {
		bare := finding.New(code, 2, nil)
		values := finding.Values{}
		for _, m := range named.FindAllStringSubmatch(bare.Hint+bare.TechnicianHint, -1) {
			values[m[1]] = typical(m[1])
		}
		for _, count := range []int{1, 2, 30_000} {
			f := finding.New(code, count, values)
			for _, hint := range []string{f.Hint, f.TechnicianHint} {
				if strings.ContainsAny(hint, "{}|") || saysNought.MatchString(hint) {
					t.Errorf("%s: %q", code, hint)
				}
			}
			if manyDecimals.MatchString(f.Hint) || trade.MatchString(f.Hint) {
				t.Errorf("%s tells a student: %q", code, f.Hint)
			}
			if manyDecimals.MatchString(strings.ReplaceAll(f.TechnicianHint, "1.45793", "")) {
				t.Errorf("%s tells a technician: %q", code, f.TechnicianHint)
			}
		}
	}
}
