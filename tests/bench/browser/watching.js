// Runs in the watched page: puts down what it goes through in `window.watching`. Plain JavaScript, for
// it is handed over as text.
{
  // The page's own name for it: apps/web/src/rule-check/rule-check-context.tsx.
  const measure = 'rule check followed the hand';
  const seen = { frames: [], longTasks: [], latencies: [], isOver: false };
  window.watching = seen;
  new PerformanceObserver((list) => {
    if (!seen.isOver) for (const { duration } of list.getEntries()) seen.longTasks.push(duration);
  }).observe({ type: 'longtask' });
  new PerformanceObserver((list) => {
    if (seen.isOver) return;
    for (const { duration } of list.getEntriesByName(measure)) seen.latencies.push(duration);
  }).observe({ type: 'measure' });
  let last = null;
  const frame = (now) => {
    if (seen.isOver) return;
    if (last !== null) seen.frames.push(now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}
