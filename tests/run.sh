#!/usr/bin/env bash
# Runs the checks of the workspace in an environment that it makes and keeps in .venv.
#
#   bash tests/run.sh                  every check
#   bash tests/run.sh --fast           the tests alone, without coverage
#   bash tests/run.sh tests/physics    the tests alone, with these arguments for pytest
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/../deploy/environment.sh"
core_coverage=98 # percent of the branches of physics and sizing

if [ -n "${CI:-}" ] && [ $# -gt 0 ]; then
    fail "CI runs every check: no arguments are accepted where CI is set"
fi
prepare_environment .venv tests/requirements.lock
cd "$root"
export PATH="$bin:$PATH"

if [ $# -gt 0 ]; then
    [ "$1" != --fast ] || shift
    exec python -m pytest "$@"
fi

failed=()
check() {
    local heading=$1
    shift
    printf '\n== %s\n' "$heading"
    "$@" || failed+=("$heading")
}

# Silent when kept, so that pytest's closing line stays the last one.
core_is_covered() {
    local report
    report=$(coverage report --include='*/physics/*,*/sizing/*' --fail-under="$core_coverage") || {
        printf '\nphysics and sizing need %s %% coverage:\n%s\n' "$core_coverage" "$report"
        failed+=("coverage of physics and sizing")
    }
}

check "format: ruff format --check" ruff format --check .
check "lint: ruff check" ruff check .
check "types: mypy" mypy
check "types: basedpyright" basedpyright --pythonpath "$bin/python"
check "imports: lint-imports" lint-imports --no-logo
check "tests: pytest" python -m pytest --cov --numprocesses auto --dist worksteal
core_is_covered

if [ ${#failed[@]} -gt 0 ]; then
    printf '\nFailed:\n' >&2
    printf '  %s\n' "${failed[@]}" >&2
    exit 1
fi
