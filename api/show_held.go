package api

import (
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/workshop"
)

func showHeld(h workshop.Held) Held {
	return Held{
		Hold: HeldHold(h.Hold), MatTack: Tack(h.MatTack), UsableWidthMM: h.UsableWidthMM,
		MarginMM: h.MarginMM, LeastMarginMM: h.LeastMarginMM, GapMM: h.GapMM,
	}
}

func readHeld(h Held) workshop.Held {
	return workshop.Held{
		Hold: workshop.Hold(h.Hold), MatTack: workshop.Tack(h.MatTack), UsableWidthMM: h.UsableWidthMM,
		MarginMM: h.MarginMM, LeastMarginMM: h.LeastMarginMM, GapMM: h.GapMM,
	}
}

func showWound(w workshop.Wound) Wound {
	return Wound{ThicknessUM: w.ThicknessUM, CoreMM: w.CoreMM, NewMM: w.NewMM, NewOuterMM: w.NewOuterMM}
}

func readWound(w Wound) workshop.Wound {
	return workshop.Wound{ThicknessUM: w.ThicknessUM, CoreMM: w.CoreMM, NewMM: w.NewMM, NewOuterMM: w.NewOuterMM}
}

func showJoin(j workshop.Join) Join {
	return Join{Joint: JoinJoint(j.Joint), OverlapMM: j.OverlapMM}
}

func readJoin(j Join) workshop.Join {
	return workshop.Join{Joint: workshop.Joint(j.Joint), OverlapMM: j.OverlapMM}
}

func showPress(p workshop.Press) Press {
	return Press{TemperatureC: p.TemperatureC, Seconds: p.Seconds, Pressure: p.Pressure, Peel: PressPeel(p.Peel)}
}

func readPress(p Press) workshop.Press {
	return workshop.Press{TemperatureC: p.TemperatureC, Seconds: p.Seconds, Pressure: p.Pressure, Peel: workshop.Peel(p.Peel)}
}

// GetRollLeft answers GET /v1/stocks/{item_id}/roll-left. The film's own caliper
// never stands in for a thickness that nobody entered: it would promise three times
// what is there.
func (s shelves) GetRollLeft(c echo.Context, id ItemID, params GetRollLeftParams) error {
	d, err := stocks().open(s.store.Queries).Newest(c.Request().Context(), id)
	if err != nil {
		return lacking(err, "stock")
	}
	stock := d.Doc
	if stock.Form != workshop.Roll {
		return unprocessable("item_id", "no_roll", "This stock is no roll.", "Ask for a roll.")
	}
	wound := workshop.Wound{}
	if stock.Wound != nil {
		wound = *stock.Wound
	}
	if params.CoreMM > 0 {
		wound.CoreMM = params.CoreMM
	}
	if um, _ := wound.Thickness(); um == 0 {
		return unprocessable("wound", "thickness_unknown", "How thick one turn of film, adhesive and liner is has not been entered.",
			"Measure a new roll and its core, and enter both with its length in the stock under wound.")
	}
	left, ok := wound.Left(params.OuterMM)
	if !ok {
		return unprocessable("outer_mm", "within_core", "The roll is smaller than its core.", "Measure both across, in mm.")
	}
	return sendJSON(c, RollLeft{
		LengthMM: left.LengthMM, LowMM: left.LowMM, HighMM: left.HighMM, WoundUM: left.WoundUM, Learned: left.Learned,
	})
}
