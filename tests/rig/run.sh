#!/bin/bash
# run.sh IMAGES WEBROOT SCENARIO OUTDIR: boots the small Linux, plays one scenario on the page in
# WEBROOT, powers off. What came of it lies in OUTDIR. Exit code: 0 played to its end, else 1.
set -eu
HERE=$(cd "$(dirname "$0")" && pwd)
IMAGES=$(realpath "$1"); WEB=$(realpath "$2"); SCENARIO=$3; mkdir -p "$4"; OUT=$(realpath "$4")
rm -f "$OUT"/*
# The kernel keeps its memory in a file; only a folder that lies in memory is fast enough.
TMPDIR=/dev/shm timeout "${RIG_TIMEOUT:-600}" "$IMAGES/linux-uml" ${RIG_KERNEL:-seccomp=on} mem=3G \
  ubd0r="$IMAGES/root.img" root=/dev/ubda ro init=/sbin/rig-boot \
  con=null ssl=null ssl0=null,fd:1 console=ttyS0 quiet loglevel=4 panic=-1 \
  RIG_DIR="$HERE/guest" RIG_WEB="$WEB" RIG_OUT="$OUT" RIG_SCENARIO="$SCENARIO" \
  </dev/null >"$OUT/console.log" 2>&1 || echo "The small Linux ended with $?." >&2
[ -e "$OUT/bars.json" ] || { tail -30 "$OUT/console.log" >&2; exit 1; }
