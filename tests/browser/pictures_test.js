import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, openPage, readOwn } from './browser.js';
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

/** By the tabulator alone to what has this name, and on. */
async function pressKey(page, name) {
  for (let presses = 0; presses < 120; ++presses) {
    await page.keyboard.press('Tab');
    const reached = await page.evaluate(
      () => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent,
    );
    if (reached === name) return page.keyboard.press('Enter');
  }
  assert.fail(`no way to ${name}`);
}

const focused = (page) =>
  page.evaluate(() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent);

test('a strip by keyboard alone, while another reads and the drawing is revised', async () => {
  const page = await openPage(browser, server.url, { scheme: 'dark' });
  await pressKey(page, 'Channels');
  await pressKey(page, 'Map of the panel');
  await pressKey(page, 'Strip X3');
  await page.locator('#strip svg').waitFor();
  assert.equal(await focused(page), 'Strip X3');
  await page.keyboard.press('Tab');
  assert.equal(await focused(page), 'Picture of strip X3');
  for (let presses = 0; presses < 5; ++presses) await page.keyboard.press('ArrowRight');
  await page.waitForFunction(() => document.activeElement.scrollLeft > 0);

  const other = await openPage(browser, server.url, { size: 'tablet', name: 'BT' });
  await readOwn(other, 'A1:0.7', 'X3:8.ext', 'open');
  await readOwn(other, 'A2:1.7', 'X3:9.ext', 'open');
  await page.locator('#strip g.faulty').first().waitFor();
  assert.equal(await focused(page), 'Picture of strip X3', 'what is drawn anew takes the focus from nobody');
  assert.ok(await page.evaluate(() => document.activeElement.scrollLeft > 0), 'and stays where it was scrolled to');

  server.revise((folder) => {
    for (const name of ['conductors.csv', 'parts.csv', 'channels.csv']) {
      const file = join(folder, name);
      writeFileSync(file, readFileSync(file, 'utf8').replace(/\bX3:/g, 'X33:'));
    }
  });
  await page.getByText('the drawing has no such terminal strip: found "X3"').waitFor();
  await page.locator('#map .choices').getByRole('button', { name: 'Strip X33' }).waitFor();
  await pressKey(page, 'Close the strip');
  assert.deepEqual(page.wrong.concat(other.wrong), []);
  assert.deepEqual(await page.evaluate(() => window.violations), []);
});
