# Builds the engine, the client and the server, each only if its sources changed. Sourced by
# run and test, from the top folder. Stamps in .build/ hold the hash of what went in.

# hash_of PATH...: one hash over the names and contents of files and folders.
hash_of() {
  local sum=(sha256sum)
  command -v sha256sum >/dev/null || sum=(shasum -a 256)
  find "$@" -type f -not -path '*/node_modules/*' -not -name '*_test.go' -print0 |
    LC_ALL=C sort -z | xargs -0 "${sum[@]}" | "${sum[@]}" | cut -d' ' -f1
}

versions() { go env GOVERSION GOOS GOARCH && node --version; }

# fresh NAME HASH: was this built from just that?
fresh() { [ -f ".build/$1.stamp" ] && [ "$(cat ".build/$1.stamp")" = "$2" ]; }
stamp() { echo "$2" >".build/$1.stamp"; }

build_engine() {
  mkdir -p pwa/public
  GOOS=wasip1 GOARCH=wasm go build -trimpath -buildvcs=false -ldflags='-s -w' \
    -buildmode=c-shared -o pwa/public/engine.wasm ./internal/wasm
}

install_client() {
  local hash
  hash=$(hash_of pwa/package-lock.json pwa/package.json pwa/.npmrc)
  if [ -d pwa/node_modules ] && fresh packages "$hash"; then return; fi
  (cd pwa && npm ci --no-progress --loglevel=error) && stamp packages "$hash"
}

build_client() {
  local hash
  hash=$(hash_of pwa/src pwa/public pwa/build pwa/index.html pwa/*.json pwa/*.ts internal/words)
  hash+=" $(node --version)"
  if [ -f pwa/site/app/index.html ] && fresh client "$hash"; then return; fi
  (cd pwa && npm run --silent build) && stamp client "$hash"
}

# The release level of amd64 is fixed: a newer one fuses products and sums, and the server's
# results would then differ from the phone's in the last place.
build_server() {
  CGO_ENABLED=0 GOAMD64=v1 go build -trimpath -buildvcs=false -ldflags='-s -w' \
    -o .build/hilum ./server
}

# build_all builds what needs building and says so.
build_all() {
  local hash began=$SECONDS
  mkdir -p .build
  hash="$(hash_of server internal db go.mod go.sum pwa deploy/build.sh) $(versions | tr '\n' ' ')"
  if [ -x .build/hilum ] && fresh all "$hash"; then return; fi
  echo "building engine, client and server (the first time takes a minute or two)"
  # Written out: set -e does not reach into a function that is called as a condition.
  build_engine && install_client && build_client && build_server || return 1
  # Anew: the build itself writes the engine and the client into pwa/.
  hash="$(hash_of server internal db go.mod go.sum pwa deploy/build.sh) $(versions | tr '\n' ' ')"
  stamp all "$hash"
  echo "built in $((SECONDS - began)) s"
}
