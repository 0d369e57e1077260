package finding

// Codes of the layout stage.
const ()

var layoutEntries = map[Code]entry{}
