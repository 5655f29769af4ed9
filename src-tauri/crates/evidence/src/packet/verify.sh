#!/bin/sh
# Checks a packet without the program that wrote it.
#
#   sh verify.sh                  inside the unzipped packet
#   sh verify.sh packet.zip       given the zip
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

for tool in sha256sum base64 cut sort find mktemp sed grep xxd openssl; do
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

# Fields are read from the end of a record, where no text of the body can stand.
tail='"previous":\(null\|"[0-9a-f]*"\),"sequence":\([0-9]*\),"version":1,"wall":"[^"]*","withheld":\[\([^]]*\)\]}$'
previous() { sed -n "s/.*,$tail/\1/p" "$1" | sed 's/"//g'; }
sequence() { sed -n "s/.*,$tail/\2/p" "$1"; }
withheld() { sed -n "s/.*,$tail/\3/p" "$1" | sed 's/[",]/ /g'; }
photos() { sed -n "s/.*,\"photos\":\[\([^]]*\)\],$tail/\1/p" "$1" |
    grep -oE '"sha256":"[0-9a-f]{64}"' | cut -c11-74; }

# 1. Every file is the one the manifests list, and there is no other.
sha256sum --quiet --strict -c manifest-sha256.txt || bad "a file differs from manifest-sha256.txt"
sha256sum --quiet --strict -c tagmanifest-sha256.txt || bad "a file differs from tagmanifest-sha256.txt"
find data ! -type d | sort >"$work/found"
cut -c67- manifest-sha256.txt | sort >"$work/listed"
cmp -s "$work/found" "$work/listed" || bad "data/ does not hold exactly the files of the manifest"

: >"$work/photos"; : >"$work/withheld"; : >"$work/reports"
for log in data/logs/*/; do
    log=${log%/}
    # 2. The key signed every checkpoint.
    for text in "$log"/checkpoint-*.txt; do
        openssl pkeyutl -verify -rawin -pubin -inkey "$log/key.pem" -in "$text" \
            -sigfile "${text%.txt}.sig" >/dev/null 2>&1 || bad "$text: the signature does not fit"
    done
    # 3. Each record names the one before it.
    : >"$work/leaves"
    before=null; count=0
    for record in $(find "$log/records" -type f | sort -t/ -k5n); do
        [ "$(sequence "$record")" = "$count" ] || bad "$record: not record number $count"
        [ "$(previous "$record")" = "$before" ] || bad "$record: does not follow the record before it"
        before=$(leaf "$record"); count=$((count + 1))
        echo "$before" >>"$work/leaves"
        photos "$record" >>"$work/photos"
        withheld "$record" >>"$work/withheld"
        case $(cat "$record") in
            *',"kind":"report_written","others":'*) grep -o '"sha256":"[0-9a-f]*"' "$record" >>"$work/reports" ;;
        esac
    done
    # 4. Each checkpoint states the root over the records up to it; the last covers all.
    covered=0
    for text in "$log"/checkpoint-*.txt; do
        size=$(sed -n 2p "$text")
        [ "$size" -le "$count" ] || { bad "$text: covers $size records, but there are $count"; continue; }
        [ "$(root "$work/leaves" "$size" | xxd -r -p | base64)" = "$(sed -n 3p "$text")" ] ||
            bad "$text: the root does not fit the records"
        [ "$size" -gt "$covered" ] && covered=$size
    done
    [ "$covered" = "$count" ] || bad "$log: the checkpoints cover $covered of $count records"
    print=$(openssl pkey -pubin -in "$log/key.pem" -outform DER 2>/dev/null | sha256sum | cut -c1-64)
    echo "$log: $count records. Compare this fingerprint with the one you were given:"
    echo "    $print"
done

# 5. Every photo has the bytes a record names; every report and disclosure stands in a record.
here=0
for photo in data/photos/*; do
    [ -f "$photo" ] || continue
    hash=$(sha "$photo"); name=${photo##*/}; here=$((here + 1))
    [ "${name%%.*}" = "$hash" ] || bad "$photo: the bytes are not those its name states"
    grep -qx "$hash" "$work/photos" || bad "$photo: no record names it"
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
    echo "NOT UNCHANGED: $problems problems" >&2
    exit 1
fi
echo "OK: unchanged since it was sealed. That is not proof that it is true; read data/README.txt."
