package api

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/feed"
	"hilum/internal/pgtest"
	"hilum/internal/photo"
	"hilum/internal/poke"
	"hilum/internal/site"
	"hilum/internal/snapshot"
	"hilum/internal/store"
	"hilum/internal/wire"
)

const password = "plain words for a test"

type server struct {
	t      testing.TB
	e      *echo.Echo
	store  *store.Store
	dsn    string
	signer *auth.Signer
	deps   Deps
	farm   string
	clock  time.Time
	photos string
	logs   *lines
	ids    map[string]string // of the people, by sign-in name
}

// newServer serves one account whose owner signs in as "owner" and whose scout as "scout".
func newServer(t testing.TB) *server {
	t.Helper()
	ctx := context.Background()
	dsn := pgtest.Database(t)
	s, err := store.Open(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	sv := &server{t: t, e: echo.New(), store: s, dsn: dsn, farm: uuid.NewString(), clock: time.Now(),
		photos: t.TempDir(), logs: &lines{}}
	now := func() time.Time { return sv.clock }
	signer, err := auth.NewSigner(bytes.Repeat([]byte("k"), 32), now)
	if err != nil {
		t.Fatal(err)
	}
	sv.signer = signer
	sv.e.Pre(site.Headers)
	hub := poke.New(s.Heads)
	ctx, stop := context.WithCancel(ctx)
	t.Cleanup(func() { stop(); <-hub.Done() })
	go hub.Run(ctx)
	sv.deps = Deps{Store: s, Signer: signer, Now: now, Version: "test", Ready: s.Ping,
		Log: slog.New(slog.NewTextHandler(sv.logs, nil)), Door: feed.Door{Log: s.Log(), Now: now},
		Snapshots: snapshot.New(s.Log()), Hub: hub, Photos: photo.At(sv.photos)}
	Mount(sv.e, sv.deps)
	hash, err := auth.HashPassword(ctx, password)
	if err != nil {
		t.Fatal(err)
	}
	owner := wire.Person{ID: uuid.NewString(), Name: "Owner", Login: "owner", Role: "owner"}
	scout := wire.Person{ID: uuid.NewString(), Name: "Scout", Login: "scout", Role: "scout"}
	if err := errors.Join(s.CreateFarm(ctx, sv.farm, false, owner, hash, nil),
		s.CreatePerson(ctx, sv.farm, scout, hash, store.Actor{})); err != nil {
		t.Fatal(err)
	}
	sv.ids = map[string]string{"owner": owner.ID, "scout": scout.ID}
	return sv
}

// sql changes the database behind the program's back, with the login that owns it.
func (s *server) sql(query string, args ...any) {
	s.t.Helper()
	conn, err := pgx.Connect(context.Background(), s.dsn)
	if err != nil {
		s.t.Fatal(err)
	}
	defer conn.Close(context.Background())
	if _, err := conn.Exec(context.Background(), query, args...); err != nil {
		s.t.Fatal(err)
	}
}

func (s *server) send(
	method, path string,
	body any,
	header map[string]string,
) *httptest.ResponseRecorder {
	s.t.Helper()
	var reader io.Reader
	switch b := body.(type) {
	case nil:
	case string:
		reader = strings.NewReader(b)
	case []byte:
		reader = bytes.NewReader(b)
	default:
		raw, err := json.Marshal(b)
		if err != nil {
			s.t.Fatal(err)
		}
		reader = bytes.NewReader(raw)
	}
	req := httptest.NewRequest(method, path, reader)
	req.Header.Set("Content-Type", "application/json")
	for k, v := range header {
		req.Header.Set(k, v)
	}
	rec := httptest.NewRecorder()
	s.e.ServeHTTP(rec, req)
	return rec
}

// seat is a signed-in device.
type seat struct {
	device, cookie string
	key            auth.Key
	wire.Session
}

func (s *server) signIn(login string) seat {
	s.t.Helper()
	out := seat{device: uuid.NewString()}
	var err error
	if out.key, err = auth.NewKey(); err != nil {
		s.t.Fatal(err)
	}
	public, err := out.key.Public()
	if err != nil {
		s.t.Fatal(err)
	}
	rec := s.send(
		"POST",
		"/api/v1/signin",
		wire.SignIn{Login: login, Password: password, Device: out.device, Key: public},
		nil,
	)
	if rec.Code != http.StatusOK {
		s.t.Fatalf("sign-in of %s: %d %s", login, rec.Code, rec.Body)
	}
	if err := json.Unmarshal(rec.Body.Bytes(), &out.Session); err != nil {
		s.t.Fatal(err)
	}
	out.cookie, _, _ = strings.Cut(rec.Header().Get("Set-Cookie"), ";")
	return out
}

// seatOf opens a session behind the doors, where no door slows down.
func (s *server) seatOf(login string) seat {
	s.t.Helper()
	q := seat{device: uuid.NewString()}
	var err error
	if q.key, err = auth.NewKey(); err != nil {
		s.t.Fatal(err)
	}
	public, _ := q.key.Public()
	secret, hash, _ := auth.NewSecret()
	key, _ := auth.ReadKey(public)
	opened, err := s.store.OpenSession(s.t.Context(), store.Opening{Farm: s.farm, Person: s.ids[login],
		Device: q.device, Key: key, Token: hash, At: s.clock})
	if err != nil {
		s.t.Fatal(err)
	}
	q.cookie = cookieName + q.device + "=" + secret
	q.Access, _, err = s.signer.Access(auth.Holder{Farm: s.farm, Person: s.ids[login],
		Device: q.device, Session: opened.Session})
	if err != nil {
		s.t.Fatal(err)
	}
	return q
}

func (q seat) bearer() map[string]string {
	return map[string]string{"Authorization": "Bearer " + q.Access}
}

func (s *server) syncPath() string { return "/api/v1/farms/" + s.farm + "/sync" }

func (q seat) request(push ...json.RawMessage) wire.SyncRequest {
	return wire.SyncRequest{Proto: 1, Schema: 1, Device: q.device, Push: push}
}

func TestBadInputIsNeverAServerError(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	big := `{"proto":1,"push":["` + strings.Repeat("x", 5<<20) + `"]}`
	for name, tt := range map[string]struct {
		body any
		want int
	}{
		"empty":          {"", 422},
		"truncated":      {`{"proto":1,"sch`, 422},
		"not an object":  {`[1,2]`, 422},
		"unknown key":    {`{"proto":1,"sender":"x"}`, 422},
		"wrong type":     {`{"proto":"one"}`, 422},
		"other protocol": {wire.SyncRequest{Proto: 9, Device: q.device}, 422},
		"other device":   {wire.SyncRequest{Proto: 1, Device: uuid.NewString()}, 422},
		"cursor below 0": {wire.SyncRequest{Proto: 1, Device: q.device, Cursor: -1}, 422},
		"bad epoch":      {wire.SyncRequest{Proto: 1, Device: q.device, Epoch: "yesterday"}, 422},
		"too large":      {big, 413},
		"trailing text":  {`{"proto":1,"schema":1,"device":"` + q.device + `","epoch":"","cursor":0,"push":[]} more`, 422},
	} {
		rec := s.send("POST", s.syncPath(), tt.body, q.bearer())
		var answer struct{ Error wire.Problem }
		if err := json.Unmarshal(rec.Body.Bytes(), &answer); rec.Code != tt.want || err != nil ||
			answer.Error.Message == "" {
			t.Errorf("%s: %d %s, want %d with a message", name, rec.Code, rec.Body, tt.want)
		}
	}
}

func TestGzipBombIsRefused(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	for range 64 {
		w.Write(bytes.Repeat([]byte(" "), 1<<20))
	}
	w.Close()
	header := q.bearer()
	header["Content-Encoding"] = "gzip"
	if rec := s.send("POST", s.syncPath(), packed.Bytes(), header); rec.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("64 MiB of blanks: %d, want 413", rec.Code)
	}
	if rec := s.send("POST", s.syncPath(), "not gzip", header); rec.Code != 422 {
		t.Errorf("false gzip: %d, want 422", rec.Code)
	}
}

func TestGzipPushIsTaken(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	mutation, err := feed.NewMutation(
		1,
		uuid.NewString(),
		"grower",
		0,
		wire.Grower{Name: "G"},
		time.Now(),
	)
	if err != nil {
		t.Fatal(err)
	}
	raw, _ := json.Marshal(q.request(mutation))
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	w.Write(raw)
	w.Close()
	header := q.bearer()
	header["Content-Encoding"] = "gzip"
	rec := s.send("POST", s.syncPath(), packed.Bytes(), header)
	if rec.Code != 200 || !strings.Contains(rec.Body.String(), `"outcome":"applied"`) {
		t.Errorf("%d %s", rec.Code, rec.Body)
	}
}

func TestForeignAccountIsNotFound(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	q := s.signIn("owner")
	for _, path := range []string{"/sync", "/people", "/fields", "/fields/" + uuid.NewString() + "/result?cropYear=2027"} {
		method := "GET"
		if path == "/sync" {
			method = "POST"
		}
		rec := s.send(method, "/api/v1/farms/"+uuid.NewString()+path, q.request(), q.bearer())
		if rec.Code != http.StatusNotFound {
			t.Errorf("%s of a foreign account: %d, want 404", path, rec.Code)
		}
	}
}

func TestWrongPasswordsSlowDown(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	try := func(pass string) *httptest.ResponseRecorder {
		return s.send(
			"POST",
			"/api/v1/signin",
			wire.SignIn{Login: "owner", Password: pass, Device: uuid.NewString()},
			nil,
		)
	}
	for range freeTries {
		if rec := try("wrong"); rec.Code != 401 {
			t.Fatalf("wrong password: %d, want 401", rec.Code)
		}
	}
	rec := try(password)
	if rec.Code != http.StatusTooManyRequests || rec.Header().Get("Retry-After") == "" {
		t.Errorf(
			"after %d wrong ones: %d, Retry-After %q; want 429 with a wait",
			freeTries,
			rec.Code,
			rec.Header().Get("Retry-After"),
		)
	}
}

func TestOneTimeLinkMakesTheFirstOwnerOnce(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	dsn := pgtest.Database(t)
	admin, err := store.OpenAdmin(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer admin.Close(ctx)
	s := newServer(t)
	st, err := store.Open(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(st.Close)
	s.e = echo.New()
	signer, _ := auth.NewSigner(bytes.Repeat([]byte("k"), 32), time.Now)
	Mount(s.e, Deps{Store: st, Signer: signer, Now: time.Now, Ready: st.Ping,
		Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Door: feed.Door{Log: st.Log(), Now: time.Now}})
	farm := uuid.NewString()
	link, hash, _ := auth.NewLink(farm)
	if err := admin.AddLink(ctx, farm, "", hash, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	body := wire.FirstOwner{
		Link:     link,
		Account:  "Ours",
		Name:     "Me",
		Login:    "me",
		Password: password,
		TimeZone: "America/Regina",
		Currency: "CAD",
		Device:   uuid.NewString(),
	}
	bad := body
	bad.TimeZone = "Moon/Far"
	if rec := s.send("POST", "/api/v1/first-owner", bad, nil); rec.Code != 422 {
		t.Errorf("a wrong time zone: %d, want 422 and the link still good", rec.Code)
	}
	rec := s.send("POST", "/api/v1/first-owner", body, nil)
	if rec.Code != 200 || !strings.Contains(rec.Body.String(), `"accountName":"Ours"`) {
		t.Fatalf("first owner: %d %s", rec.Code, rec.Body)
	}
	if rec := s.send("POST", "/api/v1/first-owner", body, nil); rec.Code != 404 {
		t.Errorf("the link a second time: %d, want 404", rec.Code)
	}
}
