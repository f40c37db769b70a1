package site

import (
	"net"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// policy is the content security policy. Nothing inline, nothing from elsewhere; WebAssembly
// may compile; script addresses pass through the client's one trusted-types policy.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; " +
	"font-src 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'; " +
	"form-action 'none'; require-trusted-types-for 'script'; trusted-types app"

// fixed are the headers that every answer carries.
var fixed = map[string]string{
	echo.HeaderContentSecurityPolicy: policy,
	echo.HeaderXContentTypeOptions:   "nosniff",
	echo.HeaderReferrerPolicy:        "no-referrer",
	"Cross-Origin-Opener-Policy":     "same-origin",
	"Cross-Origin-Resource-Policy":   "same-origin",
	"Permissions-Policy":             "geolocation=(self), camera=(self)",
}

// yearOfTLS keeps a browser on TLS for a year.
const yearOfTLS = "max-age=31536000; includeSubDomains"

// Headers is the middleware that sets the security headers on every answer, errors included.
func Headers(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		header := c.Response().Header()
		for name, value := range fixed {
			header.Set(name, value)
		}
		// Not for this machine's own name: it would lock a developer out of plain http there.
		if secure(c.Request()) && !local(c.Request().Host) {
			header.Set(echo.HeaderStrictTransportSecurity, yearOfTLS)
		}
		return next(c)
	}
}

// secure reports whether the browser spoke TLS, to us or to a proxy in front. Whoever forges
// the proxy's header gains nothing: it only picks the page and the header that they get.
func secure(r *http.Request) bool {
	first, _, _ := strings.Cut(r.Header.Get(echo.HeaderXForwardedProto), ",")
	return r.TLS != nil || strings.EqualFold(strings.TrimSpace(first), "https")
}

// local reports whether a Host names this machine itself, where browsers trust plain http.
func local(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	host = strings.ToLower(strings.Trim(host, "[]"))
	if host == "localhost" || strings.HasSuffix(host, ".localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
