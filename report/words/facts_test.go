package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/registration/landed"
	"flipcalc/registration/pattern"
)

var thick = d("12")

// facts are one of each kind, and what is said of them; "" where only its length is tested.
var facts = []struct {
	is   any
	want string
}{
	{registration.ZeroDefault{Zero: "near-left"}, ""},
	{registration.BackZeroDefault{Zero: "near-left"}, ""},
	{registration.ZZeroDefault{Face: registration.Top, Back: registration.Bed}, ""},
	{registration.OffsetFree{Offset: "G55", Taken: "G54"}, "G54 is taken: the face uses G55"},
	{registration.OffsetDefault{Offset: "G54"}, ""},
	{registration.BackOffsetChosen{Offset: "G55"}, "using G55: check that it is free"},
	{registration.BackOffsetChosen{Offset: "G56", Taken: []string{"G55"}}, "using G56, the first free offset (G55 taken)"},
	{registration.LocatorDefault{Locator: "fence", Side: registration.Near, At: d("60"), Frame: "machine"}, "fence assumed at Y60, the nominal edge (machine coordinates): give near@Y"},
	{registration.PlugAtDefault{X: d("182"), Y: d("152"), Frame: "face zero"}, ""},
	{registration.NoRegisterFact{}, ""},
	{registration.Unused{Register: registration.Dowels, Keys: []string{"bore", "plug"}}, ""},
	{registration.Measured{Nominal: registration.Blank{W: d("120"), H: d("80"), T: d("12")}, Used: registration.Blank{W: d("119.8"), H: d("80"), T: d("12.2")}},
		"measured size 119.8x80x12.2 mm used, not the nominal 120x80x12"},
	{registration.Skimmed{By: d("0.5"), Thick: d("11.5"), Zero: registration.Top}, "the face skims 0.5 mm: the blank is then 11.5 mm thick; the face's Z0 is the unskimmed top"},
	{registration.Skimmed{By: d("0.5"), Thick: d("11.5"), Zero: registration.Bed}, "the face skims 0.5 mm: the blank is then 11.5 mm thick"},
	{registration.ZUnknown{Rise: d("12")}, ""},
	{registration.Corrected{Rounds: 2, X: d("-4"), Y: d("4"), Limit: d("5")}, "corrections move the second zero by X-4 Y4, over 5 mm: check signs, unit and locators"},
	{registration.Corrected{Rounds: 1, X: d("-0.12"), Y: d("0.05")}, "the second zero includes 1 correction of the job, X-0.12 Y0.05 mm"},
	{registration.ZTouchOff{Rise: d("2.5")}, ""},
	{registration.ZLeft{Z: d("91")}, "Z91 isn't used: the programs call tool lengths (G43); touch off Z [at]"},
	{registration.SameEdge{Locator: "stop", Edge: registration.Left, Face: registration.Left, Back: registration.Left}, ""},
	{registration.SamePins{Edge: "left", At: d("60")}, "the same dowels serve both sides: flip line 60 mm from the left edge"},
	{registration.SecondPins{Pins: 2}, ""},
	{registration.DrilledFace{}, ""},
	{registration.Foolproof{}, "foolproof: the blank goes on one way only"},
	{registration.Foolproof{Unturned: []string{"as is"}}, "foolproof against a wrong turn; unturned the blank goes on: check which side is up"},
	{registration.Round{}, ""},
	{registration.ClockFlatTurns{Face: registration.Near, Back: registration.Far}, ""},
	{registration.ClockPinMoves{X: d("24"), Y: d("-8"), Frame: "face zero"}, ""},
	{registration.ZeroMoved{X: d("0.2"), Y: d("0")}, ""},
	{registration.ToolZ{Tool: "T1", TouchOff: registration.TouchOffOnce}, "Z is for T1, the tool you touch off with, once for the run; other tools need G43"},
	{registration.TouchOffPiece{Thick: d("12.2")}, "touch off Z on the measured piece, 12.2 mm thick; another thickness shifts Z by the difference"},
	{registration.OtherEdge{Locator: "stop", Face: registration.Left, Back: registration.Right, Error: "W"}, ""},
	{registration.FenceEdgeChanged{Face: registration.Left, Back: registration.Right, Error: "square"}, ""},
	{registration.FenceShort{Of: "face", Side: registration.Left, Length: d("80"), Other: d("120")}, ""},
	{registration.ZeroOutside{Of: "back", X: d("-5"), Y: d("3")}, ""},
	{registration.NotFoolproof{Cure: registration.CureDiameters + " 2", Wrong: []string{"flip x", "turned 180"}}, "not foolproof: the blank goes on wrongly too (flip x and turned 180); make dowel 2 and its hole another diameter"},
	{registration.NearMiss{LayUp: "flip x", Miss: d("0.075")}, "flip x misses by only 0.075 mm: a push lets it on"},
	{registration.PinAtEdge{Pin: 1, Out: d("0.5")}, ""},
	{registration.PinAtEdge{Pin: 1}, "dowel 1: its hole leaves no wall at the blank's edge"},
	{registration.HoleTight{Hole: d("6"), Pin: d("6")}, ""},
	{registration.FitPressed{Fit: "H7/m6", Pins: []registration.Interference{{Dia: d("6"), Least: d("-0.012"), Most: d("0.008")}, {Dia: d("8"), Least: d("-0.015"), Most: d("0.009")}}},
		"H7/m6: clearance -0.012 to 0.008 mm at 6 and -0.015 to 0.009 mm at 8; " + pressedOn + "; press dowels into the bed, not into the blank: H7/g6 slides, H7/h6 is close"},
	{registration.PinLoose{Most: d("1.9"), Limit: d("0.5")}, ""},
	{registration.ClockFenceUnsaid{}, ""},
	{registration.ClockFenceMoves{Face: registration.Near, FaceAt: d("100"), FaceFrame: "machine", Back: registration.Far, BackAt: d("30"), BackFrame: "face zero"},
		"move the clocking fence for the back: face near at Y100 (machine coordinates); back far at Y30 (from the face zero)"},
	{registration.PlugLoose{Clearance: d("0.6")}, ""},
	{registration.PlugTight{Dia: d("12")}, ""},
	{registration.ClockingLoose{AtRim: d("0.4")}, ""},
	{registration.TurnUnknown{Clocking: "flat"}, ""},
	{registration.ClockFenceNominal{Side: registration.Right, At: d("160"), Edge: d("159.8"), Up: "face"}, "clocking fence at 160 mm: with the face up this piece's right edge is at 159.8; move it, or the piece turns"},
	{registration.TurnKnown{Turn: d("0.3"), Limit: d("0.02"), Taken: d("0.3")}, "the blank is turned by 0.3°, known to 0.02°; counter-clockwise is positive"},
	{registration.TurnKnown{Turn: d("0.03"), Limit: d("0.15")}, "the blank is turned by 0.03°, known to 0.15°, taken as 0°; counter-clockwise is positive"},
	{registration.LiesTurned{Turn: d("36.8699"), Limit: d("0.02"), Rest: d("36.8699")}, ""},
	{registration.EndForEnd{}, ""},
	{registration.SizeImplied{Of: "W", Implied: d("122"), Taken: d("120")}, ""},
	{registration.EdgesAlone{}, ""},
	{registration.TouchFirst{Places: 3}, "touch the 3 planned places, add their readings behind an @, run again"},
	{registration.TouchBlind{To: []string{"side", "end"}}, "touches don't show which side is up or which end is which: check the lettering"},
	{pattern.MarginAssumed{Width: d("12")}, ""},
	{pattern.OutsideMargin{Pin: 1, By: d("11")}, ""},
	{pattern.PinUnderCut{Pin: 1}, ""},
	{pattern.PinLengthsMemory{Standard: "ISO 8734 m6"}, ""},
	{pattern.PinSizeMemory{Of: "ISO 8734 m6"}, ""},
	{pattern.PinTight{Hole: d("6"), Least: d("-0.012"), Most: d("0.004")}, ""},
	{pattern.BedUnsaid{}, ""},
	{pattern.PinPlain{Pin: 1, Dia: d("6.35"), Standard: "ISO 8734 m6"}, "dowel 1, 6.35 mm, is not of ISO 8734 m6; measure it, and cut it to length"},
	{pattern.PinPlain{Pin: 1, Dia: d("6.35"), Standard: "ISO 8734 m6", Wanted: &pattern.FitPin{Fit: "H8/f7", Least: d("6.322"), Most: d("6.337")}},
		"dowel 1, 6.35 mm, is not of ISO 8734 m6; measure it, and cut it to length; for H8/f7 expect 6.322 to 6.337 mm"},
	{pattern.FitAsDrilled{Hole: "H7", Wider: d("0.05"), Clearance: d("0.074")}, ""},
	{pattern.PinClass{Standard: "ISO 8734 m6", Fit: "H7/g6", Gives: []pattern.Given{{Pin: "6", Least: d("-0.012"), Most: d("0.008")}}},
		"H7/g6 takes dowels ground to g6, not of ISO 8734 m6; in an H7 hole clearance is -0.012 to 0.008 mm at 6; order g6 dowels, or bore larger (--hole)"},
	{pattern.IndexUnderShoulder{Shoulder: d("18")}, ""},
	{budget.FitTight{Of: "6.02", Least: d("-0.01"), Most: d("0.02")}, "a hole of 6.02 mm can be tight: clearance -0.01 to 0.02 mm"},
	{budget.FitMemory{Fit: "H7/g6"}, ""},
	{budget.GrainAssumed{Along: "x"}, "grain assumed along X, the longer side"},
	{budget.MoistureTwo{Percent: d("2")}, ""},
	{budget.MoistureRange{Percent: d("9")}, ""},
	{budget.WoodMemory{Species: "spruce, sitka"}, ""},
	{budget.ContactsTaken{First: d("20"), Second: d("100"), Stop: d("40")}, "contacts assumed 20 and 100 mm along the fence, the stop's 40 mm from it: give contacts"},
	{budget.ClockingLever{Length: d("30")}, ""},
	{budget.PinsMove{By: d("0.6896")}, ""},
	{landed.TurnUnknown{}, ""},
	{landed.TurnSmall{Way: 0.01}, ""},
	{landed.PlaceDisagrees{Number: 2, Off: 0.3, Rest: 0.01}, "measurement 2 is 0.3000 mm off the others, which agree to 0.0100 mm; measure it again, or leave it out"},
	{landed.Contacts{First: d("20"), Second: d("100"), Stop: d("40")}, ""},
	{landed.NotRigid{Rest: 0.2, Cause: landed.CauseSquare, Amount: 0.4}, ""},
	{landed.Measuring{Limit: d("0.02")}, ""},
	{landed.NoLocatorMove{Locator: "fence", Axis: "y", Off: d("0.1")}, "moving the fence along Y doesn't correct 0.1: it places both sides alike"},
	{landed.NoSecondZero{}, ""},
	{landed.MismatchLarge{Limit: d("5"), Flip: registration.FlipY}, ""},
	{landed.MismatchBeyond{Limit: d("0.888"), Worst: d("0.444"), Flip: registration.FlipX}, ""},
	{registration.TouchOffEdge{From: registration.FenceStop}, "take the zeros from the fence and stop, never from the blank's own edge"},
	{mirror.AssumedUnit{Unit: transform.MM}, "no G20 or G21 before the first length: mm (G21) assumed; write it in"},
	{mirror.AssumedDistance{Code: "G90"}, ""},
	{mirror.AssumedPlane{Code: "G17"}, ""},
	{mirror.AssumedCentres{Code: "G91.1"}, ""},
	{mirror.AssumedFeed{Code: "G94"}, ""},
	{mirror.AssumedStraight{}, ""},
	{mirror.WholeNumbers{Unit: transform.Inch}, ""},
	{mirror.NoEnd{}, ""},
	{mirror.DeletedState{}, ""},
	{mirror.IncrementalStart{Axis: "X"}, "X starts by G91 from where the tool stands; before the back, put the tool at the mirrored start"},
	{mirror.CutAtStart{Axis: "X"}, ""},
	{mirror.AfterChange{Axis: "X"}, ""},
	{mirror.ZeroHere{Axis: "X", Face: "0", Back: "120", Unit: transform.MM},
		"G92 calls the tool's place X0 on the face, X120 (mm) on the back; before the back, put the tool at the mirrored start"},
	{mirror.ZeroLeft{Code: "G92"}, "G92 isn't cancelled: the next program would run from a shifted zero"},
	{mirror.ZeroLeft{Code: "G68"}, "G68 isn't ended by G69: the next program would run turned"},
	{mirror.InchRounded{Axis: "X", Used: d("4.7244"), Exact: d("120")}, "X: 120 mm rounded to 4.7244 in"},
	{mirror.MachineMove{Axes: "X Y"}, ""},
	{mirror.MachineCounts{}, ""},
	{mirror.Home{Code: "G28"}, ""},
	{mirror.Rotary{Axis: "A"}, ""},
	{mirror.MarkDropped{}, ""},
	{mirror.TextKept{}, ""},
	{mirror.PassedOn{Code: "M51"}, ""},
	{mirror.LookAhead{Code: "G8"}, ""},
	{mirror.TextAfterEnd{}, ""},
	{mirror.AlreadyMirrored{}, ""},
	{mirror.WrittenTurned{Degrees: d("0.3"), Decimals: 3, Unit: transform.MM}, "turned by 0.3° about the back zero, move by move, rounded to 0.001 mm"},
	{mirror.Helix{}, ""},
	{mirror.ArcMismatch{Arcs: 1, Most: "0.031"}, "an arc's radius differs by 0.031 mm at its end: some controls refuse it"},
	{mirror.ArcMismatch{Arcs: 3, Most: "0.031"}, "3 arcs end up to 0.031 mm off their radius: some controls refuse them"},
	{mirror.CycleKept{Cycle: "G81"}, ""},
	{mirror.CycleLevel{Cycle: "G81"}, ""},
	{mirror.CycleCarried{Depth: 'Z', Given: "G90", Now: "G91"}, "R or Z given in G90 is used under G91: controls differ; repeat both there"},
	{mirror.CycleBare{Cycle: "G81"}, ""},
	{mirror.StoppedTap{}, ""},
	{mirror.BackBoring{}, ""},
	{mirror.SpindleStopped{Moves: 1}, "a cut with the spindle stopped: write M3 or M4 before it"},
	{mirror.SpindleStopped{Moves: 7}, "7 cuts with the spindle stopped, this the first: write M3 or M4 before it"},
	{mirror.LowRapids{Moves: 1}, "a rapid move below the surface: check that it is cut away there"},
	{mirror.LowRapids{Moves: 2}, "2 rapid moves below the surface, first here: check that it is cut away"},
	{mirror.NotSummarised{MiB: 8}, ""},
	{mirror.OffBlank{Axis: "X", Least: d("-3"), Greatest: d("90"), Right: d("120"), Unit: transform.MM},
		"cuts run off the blank: X-3 to 90, blank 0 to 120 mm; check the zero, and that the program isn't mirrored already"},
	{mirror.OtherOffset{Offset: "G56", Face: "G54", Back: "G55"}, "G56 called, though the face runs in G54: it becomes G55; if the face runs there: --offset G56"},
	{mirror.OtherOffset{Offset: "G56", Face: "G54", Back: "G55", Own: &mirror.Own{}},
		"G56 called, though the job's face runs in G54: it becomes G55; check that it is the right program; if the face runs there: --offset G56"},
	{mirror.OtherOffset{Offset: "G56", Face: "G54", Back: "G55", Own: &mirror.Own{For: "vise"}},
		"G56 (taken: vise) called, though the job's face runs in G54: it becomes G55; check that it is the right program; if the face runs there: --offset G56"},
	{mirror.NoOffset{}, ""},
	{mirror.OffsetsKept{Offset: "G54"}, ""},
	{mirror.OffsetMapped{Face: "G54", Back: "G55"}, ""},
	{mirror.OffsetInserted{Back: "G55"}, ""},
	{mirror.OtherSide{Chains: 1}, "1 cutting chain changes between climb and conventional: --reverse-cuts tries to turn it round"},
	{mirror.OtherSide{Chains: 3}, "3 cutting chains change between climb and conventional: --reverse-cuts tries to turn them round"},
	{mirror.CutsReversed{Reversed: 1}, "1 cutting chain reversed, so that the cutter keeps its side"},
	{mirror.CutsReversed{Left: 2}, "no cutting chain could be reversed: 2 cutting chains changed between climb and conventional"},
	{mirror.CutsReversed{Reversed: 3, Left: 1}, "3 cutting chains reversed, 1 cutting chain changed between climb and conventional; check that no groove has passes of both"},
	{mirror.OtherEnd{Chains: 1}, "1 open chain, reversed, now plunges at its other end; use a tool that cuts over its center"},
	{mirror.OtherEnd{Chains: 2}, "2 open chains, reversed, now plunge at their other end; use a tool that cuts over its center"},
	{mirror.LeftAsMirrored{Why: "a cycle", Lines: []string{"12"}}, "left as mirrored (a cycle): line 12"},
	{mirror.LeftAsMirrored{Why: "a cycle", Lines: []string{"12-17", "31 on"}}, "left as mirrored (a cycle): lines 12-17, 31 on"},
	{cycle.Dropped{Tool: 2, Line: 9}, "T2 called but not cutting: left out"},
	{cycle.AssumedState{Code: "G64"}, ""},
	{cycle.SameTools{Tools: []int{1, 3}}, "use the same cutter for face and back: T1 and T3"},
	{cycle.HomeInPiece{}, ""},
	{cycle.NumbersGone{}, ""},
	{cycle.OffsetChange{Named: "G54", RunsIn: []string{"G55", "G57"}}, "G54 becomes G55 and G57"},
	{cycle.CompClosed{}, ""},
	{LoadingWhileMoving{}, ""},
	{DryRunEach{Programs: []string{"first.nc", "steady.nc", "last.nc"}}, "dry run first.nc, steady.nc and last.nc above the work, each before its first blank"},
	{GuardWithoutUse{}, ""},
	{Parked{At: "X0 Y400"}, ""},
	{NotParked{Programs: []string{"first.nc", "steady.nc", "last.nc"}, Ends: []string{"G54", "G55", "G55"}},
		"move the cutter aside before hands go in, or give park X,Y; first.nc leaves it over G54, steady.nc and last.nc over G55, at the clear height"},
	{NotParked{Programs: []string{"first.nc", "steady.nc", "last.nc"}, Ends: []string{"G54", "G55", "G57"}},
		"move the cutter aside before hands go in, or give park X,Y; first.nc leaves it over G54, steady.nc over G55, last.nc over G57, at the clear height"},
	{ToolChangePlace{}, ""},
	{RestartLines{Program: "first.nc", At: []Restart{{Line: 2, Tool: 1}, {Line: 9, Tool: -1}}}, "first.nc: restart only at line 2 (T1), line 9"},
	{PauseWithoutUse{Pause: "M0"}, ""},
	{OptionalStop{Pause: "M1"}, ""},
	{AirAtEmptyStations{}, ""},
	{ClearHeightReckoned{Z: d("-5"), Over: "G58", Room: d("10")},
		"set all clamps and dowels below the clear height, machine Z-5; there the longest tool passes 10 over what stands at G58"},
	{ClearHeightReckoned{Z: d("-5"), Over: bed.BlankTop}, "set all clamps and dowels below the clear height, machine Z-5; there the longest tool just clears the highest blank"},
	{ClearHeightFixtures{Offsets: []string{"G58"}}, ""},
	{MorePartsAnHour{Now: 10, Ways: []Better{{PerHour: 12.34, Way: ByTools}, {PerHour: 14, Way: OneMore}}},
		"more parts an hour than 10: 12.3 with --order tools; 14 with one more pair, where the bed has room"},
	{OffsetsLeft{Left: []string{"G58", "G59"}}, "G58 and G59 free, enough for 1 further pair; with G59.1 to G59.3 there are nine (extended = true)"},
	{OffsetsLeft{Extended: true}, "no offset free, none for a further pair"},
	{PlacesUnknown{}, ""},
	{StationsApart{}, ""},
	{G53Default{}, ""},
	{TimesEstimated{}, ""},
	{LoadTimeDefault{Seconds: 60}, "unloading and loading a station assumed to take 60 s (load-time)"},
	{TouchOffNotCounted{Times: 1}, "touch off Z anew once in each cycle; include it in load-time"},
	{TouchOffNotCounted{Times: 3}, "touch off Z anew 3 times in each cycle; include it in load-time"},
	{ChangeTimeDefault{Seconds: 95}, "a tool change assumed to take 1 min 35 s (change-time)"},
	{RatesDefault{}, ""},
	{SetUpNotCounted{}, ""},
	{NotMerged{Programs: []string{"first.nc", "steady.nc"}, Why: "no clear height"}, "first.nc and steady.nc not written; run each program by itself; no clear height"},
	{MergedCuts{Programs: []string{"first.nc", "steady.nc"}}, ""},
	{StaleProgram{}, ""},
	{BackAsRun{}, ""},
	{UnitsDefault{Unit: transform.MM}, "plain lengths taken as mm"},
	{ZDoubtful{Doubt: bed.Doubt{At: d("-10"), Expected: d("-30")}, Zero: registration.Top},
		"Z-10 of the face zero can't be right; table, seat and thickness put the blank's top at Z-30; the back's Z is off too"},
	{ZDoubtful{Doubt: bed.Doubt{At: d("-10"), Expected: d("-30"), Least: true, Other: true}, Zero: registration.Top},
		"Z-10 of the face zero can't be right; table, seat and thickness put the blank's top at Z-30 or higher; it suits the seating plane: check z-zero; the back's Z is off too"},
	{ZDoubtful{Doubt: bed.Doubt{At: d("-10"), Expected: d("-30"), Other: true}, Zero: registration.Bed},
		"Z-10 of the face zero can't be right; table, seat and thickness put the seating plane at Z-30; it suits the blank's top: check z-zero; the back's Z is off too"},
	{ZPositive{Z: d("3")}, ""},
	{OutsideTravel{bed.Outside{Side: "back", What: "zero", Axis: "X", At: d("700"), Greatest: d("600")}}, "the back's zero at X700 is outside the travel, 0 to 600"},
	{OutsideTravel{bed.Outside{Side: "face", What: "blank", Axis: "Y", At: d("410"), Greatest: d("400")}}, "the face's blank reaches Y410, outside the travel, 0 to 400"},
	{NoClampRoom{Sides: []string{"left", "near"}, Least: d("5")}, "no room for clamps on the left and near side: travel ends in 5 mm; give fixture"},
	{Reach{Programs: true}, "no cutter given: paths counted without the cutters' width"},
	{Reach{Widest: d("6")}, "no program given: a cutter of 6 mm counted along the blank's edges"},
	{Reach{}, "no program and no cutter given: no cutter's reach counted"},
	{Crowded{One: "G54", Other: "G55", Left: d("18.5"), Gap: d("20")}, "G54 and G55: the measured piece leaves 18.5 of the gap of 20 mm; give its size as stock"},
	{Crowded{One: "G54", Other: "G55", Left: d("-1.5"), Gap: d("20")}, "G54 and G55: with the measured piece the stations overlap by 1.5 mm; give its size as stock"},
	{OneStation{}, ""},
	{BlankOn{Side: "back", What: "what stands at G58"}, "the back's blank is over what stands at G58: move one of them"},
	{PinHeights{Least: d("10"), Most: d("10")}, "dowels 10 mm over the seat at most, by length less hole depth; set pin-height if not"},
	{PinHeights{Least: d("10"), Most: d("13"), Thick: &thick}, "dowels 10 to 13 mm over the seat at most, by length less hole depth; set pin-height if not; they stand out of the blank, 12 thick"},
	{FenceHeight{Locators: "fence", Height: d("12")}, ""},
	{StationUnknown{What: []string{"travel", "no-go areas"}, Keys: []string{"at"}}, "travel and no-go areas not checked: watch the dry run [at]"},
	{StationUnknown{Side: "back", What: []string{"travel"}, Keys: []string{"register"}}, "travel not checked on the back: watch the dry run [register]"},
	{StationUnknown{Side: "back", What: []string{"travel"}}, "travel not checked on the back: touch the turned blank first"},
	{LevelUnknown{Sides: []string{"face", "back"}, Keys: []string{"table", "stick-out"}}, "travel in Z not checked on the face and back; beside the blank jog first to the highest and the deepest Z [table, stick-out]"},
	{LevelUnknown{[]string{"face", "back"}, [][2]decimal.Decimal{{d("-6.2"), d("20")}, {d("-6.5"), d("5")}}, []string{"at"}},
		"travel in Z not checked on the face and back; beside the blank jog first to: face Z20 and Z-6.2; back Z5 and Z-6.5 [at]"},
	{TravelUnknown{}, ""},
	{NoBudget{}, ""},
	{PeckAssumed{}, ""},
	{SafeAssumed{Height: d("10")}, ""},
	{DrillClear{Height: d("1")}, ""},
	{DrillEnd{}, ""},
	{DrillLevel{}, ""},
	{DrillBeyond{By: d("2")}, ""},
	{DrillSnug{}, ""},
	{DrillWide{}, ""},
	{DrillBedZ{Z: d("-12"), Thick: d("12"), Files: []string{"pins-bed.nc"}}, "the bed is at Z-12 in pins-bed.nc; Z0 is the top of a blank 12 mm thick"},
	{DrillListed{Dia: d("6"), Tool: 1}, ""},
	{DrillOrder{}, ""},
	{DrillIndex{}, ""},
	{DrillOdd{Dia: d("6.02"), Files: []string{"pins-bed.nc"}}, "no drill of 6.02 mm: no program drills its holes; bore or mill them from the same zero, or give drill N=6.02"},
	{DrillUp{Z: d("-5")}, ""},
	{DrillAcross{}, ""},
	{DrillUncalled{Files: []string{"pins-bed.nc"}}, ""},
	{DrillOneTool{}, ""},
	{OtherUnit{Unit: transform.Inch, Partly: true}, "the program is partly in inches (G20), the job in mm (G21); each length is taken in its own unit; if that isn't the part's size, correct the unit of program or job"},
	{UnitDoubtful{}, ""},
	{UnitAssumed{}, ""},
	{Unturned{}, ""},
	{Reversed{}, ""},
	{ToolAssumed{Tool: 3}, ""},
	{CutsNothing{}, ""}, {Unfed{}, ""},
	{OtherLength{Line: 4, Number: 7, Tool: 1}, "H7 with T1: is its length stored there?"},
	{OtherRadius{Line: 4, Number: 9, Tool: 1}, "D9 with T1: is its radius stored there?"},
	{NoHollow{Touch: 1, Of: "face=60,10"}, "touch 1, face=60,10: the face program makes no hole there"},
	{NoHollow{Touch: 2, Of: "face=60,20", Blind: true}, "touch 2, face=60,20: the hole doesn't reach the back: drill it through, or touch edges"},
	{FaceOffset{Called: []string{"G54"}, Key: "--back-offset G55"}, "still calls G54, as the face does; set the back's with --back-offset G55 or map"},
	{FaceOffset{Key: "--back-offset"}, "calls no offset: it runs in the active one; set the back's with --back-offset or map"},
	{WrittenOut{}, ""},
	{WritingOut{What: "not written out: a message"}, "not written out: a message"},
	{WritingOut{What: "not written out: a message", Also: []int{1, 2, 3, 4, 5, 6, 7}}, "not written out: a message, also in 1, 2, 3, 4, 5 and 2 more"},
	{PairAlone{Offset: "G55", Pair: 1, As: "--landed 2:0.1,0"}, "this corrects G55, the back of pair 1, alone; measure a piece of each other pair and give its number, as in --landed 2:0.1,0"},
	{NotChecked{Why: "no face program"}, ""},
	{PinsNotCleared{Key: "--tool"}, "cuts not checked: give the cutters' width with --tool"},
	{PlugMeasures{Why: "no bore"}, ""},
	{Picture{}, ""},
	{TurnFree{}, ""},
	{TurnAtRim{Degrees: 0.01, Rim: 0.02}, "one seat can turn the blank by 0.01 degrees, 0.02 mm at its farthest corner"},
	{PlugMemory{Fit: "H7/g6"}, ""},
	{PlugPractice{}, ""},
	{ThroughTaken{Outlines: 1, Openings: 2, Least: 0.3}, "1 outline and 2 openings cut through by at least 0.3 mm, taken as meant: confirm [through = \"outlines=1,openings=2\"]"},
	{IndexHoleMissing{X: d("29"), Y: d("-3.5"), Dia: d("4")}, "the face program lacks the index pin's hole: add 4 mm dia at X29 Y-3.5"},
	{Compensated{Radius: 3, Sides: "face", Use: cut.CompUse{Tool: 1, Of: 1}}, ""},
	{Compensated{Radius: 3, Sides: "face", Use: cut.CompUse{By: motion.CompByNumber, D: 3, Tool: 4, Of: 3}}, ""},
	{Compensated{Radius: 3, Sides: "both sides", Use: cut.CompUse{By: motion.CompByDiameter}}, ""},
	{ZeroHere{ZeroHere: mirror.ZeroHere{Axis: "X", Face: "0", Back: "?"}}, "G92 calls the tool's place X0 on the face, X? (mm) on the back; before the back, put the tool at the mirrored start"},
}

// TestEveryFactHasWords: each struct of the facts has a sentence of its own, and none of
// more than 15 words.
func TestEveryFactHasWords(t *testing.T) {
	parts := []string{"registration.Fact", "registration.Interference", "pattern.FitPin", "pattern.Given", "landed.Figure", "mirror.Note", "mirror.Own", "cycle.Note", "words.Restart", "words.Better"}
	var missing []string
	for _, room := range []string{"registration", "registration/pattern", "registration/budget", "registration/landed", "mirror", "mirror/cycle"} {
		types := typesIn(t, "../../"+room+"/fact.go")
		if len(types) < 5 {
			t.Fatalf("%s: only %d facts found", room, len(types))
		}
		missing = append(missing, types...)
	}
	ours, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range ours {
		if !strings.HasSuffix(file, "_test.go") {
			missing = append(missing, typesIn(t, file)...)
		}
	}
	missing = slices.DeleteFunc(missing, func(name string) bool { return slices.Contains(parts, name) })
	for _, f := range facts {
		missing = slices.DeleteFunc(missing, func(name string) bool { return name == reflect.TypeOf(f.is).String() })
		got := Fact(f.is, transform.MM)
		if got == "" || strings.HasSuffix(got, ".") || f.want != "" && got != f.want {
			t.Errorf("%T: %q, want %q", f.is, got, f.want)
		}
		for _, s := range long(got) {
			t.Errorf("%T: %s", f.is, s)
		}
		if code := fact.Code(f.is); strings.Contains(strings.Join(fact.Values(f.is), " "), "0xc") || strings.Trim(code, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
			t.Errorf("%s: values %q", code, fact.Values(f.is))
		}
	}
	if len(missing) > 0 {
		t.Errorf("no words are tested for %s", strings.Join(missing, ", "))
	}
}

// typesIn are the exported structs of a file, with their package.
func typesIn(t *testing.T, file string) (names []string) {
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		if ts, ok := n.(*ast.TypeSpec); ok {
			if _, is := ts.Type.(*ast.StructType); is && ts.Name.IsExported() {
				names = append(names, tree.Name.Name+"."+ts.Name.Name)
			}
		}
		return true
	})
	return names
}
