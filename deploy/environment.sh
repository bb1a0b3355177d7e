# Sourced by the scripts of deploy/ and tests/: finds a Python and keeps virtual environments that hold
# exactly what the lock files say. Sets $root; prepare_environment sets $bin.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
unset PYTHONHOME PYTHONPATH # would let other packages in

fail() {
    printf '\n%s: %s\n' "$(basename "$0")" "$1" >&2
    exit 1
}

# A name on the PATH may be a stand-in for a Python that is not there: only running it tells.
is_recent() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }
makes_environments() { "$1" -c 'import ensurepip, venv' >/dev/null 2>&1; }

# Sets $python: the interpreter in $PYTHON, or else the first one that will do.
find_python() {
    local candidate incomplete= candidates=(python3.13 python3.12 python3.11 python3)
    [ -z "${PYTHON:-}" ] || candidates=("$PYTHON")
    for candidate in "${candidates[@]}"; do
        is_recent "$candidate" || continue
        if makes_environments "$candidate"; then
            python=$candidate
            return
        fi
        incomplete=${incomplete:-$candidate}
    done
    if [ -n "$incomplete" ]; then
        fail "$incomplete lacks the venv module; on Debian and Ubuntu install it with
    apt install $(basename "$incomplete")-venv"
    elif [ -n "${PYTHON:-}" ]; then
        fail "PYTHON=$PYTHON is not a Python 3.11 or newer"
    fi
    fail "needs Python 3.11 or newer and found none; install one, or name it: PYTHON=/path/to/python bash $0"
}

# Prints the hash of the files named and of the interpreter.
fingerprint() {
    "$python" -c '
import hashlib, pathlib, sys
digest = hashlib.sha256(repr((sys.version, sys.base_prefix, sys.argv[1:])).encode())
for name in sys.argv[1:]:
    digest.update(pathlib.Path(name).read_bytes())
print(digest.hexdigest())' "$@"
}

# install ENVIRONMENT PIP-ARGUMENT...: pip, silent unless it fails.
install() {
    local environment=$1 log
    shift
    log=$environment/install.log
    "$environment/bin/python" -m pip install --quiet --disable-pip-version-check "$@" >"$log" 2>&1 && return
    tail -n 12 "$log" >&2
    if grep -qiE 'connection ?(error|broken)|time(d )?out|ProxyError|SSLError|NameResolution' "$log"; then
        fail "no package index could be reached (pip's last lines are above). The first run downloads packages:
    check the network, or name a mirror with PIP_INDEX_URL, then run it again."
    fi
    fail "the locked packages could not be installed (pip's last lines are above; all of them in $log)"
}

# prepare_environment NAME LOCK...: makes NAME in the repository anew unless it already holds what the
# locks say, with both packages of the workspace installed in place. Sets $bin.
prepare_environment() {
    local environment=$root/$1 stamp lock locks=() requirements=()
    shift
    for lock in "$@"; do
        locks+=("$root/$lock")
        requirements+=(-r "$root/$lock")
    done
    find_python
    bin=$environment/bin
    stamp=$(fingerprint "${locks[@]}" "$root"/{service,sdk}/pyproject.toml)
    if [ "$stamp" = "$(cat "$environment/stamp" 2>/dev/null)" ] && "$bin/python" -c '' 2>/dev/null; then
        return
    fi
    echo "Installing the locked packages into ${environment##*/} with $("$python" --version) (once, some minutes)"
    "$python" -m venv --clear "$environment" || fail "$python could not make the environment $environment"
    install "$environment" --require-hashes --only-binary :all: "${requirements[@]}"
    install "$environment" --no-index --no-deps --no-build-isolation -e "$root/service" -e "$root/sdk"
    "$bin/python" -m pip check --disable-pip-version-check >"$environment/install.log" || {
        cat "$environment/install.log" >&2
        fail "the lock files do not hold what the packages need: refresh them with 'bash deploy/lock.sh'"
    }
    echo "$stamp" >"$environment/stamp"
}
