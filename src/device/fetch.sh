#!/bin/sh
# Brings this device's settings and controls over to thumbwright. It changes nothing but the folder thumbwright-fetch on
# the games part, and needs nothing but sh and busybox: no terminal, no execute bit. Start it from the menu that lists
# scripts, by remote login (sh FILE), or in any other way that runs a script. Press the controls as press-order.txt says,
# from the start until a minute is over. Made by thumbwright.

# settings: begin
device=''
games=''
folders=''
cores=''
press=''
order=''
seconds=60
# settings: end

LC_ALL=C
export LC_ALL
umask 022
root=${THUMBWRIGHT_ROOT:-}
input=${THUMBWRIGHT_INPUT:-$root/dev/input}
proc=${THUMBWRIGHT_PROC:-$root/proc}
seconds=${THUMBWRIGHT_SECONDS:-$seconds}
tab=$(printf '\t')
# Most files of one folder, and the largest file in blocks of 512 bytes, that are copied. Settings are smaller.
most=4000
blocks=2048

say() { printf '%s\n' "$1"; }
fail() {
  printf '%s\n' "thumbwright: $1" >&2
  exit 1
}

# The games part: where it is mounted; else the part on which this script lies; else the script's own folder.
games=${THUMBWRIGHT_GAMES:-${games:+$root$games}}
if [ -z "$games" ] || [ ! -d "$games" ] || [ ! -w "$games" ]; then
  own=$(dirname -- "$0")
  own=$(CDPATH='' cd -- "$own" 2>/dev/null && pwd) || fail "there is no folder $games, and this script does not know its own"
  mount=$(df -P "$own" 2>/dev/null | sed -n '2s/^.*[0-9-]%* *\(\/.*\)$/\1/p')
  games=$own
  # The system's own part is not meant, and a part that is not writable at its top may be further down.
  if [ -n "$mount" ] && [ "$mount" != / ] && [ -d "$mount" ] && [ -w "$mount" ]; then games=$mount; fi
fi

top=$games/thumbwright-fetch
mkdir "$top" 2>/dev/null
[ -d "$top" ] || fail "nothing can be written to $games: it is full or read-only"
number=1
while [ -e "$top/$number" ] || [ -e "$top/$number.part" ] || ! mkdir "$top/$number.part" 2>/dev/null; do
  number=$((number + 1))
  [ "$number" -le 9999 ] || fail "nothing can be written to $top: it is full or read-only"
done
out=$top/$number.part

readers=
timer=
stop_readers() {
  for reader in $readers $timer; do kill "$reader" 2>/dev/null; done
  readers=
  timer=
}

# Without room, half a copy helps nobody: it is taken away, which makes room for saying so.
no_room() {
  stop_readers
  wait 2>/dev/null
  rm -rf "$out"
  {
    say "thumbwright fetch, $(date '+%Y-%m-%d %H:%M') by the clock of the device"
    say ''
    say 'NOT done: the games part is full. The half copy was taken away again.'
    say 'Make some room on it (20 MB will do for most), then run the script again.'
  } >"$top/DONE.txt" 2>/dev/null
  # A name needs less room than a text.
  [ -s "$top/DONE.txt" ] || : >"$top/FULL, NOTHING BROUGHT.txt"
  sync
  fail "the games part is full; make room on $games, then run this again"
}
cut_off() {
  stop_readers
  rm -rf "$out"
  fail "stopped before the end; run this again"
}
trap cut_off HUP INT TERM
# A menu may have stopped listening to what is said.
trap '' PIPE

trouble=$out/trouble.txt
: >"$trouble" || no_room
note() { printf '%s\n' "$1" >>"$trouble"; }

# Whether there is room: some 8 KiB, the size of this script.
has_room() {
  if cp "$0" "$out/room" 2>/dev/null && [ -s "$out/room" ]; then
    rm -f "$out/room"
    return 0
  fi
  rm -f "$out/room"
  return 1
}
has_room || no_room
rm -f "$top/DONE.txt" "$top/FULL, NOTHING BROUGHT.txt"

# The press test starts at once and runs while files are copied: raw event bytes of every input.
say "$press" >"$out/press-order.txt"
say "$order" >"$top/press-order.txt"
if [ "$seconds" -gt 0 ]; then
  mkdir "$out/events" || no_room
  for device_file in "$input"/event*; do
    [ -e "$device_file" ] || continue
    cat "$device_file" >"$out/events/${device_file##*/}" 2>/dev/null &
    readers="$readers $!"
  done
  sleep "$seconds" &
  timer=$!
  say "For $seconds seconds from now, press these, one after the other:"
  say "$order"
fi

# One file. What cannot be read is noted; what cannot be written for lack of room ends the script.
copy_file() {
  cp "$1" "$2" 2>/dev/null && return 0
  rm -f "$2"
  if ! cat "$1" >/dev/null 2>&1; then
    note "cannot be read: $1"
  elif has_room; then
    note "cannot be copied, perhaps for its name: $1"
  else
    return 1
  fi
  return 0
}

# What is left where it is, in lines of ls, below the name of its folder.
list_left() {
  lines=$(cat)
  [ -z "$lines" ] || printf '== %s\n%s\n' "$1" "$lines" >>"$out/$2.txt"
}

# A folder's files, but no links, no devices, nothing large, nothing that an earlier run brought or a bundle keeps.
copy_folder() {
  if [ ! -d "$2" ]; then
    note "no folder: $2"
    return 0
  fi
  mkdir -p "$out/files/$1" || return 1
  (cd "$2" && find . -type d) | while IFS= read -r folder; do
    # A name with a line break is two lines, of which the second leads anywhere.
    case $folder in . | ./*) ;; *) continue ;; esac
    case $2/${folder#./}/ in "$top"/* | */.thumbwright-bundle/*) continue ;; esac
    mkdir -p "$out/files/$1/$folder" 2>/dev/null || has_room || exit 1
  done || return 1
  (cd "$2" && find . -type f ! -size +$blocks) | {
    count=0
    while IFS= read -r file; do
      case $file in ./*) ;; *) continue ;; esac
      case $2/${file#./} in "$top"/* | */*.part/room | */.thumbwright-bundle/*) continue ;; esac
      count=$((count + 1))
      if [ "$count" -gt "$most" ]; then
        note "more than $most files, the rest is left: $2"
        break
      fi
      copy_file "$2/$file" "$out/files/$1/$file" || exit 1
    done
  } || return 1
  (cd "$2" && find . -type f -size +$blocks -exec ls -ln {} \;) 2>/dev/null | list_left "$2" larger || return 1
  (cd "$2" && find . -type l -exec ls -ln {} \;) 2>/dev/null | list_left "$2" links || return 1
  return 0
}

# Core files: size, hash and place.
list_cores() {
  if [ ! -d "$1" ]; then
    note "no folder: $1"
    return 0
  fi
  find "$1" -type f | while IFS= read -r file; do
    bytes=$(wc -c <"$file" 2>/dev/null) || continue
    hash=$(sha1sum "$file" 2>/dev/null)
    hash=${hash#\\}
    printf '%s %s %s\n' "$((bytes))" "${hash%% *}" "${file#"$root"}" >>"$out/cores.txt" || exit 1
  done
}

# The word size is that of the program that reads lists and events: cat. An address of more than 8 digits is of 64 bits.
word=unknown
maps=$(cat "$proc/self/maps" 2>/dev/null)
if [ -n "$maps" ]; then
  if say "$maps" 2>/dev/null | grep -q '^[0-9a-f]*-*[0-9a-f]\{9,\}'; then word=64; else word=32; fi
elif getconf LONG_BIT >/dev/null 2>&1; then
  word=$(getconf LONG_BIT)
fi
{
  say "device: $device"
  say "made: $(date '+%Y-%m-%d %H:%M')"
  say "word-size: $word"
  say "machine: $(uname -srm)"
  say "games: ${games#"$root"}"
  say "$folders" | while IFS=$tab read -r name path; do
    if [ -n "$name" ]; then say "folder: $name$tab$path"; fi
  done
} >"$out/about.txt" || no_room
cat "$proc/bus/input/devices" >"$out/inputs.txt" 2>/dev/null || note "no list of inputs: $proc/bus/input/devices"
# A share that is mounted may name who mounted it, and with what.
sed 's/\(pass[a-z]*\|cred[a-z]*\|user[a-z]*\)=[^, ]*/\1=hidden/g' "$proc/mounts" >"$out/mounts.txt" 2>/dev/null || note "no list of mounts"
cat "$proc/partitions" >"$out/partitions.txt" 2>/dev/null || note "no list of parts"
df -kP >"$out/sizes.txt" 2>/dev/null
for file in "$root"/etc/*release* "$root"/etc/*version*; do
  if [ -f "$file" ]; then
    {
      say "== ${file#"$root"}"
      head -c 4096 "$file"
      say ''
    } >>"$out/releases.txt" 2>/dev/null
  fi
done
# Whatever is missing above for lack of room shows here.
has_room || no_room

say "$folders" | while IFS=$tab read -r name path; do
  [ -n "$name" ] || continue
  copy_folder "$name" "$root$path" || exit 1
done || no_room
say "$cores" | while IFS= read -r path; do
  [ -n "$path" ] || continue
  list_cores "$root$path" || exit 1
done || no_room

if [ -n "$timer" ]; then
  wait "$timer" 2>/dev/null
  timer=
  stop_readers
  wait 2>/dev/null
fi
has_room || no_room

{
  say "thumbwright fetch $number, $(date '+%Y-%m-%d %H:%M') by the clock of the device"
  say ''
  say 'Done. Bring the card, or this folder, to the desktop and run there:'
  say "  thumbwright fetch thumbwright-fetch/$number"
  say ''
  say 'The copies may hold passwords (of a Wi-Fi, say): give this folder to nobody.'
  if [ -s "$trouble" ]; then
    say ''
    say 'Not everything could be brought:'
    cat "$trouble"
  fi
} >"$out/DONE.txt" 2>/dev/null || no_room
[ -s "$out/DONE.txt" ] || no_room
# Whoever switches off at once finds a whole copy or none.
sync
mv "$out" "$top/$number" || no_room
cp "$top/$number/DONE.txt" "$top/DONE.txt" 2>/dev/null
sync
say "Done: $top/$number/DONE.txt"
