package finding

// Codes of the read stage.
const ()

var readEntries = map[Code]entry{}
