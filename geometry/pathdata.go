package geometry

import (
	"fmt"
	"math"
	"strconv"

	"knifedesk/geometry/budget"
)

// PathDataError says where SVG path data stopped making sense.
type PathDataError struct {
	Offset int    // byte offset into the data
	Reason string // what was expected there
}

func (e *PathDataError) Error() string {
	return fmt.Sprintf("path data at byte %d: %s", e.Offset, e.Reason)
}

// ParsePathData reads SVG path data (SVG 2, section 9.3), all commands, packed
// arc flags included. Coordinates are taken as they stand; no axis is turned.
// On an error the paths up to it are returned with a *PathDataError, as the
// specification has a renderer do.
//
// Elliptical arcs become circular arcs where both radii are equal and cubics
// where they are not (see EllipseArc). A move without a drawing command after
// it yields no path.
func ParsePathData(data string) ([]Path, error) {
	return ParsePathDataUpTo(nil, data, math.MaxInt)
}

// ParsePathDataUpTo reads path data like ParsePathData and stops without an
// error when the paths hold at least most segments. One arc command can yield
// up to 16 of them at once.
func ParsePathDataUpTo(b *budget.Budget, data string, most int) ([]Path, error) {
	p := pathParser{b: b, data: data, left: most}
	err := p.run()
	p.finish()
	return p.paths, err
}

type pathParser struct {
	b     *budget.Budget
	data  string
	pos   int
	paths []Path
	cur   Path
	at    Point // current point
	ctrl  Point // last control point, for S and T
	last  byte  // last command in upper case
	left  int   // segments that may still be drawn
}

func (p *pathParser) finish() {
	if len(p.cur.Segments) > 0 {
		p.paths = append(p.paths, p.cur)
	}
	p.cur = Path{}
}

func (p *pathParser) run() error {
	p.skipSpace()
	if p.pos == len(p.data) {
		return nil
	}
	if c := p.data[p.pos]; c != 'M' && c != 'm' {
		return p.fail("the data must begin with M or m")
	}
	for p.pos < len(p.data) && p.left > 0 {
		cmd := p.data[p.pos]
		if !isCommand(cmd) {
			return p.fail("a command letter is expected")
		}
		p.pos++
		if err := p.command(cmd); err != nil {
			return err
		}
		p.skipSpace()
	}
	return nil
}

func isCommand(c byte) bool {
	switch c | 0x20 {
	case 'm', 'z', 'l', 'h', 'v', 'c', 's', 'q', 't', 'a':
		return c >= 'A'
	}
	return false
}

// command reads all argument groups of one command letter.
func (p *pathParser) command(cmd byte) error {
	upper := cmd &^ 0x20
	if upper == 'Z' {
		p.close()
		return nil
	}
	for first := true; first || p.left > 0 && p.moreNumbers(); first = false {
		base := Point{}
		if cmd != upper {
			base = p.at
		}
		if err := p.group(upper, base); err != nil {
			return err
		}
		if upper == 'M' { // further pairs after a move are lines
			upper = 'L'
			cmd = 'L' | cmd&0x20
		}
	}
	return nil
}

func (p *pathParser) close() {
	if len(p.cur.Segments) > 0 {
		start := p.cur.Start
		p.cur.Close()
		p.finish()
		p.cur.Start, p.at = start, start
	}
	p.last = 'Z'
}

// group reads and draws one argument group of the upper-case command cmd,
// relative to base.
func (p *pathParser) group(cmd byte, base Point) error {
	p.b.Step()
	if cmd == 'A' {
		return p.arc(base)
	}
	var v [6]float64
	for i := range arguments(cmd) {
		x, err := p.number()
		if err != nil {
			return err
		}
		v[i] = x
	}
	pt := func(i int) Point { return base.Add(Point{v[i], v[i+1]}) }
	switch cmd {
	case 'M':
		p.finish()
		p.at = pt(0)
		p.cur.Start = p.at
	case 'L':
		p.draw(LineTo(pt(0)))
	case 'H':
		p.draw(LineTo(Point{base.X + v[0], p.at.Y}))
	case 'V':
		p.draw(LineTo(Point{p.at.X, base.Y + v[0]}))
	case 'C':
		p.curve(pt(0), pt(2), pt(4))
	case 'S':
		p.curve(p.reflected('C', 'S'), pt(0), pt(2))
	case 'Q':
		p.quad(pt(0), pt(2))
	case 'T':
		p.quad(p.reflected('Q', 'T'), pt(0))
	}
	p.last = cmd
	return nil
}

// arguments returns how many numbers a command other than A and Z takes.
func arguments(cmd byte) int {
	switch cmd {
	case 'H', 'V':
		return 1
	case 'S', 'Q':
		return 4
	case 'C':
		return 6
	}
	return 2
}

func (p *pathParser) draw(s Segment) {
	if len(p.cur.Segments) == 0 {
		p.cur.Start = p.at
	}
	p.cur.Segments = append(p.cur.Segments, s)
	p.left--
	p.at = s.End
}

func (p *pathParser) curve(c1, c2, end Point) {
	p.draw(CubicTo(c1, c2, end))
	p.ctrl = c2
}

func (p *pathParser) quad(c, end Point) {
	p.draw(CubicTo(p.at.Lerp(c, 2.0/3), end.Lerp(c, 2.0/3), end))
	p.ctrl = c
}

// reflected returns the mirrored control point when the last command was of
// the same family, else the current point.
func (p *pathParser) reflected(a, b byte) Point {
	if p.last != a && p.last != b {
		return p.at
	}
	return p.at.Mul(2).Sub(p.ctrl)
}

func (p *pathParser) arc(base Point) error {
	var v [3]float64
	for i := range v {
		x, err := p.number()
		if err != nil {
			return err
		}
		v[i] = x
	}
	large, err := p.flag()
	if err != nil {
		return err
	}
	sweep, err := p.flag()
	if err != nil {
		return err
	}
	x, err := p.number()
	if err != nil {
		return err
	}
	y, err := p.number()
	if err != nil {
		return err
	}
	for _, s := range EndpointArc(p.at, base.Add(Point{x, y}), v[0], v[1], v[2]*math.Pi/180, large, sweep) {
		p.draw(s)
	}
	p.last = 'A'
	return nil
}

// EndpointArc converts an arc from endpoint to centre form (SVG 2, appendix
// B.2, out-of-range radii scaled up) and returns its segments: arcs for a
// circle, cubics for an ellipse, a line for a zero radius, nothing where the
// ends coincide. phi is the turn of the x axis in radians.
func EndpointArc(from, to Point, rx, ry, phi float64, large, sweep bool) []Segment {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if from == to {
		return nil
	}
	if rx == 0 || ry == 0 {
		return []Segment{LineTo(to)}
	}
	sin, cos := math.Sincos(phi)
	half := from.Sub(to).Mul(0.5)
	x1, y1 := cos*half.X+sin*half.Y, -sin*half.X+cos*half.Y
	l := math.Hypot(x1/rx, y1/ry)
	if l > 1 {
		rx, ry, l = rx*l, ry*l, 1
	}
	k := math.Sqrt((1-l)*(1+l)) / l // the formula of the appendix divided by rx²ry²
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*(y1/ry), -k*ry*(x1/rx)
	mid := from.Lerp(to, 0.5)
	centre := Point{cos*cx - sin*cy + mid.X, sin*cx + cos*cy + mid.Y}
	start := math.Atan2((y1-cy)/ry, (x1-cx)/rx)
	delta := math.Atan2((-y1-cy)/ry, (-x1-cx)/rx) - start
	if sweep && delta < 0 {
		delta += 2 * math.Pi
	} else if !sweep && delta > 0 {
		delta -= 2 * math.Pi
	}
	var segs []Segment
	if rx == ry {
		_, segs = CircleArc(centre, rx, start+phi, delta)
	} else {
		segs = EllipseArc(centre, Point{rx * cos, rx * sin}, Point{-ry * sin, ry * cos}, start, delta)
	}
	segs[len(segs)-1].End = to
	return segs
}

func (p *pathParser) skipSpace() {
	for p.pos < len(p.data) {
		switch p.data[p.pos] {
		case ' ', '\t', '\n', '\r', '\f':
			p.pos++
		default:
			return
		}
	}
}

// skipComma passes white space and at most one comma.
func (p *pathParser) skipComma() {
	p.skipSpace()
	if p.pos < len(p.data) && p.data[p.pos] == ',' {
		p.pos++
		p.skipSpace()
	}
}

func (p *pathParser) moreNumbers() bool {
	p.skipSpace()
	if p.pos == len(p.data) {
		return false
	}
	c := p.data[p.pos]
	return c == ',' || c == '-' || c == '+' || c == '.' || c >= '0' && c <= '9'
}

func (p *pathParser) fail(reason string) error {
	return &PathDataError{Offset: p.pos, Reason: reason}
}

func (p *pathParser) flag() (bool, error) {
	p.skipComma()
	if p.pos < len(p.data) && (p.data[p.pos] == '0' || p.data[p.pos] == '1') {
		p.pos++
		return p.data[p.pos-1] == '1', nil
	}
	return false, p.fail("an arc flag, 0 or 1, is expected")
}

func (p *pathParser) number() (float64, error) {
	p.skipComma()
	end := ScanNumber(p.data, p.pos)
	if end == p.pos {
		return 0, p.fail("a number is expected")
	}
	v, err := strconv.ParseFloat(p.data[p.pos:end], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, p.fail("the number is out of range")
	}
	p.pos = end
	return v, nil
}

// ScanNumber returns the end of the longest SVG number (SVG 2, section 9.3.9)
// that begins at byte i of s, or i where there is none.
func ScanNumber(s string, i int) int {
	start := i
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	digits := func() int {
		j := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i - j
	}
	n := digits()
	if i < len(s) && s[i] == '.' {
		i++
		n += digits()
	}
	if n == 0 {
		return start
	}
	if i < len(s) && s[i]|0x20 == 'e' {
		mark := i
		i++
		if i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		if digits() == 0 {
			i = mark
		}
	}
	return i
}
