package main

import (
	"os"
	"strconv"
	"strings"

	"hilum/internal/fault"
)

// config is all that the environment says. README.md has the table.
type config struct {
	port        int    // PORT
	databaseURL string // DATABASE_URL
	tlsCert     string // TLS_CERT
	tlsKey      string // TLS_KEY
	acmeHost    string // ACME_HOST
	verbose     bool   // HILUM_LOG=info
	photos      string // HILUM_PHOTOS
}

// known are the variables with our prefix; an unknown one is a typing error and refused.
var known = map[string]bool{"HILUM_DATA": true, "HILUM_LOG": true, "HILUM_TEST_DSN": true,
	"HILUM_PHOTOS": true}

// readConfig reads the environment and names every fault at once.
func readConfig() (config, error) {
	c := config{
		port: 8080, databaseURL: os.Getenv("DATABASE_URL"), acmeHost: os.Getenv("ACME_HOST"),
		photos: os.Getenv("HILUM_PHOTOS"),
		tlsCert: os.Getenv(
			"TLS_CERT",
		), tlsKey: os.Getenv("TLS_KEY"), verbose: os.Getenv("HILUM_LOG") == "info",
	}
	var wrong []string
	if text := os.Getenv("PORT"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > 65535 {
			wrong = append(wrong, "PORT is "+strconv.Quote(text)+", accepted 1 to 65535")
		}
		c.port = n
	}
	if (c.tlsCert == "") != (c.tlsKey == "") {
		wrong = append(wrong, "TLS_CERT and TLS_KEY go together: both or neither")
	}
	if c.acmeHost != "" && c.tlsCert != "" {
		wrong = append(
			wrong,
			"ACME_HOST fetches its own certificate: leave TLS_CERT and TLS_KEY out",
		)
	}
	if v := os.Getenv("HILUM_LOG"); v != "" && v != "info" {
		wrong = append(wrong, "HILUM_LOG is "+strconv.Quote(v)+", accepted: info")
	}
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		if strings.HasPrefix(name, "HILUM_") && !known[name] {
			wrong = append(wrong, name+" is not a setting of this program")
		}
	}
	if len(wrong) > 0 {
		return c, fault.New(fault.Invalid, "config", "%s", strings.Join(wrong, "; "))
	}
	return c, nil
}
