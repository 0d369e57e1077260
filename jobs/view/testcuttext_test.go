package view_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// What a cell looks like that is good, too light or too deep, by what is tested; of what is
// cut on a liner it speaks of that.
func TestLooksOfCells(t *testing.T) {
	for _, c := range []struct {
		op    artwork.Operation
		liner bool
		want  [3]string
	}{
		{artwork.Pen, false, [3]string{"The line is whole and even.", "It has gaps or is faint.", "The pen digs in or blots."}},
		{artwork.Score, false, [3]string{"The bar folds straight along the line, and the fold does not crack.", "It folds beside the line, or not sharply.", "It cracks, or comes apart."}},
		{artwork.Perforate, false, [3]string{"The bar tears cleanly along the line and not before it is pulled.", "It tears beside the line.", "It comes apart by itself."}},
		{artwork.KissCut, true, [3]string{"The half-moon lifts, the keyhole stays, the liner is marked and not cut.", "The half-moon does not lift cleanly: the film is not cut all through.", "The liner is cut, or the keyhole comes off with the half-moon."}},
		{artwork.ThroughCut, false, [3]string{"The half-moon falls out without fibres, the keyhole stays.", "It hangs by fibres, or does not fall out.", "The edge is crushed or torn, or the mat is cut."}},
	} {
		cut := view.TestCut{Setting: workshop.Setting{Operation: c.op}, Stock: workshop.Stock{Liner: c.liner}}
		if good, light, deep := cut.Looks(); [3]string{good, light, deep} != c.want {
			t.Errorf("%s, on a liner %v: %q, want %q", c.op, c.liner, []string{good, light, deep}, c.want)
		}
	}
}

// What the sheets before have shown, a sentence each: windows with what lies below and above
// them, or with one value, what was found, and why no sheet is left.
func TestWhatIsKnownOfASetting(t *testing.T) {
	for _, c := range []struct {
		next trial.Next
		want []string
	}{
		{trial.Next{}, nil},
		{trial.Next{Force: &trial.Window{From: 60, To: 80.5, Below: 50, Above: 90}}, []string{"Good so far: 60 to 80.5 gf, not at 50 and 90."}},
		{trial.Next{Force: &trial.Window{From: 60, To: 60, Below: 50}, Speed: &trial.Window{From: 90, To: 120, Above: 150}}, []string{"Good so far: 60 gf, not at 50.", "Of speeds: 90 to 120 mm/s, not at 150."}},
		{trial.Next{Force: &trial.Window{From: 60, To: 70}, Found: &trial.Cell{ForceGF: 65, SpeedMMS: 90}}, []string{"Good so far: 60 to 70 gf.", "Found: 65 gf at 90 mm/s."}},
		{trial.Next{None: trial.TooSharp}, []string{view.ObstacleText(trial.TooSharp)}},
	} {
		cut := view.TestCut{Next: c.next}
		if got := cut.Known(); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %q, want %q", c.next, got, c.want)
		}
	}
}

// Each reason why no sheet is left says something else to change.
func TestObstaclesSayWhatToChange(t *testing.T) {
	for obstacle, words := range map[trial.Obstacle]string{
		trial.TooWeak: "too light, up to the most force of the machine. Cut more times", trial.TooSharp: "too deep, down to the least force. Let less of the blade stand out",
		trial.NoWindow: "heavy enough to cut is too deep already. Put in a new blade", trial.Nowhere: "No cell passed, however close the forces lie. Say which were too light",
	} {
		if text := view.ObstacleText(obstacle); !strings.Contains(text, words) {
			t.Errorf("%s: %q", obstacle, text)
		}
	}
	if text := view.ObstacleText(""); text != "" {
		t.Errorf("no obstacle: %q", text)
	}
}

// How a setting stands is told with its good test cuts, the last of them, and why it counts no
// more.
func TestStandingsInWords(t *testing.T) {
	for _, c := range []struct {
		standing trial.Standing
		want     string
	}{
		{trial.Standing{}, "untested: make this test cut first"}, {trial.Standing{State: trial.Untested, Good: 2, Last: "2029-01-02"}, "untested: make this test cut first"},
		{trial.Standing{State: trial.Tested, Good: 1}, "tested, 1 good test cut"}, {trial.Standing{State: trial.Tested, Good: 2, Last: "2029-01-02"}, "tested, 2 good test cuts, last 2029-01-02"},
		{trial.Standing{State: trial.Trusted, Good: 3, Last: "2029-01-02"}, "trusted, 3 good test cuts, last 2029-01-02"},
		{trial.Standing{State: trial.Tested, Good: 3, Lowered: trial.OtherBlade}, "tested, but with another blade: cut one cell again"},
		{trial.Standing{State: trial.Tested, Good: 3, Lowered: trial.OtherBatch}, "tested, but on another batch: cut one cell again"},
		{trial.Standing{State: trial.Tested, Good: 3, Lowered: trial.Age}, "tested, but long ago: cut one cell again"},
	} {
		if got := view.StandingText(c.standing); got != c.want {
			t.Errorf("%+v: %q, want %q", c.standing, got, c.want)
		}
	}
}
