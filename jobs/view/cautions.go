package view

import "knifedesk/jobs/workshop"

// Cautions returns what has to be said beside every plan on stock of this family (common
// practice, from memory). Local rules and trained staff come first.
func Cautions(family workshop.Family) []string {
	list := []string{
		"Local rules and trained staff come before this plan. Use the machine only after induction.",
		"Blades: cap them when they are out of the machine, never try one on your skin, put old ones in the sharps box.",
		"Rollers and carriage: tie hair back, take lanyards off, keep sleeves and hands out while anything moves.",
		"Weeding hooks and knives: work away from your eyes and from the hand that holds.",
		"A cut or a broken blade tip: stop, first aid, incident book.",
		"Make a test cut first: a setting from a list is a start point, not a promise.",
	}
	switch family {
	case workshop.RemovableFilm, workshop.PermanentFilm, workshop.CastFilm, workshop.StencilFilm:
		list = append(list,
			"PVC film never goes into a laser or a hot cutter: its fume is toxic and corrosive.",
			"Solvents and spray adhesive: read the data sheet, open a window, keep away from flames.",
			"Fixing lettering to a wall: ladder rules, and not alone.")
	case workshop.HeatFilm:
		list = append(list,
			"Heat press: it burns. Never leave it unattended, and let the air change.",
			"Film never goes into a laser or a hot cutter unless its data sheet allows it: PVC fume is toxic and corrosive.")
	case workshop.MagneticSheet:
		list = append(list, "Magnetic sheet: keep it away from pacemakers and other implants.")
	case workshop.BlastingMask:
		list = append(list, "Blasting: only in the cabinet, with mask and gloves, by those who are trained on it.")
	}
	return list
}
