package wire

// Aside is an entry that is set aside and waits for a person: to be taken up as it is, or put away.
type Aside struct {
	Device     string  `json:"device"`
	DeviceName string  `json:"deviceName"`
	ShutOut    bool    `json:"shutOut,omitempty"` // the device has no access any more
	Person     string  `json:"person"`
	PersonName string  `json:"personName"`
	N          int64   `json:"n"`
	ReceivedAt string  `json:"receivedAt"`
	Problem    Problem `json:"problem"`
	Text       string  `json:"text"` // the mutation as it was sent
}

// Asides answers GET .../asides: by person, device and number, a thousand at most.
type Asides struct {
	Asides []Aside `json:"asides"`
}

// SettleAside is the body of POST .../asides: what becomes of entries of one device. The answer is
// Judgements.
type SettleAside struct {
	Device string  `json:"device"`
	Ns     []int64 `json:"ns"`
	Take   bool    `json:"take"` // false: put them away for good
}

// Judgements says what the entries came to.
type Judgements struct {
	Judged []Judged `json:"judged"`
}
