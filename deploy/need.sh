# What the program needs from the machine. Sourced by run and test.
#
# First everything that cannot be installed here is named, all at once, and nothing is changed;
# only then the package manager is asked for the rest.

go_least=26      # Go 1.26
node_least=20    # Node 20
postgres_least=15

lacking=()       # what a person has to get
packages=()      # what apt will get

lack() { lacking+=("$1"); }

check_go() {
  local version
  if ! command -v go >/dev/null && [ -x /usr/local/go/bin/go ]; then
    PATH="$PATH:/usr/local/go/bin"
  fi
  # From / and with the local toolchain: in here an old Go would try to fetch a newer one.
  version=$(cd / && GOTOOLCHAIN=local go env GOVERSION 2>/dev/null) || version=none
  if ! [[ $version =~ ^go1\.([0-9]+) ]] || ((BASH_REMATCH[1] < go_least)); then
    lack "Go 1.$go_least or newer (found: $version). Get it from https://go.dev/dl/"
  fi
}

check_node() {
  local version
  version=$(node --version 2>/dev/null) || version=none
  if ! [[ $version =~ ^v([0-9]+) ]] || ((BASH_REMATCH[1] < node_least)); then
    lack "Node $node_least or newer (found: $version). Get it from https://nodejs.org/en/download"
  fi
  command -v npm >/dev/null ||
    lack "npm (found: none). It comes with Node: https://nodejs.org/en/download"
}

# can_apt: is this a Debian or Ubuntu where we may install packages?
can_apt() {
  command -v apt-get >/dev/null && { [ "$(id -u)" = 0 ] || command -v sudo >/dev/null; }
}

# postgres_fits DIR: does this folder hold a PostgreSQL that serves?
postgres_fits() {
  [ -x "$1/postgres" ] && [ -x "$1/initdb" ] &&
    [[ $("$1/postgres" --version 2>/dev/null) =~ PostgreSQL\)?\ ([0-9]+) ]] &&
    ((BASH_REMATCH[1] >= postgres_least))
}

# has_postgres looks where the program itself looks (internal/pgrun/binary.go).
has_postgres() {
  local dir
  for dir in "${PG_BINDIR:-/nonexistent}" /usr/lib/postgresql/*/bin /usr/pgsql-*/bin \
    /opt/homebrew/opt/postgresql@*/bin /usr/local/opt/postgresql@*/bin \
    /Applications/Postgres.app/Contents/Versions/*/bin \
    "$(pg_config --bindir 2>/dev/null)" "$(dirname "$(command -v postgres || echo /nonexistent/x)")"; do
    if postgres_fits "$dir"; then return 0; fi
  done
  return 1
}

check_postgres() {
  if has_postgres; then return; fi
  if can_apt; then
    packages+=(postgresql)
  else
    lack "PostgreSQL $postgres_least or newer (found: none). Install it with the system's package
    manager, or set PG_BINDIR to the folder of postgres and initdb, or DATABASE_URL to a server"
  fi
}

# check_command COMMAND PACKAGE WHAT: a program that apt has under the name of a package.
check_command() {
  if command -v "$1" >/dev/null; then return; fi
  if can_apt; then packages+=("$2"); else lack "$3 (found: none). Install the package $2"; fi
}

# find_chromium prints the browser for the journeys. CHROMIUM names another.
find_chromium() {
  local name
  for name in "${CHROMIUM:-}" chromium chromium-browser google-chrome; do
    if [ -n "$name" ] && command -v "$name"; then return 0; fi
  done
  return 1
}

check_chromium() {
  if find_chromium >/dev/null; then return; fi
  if can_apt; then
    packages+=(chromium fonts-liberation)
  else
    lack "Chromium (found: none). Install the package chromium, or set CHROMIUM to its program"
  fi
}

# check_engines asks for the browsers beside Chromium where the package manager is known; elsewhere
# their step says that it cannot run.
check_engines() {
  if ! can_apt; then return; fi
  if ! command -v firefox-esr >/dev/null; then packages+=(firefox-esr); fi
  if ! command -v WebKitWebDriver >/dev/null; then packages+=(webkit2gtk-driver); fi
  if ! command -v xvfb-run >/dev/null; then packages+=(xvfb); fi
}

# stop_if_lacking names everything that a person has to get, and ends.
stop_if_lacking() {
  if ((${#lacking[@]} == 0)); then return; fi
  echo "Missing on this machine, nothing has been changed:" >&2
  printf '  - %s\n' "${lacking[@]}" >&2
  exit 1
}

# install_packages asks apt for what was found missing.
install_packages() {
  if ((${#packages[@]} == 0)); then return; fi
  local log apt=(env DEBIAN_FRONTEND=noninteractive apt-get -q -y)
  if [ "$(id -u)" != 0 ]; then apt=(sudo "${apt[@]}"); fi
  echo "installing by the package manager: ${packages[*]}"
  # Its many words matter only when it fails. Old package lists may still do, so go on with them.
  log=$(
    "${apt[@]}" update 2>&1
    "${apt[@]}" install --no-install-recommends "${packages[@]}" 2>&1
  ) || {
    echo "$log" >&2
    echo "installing ${packages[*]} failed: see above" >&2
    return 1
  }
  if [[ " ${packages[*]} " == *" postgresql "* ]] && ! has_postgres; then
    echo "the package manager's PostgreSQL is older than $postgres_least:" \
      "set PG_BINDIR or DATABASE_URL to a newer one" >&2
    return 1
  fi
}
