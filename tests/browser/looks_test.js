import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { answer, launch, openPage, pretend, readOwn, schemes, sizes } from './browser.js';
import { start } from './server.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const hostile = '<img src=x onerror="window.hit=1">';

let browser;
let server;
before(async () => {
  browser = await launch();
  server = await start((folder) => {
    const channels = join(folder, 'channels.csv');
    writeFileSync(
      channels,
      readFileSync(channels, 'utf8').replace('HOPPER_NOT_FULL', `"${hostile.replaceAll('"', '""')}"`),
    );
  });
  const page = await openPage(browser, server.url);
  await answer(page, () => page.keyboard.press('Space'));
  await answer(page, () => page.keyboard.press('Space'));
  await answer(page, () => page.locator('#undo').click());
  await readOwn(page, 'A1:0.7', 'X3:8.ext', 'open');
  await readOwn(page, 'A2:1.7', 'X3:9.ext', 'open');
  await page.locator('#finding-count').filter({ hasText: '1' }).waitFor();
  await page.context().close();
});
after(async () => {
  await browser.close();
  await server.stop();
});

/** Everything at once that can take room from the reading. */
function crowded(state) {
  Object.assign(state.next[0], {
    from: '1010@X13:12.int',
    to: '501@X2:12.int',
    conditions: '501@X2:12.int=lifted; P4=unplugged',
    condition_words: '501 lifted, P4 unplugged',
    to_do: 'lift conductor 501 at X2:12.int; unplug P4',
    from_place: 'wire 1010, wire 1011, sheet 10.3',
    to_place: 'wire 501, wire 505, sheet 4.3',
    proves: 'wires 506, 505; bridges X2:12-X2:13, X2:13-X2:14 and 9 more',
  });
  state.open_changes = [
    { points: ['X13:12.ext', 'X13:11.ext'], text: 'jumper over the fuse', by: 'AK', time: state.now },
  ];
  return state;
}

/** What a person's finger or eye would stumble over: parts cut off, targets too small. */
function faults() {
  const found = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) found.push(`the page is ${root.scrollWidth} wide`);
  for (const element of document.querySelectorAll('body *')) {
    if (!element.checkVisibility() || element.closest('svg, .unseen')) continue;
    const box = element.getBoundingClientRect();
    const name = `${element.tagName} ${element.id} ${element.textContent.slice(0, 30)}`;
    if (!element.closest('.picture') && (box.left < -0.5 || box.right > root.clientWidth + 0.5))
      found.push(`${name} leaves the screen`);
    if (
      !element.closest('.picture, select') &&
      element.scrollWidth > element.clientWidth + 1 &&
      element.clientWidth > 0 &&
      getComputedStyle(element).display !== 'inline' &&
      element.tagName !== 'INPUT'
    )
      found.push(`${name} is cut off`);
    if (element.matches('button, input, select, summary') && (box.width < 44 || box.height < 44))
      found.push(`${name} is ${box.width} by ${box.height}`);
  }
  return found;
}

/** Texts of pictures that reach into each other or out of their picture, as the browser sets them. */
function coveredTexts() {
  const found = [];
  for (const picture of [...document.querySelectorAll('.picture svg')].filter((each) => each.checkVisibility())) {
    const frame = picture.getBoundingClientRect();
    const boxes = [...picture.querySelectorAll('text')].map((text) => [text.getBoundingClientRect(), text.textContent]);
    boxes.sort(([a], [b]) => a.left - b.left);
    for (const [index, [a, words]] of boxes.entries()) {
      if (a.left < frame.left || a.right > frame.right || a.top < frame.top || a.bottom > frame.bottom)
        found.push(`${words} leaves the picture`);
      for (const [b, others] of boxes.slice(index + 1)) {
        if (b.left >= a.right) break;
        // Boxes of neighbouring lines share their line gap.
        if (b.top + 3 < a.bottom && a.top + 3 < b.bottom) found.push(`${words} and ${others}`);
      }
    }
  }
  return found;
}

async function check(page, view) {
  await page.waitForTimeout(150);
  if (process.env.SCREENSHOTS)
    await page.screenshot({ path: join(process.env.SCREENSHOTS, `${page.label}-${view}.png`) });
  assert.deepEqual(await page.evaluate(faults), [], view);
  assert.deepEqual(await page.evaluate(coveredTexts), [], view);
  await page.evaluate(axe);
  const { violations } = await page.evaluate((wanted) => window.axe.run(document, { runOnly: wanted }), tags);
  assert.deepEqual(
    violations.map((one) => [one.id, one.nodes.map((node) => node.html.slice(0, 120))]),
    [],
    view,
  );
}

/** Goes through every view and calls `see(name)` there. */
async function walk(page, see) {
  await see('read');
  await page.locator('nav [data-view=findings]').click();
  await see('findings');
  await page.getByRole('button', { name: 'Moved as proposed' }).first().click();
  await see('confirm');
  await page.locator('nav [data-view=channels]').click();
  await page.locator('#channels li').first().waitFor();
  await see('channels');
  await page.getByRole('button', { name: 'Path of A1:0.7' }).click();
  await page.locator('#path svg').waitFor();
  await see('path');
  await page.getByRole('button', { name: 'Map of the panel' }).click();
  await page.locator('#map > .picture svg').waitFor();
  await see('map');
  await page.getByRole('button', { name: 'Strip X5' }).click();
  await page.locator('#strip svg').waitFor();
  await see('strip');
  await page.locator('nav [data-view=journal]').click();
  await page.locator('#journal del').waitFor();
  await see('journal');
  await page.locator('nav [data-view=tests]').click();
  for (const [tag, view] of [
    ['HOPPER_STOCK', 'test-hold'],
    ['NO_STOP', 'test-input'],
    ['STOP_RESET', 'test-refused'],
    ['MOISTURE_IN', 'test-analog'],
    ['GAS_VALVE', 'test-output'],
  ]) {
    await page.locator('#test-all').click();
    if (view === 'test-hold') await see('test-list');
    await page.getByRole('button', { name: `Test ${tag}`, exact: true }).click();
    await see(view);
  }
  await page.locator('#to-search').click();
  await page.locator('#search-words').fill('1010');
  await page.locator('#search li').first().waitFor();
  await see('search');
  await page.locator('#to-more').click();
  await see('more');
  await page.getByRole('button', { name: 'Temporary changes' }).click();
  await see('temporary');
  await page.locator('nav [data-view=read]').click();
  await page.locator('#to-own').click();
  await page.locator('#own-from').fill('X3:8');
  await page.locator('#own .acts button').first().waitFor();
  await see('own');
}

for (const size of Object.keys(sizes)) {
  for (const scheme of schemes) {
    test(`every view, ${size}, ${scheme}`, async () => {
      const page = await openPage(browser, server.url, { size, scheme });
      page.label = `${size}-${scheme}`;
      await walk(page, (view) => check(page, view));
      assert.deepEqual(page.wrong, []);
      assert.deepEqual(await page.evaluate(() => window.violations), []);
      await page.context().close();
    });

    test(`who reads, ${size}, ${scheme}`, async () => {
      const page = await openPage(browser, server.url, { size, scheme, name: null });
      page.label = `${size}-${scheme}`;
      await check(page, 'who');
      await page.context().close();
    });

    test(`the longest names, a condition, a temporary change, offline, a message: ${size}, ${scheme}`, async () => {
      const page = await openPage(browser, server.url, { size, scheme });
      page.label = `${size}-${scheme}`;
      await pretend(page, crowded(await server.get('state')));
      await page.evaluate(() => {
        document.getElementById('alarm').hidden = false;
        document.getElementById('alarm-text').textContent =
          '✗ Finding 12: Wire 1010 from A1:0.7 and wire 1011 from A2:1.7 are exchanged';
      });
      await page.locator('#temporary').waitFor();
      await check(page, 'crowded');
      const { width, height } = sizes[size];
      for (const id of [
        'beep',
        'open',
        'undo',
        'skip',
        'ohms',
        'from',
        'to',
        'condition',
        'from-place',
        'to-place',
      ]) {
        const box = await page.locator(`#${id}`).boundingBox();
        assert.ok(
          box.x >= 0 && box.y >= 0 && box.x + box.width <= width && box.y + box.height <= height,
          `${id} ${JSON.stringify(box)}`,
        );
        const covered = await page.locator(`#${id}`).evaluate((element) => {
          const { left, top, width: wide, height: high } = element.getBoundingClientRect();
          return [0.1, 0.5, 0.9].filter(
            (part) =>
              !element.contains(document.elementFromPoint(left + wide / 2, top + high * part)) &&
              !document.elementFromPoint(left + wide / 2, top + high * part)?.contains(element),
          );
        });
        assert.deepEqual(covered, [], `${id} is covered`);
      }
      const beep = await page.locator('#beep').boundingBox();
      assert.ok(beep.height >= 96 && beep.width >= 150, JSON.stringify(beep));
      await page.context().close();
    });
  }
}

test('text at 200 % stays usable', async () => {
  const page = await openPage(browser, server.url);
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '200%';
  });
  await page.waitForTimeout(100);
  assert.deepEqual(await page.evaluate(faults), []);
  await answer(page, () => page.locator('#beep').click());
  await page.context().close();
});

test('a hostile tag stays text', async () => {
  const page = await openPage(browser, server.url);
  await page.locator('nav [data-view=channels]').click();
  await page.locator('#channels li').filter({ hasText: hostile }).waitFor();
  await page.locator('#to-search').click();
  await page.locator('#search-words').fill('img src');
  await page.locator('#search li').filter({ hasText: hostile }).waitFor();
  assert.equal(await page.locator('img').count(), 0);
  assert.equal(await page.evaluate(() => window.hit), undefined);
  assert.deepEqual(page.wrong, []);
  await page.context().close();
});

/** The mark of the cell, and of the landing, that the pictures have for it. */
const markOf = (page, picture, title) =>
  page.evaluate(
    ([box, wanted]) =>
      [...document.querySelectorAll(`${box} title`)]
        .filter((each) => each.textContent.startsWith(wanted))
        .map((each) => each.parentElement.getAttribute('class')),
    [picture, title],
  );

test('the map and a strip show what is read, as it is read', async () => {
  const page = await openPage(browser, server.url, { size: 'tablet' });
  await page.locator('nav [data-view=channels]').click();
  await page.getByRole('button', { name: 'Map of the panel' }).press('Enter');
  await page.locator('#map > .picture svg').waitFor();
  assert.equal(await page.locator('#map > .picture svg > title').textContent(), 'Panel GD1, revision B: what the readings show');
  assert.deepEqual(await markOf(page, '#map > .picture', 'X3:8.int,'), ['faulty']);
  assert.deepEqual(await markOf(page, '#map > .picture', 'B8:1,'), ['absent']);
  assert.deepEqual(await markOf(page, '#map > .picture', 'A1:0.5,'), ['unproven']);
  await page.getByRole('button', { name: 'Strip X3' }).press('Enter');
  await page.locator('#strip svg').waitFor();
  assert.deepEqual(await markOf(page, '#strip', 'X3:8.int: wire 1010 '), ['faulty']);
  assert.deepEqual(await markOf(page, '#strip', 'X3:6.int: wire 1008 '), ['unproven']);
  const other = await openPage(browser, server.url);
  await readOwn(other, 'A1:0.5', 'X3:6.int', 'beep');
  await other.context().close();
  await page.locator('#strip title', { hasText: 'X3:6.int: wire 1008 to A1:0.5, sheet 10.5, proven' }).waitFor({ state: 'attached' });
  await page.locator('#map > .picture title', { hasText: 'A1:0.5, proven' }).waitFor({ state: 'attached' });
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), 'Picture of strip X3');
  await page.getByRole('button', { name: 'Close the strip' }).press('Enter');
  assert.equal(await page.locator('#strip').isVisible(), false);
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), 'Strip X3');
  await page.locator('#to-search').click();
  await page.locator('#search-words').fill('X5:13');
  await page.getByRole('button', { name: 'Strip X5' }).first().press('Enter');
  await page.locator('#strip svg > title', { hasText: 'Terminal strip X5' }).waitFor({ state: 'attached' });
  assert.deepEqual(page.wrong, []);
  await page.context().close();
});

test('the look follows the switch', async () => {
  const page = await openPage(browser, server.url, { scheme: 'light' });
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await ground();
  await page.locator('#to-more').click();
  await page.getByRole('button', { name: 'Dark' }).click();
  assert.notEqual(await ground(), light);
  await page.reload();
  assert.notEqual(await ground(), light);
  await page.context().close();
});

test('everything is reached by tab, and the focus is seen', async () => {
  const page = await openPage(browser, server.url);
  const controls = await page.evaluate(
    () =>
      [...document.querySelectorAll('button:enabled, input')].filter((each) => each.checkVisibility()).length,
  );
  const seen = new Set();
  for (let count = 0; count < controls + 4; ++count) {
    await page.keyboard.press('Tab');
    const [name, outline] = await page.evaluate(() => {
      const { id, textContent, dataset } = document.activeElement;
      const style = getComputedStyle(document.activeElement);
      return [
        id || dataset.view || textContent,
        style.outlineStyle === 'solid' ? parseFloat(style.outlineWidth) : 0,
      ];
    });
    if (name && !name.includes('\n')) {
      seen.add(name);
      assert.ok(outline >= 3, `${name} has an outline of ${outline}`);
    }
  }
  const wanted =
    'to-search to-more read findings channels journal tests ohms log-ohms log-ol beep open undo skip to-own';
  assert.deepEqual(
    wanted.split(' ').filter((name) => !seen.has(name)),
    [],
  );
  await page.context().close();
});
