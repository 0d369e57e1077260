package weeding

// junctions are the corners of the map through which several strokes run: few, as a rule.
type junctions struct {
	// first is by corner the one stroke that runs through it, from 1; 0: none does. Where
	// there are several it is their place in lists, from -1 downwards.
	first []int32
	lists [][]int32
}

// junctions finds the corners through which several of the strokes run that have runs of
// edges.
func (c *crossing) junctions(runs [][]int32) *junctions {
	j := &junctions{first: make([]int32, c.NumVertices())}
	for s, edges := range runs {
		c.budget.Spend(1 + len(edges))
		for _, edge := range edges {
			j.add(c.Edges[edge].From, int32(s))
			j.add(c.Edges[edge].To, int32(s))
		}
	}
	return j
}

// add notes that a stroke runs through a corner. The strokes come in their order.
func (j *junctions) add(corner, stroke int32) {
	switch is := j.first[corner]; {
	case is == 0:
		j.first[corner] = stroke + 1
	case is == stroke+1:
	case is > 0:
		j.lists = append(j.lists, []int32{is - 1, stroke})
		j.first[corner] = -int32(len(j.lists))
	default:
		if all := &j.lists[-is-1]; (*all)[len(*all)-1] != stroke {
			*all = append(*all, stroke)
		}
	}
}

// at lists the strokes that run through a corner, where there are several.
func (j *junctions) at(corner int32) []int32 {
	if is := j.first[corner]; is < 0 {
		return j.lists[-is-1]
	}
	return nil
}
