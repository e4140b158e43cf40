// What a person waits for, measured in the page itself.

/** Median distance of frames, in ms, in each of which the wheel moves or zooms the trace on the screen: over all depths of zoom. */
export function traceFrameMs(page, turns = [30, 30, 30, 30]) {
  return page.evaluate(async ([zooms, moves, back, home]) => {
    const plot = document.querySelector('.u-over');
    const box = plot.getBoundingClientRect();
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const [clientX, clientY] = [box.left + 0.4 * box.width, box.top + 0.5 * box.height];
    const spans = [];
    for (const [steps, deltaY, shiftKey] of [
      [zooms, -100, false],
      [moves, 40, true],
      [back, 100, false],
      [home, -40, true],
    ]) {
      for (let i = 0; i < steps; i++) {
        const from = await frame();
        plot.dispatchEvent(
          new WheelEvent('wheel', { deltaY, shiftKey, clientX, clientY, bubbles: true, cancelable: true }),
        );
        // The frame in which the event is answered, and the next, which waits until that one was handed on.
        await frame();
        spans.push((await frame()) - from);
      }
    }
    return spans.sort((a, b) => a - b)[spans.length >> 1] / 2;
  }, turns);
}

/** Median distance of frames while something is scrolled, to and fro where it is short. */
export function scrollFrameMs(page, selector) {
  return page.evaluate(async (wanted) => {
    const list = document.querySelector(wanted);
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const most = list.scrollHeight - list.clientHeight;
    const spans = [];
    for (let i = 0; i < 60; i++) {
      const from = await frame();
      list.scrollTop = i % 2 === 0 ? Math.min(most, list.scrollTop + 120 + i) : Math.max(0, list.scrollTop - 60);
      await frame();
      spans.push((await frame()) - from);
    }
    list.scrollTop = 0;
    return spans.sort((a, b) => a - b)[spans.length >> 1] / 2;
  }, selector);
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

export function median(values) {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}
