package workshop

// Data is all that one workshop keeps.
type Data struct {
	Stocks      []Stock       `json:"stocks"`
	Machines    []Machine     `json:"machines"`
	Settings    []Setting     `json:"settings"`
	Blades      []FittedBlade `json:"blades,omitempty"` // that were put in
	Conventions []Convention  `json:"conventions"`
	PriceLists  []PriceList   `json:"price_lists"`
	Sheets      []NamedSize   `json:"sheets,omitempty"` // named sizes beside ISO 216
}

// Stock returns the stock with this ID and whether there is one.
func (d Data) Stock(id string) (Stock, bool) {
	return find(d.Stocks, func(s Stock) bool { return s.ID == id })
}

// Machine returns the machine with this ID and whether there is one.
func (d Data) Machine(id string) (Machine, bool) {
	return find(d.Machines, func(m Machine) bool { return m.ID == id })
}

// Convention returns the convention with this ID and whether there is one.
func (d Data) Convention(id string) (Convention, bool) {
	return find(d.Conventions, func(c Convention) bool { return c.ID == id })
}

// PriceList returns the price list with this ID and whether there is one.
func (d Data) PriceList(id string) (PriceList, bool) {
	return find(d.PriceLists, func(p PriceList) bool { return p.ID == id })
}

func find[T any](all []T, is func(T) bool) (T, bool) {
	for _, v := range all {
		if is(v) {
			return v, true
		}
	}
	var none T
	return none, false
}
