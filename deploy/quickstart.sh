#!/usr/bin/env bash
# Installs the service and the SDK, starts the service on this machine with the demo catalogue, sizes the
# demo site with the SDK and writes the answer to upstroke-quickstart.json in the current folder.
#
#   bash deploy/quickstart.sh [--serve] [--port N]
#
#   --serve     leaves the service running until Ctrl-C
#   --port N    port on 127.0.0.1 (default 8080)
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/environment.sh"
usage="usage: bash deploy/quickstart.sh [--serve] [--port N]"
seconds_to_start=30
seconds_to_stop=10
output=upstroke-quickstart.json
quote=$root/service/src/upstroke_service/demo/quotes/pressure-head-decides.json
serve=false
port=8080

while [ $# -gt 0 ]; do
    case $1 in
    --serve) serve=true ;;
    --port)
        [[ ${2:-} =~ ^[1-9][0-9]{3,4}$ && $2 -ge 1024 && $2 -le 65535 ]] ||
            fail "--port takes a number from 1024 to 65535
$usage"
        port=$2
        shift
        ;;
    -h | --help)
        echo "$usage"
        exit
        ;;
    *) fail "unknown argument: $1
$usage" ;;
    esac
    shift
done

prepare_environment .venv-quickstart \
    service/requirements.lock sdk/requirements.lock deploy/build-requirements.lock
url=http://127.0.0.1:$port
export NO_PROXY="127.0.0.1${NO_PROXY:+,$NO_PROXY}" no_proxy="127.0.0.1${no_proxy:+,$no_proxy}"

port_is_free() {
    "$bin/python" -c '
import socket, sys
with socket.socket() as probe:
    probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    probe.bind(("127.0.0.1", int(sys.argv[1])))' "$port" 2>/dev/null
}
is_ready() {
    "$bin/python" -c '
import sys, urllib.request
urllib.request.urlopen(sys.argv[1], timeout=2)' "$url/readyz" >/dev/null 2>&1
}
is_running() { [ -n "$service" ] && kill -0 "$service" 2>/dev/null; }

stop_service() {
    local deadline=$((SECONDS + seconds_to_stop))
    is_running && kill -TERM "$service"
    while is_running && [ $SECONDS -lt $deadline ]; do sleep 0.1; done
    is_running && kill -KILL "$service"
    rm -f "$log"
}
service_failed() {
    echo "The last lines of the service's log:" >&2
    tail -n 20 "$log" >&2
    fail "$1"
}

port_is_free || fail "port $port is taken by another program; choose another:
    bash deploy/quickstart.sh --port $((port < 65535 ? port + 1 : 1024))"
log=$(mktemp)
service=
trap stop_service EXIT
trap 'exit 130' INT
trap 'exit 143' TERM
echo "Starting the service on $url"
"$bin/python" -m upstroke_service --host 127.0.0.1 --port "$port" >"$log" 2>&1 &
service=$!

deadline=$((SECONDS + seconds_to_start))
until is_ready; do
    is_running || service_failed "the service ended before it was ready"
    [ $SECONDS -lt $deadline ] || service_failed "the service was not ready within $seconds_to_start seconds"
    sleep 0.2
done

"$bin/python" -m upstroke.quickstart --url "$url" --request "$quote" --output "$output" || service_failed "the demo request failed"

if $serve; then
    trap 'exit 0' INT TERM # the way to stop it
    printf '\nThe service listens on %s (its contract: %s/openapi.json). Ctrl-C stops it.\n' "$url" "$url"
    wait "$service" || true
    service_failed "the service ended by itself"
fi
