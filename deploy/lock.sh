#!/usr/bin/env bash
# Refreshes the lock files: names, versions and hashes, for every Python and platform the project runs on.
#
#   bash deploy/lock.sh                            add what is missing, keep the versions that stand
#   bash deploy/lock.sh --upgrade                  newest versions of everything
#   bash deploy/lock.sh --upgrade-package numpy    newest version of one
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

uv=.venv/bin/uv
[ -x "$uv" ] || uv=$(command -v uv) || {
    echo "lock.sh: needs uv: run 'bash tests/run.sh' once, or install it with 'pip install uv'" >&2
    exit 1
}

lock() {
    local output=$1
    shift
    echo "$output"
    # Extras are kept: an older pip would look for the newest version of name[extra] where only name is pinned.
    "$uv" pip compile --quiet --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
        --no-strip-extras \
        --custom-compile-command "bash deploy/lock.sh" --output-file "$output" "$@" >/dev/null
}

# The tests' lock holds everything; the others are parts of it, so that what runs is what was tested.
lock tests/requirements.lock service/pyproject.toml sdk/pyproject.toml tests/requirements.in --all-extras "$@"
lock service/requirements.lock service/pyproject.toml --constraints tests/requirements.lock
lock sdk/requirements.lock sdk/pyproject.toml --constraints tests/requirements.lock
# Tables are a command beside the service: what deploys the service goes without them.
lock deploy/requirements.lock service/pyproject.toml --extra jwt --extra otel --extra redis --constraints tests/requirements.lock
lock deploy/build-requirements.lock deploy/build-requirements.in --constraints tests/requirements.lock

if grep -nE '://|^-| @ |[ =]/' ./*/*requirements.lock; then
    echo "lock.sh: a lock file may hold names, versions and hashes only" >&2
    exit 1
fi
