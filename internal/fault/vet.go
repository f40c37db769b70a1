//go:build !wasip1

package fault

import "fmt"

// vetted does nothing. By its call of fmt `go vet` knows that New and At take arguments as Sprintf
// does and checks every use; the compiler drops what cannot run.
func vetted(message string, args ...any) {
	if false {
		_ = fmt.Sprintf(message, args...)
	}
}
