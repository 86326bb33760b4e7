#!/bin/sh
# Puzzles in a CI that runs a script: what this change breaks fails it. REV is what to compare with, unless CI's
# variables or the upstream branch say so.
set -eu
exec sidelint check --against "${REV:-auto}" --allow-empty --cache "${CACHE_DIR:-.sidelint-cache}" \
    --format text --format junit=puzzles.xml --format html=puzzles.html
