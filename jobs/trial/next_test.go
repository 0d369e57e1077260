package trial_test

import (
	"slices"
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// answered cuts a sheet of a material without chance.
func answered(n trial.Next, m material) trial.Record {
	r := trial.Record{Aim: n.Aim}
	for _, c := range n.Cells {
		c.Verdict = m.feels(c, c.ForceGF)
		r.Cells = append(r.Cells, c)
	}
	return r
}

func forcesOf(n trial.Next) (all []float64) {
	for _, c := range n.Cells {
		all = append(all, c.ForceGF)
	}
	return all
}

// By hand: from 100 gf on a machine of 200 gf the first forces go from 40 to 200 in
// eight steps of 1.258; the second sheet looks between those that passed and those
// that did not; the third varies the speed; then one cell is cut again. What fails
// there begins anew. The middle of 86 to 123 gf is 102.8, and of the cells 105 is nearest.
func TestSheetsFollow(t *testing.T) {
	lim := trial.Limits{MostGF: 200, MostMMS: 300, StepMMS: 10}
	film := material{from: 85, to: 120, says: true}
	first := trial.After(startGF, startMMS, lim, nil)
	if want := []float64{40, 50, 63, 80, 100, 126, 159, 200}; first.Aim != trial.Force || !slices.Equal(forcesOf(first), want) {
		t.Fatalf("%v, want %v", forcesOf(first), want)
	}
	cut := []trial.Record{answered(first, film)}
	second := trial.After(startGF, startMMS, lim, cut)
	if *second.Force != (trial.Window{From: 100, To: 100, Below: 80, Above: 126}) || second.Aim != trial.Force || len(second.Cells) != 8 {
		t.Fatalf("%+v %+v", second, second.Force)
	}
	for _, f := range forcesOf(second) {
		if f <= 80 || f >= 126 || f == 100 {
			t.Errorf("%v gf is looked at again or beyond", f)
		}
	}
	cut = append(cut, answered(second, film))
	third := trial.After(startGF, startMMS, lim, cut)
	if w := third.Force; w.From < 85 || w.From > 88 || w.Below >= 85 || w.To > 120 || w.To < 116 || w.Above <= 120 || third.Aim != trial.Speed {
		t.Fatalf("%+v %+v", third, third.Force)
	}
	cut = append(cut, answered(third, film))
	found := trial.After(startGF, startMMS, lim, cut)
	if found.Found == nil || found.Found.ForceGF != 105 || found.Found.SpeedMMS != 200 || found.Aim != trial.Again || len(found.Cells) != 1 {
		t.Fatalf("%+v %+v", found, found.Found)
	}
	bad := trial.Record{Aim: trial.Again, Cells: []trial.Cell{{ForceGF: 105, SpeedMMS: 200, Verdict: trial.TooLight}}}
	if anew := trial.After(105, 200, lim, append(cut, bad)); anew.Aim != trial.Force || anew.Found != nil || anew.Cells[0].SpeedMMS != 200 || anew.Number != 1 {
		t.Errorf("%+v", anew)
	}
}

// Forces are those that can be set, within what the machine gives; what cannot be
// found is said, and why.
func TestNothingToFind(t *testing.T) {
	for _, c := range []struct {
		name string
		m    material
		lim  trial.Limits
		want trial.Obstacle
	}{
		{"too hard", material{from: 300, to: 400, says: true}, trial.Limits{MostGF: 200, StepGF: 10}, trial.TooWeak},
		{"too soft", material{from: 1, to: 2, says: true}, trial.Limits{MostGF: 200, StepGF: 10}, trial.TooSharp},
		{"cut through before it is cut clean", material{from: 100, to: 90, says: true}, trial.Limits{MostGF: 200, StepGF: 10}, trial.NoWindow},
		{"nobody says which way", material{from: 100, to: 90}, trial.Limits{MostGF: 200}, trial.Nowhere},
	} {
		var cut []trial.Record
		next := trial.After(startGF, startMMS, c.lim, nil)
		for len(cut) < 5 && next.None == "" {
			for _, f := range forcesOf(next) {
				if f > 200 || f < 5 || c.lim.StepGF > 0 && f != c.lim.StepGF*float64(int(f/c.lim.StepGF)) {
					t.Errorf("%s: %v gf", c.name, f)
				}
			}
			cut = append(cut, answered(next, c.m))
			next = trial.After(startGF, startMMS, c.lim, cut)
		}
		if next.None != c.want || len(cut) > 3 || len(next.Cells) > 0 {
			t.Errorf("%s: %q after %d sheets, want %q", c.name, next.None, len(cut), c.want)
		}
	}
}

// A setting that was entered as tested counts once, until it was cut here.
func TestRecordsOfASetting(t *testing.T) {
	s := trial.Subject{StockID: "film", MachineID: "wide", Operation: artwork.KissCut, Passes: 1}
	set := workshop.Setting{ForceGF: 80, SpeedMMS: 100, TestedBy: "t", TestedOn: "2030-01-01", Batch: "a"}
	at := trial.Use{ForceGF: 80, SpeedMMS: 100}
	mine := trial.Kept{Subject: s, Record: cell(80, trial.Passed, "2030-02-01", "", "")}
	others := mine
	others.CaliperUM = 300
	for _, c := range []struct {
		name string
		kept []trial.Kept
		want int
	}{{"entered", nil, 1}, {"of another caliper", []trial.Kept{others}, 1}, {"cut here", []trial.Kept{mine, mine}, 2}} {
		if got := trial.StandingOf(at, s.Records(c.kept, set)).Good; got != c.want {
			t.Errorf("%s: %d good, want %d", c.name, got, c.want)
		}
	}
}
