package motion

import "math"

// Rates are a machine's limits, per axis X, Y, Z.
type Rates struct {
	Rapid        [3]float64 // mm/min
	Acceleration [3]float64 // mm/s2
}

// DefaultRates are those of an ordinary small router (common practice).
var DefaultRates = Rates{
	Rapid:        [3]float64{5000, 5000, 3000},
	Acceleration: [3]float64{500, 500, 300},
}

// Ramp gives the seconds that a move of length d (mm) from rest to rest takes with
// speed v (mm/s) and acceleration a (mm/s2). With ramps of length v^2/2a at each
// end it is d/v + v/a; a move shorter than both ramps never reaches v and takes
// 2 sqrt(d/a). An infinite a means no ramps.
func Ramp(d, v, a float64) float64 {
	switch {
	case d <= 0 || v <= 0:
		return 0
	case math.IsInf(a, 1):
		return d / v
	case d >= v*v/a:
		return d/v + v/a
	}
	return 2 * math.Sqrt(d/a)
}

// straightLimit is the cosine of 15 degrees: moves that meet at less, at one feed,
// run on without a stop (an estimate; controls differ).
var straightLimit = math.Cos(15 * math.Pi / 180)

// clock adds up the time of moves. A run of feed moves that go on almost straight
// has one ramp up and one down.
type clock struct {
	rates   Rates
	seconds float64 // of finished runs

	run       float64 // length of the running one
	speed     float64
	accel     float64
	direction [3]float64 // at its end
}

// add takes one move: its length in mm, its speed in mm/s, the least acceleration
// on its way and its directions at start and end.
func (c *clock) add(l, v, a float64, start, end [3]float64) {
	if c.run > 0 {
		cos := start[0]*c.direction[0] + start[1]*c.direction[1] + start[2]*c.direction[2]
		if v != c.speed || cos < straightLimit {
			c.stop()
		}
	}
	if c.run == 0 {
		c.accel = a
	}
	c.run += l
	c.speed = v
	c.accel = math.Min(c.accel, a)
	c.direction = end
}

// stop ends the running run.
func (c *clock) stop() {
	c.seconds += Ramp(c.run, c.speed, c.accel)
	c.run = 0
}

// limit gives the highest speed and acceleration along a direction.
func (c *clock) limit(d [3]float64) (v, a float64) { return c.rates.Along(d) }

// Along gives the highest speed (mm/s) and acceleration (mm/s2) along a direction,
// a unit vector, when each axis keeps to its own. Both are infinite for no direction.
func (r *Rates) Along(d [3]float64) (v, a float64) {
	v, a = math.Inf(1), math.Inf(1)
	for i, x := range d {
		if x = math.Abs(x); x > 1e-12 {
			v = math.Min(v, r.Rapid[i]/60/x)
			a = math.Min(a, r.Acceleration[i]/x)
		}
	}
	return v, a
}
