import { Buffer } from 'node:buffer';
import type { PresenceElsewhere } from '../bus/message.ts';
import type { Connection } from './connection.ts';
import { Elsewhere } from './fan-out/elsewhere.ts';
import { type PresenceEntry, presenceEntry, presenceFrame } from './frames.ts';
import type { RoomLimits } from './limits.ts';
import type { Outbox } from './outbox.ts';
import { pack } from './packed.ts';
import { signed } from './presence-state.ts';
import type { Refusal } from './refusal.ts';
import { SeenIds } from './seen-ids.ts';

/** One connection's presence as the others see it. */
interface Speaker {
  clientId: number;
  /** Clock of the client's own last change; echoes and repeats do not pass it. */
  heard: number;
  /** Clock under which the server last told it; only grows. */
  told: number;
  /** The state as JSON with the server's `member`, or null before the first. */
  json: string | null;
  /** Changes he may still make at once, and when that was reckoned. */
  credit: number;
  flood: number;
  reckoned: number;
  /** A change above his credit, told when the next credit comes. */
  held: NodeJS.Timeout | null;
}

export interface PresenceDeps {
  limits: RoomLimits;
  outbox: Outbox;
  /** Everybody in the room. */
  connections: () => Iterable<Connection>;
  /** Whose client id this is; null: nobody's yet. */
  ownerOf: (clientId: number) => string | null;
  /** Somebody here shows something, for other servers. */
  tellPeers: (entry: PresenceElsewhere) => void;
  /** What this connection said of a colleague he never showed himself. */
  onForged: (connection: Connection) => void;
}

/** News of a colleague may come by another page of his browser first: he has so long to show as much himself, milliseconds. */
const doubtMs = 250;

/** Client ids that left of which it is remembered; of another the next word may count as old until he moves again. */
const maxLeft = 10_000;

/** Who is on the board, where they point: passing, never stored. SPEC R40 to R45. */
export class Presence {
  readonly #deps: PresenceDeps;
  readonly #speakers = new Map<Connection, Speaker>();
  readonly #byId = new Map<number, Connection>();
  readonly #elsewhere = new Elsewhere();
  readonly #seen = new SeenIds();
  /** Under which clock everybody here was told that somebody left. */
  readonly #left = new Map<number, number>();
  /** Those who came and have not yet been told who else is here. */
  readonly #newcomers = new Set<Connection>();
  /** Those who brought news of a colleague, until it shows whether he has any. */
  readonly #doubts = new Map<Connection, NodeJS.Timeout>();
  /** Encoded news of this turn by client id, sent together at its end. */
  readonly #news = new Map<number, Uint8Array>();
  #isDue = false;
  #clock = 0;

  constructor(deps: PresenceDeps) {
    this.#deps = deps;
  }

  /** The member who speaks, or spoke last, under this client id; null: nobody yet. */
  ownerOf(clientId: number): string | null {
    const here = this.#byId.get(clientId);
    if (here) return here.pass.member.id;
    return this.#elsewhere.of(clientId)?.member ?? this.#seen.ownerOf(clientId);
  }

  /** Whether the client id of a connection is known. */
  speaks(connection: Connection): boolean {
    return this.#speakers.has(connection);
  }

  /** Whether this is the client id of this very connection. */
  speaksFor(connection: Connection, clientId: number): boolean {
    return this.#speakers.get(connection)?.clientId === clientId;
  }

  /** Who speaks under this client id through this server. */
  speakerOf(clientId: number): Connection | undefined {
    return this.#byId.get(clientId);
  }

  /** Whether somebody is on the board under this id. */
  has(clientId: number): boolean {
    return this.#byId.has(clientId) || this.#elsewhere.of(clientId) !== null;
  }

  /** What people on another server show; of those who are here too, this server knows better. */
  hearFrom(server: string, entries: readonly PresenceElsewhere[]): void {
    for (const entry of entries) {
      this.#clock = Math.max(this.#clock, entry.clock);
      if (!this.#elsewhere.hear(server, entry)) continue;
      this.#seen.saw(entry.clientId, entry.member);
      if (entry.json !== null) this.#movedOn(entry.clientId, entry.clock);
      this.#tellOfElsewhere(entry.clientId, entry.clock);
    }
  }

  /** Whoever shows something newer elsewhere has left here, though his connection has not ended yet. */
  #movedOn(clientId: number, clock: number): void {
    const connection = this.#byId.get(clientId);
    const speaker = connection && this.#speakers.get(connection);
    if (!connection || !speaker || speaker.told >= clock) return;
    if (speaker.held) clearTimeout(speaker.held);
    this.#speakers.delete(connection);
    this.#byId.delete(clientId);
  }

  /** Whoever was on the board through this server is not any more. */
  serverGone(server: string): void {
    for (const clientId of this.#elsewhere.forget(server))
      this.#tellOfElsewhere(clientId, this.#tick());
  }

  /** All who are on the board through another server: of the others there the word that they left was lost. */
  peopleAt(server: string, shown: ReadonlyMap<number, number>): boolean {
    for (const clientId of this.#elsewhere.forget(server, shown))
      this.#tellOfElsewhere(clientId, this.#tick());
    return this.#elsewhere.knows(server, shown);
  }

  /** All who show something here, with the clock of what each showed last. */
  get shown(): ReadonlyMap<number, number> {
    const shown = new Map<number, number>();
    for (const { clientId, told, json } of this.#speakers.values())
      if (json !== null && json !== 'null') shown.set(clientId, told);
    return shown;
  }

  /** Everybody here once more, for servers that came. */
  tellPeers(): void {
    for (const [{ pass }, { clientId, told, json }] of this.#speakers) {
      if (json !== null)
        this.#deps.tellPeers({ clientId, clock: told, member: pass.member.id, json });
    }
  }

  /** Takes a presence frame; the answer is why the connection must go, if it must. */
  receive(connection: Connection, entries: readonly PresenceEntry[]): Refusal | null {
    for (const entry of entries) {
      const refusal = this.#hear(connection, entry);
      if (refusal) return refusal;
    }
    return null;
  }

  /** Whoever asks to sync is told who is here at the end of the turn: his own first word comes before that. */
  welcome(connection: Connection): void {
    this.#newcomers.add(connection);
    this.#flushSoon();
  }

  /** Everybody else's state, for somebody who came or asked. */
  tell(connection: Connection): void {
    const entries = [];
    for (const [other, speaker] of this.#speakers) {
      if (other === connection || speaker.json === null) continue;
      entries.push(presenceEntry(speaker.clientId, speaker.told, speaker.json));
    }
    for (const { clientId, clock, json } of this.#elsewhere.all()) {
      if (!this.#byId.has(clientId)) entries.push(presenceEntry(clientId, clock, json ?? 'null'));
    }
    if (entries.length > 0) connection.send(pack(presenceFrame(entries)));
  }

  leave(connection: Connection): void {
    this.#newcomers.delete(connection);
    clearTimeout(this.#doubts.get(connection));
    this.#doubts.delete(connection);
    const speaker = this.#speakers.get(connection);
    if (!speaker) return;
    if (speaker.held) clearTimeout(speaker.held);
    this.#speakers.delete(connection);
    // The same person may have come back on a new connection under the same id.
    if (this.#byId.get(speaker.clientId) !== connection) return;
    this.#byId.delete(speaker.clientId);
    if (speaker.json !== null) this.#announce(connection, speaker.clientId, this.#tick(), 'null');
  }

  close(): void {
    for (const speaker of this.#speakers.values()) if (speaker.held) clearTimeout(speaker.held);
    for (const doubt of this.#doubts.values()) clearTimeout(doubt);
    this.#doubts.clear();
    this.#speakers.clear();
    this.#byId.clear();
    this.#seen.clear();
    this.#left.clear();
    this.#news.clear();
    this.#newcomers.clear();
  }

  #hear(connection: Connection, entry: PresenceEntry): Refusal | null {
    const speaker = this.#speakers.get(connection) ?? this.#begin(connection, entry);
    if (!speaker || speaker.clientId !== entry.clientId)
      return this.#hearOfOther(connection, entry);
    if (entry.clock <= speaker.heard && speaker.json !== null) return null;
    if (entry.json.byteLength > this.#deps.limits.maxPresenceBytes) return 'malformed';
    const json = signed(connection.pass.member, entry.json);
    if (json === undefined) return 'malformed';
    this.#reckon(speaker);
    speaker.flood -= 1;
    if (speaker.flood < 0) return 'tooMany';
    speaker.heard = entry.clock;
    speaker.json = json;
    this.#tellOrHold(connection, speaker);
    return null;
  }

  /** Binds the connection to the first id it speaks for, unless that is somebody else's. */
  #begin(connection: Connection, entry: PresenceEntry): Speaker | null {
    const owner = this.ownerOf(entry.clientId) ?? this.#deps.ownerOf(entry.clientId);
    if (owner !== null && owner !== connection.pass.member.id) return null;
    // Word for word what another server told: his other window's presence.
    if (this.#elsewhere.of(entry.clientId)?.clock === entry.clock) return null;
    const before = this.#byId.get(entry.clientId);
    if (before) {
      const old = this.#speakers.get(before);
      // Word for word what the server told: his other window's presence, not his own.
      if (old?.told === entry.clock) return null;
      if (old?.held) clearTimeout(old.held);
      this.#speakers.delete(before);
    }
    const { presencePerSecond, presenceFloodPerSecond } = this.#deps.limits;
    const speaker: Speaker = {
      clientId: entry.clientId,
      heard: -1,
      told: 0,
      json: null,
      credit: presencePerSecond * 2,
      flood: presenceFloodPerSecond * 2,
      reckoned: performance.now(),
      held: null,
    };
    this.#speakers.set(connection, speaker);
    this.#byId.set(entry.clientId, connection);
    this.#seen.saw(entry.clientId, connection.pass.member.id);
    return speaker;
  }

  /** An echo repeats what the server told; a state with a later clock is news about somebody else. */
  #hearOfOther(connection: Connection, entry: PresenceEntry): Refusal | null {
    const owner = this.#byId.get(entry.clientId);
    const told = owner && this.#speakers.get(owner)?.told;
    if (owner && told !== undefined) {
      const isNews = entry.clock > told && !isNull(entry.json);
      // His other page's, which says it itself.
      const isHis = owner.pass.member.id === connection.pass.member.id;
      if (isNews && !isHis) this.#doubt(connection, entry.clientId, entry.clock);
      return null;
    }
    // Told by another server, whose clock may be ahead of ours.
    if (this.#elsewhere.of(entry.clientId)) return null;
    const bound = this.#deps.ownerOf(entry.clientId) ?? this.#seen.ownerOf(entry.clientId);
    // Echoes of somebody who just left carry clocks of the server's, never later ones.
    const isForged =
      bound !== null && bound !== connection.pass.member.id && entry.clock > this.#now();
    return isForged && !isNull(entry.json) ? 'presenceSpoofed' : null;
  }

  /** Nothing of it is shown either way; of a connection that is in doubt already, nothing more is asked. */
  #doubt(connection: Connection, clientId: number, clock: number): void {
    if (this.#doubts.has(connection)) return;
    // Once more is read before: after a pause of the whole process it may lie there already.
    const timer = setTimeout(() => {
      setImmediate(() => this.#decide(connection, clientId, clock));
    }, doubtMs);
    this.#doubts.set(connection, timer);
  }

  #decide(connection: Connection, clientId: number, clock: number): void {
    if (!this.#doubts.delete(connection)) return;
    const owner = this.#byId.get(clientId);
    const speaker = owner && this.#speakers.get(owner);
    if (!speaker || speaker.heard >= clock) return;
    // He may have shown it: nothing is read of him now.
    if (owner.isBusy) this.#doubt(connection, clientId, clock);
    else this.#deps.onForged(connection);
  }

  #reckon(speaker: Speaker): void {
    const { presencePerSecond, presenceFloodPerSecond } = this.#deps.limits;
    const now = performance.now();
    const seconds = (now - speaker.reckoned) / 1000;
    speaker.reckoned = now;
    speaker.credit = Math.min(presencePerSecond * 2, speaker.credit + seconds * presencePerSecond);
    speaker.flood = Math.min(
      presenceFloodPerSecond * 2,
      speaker.flood + seconds * presenceFloodPerSecond,
    );
  }

  #tellOrHold(connection: Connection, speaker: Speaker): void {
    if (speaker.held) return;
    if (speaker.credit >= 1) {
      speaker.credit -= 1;
      speaker.told = this.#tick();
      this.#announce(connection, speaker.clientId, speaker.told, speaker.json ?? 'null');
      return;
    }
    const wait = ((1 - speaker.credit) / this.#deps.limits.presencePerSecond) * 1000;
    speaker.held = setTimeout(() => {
      speaker.held = null;
      this.#reckon(speaker);
      speaker.credit = Math.max(1, speaker.credit);
      this.#tellOrHold(connection, speaker);
    }, Math.ceil(wait));
  }

  #announce({ pass }: Connection, clientId: number, clock: number, json: string): void {
    const member = pass.member.id;
    this.#deps.tellPeers({ clientId, clock, member, json: json === 'null' ? null : json });
    if (json === 'null' && this.#elsewhere.of(clientId)) this.#tellOfElsewhere(clientId, clock);
    else this.#pass(clientId, clock, json);
  }

  /** What a client id shows elsewhere, under this clock; that it left, when it shows nothing. */
  #tellOfElsewhere(clientId: number, clock: number): void {
    if (this.#byId.has(clientId)) return;
    // He may have come there before he left here: word of it would count as old.
    const isOld = clock <= (this.#left.get(clientId) ?? 0);
    this.#pass(
      clientId,
      isOld ? this.#tick() : clock,
      this.#elsewhere.of(clientId)?.json ?? 'null',
    );
  }

  #pass(clientId: number, clock: number, json: string): void {
    if (json === 'null') {
      if (this.#left.size >= maxLeft) this.#left.clear();
      this.#left.set(clientId, clock);
    } else this.#left.delete(clientId);
    this.#news.set(clientId, presenceEntry(clientId, clock, json));
    this.#flushSoon();
  }

  #flushSoon(): void {
    if (this.#isDue) return;
    this.#isDue = true;
    this.#deps.outbox.atEndOfTurn(() => {
      this.#isDue = false;
      if (this.#news.size > 0) this.#tellAll();
      for (const newcomer of this.#newcomers) this.tell(newcomer);
      this.#newcomers.clear();
    });
  }

  /** One frame a turn for each; nobody is told about himself, or he would take it for his own state. */
  #tellAll(): void {
    const entries = [...this.#news.values()];
    const all = pack(presenceFrame(entries));
    for (const connection of this.#deps.connections()) {
      const own = this.#speakers.get(connection)?.clientId;
      if (own === undefined || !this.#news.has(own)) {
        connection.sendPassing(all);
        continue;
      }
      const others = [...this.#news].filter(([id]) => id !== own).map(([, entry]) => entry);
      if (others.length > 0) connection.sendPassing(pack(presenceFrame(others)));
    }
    this.#news.clear();
  }

  /** Later than every clock told before, by this process or an earlier one. */
  #tick(): number {
    this.#clock = Math.max(this.#clock + 1, Date.now());
    return this.#clock;
  }

  #now(): number {
    return Math.max(this.#clock, Date.now());
  }
}

const isNull = (json: Uint8Array): boolean => Buffer.from(json).toString('latin1') === 'null';
