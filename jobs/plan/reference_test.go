package plan_test

import (
	"testing"

	"knifedesk/jobs/plan"
)

// Names that look alike on a list are one person; letters that are written otherwise are
// not touched.
func TestMember(t *testing.T) {
	for name, want := range map[string]string{
		"ada": "ada", " ada ": "ada", "\u200bada": "ada", "ad\u00ada": "ada", "ada\ufeff": "ada", "\u202eada\u202c": "ada", "\u2066ada\u2069": "ada", "ada\u200e": "ada", "\u200b ada": "ada",
		"ada\u00a0lee": "ada lee", "e\u0301ve": "\u00e9ve", "e\u200b\u0301ve": "\u00e9ve", "\u2060": "", "": "",
		"\u0646\u06cc\u200c\u0628": "\u0646\u06cc\u200c\u0628", "\u05d0\u05d1\u05d2": "\u05d0\u05d1\u05d2", "\u674e\U0001f642": "\u674e\U0001f642", "Ada": "Ada", "a-b_c.1": "a-b_c.1",
	} {
		if got := plan.Member(name); got != want || plan.Member(got) != got {
			t.Errorf("%+q: %+q, and of that %+q, want %+q", name, got, plan.Member(got), want)
		}
	}
}
