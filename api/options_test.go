package api_test

import (
	"slices"
	"testing"

	"knifedesk/api"
	"knifedesk/jobs"
)

// The specification takes the mends that the jobs can leave out, and no
// others, which would be ignored.
func TestMendsOffAreThoseOfTheJobs(t *testing.T) {
	spec, err := api.Spec()
	if err != nil {
		t.Fatal(err)
	}
	var taken []string
	for _, v := range spec.Components.Schemas["Options"].Value.Properties["mends_off"].Value.Items.Value.Enum {
		taken = append(taken, v.(string))
	}
	want := jobs.NewList().Mends()
	slices.Sort(taken)
	slices.Sort(want)
	if !slices.Equal(taken, want) {
		t.Errorf("taken are %v, want %v", taken, want)
	}
}
