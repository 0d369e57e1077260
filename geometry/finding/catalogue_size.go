package finding

// Codes of the size stage.
const ()

var sizeEntries = map[Code]entry{}
