package api

import "knifedesk/jobs/workshop"

func showConvention(c workshop.Convention) Convention {
	return Convention{
		ID: c.ID, Name: c.Name, Version: c.Version, Rules: each(c.Rules, showRule),
		FrameIsSheet: c.FrameIsSheet, ToleranceDE: c.ToleranceDE, NearDE: c.NearDE,
	}
}

func readConvention(c Convention) (workshop.Convention, error) {
	out := workshop.Convention{
		ID: c.ID, Name: c.Name, Version: c.Version, Rules: make([]workshop.Rule, len(c.Rules)),
		FrameIsSheet: c.FrameIsSheet, ToleranceDE: c.ToleranceDE, NearDE: c.NearDE,
	}
	for i, r := range c.Rules {
		colour, err := readColour(r.Colour)
		if err != nil {
			return out, unprocessable("rules", "invalid_body", "A colour has a form that is not taken here.", "Write a colour such as #007c91.")
		}
		out.Rules[i] = workshop.Rule{Layer: r.Layer, Colour: colour, WidthMM: r.WidthMM, Means: workshop.Meaning(r.Means), Fold: workshop.Side(r.Fold), Film: r.Film}
	}
	return out, nil
}

func showRule(r workshop.Rule) Rule {
	return Rule{Layer: r.Layer, Colour: showColour(r.Colour), WidthMM: r.WidthMM, Means: RuleMeans(r.Means), Fold: RuleFold(r.Fold), Film: r.Film}
}
