// Starts the server under test on a job of its own: the command that RINGTRUE names.
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

export const dryer = fileURLToPath(new URL('../../netlists/grain-dryer', import.meta.url));
const command = process.env.RINGTRUE;

/** `change(folder)` may alter the copy of the netlist before the job is made of it. */
export async function start(change = () => {}) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-page-'));
  const netlist = join(folder, 'netlist');
  const job = join(folder, 'gd1.rtj');
  cpSync(dryer, netlist, { recursive: true });
  change(netlist);
  const made = spawnSync(command, ['job', 'new', job, netlist], { encoding: 'utf8' });
  if (made.status !== 0) throw new Error(`job new: ${made.stderr}`);
  let child;

  async function run(port) {
    child = spawn(command, ['serve', job, '--port', String(port)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    for await (const line of createInterface({ input: child.stdout })) {
      const found = /http:\/\/127\.0\.0\.1:(\d+)\/\S*/.exec(line);
      if (!found) continue;
      child.stdout.resume();
      return found;
    }
    throw new Error('The server ended before it named its address.');
  }

  async function halt() {
    if (child.exitCode !== null) return;
    child.kill('SIGTERM');
    await once(child, 'exit');
  }

  const [url, port] = await run(0);
  const get = async (address) => (await fetch(new URL(address, url))).json();
  return {
    url,
    get,
    /** All readings of the job, newest first. */
    readings: async () => (await get('readings?newest=500')).readings,
    /** Adds a revision of the netlist, changed further. */
    revise(alter) {
      alter(netlist);
      const revised = spawnSync(command, ['job', 'revise', job, netlist], { encoding: 'utf8' });
      if (revised.status !== 0) throw new Error(`job revise: ${revised.stderr}`);
    },
    /** Ends the server; the job stays. */
    halt,
    /** Starts it again on the same job at the same address. */
    resume: () => run(port),
    async stop() {
      await halt();
      rmSync(folder, { recursive: true });
    },
  };
}
