package measured_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/measured"
	"knifedesk/jobs/view"
)

func planned(w, h float64, panels int) []measured.Field {
	return measured.OfPlan(&view.Plan{
		Size: &view.Size{WidthMM: w, HeightMM: h}, Layout: &view.Layout{Panels: panels},
		Estimate: &estimate.Estimate{CutterMin: estimate.Range{Low: 12, Likely: 14, High: 18}, BenchMin: estimate.Range{Low: 5, Likely: 6, High: 8}},
	})
}

// The side that a rule measures best is asked, and of panels none (common practice, no
// source).
func TestWhatIsMeasured(t *testing.T) {
	for _, c := range []struct {
		w, h   float64
		panels int
		want   float64
		label  string
	}{
		{80, 40, 0, 80, "Longer side"}, {40, 80, 0, 80, "Longer side"}, {60, 60.4, 0, 60.4, "One side"},
		{700, 120, 0, 120, "Shorter side"}, {700, 20, 0, 700, "Longer side"}, {1700, 900, 3, 14, "cutter"},
	} {
		f := planned(c.w, c.h, c.panels)[0]
		if f.Expected != c.want || !strings.Contains(f.Label, c.label) {
			t.Errorf("%v × %v mm, %d panels: %+v", c.w, c.h, c.panels, f)
		}
	}
}

// A short length is as planned within half a millimetre, a long one within 0.2 % of it.
func TestHowFarALengthMayBeOff(t *testing.T) {
	for long, off := range map[float64]float64{80: 0.5, 250: 0.5, 290: 0.58, 900: 1.8} {
		f := planned(long, 20, 0)[0]
		if !f.Fits(long+off) || !f.Fits(long-off) || f.Fits(long+off+0.01) || f.Fits(long-off-0.01) {
			t.Errorf("%g mm: from %g to %g, want %g either way", long, f.Low, f.High, off)
		}
	}
}

// A plain answer to each value, at both ends of what is as planned: half a millimetre or
// 0.2 % of a length, and the minutes of the estimate. 72 points or 96 pixels are an inch.
func TestAnswers(t *testing.T) {
	all := append(planned(137, 62, 0), measured.OfMarks()...)
	of := map[string]measured.Field{}
	for _, f := range all {
		of[f.Name] = f
	}
	for _, c := range []struct {
		field    string
		value    float64
		fits     bool
		doubtful bool
		text     string
	}{
		{measured.Length, 137.5, true, false, "137.5 mm measured, 137 mm planned: as it should be."},
		{measured.Length, 137.6, false, false, "0.6 mm too long, more than a rule is misread by"},
		{measured.Length, 136.4, false, false, "0.6 mm too short"},
		{measured.Length, 143.8, false, false, "6.8 mm too long, more"},
		{measured.Length, 144, false, true, "No cutter is that far off"},
		{measured.Length, 137 * 72 / 25.4, false, true, "took points for mm"},
		{measured.Length, 137 * 25.4 / 72, false, true, "took mm for points"},
		{measured.Length, 137 * 25.4 / 96, false, true, "took mm for pixels"},
		{measured.Length, 5.4, false, true, "took inches for mm"},
		{measured.Length, 13.7, false, true, "took cm for mm"},
		{measured.Length, 1370, false, true, "10 times as long. The program at the machine took mm for cm: open the file anew in mm, at 100 %."},
		{measured.Length, 137 * 25.4, false, true, "25.4 times as long. The program at the machine took mm for inches"},
		{measured.Length, 137 * 96 / 25.4, false, true, "took pixels for mm"},
		{measured.Length, 137 * 72 / 96.0, false, true, "took points for pixels"},
		{measured.Length, 137 * 96 / 72.0, false, true, "took pixels for points"},
		{measured.Cutter, 12, true, false, "12 min measured, 12 to 18 min planned: as it should be."},
		{measured.Cutter, 18, true, false, "as it should be"},
		{measured.Cutter, 19, false, false, "1 min more than was thought. Later plans learn from it."},
		{measured.Cutter, 11.9, false, false, "1 min less than was thought."},
		{measured.Cutter, 10, false, false, "2 min less than was thought."},
		{measured.Cutter, 72, false, false, "54 min more"},
		{measured.Cutter, 73, false, true, "55 min more"},
		{measured.Cutter, 2, false, true, "10 min less"},
		{measured.Across, 100.2, true, false, "as it should be"},
		{measured.Along, 99.7, false, false, "0.3 mm too short. Plans on this stock and machine say so"},
	} {
		f := of[c.field]
		if f.Fits(c.value) != c.fits || f.Doubtful(c.value) != c.doubtful || !strings.Contains(f.Answer(c.value), c.text) {
			t.Errorf("%s %v: fits %v, doubtful %v, %q", c.field, c.value, f.Fits(c.value), f.Doubtful(c.value), f.Answer(c.value))
		}
	}
}
