package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// A face station at (10, 10) and a back station at (180, 10), against a near fence
// and a left stop, 6 mm cutter and 0.1 feeler. By hand (common practice: half the
// tool and the feeler off the contact): 10 + 3 + 0.1 beside it, so 3.1 in the offset.
func TestTouchOffTable(t *testing.T) {
	station := func(side, offset, x string) bed.Station {
		return bed.Station{Pair: 1, Side: side, Offset: offset, Corner: pt(x, "10"), Zero: registration.Position{X: d(x), Y: d("10"), Z: dp("-88")},
			Blank: bed.Rect{X: d(x), Y: d("10"), W: d("120"), H: d("80")}}
	}
	l := &bed.Layout{Unit: transform.MM, Stations: []bed.Station{station(bed.FaceSide, "G54", "10"), station(bed.BackSide, "G56", "180")}}
	fence := &registration.Answer{Question: registration.Question{Register: registration.FenceStop,
		Fence: registration.Contact{Side: registration.Near}, Stop: registration.Contact{Side: registration.Left}},
		Touches: []registration.Touch{{Locator: "fence", Side: registration.Near, BackLocator: "fence", BackSide: registration.Near},
			{Locator: "stop", Side: registration.Left, BackLocator: "stop", BackSide: registration.Left}}}
	pins := markerAnswer()
	vee, flat := cut.Tool{Number: 3, Shape: cut.Vee, Diameter: 6, Angle: 60}, cut.Tool{Number: 1, Shape: cut.Flat, Diameter: 6}
	for _, r := range []struct {
		name      string
		a         *registration.Answer
		tools     []cut.Tool
		feeler    bool
		clear     bool
		has, lack []string
	}{
		{"fence, stop, tool and feeler", fence, []cut.Tool{vee, flat}, true, true,
			[]string{"with T1, feeler 0.1", "left stop X 3.1 13.1", "left stop X 3.1 183.1", "near fence Y 3.1 13.1", "top of the blank Z 0.1 -87.9",
				"G90 G21 | G53 G0 Z-5.000 | G56 | G0 X0. Y0."}, []string{"Caution", "Note"}},
		{"no tool that could touch beside a stop", fence, []cut.Tool{vee}, false, false,
			[]string{"no feeler between", "left stop X 0 + half the tool", "top of the blank Z 0 -88", "Note: half the tool", "G90 G21 | G54 | G0 X0. Y0.", "Caution: jog the tool above everything"}, []string{"with T3"}},
		{"pins are centred on, whatever the tool", pins, nil, true, true,
			[]string{"feeler 0.1", "center over the dowel of 6 X 150 160", "center over the dowel of 8 Y 110 120", "top of the blank Z 0.1 -87.9"}, []string{"with T", "Note", "Caution"}},
	} {
		s := Setup{Reading: [2]*decimal.Decimal{dp("-88"), dp("-88")}}
		if r.feeler {
			s.Feeler = dp("0.1")
		}
		clear := dp("-5")
		if !r.clear {
			clear = nil
		}
		s.SetTouchOff(l, []*registration.Answer{r.a}, r.tools, clear)
		var b bytes.Buffer
		if err := Terminal(&b, s, Options{Width: 400, ASCII: true, Why: true}); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(strings.ReplaceAll(strings.ReplaceAll(b.String(), "G0 X0. Y0.", "G0 X0. Y0. "), "| ", "| ")), " ")
		plain := strings.Join(strings.Fields(strings.ReplaceAll(text, " | ", " ")), " ")
		for _, want := range r.has {
			if !strings.Contains(text, want) && !strings.Contains(plain, want) {
				t.Errorf("%s: no %q in\n%s", r.name, want, b.String())
			}
		}
		for _, not := range r.lack {
			if strings.Contains(text, not) {
				t.Errorf("%s: %q in\n%s", r.name, not, b.String())
			}
		}
		// JSON, against the schema.
		v := &validator{root: decode(t, Schema())}
		b.Reset()
		if err := StationsJSON(&b, s); err != nil {
			t.Fatal(err)
		}
		for _, f := range v.check(v.root["$defs"].(map[string]any)["stations"].(map[string]any), decode(t, b.Bytes()), r.name) {
			t.Error(f)
		}
	}
}
