#!/usr/bin/env bash
# Checks the files that deploy the service, and says which checks can't run here.
#
#   bash deploy/check.sh
#
# hadolint and kubernetes-validate come with the environment of the tests (bash tests/run.sh).
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
export PATH="$PWD/../.venv/bin:$PATH"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failed=0

# check NAME NEEDED COMMAND...: runs COMMAND, silent where it succeeds, if the command line NEEDED succeeds.
check() {
    local name=$1 needed=$2
    shift 2
    if ! bash -c "$needed" >/dev/null 2>&1; then
        echo "not run  $name: '$needed' fails here"
    elif "$@" >"$work/output" 2>&1; then
        echo "good     $name"
    else
        echo "FAULTY   $name"
        sed 's/^/         /' "$work/output"
        failed=1
    fi
}

# Names of hosts and of files that are there only once it is deployed, replaced by ones that are here.
sed -E 's/upstroke-[ab]:8080/127.0.0.1:8080/' nginx.conf >"$work/nginx.conf"
sed 's#/opt/upstroke/bin/upstroke-service#/bin/true#' upstroke@.service >"$work/upstroke@.service"
exposure=15 # of 100 in systemd's reckoning, where less is safer

check "Containerfile: hadolint" "hadolint --version" hadolint --failure-threshold info Containerfile
check "Containerfile: built" "docker info" docker build --quiet --file Containerfile ..
check "compose.yaml: docker compose config" "docker compose version" docker compose --file compose.yaml config --quiet
check "nginx.conf: nginx -t" "nginx -v" nginx -t -q -c "$work/nginx.conf" -e "$work/nginx.log"
check "upstroke@.service: keys and values" "systemd-analyze --version" \
    systemd-analyze verify --man=no --recursive-errors=yes "$work/upstroke@.service"
check "upstroke@.service: exposure at most $exposure %" "systemd-analyze --version" \
    systemd-analyze security --no-pager --offline=yes --threshold="$exposure" "$work/upstroke@.service"
check "kubernetes.yaml: published schemas" "kubernetes-validate --help" kubernetes-validate --strict kubernetes.yaml
exit $failed
