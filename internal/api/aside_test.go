package api

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/wire"
)

// TestTheOwnerSettlesWhatIsSetAside: it is listed with its person and reason, for the owner alone,
// and put away it is gone from the list.
func TestTheOwnerSettlesWhatIsSetAside(t *testing.T) {
	t.Parallel()
	s := newServer(t)
	owner, scout := s.signIn("owner"), s.signIn("scout")
	push := scout.request(edit(t, 1, uuid.NewString(), "grower", map[string]any{"name": "No"}))
	if rec := s.send("POST", s.syncPath(), push, scout.bearer()); rec.Code != http.StatusOK {
		t.Fatalf("pushing: %d %s", rec.Code, rec.Body)
	}
	path := "/api/v1/farms/" + s.farm + "/asides"
	list := func() (out wire.Asides) {
		t.Helper()
		rec := s.send("GET", path, nil, owner.bearer())
		if rec.Code != http.StatusOK || json.Unmarshal(rec.Body.Bytes(), &out) != nil {
			t.Fatalf("listing: %d %s", rec.Code, rec.Body)
		}
		return out
	}
	found := list().Asides
	if len(found) != 1 || found[0].PersonName != "Scout" || found[0].N != 1 || found[0].ShutOut ||
		found[0].Problem.Code != "role" || !strings.Contains(found[0].Text, `"grower"`) {
		t.Fatalf("the list is %+v", found)
	}
	for _, q := range []seat{scout} {
		if rec := s.send("GET", path, nil, q.bearer()); rec.Code != http.StatusForbidden {
			t.Errorf("a scout listed it: %d %s", rec.Code, rec.Body)
		}
	}
	settle := wire.SettleAside{Device: found[0].Device, Ns: []int64{1}}
	if rec := s.send("POST", path, wire.SettleAside{Device: "x", Ns: []int64{1}}, owner.bearer()); rec.Code != http.StatusUnprocessableEntity {
		t.Errorf("a wrong device: %d %s", rec.Code, rec.Body)
	}
	rec := s.send("POST", path, settle, owner.bearer())
	if rec.Code != http.StatusOK || !strings.Contains(rec.Body.String(), wire.Discarded) {
		t.Errorf("putting away: %d %s", rec.Code, rec.Body)
	}
	if left := list().Asides; len(left) != 0 {
		t.Errorf("then the list is %+v", left)
	}
}
