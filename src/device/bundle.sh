#!/bin/sh
# Brings this device's settings to what a profile says. It needs nothing but sh and busybox: no terminal, no execute bit.
# Start it from the menu that lists scripts, by remote login (sh FILE), or in any other way that runs a script.
#   sh FILE        checks, keeps what is there, writes, reads back; once more does nothing, or finishes what was cut off
#   sh FILE undo   takes it back
# It holds the passwords that it writes, in plain text: show it to nobody, and remove it when it is done.
# Made by thumbwright.
# Functions are called by their names through each; a name may look like an expansion; only ls tells an owner everywhere.
# shellcheck disable=SC2317,SC2016,SC2012
seal=''
sum=''
# sealed
# data: begin
device=''
card=''
parts=''
home_part=''
count=0
describe() { :; }
mount_of() { :; }
content() { :; }
# data: end

LC_ALL=C
export LC_ALL
umask 077
root=${THUMBWRIGHT_ROOT:-}
proc=${THUMBWRIGHT_PROC:-$root/proc}
patience=${THUMBWRIGHT_WAIT:-forever}
short=$(printf '%.16s' "$seal")
what=${1:-install}
report=
why=
waiting=

say() { printf '%s\n' "$1"; }
note() { report="$report$1
"; }
has() { command -v "$1" >/dev/null 2>&1; }
# What is left of us in the memory of a card that is pulled at once.
settle() { ${THUMBWRIGHT_SYNC:-sync}; }

if has cmp; then
  same() { cmp -s "$1" "$2"; }
else
  same() { [ "$(cksum <"$1")" = "$(cksum <"$2")" ]; }
fi
# Sums of standard input: by SHA-256 where the device can, always by cksum.
if has sha256sum; then
  sums() { sha256sum | sed 's/ .*//'; }
else
  sums() { cksum; }
fi
# Whether standard input has the sums that the desktop saw: a hash, then what cksum says.
as_seen() {
  if has sha256sum; then [ "$(sums)" = "$1" ]; else [ "$(sums)" = "$2" ]; fi
}

top_of() {
  mount_of "$1"
  top=$(CDPATH='' cd -P "$root$mount" 2>/dev/null && pwd -P) || return 1
  [ "$top" != / ] || top=
}

# Where the file really lies, in $target; folders that are missing, in $missing. Links inside its part are followed.
locate() {
  why=
  missing=
  top_of "$part" || {
    why="there is no folder $mount"
    return 1
  }
  at=$top
  rest=$path
  links=0
  while :; do
    name=${rest%%/*}
    target=$at/$name
    while [ -h "$target" ]; do
      links=$((links + 1))
      link=$(readlink "$target") || link=
      case $link in /*) ;; *) link=$at/$link ;; esac
      folder=$(CDPATH='' cd -P "$(dirname "$link")" 2>/dev/null && pwd -P) || folder=
      [ "$folder" != / ] || folder=
      target=$folder/$(basename "$link")
      case $target in "$top"/*) ;; *) links=99 ;; esac
      if [ "$links" -gt 16 ] || [ ! -e "$target" ]; then
        why='a link leads out of its part, or nowhere'
        return 1
      fi
      at=$folder
    done
    if [ "$name" = "$rest" ]; then break; fi
    rest=${rest#*/}
    if [ ! -e "$target" ]; then
      missing="$missing$target
"
    elif [ ! -d "$target" ]; then
      why='a file stands where its folder is to be'
      return 1
    fi
    at=$target
  done
  if [ -e "$target" ] && [ ! -f "$target" ]; then
    why='something stands there that is no file'
    return 1
  fi
}

# A copy with owner, mode and time as far as the file system has them.
copy() {
  cp -p "$1" "$2" 2>/dev/null || cp "$1" "$2" 2>/dev/null || return 1
  same "$1" "$2"
}

# The changed lines of one text put into another, to standard output; fails where they are not certain. $1 edits, $2 text
edit() {
  awk -v newlines="$(wc -l <"$2")" '
    function trimmed(t) { sub(/^[ \t\r]+/, "", t); sub(/[ \t\r]+$/, "", t); return t }
    function key_of(t,   k, n) {
      t = trimmed(t); n = length(t)
      for (k = 2; k <= n; k++) if (index(ends, substr(t, k, 1)) > 0) return tolower(trimmed(substr(t, 1, k - 1)))
      return tolower(t)
    }
    function read_text(   i, t, w, chain) {
      depth = 0; now = ""
      for (i = 1; i <= n; i++) {
        open[i] = now; t = trimmed(line[i])
        if (kind == "header" && substr(t, 1, 1) == "[") { section[i] = ""; now = tolower(t) }
        else if (kind != "indent") section[i] = now
        else if (t == "") section[i] = depth > 0 ? chains[depth] : ""
        else {
          w = line[i]; sub(/^[ \t\r]+/, "", w); w = length(line[i]) - length(w)
          while (depth > 0 && widths[depth] >= w) depth--
          chain = depth > 0 ? chains[depth] : ""
          section[i] = chain; depth++; widths[depth] = w; chains[depth] = chain "\001" t
        }
        key[i] = key_of(line[i])
      }
      open[n + 1] = now
    }
    function eq(a, b) { return (a "") == (b "") }
    function refuse() { bad = 1; exit 1 }
    # Where the lines of the hunk stand, the first one certain; 0: nowhere.
    function place_of_old(   i, k, found, one, near, nearest) {
      for (i = 1; i + olds - 1 <= n; i++) {
        if (!eq(section[i], old_in)) continue
        for (k = 1; k <= olds; k++) if (!eq(line[i + k - 1], old[k])) break
        if (k <= olds) continue
        found++; one = i
        if (behind(i) && ahead(i + olds)) { near++; nearest = i }
      }
      return found == 1 ? one : near == 1 ? nearest : 0
    }
    function behind(i) { return i == 1 ? !has_before : has_before && eq(line[i - 1], before) }
    function ahead(i) { return i == n + 1 ? !has_after : has_after && eq(line[i], after) }
    function place_between(   i, b, a, found, one, backs, back, fronts, front) {
      for (i = 1; i <= n + 1; i++) {
        if (has_open && !eq(open[i], opened)) continue
        b = behind(i) && (i == 1 || eq(section[i - 1], before_in))
        a = ahead(i) && (i == n + 1 || eq(section[i], after_in))
        if (a && b) { found++; one = i }
        if (b && has_before) { backs++; back = i }
        if (a && (has_after || kind != "indent")) { fronts++; front = i }
      }
      if (found > 0) return found == 1 ? one : 0
      if (backs > 0) return backs == 1 ? back : 0
      return fronts == 1 ? front : 0
    }
    function put(t) { if (put_one) print "\n"; print t; put_one = 1 }
    function finish(   at, k) {
      if (!in_hunk) return
      at = olds > 0 ? place_of_old() : place_between()
      if (at == 0 || at < next_line) refuse()
      while (next_line < at) put(line[next_line++])
      for (k = 1; k <= news; k++) put(fresh[k])
      next_line += olds
    }
    BEGIN { ORS = "" }
    FNR == NR { tag[NR] = substr($0, 1, 1) ""; text[NR] = substr($0, 2) ""; m = NR; next }
    { line[FNR] = $0 ""; n = FNR }
    END {
      if (bad) exit 1
      n += 0; ended = newlines + 0 == n; next_line = 1
      for (j = 1; j <= m; j++) {
        t = tag[j]; x = text[j]
        if (t == "y") { kind = x }
        else if (t == "e") { ends = x; read_text() }
        else if (t == "z") {
          was = substr(x, 1, 1); becomes = substr(x, 2, 1)
          if (was != becomes && was != ended) refuse()
        }
        else if (t == "s") where = x
        else if (t == "t") sought = x
        else if (t == "k") {
          c = 0
          for (i = 1; i <= n; i++) if (eq(section[i], where) && eq(key[i], sought)) c++
          if (c != x + 0) refuse()
        }
        else if (t == "h") { finish(); in_hunk = 1; olds = news = has_before = has_after = has_open = 0 }
        else if (t == "b") { before = x; has_before = 1 }
        else if (t == "p") before_in = x
        else if (t == "a") { after = x; has_after = 1 }
        else if (t == "q") after_in = x
        else if (t == "g") { opened = x; has_open = 1 }
        else if (t == "i") old_in = x
        else if (t == "o") old[++olds] = x
        else if (t == "n") fresh[++news] = x
      }
      finish()
      while (next_line <= n) put(line[next_line++])
      if (put_one && (was == becomes ? ended : becomes + 0)) print "\n"
    }' "$1" "$2"
}

# Makes what a file is to become, from a copy of what it is. Ends with 0 ready, 2 it is so already, 1 refused ($why).
make_ready() {
  locate || return 1
  fresh=$home/files/$id.part
  rm -rf "$fresh"
  mkdir "$fresh" || {
    why='there is no room to keep what stood there'
    return 1
  }
  if [ -e "$target" ]; then
    if ! copy "$target" "$fresh/old"; then
      why='it cannot be kept: unreadable, or no room'
      return 1
    fi
    if [ "$act" != remove ] && [ -n "$after_hash" ] && as_seen "$after_hash" "$after_sum" <"$fresh/old"; then return 2; fi
  else
    : >"$fresh/none"
    if [ "$act" = remove ]; then return 2; fi
  fi
  if ! printf '%s\n' "$target" >"$fresh/target" || ! printf '%s' "$missing" >"$fresh/missing"; then
    why='there is no room for the notes'
    return 1
  fi
  case $act in
  lines) make_lines || return $? ;;
  *)
    if [ -z "$before_hash" ]; then
      if [ -e "$fresh/old" ]; then
        why='a file is there by now'
        return 1
      fi
    elif [ ! -e "$fresh/old" ]; then
      why='it is gone'
      return 1
    elif ! as_seen "$before_hash" "$before_sum" <"$fresh/old"; then
      why='it was changed since'
      return 1
    fi
    if [ "$act" = remove ]; then
      : >"$fresh/gone"
    else
      content "$id" >"$fresh/new" 2>/dev/null
      if ! as_seen "$after_hash" "$after_sum" <"$fresh/new"; then
        why='there is no room for what it is to become'
        return 1
      fi
    fi
    ;;
  esac
  rm -rf "$home/files/$id"
  mv "$fresh" "$home/files/$id"
}

make_lines() {
  if [ ! -e "$fresh/old" ]; then
    why='it is gone'
    return 1
  fi
  if ! content "$id.forward" >"$fresh/forward" || ! content "$id.back" >"$fresh/back"; then
    why='there is no room for the notes'
    return 1
  fi
  if edit "$fresh/forward" "$fresh/old" >"$fresh/new" 2>/dev/null; then
    # Every byte but ours is still there if the way back leads to the same file.
    if edit "$fresh/back" "$fresh/new" >"$fresh/again" 2>/dev/null && same "$fresh/again" "$fresh/old"; then
      rm -f "$fresh/again"
      as_seen "$before_hash" "$before_sum" <"$fresh/old" || return 0
      as_seen "$after_hash" "$after_sum" <"$fresh/new" && return 0
    fi
    why='its lines cannot be changed with certainty'
    return 1
  fi
  if edit "$fresh/back" "$fresh/old" >"$fresh/again" 2>/dev/null; then return 2; fi
  why='lines that were to be changed were changed since'
  return 1
}

owner_of() { ls -ldn "$1" | awk 'NR == 1 { print $3 ":" $4 }'; }

# The new file whole beside the old one.
put_beside() {
  beside=${target%/*}/.thumbwright-$id.new
  rm -f "$beside"
  : >"$dir/begun" || return 1
  [ ! -e "$dir/gone" ] || return 0
  while IFS= read -r folder <&4; do
    [ -z "$folder" ] || [ -d "$folder" ] && continue
    mkdir "$folder" || return 1
    chmod 755 "$folder" 2>/dev/null
    chown "$(owner_of "${folder%/*}")" "$folder" 2>/dev/null
  done 4<"$dir/missing"
  if [ -e "$dir/old" ]; then
    cp -p "$dir/old" "$beside" 2>/dev/null || cp "$dir/old" "$beside" 2>/dev/null || return 1
    cat "$dir/new" >"$beside" || return 1
  else
    cp "$dir/new" "$beside" || return 1
    chmod 644 "$beside" 2>/dev/null
    chown "$(owner_of "${target%/*}")" "$beside" 2>/dev/null
  fi
  if [ -n "$owner" ]; then chown "$owner" "$beside" 2>/dev/null; fi
  if [ -n "$mode" ]; then chmod "$mode" "$beside" 2>/dev/null; fi
  same "$beside" "$dir/new"
}

# Whether the place is as it was when the file was made ready.
is_old() {
  if [ -e "$dir/none" ]; then [ ! -e "$target" ]; else [ -e "$target" ] && same "$target" "$dir/old"; fi
}
is_new() {
  if [ -e "$dir/gone" ]; then [ ! -e "$target" ]; else [ -e "$target" ] && same "$target" "$dir/new"; fi
}
# Whether lines of it, which may have changed otherwise since, say what $1 (forward, back) begins with.
says() { [ -e "$dir/$1" ] && [ -e "$target" ] && edit "$dir/$1" "$target" >"$home/said" 2>/dev/null; }

put_in_place() {
  is_new && return 0
  is_old || return 1
  if [ -e "$dir/gone" ]; then rm -f "$target"; else mv -f "$beside" "$target"; fi
}

# Calls $1 for every file; stops when it fails.
each() {
  number=1
  while [ "$number" -le "$count" ]; do
    id=$number
    describe "$id"
    dir=$home/files/$id
    "$1" || return 1
    number=$((number + 1))
  done
}
each_back() {
  number=$count
  while [ "$number" -ge 1 ]; do
    id=$number
    describe "$id"
    dir=$home/files/$id
    "$1" || return 1
    number=$((number - 1))
  done
}

# Whether a frontend that rewrites this file when it ends is running: the kernel keeps 15 characters of a name.
runs() {
  [ -n "$process" ] || return 1
  for entry in "$proc"/[0-9]*; do
    [ -r "$entry/comm" ] || continue
    IFS= read -r name <"$entry/comm" || continue
    [ -n "$name" ] || continue
    while IFS= read -r one <&5; do
      if [ "$(printf '%.15s' "$one")" = "$name" ]; then return 0; fi
    done 5<<END
$process
END
  done
  return 1
}

check_one() {
  case $(file_state) in
  done) return 0 ;;
  begun)
    note "file: refused $part:$path: it was changed after it was half done; take it back first (undo)"
    refused=1
    return 0
    ;;
  esac
  make_ready
  case $? in
  0)
    case $targets in
    *"
$target
"*)
      note "file: refused $part:$path: another file of this is the same one, through a link"
      refused=1
      ;;
    esac
    targets="$targets$target
"
    ;;
  2)
    rm -rf "$home/files/$id.part"
    mkdir -p "$dir" && : >"$dir/so-already"
    ;;
  *)
    note "file: refused $part:$path: $why"
    rm -rf "$home/files/$id.part"
    refused=1
    ;;
  esac
}

# done: by us; so-already: it was so; ready: kept and made; begun: cut off; none
file_state() {
  if [ ! -d "$dir" ]; then
    say none
  elif [ -e "$dir/done" ]; then
    say 'done'
  elif [ -e "$dir/so-already" ]; then
    say so-already
  elif [ -e "$dir/begun" ]; then
    say begun
  else say ready; fi
}

# A file that was cut off while it was put in place: it is the new one, or still the old one.
mend_one() {
  [ "$(file_state)" = begun ] || return 0
  locate || return 0
  rm -f "${target%/*}/.thumbwright-$id.new"
  if is_new || says back; then
    : >"$dir/done"
  elif is_old || says forward; then
    drop_folders
    rm -f "$dir/begun"
  fi
}

drop_folders() {
  [ -s "$dir/missing" ] || return 0
  sed '1!G;h;$!d' "$dir/missing" | while IFS= read -r folder; do
    [ -z "$folder" ] || rmdir "$folder" 2>/dev/null
  done
}

beside_one() {
  [ "$(file_state)" = ready ] || return 0
  if runs; then
    waiting=1
    return 0
  fi
  locate && put_beside && return 0
  why=${why:-there is no room beside it, or it can only be read}
  note "file: failed $part:$path: $why"
  return 1
}
place_one() {
  [ "$(file_state)" = begun ] || return 0
  if locate; then
    beside=${target%/*}/.thumbwright-$id.new
    put_in_place && return 0
  fi
  note "file: failed $part:$path: it was changed while this ran, or can only be read"
  return 1
}
read_back_one() {
  [ "$(file_state)" = begun ] || return 0
  locate && is_new && return 0
  note "file: failed $part:$path: what was written reads back differently"
  return 1
}
mark_one() {
  [ "$(file_state)" = begun ] || return 0
  : >"$dir/done"
}

# Takes back what was begun and is not done.
back_one() {
  [ "$(file_state)" = begun ] || return 0
  stays=
  undo_one && [ -z "$stays" ] && rm -f "$dir/begun"
}

undo_one() {
  [ -e "$dir/begun" ] || return 0
  if ! locate || [ "$target" != "$(cat "$dir/target")" ]; then
    note "file: stays $part:$path: ${why:-a link leads elsewhere by now}"
    stays=1
    return 0
  fi
  beside=${target%/*}/.thumbwright-$id.new
  rm -f "$beside"
  if is_old; then
    :
  elif is_new; then
    if [ -e "$dir/none" ]; then
      rm -f "$target" || return 1
    else
      if ! copy "$dir/old" "$beside" || ! mv -f "$beside" "$target"; then
        note "file: failed $part:$path: there is no room beside it, or it can only be read"
        rm -f "$beside"
        return 1
      fi
    fi
  elif says back; then
    # Changed since by others: only our lines go back.
    if ! cp -p "$target" "$beside" 2>/dev/null && ! cp "$target" "$beside"; then return 1; fi
    if ! cat "$home/said" >"$beside" || ! same "$home/said" "$beside" || ! mv -f "$beside" "$target"; then
      rm -f "$beside"
      return 1
    fi
  elif says forward; then
    :
  else
    note "file: stays $part:$path: it was changed after it was written"
    stays=1
    return 0
  fi
  drop_folders
  note "file: undone $part:$path"
}

tell_one() {
  case $(file_state) in
  done) note "file: done $part:$path" ;;
  so-already) note "file: same $part:$path" ;;
  ready) note "file: waiting $part:$path" ;;
  esac
}

log_path() {
  log=$base/log.txt
  if top_of games && mkdir -p "$top/thumbwright-bundle" 2>/dev/null; then log=$top/thumbwright-bundle/$short.txt; fi
}

# The log: whole or not at all.
write_log() {
  state=$1
  log_path
  {
    say 'thumbwright bundle'
    say "seal: $seal"
    say "device: $device"
    say "card: $card"
    say "state: $state"
    say "made: $(date '+%Y-%m-%d %H:%M') by the clock of the device"
    has sha256sum || say 'checked: by cksum alone, for want of sha256sum'
    printf '%s' "$report"
    say 'end: log'
  } >"$log.part" 2>/dev/null
  mv -f "$log.part" "$log" 2>/dev/null
  settle
}

leave() {
  rm -rf "$base/lock"
  exit "$1"
}
fail() {
  printf '%s\n' "thumbwright: $1" >&2
  leave "$2"
}

take_lock() {
  tries=0
  while ! mkdir "$base/lock" 2>/dev/null; do
    holder=$(cat "$base/lock/pid" 2>/dev/null)
    if [ -n "$holder" ] && kill -0 "$holder" 2>/dev/null; then
      printf '%s\n' "thumbwright: another run of this is at work (process $holder)." >&2
      exit 1
    fi
    rm -rf "$base/lock"
    tries=$((tries + 1))
    if [ "$tries" -gt 3 ]; then
      printf '%s\n' "thumbwright: nothing can be written to $base: it is full or read-only." >&2
      exit 3
    fi
  done
  say "$$" >"$base/lock/pid"
}

# Puts what is ready in place, but for files of frontends that are running. Ends with 1 when all of it was taken back.
go() {
  waiting=
  each beside_one || {
    each_back back_one
    return 1
  }
  settle
  if each place_one && settle && each read_back_one; then
    each mark_one
    settle
    return 0
  fi
  each_back back_one
  settle
  return 1
}

finish() {
  report=
  each tell_one
  if [ -n "$waiting" ]; then
    : >"$home/waiting"
    write_log waiting
    say 'Some files belong to a frontend that is running. They are written as soon as it has ended.'
    say 'Should the device be switched off before, start this once more afterwards.'
    return
  fi
  rm -f "$home/waiting"
  : >"$home/complete"
  write_log 'done'
  say "Done. See $log"
}

# What waits is written when its frontend has ended.
stay() {
  while [ -e "$home/waiting" ]; do
    sleep 1
    still=
    each still_one
    [ -n "$still" ] || break
  done
  [ ! -e "$home/waiting" ] || exec sh "$home/bundle.sh"
}
still_one() {
  if [ "$(file_state)" = ready ] && runs; then still=1; fi
}

# Whether every part that says whose card it is says this one.
check_marks() {
  for one in $parts; do
    top_of "$one" || continue
    [ -f "$top/thumbwright-card.txt" ] || continue
    grep -q "^card: *$card" "$top/thumbwright-card.txt" && grep -q "^device: *$device" "$top/thumbwright-card.txt" && continue
    note "card: refused $one: it says that it is another card than $card of $device"
    refused=1
  done
}

install() {
  mkdir -p "$home/files" || fail "nothing can be written to $base: it is full or read-only" 3
  rm -rf "$home"/files/*.part
  for other in "$base"/*/files/*/begun; do
    case $other in "$home"/* | *.gone/*) continue ;; esac
    if [ -e "$other" ] && [ ! -e "${other%/files/*}/complete" ]; then
      fail "an earlier bundle is half done; finish or undo it first: sh ${other%/files/*}/bundle.sh" 1
    fi
  done
  if [ ! -e "$home/complete" ]; then
    if ! cp "$0" "$home/bundle.part" 2>/dev/null || ! same "$0" "$home/bundle.part"; then fail "there is no room on $base" 3; fi
    mv -f "$home/bundle.part" "$home/bundle.sh"
    each mend_one
    refused=
    targets='
'
    check_marks
    each check_one
    if [ -n "$refused" ]; then
      write_log refused
      say "$report"
      fail "nothing was written: the device is not as it was when this was made. Bring its files over again (thumbwright fetch), then make a new bundle" 1
    fi
    settle
    undo_starter
    if ! go; then
      write_log failed
      say "$report"
      fail "something failed, and what was written was taken back; see $log" 3
    fi
  fi
  finish
}

# A menu that lists scripts gives them no words: the way back is a script of its own.
undo_starter() {
  case $0 in "$home"/*) return ;; *.sh) ;; *) return ;; esac
  starter=${0%.sh}-undo.sh
  # Any path as one word of a shell.
  word=$(say "$home/bundle.sh" | sed "s/'/'\\\\''/g")
  printf '%s\n' '#!/bin/sh' '# Takes back what the bundle of the same name did. Made by thumbwright.' "exec sh '$word' undo" >"$starter" 2>/dev/null
}

undo() {
  if [ ! -d "$home" ]; then
    say 'There is nothing to take back.'
    return
  fi
  rm -f "$home/waiting" "$home/complete"
  if ! each_back undo_one; then
    settle
    write_log failed
    fail "not all could be taken back; see $log, then run this again" 3
  fi
  settle
  write_log undone
  mv "$home" "$home.gone" && rm -rf "$home.gone"
  say "Taken back. See $log"
}

main() {
  own=$(CDPATH='' cd -- "$(dirname -- "$0")" 2>/dev/null && pwd)/$(basename -- "$0")
  [ -f "$own" ] || {
    printf '%s\n' 'thumbwright: run this as a file: sh FILE' >&2
    exit 1
  }
  if ! sed '1,/^# sealed$/d' "$own" | as_seen "$seal" "$sum"; then
    printf '%s\n' 'thumbwright: this file is damaged or was changed; copy it over again.' >&2
    exit 1
  fi
  if ! top_of "$home_part"; then
    printf '%s\n' "thumbwright: there is no folder $mount: this is made for $device." >&2
    exit 1
  fi
  base=$top/.thumbwright-bundle
  home=$base/$short
  mkdir -p "$base" 2>/dev/null
  if [ ! -d "$base" ] || [ -h "$base" ]; then
    printf '%s\n' "thumbwright: nothing can be written to $top: it is full or read-only." >&2
    exit 3
  fi
  take_lock
  rm -rf "$base"/*.gone
  case $what in
  install) install ;;
  undo) undo ;;
  *) fail "sh FILE, or: sh FILE undo" 2 ;;
  esac
  rm -rf "$base/lock"
  if [ "$what" = install ] && [ -n "$waiting" ] && [ "$patience" = forever ]; then
    (
      trap '' HUP
      stay
    ) </dev/null >/dev/null 2>&1 &
  fi
  exit 0
}
# A menu may have stopped listening to what is said.
trap '' PIPE
# Nothing is done before this line is there: a file that was cut off does nothing.
main
