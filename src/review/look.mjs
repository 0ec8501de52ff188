// Looks at pages in headless Chromium: accessibility by axe-core, and pictures at 360 px, 1280 px and on A4.
//
//     node look.mjs AXE OUT NAME=PAGE.html …
//
// Exit 1 where axe-core finds a violation, or a page is wider than its window. No library: the DevTools protocol over a pipe.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [axeFile, out, ...pages] = process.argv.slice(2);
const WIDTHS = [360, 1280];
const SLICE = 1600; // pictures of a height that can be looked at
const profile = mkdtempSync(join(tmpdir(), 'shiftstand-look-'));
const chromium = spawn(process.env.CHROMIUM || 'chromium', [
  '--headless=new', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--hide-scrollbars', `--user-data-dir=${profile}`,
  '--remote-debugging-pipe', 'about:blank'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] });

let last = 0;
let rest = Buffer.alloc(0);
const waiting = new Map();
const events = [];
chromium.stdio[4].on('data', (chunk) => {
  rest = Buffer.concat([rest, chunk]);
  for (let end = rest.indexOf(0); end >= 0; end = rest.indexOf(0)) {
    const message = JSON.parse(rest.subarray(0, end).toString('utf8'));
    rest = rest.subarray(end + 1);
    if (message.id) {
      const { done, failed } = waiting.get(message.id);
      waiting.delete(message.id);
      message.error ? failed(new Error(JSON.stringify(message.error))) : done(message.result);
    } else {
      for (const event of events.splice(0)) event(message) || events.push(event);
    }
  }
});
chromium.on('error', (e) => { console.error(`chromium does not start: ${e.message}`); process.exit(2); });

function call(method, params = {}, sessionId = undefined) {
  return new Promise((done, failed) => {
    waiting.set(++last, { done, failed });
    chromium.stdio[3].write(JSON.stringify({ id: last, method, params, sessionId }) + '\0');
  });
}
const happens = (method, sessionId) =>
  new Promise((done) => events.push((m) => m.method === method && m.sessionId === sessionId && (done(), true)));

async function opened(page) {
  const { targetId } = await call('Target.createTarget', { url: 'about:blank' });
  const { sessionId } = await call('Target.attachToTarget', { targetId, flatten: true });
  const tab = (method, params) => call(method, params, sessionId);
  await tab('Page.enable');
  const loaded = happens('Page.loadEventFired', sessionId);
  await tab('Page.navigate', { url: pathToFileURL(resolve(page)).href });
  await loaded;
  const value = async (expression) => {
    const { result, exceptionDetails } =
      await tab('Runtime.evaluate', { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(JSON.stringify(exceptionDetails));
    return result.value;
  };
  const size = (width, height = 900) =>
    tab('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: 1, mobile: false });
  return { tab, value, size, close: () => call('Target.closeTarget', { targetId }) };
}

const axe = readFileSync(axeFile, 'utf8');
async function violations({ value }) {
  await value(`document.querySelectorAll('details').forEach((d) => { d.open = true; })`);
  await value(axe + ';0');
  return value(`axe.run(document, { resultTypes: ['violations'], runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', `
    + `'wcag21aa', 'wcag22aa', 'best-practice'] } }).then((r) => r.violations.map((v) => v.id + ' (' + v.impact + '): ' + v.help `
    + `+ '; ' + v.nodes.length + ' × such as ' + v.nodes[0].html.slice(0, 160)))`);
}

async function pictures({ tab, value, size }, name, width) {
  await size(width);
  const height = await value('Math.ceil(document.documentElement.getBoundingClientRect().height)');
  for (let y = 0, n = 1; y < height; y += SLICE, n++) {
    const clip = { x: 0, y, width, height: Math.min(SLICE, height - y), scale: 1 };
    const { data } = await tab('Page.captureScreenshot', { clip, captureBeyondViewport: true });
    writeFileSync(join(out, `${name}-${width}-${String(n).padStart(2, '0')}.png`), Buffer.from(data, 'base64'));
  }
}

let bad = 0;
mkdirSync(out, { recursive: true });
for (const [name, page] of pages.map((p) => [p.slice(0, p.indexOf('=')), p.slice(p.indexOf('=') + 1)])) {
  const tab = await opened(page);
  for (const width of WIDTHS) {
    await tab.size(width);
    const found = await violations(tab);
    const wide = await tab.value('document.documentElement.scrollWidth');
    if (wide > width) found.push(`the page is ${wide} px wide`);
    console.log(`${name}, ${width} px: ${found.length === 0 ? 'no violation' : found.length + ' violations'}`);
    found.forEach((text) => console.log(`    ${text}`));
    bad += found.length;
  }
  await tab.close();
  if (process.env.PICTURES !== 'no') {
    const shown = await opened(page);
    for (const width of WIDTHS) await pictures(shown, name, width);
    const { data } = await shown.tab('Page.printToPDF', { preferCSSPageSize: true, printBackground: true });
    writeFileSync(join(out, `${name}-a4.pdf`), Buffer.from(data, 'base64'));
    await shown.close();
  }
}
await call('Browser.close').catch(() => {});
await new Promise((gone) => chromium.once('exit', gone));
rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
process.exitCode = bad === 0 ? 0 : 1;
