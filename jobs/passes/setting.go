package passes

import (
	"math"

	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// SettingFor returns the setting by which an operation is run, and whether there is
// one.
func SettingFor(settings []workshop.Setting, s workshop.Stock, m workshop.Machine, op artwork.Operation) (workshop.Setting, bool) {
	return chooseSetting(settings, s, m, op)
}

// chooseSetting returns the setting for one operation on a stock and machine,
// and whether there is one. A setting for the stock comes before one for its
// family, then one for the machine before one for any, one whose blade the
// machine has, one that was tested, the one tested last, and the first listed.
func chooseSetting(settings []workshop.Setting, s workshop.Stock, m workshop.Machine, op artwork.Operation) (workshop.Setting, bool) {
	best, found := workshop.Setting{}, false
	for _, one := range settings {
		if applies(one, s, m, op) && (!found || before(one, best, m)) {
			best, found = one, true
		}
	}
	return best, found
}

func applies(one workshop.Setting, s workshop.Stock, m workshop.Machine, op artwork.Operation) bool {
	return one.Operation == op && MayApply(one, s, m)
}

// MayApply reports whether a setting is for the stock and the machine, whatever
// the operation.
func MayApply(one workshop.Setting, s workshop.Stock, m workshop.Machine) bool {
	stock := one.StockID == s.ID || one.StockID == "" && one.Family == s.Family
	return stock && (one.MachineID == "" || one.MachineID == m.ID)
}

// KnifeFor returns the blade that an operation on the stock is run with.
func KnifeFor(settings []workshop.Setting, s workshop.Stock, m workshop.Machine, op artwork.Operation) workshop.Blade {
	set, _ := chooseSetting(settings, s, m, op)
	if blade, ok := m.BladeFor(set); ok {
		return blade
	}
	return m.Blade
}

func before(a, b workshop.Setting, m workshop.Machine) bool {
	_, hasA := m.BladeFor(a)
	_, hasB := m.BladeFor(b)
	for _, choice := range [...]struct{ a, b bool }{
		{a.StockID != "", b.StockID != ""},
		{a.MachineID != "", b.MachineID != ""},
		{hasA, hasB},
		{a.TestedBy != "", b.TestedBy != ""},
	} {
		if choice.a != choice.b {
			return choice.a
		}
	}
	return a.TestedOn > b.TestedOn
}

// tool is what is in the holder: passes that need the same one run without a
// pause between them.
type tool string

const (
	penTool   tool = "pen"
	scoreTool tool = "score"
)

// toolFor returns the tool of a setting, the ID of its blade, and how it runs a
// line. Pens and blunt scoring tips do not trail: they have no blade, no offset
// and no overcut. A score by the blade of the cut ends where it closes.
func toolFor(set workshop.Setting, req Request, by workshop.Compensation) (tool, string, toolpath.Rule) {
	rule := toolpath.Rule{Rounds: max(1, set.Passes), OffsetByMachine: by.Offset(), OvercutByMachine: by.Overcut()}
	m, sharp := req.Machine, set
	switch set.Operation {
	case artwork.Pen:
		return penTool, "", rule
	case artwork.Score:
		cut, ok := lightly(set, req)
		if !ok {
			return scoreTool, "", rule
		}
		sharp = cut
	case artwork.Perforate:
		rule.DashMM, rule.TieMM = set.DashMM, set.TieMM
	}
	blade, ok := m.BladeFor(sharp)
	if !ok {
		blade = m.Blade
	}
	rule.Blade = knife.Blade{OffsetMM: blade.OffsetMM, OvercutMM: blade.OvercutMM}
	if m.TurnsLifted && (by.Offset() || blade.OffsetMM == 0) { // else the blade trails, and nothing turns it
		rule.LiftBelowDeg = set.LiftBelowDeg
	}
	if set.Operation == artwork.Score {
		rule.OvercutMM = 0
	}
	return tool("blade " + blade.ID), blade.ID, rule
}

// scoringForce is the share of the force of a cut up to which its blade scores: half
// of it is usual, and more may cut through (common practice, no source).
const scoringForce = 0.6

// lightly returns the setting of the cut whose blade scores too, at less force: that
// of a score that names no tool of its own. A score that presses harder is one by
// a blunt tip.
func lightly(score workshop.Setting, req Request) (cut workshop.Setting, ok bool) {
	cut, ok = chooseSetting(req.Settings, req.Stock, req.Machine, artwork.ThroughCut)
	return cut, ok && score.BladeID == "" && score.ForceGF > 0 && score.ForceGF <= scoringForce*cut.ForceGF
}

// checkSetting says what of a setting is beyond the machine, and returns the
// setting as it will be run.
func (p *Plan) checkSetting(set workshop.Setting, req Request) workshop.Setting {
	m := req.Machine
	values := finding.Values{
		"setting": finding.Text(set.ID), "operation": finding.Text(set.Operation.Words()), "machine": finding.Text(m.Name), "stock": finding.Text(req.Stock.Name), "blade": finding.Text(set.BladeID),
	}
	if set.ForceGF > m.MaxForceGF && m.MaxForceGF > 0 {
		p.find(finding.ForceOverMachine, values, finding.Values{"force_gf": finding.Num(set.ForceGF), "limit_gf": finding.Num(m.MaxForceGF)})
	}
	if set.SpeedMMS > m.MaxSpeedMMS && m.MaxSpeedMMS > 0 {
		p.find(finding.SpeedOverMachine, values, finding.Values{"speed_mm_s": finding.Num(set.SpeedMMS), "limit_mm_s": finding.Num(m.MaxSpeedMMS)})
	}
	if _, ok := m.BladeFor(set); !ok {
		p.find(finding.BladeMissing, values, nil)
	}
	return AsRun(set, m)
}

// AsRun returns a setting as the machine runs it: at its fastest at most, at a speed
// that files can say, and at a force that can be set.
func AsRun(set workshop.Setting, m workshop.Machine) workshop.Setting {
	if m.MaxSpeedMMS > 0 {
		set.SpeedMMS = math.Min(set.SpeedMMS, m.MaxSpeedMMS)
	}
	set.SpeedMMS = hpgl.Speed(set.SpeedMMS)
	if step := m.ForceStepGF; step > 0 && set.ForceGF > 0 {
		set.ForceGF = step * math.Max(1, math.Round(set.ForceGF/step))
	}
	set.Passes = max(1, set.Passes)
	return set
}

func (p *Plan) find(code finding.Code, values, more finding.Values) {
	all := finding.Values{}
	for k, v := range values {
		all[k] = v
	}
	for k, v := range more {
		all[k] = v
	}
	p.Findings = append(p.Findings, finding.New(code, 1, all))
}
