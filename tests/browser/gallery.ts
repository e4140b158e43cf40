import { fileURLToPath } from 'node:url';
import type { Page } from '@playwright/test';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Where the gallery stands once `node electron/build.mjs gallery` has made it. */
export const galleryFolders = { page: `${root}build/gallery`, sample: `${root}sample-data` };

/** Opens the gallery, which reads and evaluates its scenario first. */
export async function openGallery(page: Page): Promise<void> {
  await page.goto('gallery.html');
  await page.getByRole('navigation', { name: 'Sections' }).waitFor({ timeout: 30_000 });
}

/** The addresses of a section's scenes. */
export async function scenesOf(page: Page, section: string): Promise<readonly string[]> {
  await goTo(page, section);
  return page.locator('nav [data-scene]').evaluateAll((links) => links.map((link) => link.getAttribute('data-scene')!));
}

/** Shows a section, or a scene alone, and waits until nothing more is awaited for it. */
export async function goTo(page: Page, address: string): Promise<void> {
  await page.evaluate(async (hash) => {
    location.hash = hash;
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const isIdle = () => Number(document.documentElement.dataset.awaited ?? 0) === 0;
    // What is drawn may show that more is needed: a plot that learns its size asks for its picture.
    for (let idle = 0; idle < 12; idle = isIdle() ? idle + 1 : 0) await frame();
  }, address);
}

/**
 * What of a frame's content would be seen to be wrong, each in words: content wider than its frame, words that are cut off without a sign of it, and words
 * that lie over other words.
 */
export async function layoutFaults(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const slackPx = 1.5;
    interface Words {
      readonly node: Text;
      readonly text: string;
      readonly box: DOMRect;
    }

    function isShown(element: Element): boolean {
      return element.checkVisibility({ opacityProperty: true, visibilityProperty: true });
    }

    /** Boxes that clip an element, from the nearest outwards, up to the frame. */
    function clippers(element: Element, frame: Element): Element[] {
      const found: Element[] = [];
      for (let at: Element | null = element; at !== null && at !== frame; at = at.parentElement) {
        const { overflowX, overflowY, position } = getComputedStyle(at);
        if (overflowX !== 'visible' || overflowY !== 'visible') found.push(at);
        if (position === 'fixed') break;
      }
      return found;
    }

    /** For readers of the screen only: a box of a pixel. */
    function isForReadersOnly(clips: readonly Element[]): boolean {
      return clips.some((clip) => clip.clientWidth <= 1 || clip.clientHeight <= 1);
    }

    function saysItIsCut(element: Element, clip: Element): boolean {
      for (let at: Element | null = element; at !== null; at = at.parentElement) {
        const { textOverflow } = getComputedStyle(at);
        if (textOverflow === 'ellipsis' || at.hasAttribute('title') || at.querySelector(':scope > title') !== null)
          return true;
        if (at === clip) return false;
      }
      return false;
    }

    /** What is left of a box within all that clips it; `null` where nothing is. */
    function seen(box: DOMRect, clips: readonly Element[]): DOMRect | null {
      let { left, top, right, bottom } = box;
      for (const clip of clips) {
        const within = clip.getBoundingClientRect();
        [left, top] = [Math.max(left, within.left), Math.max(top, within.top)];
        [right, bottom] = [Math.min(right, within.right), Math.min(bottom, within.bottom)];
      }
      return right - left > slackPx && bottom - top > slackPx
        ? new DOMRect(left, top, right - left, bottom - top)
        : null;
    }

    /** Whether the words lie in a panel or dialog over the page, which covers what is below it. */
    function layerOf({ node }: Words): Element | null {
      return node.parentElement!.closest('[role="dialog"]');
    }

    function faultsOf(frame: HTMLElement): string[] {
      const faults: string[] = [];
      const say = (fault: string) => faults.push(`${frame.dataset.frame}: ${fault}`);
      if (frame.scrollWidth > frame.clientWidth + 1)
        say(`the content is ${frame.scrollWidth - frame.clientWidth} px wider than its frame`);
      const words: Words[] = [];
      const walker = document.createTreeWalker(frame, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode() as Text | null; node !== null; node = walker.nextNode() as Text | null) {
        const text = node.data.trim();
        const element = node.parentElement;
        if (text === '' || element === null || !isShown(element)) continue;
        const clips = clippers(element, frame);
        if (isForReadersOnly(clips)) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const clip of clips) {
          const { overflowX, overflowY } = getComputedStyle(clip);
          const [within, box] = [clip.getBoundingClientRect(), range.getBoundingClientRect()];
          const across = Math.max(box.right - within.right, within.left - box.left);
          const down = Math.max(box.bottom - within.bottom, within.top - box.top);
          const cutAcross = /hidden|clip/.test(overflowX) && across > slackPx;
          const cutDown = /hidden|clip/.test(overflowY) && down > 3;
          if ((cutAcross || cutDown) && seen(box, clips) !== null && !saysItIsCut(element, clip))
            say(`“${text}” is cut off`);
        }
        for (const box of range.getClientRects()) {
          const rest = seen(box, clips);
          if (rest !== null) words.push({ node, text, box: rest });
        }
      }
      const byTop = words.toSorted((a, b) => a.box.top - b.box.top);
      for (const [i, one] of byTop.entries()) {
        for (let j = i + 1; j < byTop.length && byTop[j]!.box.top < one.box.bottom - slackPx; j++) {
          const other = byTop[j]!;
          if (other.node === one.node) continue;
          const left = Math.max(one.box.left, other.box.left);
          const right = Math.min(one.box.right, other.box.right);
          const top = Math.max(one.box.top, other.box.top);
          const bottom = Math.min(one.box.bottom, other.box.bottom);
          // Line boxes reach beyond their letters.
          if (right - left < 2 || bottom - top < 0.35 * Math.min(one.box.height, other.box.height)) continue;
          if (layerOf(one) === layerOf(other)) say(`“${one.text}” and “${other.text}” overlap`);
        }
      }
      return [...new Set(faults)];
    }

    return [...document.querySelectorAll<HTMLElement>('[data-frame]')].flatMap(faultsOf);
  });
}
