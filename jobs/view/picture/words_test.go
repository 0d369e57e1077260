package picture_test

import (
	"testing"

	"knifedesk/jobs/view/picture"
)

func TestNumbers(t *testing.T) {
	for want, list := range map[string][]int{
		"": nil, "7": {7}, "1, 2": {1, 2}, "1 to 3": {1, 2, 3}, "1 to 4, 7, 9 to 12, 20": {1, 2, 3, 4, 7, 9, 10, 11, 12, 20},
	} {
		if got := picture.Numbers(list); got != want {
			t.Errorf("%v: %q, want %q", list, got, want)
		}
	}
}
