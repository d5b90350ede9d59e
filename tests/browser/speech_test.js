import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { answer, asked, launch, openPage } from './browser.js';
import { start } from './server.js';

let browser;
let server;
before(async () => {
  browser = await launch();
  server = await start();
});
after(async () => {
  await browser.close();
  await server.stop();
});

const listen = () => {
  window.heard = [];
  window.SpeechSynthesisUtterance = class {
    constructor(text) {
      this.text = text;
    }
  };
  Object.defineProperty(window, 'speechSynthesis', {
    value: { speak: (said) => window.heard.push(said.text), cancel: () => window.heard.push('(hush)') },
  });
};

const heard = (page) => page.evaluate(() => window.heard);

/** What the page's own module makes of these arguments. */
const spoken = (page, name, ...given) =>
  page.evaluate(
    async ([called, words]) => {
      const module = await import(new URL('spoken.js', window.location.href).href);
      return module[called](...words);
    },
    [name, given],
  );

test('designations are spelt', async () => {
  const page = await openPage(browser, server.url);
  const words = {
    'X1:5': 'X one colon five',
    'A1:0.3': 'A one, zero point three',
    'X1:12.int': 'X one colon twelve, internal side',
    'G2:+': 'G two colon plus',
    'A7:L+': 'A seven colon L plus',
    'K21:14': 'K twenty one colon fourteen',
    '501@X2:12.int': 'five zero one at X two colon twelve, internal side',
  };
  for (const [point, said] of Object.entries(words))
    assert.equal(await spoken(page, 'spokenPoint', point), said);
  assert.equal(
    await spoken(page, 'spokenReading', { from: 'X1:5', to: 'A1:0.3' }, ''),
    'X one colon five, to A one, zero point three',
  );
  assert.equal(
    await spoken(page, 'spokenReading', { from: 'X1:5', to: 'X1:6' }, 'Set first: unplug G1'),
    'Set first: unplug G one. X one colon five, to X one colon six',
  );
  await page.context().close();
});

test('the voice is silent unless asked', async () => {
  const page = await openPage(browser, server.url, { init: listen });
  await answer(page, () => page.keyboard.press('Space'));
  assert.deepEqual(
    (await heard(page)).filter((words) => words !== '(hush)'),
    [],
  );
  await page.context().close();
});

test('the voice says the next reading and a contradiction; an answer stops it', async () => {
  const page = await openPage(browser, server.url, { init: listen, speak: true });
  const words = async () => spoken(page, 'spokenReading', await asked(page), '');
  await page.waitForFunction(() => window.heard.length > 0);
  assert.equal((await heard(page)).at(-1), await words());
  await answer(page, () => page.keyboard.press('Space'));
  assert.deepEqual((await heard(page)).slice(-2), ['(hush)', await words()]);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => window.heard.includes('Contradicts the drawing.'));
  await page.waitForTimeout(400);
  assert.equal((await heard(page)).at(-1), await words());
  assert.deepEqual(page.wrong, []);
  await page.context().close();
});
