#!/bin/bash
# build.sh OUTDIR: builds what the rig runs on, OUTDIR/linux-uml (a kernel that runs as a program) and
# OUTDIR/root.img (a small Debian with Chromium). Needs root on Debian on x86-64 and what apt gets from
# the machine's own package sources; some 10 minutes and 6 GB on two cores, of which 1 GB stays.
# Delete one of the two to build it anew.
set -euo pipefail
HERE=$(cd "$(dirname "$0")" && pwd); mkdir -p "$1"; OUT=$(realpath "$1"); WORK=$OUT/work
SOURCES=${APT_SOURCES:-/etc/apt/sources.list.d/debian.sources}
. /etc/os-release
INSIDE=chromium,python3,udev,procps,busybox-static,dash,fonts-dejavu-core,xserver-xorg-core,xserver-xorg-video-dummy,xserver-xorg-input-libinput
export DEBIAN_FRONTEND=noninteractive
mkdir -p "$WORK"
apt-get update -q
apt-get install -y -q --no-install-recommends mmdebstrap e2fsprogs gcc make flex bison bc libelf-dev xz-utils

# --- the kernel, from Debian's kernel source: HID, uhid, joydev and evdev built in. From a newer suite: since 6.16
# it can run on seccomp instead of ptrace, twice as fast.
KERNEL_SUITE=${KERNEL_SUITE:-trixie-backports}
if ! [ -x "$OUT/linux-uml" ]; then
  U=$WORK/kernel; rm -rf "$U"; mkdir -p "$U"/apt/lists/partial "$U"/apt/cache/archives/partial "$U/apt/etc"
  # The first stanza of the machine's own package sources, with the suite changed; kept out of the machine's own apt.
  awk 'BEGIN{RS=""} NR==1' "$SOURCES" | sed "s/^Suites:.*/Suites: $KERNEL_SUITE/" > "$U/apt/etc/kernel.sources"
  cat > "$U/apt.conf" <<CONF
Dir::State::lists "$U/apt/lists";
Dir::Cache "$U/apt/cache";
Dir::Etc::sourcelist "/dev/null";
Dir::Etc::sourceparts "$U/apt/etc/";
CONF
  export APT_CONFIG=$U/apt.conf
  apt-get update -q
  SOURCE=$(apt-cache depends linux-source | awk '/Depends: linux-source-/{print $2; exit}')
  (cd "$U" && apt-get download -q "$SOURCE" && dpkg-deb -x linux-source-*.deb x && tar xf x/usr/src/linux-source-*.tar.xz)
  unset APT_CONFIG
  cd "$U/$SOURCE"
  # Old sources keep input devices from such kernels by this one line; nothing in them needs hardware.
  sed -i '/^menu "Input device support"/,/^if INPUT/{/depends on !UML/d}' drivers/input/Kconfig
  make ARCH=um x86_64_defconfig
  for o in NO_HZ_IDLE HIGH_RES_TIMERS POSIX_MQUEUE DEVTMPFS DEVTMPFS_MOUNT TMPFS TMPFS_XATTR BLK_DEV_UBD EXT4_FS HOSTFS UNIX INET \
    EXPERT VT DUMMY_CONSOLE INPUT INPUT_EVDEV INPUT_JOYDEV INPUT_MOUSEDEV INPUT_FF_MEMLESS INPUT_KEYBOARD INPUT_MISC INPUT_UINPUT \
    HID_SUPPORT HID HIDRAW UHID HID_GENERIC AIO MEMBARRIER RSEQ NAMESPACES USER_NS SECCOMP DEBUG_INFO_NONE SMP; do echo "CONFIG_$o=y"; done >> .config
  for o in VT_CONSOLE IPV6 PACKET NETDEVICES MODULES SOUND UML_SOUND WATCHDOG STATIC_LINK WERROR; do echo "CONFIG_$o=n"; done >> .config
  echo CONFIG_NR_CPUS=4 >> .config
  make ARCH=um olddefconfig
  for o in UHID HIDRAW HID_GENERIC INPUT_JOYDEV INPUT_EVDEV HOSTFS BLK_DEV_UBD EXT4_FS; do
    grep -q "^CONFIG_$o=y" .config || { echo "The kernel's option $o is off." >&2; exit 1; }
  done
  make -s ARCH=um -j$(( $(nproc) + 2 )) linux
  strip -o "$OUT/linux-uml.new" linux; mv "$OUT/linux-uml.new" "$OUT/linux-uml"; cd "$HERE"
fi

# --- the root file system
if ! [ -e "$OUT/root.img" ]; then
  R=$WORK/root; rm -rf "$R"
  mmdebstrap --mode=root --variant=essential --include="$INSIDE" \
    --aptopt='Apt::Install-Recommends "false"' \
    --dpkgopt='path-exclude=/usr/share/doc/*' --dpkgopt='path-exclude=/usr/share/man/*' \
    --dpkgopt='path-exclude=/usr/share/locale/*' \
    "$VERSION_CODENAME" "$R" "$SOURCES"
  mkdir -p "$R"/{proc,sys,dev,run,tmp,web,out,rig,etc/chromium/policies/managed,var/lib/xkb}
  ln -sfn /run/machine-id "$R/etc/machine-id"
  cat > "$R/sbin/rig-boot" <<'INIT'
#!/bin/busybox sh
# The first process: mounts folders of the machine outside, then hands over to the script in them.
b=/bin/busybox
export PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8
[ -e /proc/self ] || $b mount -t proc proc /proc
[ -e /sys/class ] || $b mount -t sysfs sys /sys
[ -e /dev/null ] || $b mount -t devtmpfs dev /dev
for t in tmp run root var/log var/tmp var/lib/xkb; do $b mount -t tmpfs none /$t; done
$b mount -t hostfs -o ro none /rig -o "$RIG_DIR"
$b mount -t hostfs -o ro none /web -o "$RIG_WEB"
$b mount -t hostfs none /out -o "$RIG_OUT"
$b sh /rig/init.sh
$b sync; $b poweroff -f
INIT
  chmod +x "$R/sbin/rig-boot"
  SIZE=$(( $(du -sm "$R" | cut -f1) * 115 / 100 + 64 ))
  rm -f "$OUT/root.new"
  mkfs.ext4 -q -O ^has_journal,^metadata_csum -m 0 -L rigroot -d "$R" "$OUT/root.new" "${SIZE}M"
  mv "$OUT/root.new" "$OUT/root.img"
fi
rm -rf "$WORK"
ls -la "$OUT"
