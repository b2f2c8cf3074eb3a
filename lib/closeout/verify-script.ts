/**
 * verify.sh, as it stands at the top of every package. It is a string in a module, so that it is there wherever this code runs.
 * Written for a plain POSIX shell and old tools: no shell arrays, no braces in expansions (they would end up as template
 * expressions here), no interval expressions in awk. Every file is hashed once, in batches; records are read by one jq.
 */
export const VERIFY_SCRIPT = String.raw`#!/bin/sh
# Checks this closeout package: sh verify.sh [FOLDER]
# Needs no network and no other program than a shell, coreutils, find, grep, sed, awk, jq and OpenSSL 3.
# Prints each fault on a line of its own, "FAULT: file: what". Ends with 0 when there is none, 1 when there is, 2 when it could not check.
set -u
LC_ALL=C
export LC_ALL
umask 077

cannot() { printf 'CANNOT CHECK: %s\n' "$1"; exit 2; }

for tool in sha256sum find grep sed awk sort jq openssl mktemp; do
  command -v "$tool" >/dev/null 2>&1 || cannot "the program $tool is missing"
done
case $(openssl version) in
  OpenSSL\ [3-9]*) ;;
  *) cannot "OpenSSL 3 or later is needed, this is $(openssl version)" ;;
esac

if [ $# -gt 0 ]; then bag=$1; else bag=$(dirname "$0"); fi
CDPATH= cd -- "$bag" || cannot "there is no folder $bag"
[ -f bagit.txt ] || [ -d data ] || cannot "$bag is not an unpacked package"

work=$(mktemp -d) || cannot "no place for temporary files"
trap 'rm -rf "$work"' EXIT
trap 'exit 2' HUP INT TERM
: > "$work/faults"
fault() { printf 'FAULT: %s: %s\n' "$1" "$2" >> "$work/faults"; }
step() { printf '%s\n' "$1"; }

# ---- 1. Every file, hashed once -------------------------------------------------------------------------------------------
step "Hashing every file"
find . ! -type f ! -type d | sed 's|^\./||' | while IFS= read -r odd; do fault "$odd" "is neither a file nor a folder"; done
find . -type f -exec sha256sum -- {} + > "$work/sums.raw" 2> "$work/unread" || fault "." "some files could not be read: $(head -n 1 "$work/unread")"
# "hash<TAB>path", the path written as a manifest writes it. sha256sum puts a backslash before lines whose names it had to escape.
awk '{
  escaped = substr($0, 1, 1) == "\\"; if (escaped) $0 = substr($0, 2)
  hash = substr($0, 1, 64); path = substr($0, 67); sub(/^\.\//, "", path)
  gsub(/%/, "%25", path)
  if (escaped) {
    out = ""
    while ((i = index(path, "\\")) > 0) {
      c = substr(path, i + 1, 1)
      out = out substr(path, 1, i - 1) (c == "n" ? "%0A" : c == "r" ? "%0D" : "\\"); path = substr(path, i + 2)
    }
    path = out path
  }
  gsub(/\r/, "%0D", path)
  print hash "\t" path
}' "$work/sums.raw" > "$work/sums"

# ---- 2. The bag: declaration, manifests, size -----------------------------------------------------------------------------
step "Comparing with the manifests"
for file in bagit.txt bag-info.txt manifest-sha256.txt tagmanifest-sha256.txt README.txt verify.sh data/log.jsonl; do
  [ -f "$file" ] || fault "$file" "is missing"
done
if [ -f bagit.txt ]; then
  found=$(sha256sum < bagit.txt)
  wanted=$(printf 'BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n' | sha256sum)
  [ "$found" = "$wanted" ] || fault bagit.txt "does not declare a BagIt 1.0 bag in UTF-8, in exactly two lines"
fi
manifest=manifest-sha256.txt; [ -f $manifest ] || manifest=/dev/null
tags=tagmanifest-sha256.txt; [ -f $tags ] || tags=/dev/null

awk -F '\t' '
function bad(file, what) { printf "FAULT: %s: %s\n", file, what }
# An encoded path in one spelling: the digits after a percent sign in capitals.
function spelled(p) { gsub(/%0a/, "%0A", p); gsub(/%0d/, "%0D", p); return p }
pass == 1 { have[$2] = $1; next }
{
  list = pass == 2 ? "manifest-sha256.txt" : "tagmanifest-sha256.txt"
  hash = substr($0, 1, 64); path = spelled(substr($0, 67))
  if (length(hash) != 64 || hash ~ /[^0-9a-f]/ || substr($0, 65, 2) != "  " || path == "") { bad(list, "line " FNR " is not a digest, two spaces and a path"); next }
  if (path ~ /^[\/~]/ || path ~ /^[A-Za-z]:/ || path ~ /(^|\/)\.\.?(\/|$)/ || path ~ /\\/) { bad(list, "line " FNR " names a path outside the package: " path); next }
  if (pass == 2 && path !~ /^data\//) { bad(list, "line " FNR " names a file that is not under data/: " path); next }
  if (pass == 3 && (path ~ /^data\// || path ~ /^tagmanifest-/)) { bad(list, "line " FNR " names a file that does not belong in it: " path); next }
  if (path in want) { bad(list, "line " FNR " names " path " a second time"); next }
  want[path] = hash; at[path] = "line " FNR " of " list; wanted[hash] = path
}
END {
  for (p in have) if (!(p in want) && p != "tagmanifest-sha256.txt") { extra[p] = 1; extraOf[have[p]] = p }
  for (p in want) {
    if (!(p in have)) {
      if (want[p] in extraOf) { bad(p, "was renamed: its bytes are in " extraOf[want[p]] " (" at[p] ")"); moved[extraOf[want[p]]] = p }
      else bad(p, "is missing (" at[p] ")")
    } else if (have[p] != want[p]) {
      where = at[p]
      if (have[p] in wanted) bad(p, "holds the bytes of " wanted[have[p]] " (" where ")")
      else bad(p, "was changed, or " where " was: that line says " want[p] ", the file is " have[p])
    }
  }
  for (p in extra) bad(p, p in moved ? "is " moved[p] " under another name" : "is in no manifest")
}' pass=1 "$work/sums" pass=2 "$manifest" pass=3 "$tags" | sort >> "$work/faults"

if [ -f bag-info.txt ]; then
  declared=$(sed -n 's/^Payload-Oxum: *//p' bag-info.txt)
  if [ -d data ]; then
    counted=$(find data -type f -exec wc -c {} + | awk '$2 ~ /^data\// { bytes += $1; files++ } END { printf "%.0f.%d", bytes, files }')
  else
    counted=0.0
  fi
  [ "$declared" = "$counted" ] || fault bag-info.txt "Payload-Oxum is '$declared', the payload has $counted (bytes.files)"
fi

# ---- 3. The log: form, numbers, chain -------------------------------------------------------------------------------------
step "Following the log"
log=data/log.jsonl; [ -f $log ] || log=/dev/null
mkdir "$work/lines"
awk -v dir="$work/lines/" '{ file = sprintf("%s%09d", dir, NR); printf "%s", $0 > file; close(file) }' "$log"
(cd "$work/lines" && find . -type f -exec sha256sum {} +) | sort -k 2 | cut -c 1-64 > "$work/line-hash"
jq -R -r '
  def digest: type == "string" and test("\\A[0-9a-f]{64}\\z");
  def word: type == "string" and length > 0;
  (try fromjson catch null) as $e
  | if ($e | type) != "object" then ["bad", "is not JSON"]
    elif ($e | keys) != ["actor", "at", "prev", "project", "ref", "seq", "type", "v"] then ["bad", "has other members than a log entry"]
    elif $e.v != 1 then ["bad", "is not of version 1"]
    elif ($e.ref | type) != "object" or ($e.ref | keys) != ["digest", "kind"] then ["bad", "has a reference of another form"]
    elif ([$e.prev, $e.ref.digest] | all(digest) | not) then ["bad", "has a digest of another form"]
    elif ([$e.project, $e.actor, $e.type, $e.ref.kind] | all(word) | not) then ["bad", "has an empty member"]
    elif ($e.at | (type == "string" and test("\\A[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3}Z\\z")) | not) then ["bad", "has a time of another form"]
    elif ($e.seq | (type == "number" and . == floor and . >= 1) | not) then ["bad", "has no number"]
    else ["ok", $e.seq, $e.prev, $e.ref.digest, $e.ref.kind, $e.project] end
  | @tsv' "$log" > "$work/entries" || fault data/log.jsonl "could not be read by jq"
paste "$work/line-hash" "$work/entries" > "$work/log"
awk -F '\t' -v refs="$work/refs" '
function bad(what) { printf "FAULT: data/log.jsonl: entry %d %s\n", NR, what }
BEGIN { last = "0000000000000000000000000000000000000000000000000000000000000000"; printf "" > refs }
{
  if ($2 != "ok") bad($3)
  else {
    if ($3 != NR) bad("is numbered " $3 ", " NR " follows")
    if ($4 != last) bad("does not follow from the entry before it")
    if (project == "") project = $7
    else if ($7 != project) bad("is of project " $7 ", not " project)
    print $5 "\t" $6 "\t" NR > refs
  }
  last = $1
}' "$work/log" >> "$work/faults"
entries=$(awk 'END { print NR }' "$work/log")
[ "$entries" -gt 0 ] || fault data/log.jsonl "has no entries"

# ---- 4. Records: digests, log, photos -------------------------------------------------------------------------------------
step "Reading the records"
if [ -d data/records ]; then
  # A record is one line without a line end, so awk and not jq puts the file names beside them.
  find data/records -type f -exec awk '{ print FILENAME "\t" $0 }' {} + > "$work/records"
else
  : > "$work/records"
fi
jq -R -r '
  index("\t") as $i | .[:$i] as $file
  | (try (.[$i + 1:] | fromjson) catch null) as $r
  | if ($r | type) != "object" then "bad\t" + $file
    else ($file | sub("\\Adata/records/"; "") | sub("\\.json\\z"; "")) as $digest
      | [$r | .. | objects | (.sha256 // empty), ((.photos // empty, .documents // empty) | arrays | .[])]
      | map(select(type == "string" and test("\\A[0-9a-f]{64}\\z"))) | unique[]
      | "original\t" + $digest + "\t" + . end' "$work/records" > "$work/names" || fault data/records "could not be read by jq"
awk -F '\t' '
function bad(file, what) { printf "FAULT: %s: %s\n", file, what }
pass == 1 {
  if ($2 !~ /^data\//) next
  if ($2 ~ /^data\/records\//) {
    files++
    name = substr($2, 14)
    if (name != $1 ".json") bad($2, "does not have the digest that its name says: it is " $1)
    else record[$1] = 1
  } else if ($2 !~ /^data\/(signatures|heads|keys|tables)\//) original[$1] = 1
  next
}
pass == 2 {
  kind[$1] = $2
  if (!($1 in record) && !($1 in original)) bad("data/records/" $1 ".json", "is missing: entry " $3 " of the log names this " $2)
  next
}
$1 == "bad" { bad($2, "is not one line of JSON") ; next }
kind[$2] ~ /^(photo|clock photo|document|submission|decision)$/ {
  if (!($3 in original)) bad("data/records/" $2 ".json", "names the original " $3 ", which is not in the package")
}
END { for (d in record) if (!(d in kind)) bad("data/records/" d ".json", "is not named by the log") }
' pass=1 "$work/sums" pass=2 "$work/refs" pass=3 "$work/names" | sort -u >> "$work/faults"

# ---- 5. Keys and signatures -----------------------------------------------------------------------------------------------
step "Checking the signatures"
: > "$work/keys"
[ -d data/keys ] && find data/keys -type f -name '*.pem' | sort | while IFS= read -r pem; do
  key=$(basename "$pem" .pem)
  id=$(openssl pkey -pubin -in "$pem" -outform DER 2>/dev/null | sha256sum | cut -c 1-16)
  if [ "$id" = "$key" ]; then printf '%s\n' "$key" >> "$work/keys"; else fault "$pem" "is not the key that its name says: it is $id"; fi
done

# signed FILE SIGNATURE KEY
signed() {
  if ! grep -q -x -F -- "$3" "$work/keys"; then fault "$2" "was made with key $3, which is not in data/keys"; return 1; fi
  [ -f "$2" ] || { fault "$2" "is missing"; return 1; }
  openssl pkeyutl -verify -pubin -inkey "data/keys/$3.pem" -rawin -in "$1" -sigfile "$2" </dev/null >/dev/null 2>&1 && return 0
  fault "$2" "is not the signature of $1 by key $3"
  return 1
}

: > "$work/signed"
[ -d data/signatures ] && find data/signatures -type f | sort > "$work/signature-files"
[ -d data/signatures ] || : > "$work/signature-files"
awk -F / '{ n = split($NF, part, "."); if (n == 3 && part[3] == "sig") print part[1] " " part[2]; else print "odd " $0 }' "$work/signature-files" |
  while read -r digest key; do
    if [ "$digest" = odd ]; then fault "$key" "is not named DIGEST.KEY.sig"; continue; fi
    if [ ! -f "data/records/$digest.json" ]; then fault "data/signatures/$digest.$key.sig" "belongs to no record"; continue; fi
    signed "data/records/$digest.json" "data/signatures/$digest.$key.sig" "$key" && printf '%s\n' "$digest" >> "$work/signed"
  done
awk -F '\t' '
pass == 1 { ok[$1] = 1; next }
($2 == "decision" || $2 == "acceptance") && !($1 in ok) { printf "FAULT: data/records/%s.json: this %s (entry %d) has no good signature\n", $1, $2, $3 }
' pass=1 "$work/signed" pass=2 "$work/refs" >> "$work/faults"

# ---- 6. Heads: the signed statements of how far the log goes --------------------------------------------------------------
if [ -d data/heads ]; then
  find data/heads -type f -name '*.json' -exec awk '{ print FILENAME "\t" $0 }' {} + | sort > "$work/heads"
  find data/heads -type f ! -name '*.json' ! -name '*.sig' | while IFS= read -r odd; do fault "$odd" "is neither a head nor its signature"; done
else
  : > "$work/heads"
fi
jq -R -r '
  index("\t") as $i | .[:$i] as $file
  | (try (.[$i + 1:] | fromjson) catch null) as $h
  | if ($h | type) != "object" or ($h | keys) != ["at", "key", "last", "project", "size", "v"] or $h.v != 1
      or ([$h.at, $h.key, $h.last, $h.project] | all(type == "string") | not) or ($h.size | type) != "number"
    then ["bad", $file] else ["ok", $file, $h.size, $h.last, $h.at, $h.key, $h.project] end
  | @tsv' "$work/heads" > "$work/head-rows" || fault data/heads "could not be read by jq"
awk -F '\t' -v covered="$work/covered" '
function bad(file, what) { printf "FAULT: %s: %s\n", file, what }
BEGIN { printf "" > covered }
pass == 1 { hash[FNR] = $1; size = FNR; if (project == "") project = $7; next }
$1 == "bad" { bad($2, "is not a head"); next }
{
  if ($3 > newest) newest = $3
  if ($3 > size) bad($2, "says the log has " $3 " entries, data/log.jsonl has " size)
  else if (hash[$3] != $4) bad($2, "does not fit entry " $3 " of data/log.jsonl")
  else if ($3 == size) print $5 "\t" $4 "\t" $6 > covered
  if ($7 != project) bad($2, "is of project " $7 ", not " project)
}
END { if (newest < size) bad("data/log.jsonl", "has " size " entries, but the newest head covers " newest + 0) }
' pass=1 "$work/log" pass=2 "$work/head-rows" >> "$work/faults"
awk -F '\t' '$1 == "ok" { print $6 " " $2 }' "$work/head-rows" | while read -r key file; do
  signed "$file" "$(printf '%s' "$file" | sed 's/\.json$/.sig/')" "$key"
done

# ---- What was found -------------------------------------------------------------------------------------------------------
count() { awk 'END { print NR }' "$1"; }
printf '\n%s files, %s log entries, %s records, %s signatures, %s heads.\n' \
  "$(count "$work/sums")" "$entries" "$(count "$work/records")" "$(count "$work/signature-files")" "$(count "$work/heads")"
sort "$work/covered" | tail -n 1 | awk -F '\t' -v n="$entries" '{ printf "Log head: entry %d, %s\n  signed %s with key %s\n", n, $2, $1, $3 }'
[ -f tagmanifest-sha256.txt ] && printf 'Tag manifest: %s\n' "$(sha256sum < tagmanifest-sha256.txt | cut -c 1-64)"
printf 'Compare the log head and the key with a printed page or a mail that left the server at the time: this script cannot.\n\n'

faults=$(count "$work/faults")
if [ "$faults" -gt 0 ]; then
  cat "$work/faults"
  printf 'NOT OK: %s fault(s).\n' "$faults"
  exit 1
fi
printf 'OK: all files, log entries, records and signatures agree.\n'
exit 0
`;
