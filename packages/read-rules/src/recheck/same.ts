type Fields = Readonly<Record<string, unknown>>;

/** Whether two plain values (JSON, and numbers that are none) say the same. NaN is NaN. */
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a)) {
    if (!Array.isArray(b) || a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!same(a[i], b[i])) return false;
    return true;
  }
  if (Array.isArray(b)) return false;
  const [left, right] = [a as Fields, b as Fields];
  const keys = Object.keys(left);
  if (keys.length !== Object.keys(right).length) return false;
  for (const key of keys)
    if (!Object.hasOwn(right, key) || !same(left[key], right[key])) return false;
  return true;
}

/**
 * A plain value that says what `now` says, with the parts of `before` wherever those say the same: who
 * compares by identity then finds changed only what has changed. `before` itself where all of it says
 * the same, `now` itself where it has all those parts already.
 */
export function shared<Data>(before: unknown, now: Data): Data {
  if (Object.is(before, now)) return now;
  if (typeof now !== 'object' || typeof before !== 'object' || now === null || before === null)
    return now;
  if (Array.isArray(now)) return Array.isArray(before) ? sharedList(before, now) : now;
  if (Array.isArray(before)) return now;
  return sharedFields(before as Fields, now as Fields) as Data;
}

function sharedList<Data>(before: readonly unknown[], now: Data & readonly unknown[]): Data {
  let isBefore = before.length === now.length;
  let isNow = true;
  const parts = now.map((part, i) => {
    const one = shared(partner(before, part, i), part);
    if (!Object.is(one, before[i])) isBefore = false;
    if (!Object.is(one, part)) isNow = false;
    return one;
  });
  return (isBefore ? before : isNow ? now : parts) as unknown as Data;
}

/** What stood for a member before: whoever had its id, else what stood in its place. */
function partner(before: readonly unknown[], part: unknown, place: number): unknown {
  const there = before[place];
  const id = idOf(part);
  if (id === undefined || idOf(there) === id) return there;
  return before.find((other) => idOf(other) === id) ?? there;
}

function idOf(part: unknown): unknown {
  if (typeof part !== 'object' || part === null) return undefined;
  return (part as Fields).id ?? (part as Fields).player;
}

function sharedFields(before: Fields, now: Fields): Fields {
  const keys = Object.keys(now);
  const old = Object.keys(before);
  let isBefore = keys.length === old.length;
  let isNow = true;
  const parts: Record<string, unknown> = {};
  for (let i = 0; i < keys.length; i++) {
    const key = keys[i] as string;
    // It cannot be copied by name.
    if (key === '__proto__') return now;
    const was = Object.hasOwn(before, key) ? before[key] : undefined;
    const one = shared(was, now[key]);
    // The order of the keys counts: whoever goes through them tells things in it.
    if (!Object.is(one, was) || old[i] !== key) isBefore = false;
    if (!Object.is(one, now[key])) isNow = false;
    parts[key] = one;
  }
  return isBefore ? before : isNow ? now : parts;
}
