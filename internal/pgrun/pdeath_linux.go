package pgrun

import "syscall"

// setDeathSignal has the kernel stop PostgreSQL (fast shutdown) when our program is killed.
func setDeathSignal(a *syscall.SysProcAttr) { a.Pdeathsig = syscall.SIGINT }
