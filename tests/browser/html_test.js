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
    const panel = join(netlist, 'panel.csv');
    for (const [file, plain, hostile] of [
      [channels, 'HOPPER_NOT_FULL', '"</td></style><p id=""svg"" onload=a>&<!-- ]]>"'],
      [panel, 'revision,B', 'revision,"</style><script>alert(1)</script>"'], // it also stands in the style sheet
    ]) {
      const text = readFileSync(file, 'utf8');
      assert.ok(text.includes(plain), `${file} lacks ${plain}`);
      writeFileSync(file, text.replace(plain, hostile));
    }
    return recordOf(netlist, folder);
  });
  assert.match(page, /&lt;\/td&gt;&lt;\/style&gt;/);
  assert.match(page, /&lt;script&gt;alert\(1\)/);
  assert.equal(page.split('</style>').length, 2);
  assert.deepEqual(await complaints(page, 'html-validate:standard'), []); // recommended minds the length of the title
});
