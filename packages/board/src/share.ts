/** Gives back the old list where the new one says the same, item by item. */
export function shareList<T>(old: readonly T[] | undefined, next: readonly T[]): readonly T[] {
  const same =
    old !== undefined && old.length === next.length && next.every((item, i) => item === old[i]);
  return same ? old : Object.freeze(next);
}

/** Gives back the old object where the new one has the same values under the same names. */
export function shareObject<T extends object>(old: T | undefined, next: T): T {
  const names = Object.keys(next) as (keyof T)[];
  const same =
    old !== undefined &&
    Object.keys(old).length === names.length &&
    names.every((name) => Object.hasOwn(old, name) && old[name] === next[name]);
  return same ? old : Object.freeze(next);
}
