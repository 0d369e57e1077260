package dxf

// header holds the variables of the HEADER section that are used; -1 where
// the file has none.
type header struct {
	version     string
	codePage    string
	insUnits    int
	measurement int
}

// feedVariable takes a group of the header: the name of a variable, or its
// value.
func (r *reader) feedVariable(t *tag) {
	if t.code == 9 {
		r.variable = string(t.raw)
		return
	}
	switch r.variable {
	case "$ACADVER":
		r.header.version = string(t.raw)
	case "$DWGCODEPAGE":
		r.header.codePage = string(t.raw)
	case "$INSUNITS", "$MEASUREMENT":
		to := &r.header.insUnits
		if r.variable == "$MEASUREMENT" {
			to = &r.header.measurement
		}
		if v, ok := t.int(); ok && v >= 0 {
			*to = v
		}
		return
	default:
		return
	}
	r.text.declare(r.header.version, r.header.codePage)
}
