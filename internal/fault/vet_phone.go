//go:build wasip1

package fault

func vetted(string, ...any) {}
