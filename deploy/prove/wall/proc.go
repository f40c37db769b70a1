package main

import (
	"strings"
	"time"

	"hilum/deploy/prove/program"
)

// used is processor time, user and system.
type used struct{ server, database time.Duration }

func (u used) all() time.Duration { return u.server + u.database }

func (u used) plus(v used) used { return used{u.server + v.server, u.database + v.database} }

func (u used) less(v used) used { return used{u.server - v.server, u.database - v.database} }

// used gives what a side's server and the backends of its database have used. Backends name their
// database in their command line; those of a pool live for the whole run.
func (w *world) used(s *side) (u used) {
	u.server = program.CPU(s.server.PID(), false)
	for _, pid := range program.Children(w.database.PID()) {
		if strings.Contains(program.CommandLine(pid), " "+s.database+" ") {
			u.database += program.CPU(pid, false)
		}
	}
	return u
}
