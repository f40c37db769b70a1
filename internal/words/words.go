// Package words holds the engine's catalogues: one flat JSON object for each language, from a code
// of the engine to a sentence with {name} for each argument. Go and TypeScript read the same files.
package words

import "embed"

// Files holds engine.en.json and engine.fr.json.
//
//go:embed engine.en.json engine.fr.json
var Files embed.FS
