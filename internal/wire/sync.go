//go:generate go run -tags=nocodec ./gen ../../pwa/src/wire.gen.ts codec.gen.go

// What a client does, in short; the shapes below and in review.go say the rest.
//
//   - It keeps every mutation's exact bytes under a dense n and sends them again until there is an
//     ack: any outcome takes an entry off the outbox, no HTTP status does.
//   - An entry that moves to another device id says where it was first (Was), so that it is known
//     for the same one; from the second move on that stays as it is.
//   - An ack may be quarantined and change later: Judged says so, once, to every device of the person.
//     It is stored with the rows; entries that this device does not hold are passed over.
//   - It stores Cursor and Floor with the rows, in one transaction, and sends both back with the
//     Epoch it last saw. (Floor: the tombstones that its load could do without, so that a load in
//     pages is not taken for a phone that stayed away too long.) Reset throws its base away, never
//     its outbox. Another Epoch: offer sent and unsent entries again, in the order in which they were
//     kept; of a push under an older epoch nothing is taken. If some were sent under a former device
//     id, all of them move to a new one first.
//   - First load: GET .../snapshot (its format: package snapshot), stored with cursor = its seq and
//     epoch in one transaction, then /sync from there. A broken load goes on with Range and
//     If-Range: "epoch.seq". Any refusal (413: too many records): load by /sync from cursor 0.
//   - While on screen it holds GET .../poke open (server-sent events; read with fetch, since the
//     bearer header is needed): event "head", data {"head":n}. A head above the cursor: sync. When
//     the stream ends or is refused: refresh the token and ask again, with the usual waits; the
//     poll of 60 s stays. One stream a device, by whoever holds the sync lock.
//   - Rows of kind "conflict" are the review list; a deleted one leaves it. A person's tap is a
//     mutation of kind "settle" (see Settle). A client never writes "conflict" or "result".
//   - A closed dig is never edited: what was wrong in it is a new record of kind "correction". To
//     the engine's op "case" it hands dig, correction and all other rows with their seq; entries
//     that are not at the server yet go last, in the order of their n, without a seq.
//   - A photo's record goes up like any other; its bytes follow by PUT .../photos/{sha256}
//     (image/jpeg, If-None-Match: *), two at most in flight, records always first. 204: safe, also
//     on a repeat. 404: the record is not at the server yet, sync first. 507, 503, 429: later. 413,
//     422: these bytes will never be taken; show it. The phone lets its bytes go when the record
//     came back with stored. GET .../photos/{sha256} gives the picture.
//   - Result.Conflicts names inputs that wait for a person: say so beside the figure.
package wire

// Proto is the version of the sync messages.
const Proto = 1

// Limits of one push. The client cuts its outbox to fit.
const (
	MaxPush      = 1000    // mutations
	MaxBodyBytes = 4 << 20 // of the unpacked request
	MaxMutation  = 256 << 10
	MaxRows      = 1000 // rows in one answer
)

// SyncRequest is the one message by which a device pushes and pulls.
type SyncRequest struct {
	Proto  int    `json:"proto"`
	Schema int    `json:"schema"`
	Device string `json:"device"`          // uuid, made by the device for this account and person
	Epoch  string `json:"epoch"`           // as last seen; empty at first
	Cursor int64  `json:"cursor"`          // change number up to which rows are stored; 0 at first
	Floor  int64  `json:"floor,omitempty"` // as last answered; stored with the cursor
	Push   []Raw  `json:"push"`            // each a Mutation; the bytes are hashed as sent
}

// Mutation is one edit or one new record. (device, n) is its identity for ever.
type Mutation struct {
	N         int64          `json:"n"` // dense from 1 within the device
	Schema    int            `json:"schema"`
	Rec       string         `json:"rec"`           // uuid of the record
	Kind      string         `json:"kind"`          // a key of kind.All, or "settle"
	Base      int64          `json:"base"`          // change number when the person saw it; 0 = new
	Set       map[string]Raw `json:"set,omitempty"` // null takes the value away
	Del       bool           `json:"del,omitempty"`
	PhoneTime string         `json:"phoneTime"` // RFC 3339; kept as said, orders nothing
	Was       *Was           `json:"was,omitempty"`
}

// Was is an entry's first place, for one that comes again under another device id. It stands last,
// once, as {"device":..,"n":..}: with this n in the place of the other and without was, the bytes
// are those that were kept first, and their hash shows whether the server has this entry already.
type Was struct {
	Device string `json:"device"`
	N      int64  `json:"n"`
}

// Outcomes of a mutation. Each is final: the device may take the entry off its outbox.
const (
	Applied     = "applied"     // as sent
	Merged      = "merged"      // together with somebody else's values
	Conflicted  = "conflict"    // shown, and the other value waits for a person
	Discarded   = "discarded"   // it was set aside, and a person put it away for good
	Quarantined = "quarantined" // kept verbatim, out of every view: Problem says why
	// Cloned: this number was used with other bytes. Take a new device id. Of what follows in the
	// push only repeats are acknowledged: they are here and must not come again.
	Cloned = "cloned"
)

// Ack is the outcome of one pushed mutation.
type Ack struct {
	N       int64    `json:"n"`
	Outcome string   `json:"outcome"`
	Seq     int64    `json:"seq,omitempty"` // change number it got
	Problem *Problem `json:"problem,omitempty"`
}

// Judged is what became later of an entry that had been set aside: what it lacked has appeared, or
// somebody took it up or put it away by hand. It tells of all devices of the person who asks.
type Judged struct {
	Device string `json:"device"`
	Ack
}

// Problem is an error as a client sees it.
type Problem struct {
	Code    string `json:"code"`
	Field   string `json:"field,omitempty"`
	Message string `json:"message"`
}

// Row is the present state of one record.
type Row struct {
	ID      string `json:"id"`
	Kind    string `json:"kind"`
	Seq     int64  `json:"seq"`
	Deleted bool   `json:"deleted,omitempty"`
	By      string `json:"by,omitempty"` // person who wrote it last
	Body    Raw    `json:"body"`
}

// SyncResponse answers a SyncRequest.
type SyncResponse struct {
	Epoch      string   `json:"epoch"`
	Head       int64    `json:"head"`            // the account's newest change number
	Cursor     int64    `json:"cursor"`          // store together with rows, in one transaction
	Floor      int64    `json:"floor,omitempty"` // store beside the cursor and send it back
	ServerTime string   `json:"serverTime"`
	Acks       []Ack    `json:"acks"`
	Rows       []Row    `json:"rows"`             // ascending by seq, own changes included
	More       bool     `json:"more,omitempty"`   // ask again at once
	Reset      bool     `json:"reset,omitempty"`  // throw the base away (never the outbox) and start at cursor 0
	Judged     []Judged `json:"judged,omitempty"` // since the cursor
	// Stale: results of what was pushed are not among the rows; they come with a later pull.
	Stale  bool  `json:"stale,omitempty"`
	Expect int64 `json:"expect,omitempty"` // a gap: the next n the server wants; nothing after it was taken
}

// WriteSyncResponse gives the answer as JSON. It trusts the bodies of the rows to be JSON.
func WriteSyncResponse(out SyncResponse) []byte {
	var e encoder
	writeSyncResponse(&e, &out) // holds no number that could be not finite
	return e.buf
}

// FieldLine is one line of GET /api/v1/farms/{farm}/fields.
type FieldLine struct {
	ID     string `json:"id"`
	Field  Raw    `json:"field"`
	Result Raw    `json:"result,omitempty"` // newest Result of the field
}

// FieldResult is the answer of GET /api/v1/farms/{farm}/fields/{field}/result?cropYear=2027.
type FieldResult struct {
	Result Result   `json:"result"`
	Report Raw      `json:"report"`
	Older  []Result `json:"older"` // earlier results, newest first
}
