"""A time-stamp authority on this machine: OpenSSL signs, this carries (RFC 3161 section 3.4).

    authority.py FOLDER   makes its keys and certificates in FOLDER, prints "http PORT" and "https PORT", serves until killed

/stamp answers properly; /refuse, /other-nonce, /slow, /page, /huge, /broken answer as real servers sometimes do.
/silent takes the question and never answers; GET /asked says how many questions it took.
"""

import http.server
import os
import ssl
import subprocess
import sys
import threading
import time

folder = os.path.abspath(sys.argv[1])


def path(name):
    return os.path.join(folder, name)


def openssl(*words, data=None):
    done = subprocess.run(["openssl", *words], input=data, capture_output=True, cwd=folder)
    if done.returncode != 0:
        raise RuntimeError(f"openssl {' '.join(words)}: {done.stderr.decode()}")
    return done.stdout


def write(name, text):
    with open(path(name), "w") as file:
        file.write(text)


def key(name):
    openssl("ecparam", "-name", "prime256v1", "-genkey", "-noout", "-out", name + ".key")


def certificate(name, extensions):
    key(name)
    write(name + ".ext", extensions)
    openssl("req", "-new", "-key", name + ".key", "-subj", f"/O=Checks/CN={name}", "-out", name + ".csr")
    openssl("x509", "-req", "-in", name + ".csr", "-CA", "root.crt", "-CAkey", "root.key", "-CAcreateserial",
            "-days", "3650", "-extfile", name + ".ext", "-out", name + ".crt")


def make():
    key("root")
    openssl("req", "-x509", "-new", "-key", "root.key", "-subj", "/O=Checks/CN=root", "-days", "3650",
            "-addext", "basicConstraints=critical,CA:TRUE", "-addext", "keyUsage=critical,keyCertSign", "-out", "root.crt")
    certificate("signer", "basicConstraints=critical,CA:FALSE\nkeyUsage=critical,digitalSignature\n"
                          "extendedKeyUsage=critical,timeStamping\n")
    certificate("server", "basicConstraints=critical,CA:FALSE\nsubjectAltName=IP:127.0.0.1\nextendedKeyUsage=serverAuth\n")
    write("serial", "01\n")
    write("tsa.cnf", "[t]\nserial = serial\nsigner_cert = signer.crt\nsigner_key = signer.key\nsigner_digest = sha256\n"
                     "default_policy = 1.3.6.1.4.1.99999.1\ndigests = sha256\ness_cert_id_alg = sha256\n"
                     "accuracy = secs:1\n")


lock = threading.Lock()
silent = []  # questions that nobody ever answered


def stamp(question, name="q"):
    with lock:  # the serial number is a file
        with open(path(name + ".tsq"), "wb") as file:
            file.write(question)
        return openssl("ts", "-reply", "-config", "tsa.cnf", "-section", "t", "-queryfile", name + ".tsq")


def stamp_other_nonce():
    write("other.txt", "something else")
    openssl("ts", "-query", "-data", "other.txt", "-sha256", "-cert", "-out", "other.tsq")
    with open(path("other.tsq"), "rb") as file:
        return stamp(file.read(), "o")


class Door(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *words):
        pass

    def answer(self, status, sort, body):
        self.send_response(status)
        self.send_header("Content-Type", sort)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def do_POST(self):
        question = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        reply = "application/timestamp-reply"
        if self.headers.get("Content-Type") != "application/timestamp-query":
            self.answer(415, "text/plain", b"")
        elif self.path == "/stamp":
            self.answer(200, reply, stamp(question))
        elif self.path == "/refuse":
            # What OpenSSL answers to something that is no question: status rejection, in proper form.
            self.answer(200, reply, stamp(b"0\x03\x02\x01\x01"))
        elif self.path == "/other-nonce":
            self.answer(200, reply, stamp_other_nonce())
        elif self.path == "/slow":
            time.sleep(5)
            self.answer(200, reply, b"late")
        elif self.path == "/silent":
            silent.append(question)
            threading.Event().wait()
        elif self.path == "/page":
            self.answer(200, "text/html", b"<p>Welcome</p>")
        elif self.path == "/huge":
            self.answer(200, reply, bytes(3 << 20))
        elif self.path == "/moved":
            self.send_response(302)
            self.send_header("Location", "/stamp")
            self.send_header("Content-Length", "0")
            self.end_headers()
        else:
            self.answer(503, "text/plain", b"")


    def do_GET(self):
        self.answer(200, "text/plain", str(len(silent)).encode())


class Server(http.server.ThreadingHTTPServer):
    def handle_error(self, request, client_address):
        pass  # A caller that hangs up is what some checks are about.


def serve(tls):
    server = Server(("127.0.0.1", 0), Door)
    if tls:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(path("server.crt"), path("server.key"))
        server.socket = context.wrap_socket(server.socket, server_side=True)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server.server_address[1]


os.makedirs(folder, exist_ok=True)
make()
print("http", serve(False), flush=True)
print("https", serve(True), flush=True)
threading.Event().wait()
