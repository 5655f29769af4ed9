// A time-stamp authority of our own on the loopback: `openssl ts` behind HTTP, with a root made for the occasion.
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);
const CONFIG = `[t]
serial = serial
signer_cert = signer.crt
signer_key = signer.key
signer_digest = sha256
default_policy = 1.3.6.1.4.1.99999.1
digests = sha256
ess_cert_id_alg = sha256
[root]
basicConstraints = critical,CA:TRUE
keyUsage = critical,keyCertSign
[signer]
basicConstraints = critical,CA:FALSE
keyUsage = critical,digitalSignature
extendedKeyUsage = critical,timeStamping
[req]
distinguished_name = name
[name]
`;

/** Starts it; gives its address, its root (PEM) and a way to end it. */
export async function startAuthority() {
  const folder = await mkdtemp(join(tmpdir(), 'testimeter-authority-'));
  await makeCertificates(folder);
  const server = createServer((request, response) => void answer(folder, request, response));
  await new Promise((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    address: `http://127.0.0.1:${server.address().port}/`,
    root: await readFile(join(folder, 'root.crt'), 'utf8'),
    stop: async () => {
      server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

async function makeCertificates(cwd) {
  await writeFile(join(cwd, 'authority.cnf'), CONFIG);
  await writeFile(join(cwd, 'serial'), '01\n');
  for (const name of ['root', 'signer']) {
    await run('openssl', ['ecparam', '-name', 'prime256v1', '-genkey', '-noout', '-out', `${name}.key`], {
      cwd,
    });
  }
  const request = ['req', '-config', 'authority.cnf', '-new'];
  const days = ['-days', '30', '-sha256'];
  await run(
    'openssl',
    [...request, '-x509', '-key', 'root.key', '-subj', '/CN=Root for one check', '-extensions', 'root']
      .concat(days)
      .concat(['-out', 'root.crt']),
    { cwd },
  );
  await run(
    'openssl',
    [...request, '-key', 'signer.key', '-subj', '/CN=Clock for one check', '-out', 'signer.csr'],
    { cwd },
  );
  await run(
    'openssl',
    ['x509', '-req', '-in', 'signer.csr', '-CA', 'root.crt', '-CAkey', 'root.key', '-CAcreateserial']
      .concat(days)
      .concat(['-extfile', 'authority.cnf', '-extensions', 'signer', '-out', 'signer.crt']),
    { cwd },
  );
}

async function answer(cwd, request, response) {
  const parts = [];
  for await (const part of request) parts.push(part);
  await writeFile(join(cwd, 'query.tsq'), Buffer.concat(parts));
  const files = ['-queryfile', 'query.tsq', '-out', 'reply.tsr'];
  try {
    await run('openssl', ['ts', '-reply', '-config', 'authority.cnf', '-section', 't', ...files], { cwd });
    response.writeHead(200, { 'content-type': 'application/timestamp-reply' });
    response.end(await readFile(join(cwd, 'reply.tsr')));
  } catch {
    response.writeHead(500);
    response.end();
  }
}
