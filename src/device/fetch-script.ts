/** What the script is made for. Everything is told by the profile; nothing is guessed on the device. */
export interface FetchTarget {
  /** Folder of the games part as the device mounts it. */
  readonly gamesRoot: string;
  /** Folders to copy, as the device sees them, each with the name it gets in the result (`settings`, `sill`). */
  readonly folders: readonly { readonly name: string; readonly path: string }[];
  /** Folders in which core files lie. */
  readonly coreFolders: readonly string[];
  /** Positions in the order in which they are to be pressed. */
  readonly pressTest: readonly string[];
  /** Seconds to press them in. */
  readonly seconds: number;
}

/** Any text as one word of a POSIX shell (XCU 2.2.2): in single quotes, each of which is closed, escaped and opened again. */
export function quoteForShell(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}

/**
 * The script that a device runs to bring its files and controls: plain POSIX sh with nothing but what busybox has, needing
 * no terminal and no execute bit. It writes only below `thumbwright-fetch/NUMBER` of the games part, a new number each
 * time, and ends in DONE.txt. It copies files of up to 1 MiB; larger ones are listed by size.
 */
export function fetchScript({ gamesRoot, folders, coreFolders, pressTest, seconds }: FetchTarget): string {
  const copies = folders.map(({ name, path }) => `copy_folder ${quoteForShell(name)} ${quoteForShell(path)}`);
  const cores = coreFolders.map((folder) => `list_cores ${quoteForShell(folder)}`);
  return `#!/bin/sh
# Brings this device's settings and controls over to thumbwright. It changes nothing but the folder
# thumbwright-fetch on the games part. Made by thumbwright; run it from the script menu, by remote login
# (sh this-file) or over a share.
LC_ALL=C
export LC_ALL
umask 022
games=\${THUMBWRIGHT_GAMES:-${quoteForShell(gamesRoot)}}
input=\${THUMBWRIGHT_INPUT:-/dev/input}
proc=\${THUMBWRIGHT_PROC:-/proc}
seconds=\${THUMBWRIGHT_SECONDS:-${String(Math.max(0, Math.floor(seconds)))}}

fail() {
  printf '%s\\n' "thumbwright: $1" >&2
  exit 1
}

[ -d "$games" ] || fail "there is no folder $games"
number=1
mkdir "$games/thumbwright-fetch" 2>/dev/null
while [ -e "$games/thumbwright-fetch/$number" ]; do number=$((number + 1)); done
out=$games/thumbwright-fetch/$number
mkdir "$out" 2>/dev/null || fail "nothing can be written to $games; is it full, or read-only?"
trouble=$out/trouble.txt
: >"$trouble" || fail "nothing can be written to $out"
note() { printf '%s\\n' "$1" >>"$trouble"; }

# Folders: files of up to 1 MiB each, no links, no devices; what is larger is listed.
copy_folder() {
  if [ ! -d "$2" ]; then
    note "no folder: $2"
    return
  fi
  mkdir -p "$out/files/$1"
  (cd "$2" && find . -type d) | while IFS= read -r folder; do
    mkdir -p "$out/files/$1/$folder" 2>/dev/null || note "no room for the folder: $2/$folder"
  done
  (cd "$2" && find . -type f -size -2049) | while IFS= read -r file; do
    cp "$2/$file" "$out/files/$1/$file" 2>/dev/null || note "not copied: $2/$file"
  done
  (cd "$2" && find . -type f -size +2048 -exec ls -ln {} \\;) >"$out/files/$1.larger.txt" 2>/dev/null
}

list_cores() {
  if [ ! -d "$1" ]; then
    note "no folder: $1"
    return
  fi
  find "$1" -type f | while IFS= read -r file; do
    bytes=$(wc -c <"$file")
    hash=$(sha1sum "$file" 2>/dev/null)
    printf '%s %s %s\\n' "$((bytes))" "\${hash%% *}" "$file" >>"$out/cores.txt"
  done
}

# The system itself.
{
  printf 'made: %s\\n' "$(date '+%Y-%m-%d %H:%M')"
  printf 'word-size: %s\\n' "$(getconf LONG_BIT 2>/dev/null || echo unknown)"
  printf 'machine: %s\\n' "$(uname -a)"
} >"$out/about.txt"
# A 64-bit process has 16 hexadecimal digits in the addresses of its own memory map.
if grep -q 'word-size: unknown' "$out/about.txt"; then
  first=$(head -n 1 /proc/self/maps 2>/dev/null)
  first=\${first%%-*}
  if [ "\${#first}" -gt 8 ]; then size=64; else size=32; fi
  sed "s/word-size: unknown/word-size: $size/" "$out/about.txt" >"$out/about.new" && mv "$out/about.new" "$out/about.txt"
fi
cp "$proc/bus/input/devices" "$out/inputs.txt" 2>/dev/null || note "no list of inputs"
cp "$proc/mounts" "$out/mounts.txt" 2>/dev/null || note "no list of mounts"
cp "$proc/partitions" "$out/partitions.txt" 2>/dev/null || note "no list of parts"
df -k >"$out/sizes.txt" 2>/dev/null
for file in /etc/os-release /etc/*-release /etc/*version*; do
  [ -f "$file" ] && cat "$file" >>"$out/releases.txt" 2>/dev/null
done
${copies.join('\n')}
${cores.join('\n')}

# The press test: raw event bytes of every input, while the controls are pressed one after the other.
cat >"$out/press-order.txt" <<'THUMBWRIGHT'
${pressTest.join('\n')}
THUMBWRIGHT
printf '%s\\n' "For $seconds seconds, press these one after the other, each for half a second. Skip what is not there:"
cat "$out/press-order.txt"
readers=
if [ "$seconds" -gt 0 ]; then
  mkdir -p "$out/events"
  for device in "$input"/event*; do
    [ -e "$device" ] || continue
    cat "$device" >"$out/events/\${device##*/}" 2>/dev/null &
    readers="$readers $!"
  done
  sleep "$seconds"
  for reader in $readers; do kill "$reader" 2>/dev/null; done
  wait 2>/dev/null
fi

{
  printf 'thumbwright fetch %s, %s\\n\\n' "$number" "$(date '+%Y-%m-%d %H:%M')"
  printf 'Done. Bring the card, or this folder, to the desktop:\\n  thumbwright fetch thumbwright-fetch/%s\\n' "$number"
  if [ -s "$trouble" ]; then
    printf '\\nNot everything could be brought:\\n'
    cat "$trouble"
  fi
} >"$out/DONE.txt" 2>/dev/null || fail "the games part is full; DONE.txt could not be written"
[ -s "$out/DONE.txt" ] || fail "the games part is full; DONE.txt could not be written"
sync
printf '%s\\n' "Done: $out/DONE.txt"
`;
}
