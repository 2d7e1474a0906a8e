#!/bin/sh
# Builds the program and installs it for the present user, with its icon, its entry in the desktop's menu and the type
# of its files. With --remove it takes all of that away again.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
bin="$HOME/.local/bin"
share="${XDG_DATA_HOME:-$HOME/.local/share}"
entry="$share/applications/midspan.desktop"
icon="$share/icons/hicolor/scalable/apps/midspan.svg"
type="$share/mime/packages/midspan-job.xml"

refresh() {
    # A desktop that lacks one of these finds the files at its next start.
    if command -v update-mime-database >/dev/null; then update-mime-database "$share/mime"; fi
    if command -v update-desktop-database >/dev/null; then update-desktop-database "$share/applications"; fi
    if command -v gtk-update-icon-cache >/dev/null; then gtk-update-icon-cache -q -t -f "$share/icons/hicolor" || true; fi
}

case "${1:-}" in
--remove)
    rm -f "$bin/midspan" "$entry" "$icon" "$type"
    refresh
    echo "Midspan is taken away. Your jobs stay where they are."
    exit 0
    ;;
"") ;;
*)
    echo "usage: sh assets/desktop/install.sh [--remove]" >&2
    exit 1
    ;;
esac

cargo build --release --locked --manifest-path "$root/Cargo.toml"
target=${CARGO_TARGET_DIR:-$root/target}
mkdir -p "$bin" "$(dirname "$entry")" "$(dirname "$icon")" "$(dirname "$type")"
install -m 755 "$target/release/midspan" "$bin/midspan"
# The menu need not know where programs of this user are.
sed "s|^Exec=midspan|Exec=\"$bin/midspan\"|" "$here/midspan.desktop" >"$entry"
install -m 644 "$here/midspan.svg" "$icon"
install -m 644 "$here/midspan-job.xml" "$type"
refresh
echo "Midspan is in $bin and in the desktop's menu; job files open with it."
