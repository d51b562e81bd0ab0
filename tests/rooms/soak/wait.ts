export const pause = (ms: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, ms));

/** Waits for a state; throws with what was waited for when it does not come about. */
export async function awaitState(
  what: string,
  holds: () => boolean | Promise<boolean>,
  patienceMs = 60_000,
): Promise<void> {
  const deadline = performance.now() + patienceMs;
  while (!(await holds())) {
    if (performance.now() > deadline) throw new Error(`did not come about: ${what}`);
    await pause(10);
  }
}
