// Package scenariotest reads the demo's cases as tests need them.
package scenariotest

import (
	"strconv"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// Choices are the fields of the form that a case fills in.
func Choices(t testing.TB, k scenario.Case) plan.Choices {
	t.Helper()
	c := plan.Choices{Stock: k.Fields["stock"], Copies: 1, Replies: ask.Replies{}}
	for field, value := range k.Fields {
		number, _ := strconv.ParseFloat(value, 64)
		switch field {
		case "stock":
		case "copies":
			c.Copies = int(number)
		case "unit":
			c.Size.Unit = value
		case "mirror":
			on := value == "true"
			c.Mirror = &on
		case "width_mm":
			c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: number}
		default:
			t.Fatalf("field %s", field)
		}
	}
	return c
}
