#!/bin/sh
# Installs the Debian packages named as arguments, where they are missing.
set -eu

missing=
for package in "$@"; do
  status=$(dpkg-query -W -f='${Status}' "$package" 2> /dev/null || true)
  [ "$status" = "install ok installed" ] || missing="$missing $package"
done
if [ -z "$missing" ]; then
  echo "setup: all packages are here: $*"
  exit 0
fi

as_root=
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo > /dev/null; then
    echo "setup: please install as root:$missing" >&2
    exit 1
  fi
  as_root=sudo
fi
echo "setup: installing with apt-get:$missing"
$as_root apt-get update -q
# shellcheck disable=SC2086 # the list is meant to be split
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing
