import type { Page } from 'playwright-core';

export const bar = (what: string, figure: number, most: number, unit: string, decimals = 0) =>
  console.log(
    `${what.padEnd(52)} ${figure.toFixed(decimals).padStart(8)} ${unit.padEnd(3)} bar ${most} ${figure <= most ? '' : 'MISSED'}`,
  );

/** 1.6 Mb/s, 150 ms, a processor four times slower. */
export async function slowed(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send('Network.enable');
  const throughput = 1_600_000 / 8;
  await session.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: 150,
    downloadThroughput: throughput,
    uploadThroughput: throughput,
  });
  await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
}

export interface Vitals {
  lcp: number;
  lcpText: string;
  shift: number;
  /** What moved, and to where. */
  shifted: string;
  /** Milliseconds from the last touch to the call; 0 before it. */
  call: number;
  /** Answers to touches: milliseconds to the next frame, and what was touched. */
  answers: { duration: number; name: string }[];
}
declare global {
  interface Window {
    vitals: Vitals;
  }
}

/**
 * What the browser itself measures: largest paint, layout shift, the answers to touches. What
 * was touched is named as it is touched: an answered touch has often taken its button away. One
 * nameless function: the page has none of the helpers by which a compiler would keep names.
 */
export const observed = (page: Page) =>
  page.addInitScript(() => {
    window.vitals = {
      lcp: 0,
      lcpText: '',
      shift: 0,
      shifted: '',
      call: 0,
      answers: [],
    };
    const touched = new Map<number, string>();
    for (const type of ['pointerdown', 'pointerup', 'click', 'keydown', 'keyup']) {
      addEventListener(
        type,
        ({ target, timeStamp }) => {
          const screen = document.querySelector('h1')?.textContent ?? '';
          const text = (target as Element | null)?.textContent?.slice(0, 20) ?? '';
          touched.set(Math.round(timeStamp), `"${text}" of "${screen.slice(0, 24)}"`);
        },
        { capture: true },
      );
    }
    for (const type of ['largest-contentful-paint', 'layout-shift', 'event']) {
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) {
          if (entry.entryType === 'layout-shift') {
            const { value, sources } = entry as PerformanceEntry & {
              value: number;
              sources: { node: Node | null; previousRect: DOMRect; currentRect: DOMRect }[];
            };
            window.vitals.shift += value;
            for (const { node, previousRect, currentRect } of sources) {
              const text = node?.textContent?.slice(0, 30) ?? 'nothing';
              window.vitals.shifted += `${value.toFixed(3)} "${text}" ${previousRect.y} to ${currentRect.y}; `;
            }
          } else if (entry.entryType === 'largest-contentful-paint') {
            window.vitals.lcp = entry.startTime;
            window.vitals.lcpText = (entry as LargestContentfulPaint).element?.textContent ?? '';
          } else {
            const timing = entry as PerformanceEventTiming;
            const { interactionId, duration, name, startTime } = timing;
            if (!interactionId) continue;
            const began = Math.round(timing.processingStart - startTime);
            const handled = Math.round(timing.processingEnd - startTime);
            window.vitals.answers.push({
              duration,
              name: `${name} on ${touched.get(Math.round(startTime)) ?? 'nothing named'}, begun after ${began} ms, handled after ${handled} ms`,
            });
          }
        }
      }).observe({ type, buffered: true, durationThreshold: 16 } as PerformanceObserverInit);
    }
  });

/** The slowest answer to a touch against its bar, and which touches were the slowest. */
export function barOfAnswers(what: string, answers: Vitals['answers'], most: number): void {
  const slowest = answers.toSorted((a, b) => b.duration - a.duration);
  bar(what, slowest[0]?.duration ?? Number.NaN, most, 'ms');
  for (const { duration, name } of slowest.slice(0, 3)) console.log(`  ${duration} ms: ${name}`);
}
