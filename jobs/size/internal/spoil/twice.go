package spoil

import "math"

// besideFrame is a named size on a cut layer in a file that states its unit, with work in
// it and as much beside it: a frame, or a piece among others.
func besideFrame(m *maker) {
	metricFormat(m)
	m.workOn, m.frameOn = "CUT", "CUT"
	m.page = seriesA()[5+m.rng.IntN(2)]
	m.sheet(seriesA()[3])
	lieDown(m)
	drawInside(m)
	m.c.Format = "dxf" // of which no page tells the frame
	n := len(m.figures)
	for i := range n {
		m.add(cut, m.rect(m.page.w+10, float64(i)*12, 30, 9))
	}
	if m.chance(0.8) {
		m.note("a piece with holes, and %d pieces beside it", n)
		m.add(cut, m.rect(0, 0, m.page.w, m.page.h))
	} else {
		m.note("a frame, and %d pieces beside it", n)
		drawFrame(m, 0, 0, m.page.w, m.page.h)
	}
	m.is(MustAsk, "a named size on a cut layer, with closed work in it")
}

// twoOutlines is a page of which the frame has a second outline up to 3 mm outside, such
// as a bleed, which is not cut.
func twoOutlines(m *maker) {
	m.page = seriesA()[3+m.rng.IntN(2)]
	m.sheet(m.page)
	metricFormat(m)
	m.workOn, m.frameOn = "CUT", "PAGE"
	lieDown(m)
	if m.chance(0.4) {
		m.mmPer = point.mm()
	}
	drawInside(m)
	by := pick(m, 0.1, 0.2, 0.35, 0.5, 1, 3)
	m.note("a second outline %g mm outside, %g mm for one number", by, m.mmPer)
	for _, d := range [...]float64{0, by} {
		m.framed(true, m.rect(-d, -d, m.page.w+2*d, m.page.h+2*d).pts...)
	}
	m.c.Truth.FrameSides = append(m.c.Truth.FrameSides, math.Max(m.page.w, m.page.h)+2*by)
	leaveOpen(m)
	m.is(Decidable, "two outlines, of which one has a named size")
}

// saidTwice is a framed page of which the caller said two things that do not agree.
func saidTwice(m *maker) {
	drawPage(m)
	m.c.Choices.Size.Frame = m.page.name
	m.note("frame given as %s", m.page.name)
	k := pick(m, 1.01, 0.9, 2, 25.4)
	if m.chance(0.5) {
		m.c.Choices.Size.Scale = m.mmPer * k
		m.note("scale given, %g times too large", k)
	} else {
		giveLength(m)
		m.c.Choices.Size.KnownLength.MM *= k
		m.note("and %g times that is said", k)
	}
	m.is(MustAsk, "the caller gave two sizes")
}

// ownPage is a frame of no paper's size, drawn to measure, which is right as the file
// reads.
func ownPage(m *maker) {
	metricFormat(m)
	m.workOn, m.frameOn = "CUT", "PAGE"
	for {
		m.page = sheet{"", math.Round(m.between(120, 280)), math.Round(m.between(120, 280))}
		m.sheet(seriesA()[3])
		if len(m.readings(m.page.w, m.page.h, 0.6)) == 0 {
			break
		}
	}
	placePage(m, false)
	drawInside(m)
	drawFrame(m, 0, 0, m.page.w, m.page.h)
	leaveOpen(m)
	m.is(Decidable, "a frame of no paper's size, and the unit is stated")
}
