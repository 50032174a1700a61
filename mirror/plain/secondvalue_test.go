package plain

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// reader2 reads an expression: comparisons last, then + -, * / MOD, **, and values.
type reader2 struct {
	s   string
	at  int
	run *second
}

func (e *reader2) peek(words ...string) string {
	for e.at < len(e.s) && e.s[e.at] == ' ' {
		e.at++
	}
	for _, w := range words {
		if strings.HasPrefix(e.s[e.at:], w) {
			return w
		}
	}
	return ""
}

func (e *reader2) take(words ...string) string {
	w := e.peek(words...)
	e.at += len(w)
	return w
}

func (e *reader2) all() float64 {
	v := e.compared()
	for w := e.take("AND", "XOR", "OR"); w != ""; w = e.take("AND", "XOR", "OR") {
		a, b := v != 0, e.compared() != 0
		v = truth2(w == "AND" && a && b || w == "OR" && (a || b) || w == "XOR" && a != b)
	}
	return v
}

func truth2(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func (e *reader2) compared() float64 {
	v := e.sum()
	switch w := e.take("EQ", "NE", "GE", "GT", "LE", "LT"); w {
	case "":
		return v
	default:
		b := e.sum()
		d := v - b
		if math.Abs(d) < 1e-9 || math.IsNaN(v) && math.IsNaN(b) {
			d = 0
		}
		return truth2(w == "EQ" && d == 0 || w == "NE" && d != 0 || w == "GE" && d >= 0 || w == "GT" && d > 0 || w == "LE" && d <= 0 || w == "LT" && d < 0)
	}
}

func (e *reader2) sum() float64 {
	v := e.product()
	for {
		switch e.take("+", "-") {
		case "+":
			v += e.product()
		case "-":
			v -= e.product()
		default:
			return v
		}
	}
}

func (e *reader2) product() float64 {
	v := e.value()
	for {
		switch e.take("**", "*", "/", "MOD") {
		case "**":
			v = math.Pow(v, e.value())
		case "*":
			v *= e.value()
		case "/":
			v /= e.value()
		case "MOD":
			b := e.value()
			v -= b * math.Floor(v/b+1e-12)
		default:
			return v
		}
	}
}

var number2 = regexp.MustCompile(`^[0-9]*\.?[0-9]*`)

func (e *reader2) value() float64 {
	switch w := e.take("-", "+", "[", "#", "SIN", "COS", "TAN", "ATAN", "ASIN", "ACOS", "SQRT", "ABS", "ROUND", "FIX", "FUP"); w {
	case "-":
		return -e.value()
	case "+":
		return e.value()
	case "[":
		v := e.all()
		if e.take("]") == "" {
			panic("no ] in " + e.s)
		}
		return v
	case "#":
		v, ok := e.run.vars[e.name()]
		if !ok {
			return math.NaN()
		}
		return v
	case "":
		n := number2.FindString(e.s[e.at:])
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			panic(fmt.Sprintf("%q at %d: %v", e.s, e.at, err))
		}
		e.at += len(n)
		return v
	default:
		return e.function(w, e.value())
	}
}

func (e *reader2) function(name string, v float64) float64 {
	const degree = math.Pi / 180
	switch name {
	case "SIN":
		return math.Sin(v * degree)
	case "COS":
		return math.Cos(v * degree)
	case "TAN":
		return math.Tan(v * degree)
	case "ASIN":
		return math.Asin(v) / degree
	case "ACOS":
		return math.Acos(v) / degree
	case "ATAN":
		if e.take("/") == "" {
			return math.Atan(v) / degree
		}
		return math.Atan2(v, e.value()) / degree
	case "SQRT":
		return math.Sqrt(v)
	case "ABS":
		return math.Abs(v)
	case "ROUND":
		return math.Round(v)
	case "FIX":
		return math.Floor(v + 1e-12)
	}
	return math.Ceil(v - 1e-12)
}

// name gives what stands behind #: a name in < >, or a number, perhaps worked out.
func (e *reader2) name() string {
	e.peek()
	if e.s[e.at] == '<' {
		end := strings.IndexByte(e.s[e.at:], '>') + e.at
		n := strings.ReplaceAll(e.s[e.at:end+1], " ", "")
		e.at = end + 1
		return n
	}
	return fmt.Sprint(int(math.Round(e.value())))
}

func (r *second) eval(s string) (v float64, rest string) {
	e := &reader2{s: s, run: r}
	v = e.all()
	return v, s[e.at:]
}
