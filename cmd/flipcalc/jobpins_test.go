package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
)

// place is a point of the JSON answer.
type place struct{ X, Y decimal.Decimal }

// pinsSaid is what 'pins --json' says of its drilling programs.
type pinsSaid struct {
	Second struct {
		X, Y decimal.Decimal
		Z    *decimal.Decimal
	} `json:"second_zero"`
	FacePins []place `json:"face_pins"`
	BackPins []place `json:"back_pins"`
	Fit      struct {
		Layout struct {
			Dowels []struct {
				InBed decimal.Decimal `json:"in_bed"`
			} `json:"dowels"`
		} `json:"layout"`
		Drilling []struct {
			Name  string          `json:"name"`
			Where string          `json:"where"`
			Safe  decimal.Decimal `json:"safe_z"`
			Holes []struct {
				Pin  int `json:"pin"`
				X, Y decimal.Decimal
				To   decimal.Decimal `json:"to_z"`
				Tool int             `json:"tool"`
			} `json:"holes"`
		} `json:"drilling"`
	} `json:"fit"`
}

// The written programs drill where the report says and no deeper: the motion
// interpreter follows each file. And what the report says is right in machine
// coordinates, worked out here from the bed up: the blank's holes and the pins'
// holes stand where the pins stand, the blank's end at the seating plane less what
// goes beyond, the bed's at the seating plane less the pin's length in the bed. The
// face's seating plane lies at Z-50 for every case, the back's higher by the
// difference of the seats.
func TestDrillsWhereSaid(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	dec := decimal.RequireFromString
	cases := 0
	for _, flip := range []string{"y --pin 40,8,6 --pin 40,54,5", "x --pin 8,30,6 --pin 74,30,5", "y --pin 10,30,6 --pin 70,30,6 --pin 40,9,5"} {
		for _, zero := range []string{"far-right", "5,7.25 --back-zero 3,4"} {
			for _, z := range []string{"top --back-z-zero top", "top --back-z-zero bed", "bed --back-z-zero top", "bed --back-z-zero bed"} {
				for _, station := range []string{"", "--set back-pin=333,222.5", "--set back-pin=333,222.5 --set seat=4 --set back-seat=6.5"} {
					for _, how := range []string{"", "--set cycles=true --set peck=1.5 --set beyond=0.75", "--set skimmed=0.5 --set safe=31", "--set drilled=face"} {
						if how == "--set drilled=face" && station != "" {
							continue
						}
						seat, at := dec("-50"), "-50"
						if strings.HasPrefix(z, "top") {
							at = "-38" // a blank of 12 lies on it
						}
						line := "pins --stock 80x60x12 --fit H7/g6 --spoilboard 20 --set drill=7=6 --set drill=8=5 --set speed=9000 --set plunge=250 --json --at 100,50," + at +
							" --flip " + flip + " --zero " + zero + " --z-zero " + z + " " + station + " " + how
						dir := filepath.Join(t.TempDir(), "out")
						var out, errw bytes.Buffer
						if code := run(append(strings.Fields(line), "-o", dir), strings.NewReader(""), &out, &errw); code != exitDone {
							t.Fatalf("%s: %d, %s", line, code, errw.String())
						}
						var said pinsSaid
						if err := json.Unmarshal(out.Bytes(), &said); err != nil {
							t.Fatalf("%s: %v", line, err)
						}
						cases++
						for _, p := range said.Fit.Drilling {
							got := follow(t, filepath.Join(dir, p.Name), p.Safe)
							want := map[string]string{}
							for _, h := range p.Holes {
								want[fmt.Sprintf("T%d X%s Y%s", h.Tool, h.X, h.Y)] = h.To.String()
								// In machine coordinates.
								x, y, zz := dec("100"), dec("50"), dec(at)
								pins, plane := said.FacePins, seat
								if p.Where == "back-bed" {
									x, y, zz = said.Second.X, said.Second.Y, *said.Second.Z
									pins = said.BackPins
									if strings.Contains(station, "--set seat=4") {
										plane = plane.Add(dec("2.5"))
									}
								}
								pin := pins[h.Pin-1]
								if !x.Add(h.X).Equal(pin.X) || !y.Add(h.Y).Equal(pin.Y) {
									t.Errorf("%s: %s drills X%s Y%s of the machine for the pin at X%s Y%s", line, p.Name, x.Add(h.X), y.Add(h.Y), pin.X, pin.Y)
								}
								bottom := plane.Sub(said.Fit.Layout.Dowels[h.Pin-1].InBed)
								if p.Where == "blank" {
									bottom = plane
									if strings.Contains(how, "beyond=") {
										bottom = plane.Sub(dec("0.75"))
									}
								}
								if !zz.Add(h.To).Equal(bottom) {
									t.Errorf("%s: %s drills down to Z%s of the machine, want Z%s", line, p.Name, zz.Add(h.To), bottom)
								}
							}
							if fmt.Sprint(got) != fmt.Sprint(want) {
								t.Errorf("%s: %s drills %v, said %v", line, p.Name, got, want)
							}
						}
						files := map[string]int{"": 2, "--set back-pin=333,222.5": 3, "--set back-pin=333,222.5 --set seat=4 --set back-seat=6.5": 3}[station]
						if how == "--set drilled=face" {
							files = 1
						}
						files *= 2 // no length is called, so each drill has programs of its own
						if len(said.Fit.Drilling) != files {
							t.Errorf("%s: %d programs, want %d", line, len(said.Fit.Drilling), files)
						}
					}
				}
			}
		}
	}
	if cases != 3*2*4*(3*3+1) {
		t.Errorf("%d cases", cases)
	}
}

// follow interprets a drilling program: by tool and place the deepest Z that any
// move reaches.
func follow(t *testing.T, path string, safe decimal.Decimal) map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	deepest := map[string]decimal.Decimal{}
	high := motion.FromDecimal(safe)
	if _, err := motion.Walk(f, motion.Options{Name: path}, func(m *motion.Move) error {
		if !m.ToOK[0] || !m.ToOK[1] {
			return nil
		}
		if !m.ToOK[2] {
			// Over the first hole, before anything goes down.
			if m.Kind != motion.Rapid || len(deepest) > 0 {
				t.Errorf("%s:%d: moves across at an unknown height", path, m.Line)
			}
			return nil
		}
		if across := !m.FromOK[0] || !m.From[0].Equal(m.To[0]) || !m.From[1].Equal(m.To[1]); across && m.To[2].Cmp(high) < 0 {
			t.Errorf("%s:%d: moves across at Z%s, below Z%s", path, m.Line, m.To[2], high)
		}
		key := fmt.Sprintf("T%d X%s Y%s", m.State.Tool, m.To[0], m.To[1])
		z, _ := m.To[2].Decimal()
		if old, ok := deepest[key]; !ok && z.LessThan(safe) || ok && z.LessThan(old) {
			deepest[key] = z
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for k, z := range deepest {
		out[k] = z.String()
	}
	return out
}
