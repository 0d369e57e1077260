package api

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// filler gives every field of a value another one, so that a field that is
// left out or mixed up shows.
type filler struct {
	n  int
	in []reflect.Type // the structs that are being filled, for types that hold lists of their own kind
}

func (f *filler) next() int { f.n++; return f.n }

// fill fills what v points to.
func (f *filler) fill(v reflect.Value) {
	switch into := v.Addr().Interface().(type) {
	case *decimal.Decimal:
		*into = decimal.New(int64(f.next()), -2)
		return
	case *geometry.Path:
		*into = geometry.Path{Start: geometry.Point{X: float64(f.next())}, Segments: []geometry.Segment{{End: geometry.Point{Y: 7}}}, Closed: true}
		return
	case *finding.Values:
		*into = finding.Values{"n": finding.Int(f.next()), "name": finding.Text(fmt.Sprint("t", f.next())), "holds": finding.Truth(true)}
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprint("t", f.next()))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int32, reflect.Int64:
		v.SetInt(int64(f.next()))
	case reflect.Uint8:
		v.SetUint(uint64(f.next() % 256))
	case reflect.Float64:
		v.SetFloat(float64(f.next()) + 0.25)
	default:
		f.fillParts(v)
	}
}

// fillParts fills what consists of others, lists and maps with two of them.
func (f *filler) fillParts(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		if slices.Index(f.in, v.Type().Elem()) != lastIndex(f.in, v.Type().Elem()) {
			return // a value within a value of its kind has no more of them
		}
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		f.fill(v.Index(0))
		f.fill(v.Index(1))
	case reflect.Array:
		for i := range v.Len() {
			f.fill(v.Index(i))
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range 2 {
			value := reflect.New(v.Type().Elem()).Elem()
			f.fill(value)
			v.SetMapIndex(reflect.ValueOf(fmt.Sprint("k", f.next())), value)
		}
	case reflect.Struct:
		f.in = append(f.in, v.Type())
		for i := range v.NumField() {
			f.fill(v.Field(i))
		}
		f.in = f.in[:len(f.in)-1]
	default:
		panic("no way to fill a " + v.Type().String())
	}
}

func lastIndex(types []reflect.Type, of reflect.Type) int {
	for i := len(types) - 1; i >= 0; i-- {
		if types[i] == of {
			return i
		}
	}
	return -1
}

func full[T any]() *T {
	v := new(T)
	(&filler{}).fill(reflect.ValueOf(v).Elem())
	return v
}

// generic returns a value as any reader of its JSON sees it.
func generic(t *testing.T, v any) any {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var out any
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// shows says that what is shown of a full value is the JSON of the value itself,
// but for the edits.
func shows[T, A any](show func(*T) A, edits ...edit) func(*testing.T) {
	return func(t *testing.T) {
		v := full[T]()
		if diff := cmp.Diff(edited(t, v, edits...), generic(t, show(v))); diff != "" {
			t.Errorf("the value (-) is shown (+) as\n%s", diff)
		}
	}
}

// by takes what show takes by its value.
func by[T, A any](show func(T) A) func(*T) A { return func(v *T) A { return show(*v) } }

func TestWhatIsShown(t *testing.T) {
	t.Run("finding", shows(by(showFinding)))
	t.Run("question", shows(by(showQuestion)))
	t.Run("replies", shows(by(showReplies)))
	t.Run("unit", shows(by(showUnit)))
	t.Run("size", shows(showSize))
	t.Run("artwork", shows(showArtwork, inner("aside", "turned"), renamed("stack.layers", "stock", "stock_id"),
		renamed("stack", "at", "place"), func(_ *testing.T, value map[string]any) { // counted from 1
			stack := value["stack"].(map[string]any)
			stack["place"] = stack["place"].(float64) + 1
		}))
	t.Run("weeding", func(t *testing.T) {
		v := full[weeding.Map]()
		lies := *v
		lies.Steps = v.StepsAsTheyLie()
		if diff := cmp.Diff(edited(t, lies, inner("copies", "effort.of")), generic(t, showWeeding(v))); diff != "" {
			t.Errorf("the value (-) is shown (+) as\n%s", diff)
		}
	})
	t.Run("layout", shows(showLayout, inner("maps", "savings", "loads.places"), // shown by load, in the estimate, and by member
		renamed("loads", "map", "panel"), flat("", "panels", "join")))
	t.Run("passes", shows(showPasses, inner("stretch", "arcs"), flat("loads.passes", "test_mark", "box")))
	t.Run("estimate", shows(showEstimate, inner("basis")))
	t.Run("size in short", shows(by(showSizeSummary)))
	t.Run("weeding in short", shows(by(showWeedingSummary), inner("effort"))) // bench_s is made of it
	t.Run("layout in short", shows(by(showLayoutSummary), inner("shared")))
	t.Run("pass in short", shows(by(showPassSummary), inner("blade"), renamed("", "setting", "setting_id"), worded(full[view.Pass]().Standing)))
	t.Run("stock", shows(by(showStock)))
	t.Run("machine", shows(by(showMachine), inner("blade.fitted", "blades.fitted"))) // of the blade that is in, see GET /v1/blades
	t.Run("setting", shows(by(showSetting)))
	t.Run("convention", shows(by(showConvention)))
	t.Run("price list", shows(by(showPriceList)))
}

// What is empty is left out where it was left out before, and a number that
// is 0, or a switch that is off, is shown where it was shown before.
func TestWhatIsShownOfLittle(t *testing.T) {
	little := func(v, shown any, edits ...edit) {
		t.Helper()
		if diff := cmp.Diff(edited(t, v, edits...), generic(t, shown)); diff != "" {
			t.Errorf("the value (-) is shown (+) as\n%s", diff)
		}
	}
	place := finding.Place{Box: geometry.EmptyBox(), Layer: "CUT"}
	little(finding.Finding{Code: "a", Places: []finding.Place{place}}, showFinding(finding.Finding{Code: "a", Places: []finding.Place{place}}))
	little(ask.Question{Answers: []ask.Answer{{}}}, showQuestion(ask.Question{Answers: []ask.Answer{{}}}))
	little(drawing.Unit{}, showUnit(drawing.Unit{}))
	little(size.Result{}, showSize(&size.Result{}))
	little(artwork.Artwork{Strokes: []artwork.Stroke{{}}}, showArtwork(&artwork.Artwork{Strokes: []artwork.Stroke{{}}}))
	none := weeding.Map{Regions: []weeding.Region{{}}, Steps: []weeding.Step{{}}, Strokes: []artwork.Stroke{}}
	little(none, showWeeding(&none))
	little(layout.Layout{Loads: []layout.Load{{Placements: []layout.Placement{{}}}}}, showLayout(&layout.Layout{Loads: []layout.Load{{Placements: []layout.Placement{{}}}}}))
	pass := passes.Plan{Loads: []passes.Load{{Passes: []passes.Pass{{Runs: []passes.Run{{}}}}}}}
	little(pass, showPasses(&pass))
	little(estimate.Estimate{Lines: []estimate.Line{{}}}, showEstimate(&estimate.Estimate{Lines: []estimate.Line{{}}}), inner("basis", "calibration")) // which those of before had not
	little(view.Pass{}, showPassSummary(view.Pass{}))
	little(view.Size{}, showSizeSummary(view.Size{}))
	stock := workshop.Stock{Limits: workshop.Limits{Stencil: workshop.StencilLimits{}.OrDefault()}} // what holds is shown
	little(stock, showStock(stock))
	little(workshop.Machine{}, showMachine(workshop.Machine{}))
	little(workshop.Setting{}, showSetting(workshop.Setting{}))
	little(workshop.Convention{Rules: []workshop.Rule{{}}}, showConvention(workshop.Convention{Rules: []workshop.Rule{{}}}))
	prices := workshop.PriceList{PerMetre: map[string]decimal.Decimal{}, PerSheet: map[string]decimal.Decimal{}}
	little(prices, showPriceList(prices))
}

// reads says that a full value written as JSON, taken as a body, and read from
// it, is the value again, but for what only the service sets: unset takes that away.
func reads[T, A any](read func(A) (T, error), unset ...func(*T)) func(*testing.T) {
	return func(t *testing.T) {
		want := full[T]()
		text, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		var body A
		if err := json.Unmarshal(text, &body); err != nil {
			t.Fatal(err)
		}
		got, err := read(body)
		if err != nil {
			t.Fatal(err)
		}
		for _, change := range unset {
			change(want)
		}
		if diff := cmp.Diff(*want, got, cmp.Comparer(decimal.Decimal.Equal)); diff != "" {
			t.Errorf("the value (-) is read (+) as\n%s", diff)
		}
	}
}

// sure gives a reading that cannot fail the form of those that can.
func sure[T, A any](read func(A) T) func(A) (T, error) {
	return func(body A) (T, error) { return read(body), nil }
}

func TestWhatIsRead(t *testing.T) {
	t.Run("stock", reads(readStock))
	t.Run("machine", reads(readMachine, func(m *workshop.Machine) { // which blade is in is said with PUT /v1/blades/{item_id}
		for _, b := range []*workshop.Blade{&m.Blade, &m.Blades[0], &m.Blades[1]} {
			b.Fitted = ""
		}
	}))
	t.Run("setting", reads(readSetting))
	t.Run("convention", reads(readConvention))
	t.Run("price list", reads(readPriceList))
	t.Run("reply", reads(sure(readReply)))
	t.Run("size", reads(sure(readSizeChoice)))
	t.Run("options", reads(sure(readOptions)))
}

// Every choice of a body of JSON arrives.
func TestChoicesAreRead(t *testing.T) {
	body := full[PlanRequest]()
	want := plan.Choices{
		Stock: body.StockID, Machine: body.MachineID, Convention: body.ConventionID, PriceList: body.PriceListID,
		Purpose: weeding.Purpose(body.Purpose), Copies: body.Copies, Mirror: body.Mirror, Turned: body.Turned,
		Size: readSizeChoice(body.Size), Options: readOptions(body.Options), Replies: readReplies(body.Answers),
		Batch: body.Batch, Film: body.Film, Meet: artwork.Meeting(body.Meet), UnderlapMM: body.UnderlapMM,
	}
	if diff := cmp.Diff(want, readChoices(*body)); diff != "" {
		t.Error(diff)
	}
	for i, v := 0, reflect.ValueOf(readChoices(*body)); i < v.NumField(); i++ {
		if name := v.Type().Field(i).Name; v.Field(i).IsZero() && name != "Films" { // which are read apart, as they may be refused
			t.Errorf("%s is lost", name)
		}
	}
}

// A colour or a rate that the specification would have refused is refused, and
// not taken for black or for nothing.
func TestWhatCannotBeRead(t *testing.T) {
	if _, err := readConvention(Convention{Rules: []Rule{{Colour: "teal"}}}); err == nil {
		t.Error("a colour by its name is read")
	}
	if _, err := readPriceList(PriceList{Minimum: "much"}); err == nil {
		t.Error("a rate in words is read")
	}
}
