import { expect, goTo, inWords, keepVersion, openDemo, test } from './app.ts';

const message = '.problem';

for (const way of ['deny', 'refuse'] as const) {
  test(`no MIDI (${way}): one sentence where it is in nobody's way, and the screen still plays`, async ({
    page,
    address,
  }) => {
    const { installFakeWebMidi } = await import('../fakes/webMidi.ts');
    await page.addInitScript(installFakeWebMidi as () => void);
    await page.addInitScript(`window.fakeMidi.${way}()`);
    await page.goto(address);
    await expect(page.locator('.demo')).toContainText(/still work/);
    await expect(page.locator(message)).toHaveCount(0);
    await page.getByRole('button', { name: 'C5', exact: true }).click();
    await expect(page.getByText(/Your last phrase: 1 strike/)).toBeVisible();
    // Asked for by hand, it is said as a problem; Escape takes it away.
    await page.getByRole('button', { name: 'Help and all keys' }).click();
    await page.getByRole('button', { name: 'Look for MIDI devices again' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await expect(page.locator(message)).toContainText(/still work/);
    await page.keyboard.press('Escape');
    await expect(page.locator(message)).toHaveCount(0);
  });
}

test('files that are no take leave what is open as it is', async ({ app: page }) => {
  await openDemo(page, 'Ferry bell');
  const before = await inWords(page);
  const drop = async (name: string, bytes: number[] | number): Promise<void> => {
    await page.evaluate(
      ({ name, bytes }) => {
        const data = new DataTransfer();
        data.items.add(
          new File([typeof bytes === 'number' ? new Uint8Array(bytes) : new Uint8Array(bytes)], name),
        );
        document
          .querySelector('.drop')
          ?.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
      },
      { name, bytes },
    );
  };
  await drop('holiday.mid', [137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82]);
  await expect(page.locator(message)).toContainText('holiday.mid');
  // A header that promises a track, cut off inside it.
  await drop(
    'cut.mid',
    [77, 84, 104, 100, 0, 0, 0, 6, 0, 0, 0, 1, 3, 192, 77, 84, 114, 107, 0, 0, 0, 40, 0, 144, 60],
  );
  await expect(page.locator(message)).toContainText('cut.mid');
  await drop('huge.mid', 9 * 1024 * 1024);
  await expect(page.locator(message)).toContainText('too large');
  expect(await inWords(page)).toEqual(before);
});

test('no sound device: it is said, and writing goes on', async ({ page, address }) => {
  await page.addInitScript(() => {
    const none = function (): never {
      throw new DOMException('no device', 'NotSupportedError');
    };
    window.AudioContext = none as unknown as typeof AudioContext;
  });
  await page.goto(address);
  await page.getByRole('button', { name: 'C5', exact: true }).click();
  await expect(page.getByText('This computer gives no sound.')).toBeVisible();
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  expect((await inWords(page)).length).toBeGreaterThan(2);
});

test('a full disk: nothing is half written, the piece stays open, and keeping works once there is room', async ({
  app: page,
}) => {
  await openDemo(page, 'Late for lunch');
  await goTo(page, 'Keep');
  await page.evaluate(() => {
    const { prototype } = FileSystemFileHandle;
    const real = Object.getOwnPropertyDescriptor(prototype, 'createWritable') ?? {};
    prototype.createWritable = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));
    Object.assign(window, { room: () => Object.defineProperty(prototype, 'createWritable', real) });
  });
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await expect(page.locator(message)).toContainText(/full|room/);
  await expect(page.locator('.row-state.draft')).toHaveCount(1);
  await page.evaluate(() => {
    (window as unknown as { room: () => void }).room();
  });
  await keepVersion(page);
});

test('a damaged file in the class library is named; everything else opens', async ({ app: page }) => {
  await openDemo(page, 'Tin roof');
  await goTo(page, 'Keep');
  await keepVersion(page);
  await page.evaluate(async () => {
    const walk = async (dir: FileSystemDirectoryHandle): Promise<FileSystemDirectoryHandle | undefined> => {
      for await (const entry of dir.values()) {
        if (entry.kind !== 'directory') continue;
        if (entry.name === 'items') return entry;
        const inside = await walk(entry);
        if (inside !== undefined) return inside;
      }
      return undefined;
    };
    const items = await walk(await navigator.storage.getDirectory());
    const item = await items?.getDirectoryHandle('broken-item', { create: true });
    const file = await item?.getFileHandle('0-broken.json', { create: true });
    const stream = await file?.createWritable();
    await stream?.write('{"format":"malletloom-piece","version":1,"pie');
    await stream?.close();
  });
  await page.reload();
  await goTo(page, 'Keep');
  await expect(page.locator(message)).toContainText('0-broken');
  await expect(page.getByRole('button', { name: 'Open Tin roof, not yet given' })).toBeVisible();
});
