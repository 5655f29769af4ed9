// The time-stamp authority of the other checks: OpenSSL behind HTTP, on this machine.
import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const SCRIPT = fileURLToPath(new URL('../../authorities/authority.py', import.meta.url));

/** Starts it; gives its address, its root (PEM) and a way to end it. */
export async function startAuthority() {
  const folder = await mkdtemp(join(tmpdir(), 'testimeter-authority-'));
  const server = spawn('python3', [SCRIPT, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  const port = await new Promise((found, failed) => {
    server.once('error', failed);
    server.once('exit', () => failed(new Error('the authority ended; are python3 and openssl installed?')));
    createInterface(server.stdout).on('line', (line) => {
      if (line.startsWith('http ')) found(Number(line.slice(5)));
    });
  });
  return {
    address: `http://127.0.0.1:${port}/stamp`,
    root: await readFile(join(folder, 'root.crt'), 'utf8'),
    stop: async () => {
      server.removeAllListeners('exit');
      server.kill();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
