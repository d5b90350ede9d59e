// The pages as HTML: by a validator that knows the standard and nothing of this project.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { HtmlValidate } from 'html-validate';
import { dryer } from './server.js';

const command = process.env.RINGTRUE;
async function complaints(text, rules = 'html-validate:recommended') {
  const report = await new HtmlValidate({ extends: [rules] }).validateString(text);
  return report.results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, line, column }) => `${line}:${column} ${ruleId}: ${message}`),
  );
}

/** The record of a job of that netlist and the readings of the demo. */
function recordOf(netlist, folder) {
  const job = join(folder, 'gd1.rtj');
  const out = join(folder, 'record');
  const readings = ['--readings', join(dryer, 'readings.csv'), '--meter', join(dryer, 'meters.csv')];
  const made = spawnSync(command, ['job', 'new', job, netlist, ...readings], { encoding: 'utf8' });
  assert.equal(made.status, 0, made.stderr);
  const written = spawnSync(command, ['record', job, out], { encoding: 'utf8' });
  assert.equal(written.status, 1, written.stderr);
  return readFileSync(join(out, 'record.html'), 'utf8');
}

function inFolder(run) {
  const folder = mkdtempSync(join(tmpdir(), 'record-html-'));
  try {
    return run(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

test('the validator sees what is wrong', async () => {
  assert.notDeepEqual(await complaints('<!DOCTYPE html><html lang="en"><body><p id="a"><p id="a"></body></html>'), []);
});

// Its views are hidden and filled by scripts: looks_test.js judges them as they are shown.
test('the bench page is valid HTML', async () => {
  const page = new URL('../../src/serve/page/page.html', import.meta.url);
  assert.deepEqual(await complaints(readFileSync(page, 'utf8'), 'html-validate:standard'), []);
});

test('the record of the demo is valid HTML', async () => {
  assert.deepEqual(await complaints(inFolder((folder) => recordOf(dryer, folder))), []);
});

test('the record of a drawing with hostile names is valid HTML', async () => {
  const page = inFolder((folder) => {
    const netlist = join(folder, 'netlist');
    cpSync(dryer, netlist, { recursive: true });
    const channels = join(netlist, 'channels.csv');
    const text = readFileSync(channels, 'utf8');
    writeFileSync(channels, text.replace('HOPPER_NOT_FULL', '"</td></style><p id=""svg"" onload=a>&<!-- ]]>"'));
    const panel = join(netlist, 'panel.csv');
    writeFileSync(panel, readFileSync(panel, 'utf8').replace('GD1-E', '"</style><script>alert(1)</script>"'));
    return recordOf(netlist, folder);
  });
  assert.match(page, /&lt;\/td&gt;&lt;\/style&gt;/);
  assert.deepEqual(await complaints(page), []);
});
