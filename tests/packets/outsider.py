"""Checks a packet as somebody would who has nothing but the packet: written from data/README.txt and
data/record.schema.json alone, with openssl and the PyPI package rfc8785. Ends with 0 if everything fits, 1 if not.

    python outsider.py FOLDER        FOLDER holds bagit.txt
"""

import base64
import hashlib
import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import rfc8785

problems = []


def bad(where, what):
    problems.append(f"{where}: {what}")


def sha256(data):
    return hashlib.sha256(data).hexdigest()


# RFC 6962 section 2.1.


def leaf(record):
    return hashlib.sha256(b"\0" + record).digest()


def root(leaves):
    if len(leaves) == 1:
        return leaves[0]
    split = 1
    while split * 2 < len(leaves):
        split *= 2
    return hashlib.sha256(b"\1" + root(leaves[:split]) + root(leaves[split:])).digest()


def proof(old, leaves, whole=True):
    if old == len(leaves):
        return [] if whole else [root(leaves)]
    split = 1
    while split * 2 < len(leaves):
        split *= 2
    if old <= split:
        return proof(old, leaves[:split], whole) + [root(leaves[split:])]
    return proof(old - split, leaves[split:], False) + [root(leaves[:split])]


# Keys and signatures, by openssl.


def openssl(*words):
    return subprocess.run(["openssl", *words], capture_output=True)


def der(pem):
    with tempfile.NamedTemporaryFile() as file:
        Path(file.name).write_text(pem)
        return openssl("pkey", "-pubin", "-in", file.name, "-outform", "DER").stdout


def signed(pem, text, signature):
    with tempfile.TemporaryDirectory() as place:
        key, said, sig = (str(Path(place) / name) for name in ("key", "text", "sig"))
        Path(key).write_text(pem)
        Path(said).write_bytes(text)
        Path(sig).write_bytes(signature)
        words = ("-rawin", "-pubin", "-inkey", key, "-in", said, "-sigfile", sig)
        return openssl("pkeyutl", "-verify", *words).returncode == 0


def note(origin, text, pem, signature):
    key = der(pem)[-32:]
    key_id = hashlib.sha256(origin.encode() + b"\n\x01" + key).digest()[:4]
    return text + f"\n\u2014 {origin} {base64.b64encode(key_id + signature).decode()}\n".encode()


# As much of JSON Schema as the schema in the packet uses.


def fits(value, schema, defs):
    if "$ref" in schema and not fits(value, defs[schema["$ref"].rsplit("/", 1)[1]], defs):
        return False
    if "const" in schema and value != schema["const"]:
        return False
    if "oneOf" in schema and sum(fits(value, one, defs) for one in schema["oneOf"]) != 1:
        return False
    kinds = {"object": dict, "array": list, "string": str, "integer": int, "null": type(None)}
    kind = schema.get("type")
    if kind and (not isinstance(value, kinds[kind]) or isinstance(value, bool)):
        return False
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        return False
    if isinstance(value, int) and not schema.get("minimum", value) <= value <= schema.get("maximum", value):
        return False
    if isinstance(value, list):
        if schema.get("uniqueItems") and len(set(map(str, value))) != len(value):
            return False
        return all(fits(item, schema.get("items", {}), defs) for item in value)
    if isinstance(value, dict):
        named, others = schema.get("properties", {}), schema.get("additionalProperties", {})
        if any(name not in value for name in schema.get("required", [])):
            return False
        if others is False and any(name not in named for name in value):
            return False
        names = schema.get("propertyNames", {})
        return all(
            fits(name, names, defs) and fits(item, named.get(name, others or {}), defs)
            for name, item in value.items()
        )
    return True


class Log:
    def __init__(self, folder, shop, job, schema):
        self.folder, self.device, self.shop = folder, folder.name, shop
        self.origin = f"{shop}/{job}/{self.device}"
        self.records, self.leaves = [], []
        for number, path in enumerate(sorted((folder / "records").iterdir())):
            data = path.read_bytes()
            self.leaves.append(leaf(data))
            try:
                record = json.loads(data)
            except ValueError:
                record = None
            if record is None or not fits(record, schema, schema["$defs"]) or rfc8785.dumps(record) != data:
                bad(path, "no record")
                self.records.append({"kind": "", "body": {}, "others": {}, "photos": [], "withheld": []})
                continue
            self.records.append(record)
            before = self.leaves[-2].hex() if number else None
            if (path.name, record["sequence"]) != (f"{number:06}.json", number) or record["previous"] != before:
                bad(path, "not in its place")
            if (record["job"], record["device"]) != (job, self.device):
                bad(path, "of another log")
            if record["withheld"] != sorted(record["withheld"]):
                bad(path, "digests out of order")
        self.changes = [
            (number + 1, record)
            for number, record in enumerate(self.records)
            if record["kind"] in ("key_changed", "key_lost")
        ]
        newest = (folder / "key.pem").read_text()
        self.keys = [record["body"].get("old_key") or record["body"].get("lost_key") for _, record in self.changes]
        self.keys.append(newest)
        if self.changes and self.changes[-1][1]["body"]["new_key"] != newest:
            bad(folder / "key.pem", "not the last key named")

    def key(self, size):
        return self.keys[sum(place <= size for place, _ in self.changes)]

    def statement(self, stem, pem, named, says, body, device):
        text = (
            "Statement about signing keys, version 1\n"
            f"Shop: {self.shop}\nDevice: {device}\nSays: {says}\n"
            f"Signed by key: {sha256(der(pem))}\nNew key: {sha256(der(named))}\n"
        ).encode()
        signature = base64.b64decode(body["signature"])
        for path, wanted in ((f"{stem}.txt", text), (f"{stem}.sig", signature)):
            file = self.folder / path
            if not file.exists() or file.read_bytes() != wanted:
                bad(file, "not as the record says")
        if not signed(pem, text, signature):
            bad(self.folder / stem, "not signed")

    def check_keys(self):
        for number, (place, record) in enumerate(self.changes):
            stem = f"keys/{number + 1:03}"
            file = self.folder / f"{stem}.pem"
            if not file.exists() or file.read_text() != self.keys[number]:
                bad(file, "not the key before")
            if number and self.changes[number - 1][1]["body"]["new_key"] != self.keys[number]:
                bad(file, "starts from another key")
            if record["kind"] == "key_changed":
                says = "from now on this device signs with the new key"
                body = record["body"]
                self.statement(f"{stem}-next", body["old_key"], body["new_key"], says, body, self.device)

    def check_checkpoints(self):
        sizes = []
        for text in sorted(self.folder.glob("checkpoint-*.txt")):
            data, signature = text.read_bytes(), text.with_suffix(".sig").read_bytes()
            lines = data.decode(errors="replace").split("\n")
            if len(lines) != 4 or not re.fullmatch("[1-9][0-9]*", lines[1]) or lines[0] != self.origin:
                bad(text, "no checkpoint of this log")
                continue
            size = int(lines[1])
            sizes.append(size)
            if size > len(self.leaves) or base64.b64encode(root(self.leaves[:size])).decode() != lines[2]:
                bad(text, "other records")
            if not signed(self.key(size), data, signature):
                bad(text, "not signed")
            if text.with_suffix(".note").read_bytes() != note(self.origin, data, self.key(size), signature):
                bad(text, "its note says something else")
        if not sizes or sizes != sorted(sizes) or sizes[-1] != len(self.leaves):
            return bad(self.folder, "checkpoints do not cover every record")
        steps = [
            {"from": a, "to": b, "proof": [hash.hex() for hash in proof(a, self.leaves[:b])]}
            for a, b in zip(sizes, sizes[1:])
        ]
        if (self.folder / "consistency.json").read_bytes() != rfc8785.dumps(steps):
            bad(self.folder / "consistency.json", "not the proof")

    def check_signatures(self):
        file, before = self.folder / "signatures.txt", 0
        for line in file.read_text().splitlines() if file.exists() else []:
            size, signature = line.split(" ")
            size = int(size)
            if not before < size <= len(self.leaves):
                bad(file, "out of order")
                break
            before = size
            text = f"{self.origin}\n{size}\n{base64.b64encode(root(self.leaves[:size])).decode()}\n".encode()
            if not signed(self.key(size), text, base64.b64decode(signature)):
                bad(file, f"{size} is not signed")


def check_files(bag):
    listed = {}
    for manifest in ("manifest-sha256.txt", "tagmanifest-sha256.txt"):
        for line in (bag / manifest).read_text().splitlines():
            hash, path = line.split("  ", 1)
            listed[path] = hash
            if not (bag / path).is_file() or sha256((bag / path).read_bytes()) != hash:
                bad(path, "not as listed")
    there = {str(path.relative_to(bag)) for path in bag.rglob("*") if path.is_file()}
    for path in there - set(listed) - {"tagmanifest-sha256.txt"}:
        bad(path, "not listed")


def check_beside(bag, logs):
    records = [record for log in logs for record in log.records]
    photos = {photo["sha256"]: photo for record in records for photo in record["photos"]}
    withheld = {hash for record in records for hash in record["withheld"]}
    reports = {r["body"].get("sha256") for r in records if r["kind"] == "report_written"}
    covers = [c for r in records if r["kind"] == "photo_redacted" for c in r["body"]["redactions"]]
    covered = {cover["sha256"]: cover for cover in covers if cover["original"] in photos}
    for folder, known in (("photos", photos), ("photos-redacted", covered)):
        for path in (bag / "data" / folder).glob("*"):
            data = path.read_bytes()
            named = known.get(sha256(data))
            if path.name.split(".")[0] != sha256(data) or named is None or named["bytes"] != len(data):
                bad(path, "no record names it")
    for path in (bag / "data/disclosures").glob("*"):
        data = path.read_bytes()
        if path.name != sha256(data) + ".txt" or sha256(data) not in withheld:
            bad(path, "no record holds its digest")
    for path in (bag / "data/report").glob("*"):
        if sha256(path.read_bytes()) not in reports:
            bad(path, "no record names it")


def check_between(logs):
    by_device = {log.device: log for log in logs}
    leaves = {log.device: {hash.hex() for hash in log.leaves} for log in logs}
    by_leaf = {hash.hex(): record for log in logs for hash, record in zip(log.leaves, log.records)}
    records = [(log, record) for log in logs for record in log.records]
    complete = all(device in by_device for _, record in records for device in record["others"])
    approved = {r["body"].get("amount") for _, r in records if r["kind"] == "approval_kept"}
    for log, record in records:
        where, body = f"{log.device} {record.get('sequence')}", record["body"]
        for device, hash in record["others"].items():
            if device in leaves and hash not in leaves[device]:
                bad(where, f"knew of a record that {device} does not have")
        if record["kind"] == "device_added":
            says = "this device belongs to the shop and signs with the new key"
            stem, device = f"joined/{body['device']}", body["device"]
            log.statement(stem, body["signing_key"], body["new_key"], says, body, device)
            if (log.folder / f"{stem}.pem").read_text() != body["signing_key"]:
                bad(where, "another key vouches")
            if device in by_device and body["new_key"] not in by_device[device].keys:
                bad(where, f"{device} signs with another key")
        if record["kind"] == "approval_kept":
            estimate = by_leaf.get(body["estimate"])
            if (estimate or complete) and (not estimate or estimate["body"]["totals"]["total"] != body["amount"]):
                bad(where, "not the amount of the estimate")
        if record["kind"] == "invoice_kept" and complete and body["approved"] not in approved:
            bad(where, "nobody approved that")
        if record["kind"] == "finding_kept" and complete:
            kinds = {by_leaf.get(hash, {}).get("kind") for hash in body["readings"]}
            if not kinds <= {"reading_kept", "reading_corrected"}:
                bad(where, "rests on readings that are not there")
        if record["kind"] == "report_written" and "root" in body:
            size = body["size"]
            if size > record["sequence"] or root(log.leaves[:size]).hex() != body["root"]:
                bad(where, "the report prints another checkpoint")


def main(bag):
    check_files(bag)
    named = (bag / "bag-info.txt").read_text().splitlines()[0].removeprefix("External-Identifier: ")
    shop, job = named.split("/")
    schema = json.loads((bag / "data/record.schema.json").read_text())
    logs = [Log(folder, shop, job, schema) for folder in sorted((bag / "data/logs").iterdir())]
    for log in logs:
        log.check_keys()
        log.check_checkpoints()
        log.check_signatures()
    check_beside(bag, logs)
    check_between(logs)


if __name__ == "__main__":
    try:
        main(Path(sys.argv[1]))
    except Exception as cause:  # What can't even be read is not a packet that fits.
        bad("packet", repr(cause))
    print("\n".join(problems) or "everything fits")
    sys.exit(bool(problems))
