package layout

// Name is the name of the job that places the copies on the stock.
const Name = "layout"
