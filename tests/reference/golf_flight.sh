#!/bin/bash
# The flight against an independent integrator (Debian's python3-scipy), 0.05 yd on 50 random flights a model.
# Skipped, and said so, where scipy is not installed.
set -u
cd "$(dirname "$0")" || exit 1
tool=${BUILD:-build}/tests/reference_golf_flight
case $tool in /*) ;; *) tool=../../$tool ;; esac
for python in /usr/bin/python3 python3; do
  if "$python" -c 'import scipy.integrate' 2> /dev/null; then exec "$python" golf_flight.py "$tool"; fi
done
echo "ok 1 - golf flight # skip no python3-scipy here"
