package api

import (
	"cmp"
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue/webhook"
)

// webhooks answers what is asked of receivers of events.
type webhooks struct {
	*tools
	reach webhook.Config
}

// ListWebhooks answers GET /v1/webhooks.
func (w webhooks) ListWebhooks(c echo.Context, params ListWebhooksParams) error {
	all, err := w.store.Webhooks(c.Request().Context())
	if err != nil {
		return err
	}
	return sendPage(c, "webhooks", all, turn{params.Limit, params.Cursor}, func(w db.Webhook) string { return w.ID.String() }, showWebhook)
}

// CreateWebhook answers POST /v1/webhooks.
func (w webhooks) CreateWebhook(c echo.Context) error {
	var body WebhookRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	switch err := w.reach.CheckURL(body.URL); {
	case errors.Is(err, webhook.ErrAddress):
		return unprocessable("url", "private_address", "The address is on this machine, in a private network or set aside, and webhooks do not reach those here.",
			"Name a receiver that is reached from the internet, or have the service started with --webhooks-private.")
	case err != nil:
		return unprocessable("url", "invalid_body", "The address cannot be taken: "+err.Error()+".", "Write https://host/path.")
	}
	made, err := w.store.AddWebhook(c.Request().Context(), db.Webhook{
		Owner: body.Owner, URL: body.URL, Secret: webhook.NewSecret(), Events: each(body.Events, func(e WebhookEvent) string { return string(e) }),
	})
	if err != nil {
		return err
	}
	h := showWebhook(made)
	return c.JSON(http.StatusCreated, NewWebhook{
		ID: h.ID, Owner: h.Owner, URL: h.URL, Events: h.Events, Active: h.Active, CreatedAt: h.CreatedAt, Secret: webhook.SecretText(made.Secret),
	})
}

// DeleteWebhook answers DELETE /v1/webhooks/{webhook_id}.
func (w webhooks) DeleteWebhook(c echo.Context, id WebhookID) error {
	if err := w.store.DropWebhook(c.Request().Context(), id); err != nil {
		return lacking(err, "webhook")
	}
	return c.NoContent(http.StatusNoContent)
}

// ListDeliveries answers GET /v1/webhooks/{webhook_id}/deliveries.
func (w webhooks) ListDeliveries(c echo.Context, id WebhookID, params ListDeliveriesParams) error {
	ctx := c.Request().Context()
	if _, err := w.store.Webhook(ctx, id); err != nil {
		return lacking(err, "webhook")
	}
	before, err := readBefore(params.Cursor)
	if err != nil {
		return err
	}
	limit := cmp.Or(params.Limit, mostListed)
	found, err := w.store.Deliveries(ctx, id, string(params.State), before, limit+1)
	if err != nil {
		return err
	}
	return sendNewest(c, "deliveries", found, limit, showDelivery, func(d db.Delivery) db.Cursor { return db.Cursor{Created: d.Created, ID: d.ID} })
}

// ResendDelivery answers POST /v1/webhooks/{webhook_id}/deliveries/{delivery_id}/resend.
func (w webhooks) ResendDelivery(c echo.Context, id WebhookID, delivery DeliveryID) error {
	d, err := w.jobs.Resend(c.Request().Context(), id, delivery)
	if errors.Is(err, db.ErrNotFound) {
		return notFound("delivery")
	}
	if err != nil {
		return err
	}
	return c.JSON(http.StatusAccepted, showDelivery(d))
}

func showWebhook(w db.Webhook) Webhook {
	return Webhook{
		ID: w.ID, Owner: w.Owner, URL: w.URL, Active: w.Active, CreatedAt: w.Created,
		Events: each(w.Events, func(e string) WebhookEvent { return WebhookEvent(e) }),
	}
}

func showDelivery(d db.Delivery) Delivery {
	return Delivery{
		ID: d.ID, PlanID: d.Plan, ClassSetID: d.ClassSet, Event: WebhookEvent(d.Event), State: DeliveryState(d.State), Attempts: d.Attempts,
		Status: d.Status, Fault: DeliveryFault(d.Fault), CreatedAt: d.Created, UpdatedAt: d.Updated,
	}
}
