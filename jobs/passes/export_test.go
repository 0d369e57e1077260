package passes

// ChooseSetting is chooseSetting for tests.
var ChooseSetting = chooseSetting
