import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { answer, asked, launch, openPage, pretend, readOwn, untilReadings } from './browser.js';
import { start } from './server.js';

let browser;
let server;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

/** A page on a job of its own; whatever the browser complained of fails the test. */
function onPage(name, options, run) {
  test(name, async () => {
    server = await start();
    const page = await openPage(browser, server.url, options);
    try {
      await run(page);
      assert.deepEqual(page.wrong, []);
      assert.deepEqual(await page.evaluate(() => window.violations), []);
    } finally {
      await page.context().close();
      await server.stop();
    }
  });
}

const pointsOf = (rows) => rows.map(({ from, to }) => ({ from, to }));

onPage('thirty readings by keyboard alone, the name too', { name: null }, async (page) => {
  await page.keyboard.type('AK');
  await page.keyboard.press('Enter');
  await page.locator('#who').waitFor({ state: 'hidden' });
  const before = [];
  for (let count = 0; count < 30; ++count)
    before.push(await answer(page, () => page.keyboard.press('Space')));
  const rows = await untilReadings(server, 30);
  assert.deepEqual(pointsOf(rows), before);
  assert.deepEqual(new Set(rows.map((row) => `${row.value} ${row.by}`)), new Set(['beep AK']));
  assert.equal(new Set(rows.map((row) => row.id)).size, 30);
});

onPage('thirty readings by touch alone', { touch: true }, async (page) => {
  const before = [];
  for (let count = 0; count < 30; ++count) before.push(await answer(page, () => page.locator('#beep').tap()));
  assert.deepEqual(pointsOf(await untilReadings(server, 30)), before);
});

onPage('a key logs once and means the same wherever the focus is', {}, async (page) => {
  await page.locator('#beep').focus();
  await answer(page, () => page.keyboard.press('Space'));
  await page.locator('#beep').focus();
  await answer(page, () => page.keyboard.press('Enter'));
  await page.locator('#open').focus();
  await answer(page, () => page.keyboard.press('Enter'));
  await page.locator('#beep').click();
  await page.waitForTimeout(310);
  await page.keyboard.press('Space');
  assert.deepEqual(
    (await untilReadings(server, 5)).map((row) => row.value),
    ['beep', 'open', 'open', 'beep', 'beep'],
  );
  await page.locator('#skip').focus();
  await answer(page, () => page.keyboard.press('Space'));
  await page.waitForTimeout(300);
  assert.equal((await server.readings()).length, 5, 'space on a focused Skip skips');
});

onPage('a held key and a bouncing switch log once', {}, async (page) => {
  await page.keyboard.down('Space');
  await page.keyboard.down('Space');
  await page.keyboard.up('Space');
  await page.keyboard.press('Space');
  await page.waitForTimeout(500);
  assert.equal((await untilReadings(server, 1)).length, 1);
});

onPage('ohms as people type them', {}, async (page) => {
  const typed = [
    ['0.4', '#log-ohms'],
    ['1,5k', '#log-ohms'],
    ['ol', '#log-ohms'],
    ['2,2', '#log-kilohms'],
    ['1k5', '#log-ohms'],
    ['1', '#log-ohms'],
    ['', '#log-ol'],
  ];
  for (const [text, button] of typed) {
    await answer(page, async () => {
      await page.locator('#ohms').fill(text);
      await page.locator(button).click();
    });
  }
  await answer(page, async () => {
    await page.keyboard.press('o');
    await page.keyboard.type('470');
    await page.keyboard.press('Enter');
  });
  const rows = await untilReadings(server, 8);
  assert.deepEqual(
    rows.map((row) => row.value),
    ['0.4', '1.5k', 'OL', '2.2k', '1.5k', '1 ohm', 'OL', '470'],
  );
  const before = await asked(page);
  await page.locator('#ohms').fill('about 5');
  await page.keyboard.press('Enter');
  assert.match(await page.locator('#ohms-error').textContent(), /0\.4, 1,5k or OL/);
  assert.deepEqual(await asked(page), before);
});

onPage('undo withdraws the last reading and asks for it again', {}, async (page) => {
  const first = await answer(page, () => page.keyboard.press('Space'));
  await answer(page, () => page.keyboard.press('Space'));
  await answer(page, () => page.locator('#undo').click());
  await answer(page, () => page.locator('#undo').click());
  assert.deepEqual(await asked(page), first);
  await page.waitForFunction(() => document.getElementById('undo').disabled);
  for (let tries = 0; tries < 50 && (await server.readings()).length < 4; ++tries)
    await page.waitForTimeout(50);
  assert.equal((await server.readings()).filter((row) => row.value && !row.superseded_by).length, 0);
  await page.locator('nav [data-view=journal]').click();
  await page.locator('#journal del').nth(1).waitFor();
  assert.match(await page.locator('#journal .gone').first().textContent(), /withdrawn by AK/);
});

onPage('a correction supersedes its reading', {}, async (page) => {
  await answer(page, () => page.keyboard.press('Enter'));
  await page.locator('nav [data-view=journal]').click();
  await page.getByRole('button', { name: /^Correct/ }).click();
  assert.match(await page.locator('#why').textContent(), /Corrects the reading open/);
  await answer(page, () => page.keyboard.press('Space'));
  const rows = await untilReadings(server, 1);
  assert.equal(rows[0].value, 'beep');
  assert.ok(rows[0].supersedes);
});

onPage('skip comes back at the end; any other points can be read', {}, async (page) => {
  const first = await answer(page, () => page.keyboard.press('s'));
  assert.notDeepEqual(await asked(page), first);
  await readOwn(page, 'X1:5.ext', 'X1:6.ext', 'open');
  const [row] = await untilReadings(server, 1);
  assert.deepEqual([row.from, row.to, row.value, row.standing], ['X1:5.ext', 'X1:6.ext', 'open', 'agrees']);
  assert.notDeepEqual(await asked(page), first);
});

onPage('search leads on to a strip and to two points', {}, async (page) => {
  await page.keyboard.press('/');
  await page.keyboard.type('X7:3');
  await page.getByRole('button', { name: 'Go on at X7' }).first().click();
  const first = await asked(page);
  assert.match(`${first.from} ${first.to}`, /X7:/);
  await answer(page, () => page.keyboard.press('Space'));
  assert.match(Object.values(await asked(page)).join(' '), /X7:/);
  await page.locator('#to-search').click();
  await page.locator('#search-words').fill('X3:8');
  await page.getByRole('button', { name: 'Read X3:8.int' }).click();
  assert.equal(await page.locator('#own-from').inputValue(), 'X3:8.int');
});

onPage('a condition is told when it changes, while it lasts and when it ends', {}, async (page) => {
  const state = await server.get('state');
  const unplugged = { conditions: 'G1=unplugged', condition_words: 'G1 unplugged', to_do: 'unplug G1' };
  [{}, unplugged, unplugged, {}, {}].forEach((conditions, at) => Object.assign(state.next[at], conditions));
  await pretend(page, state);
  const told = [];
  for (let count = 0; count < 5; ++count) {
    told.push(
      (await page.locator('#condition').isVisible()) ? await page.locator('#condition').innerText() : '',
    );
    await answer(page, () => page.keyboard.press('Space'));
  }
  assert.deepEqual(told, [
    '',
    'Condition changes: unplug G1',
    'Still: G1 unplugged',
    'Back to rest: put back: G1 unplugged',
    '',
  ]);
  assert.deepEqual(
    (await untilReadings(server, 5)).map((row) => row.conditions),
    ['', 'G1=unplugged', 'G1=unplugged', '', ''],
  );
});
