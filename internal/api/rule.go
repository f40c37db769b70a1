package api

import (
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"hilum/internal/fault"
)

// Who may use a route.
var (
	anybody  = []string(nil) // nobody is signed in yet
	everyone = []string{"owner", "consultant", "scout", "grower"}
	workers  = []string{"owner", "consultant", "scout"} // who sync
	planners = []string{"owner", "consultant"}
	owners   = []string{"owner"}
	growers  = []string{"grower"}
)

// rule is one route and who may use it. The table below is the only way by which a route gets
// mounted, and the tests try each row with each role, in its own account and in another one.
type rule struct {
	method string
	path   string // under /api/v1; under the account when it begins with it
	may    []string
	handle echo.HandlerFunc
	more   []echo.MiddlewareFunc
}

// account is how the path of a route begins that belongs to one account.
const account = "/farms/:farm"

func (d Deps) rules() []rule {
	slow := middleware.RateLimiterWithConfig(guessing())
	with := func(m ...echo.MiddlewareFunc) []echo.MiddlewareFunc { return m }
	get, post, put := http.MethodGet, http.MethodPost, http.MethodPut
	return []rule{
		{get, "/version", anybody, d.version, nil},
		{post, "/signin", anybody, d.signIn, with(slow)},
		{post, "/first-owner", anybody, d.firstOwner, with(slow)},
		{post, "/reset-access", anybody, d.resetAccess, with(slow)},
		{post, "/enrol", anybody, d.enrol, with(slow)},
		{post, "/nonce", anybody, d.nonce, with(ownPage)},
		{post, "/refresh", anybody, d.refresh, with(ownPage)},
		{post, "/hand-in-ticket", anybody, d.handInTicket, with(ownPage)},
		{post, "/hand-in", anybody, d.handIn, nil}, // opened by a ticket
		{post, "/signout", anybody, d.signOut, with(ownPage)},

		{post, account + "/sync", workers, d.sync, with(middleware.GzipWithConfig(packed))},
		{get, account + "/snapshot", workers, d.snapshot, nil},
		{get, account + "/poke", workers, d.poke, nil},
		{put, account + "/photos/:sha256", workers, d.putPhoto, nil},
		{get, account + "/photos/:sha256", workers, d.getPhoto, nil},
		{get, account + "/fields", workers, d.fields, nil},
		{get, account + "/fields/:field/result", workers, d.fieldResult, nil},
		{get, account + "/people", planners, d.people, nil},
		{post, account + "/people", planners, d.addPerson, nil},
		{post, account + "/people/:person", planners, d.editPerson, nil},
		{post, account + "/people/:person/code", planners, d.makeCode, nil},
		{post, account + "/people/:person/alias", owners, d.takeOutName, nil},
		{post, account + "/devices/:device/revoke", planners, d.revoke, nil},
		{get, account + "/asides", owners, d.asides, nil},
		{post, account + "/asides", owners, d.settleAside, nil},
		{get, account + "/audit", owners, d.audit, nil},
		{get, account + "/own", growers, d.ownFields, nil},
		{get, account + "/own/:field/result", growers, d.ownResult, nil},
		{get, account + "/me", everyone, d.me, nil},
		{get, account + "/me/data", everyone, d.myData, nil},
		{post, account + "/me/password", everyone, d.setPassword, with(slow)},
		{post, account + "/me/second", everyone, d.startSecond, with(slow)},
		{post, account + "/me/second/confirm", everyone, d.confirmSecond, with(slow)},
		{post, account + "/me/second/end", everyone, d.endSecond, with(slow)},
		{post, account + "/me/devices/:device/end", everyone, d.endMine, nil},
	}
}

// mount adds a rule's route with its guards: the account's token first, then the role.
func (d Deps) mount(v1 *echo.Group, r rule) {
	guards := r.more
	if r.may != nil {
		guards = append([]echo.MiddlewareFunc{d.member, only(r.may)}, guards...)
	}
	v1.Add(r.method, r.path, r.handle, guards...)
}

// only lets these roles pass.
func only(roles []string) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			if !slices.Contains(roles, author(c).Role) {
				return fault.New(fault.Forbidden, "role", "your part in this account does not include this")
			}
			return next(c)
		}
	}
}
