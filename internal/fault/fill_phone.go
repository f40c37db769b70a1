//go:build wasip1

package fault

func fill(message string, args ...any) string { return spell(message, args) }
