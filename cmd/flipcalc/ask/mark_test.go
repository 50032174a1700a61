package ask

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"flipcalc/mirror/fault"
)

// asked is a question to origin with a job file's text, and flags beside it.
func asked(t *testing.T, job string, flags ...string) *Ask {
	t.Helper()
	c := New(FindVerb("origin"))
	for i := 0; i < len(flags); i += 2 {
		if err := c.flags[flags[i]].Set(flags[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if job == "" {
		return c
	}
	path := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(path, []byte(job), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := c.readJob(path); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestSpelt spells marked keys for a maker with flags, with a job file, and with both.
func TestSpelt(t *testing.T) {
	typed := asked(t, "", "stop", "left")
	job := asked(t, "stop = \"left\"\nflip = \"y\"\n")
	both := asked(t, "flip = \"y\"\n", "stop", "left")
	for _, c := range []struct {
		text            string
		typed, job, two string // job and two are those of typed where ""
	}{
		{text: "give ‹at› and ‹stop left@3›", typed: "give --at and --stop left@3", job: `give at and stop = "left@3"`, two: "give at and --stop left@3"},
		{text: "‹hole 6.1›, ‹hole DIA›", typed: "--hole 6.1, --hole DIA", job: `hole = 6.1, hole = "DIA"`},
		{text: "‹hole 6.1; 8.1›", typed: "--hole 6.1 --hole 8.1", job: "hole = [6.1, 8.1]"},
		{text: "‹round true› or no ‹drilled›", typed: "--round or no drilled", job: "round = true or no drilled"},
		// A key of the job file alone, one of the machine file, and a flag that no job has.
		{text: "‹contacts›, ‹contacts 5,115,10›", typed: "contacts, --set contacts=5,115,10", job: `contacts, contacts = "5,115,10"`},
		{text: "‹feeler›, ‹load-time 60›", typed: "feeler, load-time = 60"},
		{text: "‹output PATH›, ‹json true›", typed: "--output PATH, --json"},
		// What a maker typed, and what is no key.
		{text: `"{stop}" "<stop>" "%stop" ‹nothing› ‹Stop› ‹stop`, typed: `"{stop}" "<stop>" "%stop" ‹nothing› ‹Stop› ‹stop`},
	} {
		if c.job == "" {
			c.job = c.typed
		}
		if c.two == "" {
			c.two = c.job
		}
		for _, v := range []struct {
			name string
			ask  *Ask
			want string
		}{{"flags", typed, c.typed}, {"nothing asked", nil, c.typed}, {"job", job, c.job}, {"job and flag", both, c.two}} {
			got := v.ask.Spelt(c.text)
			if got != v.want {
				t.Errorf("%s: %s: %s, want %s", c.text, v.name, got, v.want)
			}
			if again := v.ask.Spelt(got); again != got {
				t.Errorf("%s: %s: spelt again %s", c.text, v.name, again)
			}
		}
	}
}

// TestBesideList: of every key whose value is a list, a line of a job that has one shows the
// new value behind it; a flag is repeated, and a job without the key gets a line.
func TestBesideList(t *testing.T) {
	lists := 0
	for i := range Table {
		d := &Table[i]
		if !d.Many || !d.jobKey() {
			continue
		}
		lists++
		const has, add = "one", "G59=G58.1,5"
		text := "‹" + d.Key + " + " + add + "›"
		origin := func(vals ...string) *Ask {
			c := &Ask{Verb: FindVerb("origin"), JobFile: "job.toml", flags: map[string]*value{d.Key: {def: d, vals: vals, job: true}}}
			return c
		}
		flag := "--" + d.Key + " " + add
		if d.From == jobFile {
			flag = "--set " + d.Key + "=" + add
		}
		typed := origin(has)
		typed.flags[d.Key].job = false
		for _, c := range []struct {
			name string
			ask  *Ask
			want string
		}{
			{"a job with a list", origin(has, has), d.Key + ` = [..., "` + add + `"]`},
			{"a job with one", origin(has), d.Key + ` = [..., "` + add + `"]`},
			{"a job without", origin(), d.Key + ` = "` + add + `"`},
			{"the command line over a job", typed, flag},
			{"nothing asked", nil, flag},
		} {
			if got := c.ask.Spelt(text); got != c.want {
				t.Errorf("%s: %s, want %s", c.name, got, c.want)
			}
		}
	}
	if lists < 15 {
		t.Errorf("%d lists", lists)
	}
}

// TestPlacedKeys puts a refusal at the place where its key was answered, and spells the
// keys of all its texts, of a list and of what follows it.
func TestPlacedKeys(t *testing.T) {
	refused := func() *fault.Error {
		return &fault.Error{About: "stop", Found: "no ‹at›", Expected: "‹at X,Y›", Hint: "or ‹flip x›",
			More: []*fault.Error{{Found: "no ‹at›"}}}
	}
	job := asked(t, "flip = \"y\"\nstop = \"left\"\n")
	for _, c := range []struct {
		ask  *Ask
		want string
	}{
		{asked(t, "", "stop", "left"), "--stop: no --at, expected --at X,Y; hint: or --flip x"},
		{asked(t, ""), "--stop: no --at, expected --at X,Y; hint: or --flip x"},
		{job, job.JobFile + `:2:1: stop: no at, expected at = "X,Y"; hint: or flip = "x"`},
	} {
		said := c.ask.Placed(refused())
		if said.Error() != c.want {
			t.Errorf("%s, want %s", said, c.want)
		}
		var f *fault.Error
		if errors.As(said, &f); f.More[0].Found != c.ask.Spelt("no ‹at›") {
			t.Errorf("what follows: %s", f.More[0])
		}
	}
	if got, want := Message(Faults{&fault.Error{Found: "no ‹at›"}}), "no --at"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := (asked(t, "")).Placed(&fault.Error{About: "tolerance pin", Found: "-1"}).Error(), "--tolerance pin: -1"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := (asked(t, "")).Placed(&fault.Error{About: "reverse-cuts", Found: "-1"}).Error(), "--reverse-cuts: -1"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
