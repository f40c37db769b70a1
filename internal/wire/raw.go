//go:build !wasip1

package wire

import "encoding/json"

// Raw is a JSON value left as it came.
type Raw = json.RawMessage
