"""Containers that a general zip reader accepts and a verifier of evidence must not.

    forms.py PACKET OUT FORM
"""
import struct, sys, zipfile, zlib

source, out, form = sys.argv[1:]
FOLDER = "packet-job-0042"


def entry(name, mode=0o100644):
    made = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    made.create_system, made.create_version, made.extract_version, made.external_attr = 3, 10, 10, mode << 16
    return made


def copied():
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(out, "w") as new:
        for info in old.infolist():
            made, data = entry(info.filename), old.read(info)
            last = info.filename.endswith("verify.sh")
            if form == "deflated":
                made.compress_type = zipfile.ZIP_DEFLATED
            if form == "link" and last:
                made, data = entry(info.filename, 0o120777), b"/bin/true"
            if form == "executable" and last:
                made = entry(info.filename, 0o100755)
            if form == "dated":
                made.date_time = (2031, 1, 1, 0, 0, 0)
            if form == "extra field":
                made.extra = b"\xfe\xca\x02\x00hi"
            if form == "look-alike name" and info.filename.endswith("README.txt"):
                made = entry(info.filename.replace("A", "\u0410"))  # CYRILLIC CAPITAL LETTER A
            if form == "other case" and info.filename.endswith("README.txt"):
                made = entry(info.filename.replace("README", "Readme"))
            if form == "backslashes":
                made = entry(info.filename.replace("/", "\\"))
            new.writestr(made, data)
            if form == "name twice" and last:
                new.writestr(entry(info.filename), b"echo OK")
        if form == "path upwards":
            new.writestr(entry(f"{FOLDER}/zz/../../evil"), b"x")
        if form == "absolute path":
            new.writestr(entry("/zz"), b"x")
        if form == "second folder":
            new.writestr(entry("packet-other/data/README.txt"), b"x")
        if form == "folder entry":
            new.writestr(entry(f"{FOLDER}/zz/", 0o40755), b"")
        if form == "comment":
            new.comment = b"hello"


def local(name, method, crc, packed, size):
    head = struct.pack("<IHHHHHIIIHH", 0x04034B50, 20, 0, method, 0, 33, crc, packed, size, len(name), 0)
    return head + name


def central(name, method, crc, packed, size, offset):
    head = struct.pack("<IHHHHHHIIIHHHHHII", 0x02014B50, 0x314, 20, 0, method, 0, 33, crc, packed, size,
                       len(name), 0, 0, 0, 0, 0o100644 << 16, offset)
    return head + name


def bomb():
    """Ten gigabytes of zeros in one megabyte: ten entries of the directory share one deflated gigabyte."""
    piece, count = 1 << 20, 1024
    press = zlib.compressobj(9, zlib.DEFLATED, -15)
    block = press.compress(bytes(piece)) + press.flush(zlib.Z_FULL_FLUSH)
    data = block * count + zlib.compressobj(9, zlib.DEFLATED, -15).flush()
    crc = 0
    for _ in range(count):
        crc = zlib.crc32(bytes(piece), crc)
    size = piece * count
    first = f"{FOLDER}/data/photos/0.jpg".encode()
    body = local(first, 8, crc, len(data), size) + data
    names = [f"{FOLDER}/data/photos/{number}.jpg".encode() for number in range(10)]
    listed = b"".join(central(name, 8, crc, len(data), size, 0) for name in names)
    end = struct.pack("<IHHHHIIH", 0x06054B50, 0, 0, 10, 10, len(listed), len(body), 0)
    with open(out, "wb") as file:
        file.write(body + listed + end)


def two_directories():
    """A second directory that names other bytes for one file; readers differ in which they believe."""
    with open(source, "rb") as file:
        packet = file.read()
    end = packet.rindex(b"PK\x05\x06")
    size, start = struct.unpack("<II", packet[end + 12:end + 20])
    name = f"{FOLDER}/data/verify.sh".encode()
    data = b"echo OK\n"
    crc = zlib.crc32(data)
    extra = local(name, 0, crc, len(data), len(data)) + data
    old = packet[start:start + size]
    at = old.index(name) - 46
    length = struct.unpack("<HHH", old[at + 28:at + 34])
    changed = old[:at] + central(name, 0, crc, len(data), len(data), len(packet)) + old[at + 46 + sum(length):]
    count = struct.unpack("<H", packet[end + 10:end + 12])[0]
    tail = struct.pack("<IHHHHIIH", 0x06054B50, 0, 0, count, count, len(changed), len(packet) + len(extra), 0)
    with open(out, "wb") as file:
        file.write(packet + extra + changed + tail)


def longer_name_inside():
    """The header before a file names another file than the directory does."""
    with open(source, "rb") as file:
        packet = bytearray(file.read())
    at = packet.index(b"README.txt")
    packet[at:at + 10] = b"README.exe"
    with open(out, "wb") as file:
        file.write(packet)


special = {"bomb": bomb, "two directories": two_directories, "names differ": longer_name_inside}
special.get(form, copied)()
