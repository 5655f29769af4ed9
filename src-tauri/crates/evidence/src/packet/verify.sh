#!/bin/sh
# Checks a packet without the program that wrote it.
#
#   sh verify.sh                          inside the unzipped packet
#   sh verify.sh packet.zip               given the zip
#   sh verify.sh -r root.crt packet.zip   with the certificate of a time-stamp authority
#                                         that you fetched from the authority itself
#
# Needs a POSIX shell, coreutils, xxd, OpenSSL 3.0 or later, and unzip for a zip.
# This script is a convenience, never evidence: whoever forges a packet can forge a
# script that prints "OK". The README lists the same commands for typing by hand.
# Ends with 0 if everything fits, 1 if something does not, 2 if it could not check.

LC_ALL=C
export LC_ALL
set -u

cannot() { echo "COULD NOT CHECK: $*" >&2; exit 2; }
bad() { echo "BAD: $*" >&2; problems=$((problems + 1)); }

for tool in sha256sum base64 cut sort find mktemp sed grep date xxd openssl; do
    command -v "$tool" >/dev/null 2>&1 || cannot "$tool is missing"
done
case $(openssl version) in
    "OpenSSL 0."* | "OpenSSL 1."* | "OpenSSL 2."*) cannot "OpenSSL 3.0 or later is needed" ;;
    "OpenSSL "*) ;;
    *) cannot "this openssl is not OpenSSL" ;;
esac

work=$(mktemp -d) || cannot "no temporary folder"
trap 'rm -rf "$work"' EXIT
trap 'exit 2' HUP INT TERM
problems=0

if [ "${1-}" = -r ]; then
    cp "${2-}" "$work/root.crt" || cannot "the certificate ${2-} could not be read"
    shift 2
fi
if [ $# -gt 0 ]; then
    command -v unzip >/dev/null 2>&1 || cannot "unzip is missing"
    unzip -q "$1" -d "$work/zip" || cannot "$1 could not be unzipped"
    cd "$work"/zip/packet-* || cannot "$1 holds no packet"
else
    cd "$(dirname "$0")/.." || cannot "the packet's folder"
fi
[ -f manifest-sha256.txt ] && [ -d data/logs ] || cannot "this folder is not a packet"

sha() { sha256sum <"$1" | cut -c1-64; }
leaf() { { printf '\000'; cat "$1"; } | sha256sum | cut -c1-64; }
node() { { printf '\001'; printf '%s%s' "$1" "$2" | xxd -r -p; } | sha256sum | cut -c1-64; }
print_of() { openssl pkey -pubin -in "$1" -outform DER 2>/dev/null | sha256sum | cut -c1-64; }
signed() { openssl pkeyutl -verify -rawin -pubin -inkey "$1" -in "$2" -sigfile "$3" >/dev/null 2>&1; }

# The root over the first $2 hashes in file $1: join pairs, carry an odd one up.
root() {
    head -n "$2" "$1" >"$work/level"
    while [ "$(grep -c . "$work/level")" -gt 1 ]; do
        while read -r left; do
            if read -r right; then node "$left" "$right"; else echo "$left"; fi
        done <"$work/level" >"$work/next"
        mv "$work/next" "$work/level"
    done
    cat "$work/level"
}

# Takes up leaf $2 as record $1, counted from 0, of a tree that grows. What stands is the roots of its whole subtrees,
# newest first.
grow() {
    grown=$2; place=$1
    while [ $((place % 2)) = 1 ]; do
        grown=$(node "${standing%% *}" "$grown"); standing=${standing#* }; place=$((place / 2))
    done
    standing="$grown $standing"
}
grown_root() {
    over=
    for part in $standing; do
        if [ -z "$over" ]; then over=$part; else over=$(node "$part" "$over"); fi
    done
    echo "$over"
}

# Fields are read from the end of a record, where no text of the body can stand.
tail='"previous":\(null\|"[0-9a-f]*"\),"sequence":\([0-9]*\),"version":1,"wall":"[^"]*","withheld":\[\([^]]*\)\]}$'
previous() { sed -n "s/.*,$tail/\1/p" "$1" | sed 's/"//g'; }
sequence() { sed -n "s/.*,$tail/\2/p" "$1"; }
withheld() { sed -n "s/.*,$tail/\3/p" "$1" | sed 's/[",]/ /g'; }
photos() { sed -n "s/.*,\"photos\":\[\([^]]*\)\],$tail/\1/p" "$1" |
    grep -oE '"sha256":"[0-9a-f]{64}"' | cut -c11-74; }
kind() { sed -n "s/.*,\"kind\":\"\([a-z0-9_]*\)\",\"others\":{[^{}]*},\"photos\":\[[^]]*\],$tail/\1/p" "$1"; }
# A key that record $1 names as $2.
named() { printf '%b' "$(sed -n "s/.*\"$2\":\"\([^\"]*\)\".*/\1/p" "$1")"; }

# A statement $1.txt by key $2 about key $3 of device $4, as record $5 holds it.
statement() {
    signed "$2" "$1.txt" "$1.sig" || bad "$1.txt: the signature does not fit"
    grep -qx "Signed by key: $(print_of "$2")" "$1.txt" || bad "$1.txt: it is by another key"
    [ -z "$3" ] || grep -qx "New key: $(print_of "$3")" "$1.txt" || bad "$1.txt: it names another key"
    grep -qx "Device: $4" "$1.txt" && grep -qx "Shop: $shop" "$1.txt" || bad "$1.txt: it is of another device or shop"
    grep -qF "\"$(base64 -w0 "$1.sig")\"" "$5" || bad "$1.txt: no record holds this signature"
}

# The key that signs the log $1 after $2 changes, of $changed in all.
key_file() {
    if [ "$2" -ge "$changed" ]; then echo "$1/key.pem"; else printf '%s/keys/%03d.pem\n' "$1" $(($2 + 1)); fi
}

# 1. Every file is the one the manifests list, and there is no other.
sha256sum --quiet --strict -c manifest-sha256.txt || bad "a file differs from manifest-sha256.txt"
sha256sum --quiet --strict -c tagmanifest-sha256.txt || bad "a file differs from tagmanifest-sha256.txt"
find data ! -type d | sort >"$work/found"
cut -c67- manifest-sha256.txt | sort >"$work/listed"
cmp -s "$work/found" "$work/listed" || bad "data/ does not hold exactly the files of the manifest"

: >"$work/photos"; : >"$work/withheld"; : >"$work/reports"; : >"$work/redacted"
for log in data/logs/*/; do
    log=${log%/}
    shop=$(sed -n '1s,/.*,,p' "$log/checkpoint-001.txt")
    # 2. Each record names the one before it.
    : >"$work/leaves"; : >"$work/changes"; : >"$work/joined"
    before=null; count=0; changed=0
    for record in $(find "$log/records" -type f | sort -t/ -k5n); do
        [ "$(sequence "$record")" = "$count" ] || bad "$record: not record number $count"
        [ "$(previous "$record")" = "$before" ] || bad "$record: does not follow the record before it"
        before=$(leaf "$record")
        echo "$before" >>"$work/leaves"
        photos "$record" >>"$work/photos"
        withheld "$record" >>"$work/withheld"
        kind=$(kind "$record")
        case $kind in
            report_written) grep -o '"sha256":"[0-9a-f]*"' "$record" >>"$work/reports" ;;
            photo_redacted) grep -o '"sha256":"[0-9a-f]*"' "$record" >>"$work/redacted" ;;
            key_changed | key_lost) echo "$count $kind $record" >>"$work/changes"; changed=$((changed + 1)) ;;
            device_added) echo "$record" >>"$work/joined" ;;
        esac
        count=$((count + 1))
    done
    # 3. Each key of the log was named by the one before it, or the log says that it was lost.
    number=0
    while read -r place kind record; do
        old=$(key_file "$log" "$number"); number=$((number + 1)); new=$(key_file "$log" "$number")
        stem=$(printf '%s/keys/%03d-next' "$log" "$number")
        [ "$(named "$record" new_key)" = "$(cat "$new")" ] || bad "$new: not the key that $record names"
        if [ "$kind" = key_changed ]; then
            [ "$(named "$record" old_key)" = "$(cat "$old")" ] || bad "$old: not the key that $record starts from"
            statement "$stem" "$old" "$new" "${log##*/}" "$record"
        else
            [ "$(named "$record" lost_key)" = "$(cat "$old")" ] || bad "$old: not the key that $record starts from"
            echo "$log: BREAK: from record $place on it is signed with a key that the one before did not name."
        fi
    done <"$work/changes"
    while read -r record; do
        device=$(sed -n 's/^{"body":{"device":"\([^"]*\)".*/\1/p' "$record")
        [ "$(named "$record" signing_key)" = "$(cat "$log/joined/$device.pem")" ] ||
            bad "$log/joined/$device.pem: not the key that $record names"
        statement "$log/joined/$device" "$log/joined/$device.pem" "" "$device" "$record"
        held=$(named "$record" new_key)
        for theirs in data/logs/"$device"/key.pem data/logs/"$device"/keys/*.pem; do
            [ -f "$theirs" ] && [ "$held" = "$(cat "$theirs")" ] && held=
        done
        [ -z "$held" ] || [ ! -d "data/logs/$device" ] ||
            bad "data/logs/$device/key.pem: another key than $record names for this device"
    done <"$work/joined"
    # 4. The key that was valid then signed each checkpoint; each states the root over the records up to it; the
    #    last covers all.
    covered=0
    for text in "$log"/checkpoint-*.txt; do
        size=$(sed -n 2p "$text")
        number=0
        while read -r place kind record; do
            [ "$place" -ge "$size" ] || number=$((number + 1))
        done <"$work/changes"
        signed "$(key_file "$log" "$number")" "$text" "${text%.txt}.sig" || bad "$text: the signature does not fit"
        [ "$size" -le "$count" ] || { bad "$text: covers $size records, but there are $count"; continue; }
        [ "$(root "$work/leaves" "$size" | xxd -r -p | base64)" = "$(sed -n 3p "$text")" ] ||
            bad "$text: the root does not fit the records"
        [ "$size" -gt "$covered" ] && covered=$size
    done
    # Each record that was signed by itself: the signature is over the checkpoint that the records up to it give.
    alone=0; standing=; done=0
    [ ! -f "$log/signatures.txt" ] || while read -r size signature; do
        [ "$size" -gt "$done" ] && [ "$size" -le "$count" ] || { bad "$log/signatures.txt: size $size is out of order"; break; }
        while [ "$done" -lt "$size" ]; do
            grow "$done" "$(sed -n "$((done + 1))p" "$work/leaves")"; done=$((done + 1))
        done
        number=0
        while read -r place kind record; do
            [ "$place" -ge "$size" ] || number=$((number + 1))
        done <"$work/changes"
        { sed -n 1p "$log/checkpoint-001.txt"; echo "$size"; grown_root | xxd -r -p | base64; } >"$work/head"
        echo "$signature" | base64 -d >"$work/head.sig" 2>/dev/null
        signed "$(key_file "$log" "$number")" "$work/head" "$work/head.sig" ||
            bad "$log/signatures.txt: the signature over the first $size records does not fit"
        alone=$((alone + 1))
    done <"$log/signatures.txt"
    [ "$covered" = "$count" ] || bad "$log: the checkpoints cover $covered of $count records"
    [ "$alone" = 0 ] || echo "$log: $alone records have a signature of their own; a checkpoint covers all."
    echo "$log: $count records. Compare this fingerprint with the one you were given:"
    echo "    $(print_of "$log/key.pem")"
    # 5. Each time-stamp is over its checkpoint, signed by the certificate in it; and by an authority you named.
    for token in "$log"/timestamps/*; do
        [ -f "$token" ] || continue
        text=${token##*/}; text=$log/${text%-*}.txt
        openssl cms -verify -noverify -binary -inform DER -in "$token" -out "$work/stated" 2>/dev/null &&
            xxd -p "$work/stated" | sed -n 'H;${x;s/\n//g;p;}' | grep -q "$(sha "$text")" ||
            { bad "$token: not a time-stamp over $text"; continue; }
        time=$(openssl ts -reply -in "$token" -token_in -text 2>/dev/null | sed -n 's/^Time stamp: //p')
        if [ -f "$work/root.crt" ] && openssl ts -verify -data "$text" -in "$token" -token_in \
            -CAfile "$work/root.crt" -attime "$(date -u -d "$time" +%s)" >/dev/null 2>&1; then
            echo "$log: the first $(sed -n 2p "$text") records existed by $time, by the authority you named."
        else
            echo "$log: NOT PROVEN: a stranger's certificate claims $time; it leads to no authority you named (-r)."
        fi
    done
done

# 6. Every photo has the bytes a record names; every report and disclosure stands in a record.
here=0
for photo in data/photos/*; do
    [ -f "$photo" ] || continue
    hash=$(sha "$photo"); name=${photo##*/}; here=$((here + 1))
    [ "${name%%.*}" = "$hash" ] || bad "$photo: the bytes are not those its name states"
    grep -qx "$hash" "$work/photos" || bad "$photo: no record names it"
done
for photo in data/photos-redacted/*; do
    [ -f "$photo" ] || continue
    hash=$(sha "$photo"); name=${photo##*/}
    [ "${name%%.*}" = "$hash" ] || bad "$photo: the bytes are not those its name states"
    grep -q "\"$hash\"" "$work/redacted" || bad "$photo: no record names it"
done
for report in data/report/*; do
    [ -f "$report" ] || continue
    grep -q "\"$(sha "$report")\"" "$work/reports" || bad "$report: no record names it"
done
for disclosure in data/disclosures/*; do
    [ -f "$disclosure" ] || continue
    hash=$(sha "$disclosure")
    [ "$disclosure" = "data/disclosures/$hash.txt" ] || bad "$disclosure: the text is not the one its name states"
    grep -q "$hash" "$work/withheld" || bad "$disclosure: no record holds its digest"
done
echo "$here of $(sort -u "$work/photos" | grep -c .) photos are in the packet; the others were left out."

if [ "$problems" -gt 0 ]; then
    echo "BAD: do not rely on this packet: $problems problems" >&2
    exit 1
fi
echo "Unchanged since the keys with these fingerprints sealed it. Records after the newest checkpoint you were"
echo "given could have been rewritten by whoever holds the key, and some may be missing at the end. That what"
echo "was recorded is true, this can not prove; read data/README.txt."
