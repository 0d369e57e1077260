package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// What receivers are told of class sets.
const (
	classLaid     = "class_set.laid"     // its loads are laid, or laid anew
	classComplete = "class_set.complete" // all who are expected have sent a drawing, and none is worked on
	classClosed   = "class_set.closed"   // it takes no drawings any more: it was closed, or its deadline has passed
)

// classEvent is the payload of a webhook about a class set.
type classEvent struct {
	Type      string         `json:"type"`
	Timestamp time.Time      `json:"timestamp"`
	Data      classEventData `json:"data"`
}

type classEventData struct {
	Set       uuid.UUID `json:"class_set_id"`
	Owner     string    `json:"owner"`
	Reference string    `json:"client_reference,omitempty"`
	Ready     int       `json:"ready"`
	Of        int       `json:"of"` // those who are expected, and members beside them
	Loads     int       `json:"loads"`
	Link      string    `json:"link"`
}

// tellClass tells of a set, which the transaction has locked, what is new since it was
// told of last: each thing once, and again where it was undone meanwhile.
func (q *telling) tellClass(ctx context.Context, tx db.Tx, id uuid.UUID) error {
	s, err := tx.ClassSet(ctx, db.AnyClient, id)
	if err != nil {
		return err
	}
	now, err := tx.ClassStanding(ctx, id)
	if err != nil {
		return err
	}
	told, news := s, []string{}
	if now.Rests {
		if s.ToldLaid = now.Laid; s.ToldLaid != told.ToldLaid && now.Laid != "" {
			news = append(news, classLaid)
		}
		s.ToldComplete = now.Expected > 0 && now.Missing == 0
	} else if now.Missing > 0 {
		s.ToldComplete = false
	}
	if s.ToldComplete && !told.ToldComplete {
		news = append(news, classComplete)
	}
	if s.ToldClosed = s.Shut; s.ToldClosed && !told.ToldClosed {
		news = append(news, classClosed)
	}
	if s.ToldLaid == told.ToldLaid && s.ToldComplete == told.ToldComplete && s.ToldClosed == told.ToldClosed {
		return nil
	}
	for _, what := range news {
		if err := q.tellOfClass(ctx, tx, s, now, what); err != nil {
			return err
		}
	}
	return tx.SetClassTold(ctx, s)
}

func (q *telling) tellOfClass(ctx context.Context, tx db.Tx, s db.ClassSet, now db.ClassStanding, what string) error {
	_, loads, err := classLoads(ctx, tx.Queries, s.ID)
	if err != nil {
		return err
	}
	payload, err := json.Marshal(classEvent{Type: what, Timestamp: time.Now().UTC(), Data: classEventData{
		Set: s.ID, Owner: s.Client, Reference: s.ClientReference, Ready: now.Ready, Of: now.Members + now.Missing, Loads: len(loads),
		Link: "/v1/class-sets/" + s.ID.String(),
	}})
	if err != nil {
		return fmt.Errorf("queue: an event: %w", err)
	}
	told, err := tx.AddClassDeliveries(ctx, s.ID, s.Client, what, string(payload))
	if err != nil {
		return err
	}
	for _, id := range told {
		if err := q.deliverLater(ctx, tx, id); err != nil {
			return err
		}
	}
	return nil
}

// mostShut bounds how many sets are told to be shut in one go.
const mostShut = 100

// shutOnce tells of the sets whose deadline has passed.
func (q keeper) shutOnce(ctx context.Context) error {
	sets, err := q.store.ClassSetsShut(ctx, mostShut)
	for _, id := range sets {
		err = errors.Join(err, q.store.InTx(ctx, func(tx db.Tx) error {
			if _, err := tx.LockClassSet(ctx, db.AnyClient, id); err != nil {
				return err
			}
			return q.tellClass(ctx, tx, id)
		}))
	}
	return err
}
