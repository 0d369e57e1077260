package finding

// Codes of the weeding stage.
const ()

var weedingEntries = map[Code]entry{}
