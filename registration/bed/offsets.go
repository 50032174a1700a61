package bed

import "flipcalc/registration"

// Others gives what stands on the bed and isn't the given job's own, so that asking
// twice gives the same answer; an empty job owns nothing.
func (m *Machine) Others(job string) (out []InUse) {
	for _, u := range m.InUse {
		if job == "" || u.Job != job {
			out = append(out, u)
		}
	}
	return out
}

// Free gives the offsets that belong to nothing but the given job, in the order of
// their P numbers.
func (m *Machine) Free(job string, taken ...InUse) []string {
	return registration.FreeOffsets(m.Extended, names(append(m.Others(job), taken...))...)
}

// Usable says whether a job may use an offset: the machine has it, and it belongs to
// nothing else.
func (m *Machine) Usable(job, name string, taken ...InUse) error {
	others := append(m.Others(job), taken...)
	owner := ""
	for _, u := range others {
		if u.Offset == name && u.For != "" {
			owner = " for " + u.For
		}
	}
	return registration.Usable(name, m.Extended, owner, names(others))
}

// Taken gives the offsets that belong to something else than the given job.
func (m *Machine) Taken(job string) []string { return names(m.Others(job)) }

func names(list []InUse) (out []string) {
	for _, u := range list {
		out = append(out, u.Offset)
	}
	return out
}
