package lesson

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

var anyPlate = card("A plate of 40 × 30 mm.", box)

func onMachine(says string, change func(*workshop.Machine)) Example {
	return said(anyPlate, says).with(machines(change))
}

var madeForIt = said(anyPlate, "On a cutter that is made for it.")

var tearLine = drawn("Cuts of 3 mm along the line to tear.", onPage(cutBox()+layer("PERFORATE", "#c06000", "M10 20h40")))

var machineLessons = []Lesson{
	{finding.SettingMissing, "Nobody has tried this yet",
		"How hard and how fast the knife runs is found by a test cut, and for this line on this material nobody has made one.",
		notYours, said(anyPlate, "A workshop without settings.").with(func(w *workshop.Data) { w.Settings = nil }), said(anyPlate, "A workshop with a setting for it.")},
	{finding.BladeMissing, "The blade is not on the list",
		"The setting names a blade that the list of the cutter does not have.",
		notYours, onMachine("A cutter without a list of blades.", func(m *workshop.Machine) { m.Blades = nil }), madeForIt},
	{finding.ForceOverMachine, "The cutter is too weak",
		"The material asks for more force than the cutter has.",
		notYours, onMachine("A weak cutter.", func(m *workshop.Machine) { m.MaxForceGF = 209 }), madeForIt},
	{finding.SpeedOverMachine, "The cutter is slower",
		"The setting asks for more speed than the cutter has, so it takes a little longer.",
		notYours, onMachine("A slow cutter.", func(m *workshop.Machine) { m.MaxSpeedMMS = 49 }), madeForIt},
	{finding.CaliperOverMachine, "Too thick for the cutter",
		"The sheet does not pass below the carriage.",
		notYours, onMachine("A cutter for thin sheets.", func(m *workshop.Machine) { m.MaxCaliperUM = 100 }), madeForIt},
	{Code: finding.WiderThanMachine, Title: "Wider than the cutter reaches",
		What: "What is cut at once lies wider than the carriage moves. The layout keeps to the width of the cutter, so this is only a second look: it is never seen unless the data of a machine is wrong.",
		See:  notYours, Wrong: Example{Says: "Copies beyond the reach of the carriage."}, Right: Example{Says: "Copies within its reach."}},
	{finding.ThroughWithoutMat, "A cut right through, without a mat",
		"Pulled through the rollers a sheet has to stay whole. Cut right through it falls apart in the machine; on a mat it stays in its place.",
		notYours, said(anyPlate, "Card in the rollers alone.").with(stocks(func(s *workshop.Stock) { s.Hold = workshop.Rollers })), said(anyPlate, "Card on a mat.")},
	{finding.CompensationUnknown, "Who makes up for the knife",
		"The tip of the knife trails behind its holder, like a wheel of a shopping trolley. Either the cutter makes up for that or the file does; done twice, every corner is spoiled.",
		notYours, onMachine("Nobody has said what the cutter does.", func(m *workshop.Machine) { m.Compensates = "" }), said(anyPlate, "It is known.")},
	{finding.ShortDash, "Cuts too short for the knife",
		"A perforation is made of short cuts. The tip trails, so in very short ones the knife turns more than it cuts.",
		notYours, said(tearLine, "Cuts of 1 mm along the line to tear.").with(func(w *workshop.Data) {
			for i := range w.Settings {
				if w.Settings[i].Operation == artwork.Perforate {
					w.Settings[i].DashMM = 1
				}
			}
		}), tearLine},
	{finding.TightCurve, "A curve too tight for the knife",
		"The tip trails by a few tenths of a millimetre. Round a tighter curve it cannot follow, and the edge lifts.",
		"Zoom in on small round corners and notches.",
		card("A round notch of 0.3 mm in the upper side.", "M0 0h20a0.3 0.3 0 0 0 0.6 0h19.4v30h-40z"), card("A round notch of 3 mm.", "M0 0h17a3 3 0 0 0 6 0h17v30h-40z")},
	{finding.SharpCorner, "A sharp corner in thick card",
		"The knife is dragged round each corner. In thick card it cannot bend a narrow tip aside, and tears it.",
		"Look at the tips of stars and arrows, and at narrow notches.",
		card("A tip of 30°.", "M10 20L36 27h14v-14h-14z"), card("The same tip, rounded off.", "M13.586 20.966L36 27h14v-14h-14L13.586 19.034A1 1 0 0 0 13.586 20.966z")},
	{finding.NoLeadIn, "No spare place to turn the knife",
		"Before it starts, the knife is turned the right way by a short cut in waste, and the sheet is too full for one. It is turned by hand then.",
		"Look how much of the sheet your work leaves free.",
		card("A plate that fills the sheet.", "M0 0h206v293h-206z"), anyPlate},
	{Code: finding.LengthsOff, Title: "Lengths come out a little wrong",
		What: "On a test cut two marks of 100 mm are measured, across the feed and along it. Rollers and mats pull a little, so they may come out longer or shorter, and all work with them.",
		See:  notYours, Wrong: Example{Says: "A mark of 100 mm measures 100.4 mm."}, Right: Example{Says: "It measures 100 mm."}},
	{Code: finding.MemberLeftOut, Title: "Left out of a common load",
		What: "Several drawings share this stock, and one of them could not be cut, so the others go on without it. Mend that drawing, or cut it by itself.",
		See:  "Look at the plan of the drawing that is named: it says what is wrong.", Wrong: Example{Says: "One of the drawings is refused."}, Right: Example{Says: "All of the drawings can be cut."}},
	{finding.PriceMissing, "A price is missing",
		"Minutes are known, but nobody has entered what this material costs.",
		notYours, said(anyPlate, "A price list without this card.").with(func(w *workshop.Data) {
			for i := range w.PriceLists {
				w.PriceLists[i].PerSheet = nil
			}
		}), said(anyPlate, "A price list with it.")},
}
