import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answer, launch, openPage } from './browser.js';
import { start } from './server.js';
import { spokenPoint, spokenReading } from '../../src/serve/page/spoken.js';

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

test('designations are spelt', () => {
  const words = {
    'X1:5': 'X one colon five',
    'A1:0.3': 'A one, zero point three',
    'X1:12.int': 'X one colon twelve, internal side',
    'G2:+': 'G two colon plus',
    'A7:L+': 'A seven colon L plus',
    'K21:14': 'K twenty one colon fourteen',
    '501@X2:12.int': 'five zero one at X two colon twelve, internal side',
  };
  for (const [point, spoken] of Object.entries(words)) assert.equal(spokenPoint(point), spoken);
  assert.equal(spokenReading({ from: 'X1:5', to: 'A1:0.3' }, ''), 'X one colon five, to A one, zero point three');
  assert.equal(spokenReading({ from: 'X1:5', to: 'X1:6' }, 'Set first: unplug G1'), 'Set first: unplug G one. X one colon five, to X one colon six');
});

test('the voice says the next reading and a contradiction, and is silent unless asked', async () => {
  const server = await start();
  const browser = await launch();
  try {
    const silent = await openPage(browser, server.url, { init: listen });
    await answer(silent, () => silent.keyboard.press('Space'));
    assert.deepEqual((await heard(silent)).filter((words) => words !== '(hush)'), []);
    await silent.context().close();

    const page = await openPage(browser, server.url, { init: listen, speak: true });
    const words = async () => spokenReading({ from: await page.locator('#from').textContent(), to: await page.locator('#to').textContent() }, '');
    await page.waitForFunction(() => window.heard.length > 0);
    assert.deepEqual((await heard(page)).at(-1), await words());
    await answer(page, () => page.keyboard.press('Space'));
    assert.deepEqual((await heard(page)).slice(-2), ['(hush)', await words()]);
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => window.heard.includes('Contradicts the drawing.'));
    await page.waitForTimeout(400);
    assert.equal((await heard(page)).at(-1), await words());
    assert.deepEqual(page.wrong, []);
  } finally {
    await browser.close();
    await server.stop();
  }
});
