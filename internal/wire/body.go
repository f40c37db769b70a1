// Package wire holds the JSON shapes that cross a border: the bodies of synced records, the sync
// messages, and the engine's request and answer. Server, command line and phone (through
// WebAssembly) all decode with it; the client's types are generated from it.
package wire

import "hilum/internal/agro"

// Schema is the version of the record shapes below. A mutation carries the one it was written by.
const Schema = 1

// Settings is the account's own record; there is one.
type Settings struct {
	Name          string         `json:"name"`                    // of the account, 1 to 120 characters
	TimeZone      string         `json:"timeZone"`                // IANA name, "America/Regina"
	Currency      string         `json:"currency"`                // ISO 4217, "CAD"
	Units         string         `json:"units"`                   // "imperial" or "metric": what screens show
	StarterRule   string         `json:"starterRule"`             // "published" or "practice"
	NodeCount     string         `json:"nodeCount"`               // "withScale" or "trueNodes"
	NitrogenPrice *agro.Quantity `json:"nitrogenPrice,omitempty"` // "$/lb N" or "$/kg N"
	Prices        *agro.Prices   `json:"prices,omitempty"`        // of the year
	Rules         *agro.Rules    `json:"rules,omitempty"`         // where sources disagree
	Today         string         `json:"today,omitempty"`         // a fixed date that screens use; demo accounts only
}

// Grower is whose fields they are.
type Grower struct {
	Name     string `json:"name"`               // 1 to 120 characters
	Language string `json:"language,omitempty"` // "en" or "fr": of the papers
	Note     string `json:"note,omitempty"`     // up to 4,000 characters
	Archived bool   `json:"archived,omitempty"`
}

// Field is one piece of ground.
type Field struct {
	Grower   string         `json:"grower"` // id of a grower
	Name     string         `json:"name"`   // 1 to 120 characters
	Area     *agro.Quantity `json:"area,omitempty"`
	Outline  Raw            `json:"outline,omitempty"` // GeoJSON Polygon or MultiPolygon geometry (RFC 7946)
	SoilZone string         `json:"soilZone,omitempty"`
	Texture  string         `json:"texture,omitempty"`
	FreeLime bool           `json:"freeLime,omitempty"`
	RootRot  *agro.RootRot  `json:"rootRot,omitempty"`
	Note     string         `json:"note,omitempty"`
	Archived bool           `json:"archived,omitempty"`
}

// Season is one crop year of one field: history once it is over, plan before.
type Season struct {
	Field      string         `json:"field"`            // id of a field
	CropYear   int            `json:"cropYear"`         // year of harvest
	Part       string         `json:"part,omitempty"`   // "whole" unless the field is split
	Crop       string         `json:"crop"`             // "pea", "lentil", "wheat", ...; any word
	Status     string         `json:"status,omitempty"` // "planned", "started", "done"
	AlsoHosts  []string       `json:"alsoHosts,omitempty"`
	Inoculated *bool          `json:"inoculated,omitempty"`
	Nodulation string         `json:"nodulation,omitempty"` // "good" or "poor", as somebody saw it
	Flooded    bool           `json:"flooded,omitempty"`
	Harvested  *agro.Quantity `json:"harvested,omitempty"` // yield taken, "bu/ac" or "kg/ha"
	Nitrogen   *agro.Quantity `json:"nitrogen,omitempty"`  // fertilizer N it got in all, "lb/ac" or "kg/ha"
	Note       string         `json:"note,omitempty"`
	Protein    *float64       `json:"protein,omitempty"`     // percent of the seed harvested
	SeedRate   *agro.Quantity `json:"seedRate,omitempty"`    // as seeded, "lb/ac" or "kg/ha"
	SeedDepth  *agro.Quantity `json:"seedDepth,omitempty"`   // as seeded, "in" or "cm"
	StarterN   *agro.Quantity `json:"starterUsed,omitempty"` // N that went on as starter, "lb/ac" or "kg/ha"
	Seeding    *agro.Seeding  `json:"seeding,omitempty"`
	Drill      *agro.Drill    `json:"drill,omitempty"`
	Rescue     *agro.Rescue   `json:"rescue,omitempty"`   // a rescue pass that is thought of
	Chickpea   *agro.Quantity `json:"chickpea,omitempty"` // distance to last year's chickpea
	Strips     []agro.Strip   `json:"strips,omitempty"`
	agro.Plan
}

// SoilTest is one sampling of one field, values as the laboratory gave them.
type SoilTest struct {
	Field    string `json:"field"`              // id of a field
	CropYear int    `json:"cropYear,omitempty"` // the year it serves; 0 = by date: from 1 August on, the next year
	Note     string `json:"note,omitempty"`
	agro.SoilTest
}

// Dig is one visit with a spade, with its plants: one closed fact.
type Dig struct {
	Field      string     `json:"field"`    // id of a field
	CropYear   int        `json:"cropYear"` // year of harvest
	Date       string     `json:"date"`
	Node       *agro.Node `json:"node,omitempty"`
	Spots      []DigSpot  `json:"spots"` // 1 to 20
	Suspicions []string   `json:"suspicions,omitempty"`
	// NotSeen: looked for and not there, words of Suspicions; what is in neither nobody looked for
	NotSeen []string       `json:"notSeen,omitempty"`
	Stand   []agro.Stand   `json:"stand,omitempty"` // counts of standing plants, up to 20
	Weeds   string         `json:"weeds,omitempty"` // which, how many, where; up to 4,000 characters
	AirTemp *agro.Quantity `json:"airTemp,omitempty"`
	Note    string         `json:"note,omitempty"`
}

// DigSpot is one place of a dig.
type DigSpot struct {
	ID        string     `json:"id"`
	Longitude *float64   `json:"longitude,omitempty"` // degrees, WGS84
	Latitude  *float64   `json:"latitude,omitempty"`
	Note      string     `json:"note,omitempty"`
	Plants    []DigPlant `json:"plants"` // 1 to 40
}

// DigPlant is one dug root.
type DigPlant struct {
	ID string `json:"id"`
	agro.Plant
}

// Pass is one trip over the field with something on board: what it was, when it ended, and the
// label's re-entry time, which keeps people out.
type Pass struct {
	Field    string `json:"field"`    // id of a field
	CropYear int    `json:"cropYear"` // year of harvest
	// What: "herbicide", "insecticide", "fungicide", "fertilizer", "desiccant", "other"
	What string `json:"what"`
	Note string `json:"note,omitempty"`
	agro.Pass
}

// Assignment says who is to walk a field in one crop year; there is at most one.
type Assignment struct {
	Field    string `json:"field"` // id of a field
	CropYear int    `json:"cropYear"`
	Person   string `json:"person"` // id of a person; "" = open to whoever is near
	Note     string `json:"note,omitempty"`
}

// Result is what the server computed for one field and crop year. Clients never write it. The
// whole report is read from the server or computed again on the phone from the same records:
// equal inputHash and engineVersion mean equal reports.
type Result struct {
	Field         string        `json:"field"`
	CropYear      int           `json:"cropYear"`
	Crop          string        `json:"crop"`
	InputHash     string        `json:"inputHash"` // SHA-256 of the canonical input, hex
	EngineVersion string        `json:"engineVersion"`
	ComputedAt    string        `json:"computedAt"` // RFC 3339, server time
	Headline      agro.Headline `json:"headline"`
	Problem       *Problem      `json:"problem,omitempty"` // why there is no headline, for example a bad old input
	// Conflicts name the inputs that wait for a person, "soilTest.organicMatter"; the shown values
	// were computed with.
	Conflicts []string `json:"conflicts,omitempty"`
}
