import { afterEach, describe, expect, test } from 'vitest';
import { season } from './season.ts';
import { passedOver, picture, startWorkbench, toEnd, type Workbench } from './workbench.ts';

/** What an editor may put in a worker's place, as code: it refuses at once, or starts and fails. */
const refusals = {
  'refuses to make a worker': "class { constructor() { throw new DOMException('not here', 'SecurityError'); } }",
  'makes a worker that can’t load its script':
    'class extends EventTarget { constructor() { super(); setTimeout(() => this.dispatchEvent(new Event("error"))); } postMessage() {} terminate() {} }',
};

describe.skipIf(passedOver).each(Object.entries(refusals))('in an editor that %s', (_, worker) => {
  let bench: Workbench;
  afterEach(() => bench?.close());

  test('the server runs beside the extension, and nobody is told', async () => {
    bench = await startWorkbench(season);
    const { page } = bench;
    let changed = 0;
    await page.context().route('**/ext/dist/web/client.js', async (route) => {
      const answer = await route.fetch();
      changed++;
      await route.fulfill({ response: answer, body: `const Worker = ${worker};\n${await answer.text()}` });
    });
    await bench.open();
    await page.locator('.squiggly-info, .squiggly-warning').first().waitFor();
    await page.locator('.codelens-decoration a', { hasText: '12 grafted' }).first().waitFor();
    expect(changed).toBeGreaterThan(0);
    await toEnd(page);
    await page.keyboard.type('opne K26');
    await page.locator('.squiggly-error').first().waitFor();
    expect(await page.locator('.notification-list-item').count()).toBe(0);
    await picture(page, 'no-worker');
  });
});
