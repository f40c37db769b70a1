package api

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/wire"
)

// twin is a second account, in which a person has the same sign-in name and password.
func (s *server) twin(login string) (farm, person string) {
	s.t.Helper()
	hash, err := auth.HashPassword(s.t.Context(), password)
	if err != nil {
		s.t.Fatal(err)
	}
	farm, person = uuid.NewString(), uuid.NewString()
	p := wire.Person{ID: person, Name: "The same", Login: login, Role: "consultant"}
	if err := s.store.CreateFarm(s.t.Context(), farm, false, p, hash, nil); err != nil {
		s.t.Fatal(err)
	}
	return farm, person
}

func TestWhoIsInSeveralAccountsIsAskedWhich(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	farm, person := s.twin("scout")
	key, _ := auth.NewKey()
	public, _ := key.Public()
	in := wire.SignIn{Login: "scout", Password: password, Device: uuid.NewString(), Key: public}
	rec := s.send("POST", "/api/v1/signin", in, nil)
	var which wire.Which
	if err := json.Unmarshal(rec.Body.Bytes(), &which); err != nil || rec.Code != http.StatusOK {
		t.Fatalf("%d %s", rec.Code, rec.Body)
	}
	farms := []string{}
	for _, a := range which.Accounts {
		farms = append(farms, a.Farm)
	}
	if len(farms) != 2 || !slices.Contains(farms, s.farm) || !slices.Contains(farms, farm) {
		t.Fatalf("asked which of %v, want both accounts", farms)
	}
	if rec.Header().Get("Set-Cookie") != "" || strings.Contains(rec.Body.String(), "access") {
		t.Errorf("the question opened something: %v %s", rec.Header(), rec.Body)
	}
	// A device that has signed in before goes on under the id that it has in that account.
	before := uuid.NewString()
	in.Farm, in.Known = farm, map[string]string{farm: before, s.farm: uuid.NewString()}
	rec = s.send("POST", "/api/v1/signin", in, nil)
	var session wire.Session
	if err := json.Unmarshal(rec.Body.Bytes(), &session); err != nil || session.Farm != farm || session.Person.ID != person {
		t.Fatalf("the chosen account: %d %s", rec.Code, rec.Body)
	}
	if claims, err := s.signer.Check(session.Access); err != nil || claims.Device != before {
		t.Errorf("the session is of device %v, want %s", claims, before)
	}
	if !strings.HasPrefix(rec.Header().Get("Set-Cookie"), cookieName+before+"=") {
		t.Errorf("the cookie is %q, want that of the device in this account", rec.Header().Get("Set-Cookie"))
	}
	// One account's password says nothing about another one, and choosing guesses nothing.
	in.Farm = uuid.NewString()
	if rec := s.send("POST", "/api/v1/signin", in, nil); rec.Code != http.StatusUnauthorized {
		t.Errorf("an account that is not theirs: %d, want 401", rec.Code)
	}
	in.Farm, in.Password = farm, "wrong and also long enough"
	if rec := s.send("POST", "/api/v1/signin", in, nil); rec.Code != http.StatusUnauthorized {
		t.Errorf("a wrong password for a chosen account: %d, want 401", rec.Code)
	}
}
