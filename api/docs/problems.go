package docs

// Problem is one code that an answer that is an error can have.
type Problem struct {
	Code   string
	Status int // the usual one
	Means  string
}

// Problems returns all codes of problems, by their status. The specification
// lists the same.
func Problems() []Problem {
	return append(append([]Problem{
		{"bad_request", 400, "The request could not be understood."},
		{"malformed_body", 400, "The body is no valid JSON, or holds something after it."},
		{"malformed_form", 400, "The form is broken: a boundary or a part is missing, or there are too many parts."},
		{"malformed_query", 400, "What stands behind the question mark of the address is broken."},
		{"cut_off", 400, "The request did not come in whole."},
		{"key_missing", 401, "This needs a key, and none was sent."},
		{"key_unknown", 401, "The key or token is not one of this service, or it was revoked."},
		{"key_expired", 401, "The key is past its end."},
		{"token_expired", 401, "The token, or what it was redeemed for, is past its end."},
		{"scope_missing", 403, "The key does not have the scope that this needs."},
		{"not_with_token", 403, "A token or capability is good for one drawing and its plans, and not for this."},
		{"link_broken", 403, "The signature of the link does not fit what it is used for."},
		{"link_expired", 403, "The link is past its end."},
		{"wrong_origin", 403, "A page of another site called a service that takes calls without a key."},
		{"not_found", 404, "There is no such thing, or it belongs to another client."},
		{"no_such_path", 404, "There is nothing at this path."},
		{"no_such_load", 404, "The plan has fewer loads."},
		{"method_not_allowed", 405, "The path does not take this method; Allow lists those that it takes."},
	}, conflicts()...), append(ofClasses(), unfit()...)...)
}

// ofClasses are the codes of class sets.
func ofClasses() []Problem {
	return []Problem{
		{"class_set_closed", 409, "The class set takes no more drawings: it was closed, or its deadline has passed."},
		{"class_set_unsettled", 409, "The class set is still worked out, so its loads may change."},
		{"not_issued", 409, "The load was not handed out."},
		{"class_set_full", 422, "The class set would have more members than one may have."},
		{"too_many_drawings", 422, "The form has more drawings than are taken at once."},
		{"repeated_reference", 422, "Two drawings of a request have one reference."},
	}
}

// conflicts are the codes of what does not fit how things stand.
func conflicts() []Problem {
	return []Problem{
		{"in_use", 409, "A plan was made from the drawing."},
		{"no_test_cut", 409, "No test cut is left to make; the text says what to change first."},
		{"other_sheet", 409, "Another sheet of a test cut is to be cut by now than the one that is reported."},
		{"compensation_unknown", 409, "Nobody said what the machine makes up for by itself, so no file can be written."},
		{"too_few_jobs", 409, "Too few jobs were timed to fit minutes to them."},
		{"changed_meanwhile", 409, "Somebody else changed it at the same time."},
		{"wrong_status", 409, "The plan's status does not allow this."},
		{"not_yet", 409, "The plan has no such part yet."},
		{"still_working", 409, "The request with this Idempotency-Key is still being answered."},
		{"token_spent", 409, "The token has taken another drawing."},
		{"accepted", 409, "The plan is accepted, so it stays as it is."},
		{"not_ready", 409, "The plan is not ready, so there is no price to take."},
		{"quote_expired", 409, "The price is too old to be taken."},
		{"past_booking", 409, "The booking is over, so that stock would be free again at once."},
		{"stock_short", 409, "There is not enough stock; shortfall says how much is missing."},
		{"not_accepted", 409, "Nothing is held for the plan."},
		{"already_issued", 409, "The stock of the plan is handed out."},
		{"already_reported", 409, "It is reported already what became of the stock."},
		{"already_reversed", 409, "The posting was taken back before."},
		{"not_reversible", 409, "What the posting moved has moved on."},
		{"amounts_differ", 409, "More would come back than there was."},
		{"wrong_size", 409, "The offcut would be larger than what it is cut from."},
		{"changed_since", 412, "It is not as it was when it was read, so nothing was written."},
		{"too_large", 413, "The body is larger than is taken."},
		{"unsupported_media_type", 415, "The path does not take this content type."},
		{"unsupported_encoding", 415, "The body is compressed."},
		{"wrong_host", 421, "The service answers for its own address only."},
	}
}

// unfit are the codes of requests that are understood and cannot be taken, and of
// what lies on the side of the service.
func unfit() []Problem {
	return []Problem{
		{"needed", 422, "The setting is for several stocks or machines, and a test cut is of one: name it."},
		{"not_of_setting", 422, "The setting is not for a stock or machine of that name."},
		{"doubtful_value", 422, "A measured value is so far from what was planned that it is rather misread; with sure it is taken."},
		{"not_measured", 422, "A value is of something that is not measured here, or one that is needed is missing."},
		{"cell_twice", 422, "A cell of a test cut is in two lists."},
		{"unknown_parameter", 422, "The path does not have this parameter."},
		{"repeated_parameter", 422, "A parameter, or a header, is given twice."},
		{"missing_parameter", 422, "A parameter is missing."},
		{"invalid_parameter", 422, "A parameter does not have the form that the reference says."},
		{"invalid_cursor", 422, "The cursor is not one that a list gave."},
		{"missing_body", 422, "The body is empty."},
		{"invalid_body", 422, "A field of the JSON does not have the form that the reference says."},
		{"unknown_field", 422, "The form does not have this field."},
		{"repeated_field", 422, "A field is given twice."},
		{"invalid_field", 422, "A field of the form does not have the form that the reference says."},
		{"invalid_text", 422, "A text holds a control character or is not UTF-8."},
		{"private_address", 422, "The address of a webhook is one that this service does not reach: its own machine, a private network, or one that is set aside."},
		{"invalid_choice", 422, "The choice names something that is not there, or that does not go with the rest."},
		{"missing_drawing", 422, "The form has no drawing."},
		{"empty_file", 422, "The drawing has no bytes."},
		{"too_slow_to_read", 422, "The drawing takes too long to read."},
		{"key_reused", 422, "The Idempotency-Key belongs to another request."},
		{"id_differs", 422, "The id in the body is not the one in the path."},
		{"fields_disagree", 422, "Two fields cannot hold beside each other."},
		{"unknown_question", 422, "The plan does not ask this."},
		{"unknown_answer", 422, "The question does not have this answer."},
		{"length_missing", 422, "The answer needs value_mm."},
		{"length_not_taken", 422, "The answer has no use for value_mm."},
		{"reason_missing", 422, "The answer needs a reason."},
		{"reason_not_taken", 422, "The answer has no use for a reason."},
		{"unknown_item", 422, "The stores keep no such item."},
		{"unknown_lot", 422, "No lot has this code."},
		{"nothing_named", 422, "It is not said what is to be erased."},
		{"nothing_spoiled", 422, "It is not said what was spoiled."},
		{"unknown_copy", 422, "The plan has no copy of this number."},
		{"unknown_piece", 422, "The plan keeps no piece of this number."},
		{"no_layer", 422, "The convention has no layer for the frame, or none for cuts."},
		{"no_roll", 422, "The stock is no roll."},
		{"off_stock", 422, "The frame is larger than the roll."},
		{"thickness_unknown", 422, "The thickness of one turn of the roll is not entered."},
		{"within_core", 422, "The roll would be smaller than its core."},
		{"too_many_requests", 429, "More requests came from this key or address than are allowed; Retry-After says when to go on."},
		{"too_many_waiting", 429, "As many requests wait for plans as may."},
		{"too_many_streams", 429, "As many event streams are open as may."},
		{"too_many_plans", 429, "As many plans are queued or worked on as may be."},
		{"internal", 500, "Something failed on the side of the service."},
		{"busy", 503, "Too much is being sent at once; Retry-After says when to go on."},
		{"database_unreachable", 503, "The database does not answer; Retry-After says when to go on."},
		{"schema_behind", 503, "The database is older than the program."},
	}
}
