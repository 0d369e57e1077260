// Package rect packs unlike rectangles into a strip: as short as it finds a way to.
//
// A packing is built along the skyline: always at the lowest place, the leftmost of
// these, the rectangle that fits best there, the one earlier in a sequence where
// several fit alike; a place into which none fits is filled up. So a sequence means a
// packing, and the search swaps two of a sequence as long as less is left out below a
// given height. That height is halved in between the best found and the area's. Few
// rectangles are also placed by branching over all that fit, without any waste: where
// they fill the strip exactly, that finds it.
//
// After the best-fit heuristic of Burke, Kendall and Whitwell (Oper. Res. 52, 2004),
// the scoring of Leung, Zhang and Sim (Eur. J. Oper. Res. 215, 2011) and the local
// waste of Wei, Oon, Zhu and Lim (ibid.). The search ends by steps and never by a
// clock, and its swaps are seeded.
package rect
