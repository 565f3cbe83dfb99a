# Runs as root inside the small Linux, from the read-only share /rig, by its first process.
b=/bin/busybox
$b mount -t devpts devpts /dev/pts 2>/dev/null || { $b mkdir -p /dev/pts; $b mount -t devpts devpts /dev/pts; }
$b mkdir -p /dev/shm; $b mount -t tmpfs shm /dev/shm
$b ip link set lo up; $b hostname rig
echo 0123456789abcdef0123456789abcdef > /run/machine-id
exec </dev/null
/lib/systemd/systemd-udevd --daemon
udevadm trigger --action=add; udevadm settle -t 5
cd /tmp && python3 -u /rig/scenarios.py "$RIG_SCENARIO" /out
