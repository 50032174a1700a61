package ask

import (
	"reflect"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// typed is a question to a verb with words as they stand on a command line.
func typed(t *testing.T, line string) (*Ask, error) {
	t.Helper()
	words := strings.Fields(line)
	for i, w := range words {
		words[i] = strings.NewReplacer("_", " ", "''", "").Replace(w)
	}
	fs, flags := newFlags(words[0])
	c := &Ask{Verb: FindVerb(words[0]), flags: flags}
	if err := fs.Parse(words[1:]); err != nil {
		return c, FlagProblem(words[0], fs, err)
	}
	c.Operands = fs.Args()
	if err := c.OperandFault(); err != nil {
		return c, err
	}
	err := c.ReadValues()
	if err == nil {
		return c, nil
	}
	return c, c.Worded(err)
}

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// TestTyped: what stands on the command line comes in as a value of its type. An inch is
// 25.4 mm, exact by the international definition of 1959.
func TestTyped(t *testing.T) {
	length := func(key string) func(*Ask) any { return func(c *Ask) any { return c.Length(key).String() } }
	for _, c := range []struct {
		line string // of a shell; a blank in a value is a _
		get  func(*Ask) any
		want any
	}{
		{"origin -s 120x80x12 -f y", func(c *Ask) any { return Value[registration.Blank](c, "stock") },
			registration.Blank{W: d("120"), H: d("80"), T: d("12")}},
		{"origin -s 4-3/4x3-1/8x1/2 -u in -f y", func(c *Ask) any { return Value[registration.Blank](c, "stock").H.String() }, "3.125"},
		{"origin -s 120x80x12 -s 60x40x9 -f y", func(c *Ask) any { return Value[registration.Blank](c, "stock").W.String() }, "60"},
		{"origin -s 120x80x12 -f Y", func(c *Ask) any { return Value[registration.Flip](c, "flip") }, registration.FlipY},
		{"origin -s 1x1x1 -f x", func(c *Ask) any { return c.Unit() }, transform.MM},
		{"origin -s 1x1x1 -f x --units in", func(c *Ask) any { return c.Unit() }, transform.Inch},
		{"origin -s 1x1x1 -f x --at -50,60", func(c *Ask) any { return Value[registration.Position](c, "at").X.String() }, "-50"},
		{"origin -s 1x1x1 -f x", func(c *Ask) any { return Optional[registration.Position](c, "at") }, (*registration.Position)(nil)},
		{"origin -s 1x1x1 -f x --offset g55", func(c *Ask) any { return Value[string](c, "offset") }, "G55"},
		{"origin -s 1x1x1 -f x", func(c *Ask) any { return Value[string](c, "offset") }, "G54"},
		{"origin -s 1x1x1 -f x", func(c *Ask) any { return Said[string](c, "offset") }, ""},
		{"stations -s 1x1x1 -f x", length("gap"), "30"},
		{"stations -s 1x1x1 -f x -u in", length("gap"), "1.1812"}, // 30/25.4 = 1.18110..., room is never less
		{"stations -s 1x1x1 -f x", length("fixture"), "0"},
		{"stations -s 1x1x1 -f x -r fence --fence near --stop left", length("fixture"), "20"},
		{"stations -s 1x1x1 -f x -r Fence --fence near --stop left -u in", length("fixture"), "0.7875"}, // 20/25.4 = 0.78740...
		{"stations -s 1x1x1 -f x -r fence --fence near --stop left --set fixture=3", length("fixture"), "3"},
		{"stations -s 1x1x1 -f x --gap 1in", length("gap"), "25.4"},
		{"stations -s 1x1x1 -f x --pairs max", func(c *Ask) any { return Value[int](c, "pairs") }, MostPairs},
		{"stations -s 1x1x1 -f x --taken G55 --taken g57=1,2,3x4", func(c *Ask) any { return Values[bed.InUse](c, "taken")[1].Rect },
			&bed.Rect{X: d("1"), Y: d("2"), W: d("3"), H: d("4")}},
		{"stations -s 1x1x1 -f x --no-go 1,2,3x4", func(c *Ask) any { return c.NoGo(&Machine{})[0].Height }, (*decimal.Decimal)(nil)},
		{"check -s 1x1x1 -f x --face a --back b -t 3=vee,1/2in,60", func(c *Ask) any { return Values[cut.Tool](c, "tool")[0] },
			cut.Tool{Number: 3, Shape: cut.Vee, Diameter: 12.7, Angle: 60}},
		{"pins -s 1x1x1 -f x --set peck=2.50", length("peck"), "2.5"},
		{"pins -s 1x1x1 -f x --set cycles=true", func(c *Ask) any { return c.On("cycles") }, true},
		{"pins -s 1x1x1 -f x --set diameter=8 --set diameter=6", func(c *Ask) any { return len(c.Lengths("diameter")) }, 2},
		{"mirror a.nc -s 1x1x1 -f x --inert M25,m51", func(c *Ask) any { return Value[[]int](c, "inert") }, []int{25, 51}},
		{"mirror a.nc -s 1x1x1 -f x --set map=g54=G56", func(c *Ask) any { return Value[Swap](c, "map") }, Swap{"G54", "G56"}},
		{"pair a b -o out", func(c *Ask) any { return strings.Join(c.Operands, " ") + " " + c.Text("output") }, "a b out"},
		{"origin -s 1x1x1 -f x --why --json -q", func(c *Ask) any { return c.On("why") && c.On("json") && c.On("quiet") && !c.On("ascii") }, true},
	} {
		ask, err := typed(t, c.line)
		if err != nil {
			t.Errorf("%s: %v", c.line, err)
		} else if got := c.get(ask); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.line, got, c.want)
		}
	}
}

// TestTypedFaults: what can't be taken says where it stands, what was found and what to do.
func TestTypedFaults(t *testing.T) {
	machine := written(t, "machine.toml", "name = \"router\"\n[travel]\nx = [0, 1]\ny = [0, 1]\nz = [-1, 0]\n")
	job := written(t, "job.toml", "# a job\nstock = \"1x1x1\"\nflip = \"x\"\n")
	wrong := written(t, "wrong.toml", "\ufeffFlip = \"x\"\r\nback_stop = \"left\"\r\nstock = \"120\"\r\nmachine = \"gone.toml\"\r\n")
	slips := written(t, "slips.toml", "back = \"C:\\progs\"\nstock = \"120\nflip = \"x\"\nflip = \"y\"\n")
	lists := written(t, "lists.toml", "tool = \"1=flat,6; 2=ball,3\"\n")
	for _, c := range []struct{ line, want string }{
		{"origin --stok 1x1x1", "--stok: no such flag of origin; hint: did you mean --stock?"},
		{"origin --STOCK 1x1x1", "--STOCK: no such flag of origin; hint: did you mean --stock?"},
		{"origin --peck 2", `--peck: a key of the job file: peck = "LENGTH"; hint: for this run alone: --set peck=LENGTH`},
		{"origin --reverse-cuts", "--reverse-cuts: no such flag of origin; hint: --reverse-cuts belongs to mirror, check, sheet, prepare"},
		{"origin --stock", "--stock: no value, expected WxHxT"},
		{"origin --json=yes", "--json: a switch that takes no value; hint: write --json alone"},
		{"origin -s 120 80 12", "origin: 80 12, expected nothing beside the flags; hint: one value: --stock 120x80x12"},
		{"origin job.toml", "origin: job.toml, expected nothing beside the flags; hint: use --job job.toml"},
		{"prepare", "prepare: nothing after the flags, expected JOB; hint: 'flipcalc prepare --help' shows examples"},
		{"prepare ''", `prepare: "", expected JOB; hint: an empty name, as a shell's empty variable gives it`},
		{"origin -j '' -s 1x1x1 -f x", `--job: "", expected a name`},
		{"mirror a.nc -s 1x1x1 -f x -o ''", `--output: "", expected a name`},
		{"origin -s 1x1x1 -f x -r dowel", `--register: "dowel", expected dowels, plug, fence or touched`},
		{"origin -s 1x1x1 -f x --zero centr", `--zero: "centr", expected near-left, near-right, far-left, far-right, center or X,Y`},
		{"origin -s 1x1x1 -f x -u inch", `--units: "inch", expected mm or in; hint: write in`},
		{"origin -s 12,5x1x1 -f x", `--stock: "12,5" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm; hint: write the decimal point as a point`},
		{"origin -s 1x1x1 -f x --fence nera", `--fence: "nera", expected near, far, left or right, as SIDE or SIDE@COORDINATE`},
		{"pins -s 1x1x1 -f x --set pattern=ring", "--set pattern: ring, expected line or pair"},
		{"origin -s 1x1x1 -f x --pin 60,6_60,74", `--pin: "6 60" is no length, expected a number such as 120, 0.5, 4-3/4, 3/4in or 19mm; hint: give each by itself: --pin 60,6 --pin 60,74`},
		{"origin -j " + slips, slips + `:1:11: invalid escape character U+0070 'p', expected TOML; hint: in a path write / for \, or single quotes around it`},
		{"origin -j " + slips, slips + `:2:13: basic strings cannot have new lines, expected TOML; hint: close the quotes on the same line`},
		{"origin -j " + slips, slips + `:4:1: key flip is already defined, expected TOML; hint: leave one of them out`},
		{"origin -j " + lists, lists + `:1:1: tool: tool "1=flat,6; 2=ball,3": 2 values after the shape, expected the diameter; hint: give each by itself: tool = ["1=flat,6", "2=ball,3"]`},
		{"origin -f x", "--stock: missing, expected the blank's size WxHxT, such as 120x80x12; hint: along X, along Y, and its thickness"},
		{"pins -s 1x1x1 -f x --set =2", `--set: "=2", expected KEY=VALUE; hint: such as --set peck=2`},
		{"pins -s 1x1x1 -f x --set pek=2", "--set: pek: no such key; hint: did you mean peck?"},
		{"pins -s 1x1x1 -f x --set bed=2", "--set: bed: a key of the machine file alone; hint: put it into the file that --machine names"},
		{"pins -s 1x1x1 -f x --set fit=H7/g6", "--set: fit, which has a flag, expected --fit"},
		{"pins -s 1x1x1 -f x --set cycles=yes", "--set cycles: yes, expected true or false"},
		{"pins -s 1x1x1 -f x --set web=2", "--set: web: no such key of pins; hint: web belongs to check, sheet, prepare"},
		{"origin -j " + machine, machine + ":2:2: [travel]: this is a machine file, expected a job file; hint: give it with --machine"},
		{"sheet " + job + " -j " + job, "--job: a job file, and " + job + " as well, expected one of the two"},
		{"origin -j " + wrong, wrong + ":1:1: Flip: no such key; hint: did you mean flip?"},
		{"origin -j " + wrong, wrong + ":2:1: back_stop: no such key; hint: did you mean back-stop?"},
		{"origin -j " + wrong, wrong + `:3:1: stock: "120" is no size, expected three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2; hint: W along X, H along Y, T thick, as the blank lies face up`},
	} {
		_, err := typed(t, c.line)
		found := false
		for _, e := range Listed(err) {
			found = found || e != nil && Message(e) == c.want
		}
		if !found {
			t.Errorf("%s: %v\n\twant %s", c.line, err, c.want)
		}
	}
	c, err := typed(t, "origin -s 1x1x1 -f x -m "+job)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.Machine(); err == nil || Message(err) != job+":2:1: stock: this is a job file, expected a machine file; hint: give it with --job" {
		t.Errorf("%v", err)
	}
}

// TestCommandLineWins: a flag is taken before the job's line, and the job's before the
// table's default; a file is taken from the job's folder.
func TestCommandLineWins(t *testing.T) {
	job := written(t, "job.toml", "stock = \"120x80x12\"\nflip = \"y\"\noffset = \"G56\"\ngap = 5\nface = \"face.nc\"\ntool = [\"1=flat,6\"]\n")
	c, err := typed(t, "prepare "+job+" --offset G58 -t 2=ball,3")
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []struct{ got, want any }{
		{Value[string](c, "offset"), "G58"},
		{c.Where("offset"), "--offset"},
		{c.Length("gap").String(), "5"},
		{c.Where("gap"), job + ":4:1: gap"},
		{c.Text("face"), strings.TrimSuffix(job, "job.toml") + "face.nc"},
		{len(Values[cut.Tool](c, "tool")), 1},
		{c.Typed("tool"), true},
		{c.Typed("face"), false},
		{c.Text("back-zero"), ""},
		{c.Command("check"), "flipcalc check --job " + job + " --offset G58 --tool 2=ball,3"},
	} {
		if v.got != v.want {
			t.Errorf("%v, want %v", v.got, v.want)
		}
	}
}

// TestKeyHelp: each key of the two files, and each flag by its name or letter, has a page
// that says how it is written.
func TestKeyHelp(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"stock", "--stock WxHxT, -s\nin a job file: stock = WxHxT\n"},
		{"-s", "--stock WxHxT, -s\nin a job file: stock = WxHxT\n"},
		{"peck", "in a job file: peck = LENGTH\n"},
		{"json", "--json\n"},
		{"longest", "in the machine file: longest = LENGTH\n"},
		{"park", "in the machine file: park = [X, Y]\n"},
		{"units", "--units mm|in, -u\nin a job file: units = mm or in\nin the machine file: units = mm or in\n"},
		{"bed", "in the machine file: bed = \"X,Y,WxH\"\n\n  what may be used of the bed; all of the travel by default\n"},
		{"travel.z", "in the machine file, under [travel]: z = [least, greatest]\n"},
		{"offset.zero", "in the machine file, under [[offset]]: zero = [X, Y] or [X, Y, Z]\n"},
	} {
		got, err := HelpOn([]string{c.name})
		if err != nil || !strings.HasPrefix(got, c.want) {
			t.Errorf("help %s: %q, %v, want %q", c.name, got, err, c.want)
		}
	}
	for _, k := range append(jobFileKeys(), machineFileKeys()...) {
		if keyHelp(k.full()) == "" {
			t.Errorf("no help on %s", k.full())
		}
	}
	for _, name := range []string{"-", "--", ""} {
		if _, err := HelpOn([]string{name}); err == nil || !strings.Contains(err.Error(), "no such page") {
			t.Errorf("help %q: %v", name, err)
		}
	}
	for key, want := range map[string]string{"stock": "; required, this or measured", "fence": "; required with register fence", "tool": "; required by check", "web": ""} {
		got, err := HelpOn([]string{key})
		if says := strings.Join(strings.Fields(got), " "); err != nil || !strings.Contains(says, want) || want == "" && strings.Contains(says, "required") {
			t.Errorf("help %s: %q, %v, want %q", key, got, err, want)
		}
	}
	if _, err := HelpOn([]string{"extnded"}); err == nil || !strings.Contains(err.Error(), "did you mean extended?") {
		t.Error(err)
	}
}
