import type { LookRecipe } from '@stemline/football/shelf';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { SamePage } from '@stemline/read-rules/same-page/same-page';
import type { Defence } from '../board/board-ui.ts';
import type { Ask, Said } from './desk.ts';
import { LatestWins } from './latest-wins.ts';

/** What a worker is to the page. */
export interface WorkerLike {
  postMessage(ask: Ask): void;
  onmessage: ((event: MessageEvent<Said>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

export interface WantedCheck {
  play: RuledPlay;
  looks: readonly LookRecipe[];
  defence: Defence;
  /** When the hand moved that left the play so, as events tell the time; null where no hand is on it. */
  since: number | null;
}
export interface WantedPage {
  play: RuledPlay;
  looks: readonly LookRecipe[];
}
export type Checked = Said & { kind: 'checked' };

/** The page's one worker: the rule check and the same-page table, each only for the latest play. */
export class RuleWorker {
  onChecked: (checked: Checked, wanted: WantedCheck) => void = () => {};
  onPage: (page: SamePage, wanted: WantedPage) => void = () => {};
  /** It could not be loaded, or has thrown; it will not answer any more. */
  onFailed: () => void = () => {};
  readonly #worker: WorkerLike;
  readonly #checks: LatestWins<WantedCheck>;
  readonly #pages: LatestWins<WantedPage>;
  /** What the worker has. */
  #looks: readonly LookRecipe[] | null = null;

  constructor(worker: WorkerLike) {
    this.#worker = worker;
    this.#checks = new LatestWins(({ play, looks, defence }) => {
      this.#bring(looks);
      worker.postMessage({ kind: 'check', play, defence });
    });
    this.#pages = new LatestWins(({ play, looks }) => {
      this.#bring(looks);
      worker.postMessage({ kind: 'page', play });
    });
    worker.onmessage = ({ data }) => this.#hear(data);
    worker.onerror = () => {
      this.end();
      this.onFailed();
    };
  }

  check(wanted: WantedCheck): void {
    this.#checks.ask(wanted);
  }

  page(wanted: WantedPage): void {
    this.#pages.ask(wanted);
  }

  end(): void {
    this.#worker.onmessage = null;
    this.#worker.terminate();
  }

  #bring(looks: readonly LookRecipe[]): void {
    if (this.#looks === looks) return;
    this.#looks = looks;
    this.#worker.postMessage({ kind: 'looks', looks });
  }

  #hear(said: Said): void {
    if (said.kind === 'checked') this.onChecked(said, this.#checks.answered());
    else this.onPage(said.page, this.#pages.answered());
  }
}
