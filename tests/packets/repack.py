"""Zips a packet's folder again with Python's own zipfile, after rewriting its manifests honestly.

    repack.py FOLDER OUT     FOLDER is packet-<job>; prints nothing
    repack.py --as-it-is FOLDER OUT   the same without rewriting the manifests
    repack.py --ranges ZIP   prints name, start and length of each file's bytes as JSON
"""
import hashlib, json, os, struct, sys, zipfile


def files(folder):
    for base, _, names in os.walk(folder):
        for name in names:
            yield os.path.relpath(os.path.join(base, name), folder)


def rewrite_manifests(folder):
    def lines(paths):
        for path in sorted(paths):
            with open(os.path.join(folder, path), "rb") as file:
                yield f"{hashlib.sha256(file.read()).hexdigest()}  {path}\n"

    payload = [path for path in files(folder) if path.startswith("data/")]
    size = sum(os.path.getsize(os.path.join(folder, path)) for path in payload)
    info = os.path.join(folder, "bag-info.txt")
    with open(info) as file:
        first = file.readline()
    with open(info, "w") as file:
        file.write(f"{first}Payload-Oxum: {size}.{len(payload)}\n")
    with open(os.path.join(folder, "manifest-sha256.txt"), "w") as file:
        file.writelines(lines(payload))
    tags = ["bag-info.txt", "bagit.txt", "manifest-sha256.txt"]
    with open(os.path.join(folder, "tagmanifest-sha256.txt"), "w") as file:
        file.writelines(lines(tags))


def pack(folder, out):
    with zipfile.ZipFile(out, "w") as archive:
        for path in sorted(files(folder)):
            entry = zipfile.ZipInfo(f"{os.path.basename(folder)}/{path}", (1980, 1, 1, 0, 0, 0))
            entry.create_system, entry.create_version, entry.extract_version = 3, 10, 10
            entry.external_attr = 0o100644 << 16
            with open(os.path.join(folder, path), "rb") as file:
                archive.writestr(entry, file.read())


def ranges(path):
    with open(path, "rb") as raw, zipfile.ZipFile(path) as archive:
        found = []
        for entry in archive.infolist():
            raw.seek(entry.header_offset + 26)
            name, extra = struct.unpack("<HH", raw.read(4))
            start = entry.header_offset + 30 + name + extra
            found.append([entry.filename.split("/", 1)[1], start, entry.file_size])
    print(json.dumps(found))


if sys.argv[1] == "--ranges":
    ranges(sys.argv[2])
elif sys.argv[1] == "--as-it-is":
    pack(sys.argv[2], sys.argv[3])
else:
    rewrite_manifests(sys.argv[1])
    pack(sys.argv[1], sys.argv[2])
