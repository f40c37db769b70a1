package api

import (
	"encoding/json"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/wire"
)

func (s *server) post(q seat, path string, body any) *httptest.ResponseRecorder {
	return s.send("POST", "/api/v1/farms/"+s.farm+path, body, q.bearer())
}

func (s *server) add(q seat, p wire.NewPerson) wire.Person {
	s.t.Helper()
	rec := s.post(q, "/people", p)
	var out wire.Person
	if err := json.Unmarshal(rec.Body.Bytes(), &out); err != nil || rec.Code != 201 {
		s.t.Fatalf("adding %s: %d %s", p.Name, rec.Code, rec.Body)
	}
	return out
}

func (s *server) code(q seat, person string) wire.Code {
	s.t.Helper()
	rec := s.post(q, "/people/"+person+"/code", wire.NewCode{Origin: "https://farm.example"})
	var out wire.Code
	if err := json.Unmarshal(rec.Body.Bytes(), &out); err != nil || rec.Code != 201 {
		s.t.Fatalf("a code: %d %s", rec.Code, rec.Body)
	}
	return out
}

// enrol gets a new device in by a code or a link; the address counts as a fresh one.
func (s *server) enrol(in wire.Enrol) (seat, *httptest.ResponseRecorder) {
	s.t.Helper()
	q := seat{device: uuid.NewString()}
	var err error
	if q.key, err = auth.NewKey(); err != nil {
		s.t.Fatal(err)
	}
	in.Key, _ = q.key.Public()
	in.Device, in.DeviceName = q.device, "Phone"
	rec := s.send("POST", "/api/v1/enrol", in, nil)
	if rec.Code == 200 {
		q.take(s, rec)
	}
	return q, rec
}

func TestAScoutGetsInByCodeOrLinkOnce(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner := s.signIn("owner")
	for _, byLink := range []bool{true, false} {
		june := s.add(owner, wire.NewPerson{Name: "June", Role: "scout", Language: "fr"})
		code := s.code(owner, june.ID)
		in := wire.Enrol{Code: strings.ToLower(code.Code[:4]) + " " + code.Code[4:]}
		if byLink {
			_, secret, _ := strings.Cut(code.Link, "#")
			in = wire.Enrol{Link: secret}
		}
		q, rec := s.enrol(in)
		if rec.Code != 200 || q.Person.ID != june.ID || q.Person.Role != "scout" {
			t.Fatalf("by link %v: %d %s", byLink, rec.Code, rec.Body)
		}
		if rec := s.send("POST", s.syncPath(), q.request(), q.bearer()); rec.Code != 200 {
			t.Errorf("sync of the new phone: %d", rec.Code)
		}
		s.clock = s.clock.Add(11 * time.Minute)
		if got := s.refresh(&q, false); got != 200 {
			t.Errorf("renewing the new phone: %d", got)
		}
		if _, rec := s.enrol(in); rec.Code != 404 {
			t.Errorf("the same a second time: %d, want 404", rec.Code)
		}
		s.clock = s.clock.Add(-11 * time.Minute)
	}
	rec := s.send("GET", "/api/v1/farms/"+s.farm+"/people", nil, owner.bearer())
	if !strings.Contains(rec.Body.String(), `"name":"Phone"`) {
		t.Errorf("the owner does not see the new phone: %s", rec.Body)
	}
}

func TestCodesEndByTimeTriesAndSuccessors(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner := s.signIn("owner")
	june := s.add(owner, wire.NewPerson{Name: "June", Role: "scout"})
	old := s.code(owner, june.ID)
	s.clock = s.clock.Add(10*time.Minute + time.Second)
	if _, rec := s.enrol(wire.Enrol{Code: old.Code}); rec.Code != 404 {
		t.Errorf("after ten minutes: %d, want 404", rec.Code)
	}
	owner = s.signIn("owner")
	first := s.code(owner, june.ID)
	second := s.code(owner, june.ID)
	if _, rec := s.enrol(wire.Enrol{Code: first.Code}); rec.Code != 404 {
		t.Errorf("a code that was followed by another: %d, want 404", rec.Code)
	}
	wrong := []byte(second.Code)
	wrong[7] = map[bool]byte{true: 'C', false: 'B'}[wrong[7] == 'B']
	for range auth.MaxTries {
		if _, rec := s.enrol(wire.Enrol{Code: string(wrong)}); rec.Code != 404 {
			t.Errorf("a wrong code: %d, want 404", rec.Code)
		}
	}
	if _, rec := s.enrol(wire.Enrol{Code: second.Code}); rec.Code != 404 {
		t.Errorf("the right code after %d wrong ones: %d, want 404", auth.MaxTries, rec.Code)
	}
	for _, typed := range []string{"", "SHORT", "AEIOUAEI", "BCDFGHJKL", strings.Repeat("B", 1000)} {
		if _, rec := s.enrol(wire.Enrol{Code: typed}); rec.Code != 422 {
			t.Errorf("typed %.10q: %d, want 422", typed, rec.Code)
		}
	}
}

func TestAnAccountMakesTwentyCodesAnHour(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner := s.signIn("owner")
	june := s.add(owner, wire.NewPerson{Name: "June", Role: "scout"})
	for range auth.MaxCodes {
		s.code(owner, june.ID)
	}
	rec := s.post(owner, "/people/"+june.ID+"/code", wire.NewCode{Origin: "https://farm.example"})
	if rec.Code != 429 || rec.Header().Get("Retry-After") == "" {
		t.Errorf("one more: %d, Retry-After %q; want 429 with a wait", rec.Code, rec.Header().Get("Retry-After"))
	}
}

func TestAConsultantChoosesTheirOwnPassword(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner := s.signIn("owner")
	cleo := s.add(owner, wire.NewPerson{Name: "Cleo", Role: "consultant"})
	code := s.code(owner, cleo.ID)
	for name, in := range map[string]wire.Enrol{
		"no password": {Code: code.Code}, "short": {Code: code.Code, Login: "cleo", Password: "short"},
		"no login": {Code: code.Code, Password: password},
	} {
		if _, rec := s.enrol(in); rec.Code != 422 {
			t.Errorf("%s: %d, want 422 and the code still good", name, rec.Code)
		}
	}
	q, rec := s.enrol(wire.Enrol{Code: code.Code, Login: "cleo", Password: password})
	if rec.Code != 200 || q.Person.Role != "consultant" {
		t.Fatalf("with a password: %d %s", rec.Code, rec.Body)
	}
	if again := s.signIn("cleo"); again.Person.ID != cleo.ID {
		t.Error("the password does not open the account")
	}
}

func TestAConsultantLooksAfterScoutsOnly(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	s.people()
	owner, cons := s.signIn("owner"), s.seatOf("consultant")
	for _, role := range []string{"owner", "consultant"} {
		if rec := s.post(cons, "/people", wire.NewPerson{Name: "X", Role: role}); rec.Code != 422 {
			t.Errorf("a consultant adds a %s: %d, want 422", role, rec.Code)
		}
	}
	body := wire.NewCode{Origin: "https://farm.example"}
	if rec := s.post(cons, "/people/"+s.ids["owner"]+"/code", body); rec.Code != 403 {
		t.Errorf("a consultant makes a code for the owner: %d, want 403", rec.Code)
	}
	if rec := s.post(cons, "/devices/"+owner.device+"/revoke", map[string]string{}); rec.Code != 403 {
		t.Errorf("a consultant revokes the owner's desk: %d, want 403", rec.Code)
	}
	scout := s.seatOf("scout")
	if rec := s.post(cons, "/devices/"+scout.device+"/revoke", map[string]string{}); rec.Code != 204 {
		t.Errorf("a consultant revokes a scout's phone: %d %s, want 204", rec.Code, rec.Body)
	}
	if rec := s.send("POST", s.syncPath(), scout.request(), scout.bearer()); rec.Code != 401 {
		t.Errorf("the scout's next request: %d, want 401", rec.Code)
	}
	if rec := s.post(owner, "/devices/"+owner.device+"/revoke", map[string]string{}); rec.Code != 409 {
		t.Errorf("the owner revokes the desk in use: %d, want 409", rec.Code)
	}
}

func TestANameIsTakenOutAndTheRecordsStay(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner, scout := s.signIn("owner"), s.seatOf("scout")
	rec := s.post(owner, "/people/"+s.ids["scout"]+"/alias", map[string]string{"alias": "Former scout 1"})
	if rec.Code != 204 {
		t.Fatalf("taking out: %d %s", rec.Code, rec.Body)
	}
	if rec := s.send("POST", s.syncPath(), scout.request(), scout.bearer()); rec.Code != 401 {
		t.Errorf("the scout's next request: %d, want 401", rec.Code)
	}
	list := s.send("GET", "/api/v1/farms/"+s.farm+"/people", nil, owner.bearer()).Body.String()
	if strings.Contains(list, `"Scout"`) || !strings.Contains(list, "Former scout 1") ||
		!strings.Contains(list, s.ids["scout"]) {
		t.Errorf("the list after: %s", list)
	}
}

func TestAPersonEndsTheirOwnSessions(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	here, lost, other := s.seatOf("scout"), s.seatOf("scout"), s.seatOf("owner")
	if rec := s.post(here, "/me/devices/"+other.device+"/end", map[string]string{}); rec.Code != 404 {
		t.Errorf("ending somebody else's: %d, want 404", rec.Code)
	}
	if rec := s.post(here, "/me/devices/"+lost.device+"/end", map[string]string{}); rec.Code != 204 {
		t.Errorf("ending an own one: %d, want 204", rec.Code)
	}
	if rec := s.send("POST", s.syncPath(), lost.request(), lost.bearer()); rec.Code != 401 {
		t.Errorf("the ended session: %d, want 401", rec.Code)
	}
	if rec := s.send("GET", "/api/v1/farms/"+s.farm+"/me", nil, here.bearer()); rec.Code != 200 {
		t.Errorf("the list: %d", rec.Code)
	}
}
