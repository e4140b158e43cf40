// What a person waits for, measured in the page itself.

import { median } from '../bench/median.mjs';

/**
 * Median distance of frames, in ms, in each of which the wheel moves or zooms the trace on the screen, over all depths of zoom: `turns` of zooming in, moving,
 * zooming out, moving back.
 */
export async function traceFrameMs(page, turns = [30, 30, 30, 30]) {
  await page.evaluate(makeFrame);
  return page.evaluate(async ([zooms, moves, back, home]) => {
    const plot = document.querySelector('.u-over');
    const box = plot.getBoundingClientRect();
    const [clientX, clientY] = [box.left + 0.4 * box.width, box.top + 0.5 * box.height];
    const spans = [];
    for (const [steps, deltaY, shiftKey] of [
      [zooms, -100, false],
      [moves, 40, true],
      [back, 100, false],
      [home, -40, true],
    ]) {
      for (let i = 0; i < steps; i++) {
        const from = await window.nextFrame();
        plot.dispatchEvent(
          new WheelEvent('wheel', { deltaY, shiftKey, clientX, clientY, bubbles: true, cancelable: true }),
        );
        // The frame in which the event is answered, and the next, which waits until that one was handed on.
        await window.nextFrame();
        spans.push((await window.nextFrame()) - from);
      }
    }
    return spans.sort((a, b) => a - b)[spans.length >> 1] / 2;
  }, turns);
}

/** Median distance of frames while the list of captures is scrolled as far as by a turn of the wheel, to and fro where it is short. */
export async function scrollFrameMs(page) {
  await page.evaluate(makeFrame);
  return page.evaluate(async () => {
    const list = document.querySelector('[role="listbox"]');
    const most = list.scrollHeight - list.clientHeight;
    const spans = [];
    for (let i = 0; i < 60; i++) {
      const from = await window.nextFrame();
      list.scrollTop = i % 2 === 0 ? Math.min(most, list.scrollTop + 120 + i) : Math.max(0, list.scrollTop - 60);
      await window.nextFrame();
      spans.push((await window.nextFrame()) - from);
    }
    list.scrollTop = 0;
    return spans.sort((a, b) => a - b)[spans.length >> 1] / 2;
  });
}

/** A dot that changes with every frame: one in which nothing changes would wait for the screen's own beat, whatever the work took. */
function makeFrame() {
  if (window.nextFrame !== undefined) return;
  const dot = document.body.appendChild(document.createElement('i'));
  dot.style.cssText = 'position:fixed;top:0;left:0;width:1px;height:1px';
  let drawn = 0;
  window.nextFrame = () =>
    new Promise((resolve) =>
      requestAnimationFrame((at) => {
        dot.style.background = drawn++ % 2 === 0 ? '#000' : '#fff';
        resolve(at);
      }),
    );
}

/** Both sides measured in turn, the first time untimed, so that what else the machine does falls on both: the ratio of their medians. */
export async function ratioInTurn(sides, measure, times = 5) {
  const values = sides.map(() => []);
  for (let i = 0; i <= times; i++) {
    for (const [s, page] of sides.entries()) {
      await page.bringToFront();
      const ms = await measure(page);
      if (i > 0) values[s].push(ms);
    }
  }
  const [first, second] = values.map(median);
  return { ratio: first / second, first, second };
}
