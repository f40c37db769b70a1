//go:build !linux

package pgrun

import "syscall"

// setDeathSignal does nothing here: the next start stops the orphan (see clearPrevious).
func setDeathSignal(*syscall.SysProcAttr) {}
