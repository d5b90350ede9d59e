// A browser, pages as a person at the panel has them, and what that person does.
import { chromium } from 'playwright-core';

export const sizes = { phone: { width: 360, height: 740 }, tablet: { width: 1024, height: 768 } };
export const schemes = ['light', 'dark'];

export const launch = () => chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

/** A page that knows who reads. `page.wrong` fills with whatever the browser complains of. */
export async function openPage(
  browser,
  url,
  { size = 'phone', scheme = 'light', touch = false, name = 'AK', speak = false, context, init } = {},
) {
  const own =
    context ??
    (await browser.newContext({
      viewport: sizes[size],
      colorScheme: scheme,
      hasTouch: touch,
      reducedMotion: 'reduce',
    }));
  const page = await own.newPage();
  page.wrong = [];
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource'))
      page.wrong.push(message.text());
  });
  page.on('pageerror', (error) => page.wrong.push(String(error)));
  await page.addInitScript(() => {
    window.violations = [];
    document.addEventListener('securitypolicyviolation', (event) =>
      window.violations.push(event.violatedDirective),
    );
  });
  if (name) {
    await page.addInitScript(
      (settings) => {
        if (!localStorage.getItem('ringtrue.settings'))
          localStorage.setItem('ringtrue.settings', JSON.stringify(settings));
      },
      { name, meter: 'M1', speak },
    );
  }
  if (init) await page.addInitScript(init);
  await page.goto(url);
  await page
    .locator(name ? '#from' : '#who')
    .filter({ visible: true })
    .waitFor();
  return page;
}

/** The reading asked for, as a person sees it. */
export async function asked(page) {
  return { from: await page.locator('#from').textContent(), to: await page.locator('#to').textContent() };
}

/** Answers by `act` and waits until another reading stands there and a switch could not bounce any more. */
export async function answer(page, act) {
  const before = await asked(page);
  await act();
  await page.waitForFunction(
    ({ from, to }) =>
      document.getElementById('from').textContent !== from ||
      document.getElementById('to').textContent !== to,
    before,
  );
  await page.waitForTimeout(310);
  return before;
}

/** Goes to points of one's own and answers there. */
export async function readOwn(page, from, to, value) {
  await page.locator('#to-own').click();
  await page.locator('#own-from').fill(from);
  await page.locator('#own-to').fill(to);
  await page.getByRole('button', { name: 'Read these' }).click();
  await page.locator('#from').filter({ hasText: from }).waitFor();
  await page.waitForTimeout(310);
  await page.locator(`#${value}`).click();
}

/** Waits until the job holds what `enough` asks for; returns the readings that count, oldest first. */
export async function untilReadings(server, count) {
  for (let tries = 0; tries < 200; ++tries) {
    const rows = (await server.readings()).filter((row) => row.value && !row.superseded_by).reverse();
    if (rows.length >= count) return rows;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`The job never held ${count} readings.`);
}

/** Puts this state of the job before the page instead of the server's; it never changes. */
export async function pretend(page, state) {
  await page.route('**/stream', (route) =>
    route.fulfill({
      contentType: 'text/event-stream',
      body: `retry: 3600000\nevent: state\nid: 1\ndata: ${JSON.stringify(state)}\n\n`,
    }),
  );
  await page.reload();
  await page.locator('#from').filter({ visible: true, hasText: state.next[0].from }).waitFor();
}
