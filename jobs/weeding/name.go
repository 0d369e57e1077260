package weeding

// Name is the name of the job that maps what stays and what is removed.
const Name = "weeding"
