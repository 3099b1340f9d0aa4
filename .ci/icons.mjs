// Draws the page's icons as PNG from its SVG, for phones that want them so. Run by hand after a
// change of dashboard/web/public/icon.svg; the drawings are kept in the repository.
import { readFileSync } from 'node:fs';
import { chromium } from 'playwright-core';

const folder = 'dashboard/web/public';
const drawing = readFileSync(`${folder}/icon.svg`, 'utf8');
// A launcher cuts a mask to its own shape: the ground reaches the edge, the picture stays inside.
const mask = drawing
  .replace('viewBox="0 0 64 64"', 'viewBox="-9 -9 82 82"')
  .replace(/<rect width="64" height="64" rx="12"/, '<rect x="-9" y="-9" width="82" height="82"');
const icons = [
  ['icon-192', 192, drawing],
  ['icon-512', 512, drawing],
  ['icon-mask-512', 512, mask],
];

const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
for (const [name, size, svg] of icons) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(
    `<style>*{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`,
  );
  await page.screenshot({ path: `${folder}/${name}.png`, omitBackground: true });
  await page.close();
}
await browser.close();
