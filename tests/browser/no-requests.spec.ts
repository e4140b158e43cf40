import { expect, openFirstPage, test } from './workbench.ts';

/** That no page asks for anything but its own is asserted at the end of every test (workbench.ts). Here, that each way out would be seen. */
test.describe('a way out is seen', () => {
  // The page's own policy would stop them all; here it is taken away.
  test.use({ bypassCSP: true });

  const ways: readonly (readonly [string, string])[] = [
    ['a request', 'fetch("http://elsewhere.example/a").catch(() => {})'],
    ['a picture', 'new Image().src = "http://elsewhere.example/b"'],
    ['a beacon', 'navigator.sendBeacon("http://elsewhere.example/c", "x")'],
    ['a socket', 'new WebSocket("ws://elsewhere.example/d")'],
    [
      'what is fetched ahead',
      'void document.head.append(Object.assign(document.createElement("link"), { rel: "prefetch", href: "http://elsewhere.example/e" }))',
    ],
    ['a typeface', 'void new FontFace("x", "url(http://elsewhere.example/f)").load().catch(() => {})'],
    [
      'a style',
      'void document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: "http://elsewhere.example/g" }))',
    ],
    [
      'a frame',
      'void document.body.append(Object.assign(document.createElement("iframe"), { src: "http://elsewhere.example/h" }))',
    ],
    [
      'a worker’s request',
      'void new Worker(URL.createObjectURL(new Blob(["fetch(\'http://elsewhere.example/i\').catch(() => {})"])))',
    ],
    [
      'a worker’s socket',
      'void new Worker(URL.createObjectURL(new Blob(["new WebSocket(\'ws://elsewhere.example/j\')"])))',
    ],
    ['events from a server', 'void new EventSource("http://elsewhere.example/k")'],
    ['another port of this machine', 'fetch("http://127.0.0.1:9/m").catch(() => {})'],
  ];
  test('whichever it is', async ({ page, outside, wall, complaints }) => {
    await openFirstPage(page);
    for (const [i, [name, script]] of ways.entries()) {
      await page.evaluate(script.replace('elsewhere', `elsewhere-${i}`));
      const seen = () => [...outside, ...wall.asked].join();
      await expect.poll(seen, name).toMatch(new RegExp(`elsewhere-${i}\\.example|127\\.0\\.0\\.1:9`));
    }
    // Seen, and so no longer held against this test.
    await page.close();
    outside.length = wall.asked.length = complaints.length = 0;
  });
});
