import { PerformanceObserver } from 'node:perf_hooks';

/** Collections caused while `work` runs; the observer tells them a turn of the loop later. */
export async function collectionsOf(work: () => void): Promise<number> {
  let seen = 0;
  const observer = new PerformanceObserver((list) => {
    seen += list.getEntries().length;
  });
  observer.observe({ entryTypes: ['gc'] });
  work();
  await new Promise((resolve) => setTimeout(resolve, 20));
  observer.disconnect();
  return seen;
}
