package picture_test

import (
	"testing"

	"knifedesk/jobs/view/picture"
)

// As columns of a table are named by common practice, no source: 26 letters, then pairs
// of them, none twice.
func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 1: "B", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := picture.Letter(i); got != want {
			t.Errorf("%d is %q, want %q", i, got, want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for want, list := range map[string][]int{
		"": nil, "7": {7}, "1, 2": {1, 2}, "1 to 3": {1, 2, 3}, "1 to 4, 7, 9 to 12, 20": {1, 2, 3, 4, 7, 9, 10, 11, 12, 20},
	} {
		if got := picture.Numbers(list); got != want {
			t.Errorf("%v: %q, want %q", list, got, want)
		}
	}
}
