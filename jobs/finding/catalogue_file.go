package finding

// Codes of a file as a whole, before anything in it is read.
const (
	UnknownFormat Code = "unknown_format" // none of the formats that are read
	Unreadable    Code = "unreadable"     // of a known format, but broken or locked
)

var fileEntries = map[Code]entry{
	UnknownFormat: {Block,
		"This is not a drawing that we can read. Export it as DXF, SVG or PDF from your drawing program and send that file.",
		"The file does not begin like DXF, SVG or PDF. The ending of its name is not looked at."},
	Unreadable: {Block,
		"The {format} file is damaged or locked. Open it in your drawing program and export it again, without a password.",
		"Reading the {format} file stopped: {reason}."},
}
