package ask

// Verbs are what flipcalc does, in the order of the work.
var Verbs = []*Verb{
	{
		Name: "prepare", Operands: "JOB", Least: 1, Most: 1,
		Does: "works out a whole job and writes every file of it into one folder",
		Examples: []Example{
			{"the job of the row markers", "flipcalc prepare testdata/orchard/job.toml -o out"},
			{"what it would write, without writing it", "flipcalc prepare job.toml -o out --dry-run"},
			{"with a blank that was measured", "flipcalc prepare job.toml --measured 119.8x80.1x12.2 -o out"},
		},
	},
	{
		Name: "origin", Does: "gives the second zero, the transform and what they rest on",
		Examples: []Example{
			{"a bread board against a fence and two stops", "flipcalc origin --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60,-20"},
			{"a row marker on two dowels, with the budget of what can be off", "flipcalc origin --stock 120x80x12 --flip y --register dowels --pin 60,6,6 --pin 60,74,5 --fit H7/g6 --budget"},
			{"a round bobbin end on a plug, as JSON", "flipcalc origin --stock 60x60x8 --flip x --register plug --bore 30,30,12 --plug 12 --round --zero center --json"},
		},
	},
	{
		Name: "mirror", Operands: "FILE", Least: 1, Most: 1,
		Does: "writes the mirrored program, proved",
		Examples: []Example{
			{"mirror a program for a blank that is turned like a page", "flipcalc mirror outline.nc --stock 120x80x12 --flip y -o back.nc"},
			{"through a pipe, into the second zero's offset", "cat outline.nc | flipcalc mirror - --stock 120x80x12 --flip y --back-offset G56 -o - > back.nc"},
			{"with the flip and the locators of a job file", "flipcalc mirror outline.nc --job job.toml -o back.nc"},
		},
	},
	{
		Name: "pins", Does: "gives a dowel or plug layout, its fit, and the programs that drill the holes",
		Examples: []Example{
			{"where dowels go in a row marker with 12 mm of waste all round", "flipcalc pins --stock 120x80x12 --flip y --set margin=12 --fit H7/g6 --spoilboard 18"},
			{"check two dowels and write the programs that drill their holes", "flipcalc pins --stock 120x80x12 --flip y --pin 60,8,8 --pin 60,74,6 --fit H7/g6 --spoilboard 18 --set drill=4=8 --set drill=5=6 --set speed=8000 --set plunge=300 -o drilling"},
			{"the plug for a bobbin end", "flipcalc pins --stock 60x60x8 --flip x --bore 30,30,12 --fit H7/g6 --round"},
		},
	},
	{
		Name: "stations", Does: "places pairs of stations on the bed and sets their offsets",
		Examples: []Example{
			{"one pair on a bed of 600 x 400, two offsets in use", "flipcalc stations --stock 120x80x12 --flip y --travel 600x400x110 --taken G55 --taken G57=40,280,100x100"},
			{"as many pairs as the machine file allows", "flipcalc stations --stock 120x80x12 --flip y --machine machine.toml --pairs max --gap 25"},
			{"the offsets program of a job", "flipcalc stations --job job.toml -o offsets.nc"},
		},
	},
	{
		Name: "pair", Operands: "FACE BACK [BACK...]", Least: 2, Most: 9,
		Does: "merges a face and a back program into one program per cycle",
		Examples: []Example{
			{"a face and a back that is mirrored already, G54 and G55, written into a folder", "flipcalc pair face.nc back.nc --set clear=-5 -o run"},
			{"40 row markers on two pairs of stations, as the job and machine files have them", "flipcalc pair face.nc back.nc --job job.toml --pairs 2 --set longest=45 --set parts=40"},
			{"faces, then backs, so that the idle station can be loaded behind its guard", "flipcalc pair face.nc back.nc --set clear=-5 --order stations --set load=guarded --set load-time=45 -o run"},
		},
	},
	{
		Name: "check", Does: "cuts both sides in memory: web, break-through, pins and clamps, travel; a picture",
		Examples: []Example{
			{"the job of the row markers, with a picture", "flipcalc check --job testdata/orchard/job.toml --picture check.png"},
			{"two programs as the machine will run them", "flipcalc check --face face.nc --back back.nc --stock 120x80x12 --flip y --tool 1=flat,6 --tool 3=vee,6,60 --set web=2"},
			{"a thinner blank under the same programs, as JSON", "flipcalc check --job job.toml --measured 120x80x9.5 --json"},
		},
	},
	{
		Name: "correct", Does: "turns a measured mismatch into a corrected second zero",
		Examples: []Example{
			{"the back lies 0.12 to the right and 0.05 too near, looking at the back", "flipcalc correct --job job.toml --landed 0.12,-0.05"},
			{"measured at two places, so that a turn shows", "flipcalc correct --job job.toml --landed 0.10,0.02@20,40 --landed 0.10,0.16@100,40"},
			{"without a job file", "flipcalc correct --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60 --landed 0.2,0"},
		},
	},
	{
		Name: "sheet", Operands: "[JOB]", Most: 1,
		Does: "prints the set-up sheet of a job; writes no program",
		Examples: []Example{
			{"on the terminal", "flipcalc sheet job.toml"},
			{"as a page to print, with drawings", "flipcalc sheet job.toml -o sheet.html"},
			{"its drawings alone, as far as the job goes: wall.svg the bed, wall-turn.svg the turn, wall-face.svg and wall-back.svg the tool paths, wall-web.svg the web, wall-overlay.svg both sides to print at full size", "flipcalc sheet job.toml -o wall.svg"},
			{"without a job file", "flipcalc sheet --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60,-20 -o sheet.html"},
		},
	},
	{
		Name: "completion", Operands: "bash|zsh|fish|powershell", Words: "bash zsh fish powershell", Least: 1, Most: 1,
		Does: "prints the completion script of a shell",
		Examples: []Example{
			{"for the shell at hand", "source <(flipcalc completion bash)"},
			{"for zsh, into a folder of $fpath", "flipcalc completion zsh > ~/.zfunc/_flipcalc"},
			{"for fish", "flipcalc completion fish > ~/.config/fish/completions/flipcalc.fish"},
		},
	},
	{
		Name: "man", Operands: "[VERB|job|machine]", Words: "@page", Most: 1,
		Does: "prints a manual page",
		Examples: []Example{
			{"the manual page of flipcalc", "flipcalc man | man -l -"},
			{"the manual page of a verb", "flipcalc man origin | man -l -"},
			{"the manual page of the job file, and of the machine file", "flipcalc man job | man -l -; flipcalc man machine | man -l -"},
			{"install a page", "flipcalc man mirror > ~/.local/share/man/man1/flipcalc-mirror.1"},
		},
	},
}
