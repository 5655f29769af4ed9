// The real backend: the app's own commands behind HTTP on the loopback (tests/bridge.rs).
import { spawn } from 'node:child_process';
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
  return { address: address.trim(), stop: () => child.kill() };
}
