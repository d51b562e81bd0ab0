import type { LiveFinding } from '@stemline/protocol/message';
import type { Background } from './background.ts';
import type { RoomLimits } from './limits.ts';
import type { BoardStore } from './store.ts';

export interface FindingHistoryDeps {
  boardId: string;
  store: Pick<BoardStore, 'recordFindings'>;
  background: Background;
  limits: Pick<RoomLimits, 'findingsRecordedEveryMs'>;
  now: () => Date;
  /** This server keeps it; else the one that leads does, whose list is newer. */
  leads: () => boolean;
}

/**
 * Keeps the stored history of a board's findings at the list that stands: the first change at once, then
 * paced, since a man who is dragged opens and closes them at every step (R62).
 */
export class FindingHistory {
  readonly #deps: FindingHistoryDeps;
  /** What stands, until it is recorded. */
  #due: readonly LiveFinding[] | null = null;
  /** Ids of what the store has as open; null: not read yet. */
  #recorded: string | null = null;
  #recordedAt = Number.NEGATIVE_INFINITY;
  #isRecording = false;
  #timer: NodeJS.Timeout | null = null;
  #isClosed = false;

  constructor(deps: FindingHistoryDeps) {
    this.#deps = deps;
  }

  /** These are open in the store. */
  known(findingIds: readonly string[]): void {
    this.#recorded = joined(findingIds);
  }

  /** These stand now. */
  stands(findings: readonly LiveFinding[]): void {
    this.#due = findings;
    this.#soon();
  }

  /** What is due then, the next one who opens the board takes up again. */
  close(): void {
    this.#isClosed = true;
    if (this.#timer) clearTimeout(this.#timer);
  }

  #soon(): void {
    if (this.#isClosed || this.#isRecording || this.#timer || !this.#isNews) return;
    const wait = this.#recordedAt + this.#deps.limits.findingsRecordedEveryMs - performance.now();
    if (wait <= 0) this.#record();
    else
      this.#timer = setTimeout(() => {
        this.#timer = null;
        if (this.#isNews) this.#record();
      }, Math.ceil(wait));
  }

  get #isNews(): boolean {
    return this.#due !== null && this.#deps.leads() && joined(idsOf(this.#due)) !== this.#recorded;
  }

  #record(): void {
    const { background, boardId, store, now } = this.#deps;
    this.#isRecording = true;
    this.#recordedAt = performance.now();
    background.untilDone('record the findings', boardId, async () => {
      const findings = this.#due;
      if (findings && !this.#isClosed && this.#isNews) {
        await store.recordFindings(boardId, findings, now());
        this.#recorded = joined(idsOf(findings));
      }
      this.#isRecording = false;
      this.#soon();
    });
  }
}

const idsOf = (findings: readonly LiveFinding[]): string[] =>
  findings.map(({ finding }) => finding.id);

const joined = (ids: readonly string[]): string => [...ids].sort().join('\n');
