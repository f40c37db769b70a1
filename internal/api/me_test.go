package api

import (
	"encoding/json"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/pquerna/otp/totp"

	"hilum/internal/feed"
	"hilum/internal/wire"
)

func (s *server) read(q seat, path string) *httptest.ResponseRecorder {
	return s.send("GET", "/api/v1/farms/"+s.farm+path, nil, q.bearer())
}

func (s *server) knock(login, pass, code string) *httptest.ResponseRecorder {
	return s.send("POST", "/api/v1/signin",
		wire.SignIn{Login: login, Password: pass, Code: code, Device: uuid.NewString()}, nil)
}

// codeNow is what the app of the person shows.
func (s *server) codeNow(secret string) string {
	s.t.Helper()
	code, err := totp.GenerateCode(secret, s.clock)
	if err != nil {
		s.t.Fatal(err)
	}
	return code
}

func (s *server) secondStep(q seat) (secret string, recovery []string) {
	s.t.Helper()
	rec := s.post(q, "/me/second", wire.SetPassword{Old: password})
	var start wire.SecondStart
	if err := json.Unmarshal(rec.Body.Bytes(), &start); err != nil || rec.Code != 200 {
		s.t.Fatalf("starting: %d %s", rec.Code, rec.Body)
	}
	rec = s.post(q, "/me/second/confirm", wire.SecondCode{Code: s.codeNow(start.Secret)})
	var codes wire.RecoveryCodes
	if err := json.Unmarshal(rec.Body.Bytes(), &codes); err != nil || rec.Code != 200 {
		s.t.Fatalf("confirming: %d %s", rec.Code, rec.Body)
	}
	return start.Secret, codes.Codes
}

func TestTheSecondStepIsAskedForAndCountsOnce(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	secret, recovery := s.secondStep(q)
	if rec := s.knock("owner", password, s.codeNow(secret)); rec.Code != 401 {
		t.Errorf("the code that confirmed, again: %d, want 401", rec.Code)
	}
	s.clock = s.clock.Add(time.Minute)
	if rec := s.knock("owner", password, ""); rec.Code != 401 || !strings.Contains(rec.Body.String(), "signin.code") {
		t.Errorf("without a code: %d %s, want 401 signin.code", rec.Code, rec.Body)
	}
	code := s.codeNow(secret)
	for i, want := range []int{200, 401} {
		if rec := s.knock("owner", password, code); rec.Code != want {
			t.Errorf("the app's code, time %d: %d, want %d", i+1, rec.Code, want)
		}
	}
	for i, want := range []int{200, 401} {
		if rec := s.knock("owner", password, strings.ToLower(recovery[0])); rec.Code != want {
			t.Errorf("a printed code, time %d: %d, want %d", i+1, rec.Code, want)
		}
	}
	if rec := s.read(q, "/me"); !strings.Contains(rec.Body.String(), `"second":true,"recoveryLeft":9`) {
		t.Errorf("me: %s", rec.Body)
	}
	s.clock = s.clock.Add(time.Minute)
	end := wire.EndSecond{Old: password, Code: s.codeNow(secret)}
	if rec := s.post(q, "/me/second/end", end); rec.Code != 204 {
		t.Errorf("ending: %d %s", rec.Code, rec.Body)
	}
	if rec := s.knock("owner", password, ""); rec.Code != 200 {
		t.Errorf("after the end: %d", rec.Code)
	}
}

func TestANewPasswordEndsTheOtherSessions(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	here, other := s.signIn("owner"), s.signIn("owner")
	for name, tt := range map[string]struct {
		in   wire.SetPassword
		want int
	}{
		"wrong old one": {wire.SetPassword{Old: "something else entirely", Password: "moss and heron and oar"}, 422},
		"short":         {wire.SetPassword{Old: password, Password: "bog-moth-9"}, 422},
		"common":        {wire.SetPassword{Old: password, Password: "passwordpassword"}, 422},
		"own name":      {wire.SetPassword{Old: password, Password: "owner-owner-owner"}, 422},
	} {
		if rec := s.post(here, "/me/password", tt.in); rec.Code != tt.want {
			t.Errorf("%s: %d %s, want %d", name, rec.Code, rec.Body, tt.want)
		}
	}
	fresh := "moss and heron and oar"
	if rec := s.post(here, "/me/password", wire.SetPassword{Old: password, Password: fresh}); rec.Code != 204 {
		t.Fatalf("a new one: %d %s", rec.Code, rec.Body)
	}
	if rec := s.read(here, "/me"); rec.Code != 200 {
		t.Errorf("the session in use: %d", rec.Code)
	}
	if rec := s.read(other, "/me"); rec.Code != 401 {
		t.Errorf("another session: %d, want 401", rec.Code)
	}
	if rec := s.knock("owner", fresh, ""); rec.Code != 200 {
		t.Errorf("the new password: %d", rec.Code)
	}
}

func TestTheAuditIsReadAndExportedByTheOwner(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	s.add(q, wire.NewPerson{Name: "=cmd|' /C calc'!A0", Role: "scout"})
	if rec := s.read(q, "/audit"); !strings.Contains(rec.Body.String(), `"action":"person_added"`) {
		t.Errorf("page: %d %s", rec.Code, rec.Body)
	}
	csv := s.read(q, "/audit?format=csv").Body.String()
	if !strings.Contains(csv, "person_added,'=cmd|") || strings.Contains(csv, ",=cmd") {
		t.Errorf("csv: %s", csv)
	}
	if lines := s.read(q, "/audit?format=jsonl").Body.String(); strings.Count(lines, "\n") < 3 {
		t.Errorf("json lines: %s", lines)
	}
	for _, bad := range []string{"?format=xml", "?before=-1", "?before=x"} {
		if rec := s.read(q, "/audit"+bad); rec.Code != 422 {
			t.Errorf("%s: %d, want 422", bad, rec.Code)
		}
	}
}

func TestAPersonReadsAllThatIsStoredAboutThem(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("scout")
	body := s.read(q, "/me/data").Body.String()
	for _, kind := range []string{"person", "device", "session", "audit"} {
		if !strings.Contains(body, `"kind":"`+kind+`"`) {
			t.Errorf("no %s in %s", kind, body)
		}
	}
	for _, secret := range []string{"argon2id", s.ids["owner"]} {
		if strings.Contains(body, secret) {
			t.Errorf("the export holds %q", secret)
		}
	}
}

func TestAGrowerSeesOwnFieldsOnly(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner := s.signIn("owner")
	mine, theirs := uuid.NewString(), uuid.NewString()
	fields := map[string]string{mine: uuid.NewString(), theirs: uuid.NewString()}
	n := int64(0)
	var push []json.RawMessage
	put := func(id, kind string, body any) {
		n++
		m, err := feed.NewMutation(n, id, kind, 0, body, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		push = append(push, m)
	}
	for grower, field := range fields {
		put(grower, "grower", wire.Grower{Name: "G " + grower[:4]})
		put(field, "field", wire.Field{Grower: grower, Name: "F " + grower[:4]})
	}
	if rec := s.send("POST", s.syncPath(), owner.request(push...), owner.bearer()); rec.Code != 200 {
		t.Fatalf("push: %d %s", rec.Code, rec.Body)
	}
	p := s.add(owner, wire.NewPerson{Name: "Gus", Role: "grower", Grower: mine})
	s.ids["gus"] = p.ID
	gus := s.seatOf("gus")
	list := s.read(gus, "/own").Body.String()
	if !strings.Contains(list, fields[mine]) || strings.Contains(list, fields[theirs]) {
		t.Errorf("own fields: %s", list)
	}
	if rec := s.read(gus, "/own/"+fields[theirs]+"/result?cropYear=2027"); rec.Code != 404 {
		t.Errorf("another grower's result: %d, want 404", rec.Code)
	}
	if rec := s.send("POST", s.syncPath(), gus.request(), gus.bearer()); rec.Code != 403 {
		t.Errorf("sync as a grower: %d, want 403", rec.Code)
	}
	if rec := s.post(owner, "/people", wire.NewPerson{Name: "No", Role: "grower", Grower: uuid.NewString()}); rec.Code != 422 {
		t.Errorf("a grower without a record: %d, want 422", rec.Code)
	}
}
