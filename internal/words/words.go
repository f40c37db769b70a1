// Package words holds the engine's catalogues: one flat JSON object for each language, from a code
// of the engine to a sentence with {name} for each argument. Go and TypeScript read the same files.
// The explain catalogues hold the titles of what the command line shows, the card catalogues the
// model card, source.fr the register of sources, which is written in English.
package words

import "embed"

// Files holds engine.LANGUAGE.json, explain.LANGUAGE.json, card.LANGUAGE.json and source.fr.json.
//
//go:embed engine.en.json engine.fr.json explain.en.json explain.fr.json
//go:embed card.en.json card.fr.json source.fr.json
var Files embed.FS

// Original is the language that the register of sources is written in: it has no catalogue of them.
const Original = "en"
