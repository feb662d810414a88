# shellcheck shell=sh
# Gives the start scripts the Python environment they ask for, and makes it where it is missing or out of date.
# Sourced with $root set to the project's folder. The usual start only compares a checksum; all else is the first start.

# environment FOLDER LOCK: FOLDER holds a working environment with what LOCK lists, or the start ends here.
environment() {
    stamp=$(cd "$root" && cksum "$2" scripts/set_up.py)
    [ -x "$root/$1/bin/python" ] && [ "$stamp" = "$(cat "$root/$1/stamp" 2>/dev/null)" ] && return
    find_python
    "$python" -I "$root/scripts/set_up.py" "$1" "$2" "$stamp"
}

# Sets $python to the first Python that will do. Each is run before it is believed: a name on PATH may be a shim
# without a Python behind it, and Debian's python3 comes without venv.
find_python() {
    tried=''
    if [ -n "${FOURPLY_PYTHON:-}" ]; then
        suits "$FOURPLY_PYTHON" && return
        echo "fourply: FOURPLY_PYTHON=$FOURPLY_PYTHON will not do:${tried:- it is not there}" >&2
        exit 1
    fi
    pyenv=${PYENV_ROOT:-${HOME:-}/.pyenv}
    uv=${UV_PYTHON_INSTALL_DIR:-${XDG_DATA_HOME:-${HOME:-}/.local/share}/uv/python}
    for minor in 14 13 12; do
        for candidate in "python3.$minor" "$pyenv/versions/3.$minor".*/bin/python3 "$uv/cpython-3.$minor".*/bin/python3 \
            "/usr/local/bin/python3.$minor" "/opt/homebrew/bin/python3.$minor"; do
            suits "$candidate" && return
        done
    done
    for candidate in python3 /usr/local/bin/python3; do
        suits "$candidate" && return
    done
    no_python
}

# suits CANDIDATE: sets $python and succeeds where it is a Python that will do; otherwise adds it to $tried.
suits() {
    python=$(command -v "$1" 2>/dev/null) || return 1
    fault=$("$python" -I -c '
import sys
if sys.version_info < (3, 12):
    sys.exit("is Python %d.%d" % sys.version_info[:2])
import sysconfig
if sysconfig.get_config_var("Py_GIL_DISABLED"):
    sys.exit("is a free-threaded Python, for which some packages are not made yet")
for module in "venv", "ensurepip", "ssl", "sqlite3":
    try:
        __import__(module)
    except ImportError:
        sys.exit("lacks the module " + module)
' 2>&1) && return
    tried="$tried
    $python $(echo "${fault:-does not start}" | tail -n 1)"
    return 1
}

no_python() {
    cat >&2 <<END
fourply needs Python 3.12, 3.13 or 3.14, and found none that will do.${tried:+
Looked at:$tried}

To get one:
    Debian 13, Ubuntu 24.04 or newer    sudo apt install python3 python3-venv
    Fedora                              sudo dnf install python3
    macOS                               brew install python@3.13
    anywhere, with uv                   uv python install 3.13
    anywhere, with pyenv                pyenv install 3.13
Then start again. A Python in another place is named so:
    FOURPLY_PYTHON=/path/to/python3 ./run
END
    exit 1
}
