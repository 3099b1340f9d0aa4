import { readFileSync } from 'node:fs';
import type { Browser, CDPSession, Page } from 'playwright-core';
import type { VNode } from 'preact';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { VerdictMark } from '../../dashboard/web/src/parts/verdict-mark.tsx';
import { verdicts } from '../../shared/protocol/verdicts.ts';
import { launchChromium } from './chromium.ts';

const sights = ['none', 'deuteranopia', 'protanopia', 'tritanopia', 'achromatopsia'] as const;
const size = 48;

let browser: Browser;
let reader: Page;
beforeAll(async () => {
  browser = await launchChromium();
  reader = await browser.newPage();
});
afterAll(async () => {
  await browser?.close();
});

/** A drawing as text. */
function markup(node: VNode | string | null): string {
  if (!node || typeof node === 'string') return node ?? '';
  const { children, ...own } = node.props as Record<string, unknown>;
  const names = Object.entries(own).map(([name, value]) => ` ${name}="${value}"`);
  const inner = [children].flat().map((child) => markup(child as VNode));
  return `<${node.type}${names.join('')}>${inner.join('')}</${node.type}>`;
}

/** The marks on a sheet of the page's own colours. */
async function sheet(theme: 'light' | 'dark'): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: verdicts.length * size, height: size } });
  const styles = ['tokens', 'page'].map((name) =>
    readFileSync(`dashboard/web/src/styles/${name}.css`, 'utf8'),
  );
  const marks = verdicts.map((verdict) => markup(VerdictMark({ verdict, size }) as VNode));
  await page.setContent(
    `<html data-theme="${theme}"><style>${styles.join('')}
     body { background: var(--sheet); display: flex }</style><body>${marks.join('')}</body>`,
  );
  return page;
}

/** Relative luminance (WCAG) of each pixel of each mark, as that eye sees it; and the picture. */
async function seen(
  page: Page,
  devtools: CDPSession,
  sight: (typeof sights)[number],
  path: string,
): Promise<number[][]> {
  await devtools.send('Emulation.setEmulatedVisionDeficiency', { type: sight });
  const png = (await page.screenshot({ path })).toString('base64');
  const pixels = await reader.evaluate(async (data) => {
    const image = new Image();
    image.src = `data:image/png;base64,${data}`;
    await image.decode();
    const canvas = Object.assign(document.createElement('canvas'), {
      ...{ width: image.width, height: image.height },
    });
    const context = canvas.getContext('2d')!;
    context.drawImage(image, 0, 0);
    return [...context.getImageData(0, 0, image.width, image.height).data];
  }, png);
  const linear = (value: number) =>
    value <= 10 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
  const luminance = Array.from({ length: pixels.length / 4 }, (_, at) => {
    const [red = 0, green = 0, blue = 0] = pixels.slice(4 * at, 4 * at + 3).map(linear);
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  });
  return verdicts.map((_, mark) =>
    luminance.filter((_, at) => Math.floor((at % (verdicts.length * size)) / size) === mark),
  );
}

const contrast = (one: number, other: number) =>
  (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);

describe.each(['light', 'dark'] as const)('marks on a %s page', (theme) => {
  let page: Page;
  let devtools: CDPSession;
  beforeAll(async () => {
    page = await sheet(theme);
    devtools = await page.context().newCDPSession(page);
  });
  afterAll(async () => {
    await page?.close();
  });

  test.each(sights)('stand out and differ in shape: %s', async (sight) => {
    const path = `tests/.out/marks-${theme}-${sight}.png`;
    const marks = await seen(page, devtools, sight, path);
    const ground = marks[0]![0]!;
    const inked = marks.map((mark) => mark.map((pixel) => contrast(pixel, ground) > 2));
    for (const mark of marks) {
      const strongest = Math.max(...mark.map((pixel) => contrast(pixel, ground)));
      expect(strongest).toBeGreaterThanOrEqual(4.5);
    }
    for (const [at, one] of inked.entries())
      for (const other of inked.slice(at + 1)) {
        const differ = one.filter((dot, index) => dot !== other[index]).length;
        // A tenth of a mark's square: seen at arm's length, whatever the colours.
        expect(differ / (size * size)).toBeGreaterThan(0.1);
      }
  });
});
