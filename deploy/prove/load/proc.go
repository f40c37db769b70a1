package main

import (
	"time"

	"hilum/deploy/prove/program"
)

// worked gives the processor time that the server, and all processes of the database, have used.
func (w *world) worked() (server, database time.Duration) {
	server = program.CPU(w.server.PID(), false)
	database = program.CPU(w.database.PID(), true)
	for _, pid := range program.Children(w.database.PID()) {
		database += program.CPU(pid, false)
	}
	return server, database
}
