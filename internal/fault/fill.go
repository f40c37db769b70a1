//go:build !wasip1

package fault

import "fmt"

// fill fills a message in. Only the phone's build does it by hand: see spell.
func fill(message string, args ...any) string {
	return fmt.Sprintf(message, args...)
}
