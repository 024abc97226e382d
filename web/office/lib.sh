# What the scripts of the office share. Source it: . "$(dirname "$0")/lib.sh"

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
home=/var/lib/tawny
web_user=www-data

say() {
  printf '%s\n' "$*" >&2
}

die() {
  say "$*"
  exit 1
}

is_root() {
  [ "$(id -u)" = 0 ]
}

# These stand in the server's settings, where a blank or a quote would mean something else.
must_be_plain_path() {
  [[ $1 =~ ^/[A-Za-z0-9._/-]*$ ]] || die "'$1' must be a whole path of letters, digits and . _ - /"
}

# The web server alone may change the depot. Without root, everything belongs to who runs this.
give_to_web_server() {
  ! is_root || chown -R "$web_user:$web_user" "$@"
}

# damaged_segments FOLDER: those whose bytes do not fit the hash in their names, and what is no segment, one a line.
damaged_segments() {
  (
    cd "$1"
    find . -type f ! -name '*-????????????????.jsonl' -printf '%P\n'
    find . -type f -name '*-????????????????.jsonl' -print0 | xargs -0 -r sha256sum |
      awk '{name = $2; sub(/^\.\//, "", name); hash = name; sub(/^.*-/, "", hash); sub(/\.jsonl$/, "", hash)}
           substr($1, 1, 16) != hash {print name}'
  )
}

count_segments() {
  find "$1" -type f -name '*.jsonl' | wc -l
}
