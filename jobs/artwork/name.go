package artwork

// Name is the name of the job that makes the artwork.
const Name = "artwork"
