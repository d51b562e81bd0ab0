import { Buffer } from 'node:buffer';
import type { BoardPlay } from '@stemline/board/board-play';
import { type Projection, project } from '@stemline/board/project';
import { encodeMessage } from '@stemline/protocol/codec';
import type { LiveFinding } from '@stemline/protocol/message';
import type { Background } from './background.ts';
import type { BoardState } from './board-state.ts';
import { type Checker, CheckingEnded } from './checking/checker.ts';
import { authorsOf } from './finding-authors.ts';
import { FindingHistory } from './finding-history.ts';
import type { RoomLimits } from './limits.ts';
import type { HeldLooks, StaffLooks } from './staff-looks.ts';
import type { Author, BoardStore, WaiverRecord } from './store.ts';

export interface RuleCheckDeps {
  board: BoardState<unknown>;
  staffId: string;
  maker: Author;
  store: BoardStore;
  limits: RoomLimits;
  background: Background;
  checker: Checker;
  staffLooks: StaffLooks;
  now: () => Date;
  /** This server checks for all that hold the board; else another one does. */
  leads: () => boolean;
  /** The list of a revision as clients get it; `isNew`: it differs from the one before. */
  onFindings: (frame: Uint8Array, revision: number, isNew: boolean) => void;
}

/** What the check needs from the store beside the board and the staff's looks. */
interface Surroundings {
  waivers: ReadonlyMap<string, WaiverRecord>;
  /** Since when each finding stands. */
  openedAt: Map<string, string>;
}

/** The one writer of a board's findings. SPEC R60 to R65. */
export class RuleCheck {
  readonly #deps: RuleCheckDeps;
  readonly #looks: HeldLooks;
  readonly #history: FindingHistory;
  #surroundings: Promise<Surroundings> | null = null;
  #frame: Uint8Array | null = null;
  /** Of the last list, whoever made it. */
  #revision = -1;
  /** The server that leads says nothing: this one checks for its own clients. */
  #leaderIsMute = false;
  /** What was checked last; parts that did not change keep their identity, and cost nothing to compare. */
  #projection: Projection | undefined;
  /** Checks begun, and the latest of them that has told its findings. */
  #begun = 0;
  #ended = 0;
  #told = 0;
  #running = false;
  #again = false;
  #timer: NodeJS.Timeout | null = null;
  /** When the check that the timer is for was first asked for. */
  #askedAt = 0;
  /** When the last check that nobody waited for began. */
  #ranAt = Number.NEGATIVE_INFINITY;
  #closed = false;

  constructor(deps: RuleCheckDeps) {
    this.#deps = deps;
    this.#looks = deps.staffLooks.hold(deps.staffId);
    this.#history = new FindingHistory({ ...deps, boardId: deps.board.boardId });
  }

  /** The last list, as clients get it; null before the first check. */
  get frame(): Uint8Array | null {
    return this.#frame;
  }

  /** The revision of that list. */
  get revision(): number {
    return this.#revision;
  }

  /** The list of the server that leads, null when it is as before; true: clients do not know it yet. */
  hear(frame: Uint8Array | null, revision: number): boolean {
    if (revision < this.#revision) return false;
    this.#leaderIsMute = false;
    return this.#take(frame ?? this.#frame, revision);
  }

  #take(frame: Uint8Array | null, revision: number): boolean {
    const isNew = frame !== null && (!this.#frame || Buffer.compare(this.#frame, frame) !== 0);
    this.#frame = frame;
    this.#revision = revision;
    return isNew;
  }

  /** This server leads from now on: what the other one opened is in the store. */
  lead(): void {
    this.#leaderIsMute = false;
    this.readAgain();
  }

  /** The leader should have told by now: whoever is here is not left without. */
  checkUnled(): void {
    this.#leaderIsMute = true;
    this.readAgain();
  }

  get #speaks(): boolean {
    return this.#leaderIsMute || this.#deps.leads();
  }

  /**
   * Once the board has rested, and not sooner after the last check than a board may have the next; one that
   * never rests is not waited for any longer than that (R65).
   */
  soon(): void {
    if (this.#closed || !this.#speaks) return;
    const now = performance.now();
    if (this.#timer) clearTimeout(this.#timer);
    else this.#askedAt = now;
    const { findingsDebounceMs, findingsEveryMs } = this.#deps.limits;
    const rested = Math.min(now + findingsDebounceMs, this.#askedAt + findingsEveryMs);
    const due = Math.max(rested, this.#ranAt + findingsEveryMs);
    this.#timer = setTimeout(
      () => {
        this.#timer = null;
        this.#run();
      },
      Math.ceil(due - now),
    );
  }

  /** Looks or waivers have changed. */
  readAgain(): void {
    this.#forgetRead();
    this.soon();
  }

  /**
   * Checks the durable board as it stands, and tells whoever listens when the list differs.
   * `afresh`: with looks and waivers as they are in the store at this moment.
   */
  async now({ afresh = false } = {}): Promise<{
    content: BoardPlay;
    findings: readonly LiveFinding[];
  }> {
    if (afresh) this.#forgetRead();
    const [surroundings, looks] = await Promise.all([this.#read(), this.#looks.read()]);
    const { board, staffId, maker, now, checker } = this.#deps;
    if (this.#closed) throw new Error('the room of this board is closed');
    this.#projection = project(board.durable.ydoc, this.#projection);
    const content = this.#projection.board;
    // As they are now: the check itself takes its time.
    const authors = new Map(board.authors);
    const { revision } = board;
    this.#begun += 1;
    const run = this.#begun;
    const found = await checker
      .check({ boardId: board.boardId, staffId }, content.play, looks, { isUrgent: afresh })
      .finally(() => {
        this.#ended += 1;
      });
    if (this.#closed) throw new Error('the room of this board is closed');
    const at = now().toISOString();
    const findings = found.map((finding): LiveFinding => {
      const openedAt = surroundings.openedAt.get(finding.id) ?? at;
      const waiver = surroundings.waivers.get(finding.id);
      return {
        finding,
        openedAt,
        authors: authorsOf(finding, content, authors, maker),
        waived: waiver ? { ...waiver, at: waiver.at.toISOString() } : null,
      };
    });
    // A later run has told already: what this one saw is the past.
    if (run < this.#told) return { content, findings };
    this.#told = run;
    // A finding that went and comes back begins anew.
    surroundings.openedAt = new Map(
      findings.map(({ finding, openedAt }) => [finding.id, openedAt]),
    );
    if (this.#speaks) this.#tell(findings, revision);
    return { content, findings };
  }

  /** Gives up what the next check makes again, here and on its thread (R89); false: a check is due or under way. */
  rest(): boolean {
    if (this.#timer || this.#running || this.#ended < this.#begun) return false;
    this.#forget();
    return true;
  }

  #forget(): void {
    const { checker, board, staffId } = this.#deps;
    this.#projection = undefined;
    checker.forget({ boardId: board.boardId, staffId });
  }

  close(): void {
    this.#closed = true;
    this.#forget();
    this.#looks.release();
    this.#history.close();
    if (this.#timer) clearTimeout(this.#timer);
  }

  /** One at a time; what changes meanwhile is checked after it. */
  #run(): void {
    if (this.#running) {
      this.#again = true;
      return;
    }
    this.#running = true;
    this.#ranAt = performance.now();
    this.#deps.background.untilDone('check the rules', this.#deps.board.boardId, async () => {
      await this.#checkWhileOpen();
      this.#running = false;
      if (this.#again) this.soon();
      this.#again = false;
    });
  }

  async #checkWhileOpen(): Promise<void> {
    try {
      await this.now();
    } catch (error) {
      // The next one who opens the board has it checked.
      if (!this.#closed && !(error instanceof CheckingEnded)) throw error;
    }
  }

  #tell(findings: readonly LiveFinding[], revision: number): void {
    const isNew = this.#take(encodeMessage({ type: 'findings', findings }), revision);
    this.#deps.onFindings(this.#frame ?? new Uint8Array(), revision, isNew);
    this.#history.stands(findings);
  }

  #forgetRead(): void {
    this.#surroundings = null;
    this.#looks.readAgain();
  }

  #read(): Promise<Surroundings> {
    this.#surroundings ??= this.#readAll().catch((error: unknown) => {
      this.#surroundings = null;
      throw error;
    });
    return this.#surroundings;
  }

  async #readAll(): Promise<Surroundings> {
    const { store, board } = this.#deps;
    const [waivers, open] = await Promise.all([
      store.waivers(board.boardId),
      store.openFindings(board.boardId),
    ]);
    this.#history.known(open.map(({ findingId }) => findingId));
    return {
      waivers,
      openedAt: new Map(open.map(({ findingId, openedAt }) => [findingId, openedAt.toISOString()])),
    };
  }
}
