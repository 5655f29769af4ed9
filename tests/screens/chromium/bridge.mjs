// The real backend: the app's own commands behind HTTP on the loopback (tests/bridge.rs).
import { spawn } from 'node:child_process';
import { createServer, request } from 'node:http';
import { createInterface } from 'node:readline';

/** Starts the bridge on a data folder; gives its address and a way to end it. */
export async function startBridge(program, dataFolder) {
  const child = spawn(program, [], {
    env: { ...process.env, TESTIMETER_DATA: dataFolder },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  process.once('exit', () => child.kill());
  for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => process.exit(1));
  const ended = new Promise((_, reject) => {
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`the bridge ended with ${code} before it listened`)));
  });
  const lines = createInterface({ input: child.stdout });
  const address = await Promise.race([new Promise((found) => lines.once('line', found)), ended]);
  const relay = await startRelay(address.trim());
  return {
    address: relay.address,
    stop: () => {
      relay.stop();
      child.kill();
    },
  };
}

/**
 * One connection a request. The bridge's server reads kept-alive connections with a few threads: of several that a
 * browser opens at once some are read only after another is closed, and a command sent there waits for a minute.
 */
async function startRelay(bridge) {
  const server = createServer((asked, answer) => {
    const headers = { ...asked.headers, connection: 'close' };
    const passed = request(
      bridge + asked.url,
      { method: asked.method, headers, agent: false },
      (answered) => {
        const { connection: _, ...kept } = answered.headers;
        answer.writeHead(answered.statusCode, kept);
        answered.pipe(answer);
      },
    );
    passed.once('error', (error) => answer.destroy(error));
    asked.pipe(passed);
  });
  await new Promise((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    address: `http://127.0.0.1:${server.address().port}`,
    stop: () => {
      server.close();
      server.closeAllConnections();
    },
  };
}
