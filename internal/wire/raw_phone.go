//go:build wasip1

package wire

// Raw is a JSON value left as it came. Not json.RawMessage: the import alone costs 30 kB.
type Raw = []byte
