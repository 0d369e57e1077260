package finding

// Codes of the artwork stage.
const ()

var artworkEntries = map[Code]entry{}
