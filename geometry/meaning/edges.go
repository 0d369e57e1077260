package meaning

// sharedEdges settles lines that lie on each other with different operations.
func (k *desk) sharedEdges() {}
