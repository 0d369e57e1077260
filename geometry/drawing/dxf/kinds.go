package dxf

// kind says what the reader does with an entity.
type kind uint8

const (
	unknownKind kind = iota
	lineKind
	arcKind
	circleKind
	ellipseKind
	lwPolylineKind
	polylineKind
	splineKind
	insertKind
	hatchKind
	fillKind      // filled corners
	textKind      // letters that are not outlines yet
	dimensionKind // measures, leaders, tables, tolerances
	imageKind     // pictures and documents shown from elsewhere
	pointKind
	endlessKind // lines without ends
	solidKind   // faces and bodies in space
	vertexKind
	quietKind // nothing that is drawn
)

// kindOf returns the kind of an entity by its name.
func kindOf(name []byte) kind {
	switch string(name) {
	case "LINE":
		return lineKind
	case "ARC":
		return arcKind
	case "CIRCLE":
		return circleKind
	case "ELLIPSE":
		return ellipseKind
	case "LWPOLYLINE":
		return lwPolylineKind
	case "POLYLINE":
		return polylineKind
	case "SPLINE":
		return splineKind
	case "INSERT":
		return insertKind
	case "HATCH", "MPOLYGON":
		return hatchKind
	case "SOLID", "TRACE":
		return fillKind
	case "TEXT", "MTEXT", "ATTRIB", "RTEXT", "ARCALIGNEDTEXT", "SHAPE":
		return textKind
	case "DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION", "LEADER", "MULTILEADER", "MLEADER", "TOLERANCE", "ACAD_TABLE":
		return dimensionKind
	case "IMAGE", "WIPEOUT", "OLEFRAME", "OLE2FRAME", "PDFUNDERLAY", "DGNUNDERLAY", "DWFUNDERLAY":
		return imageKind
	case "POINT":
		return pointKind
	case "XLINE", "RAY":
		return endlessKind
	case "3DFACE", "3DSOLID", "BODY", "REGION", "SURFACE", "MESH", "PLANESURFACE", "EXTRUDEDSURFACE",
		"LOFTEDSURFACE", "REVOLVEDSURFACE", "SWEPTSURFACE", "NURBSURFACE":
		return solidKind
	case "VERTEX":
		return vertexKind
	case "VIEWPORT", "ATTDEF", "SEQEND", "LIGHT", "SUN", "CAMERA", "SECTIONOBJECT":
		return quietKind
	}
	return unknownKind
}

// kindCount is a name of an entity and how often it stood in the drawing.
type kindCount struct {
	name  string
	kind  kind
	count int
}

// maxKinds bounds the names counted one by one.
const maxKinds = 200

// countKind interns the name of an entity and counts it where it stands in
// the drawing itself rather than in a block.
func (r *reader) countKind(name []byte) *kindCount {
	k := r.kinds[string(name)]
	if k == nil {
		if len(r.kinds) >= maxKinds {
			name = []byte("other")
		}
		k = r.kinds[string(name)]
	}
	if k == nil {
		k = &kindCount{name: string(name), kind: kindOf(name)}
		r.kinds[k.name] = k
	}
	if r.block == nil {
		k.count++
	}
	return k
}
