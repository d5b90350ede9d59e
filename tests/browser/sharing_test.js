import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { answer, asked, launch, openPage, readOwn } from './browser.js';
import { start } from './server.js';

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const remember = () => {
  window.alarms = [];
  window.buzzes = 0;
  navigator.vibrate = () => ++window.buzzes;
  document.addEventListener('DOMContentLoaded', () => {
    const box = document.getElementById('alarm-text');
    new MutationObserver(() => box.textContent && window.alarms.push(box.textContent)).observe(box, {
      childList: true,
      characterData: true,
      subtree: true,
    });
  });
};

function two(name, run) {
  test(name, async () => {
    const server = await start();
    const pages = [
      await openPage(browser, server.url, { init: remember }),
      await openPage(browser, server.url, { name: 'BK', init: remember }),
    ];
    try {
      await run(...pages, server);
      for (const page of pages) assert.deepEqual(page.wrong, []);
    } finally {
      for (const page of pages) await page.context().close();
      await server.stop();
    }
  });
}

const alarm = (page, words) =>
  page.waitForFunction((text) => window.alarms.some((one) => new RegExp(text).test(one)), words);

two('each sees the readings of the other', async (one, other) => {
  const taken = await answer(one, () => one.keyboard.press('Space'));
  await other
    .locator('#others')
    .filter({ hasText: `AK: ${taken.from} to ${taken.to} beep` })
    .waitFor();
  await other.locator('#read-count').filter({ hasText: /^1 of/ }).waitFor();
  await answer(other, () => other.keyboard.press('s'));
  const second = await answer(other, () => other.keyboard.press('Space'));
  await one
    .locator('#others')
    .filter({ hasText: `BK: ${second.from} to ${second.to} beep` })
    .waitFor();
});

two('the reading under the probes stays, whoever else took it', async (one, other) => {
  await other.waitForTimeout(1600);
  const taken = await answer(one, () => one.keyboard.press('Space'));
  await other.locator('#why').filter({ hasText: 'AK has read this: beep' }).waitFor();
  assert.deepEqual(await asked(other), taken);
  await answer(other, () => other.keyboard.press('s'));
});

two('a swap is announced, repaired, read again, gone', async (one, other, server) => {
  await readOwn(one, 'A1:0.7', 'X3:8.ext', 'open');
  // Whichever comes first to a page, the answer or the state; a state with both leaves the finding to be read.
  await alarm(one, 'Contradicts the drawing: A1:0\\.7 to X3:8\\.ext read open|Finding 1: ');
  await alarm(other, 'AK, A1:0\\.7 to X3:8\\.ext|Finding 1: ');
  assert.ok((await one.evaluate(() => window.buzzes)) >= 1);
  await readOwn(one, 'A2:1.7', 'X3:9.ext', 'open');
  await alarm(one, 'exchanged');
  await alarm(other, 'exchanged');

  await one.locator('#alarm-show').click();
  const card = one.locator('#findings .finding').filter({ hasText: 'exchanged' });
  assert.match(await card.textContent(), /1010.*1011|1011.*1010/s);
  await card.getByRole('button', { name: 'Moved as proposed' }).dblclick();
  await one.waitForTimeout(300);
  assert.equal(await card.count(), 1, 'a double press logs no repair');
  if ((await card.locator('.confirm').count()) === 0)
    await card.getByRole('button', { name: 'Moved as proposed' }).click();
  await one.waitForTimeout(750);
  await card.getByRole('button', { name: 'Yes, it is moved' }).click();

  await one.locator('#why').filter({ hasText: 'To be taken again' }).waitFor();
  for (let count = 0; count < 12 && /again/.test(await one.locator('#why').textContent()); ++count) {
    await one.waitForTimeout(1600);
    await answer(one, () => one.keyboard.press('Space'));
  }
  await one.locator('#finding-count').filter({ hasText: /^$/ }).waitFor({ state: 'attached' });
  await one.locator('nav [data-view=findings]').click();
  await one.locator('#findings').filter({ hasText: 'No reading contradicts the drawing' }).waitFor();
  assert.equal((await server.get('state')).findings.length, 0);
});

two('a temporary change stays in sight on every page until it is undone', async (one, other) => {
  await one.locator('#to-more').click();
  await one.getByRole('button', { name: 'Temporary changes' }).click();
  await one.locator('#change-points').fill('X1:5.ext X1:6.ext');
  await one.locator('#change-text').fill('jumper');
  await one.getByRole('button', { name: 'Log it as made' }).click();
  await other.locator('#temporary').filter({ hasText: 'Open: jumper at X1:5.ext, X1:6.ext' }).waitFor();
  await other
    .locator('#temporary')
    .getByRole('button', { name: /^Undone/ })
    .click();
  await one.locator('#temporary').waitFor({ state: 'hidden' });
});

two('the journal and the channels follow what others do', async (one, other, server) => {
  await one.locator('nav [data-view=journal]').click();
  const taken = await answer(other, () => other.keyboard.press('Enter'));
  await one
    .locator('#journal li')
    .filter({ hasText: `${taken.from} to ${taken.to} open` })
    .filter({ hasText: 'contradicts the drawing' })
    .waitFor();
  await other.locator('#undo').click();
  await one.locator('#journal li del').waitFor();
  await one.locator('nav [data-view=channels]').click();
  await one.getByRole('button', { name: 'Path of A1:0.0' }).click();
  await one.locator('#path svg > title').waitFor({ state: 'attached' });
  await one.locator('#channel-words').fill('hopper');
  const words = (await server.get('channels')).channels.filter((channel) =>
    /hopper/i.test(`${channel.tag} ${channel.text}`),
  );
  assert.equal(await one.locator('#channels li').count(), words.length);
  assert.ok(words.length > 0);
});

two('what is due first is offered, and never changes the reading under the probes', async (one, other) => {
  await answer(one, () => one.keyboard.press('s'));
  const before = await asked(one);
  await one.waitForTimeout(1600);
  const wrong = await answer(other, () => other.keyboard.press('Enter'));
  await other.locator('nav [data-view=findings]').click();
  await other.getByRole('button', { name: 'Moved as proposed' }).first().click();
  await other.waitForTimeout(750);
  await other.getByRole('button', { name: 'Yes, it is moved' }).click();
  await one
    .locator('#due')
    .filter({ hasText: `Take first: ${wrong.from} to ${wrong.to}` })
    .waitFor();
  assert.deepEqual(await asked(one), before);
  await one.locator('#due').click();
  assert.deepEqual(await asked(one), wrong);
  assert.match(await one.locator('#why').textContent(), /To be taken again/);
});
