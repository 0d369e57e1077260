package passes

// Name is the name of the job that orders the strokes.
const Name = "passes"
