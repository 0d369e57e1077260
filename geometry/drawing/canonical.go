package drawing

// Canonical brings all paths into the form in which they read back from text.
func (d *Drawing) Canonical() {
	for i := range d.Shapes {
		for k, p := range d.Shapes[i].Paths {
			d.Shapes[i].Paths[k] = p.Canonical()
		}
	}
	for _, c := range d.Clips {
		for _, r := range c.Regions {
			for k, p := range r.Paths {
				r.Paths[k] = p.Canonical()
			}
		}
	}
}
