import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, openPage } from './browser.js';
import { start } from './server.js';

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

/** A page on the I/O test view of a job of its own; `options.change` as `start` takes it. */
function onTests(name, options, run) {
  test(name, async () => {
    const server = await start(options.change);
    const page = await openPage(browser, server.url, options);
    try {
      await page.locator('nav [data-view=tests]').click();
      await page.locator('#test-name').waitFor();
      await run(page, server);
      assert.deepEqual(page.wrong, []);
      assert.deepEqual(await page.evaluate(() => window.violations), []);
    } finally {
      await page.context().close();
      await server.stop();
    }
  });
}

/** Results that count of this channel, once there are so many. */
async function results(server, tag, count = 1) {
  let found;
  for (let tries = 0; tries < 100; ++tries) {
    const { tests } = await server.get('tests');
    found = tests.find((one) => one.tag === tag);
    if (found.results.length === count) return found;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`${tag} has ${found.results.length} results, not ${count}`);
}

const shown = (page, tag) => page.locator('#test-name').filter({ hasText: new RegExp(`^${tag}$`) }).waitFor();

async function choose(page, tag, press = (button) => button.click()) {
  await press(page.locator('#test-all'));
  await press(page.getByRole('button', { name: `Test ${tag}`, exact: true }));
  await shown(page, tag);
}

/** Answers one after the other, as fast as a switch that doesn't bounce. */
async function answer(page, acts) {
  for (const act of acts) {
    await act();
    await page.waitForTimeout(310);
  }
}
const keys = (page, names) => answer(page, names.map((name) => () => page.keyboard.press(name)));
const taps = (page, ids) => answer(page, ids.map((id) => () => page.locator(id).tap()));

onTests('an input on hold by keys alone: its reasons, the word for it, four answers', {}, async (page, server) => {
  await shown(page, 'HOPPER_NOT_FULL');
  assert.match(await page.locator('#test').textContent(), /On hold.*Not proven by readings/s);
  assert.equal(await page.locator('#test-left').isVisible(), false, 'nothing is asked while it is on hold');
  await keys(page, ['Space', 'Enter']);
  await page.keyboard.press('w');
  await page.locator('#test-left').waitFor();
  assert.match(await page.locator('#test').textContent(), /offered on the word of AK/);
  await keys(page, ['Space', 'Space', 'Space', 'Enter']);
  const { shown: verdict, results: rows } = await results(server, 'HOPPER_NOT_FULL');
  const { stimulus, led, bit, only_this: only, by, reason } = rows[0];
  assert.deepEqual([verdict, stimulus, led, bit, only, by], ['pass', 'jumper', 'lit', '1', 'yes', 'AK']);
  assert.match(reason, /removed: dark; on hold, offered without proof by AK/);
  await shown(page, 'HOPPER_STOCK');
});

onTests('a pass of an earlier revision that touched its channel is no pass of the drawing', {}, async (page, server) => {
  await choose(page, 'NO_STOP');
  await keys(page, ['Enter', 'Enter', 'Space', 'Space']);
  await results(server, 'NO_STOP');
  server.revise((folder) => {
    const panel = join(folder, 'panel.csv');
    writeFileSync(panel, readFileSync(panel, 'utf8').replace('revision,B', 'revision,C'));
    const conductors = join(folder, 'conductors.csv');
    writeFileSync(conductors, readFileSync(conductors, 'utf8').replace(/^1111,(.*),0\.75,/m, '1111,$1,1.5,'));
  });
  await page.locator('header').filter({ hasText: 'GD1 C' }).waitFor();
  await choose(page, 'NO_STOP');
  const words = page.locator('#test').filter({ hasText: 'passed before a revision that touched it' });
  await words.waitFor();
  assert.match(await words.textContent(), /revision B/);
  assert.equal((await results(server, 'NO_STOP')).shown, 'other revision');
});

const longTag = (folder) => {
  const channels = join(folder, 'channels.csv');
  writeFileSync(channels, readFileSync(channels, 'utf8').replace('HOPPER_NOT_FULL', 'W'.repeat(4000)));
};
onTests('a long tag hides no reason for a hold', { change: longTag }, async (page) => {
  const reason = page.locator('#test').getByText('Not proven by readings').first();
  await reason.waitFor();
  const box = await reason.boundingBox();
  const answers = await page.getByRole('button', { name: /Offer it on my word/ }).boundingBox();
  assert.ok(box.y < answers.y, `the reason begins at ${box.y}, the answers at ${answers.y}`);
});

onTests('a contact that opens, by touch alone', { touch: true }, async (page, server) => {
  await choose(page, 'NO_STOP', (button) => button.tap());
  assert.match(await page.locator('#test-asked').textContent(), /S3 operated: the LED \(expected: dark\)/);
  await taps(page, ['#test-right', '#test-right', '#test-left', '#test-left']);
  const { shown: verdict, results: rows } = await results(server, 'NO_STOP');
  assert.deepEqual([verdict, rows[0].stimulus, rows[0].led, rows[0].bit], ['pass', 'operated', 'dark', '0']);
});

onTests('a bouncing switch answers once', {}, async (page) => {
  await choose(page, 'START');
  await page.keyboard.press('Space');
  await page.keyboard.press('Space');
  await page.waitForTimeout(400);
  assert.match(await page.locator('#test-asked').textContent(), /the bit at the controller/);
});

onTests('what stays lit fails, and not looked is no pass', {}, async (page, server) => {
  await choose(page, 'START');
  await keys(page, ['Space', 'Space', 'Space', 'Space']);
  assert.equal((await results(server, 'START')).shown, 'fail');
  await choose(page, 'AUTOMATIC');
  await keys(page, ['Space', 'x', 'x', 'Enter']);
  assert.equal((await results(server, 'AUTOMATIC')).shown, 'LED only');
});

onTests('an answer and a result are undone', {}, async (page, server) => {
  await choose(page, 'START');
  await keys(page, ['Enter', 'u', 'Space', 'Space', 'Space', 'Enter']);
  assert.equal((await results(server, 'START')).shown, 'pass');
  await page.keyboard.press('u');
  assert.equal((await results(server, 'START', 0)).shown, 'not tested');
  await shown(page, 'START');
});

onTests('an analog channel: five values, one beside the tolerance', {}, async (page, server) => {
  await choose(page, 'MOISTURE_IN');
  assert.match(await page.locator('.seen-row').nth(2).textContent(), /50 %: feed 12 mA, shows 24 %/);
  await page.locator('#seen-0').focus();
  for (const value of ['8', '16,1', '24', '32.05', '41']) {
    await page.keyboard.type(value);
    await page.keyboard.press('Enter');
  }
  const { shown: verdict, results: rows } = await results(server, 'MOISTURE_IN', 5);
  assert.equal(verdict, 'fail');
  assert.deepEqual(
    rows.map((row) => [row.value, row.verdict]),
    [
      ['8 %', 'pass'],
      ['16.1 %', 'pass'],
      ['24 %', 'pass'],
      ['32.05 %', 'pass'],
      ['41 %', 'fail'],
    ],
  );
  await page.locator('#seen-100').fill('about 40');
  await page.keyboard.press('Enter');
  assert.match(await page.locator('.analog .error').textContent(), /such as 12\.1/);
  await page.locator('#seen-100').fill('40');
  await page.keyboard.press('Enter');
  await page.locator('#test .head .pass').waitFor();
  assert.equal((await results(server, 'MOISTURE_IN', 5)).shown, 'pass');
});

onTests('an output with volts', {}, async (page, server) => {
  await choose(page, 'FAN');
  await page.locator('#volts-on').fill('23,9');
  await page.locator('#volts-off').fill('0.1');
  await page.locator('#test-left').click();
  const { shown: verdict, results: rows } = await results(server, 'FAN');
  assert.deepEqual([verdict, rows[0].value], ['pass', 'on 23.9 V, off 0.1 V']);
});

onTests('what is refused is never offered', {}, async (page, server) => {
  await choose(page, 'STOP_RESET');
  assert.match(await page.locator('#test').textContent(), /Refused.*No jumper on safety functions/is);
  assert.match(await page.locator('#test').textContent(), /Not tested here/);
  const buttons = await page.locator('#tests button:visible').allTextContents();
  assert.deepEqual(buttons, ['Undo', 'Skip', 'All channels']);
  await keys(page, ['Space', 'Enter', 'w', 'x', 'Space']);
  assert.deepEqual((await results(server, 'STOP_RESET', 0)).results, []);
  const { tests } = await server.get('tests');
  for (const one of tests.filter(({ answer: is }) => is === 'refused')) {
    assert.deepEqual(one.places, [], one.point);
    assert.doesNotMatch(one.do, /^(Fit a|Connect)/, one.point);
  }
});

onTests('results taken offline are all there once', {}, async (page, server) => {
  await choose(page, 'START');
  await page.context().setOffline(true);
  await keys(page, ['Space', 'Space', 'Space', 'Enter']);
  await choose(page, 'NO_STOP');
  await keys(page, ['Enter', 'Enter', 'Space', 'Space']);
  await choose(page, 'LAMP_DRYING');
  await keys(page, ['Space']);
  await page.locator('#sending-text').filter({ hasText: 'Offline, 3 entries waiting' }).waitFor();
  await page.locator('#test-all').click();
  assert.equal(await page.locator('#test-list .waiting').count(), 3);
  await page.context().setOffline(false);
  for (const tag of ['START', 'NO_STOP', 'LAMP_DRYING']) assert.equal((await results(server, tag)).shown, 'pass');
  await page.locator('#sending').waitFor({ state: 'hidden' });
});

onTests('an answer that is lost on the way: the result stands once', {}, async (page, server) => {
  let lost = 0;
  await page.route('**/results', async (route) => {
    if (lost >= 2) return route.continue();
    lost += 1;
    await route.fetch();
    return route.abort();
  });
  await choose(page, 'START');
  await keys(page, ['Space', 'Space', 'Space', 'Enter']);
  await page.waitForFunction(() => !Object.keys(localStorage).some((key) => key.startsWith('ringtrue.out.')));
  assert.equal(lost, 2);
  await results(server, 'START');
});

onTests('each sees the results of the other at once', {}, async (page, server) => {
  const other = await openPage(browser, server.url, { name: 'BK' });
  await other.keyboard.press('t');
  await choose(other, 'START');
  await keys(other, ['Space', 'Space', 'Space', 'Enter']);
  await page.locator('#test-said').filter({ hasText: 'BK: START pass' }).waitFor();
  await page.evaluate(() => {
    window.said = [];
    const box = document.getElementById('test-said');
    new MutationObserver(() => window.said.push(box.textContent)).observe(box, { childList: true, subtree: true });
  });
  await choose(other, 'NO_STOP');
  await keys(other, ['Enter', 'Enter', 'Space', 'Space']);
  await page.locator('#test-said').filter({ hasText: 'BK: NO_STOP pass' }).waitFor();
  assert.deepEqual(await page.evaluate(() => window.said), ['BK: NO_STOP pass'], 'each is told once');
  await page.locator('#test-all').click();
  await page.locator('#test-list li').filter({ hasText: 'START' }).locator('.mark.pass').first().waitFor();
  await other.context().close();
});

onTests('the sheet of all channels is what is printed', {}, async (page) => {
  await page.evaluate(() => {
    window.print = () => {};
  });
  await page.locator('#test-all').click();
  await page.getByRole('button', { name: 'Print the sheet' }).click();
  await page.emulateMedia({ media: 'print' });
  assert.equal(await page.locator('#sheet tbody tr').count(), 44);
  assert.equal(await page.locator('#sheet').isVisible(), true);
  assert.equal(await page.locator('nav').isVisible(), false);
  assert.match(await page.locator('#sheet').textContent(), /No jumper on safety functions/);
});
