package wire

// Nonce answers POST /api/v1/nonce.
type Nonce struct {
	Nonce string `json:"nonce"`
}

// Refresh is the body of POST /api/v1/refresh and of POST /api/v1/hand-in-ticket. The refresh
// token itself is in a cookie.
type Refresh struct {
	Farm      string `json:"farm"`
	Device    string `json:"device"`
	Former    string `json:"former,omitempty"` // the device that this one was, until an answer came
	Nonce     string `json:"nonce"`
	Signature string `json:"signature"` // by the device's key, over auth.Statement
}

// Ticket answers POST /api/v1/hand-in-ticket.
type Ticket struct {
	Ticket string `json:"ticket"`
	Until  string `json:"until"`
}

// Session answers a sign-in or a refresh.
type Session struct {
	Farm        string `json:"farm"`
	AccountName string `json:"accountName"`
	Person      Person `json:"person"`
	Access      string `json:"access"` // bearer token, memory only
	AccessUntil string `json:"accessUntil"`
	LastN       int64  `json:"lastN"` // highest mutation number taken from this device
	ServerTime  string `json:"serverTime"`
	Until       string `json:"until"` // the session ends then, however much it is used
}

// Person is somebody who works in the account, or a grower who looks in.
type Person struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Login    string `json:"login,omitempty"`
	Role     string `json:"role"` // "owner", "consultant", "scout", "grower"
	Archived bool   `json:"archived,omitempty"`
}

// SignIn is the body of POST /api/v1/signin.
type SignIn struct {
	Login      string `json:"login"`
	Password   string `json:"password"`
	Device     string `json:"device"`
	DeviceName string `json:"deviceName"`     // "Phone", "Desk", or what the browser says
	Key        string `json:"key,omitempty"`  // the device's; without one the session cannot be renewed
	Code       string `json:"code,omitempty"` // of the second step, where the person has one
	// Farm is the account that was chosen, where the name and password fit in several.
	Farm string `json:"farm,omitempty"`
	// Known are the device ids, by account, under which this device has signed in with this name
	// before: where one fits it goes on, since each account counts its entries by device.
	Known map[string]string `json:"known,omitempty"`
}

// Which answers a sign-in whose name and password fit in several accounts: the device asks which.
type Which struct {
	Accounts []Membership `json:"accounts"`
}

// Membership is one person's place in one account.
type Membership struct {
	Farm        string `json:"farm"`
	AccountName string `json:"accountName"`
	Name        string `json:"name"`
	Role        string `json:"role"`
}

// FirstOwner is the body of POST /api/v1/first-owner: the one-time link makes the account.
type FirstOwner struct {
	Link       string `json:"link"`
	Account    string `json:"account"`
	Name       string `json:"name"`
	Login      string `json:"login"`
	Password   string `json:"password"`
	TimeZone   string `json:"timeZone"`
	Currency   string `json:"currency"`
	Device     string `json:"device"`
	DeviceName string `json:"deviceName"`    // "Phone", "Desk", or what the browser says
	Key        string `json:"key,omitempty"` // the device's; without one the session cannot be renewed
}

// ResetAccess is the body of POST /api/v1/reset-access: the one-time link sets a new password.
type ResetAccess struct {
	Link       string `json:"link"`
	Password   string `json:"password"`
	Device     string `json:"device"`
	DeviceName string `json:"deviceName"`    // "Phone", "Desk", or what the browser says
	Key        string `json:"key,omitempty"` // the device's; without one the session cannot be renewed
}

// NewPerson is the body of POST /api/v1/farms/{farm}/people. Nobody chooses a password for
// somebody else: the new person gets in by a code, see Code.
type NewPerson struct {
	Name     string `json:"name"`
	Role     string `json:"role"`
	Language string `json:"language,omitempty"`
	Grower   string `json:"grower,omitempty"` // of a grower: the id of their record
}

// Member is one line of GET /api/v1/farms/{farm}/people.
type Member struct {
	Person
	Language string   `json:"language,omitempty"`
	Grower   string   `json:"grower,omitempty"` // of a grower: whose fields they see
	Alias    bool     `json:"alias,omitempty"`  // the name was taken out
	HasLogin bool     `json:"hasLogin,omitempty"`
	Devices  []Device `json:"devices"`
}

// Device is one phone or desk of a person.
type Device struct {
	ID      string `json:"id"`
	Person  string `json:"person"`
	Name    string `json:"name"`
	SeenAt  string `json:"seenAt"`
	LastN   int64  `json:"lastN"` // entries taken from it
	Open    bool   `json:"open"`  // it has a session
	Revoked string `json:"revoked,omitempty"`
}

// EditPerson is the body of POST /api/v1/farms/{farm}/people/{person}; absent values stay.
type EditPerson struct {
	Name     *string `json:"name,omitempty"`
	Language *string `json:"language,omitempty"`
	Archived *bool   `json:"archived,omitempty"`
}

// NewCode is the body of POST /api/v1/farms/{farm}/people/{person}/code.
type NewCode struct {
	Origin string `json:"origin"` // of the page, for the link: https://farm.example
}

// Code lets one device of a person in, once, within ten minutes.
type Code struct {
	Code  string   `json:"code"` // to type
	Link  string   `json:"link"` // the same as a link; its secret stands behind the #
	QR    []string `json:"qr"`   // the link as squares, a row a line: 1 is dark
	Until string   `json:"until"`
}

// Enrol is the body of POST /api/v1/enrol.
type Enrol struct {
	Code       string `json:"code,omitempty"` // as typed
	Link       string `json:"link,omitempty"` // or what stands behind the # of the link
	Login      string `json:"login,omitempty"`
	Password   string `json:"password,omitempty"` // whoever does not only dig chooses one now
	Device     string `json:"device"`
	DeviceName string `json:"deviceName"`
	Key        string `json:"key"`
}

// Me answers GET /api/v1/farms/{farm}/me: how the person signs in, and on which devices.
type Me struct {
	Login        string   `json:"login"`
	HasPassword  bool     `json:"hasPassword"`
	Second       bool     `json:"second"` // a second step is asked for
	RecoveryLeft int      `json:"recoveryLeft"`
	Devices      []Device `json:"devices"`
	Here         string   `json:"here"` // the device that asks
}

// SetPassword is the body of POST .../me/password, and with old alone of .../me/second.
type SetPassword struct {
	Old      string `json:"old"`
	Password string `json:"password,omitempty"`
}

// SecondStart shows the secret of a second step to its person, once.
type SecondStart struct {
	Secret  string   `json:"secret"`
	Address string   `json:"address"`
	QR      []string `json:"qr"`
}

// SecondCode is the body of POST .../me/second/confirm.
type SecondCode struct {
	Code string `json:"code"`
}

// EndSecond is the body of POST .../me/second/end.
type EndSecond struct {
	Old  string `json:"old"`
	Code string `json:"code"`
}

// RecoveryCodes are shown once, to be printed. Each works once in the place of the app's code.
type RecoveryCodes struct {
	Codes []string `json:"codes"`
}

// AuditLine says who did what, when and from which device.
type AuditLine struct {
	ID          int64  `json:"id"`
	At          string `json:"at"`
	Who         string `json:"who"`
	Person      string `json:"person"`
	Device      string `json:"device"`
	DeviceName  string `json:"deviceName"`
	Action      string `json:"action"`
	Subject     string `json:"subject"`
	SubjectName string `json:"subjectName"`
}
