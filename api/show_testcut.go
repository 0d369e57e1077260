package api

import (
	"time"

	"knifedesk/jobs/testcut"
	"knifedesk/jobs/view"
)

// today is the date by which settings age.
func today() string { return time.Now().UTC().Format(time.DateOnly) }

func showTestCut(t *view.TestCut, code string) TestCut {
	cells := make([]TestCell, len(t.Cells))
	for i, c := range t.Cells {
		cells[i] = TestCell{Number: i + 1, Pass: c.Pass, Layer: t.Layer(c), ForceGF: c.ForceGF, SpeedMMS: c.SpeedMMS, Box: showBox(c.Box)}
	}
	good, light, deep := t.Looks()
	links := map[string]string{}
	for _, file := range []string{"sheet.pdf", "picture.svg", "cut.dxf", "cut.svg", "cut.plt"} {
		links[file] = testCutPath(t.Setting.ID, t.Stock.ID, t.Machine.ID, file)
	}
	links["report"] = "/v1/settings/" + t.Setting.ID + "/trials"
	return TestCut{
		Sheet: code, Number: t.Next.Number, Aim: TestCutAim(t.Next.Aim), Setting: showSetting(t.Setting), StockID: t.Stock.ID, MachineID: t.Machine.ID,
		Standing: showStanding(t.Standing), Known: shownOf(t.Next),
		ForceWindow: maybe(t.Next.Force, showWindow), SpeedWindow: maybe(t.Next.Speed, showWindow),
		Good: good, TooLight: light, TooDeep: deep, Cells: cells, WidthMM: testcut.SideMM, LengthMM: testcut.SideMM, Links: links,
	}
}
