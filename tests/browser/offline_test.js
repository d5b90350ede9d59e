import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { answer, launch, openPage, untilReadings } from './browser.js';
import { start } from './server.js';

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

function onServer(name, run) {
  test(name, async () => {
    const server = await start();
    const page = await openPage(browser, server.url);
    try {
      await run(page, server);
      assert.deepEqual(page.wrong, []);
    } finally {
      await page.context().close();
      await server.stop();
    }
  });
}

const beep = (page) => answer(page, () => page.keyboard.press('Space'));
const waiting = (page, words) => page.locator('#sending-text').filter({ hasText: words }).waitFor();
const points = (rows) => rows.map(({ from, to }) => ({ from, to }));

async function once(server, before) {
  const rows = await untilReadings(server, before.length);
  assert.deepEqual(points(rows), before);
  assert.equal(new Set(rows.map((row) => row.id)).size, before.length);
}

onServer('ten readings taken offline are all there once, in order', async (page, server) => {
  await page.context().setOffline(true);
  const before = [];
  for (let count = 0; count < 10; ++count) before.push(await beep(page));
  await waiting(page, 'Offline, 10 readings waiting');
  assert.deepEqual(await server.readings(), []);
  await page.context().setOffline(false);
  await once(server, before);
  await page.locator('#sending').waitFor({ state: 'hidden' });
});

onServer('a page loaded anew sends what waited', async (page, server) => {
  const block = (route) => (route.request().method() === 'POST' ? route.abort() : route.continue());
  await page.route('**/readings', block);
  const before = [];
  for (let count = 0; count < 5; ++count) before.push(await beep(page));
  await page.reload();
  await waiting(page, '5 readings waiting');
  before.push(await beep(page));
  await page.unroute('**/readings', block);
  await once(server, before);
});

onServer(
  'a server that is down, a page that is closed: the next page of the browser sends',
  async (page, server) => {
    const before = [await beep(page)];
    await untilReadings(server, 1);
    await server.halt();
    for (let count = 0; count < 3; ++count) before.push(await beep(page));
    await waiting(page, 'Offline, 3 readings waiting');
    await page.close();
    await server.resume();
    const later = await openPage(browser, server.url, { context: page.context() });
    await once(server, before);
    await later.locator('#sending').waitFor({ state: 'hidden' });
  },
);

onServer('a server that starts again is believed, whatever its version says', async (page, server) => {
  for (let count = 0; count < 3; ++count) await beep(page);
  await untilReadings(server, 3);
  await server.halt();
  await server.resume();
  const other = await openPage(browser, server.url, { name: 'BK' });
  await beep(other);
  await page.locator('#read-count').filter({ hasText: /^4 of/ }).waitFor();
  await other.context().close();
});

onServer(
  'an answer that is lost on the way: the reading is sent again and stands once',
  async (page, server) => {
    let lost = 0;
    await page.route('**/readings', async (route) => {
      if (route.request().method() !== 'POST' || lost >= 2) return route.continue();
      lost += 1;
      await route.fetch();
      return route.abort();
    });
    const before = [await beep(page), await beep(page)];
    await once(server, before);
    await page.waitForFunction(
      () => !Object.keys(localStorage).some((key) => key.startsWith('ringtrue.out.')),
    );
    assert.equal(lost, 2);
    assert.equal((await server.readings()).length, 2);
  },
);

onServer('the sign-in page of a Wi-Fi is no acknowledgement', async (page, server) => {
  const pretend = (route) =>
    route.request().method() === 'POST'
      ? route.fulfill({ status: 200, contentType: 'text/html', body: '<p>Welcome, sign in</p>' })
      : route.continue();
  await page.route('**/readings', pretend);
  const before = [await beep(page)];
  await waiting(page, '1 reading waiting');
  await page.unroute('**/readings', pretend);
  await once(server, before);
});

onServer('two pages of one browser keep their readings apart and lose none', async (page, server) => {
  const other = await openPage(browser, server.url, { context: page.context() });
  await page.context().setOffline(true);
  for (let count = 0; count < 4; ++count) {
    await beep(page);
    await beep(other);
  }
  await waiting(page, '8 readings waiting');
  await other.close();
  await page.context().setOffline(false);
  const rows = await untilReadings(server, 8);
  assert.equal(rows.length, 8);
  assert.equal(new Set(rows.map((row) => row.id.split('-')[0])).size, 2);
});

onServer('what the job does not take stays in sight with the reason', async (page, server) => {
  const refuse = (route) =>
    route.request().method() === 'POST'
      ? route.fulfill({
          status: 422,
          contentType: 'application/json',
          body: JSON.stringify({
            error: {
              text: 'No point "X99:1" in the drawing.',
              found: 'X99:1',
              expected: 'a point',
              nearest: ['X9:1'],
            },
          }),
        })
      : route.continue();
  await page.route('**/readings', refuse);
  const asked = await beep(page);
  await waiting(page, '1 not taken by the job');
  await page.unroute('**/readings', refuse);
  await page.reload();
  await page.locator('#sending-show').click();
  const card = page.locator('#journal .refused');
  assert.match(await card.textContent(), /No point "X99:1" in the drawing\..*X9:1/);
  await card.getByRole('button', { name: 'Read it again' }).click();
  assert.equal(await page.locator('#own-from').inputValue(), asked.from);
  await page.getByRole('button', { name: 'Read these' }).click();
  await beep(page);
  await once(server, [asked]);
});

onServer('a disk that is full keeps readings waiting and says why', async (page, server) => {
  const full = (route) =>
    route.request().method() === 'POST'
      ? route.fulfill({
          status: 507,
          contentType: 'application/json',
          body: JSON.stringify({ error: { text: 'The disk is full' } }),
        })
      : route.continue();
  await page.route('**/readings', full);
  const before = [await beep(page)];
  await waiting(page, 'The disk is full, 1 reading waiting');
  await page.unroute('**/readings', full);
  await once(server, before);
});

onServer(
  'a repair logged offline leaves the page at work, and what it asks for comes when it is sent',
  async (page, server) => {
    await answer(page, () => page.keyboard.press('Enter'));
    await page.locator('#finding-count').filter({ hasText: '1' }).waitFor();
    await page.context().setOffline(true);
    await page.locator('nav [data-view=findings]').click();
    await page.getByRole('button', { name: 'Moved as proposed' }).first().click();
    await page.waitForTimeout(750);
    await page.getByRole('button', { name: 'Yes, it is moved' }).click();
    await waiting(page, 'Offline, 1 entry waiting');
    const during = await beep(page);
    await page.context().setOffline(false);
    const rows = await untilReadings(server, 2);
    assert.deepEqual(points(rows).at(-1), during);
    await page
      .locator('#why, #due')
      .filter({ visible: true, hasText: /To be taken again|Take first/ })
      .first()
      .waitFor();
  },
);
