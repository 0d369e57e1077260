package size

// Name is the name of the job that finds the true size.
const Name = "size"
