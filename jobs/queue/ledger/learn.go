package ledger

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"knifedesk/db"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// learn notes of an outcome how far it wore the blades, and what its minutes were
// counted by. Of a plan that an older program has made this is not known.
func learn(ctx context.Context, tx db.Tx, p db.Plan, posting uuid.UUID, o Outcome) error {
	stored, err := tx.PlanView(ctx, p.Client, p.ID)
	if err != nil || stored.View == nil {
		return err
	}
	var v view.Plan
	var r plan.Request
	for text, into := range map[*[]byte]any{&stored.View: &v, &p.Request: &r} {
		if err := json.Unmarshal(*text, into); err != nil {
			return fmt.Errorf("ledger: plan %s: %w", p.ID, err)
		}
	}
	if err := tx.AddWear(ctx, posting, wearOf(v.Passes, &r)); err != nil {
		return err
	}
	if v.Estimate == nil || v.Estimate.Basis.MotionS <= 0 || o.CutterS+o.BenchS <= 0 {
		return nil
	}
	doc, err := json.Marshal(calibration.Job{Basis: v.Estimate.Basis, CutterS: float64(o.CutterS), BenchS: float64(o.BenchS)})
	if err != nil {
		return fmt.Errorf("ledger: %w", err)
	}
	return tx.AddTimedJob(ctx, posting, doc)
}

// wearOf returns how far passes run the blades that are in the machine.
func wearOf(passes []view.Pass, r *plan.Request) []db.Wear {
	mm := map[string]float64{}
	var blades []string
	for _, p := range passes {
		if p.Blade == "" || r.Machine.ID == "" {
			continue
		}
		name := p.Blade
		if b, ok := r.Machine.BladeFor(workshop.Setting{BladeID: p.Blade}); ok && b.Fitted != "" {
			name = b.Fitted
		}
		if _, known := mm[name]; !known {
			blades = append(blades, name)
		}
		mm[name] += p.CutMM
	}
	var all []db.Wear
	for _, name := range blades {
		if cut := int64(math.Round(mm[name])); cut > 0 {
			all = append(all, db.Wear{Blade: name, Machine: r.Machine.ID, Family: string(r.Stock.Family), CutMM: cut})
		}
	}
	return all
}
