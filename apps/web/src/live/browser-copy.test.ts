import { afterEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { openCopy } from './browser-copy.ts';

type Key = number | string;
type Within = (key: Key) => boolean;

interface Request {
  onsuccess?: (event: { target: { result: unknown } }) => void;
  onerror?: (event: { target: { error: Error } }) => void;
  onupgradeneeded?: (event: { target: { result: unknown } }) => void;
}

const answered = (result: () => unknown): Request => {
  const request: Request = {};
  setImmediate(() => request.onsuccess?.({ target: { result: result() } }));
  return request;
};

class FakeStore {
  readonly rows = new Map<Key, unknown>();
  #next = 1;
  add = (value: unknown) => answered(() => this.rows.set(this.#next++, value));
  put = (value: unknown, key: Key) => answered(() => this.rows.set(key, value));
  get = (key: Key) => answered(() => this.rows.get(key));
  delete = (key: Key) => answered(() => this.rows.delete(key));
  count = () => answered(() => this.rows.size);
  getAll = (within: Within) => answered(() => this.#keys(within).map((key) => this.rows.get(key)));
  openKeyCursor = () =>
    answered(() => {
      const key = this.#keys(() => true).at(-1);
      return key === undefined ? null : { key };
    });
  #keys = (within: Within) => [...this.rows.keys()].filter(within);
}

/** One page's connection to a database. */
class FakeDatabase extends EventTarget {
  readonly stores: Map<string, FakeStore>;
  onversionchange: (() => void) | null = null;
  #isClosed = false;

  constructor(stores: Map<string, FakeStore>) {
    super();
    this.stores = stores;
  }

  createObjectStore = (name: string) => this.stores.set(name, new FakeStore());
  close = () => {
    this.#isClosed = true;
  };
  transaction() {
    if (this.#isClosed) throw new DOMException('The connection is closed.', 'InvalidStateError');
    return { objectStore: (name: string) => this.stores.get(name) };
  }
  /** Another page wants the database gone. */
  asked() {
    this.dispatchEvent(new Event('versionchange'));
    this.onversionchange?.();
  }
}

/** IndexedDB as far as the copy uses it. */
class FakeBrowser {
  readonly databases = new Map<string, Map<string, FakeStore>>();
  readonly connections: FakeDatabase[] = [];
  opens: 'well' | 'never' | 'badly' = 'well';
  deletes: 'well' | 'never' | 'badly' = 'well';

  open = (name: string): Request => {
    if (this.opens !== 'well') return failing(this.opens);
    const known = this.databases.get(name);
    const stores = known ?? new Map<string, FakeStore>();
    this.databases.set(name, stores);
    const database = new FakeDatabase(stores);
    this.connections.push(database);
    const request = answered(() => database);
    queueMicrotask(() => {
      if (!known) request.onupgradeneeded?.({ target: { result: database } });
    });
    return request;
  };

  deleteDatabase = (name: string): Request => {
    for (const connection of this.connections) connection.asked();
    if (this.deletes !== 'well') return failing(this.deletes);
    return answered(() => this.databases.delete(name));
  };
}

function failing(how: 'never' | 'badly'): Request {
  const request: Request = {};
  if (how === 'badly') {
    const error = new Error('the disk cannot be read');
    setImmediate(() => request.onerror?.({ target: { error } }));
  }
  return request;
}

const above = (low: number) => (key: Key) => Number(key) >= low;

function browser(): FakeBrowser {
  const fake = new FakeBrowser();
  vi.stubGlobal('indexedDB', fake);
  vi.stubGlobal('IDBKeyRange', { lowerBound: above });
  return fake;
}

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

const write = (doc: Y.Doc, value: number) => doc.getMap('spots').set('h', value);

describe('the copy in the browser', () => {
  it('holds what was written, for the next page', async () => {
    browser();
    const doc = new Y.Doc();
    const copy = openCopy('b', doc, () => undefined);
    await copy.loaded;
    write(doc, 1);
    expect(await copy.written()).toBe(true);
    const next = new Y.Doc();
    await openCopy('b', next, () => undefined).loaded;
    expect(next.getMap('spots').get('h')).toBe(1);
  });

  it('holds the vector last called saved, until something is unsaved that no vector tells of', async () => {
    browser();
    const savedThen = async () =>
      (await openCopy('b', new Y.Doc(), () => undefined).loaded).savedThen;
    const copy = openCopy('b', new Y.Doc(), () => undefined);
    await copy.loaded;
    copy.keepSaved(Uint8Array.of(1, 7, 3));
    expect(await savedThen()).toEqual(Uint8Array.of(1, 7, 3));
    copy.keepSaved(null);
    expect(await savedThen()).toBeNull();
  });

  it('keeps nobody from writing when another page has it forgotten, and says that it holds nothing more', async () => {
    const { connections } = browser();
    const doc = new Y.Doc();
    const lost = vi.fn();
    const copy = openCopy('b', doc, lost);
    await copy.loaded;
    // As the link to the room does, which comes after it.
    const sent = vi.fn();
    doc.on('update', sent);
    const other = openCopy('b', new Y.Doc(), () => undefined);
    await other.loaded;
    await other.drop();
    expect(connections).toHaveLength(2);
    expect(lost).toHaveBeenCalledOnce();
    expect(() => write(doc, 1)).not.toThrow();
    expect(sent).toHaveBeenCalledOnce();
    expect(await copy.written()).toBe(false);
  });

  it('lets the page begin when the store of the browser does not answer', async () => {
    browser().opens = 'never';
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const doc = new Y.Doc();
    const lost = vi.fn();
    const copy = openCopy('b', doc, lost);
    await vi.advanceTimersByTimeAsync(5_000);
    expect(await copy.loaded).toEqual({ savedThen: null });
    expect(lost).toHaveBeenCalledOnce();
    write(doc, 1);
    expect(await copy.written()).toBe(false);
  });

  it('lets the page begin when the store of the browser cannot be opened', async () => {
    browser().opens = 'badly';
    // The library leaves one promise of its own that nobody can hear.
    const [...others] = process.listeners('unhandledRejection');
    process.removeAllListeners('unhandledRejection');
    const unheard = new Promise((resolve) => process.once('unhandledRejection', resolve));
    const copy = openCopy('b', new Y.Doc(), () => undefined);
    expect(await copy.loaded).toEqual({ savedThen: null });
    expect(await copy.written()).toBe(false);
    expect(String(await unheard)).toMatch(/disk/);
    for (const other of others) process.on('unhandledRejection', other);
  });

  it.each(['never', 'badly'] as const)(
    'does not open again what it could not forget (the store answers %s)',
    async (how) => {
      const store = browser();
      const name = `refused, ${how}`;
      const doc = new Y.Doc();
      const copy = openCopy(name, doc, () => undefined);
      await copy.loaded;
      write(doc, 1);
      await copy.written();
      store.deletes = how;
      vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
      const dropped = copy.drop();
      if (how === 'never') await vi.advanceTimersByTimeAsync(5_000);
      await dropped;
      const next = new Y.Doc();
      const after = openCopy(name, next, () => undefined);
      await after.loaded;
      expect(next.getMap('spots').size).toBe(0);
      expect(await after.written()).toBe(false);
    },
  );
});
